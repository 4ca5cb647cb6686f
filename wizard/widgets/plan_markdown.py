"""Markdown with its charts as they stand: no colours of a source code theme, no wrapping. Slow to import, so in workers only."""

from __future__ import annotations

from rich.console import Console, ConsoleOptions, RenderResult
from rich.markdown import CodeBlock, Markdown
from rich.text import Text


class Chart(CodeBlock):
    """A fenced block as plain text; what is too wide is cut."""

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        yield Text(str(self.text).rstrip(), no_wrap=True, overflow="crop")


class PlanMarkdown(Markdown):
    """The plan's Markdown."""

    elements = {**Markdown.elements, "fence": Chart, "code_block": Chart}  # noqa: RUF012  rich declares it so

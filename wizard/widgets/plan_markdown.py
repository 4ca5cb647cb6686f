"""Markdown with its charts as they stand: no colours of a source code theme, no wrapping. Slow to import, so in workers only."""

from __future__ import annotations

from rich.console import Console, ConsoleOptions, RenderResult
from rich.markdown import CodeBlock, Heading, Markdown
from rich.style import Style
from rich.text import Text

from wizard.widgets.plan_preview import SECTION


class Chart(CodeBlock):
    """A fenced block as plain text; what is too wide is cut."""

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        yield Text(str(self.text).rstrip(), no_wrap=True, overflow="crop")


class FoundHeading(Heading):
    """A heading that can be found again among the lines."""

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        self.text.stylize(Style(meta={SECTION: int(self.tag.removeprefix("h"))}))
        yield from super().__rich_console__(console, options)


class PlanMarkdown(Markdown):
    """The plan's Markdown."""

    elements = {**Markdown.elements, "fence": Chart, "code_block": Chart, "heading_open": FoundHeading}  # noqa: RUF012  rich declares it so

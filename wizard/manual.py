"""The manual page, made from the command line's own help so that the two never differ: wizard/stillroom.1 is what this writes."""

from __future__ import annotations

import argparse
from collections.abc import Iterator

HEAD = '.TH STILLROOM 1 "" "Stillroom" "User Commands"'


def manual(parser: argparse.ArgumentParser) -> str:
    """The whole page as roff text."""
    lines = [HEAD, ".SH NAME", f"stillroom \\- {_text('plan a quiet basement room for music')}", ".SH SYNOPSIS"]
    lines += [f".B stillroom\n[{_text('options')}] [command] ..."]
    lines += [".SH DESCRIPTION", _text(parser.description or ""), ".SH OPTIONS", *_options(parser)]
    lines.append(".SH COMMANDS")
    for name, help_text, command in commands(parser):
        lines += [f".SS stillroom {_text(name)}", _text(help_text), *_options(command), ".PP", _text(command.epilog or "")]
    lines += [".SH EXIT STATUS AND FILES", ".nf", _text(parser.epilog or ""), ".fi"]
    return "\n".join(lines) + "\n"


def commands(parser: argparse.ArgumentParser) -> Iterator[tuple[str, str, argparse.ArgumentParser]]:
    """Name, help and parser of each command."""
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            helps = {choice.dest: choice.help or "" for choice in action._choices_actions}
            for name, command in action.choices.items():
                yield name, helps.get(name, ""), command


def _options(parser: argparse.ArgumentParser) -> list[str]:
    lines: list[str] = []
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction) or action.help == argparse.SUPPRESS:
            continue
        value = "" if action.nargs == 0 else f" {action.metavar or action.dest.upper()}"
        name = ", ".join(action.option_strings) + value if action.option_strings else str(action.metavar or action.dest)
        lines += [".TP", f".B {_text(name)}", _text((action.help or "").replace("%%", "%"))]
    return lines


def _text(text: str) -> str:
    """Text in which roff finds no command: backslashes, hyphens, and lines that begin with a dot or quote."""
    plain = text.replace("\\", "\\e").replace("-", "\\-")
    return "\n".join(f"\\&{line}" if line[:1] in (".", "'") else line for line in plain.splitlines())


if __name__ == "__main__":
    from wizard.cli_parser import parser as command_line

    print(manual(command_line()), end="")

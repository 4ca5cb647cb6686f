"""The command line as data: commands, options, examples, exit codes. Help, manual page and completion are made from it."""

from __future__ import annotations

import argparse
from typing import Any

EXIT_CODES = {
    0: "done",
    1: "a stop finding makes the room infeasible (the plan is still written)",
    2: "bad input, one sentence a problem, nothing written",
    70: "a fault in Stillroom",
    130: "interrupted",
}
SHELLS = ("bash", "zsh", "fish", "tcsh")

DESCRIPTION = """Plan a quiet basement room for music, from the tape measure to the last hold point.
Without a command, the interview opens in the terminal."""
EPILOG = f"""example: stillroom --plain "Drums under the bedroom"

exit codes:
{chr(10).join(f"  {code:<5}{words}" for code, words in EXIT_CODES.items())}

Saved interviews lie in the user's data folder; STILLROOM_DATA or --data-dir name another."""


class _ShowVersion(argparse.Action):
    """Looks the version up only when asked: argparse's own action would on every start."""

    def __call__(self, parser: argparse.ArgumentParser, *_: Any) -> None:
        from importlib.metadata import version

        print(f"stillroom {version('stillroom')}")
        parser.exit()


def parser() -> argparse.ArgumentParser:
    """The whole command line; ``command`` of what it parses is the name of the command, or None for the interview."""
    main = argparse.ArgumentParser(
        prog="stillroom", description=DESCRIPTION, epilog=EPILOG, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    main.add_argument("--version", action=_ShowVersion, nargs=0, help="print the version and leave")
    main.add_argument("--data-dir", metavar="DIR", help="folder of saved interviews")
    main.add_argument(
        "--plain",
        nargs="?",
        const="",
        metavar="NAME",
        help="the interview as numbered prompts, for screen readers, plain terminals and pipes; NAME is a saved interview or a new one",
    )
    commands = main.add_subparsers(title="commands", metavar="COMMAND", dest="command")
    _plan(commands)
    found = _add(commands, "questions", "list every question with id, kind, unit, choices and default", "questions --json")
    found.add_argument("--json", action="store_true", help="as JSON")
    about = "write the demo answers: an invented basement, household and budget"
    found = _add(commands, "example", about, "example --out answers.toml")
    found.add_argument("--out", metavar="FILE", help="write to this file instead of standard output; never overwrites")
    _assembly(commands)
    _prices(commands)
    found = _add(commands, "completion", f"print what makes a shell complete the commands: for {', '.join(SHELLS)}", "completion bash")
    found.add_argument("shell", choices=SHELLS)
    _add(commands, "list", "list saved interviews", "--data-dir ~/interviews list")
    return main


def _add(commands: Any, name: str, about: str, example: str) -> argparse.ArgumentParser:
    found: argparse.ArgumentParser = commands.add_parser(name, help=about, description=f"{about}.", epilog=f"example: stillroom {example}")
    return found


def _plan(commands: Any) -> None:
    about = "write the plan for a file of answers or a saved interview"
    found = _add(commands, "plan", about, "plan answers.toml --out plan --html")
    found.add_argument("answers", metavar="ANSWERS", help="an answers file (TOML), or the name or id of a saved interview")
    found.add_argument("--out", metavar="DIR", help="folder for the plan; needed unless --json")
    found.add_argument("--json", action="store_true", help="print the assessment as JSON on standard output")
    found.add_argument("--html", action="store_true", help="write one printable page with the figures inside as well")
    found.add_argument("--force", action="store_true", help="overwrite another plan, and files of these names, in the folder")


def _assembly(commands: Any) -> None:
    about = "predict the sound insulation of constructions described in TOML"
    found = _add(commands, "assembly", about, "assembly walls.toml --json")
    found.add_argument("files", nargs="+", metavar="FILE", help="a TOML file with one or more assemblies")
    found.add_argument("--json", action="store_true", help="one JSON list, an object an assembly, in order")
    found.add_argument("--predict", action="store_true", help="the prediction alone, without measurements of the same assembly")


def _prices(commands: Any) -> None:
    about = "your own prices in place of the invented ones: list, start a book, set one"
    found = _add(commands, "prices", about, "prices --set gypsum_x_159=17.5..21")
    found.add_argument("--json", action="store_true", help="list as JSON")
    found.add_argument("--create", metavar="CURRENCY", help="start a price book to fill in, such as --create USD; never overwrites one")
    found.add_argument("--set", metavar="ITEM=PRICE", help="set one price of a package: ITEM=17.5, or a range ITEM=17.5..21")
    found.add_argument("--currency", metavar="CODE", help="with --set: the currency; that of the book unless given")

"""The commands. Results go to standard output, messages to standard error; this module alone decides exit codes."""

from __future__ import annotations

import argparse
import datetime
import io
import sys
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any

from wizard import cli_prices
from wizard.cli_input import BadInput, exists, reason_of, text_of
from wizard.cli_parser import parser
from wizard.interview.answers import Answers
from wizard.interview.answers_file import FormatError, read_strictly
from wizard.interview.reading import Problems
from wizard.store import Store, StoreError
from wizard.store.errors import reason

DONE, STOPPED, BAD_INPUT = 0, 1, 2


def run(argv: list[str]) -> int:
    """Parse and run. argparse itself exits with 2 on a wrong command line and with 0 after --help and --version."""
    arguments = parser().parse_args(argv)
    try:
        return COMMANDS[arguments.command](arguments)
    except BadInput as bad:
        for sentence in bad.sentences:
            print(f"stillroom: {sentence}", file=sys.stderr)
        return BAD_INPUT
    except StoreError as error:
        print(f"stillroom: {error}", file=sys.stderr)
        return BAD_INPUT


def interview(arguments: argparse.Namespace) -> int:
    if arguments.plain is not None:
        from wizard.plain import run as run_plain

        return run_plain(_store(arguments), arguments.plain, sys.stdin, sys.stdout)
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        raise BadInput("the interview needs a terminal; `stillroom --plain` and `stillroom plan ANSWERS.toml --out DIR` work without one.")
    from wizard.app import run as run_app

    return run_app(_store(arguments))


def plan(arguments: argparse.Namespace) -> int:
    if not arguments.out and not arguments.json:
        raise BadInput("say where the plan shall go with --out DIR, or ask for the assessment with --json.")
    answers = _answers(arguments.answers, _store(arguments))
    folder = _folder(arguments.out) if arguments.out else None
    from calc.assess import assess
    from wizard.interview.to_brief import to_brief
    from wizard.pricebook import priced

    try:
        brief = priced(to_brief(answers), _data_folder(arguments))
    except Problems as problems:
        raise BadInput(*_sentences(problems)) from None
    assessment = assess(brief)
    if folder is not None:
        _export(assessment, folder, answers, arguments)
    if arguments.json:
        from wizard.as_data import as_data

        _print_json({"feasible": assessment.feasible, **as_data(assessment)})
    for finding in assessment.stops:
        print(f"stillroom: stop: {finding.title}", file=sys.stderr)
    return DONE if assessment.feasible else STOPPED


def prices(arguments: argparse.Namespace) -> int:
    try:
        said = cli_prices.prices(arguments, _data_folder(arguments), datetime.date.today())
    except ValueError as error:
        raise BadInput(str(error)) from None
    if arguments.json and not (arguments.create or arguments.set):
        _print_json(said)
    else:
        print("\n".join(map(str, said)))
    return DONE


def completion(arguments: argparse.Namespace) -> int:
    import shtab

    from wizard.manual import commands as subcommands

    commands = parser()
    for command in (commands, *(each for _, _, each in subcommands(commands))):
        for action in command._actions:
            if action.metavar in ("FILE", "DIR", "ANSWERS"):
                action.complete = shtab.DIRECTORY if action.metavar == "DIR" else shtab.FILE  # type: ignore[attr-defined]
    print(shtab.complete(commands, arguments.shell))
    return DONE


def _data_folder(arguments: argparse.Namespace) -> Path | None:
    return Path(arguments.data_dir) if arguments.data_dir else None


def questions(arguments: argparse.Namespace) -> int:
    from wizard.interview.listing import as_lines, as_objects

    if arguments.json:
        _print_json(as_objects())
    else:
        print("\n".join(as_lines()))
    return DONE


def example(arguments: argparse.Namespace) -> int:
    from importlib.resources import files

    text = files("wizard").joinpath("example.toml").read_text(encoding="utf-8")
    if not arguments.out:
        if isinstance(sys.stdout, io.TextIOWrapper) and not sys.stdout.isatty():
            sys.stdout.reconfigure(encoding="utf-8")  # into a file of answers, which is UTF-8 whatever the console is
        sys.stdout.write(text)
        return DONE
    out = Path(arguments.out)
    try:
        with out.open("x", encoding="utf-8") as file:
            file.write(text)
    except FileExistsError:
        raise BadInput(f"{arguments.out} exists already; choose another name.") from None
    except OSError as error:
        with suppress(OSError):  # half of it, on a full disk
            out.unlink()
        raise BadInput(f"{arguments.out} cannot be written: {reason_of(error)}.") from None
    return DONE


def assembly(arguments: argparse.Namespace) -> int:
    from wizard.cli_assembly import predictions, table

    found = predictions(arguments.files, use_measured=not arguments.predict)
    if arguments.json:
        _print_json(found)
    else:
        print("\n".join(table(found)))
    return DONE


def list_(arguments: argparse.Namespace) -> int:
    entries = _store(arguments).list()
    if not entries:
        print("There are no saved interviews yet.", file=sys.stderr)
    for entry in entries:
        print("\t".join((entry.id, entry.name, f"{entry.answered} answers", entry.changed, entry.notice)).rstrip())
    return DONE


def _store(arguments: argparse.Namespace) -> Store:
    return Store(arguments.data_dir)


def _answers(word: str, store: Store) -> Answers:
    """The answers of a file, or of the saved interview with this name or id."""
    path = Path(word)
    if not exists(path) or path.is_dir():
        id = store.find(word)
        if id is None:
            raise BadInput(f"{word[:300]} is neither a file nor the name or id of just one saved interview (`stillroom list` shows them).")
        saved = store.load(id)
        if saved.notice:
            print(f"stillroom: {saved.notice}", file=sys.stderr)
        return saved.answers
    try:
        return read_strictly(text_of(path))
    except FormatError as error:
        raise BadInput(f"{word}: {error}.") from None
    except Problems as problems:
        raise BadInput(*_sentences(problems)) from None


def _folder(out: str) -> Path:
    folder = Path(out)
    try:
        if folder.exists() and not folder.is_dir():
            raise BadInput(f"{out} is a file; --out needs a folder.")
    except (OSError, ValueError) as error:
        raise BadInput(f"{out} cannot be used: {error}.") from None
    return folder


def _export(assessment: Any, folder: Path, answers: Answers, arguments: argparse.Namespace) -> None:
    from wizard.export import WouldOverwrite, export

    try:
        path = export(assessment, folder, answers, datetime.date.today(), overwrite=arguments.force, html=arguments.html)
    except WouldOverwrite as other:
        more = f" and {len(other.names) - 1} more" if len(other.names) > 1 else ""
        raise BadInput(f"{folder} holds another plan or files of yours ({other.names[0]}{more}); --force overwrites them.") from None
    except OSError as error:
        raise BadInput(f"{folder} cannot be written: {reason(error)}.") from None
    print(path, file=sys.stderr if arguments.json else sys.stdout)


def _sentences(problems: Problems) -> tuple[str, ...]:
    return tuple(problem.sentence for problem in problems.problems)


def _print_json(data: Any) -> None:
    import json  # here and in wizard/store: the list of interviews does not wait for it

    whole = (sys.stdout.encoding or "").lower() in ("utf-8", "utf8")
    json.dump(data, sys.stdout, indent=2, ensure_ascii=not whole, allow_nan=False)
    print()


COMMANDS: dict[str | None, Callable[[argparse.Namespace], int]] = {
    None: interview,
    "plan": plan,
    "questions": questions,
    "example": example,
    "assembly": assembly,
    "prices": prices,
    "completion": completion,
    "list": list_,
}

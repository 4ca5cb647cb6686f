"""The answers file: TOML that a person can read and edit; the saved interview and the input without a terminal are the same form.

schema = 1
name = "Drums under the bedroom"
units = "imperial"
[answers]
shell_length = "20 ft"
listeners = ["bedroom_above", "garden_neighbour"]
joist_span = "?"                                      # I don't know
level = { text = "104 dBA", origin = "estimated" }    # measured when not said
"""

from __future__ import annotations

import difflib
import math
import re
import tomllib
import unicodedata
from collections.abc import Mapping, MutableMapping
from contextlib import suppress
from copy import deepcopy
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from calc.origin import Origin
from calc.units import IMPERIAL, METRIC
from wizard.interview import migrations
from wizard.interview.answers import DONT_KNOW, Answer, Answers, is_unknown_text
from wizard.interview.engine import BY_ID, missing, nearest_id, problems
from wizard.interview.question import Kind
from wizard.interview.reading import Problem, Problems

if TYPE_CHECKING:
    from tomlkit import TOMLDocument  # imported where something is written: the list of interviews is there sooner

OWN_KEYS = ("schema", "name", "units", "answers", "place", "changed", "revision")
LONGEST_WHOLE = 4000  # bits
LARGEST_WHOLE = 2**53  # what every reader of TOML can hold
HINTS = 20  # unknown keys that are told what they may have been meant for: looking for one takes a millisecond
DEEPEST = 120  # parts of a dotted key; tomllib's time and memory grow with their square. A name, the longest text kept, has room for 100
_PART = r"""(?:[\w-]++|"[^"\n]*+"|'[^'\n]*+')"""
DEEP_KEY = re.compile(rf"(?<![\w-]){_PART}(?:[ \t]*+\.[ \t]*+{_PART}){{{DEEPEST}}}")
TIME = re.compile(r"[0-9T:.+Z -]{0,40}")

# the text written last, parsed, and the answers in it: the next save would spend most of its time on parsing it again
_last: dict[str, tuple[TOMLDocument, Mapping[str, Any]]] = {}


class FormatError(ValueError):
    """The file is not an answers file at all; one sentence."""


class NewerSchema(FormatError):  # noqa: N818
    """Written by a later version."""


@dataclass(frozen=True)
class Read:
    """What a file says: the answers, the rest of what the store keeps, the keys that are nobody's, and the answers of a wrong shape."""

    answers: Answers
    place: str | None
    changed: str
    revision: int
    strangers: tuple[Problem, ...]
    malformed: tuple[Problem, ...]


def read_answers(text: str) -> Read:
    """Read an answers file. Raises FormatError when it is no answers file; keys that belong to no question come back as ``strangers``."""
    data = _data(text)
    units = data.get("units", IMPERIAL)
    if units not in (IMPERIAL, METRIC):
        raise FormatError(f'units must be "{IMPERIAL}" or "{METRIC}"')
    table = data.get("answers", {})
    if not isinstance(table, dict):
        raise FormatError("[answers] must be a table of question ids")
    place = data.get("place")
    found, malformed = _answers(table)
    return Read(
        answers=Answers(found, units, _name(data)),
        place=place if isinstance(place, str) and place in BY_ID else None,
        changed=_time(data),
        revision=_revision(data),
        strangers=_strangers(data, table),
        malformed=malformed,
    )


def read_strictly(text: str) -> Answers:
    """The answers of a file for a run without a terminal. Raises FormatError, or Problems with every fault of the file at once.

    A question that a misspelt key was meant for is not called missing as well.
    """
    read = read_answers(text)
    told = (*read.strangers, *read.malformed)
    if told:
        named = {problem.question_id for problem in told} | {nearest_id(problem.question_id) for problem in read.strangers}
        others = (*missing(read.answers), *problems(read.answers))
        raise Problems((*told, *(problem for problem in others if problem.question_id not in named)))
    return read.answers


def read_saved(text: str) -> Read:
    """What a saved interview says. Raises FormatError also for one answer of a wrong shape: to drop it on the next save would lose it."""
    read = read_answers(text)
    if read.malformed:
        raise FormatError(read.malformed[0].sentence)
    return read


def write_answers(answers: Answers, place: str | None = None, changed: str = "", revision: int = 0, old: str = "") -> str:
    """The file's text. Comments and unknown keys of ``old`` (the text it replaces) are kept."""
    head = {"schema": migrations.SCHEMA, "name": clean(answers.name), "units": answers.units}
    rest = {"place": place or "", "changed": changed, "revision": revision}
    try:
        document, standing = _last.pop(old, None) or (_document(old), None)
        text = _written(document, head, rest, answers, standing)
        good = _reads_back(text, answers)
    except Exception:  # tomlkit stumbles over some files, such as one with dotted keys, and raises many kinds
        good = False
    if not good:
        return _written(_without_remarks(old), head, rest, answers)
    _last.clear()
    _last[text] = document, as_stored(answers)
    return text


def _written(
    document: TOMLDocument, head: dict[str, Any], rest: dict[str, Any], answers: Answers, standing: Mapping[str, Any] | None = None
) -> str:
    """``standing``: the answers as the document has them, where that is known."""
    import tomlkit

    for key, value in {**head, **rest}.items():
        if value or key in head:
            document[key] = value
        elif key in document:
            del document[key]
    _write_table(document, answers, standing)
    return tomlkit.dumps(document)


def _reads_back(text: str, answers: Answers) -> bool:
    table, stored = _parsed(text)["answers"], as_stored(answers)
    return all(table[key] == value for key, value in stored.items()) and not table.keys() & BY_ID.keys() - stored.keys()


@lru_cache(maxsize=2)
def _parsed(text: str) -> dict[str, Any]:
    """The text as data, not to be changed. A save reads what it has written, and the next one reads it again."""
    return tomllib.loads(text)


@lru_cache(maxsize=4)
def as_stored(answers: Answers) -> Mapping[str, Any]:
    """The answers as they stand in a file. Kept, as a save asks several times for those before and after it."""
    return MappingProxyType({key: _value(key, answer) for key, answer in answers.items()})


def clean(text: str) -> str:
    """Text that can be written as UTF-8: a lone surrogate (a broken paste) becomes a question mark."""
    return text.encode("utf-8", "replace").decode("utf-8")


def _data(text: str) -> dict[str, Any]:
    """The file as data of today's schema. Raises FormatError."""
    if DEEP_KEY.search(text):
        raise FormatError(f"a key there has more than {DEEPEST} parts")
    try:
        data = _parsed(text.removeprefix("\ufeff"))
        monster = _holds_a_monster(data)
    except RecursionError:
        raise FormatError("brackets or keys there are nested too deep") from None
    except ValueError as error:  # also for a number of thousands of digits
        raise FormatError(f"the file is not valid TOML: {error}") from None
    if not data:
        raise FormatError("the file is empty")
    if monster:
        raise FormatError("the file is not valid TOML: a number there has thousands of digits")
    if type(data.get("schema")) is not int or data["schema"] != migrations.SCHEMA:
        data = deepcopy(data)
        _migrate(data)
    return data


def _holds_a_monster(value: Any) -> bool:
    """A whole number so long that Python will not write it in decimals: in hexadecimals it can be read."""
    if isinstance(value, dict | list):
        return any(map(_holds_a_monster, value.values() if isinstance(value, dict) else value))
    return isinstance(value, int) and value.bit_length() > LONGEST_WHOLE


def _migrate(document: MutableMapping[str, Any]) -> None:
    """A file that names no schema is taken for one of today's. Raises FormatError."""
    schema, newest = document.get("schema", migrations.SCHEMA), migrations.SCHEMA
    if not isinstance(schema, int) or isinstance(schema, bool) or schema < 1:
        raise FormatError(f"schema must be a whole number such as {newest}")
    if schema > newest:
        raise NewerSchema(
            f"the file has schema {min(schema, LARGEST_WHOLE)}, written by a later version of Stillroom; this one reads up to {newest}"
        )
    try:
        migrations.migrate(document, schema, newest, migrations.MIGRATIONS)
    except (TypeError, LookupError, AttributeError) as error:
        raise FormatError(f"the file says schema {schema}, but does not have its form ({error!r:.60})") from None


def _document(old: str) -> TOMLDocument:
    import tomlkit

    if old:
        try:
            document = tomlkit.parse(old)
            _migrate(document)
            return document
        except Exception:  # what it replaces need not be readable; tomlkit raises many kinds
            pass
    document = tomlkit.document()
    document.add(tomlkit.comment('Answers for Stillroom. `stillroom questions` lists every key; "?" means I don\'t know.'))
    return document


def _without_remarks(old: str) -> TOMLDocument:
    """The keys of the old text, each value as plain data; an empty document where it cannot be read."""
    document = _document("")
    with suppress(FormatError):
        document.update(_data(old))
    return document


def _write_table(document: TOMLDocument, answers: Answers, standing: Mapping[str, Any] | None) -> None:
    import tomlkit

    table = document.get("answers")
    if not isinstance(table, dict):
        table = tomlkit.table()
        document["answers"] = table
    if standing is None:
        standing = {key: _plain(table[key]) for key in table if key in BY_ID}
    for key in [key for key in standing if key not in answers]:
        del table[key]
    for key, value in as_stored(answers).items():
        if standing.get(key) != value:
            table[key] = _inline(value) if isinstance(value, dict) else value


def _value(key: str, answer: Answer) -> str | list[str] | dict[str, str]:
    text = clean(answer.text)
    if answer.origin is Origin.UNKNOWN or is_unknown_text(text):
        return DONT_KNOW.text
    if answer.origin is not Origin.MEASURED:
        return {"text": text, "origin": answer.origin.value}
    question = BY_ID.get(key)
    if question is not None and question.kind is Kind.MULTI:
        return [part.strip() for part in text.split(",") if part.strip()]
    return text


def _inline(value: dict[str, str]) -> Any:
    import tomlkit

    table = tomlkit.inline_table()
    table.update(value)
    return table


def _plain(item: Any) -> Any:
    return item.unwrap() if hasattr(item, "unwrap") else item


def _name(data: dict[str, Any]) -> str:
    name = data.get("name", "My quiet room")
    if not isinstance(name, str):
        raise FormatError("name must be text in quotes")
    return "".join(letter if unicodedata.category(letter) != "Cc" else " " for letter in name)  # it is shown in lists on a terminal


def _time(data: dict[str, Any]) -> str:
    changed = str(data.get("changed", ""))
    return changed if TIME.fullmatch(changed) else ""


def _revision(data: dict[str, Any]) -> int:
    revision = data.get("revision")
    return revision if isinstance(revision, int) and 0 <= revision < LARGEST_WHOLE else 0


def _answers(table: dict[str, Any]) -> tuple[dict[str, Answer], tuple[Problem, ...]]:
    found: dict[str, Answer] = {}
    malformed: list[Problem] = []
    for key, value in table.items():
        if key not in BY_ID:
            continue
        try:
            found[key] = _answer(key, value)
        except FormatError as error:
            malformed.append(Problem(key, f"{error}."))
    return found, tuple(malformed)


def _answer(key: str, value: Any) -> Answer:
    if isinstance(value, dict):
        return _answer_with_origin(key, value)
    text = _text(key, value)
    return DONT_KNOW if is_unknown_text(text) else Answer(text)


def _answer_with_origin(key: str, value: dict[str, Any]) -> Answer:
    wrong = set(value) - {"text", "origin"}
    if wrong or "text" not in value:
        raise FormatError(f'{key} must be text, a number, a list of choices, or {{ text = "...", origin = "..." }}')
    text = _text(key, value["text"])
    try:
        origin = Origin(value.get("origin", Origin.MEASURED))
    except ValueError:
        allowed = ", ".join(f'"{origin.value}"' for origin in Origin)
        raise FormatError(f"the origin of {key} must be one of {allowed}") from None
    return DONT_KNOW if origin is Origin.UNKNOWN or is_unknown_text(text) else Answer(text, origin)


def _text(key: str, value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return value
    if (isinstance(value, int) and abs(value) < LARGEST_WHOLE) or (isinstance(value, float) and math.isfinite(value)):
        return str(value)
    if isinstance(value, list) and all(isinstance(part, str) for part in value):
        return ", ".join(value)
    raise FormatError(f'{key} must be text, a number, a list of choices, or {{ text = "...", origin = "..." }}')


def _strangers(data: dict[str, Any], table: dict[str, Any]) -> tuple[Problem, ...]:
    found = [(key, True) for key in table if key not in BY_ID] + [(key, False) for key in data if key not in OWN_KEYS]
    return tuple(_stranger(key, inside, number < HINTS) for number, (key, inside) in enumerate(found))


def _stranger(key: str, inside: bool, hinted: bool) -> Problem:
    shown = key[:60]
    if not inside and key in BY_ID:
        return Problem(key, f"{shown}: this key belongs under [answers].")
    if not hinted:
        return Problem(key, f"{shown}: there is no such key.")
    near = nearest_id(key) if inside else next(iter(difflib.get_close_matches(key, OWN_KEYS, n=1)), None) or nearest_id(key)
    hint = f"did you mean {near}?" if near else "`stillroom questions` lists every key."
    return Problem(key, f"{shown}: there is no such key; {hint}")

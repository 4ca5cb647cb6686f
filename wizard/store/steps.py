"""Undo and redo: what each change of the answers changed, kept beside the file.

Two states are kept, before and after the last change, each with a seal of the answers it belongs to. The steps are written
first and the answers after them; whichever of the two is on the disk after a crash, one of the states fits it. A file that
was changed by hand fits none: undo then begins anew from there.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from calc.origin import Origin
from calc.units import IMPERIAL, METRIC
from wizard.interview.answers import Answer, Answers
from wizard.interview.answers_file import as_stored
from wizard.interview.engine import BY_ID

DEPTH = 100  # steps that can be taken back


@dataclass(frozen=True)
class Change:
    """One question: its answer before and after; None where there was none."""

    question_id: str
    before: Answer | None
    after: Answer | None


@dataclass(frozen=True)
class Step:
    """What one act changed: an answer, or all that a switch of units wrote anew."""

    changes: tuple[Change, ...]
    units: tuple[str, str]  # before and after

    @classmethod
    def between(cls, before: Answers, after: Answers) -> Step:
        ids = [*before, *(id for id in after if id not in before)]
        changed = (Change(id, before.get(id), after.get(id)) for id in ids if before.get(id) != after.get(id))
        return cls(tuple(changed), (before.units, after.units))

    def back(self, answers: Answers) -> Answers:
        """The answers as they were. What the answer had masked was never gone, and applies again."""
        return _with(answers, ((change.question_id, change.before) for change in self.changes), self.units[0])

    def again(self, answers: Answers) -> Answers:
        return _with(answers, ((change.question_id, change.after) for change in self.changes), self.units[1])


@dataclass(frozen=True)
class Steps:
    """What can be undone, the last step last, and what can be done again, the next last."""

    past: tuple[Step, ...] = ()
    future: tuple[Step, ...] = ()

    def done(self, before: Answers, after: Answers) -> Steps:
        """After a change by the person. What could be done again cannot be any more."""
        step = Step.between(before, after)
        unchanged = not step.changes and before.units == after.units
        return self if unchanged else Steps((*self.past, step)[-DEPTH:])

    def undone(self) -> Steps:
        return Steps(self.past[:-1], (*self.future, self.past[-1]))

    def redone(self) -> Steps:
        return Steps((*self.past, self.future[-1]), self.future[:-1])


@lru_cache(maxsize=4)
def seal(answers: Answers) -> str:
    """A fingerprint of the answers and units as the file holds them; not of the name and the place, which undo leaves alone."""
    stored = {id: value for id, value in as_stored(answers).items() if id in BY_ID}
    import hashlib
    import json

    text = json.dumps([answers.units, stored], sort_keys=True)
    return hashlib.sha256(text.encode("utf-8", "replace")).hexdigest()[:32]


def write_steps(states: Iterable[tuple[Answers, Steps]]) -> bytes:
    import json

    data = [
        {"seal": seal(answers), "past": [_step_data(step) for step in steps.past], "future": [_step_data(step) for step in steps.future]}
        for answers, steps in states
    ]
    return json.dumps({"states": data}).encode("utf-8")


def read_steps(data: bytes, answers: Answers) -> Steps:
    """The steps that fit these answers; none where nothing fits or the file makes no sense."""
    import json

    try:
        wanted = seal(answers)
        state = next((state for state in json.loads(data)["states"] if state["seal"] == wanted), None)
        return Steps() if state is None else Steps(_steps(state["past"]), _steps(state["future"]))
    except (ValueError, TypeError, LookupError, AttributeError, RecursionError):
        return Steps()


def _with(answers: Answers, values: Iterable[tuple[str, Answer | None]], units: str) -> Answers:
    for id, answer in values:
        answers = answers.without(id) if answer is None else answers.with_answer(id, answer)
    return answers.with_units(units)


def _step_data(step: Step) -> dict[str, Any]:
    return {
        "units": step.units,
        "changes": {change.question_id: [_answer_data(change.before), _answer_data(change.after)] for change in step.changes},
    }


def _answer_data(answer: Answer | None) -> list[str] | None:
    return None if answer is None else [answer.text, answer.origin.value]


def _steps(data: Any) -> tuple[Step, ...]:
    return tuple(_step(item) for item in data[-DEPTH:])


def _step(data: Any) -> Step:
    """Raises ValueError, TypeError or LookupError for what we did not write."""
    before, after = data["units"]
    if not {before, after} <= {IMPERIAL, METRIC} or not data["changes"].keys() <= BY_ID.keys():
        raise ValueError("not our units or questions")
    changes = tuple(Change(id, _answer(old), _answer(new)) for id, (old, new) in data["changes"].items())
    return Step(changes, (before, after))


def _answer(data: Any) -> Answer | None:
    if data is None:
        return None
    text, origin = data
    if not isinstance(text, str):
        raise TypeError("an answer is text")
    return Answer(text, Origin(origin))

"""A whole session at random: answers, jumps, undo, other units, crashes, a second window, a full disk, damage.

Nothing of ours breaks, no answer is lost, and there is always a way forward.
"""

from __future__ import annotations

import errno
import tempfile
from pathlib import Path

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule
from store_kit import QuickDisk
from test_interview_walk import texts

from calc.brief import Origin
from wizard.interview import engine
from wizard.interview.answers import Answers
from wizard.interview.answers_file import as_stored
from wizard.interview.engine import BY_ID, Problem
from wizard.session import READ_ONLY, Session
from wizard.store import Store, StoreError


class FullDisk(QuickDisk):
    """Takes nothing while ``full``."""

    full = False

    def write(self, handle: int, data: bytes) -> None:
        if self.full:
            raise OSError(errno.ENOSPC, "full")
        super().write(handle, data)


def as_filed(answers: Answers) -> tuple[str, dict[str, object]]:
    """What a file says of them: "a,b" and "a, b" are the same answer."""
    return answers.units, dict(as_stored(answers))


class Sitting(RuleBasedStateMachine):
    def __init__(self) -> None:
        super().__init__()
        self.folder = tempfile.TemporaryDirectory()
        self.disk = FullDisk()
        self.id = Store(Path(self.folder.name), disk=self.disk).create("Drums")
        self.open()

    def teardown(self) -> None:
        self.session.close()
        self.folder.cleanup()

    def open(self) -> None:
        self.session = Session.open(Store(Path(self.folder.name), disk=self.disk), self.id)
        assert not self.session.read_only
        self.given = as_filed(self.session.answers)

    @rule(data=st.data(), origin=st.sampled_from([Origin.MEASURED, Origin.ESTIMATED]), knowingly=st.booleans())
    def answer(self, data: st.DataObject, origin: Origin, knowingly: bool) -> None:
        question = self.session.question
        if question is None:
            return
        text = data.draw(texts(question))
        try:
            self.session.accept(text, origin, knowingly=knowingly)
        except Problem as problem:
            self.told(problem)
        else:
            assert question.id in self.session.answers
            self.given[1][question.id] = as_stored(self.session.answers)[question.id]

    @rule()
    def dont_know(self) -> None:
        question = self.session.question
        try:
            self.session.dont_know()
        except Problem as problem:
            self.told(problem)
        else:
            if question is not None:
                self.given[1][question.id] = "?"

    def told(self, problem: Problem) -> None:
        assert problem.question_id == self.session.at
        assert problem.sentence
        assert "\n" not in problem.sentence

    @rule()
    def skip(self) -> None:
        self.session.skip()

    @rule()
    def back(self) -> None:
        first = self.session.at == engine.applicable(self.session.answers)[0].id
        assert self.session.back() != first

    @rule(data=st.data(), changing=st.booleans())
    def jump(self, data: st.DataObject, changing: bool) -> None:
        self.session.go(data.draw(st.sampled_from(engine.applicable(self.session.answers))).id, changing=changing)

    @rule(which=st.sampled_from(["undo", "redo", "switch_units"]))
    def step(self, which: str) -> None:
        getattr(self.session, which)()
        self.given = as_filed(self.session.answers)

    @rule()
    def crash(self) -> None:
        before = self.given
        self.session.store.release(self.id)  # as the system does when a process ends
        self.open()
        assert self.given == before
        assert self.session.notice == ""

    @rule()
    def second_window(self) -> None:
        other = Session.open(Store(Path(self.folder.name), disk=self.disk), self.id)
        assert other.read_only
        assert as_filed(other.answers) == self.given
        other.go("people")
        with pytest.raises(Problem, match=READ_ONLY[:30]):
            other.accept("2")
        other.close()

    @rule(count=st.integers(1, 9))
    @precondition(lambda self: "people" in {item.id for item in engine.applicable(self.session.answers)})
    def full_disk(self, count: int) -> None:
        self.session.go("people")
        self.disk.full = True
        try:
            self.session.accept(str(count), knowingly=True)
            assert self.given[1].get("people") == str(count)  # nothing to write
        except StoreError as error:
            said = str(error)
            assert "the disk is full" in said
        finally:
            self.disk.full = False
        assert self.session.answers["people"].text == str(count)
        self.session.save()
        self.given[1]["people"] = str(count)

    @rule(garbage=st.binary(max_size=20), keep=st.booleans())
    def damage(self, garbage: bytes, keep: bool) -> None:
        path = Path(self.folder.name) / "interviews" / self.id / "answers.toml"
        earlier = self.session.store.versions(self.id)
        if not earlier:
            return
        self.session.close()
        path.write_bytes(path.read_bytes()[: len(garbage)] + b"\x00" + garbage if keep else garbage + b"\x00")
        self.open()
        assert "last good version" in self.session.notice
        assert self.given == as_filed(earlier[0].answers)
        self.session.save()

    @invariant()
    def no_answer_is_lost(self) -> None:
        assert as_filed(self.session.answers) == self.given
        assert as_filed(Store(Path(self.folder.name)).load(self.id).answers) == self.given

    @invariant()
    def there_is_a_way_forward(self) -> None:
        asked = [item.id for item in engine.applicable(self.session.answers)]
        at = self.session.at
        assert at is None or at in asked
        rest = asked if at is None else asked[asked.index(at) :]
        for here, following in zip(rest, [*rest[1:], None], strict=True):
            after = engine.next_after(self.session.answers, here)
            assert (after and after.id) == following
        assert all(problem.question_id in BY_ID and "\n" not in problem.sentence for problem in engine.problems(self.session.answers))


Sitting.TestCase.settings = settings(max_examples=15, stateful_step_count=25, deadline=None)
TestSitting = Sitting.TestCase

"""Any sequence of answers, undos, redos, new starts and changes of units ends where a plain list of states ends."""

from __future__ import annotations

import tempfile
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st
from store_kit import QuickDisk

from wizard.interview import engine
from wizard.interview.answers import Answer, Answers
from wizard.interview.answers_file import as_stored
from wizard.interview.engine import Problem
from wizard.session import Session
from wizard.store import Store
from wizard.store.steps import DEPTH, Step, Steps, read_steps, seal, write_steps

GIVEN = {
    "shell_length": ("20 ft", "6.1 m", "18", "?"),
    "obstructions": ("beam", "beam, duct", "none", "duct,beam"),
    "beam_underside": ("7 ft", "?", ""),
    "people": ("2", "5", ""),
    "source": ("drum_kit", "?"),
    "listeners": ("bedroom_above", "bedroom_above, garden_neighbour"),
    "water": ("none", "?", ""),
}
ACTS = st.one_of(
    st.sampled_from([(id, text) for id, texts in GIVEN.items() for text in texts]),
    st.sampled_from(["undo", "undo", "redo", "reopen", "units"]),
)


def as_filed(answers: Answers) -> tuple[str, dict[str, object]]:
    """What a file says of them: "a,b" and "a, b" are the same answer."""
    return answers.units, dict(as_stored(answers))


@settings(max_examples=40, deadline=None)
@given(acts=st.lists(ACTS, max_size=14))
def test_undo_and_redo_equal_replay(acts: list[str | tuple[str, str]]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        store = Store(Path(folder), disk=QuickDisk())
        id = store.create("Drums")
        session = Session.open(store, id)
        states, at = [session.answers], 0
        for act in acts:
            if act == "undo":
                assert (session.undo() is None) == (at == 0)
                at = max(at - 1, 0)
            elif act == "redo":
                assert (session.redo() is None) == (at == len(states) - 1)
                at = min(at + 1, len(states) - 1)
            elif act == "reopen":
                session.close()
                session = Session.open(Store(Path(folder), disk=QuickDisk()), id)
            else:
                before = session.answers  # as read again after a reopening, where "a,b" has become "a, b"
                answered(session, act)
                if session.answers != before:
                    states, at = [*states[: at + 1], session.answers], at + 1
            assert as_filed(session.answers) == as_filed(states[at])
            assert as_filed(store.load(id).answers) == as_filed(states[at])


def answered(session: Session, act: str | tuple[str, str]) -> None:
    if isinstance(act, str):
        session.switch_units()
        return
    session.go(act[0])
    try:
        session.accept(act[1], knowingly=True)
    except Problem:
        return


def test_what_an_answer_masked_comes_back_with_undo(tmp_path: Path) -> None:
    store = Store(tmp_path)
    id = store.create("Drums", Answers({"obstructions": Answer("beam"), "beam_underside": Answer("7 ft"), "beam_width": Answer("5 in")}))
    session = Session.open(store, id)
    session.go("obstructions")
    session.accept("none")
    assert "beam_underside" not in {item.id for item in engine.applicable(session.answers)}
    session.close()
    session = Session.open(Store(tmp_path), id)
    assert session.undo() is not None
    assert session.at == "obstructions"
    assert {"beam_underside", "beam_width"} <= {item.id for item in engine.applicable(session.answers)}
    assert session.answers["beam_underside"] == Answer("7 ft")


def test_a_file_changed_by_hand_begins_undo_anew(tmp_path: Path) -> None:
    store = Store(tmp_path)
    id = store.create("Drums")
    session = Session.open(store, id)
    session.accept("20 ft")
    session.close()
    path = tmp_path / "interviews" / id / "answers.toml"
    path.write_text(path.read_text().replace("20 ft", "21 ft"))
    session = Session.open(Store(tmp_path), id)
    assert session.undo() is None
    assert session.answers["shell_length"] == Answer("21 ft")


def test_a_new_name_leaves_undo_alone(tmp_path: Path) -> None:
    store = Store(tmp_path)
    id = store.create("Drums")
    session = Session.open(store, id)
    session.accept("20 ft")
    session.close()
    store.rename(id, "Loud")
    session = Session.open(store, id)
    assert session.undo() == "Length of the area is open"
    assert (session.answers.name, len(session.answers)) == ("Loud", 0)


def test_undo_says_what_is_as_it_was(tmp_path: Path) -> None:
    store = Store(tmp_path)
    session = Session.open(store, store.create("Drums"))
    for text in ("20 ft", "14 ft"):
        session.accept(text)
    session.go("listeners")
    session.accept("bedroom_above, garden_neighbour")
    session.go("source")
    session.accept("drum_kit")
    session.go("listeners")
    session.accept("bedroom_above")
    session.go("water")
    session.accept("?")
    assert session.undo() == f"{engine.question('water').title} is open"
    assert session.undo() == "Who must not hear it is bedroom above, neighbour across the garden"
    assert [session.redo(), session.redo()][1] == f"{engine.question('water').title} is “I don’t know”"
    session.switch_units()
    assert session.undo() == "the units are imperial"


def test_the_depth_is_bounded() -> None:
    steps, answers = Steps(), Answers()
    for count in range(DEPTH + 20):
        after = answers.with_answer("people", Answer(str(count)))
        steps, answers = steps.done(answers, after), after
    assert len(steps.past) == DEPTH
    assert read_steps(write_steps([(Answers(), Steps()), (answers, steps)]), answers) == steps


@settings(max_examples=50, deadline=None)
@given(data=st.binary(max_size=40) | st.recursive(st.none() | st.integers() | st.text(max_size=5), st.lists, max_leaves=8).map(str))
def test_a_hostile_file_of_steps_is_no_steps(data: bytes | str) -> None:
    answers = Answers({"people": Answer("2")})
    raw = data if isinstance(data, bytes) else data.encode("utf-8", "replace")
    assert read_steps(raw, answers) == Steps()
    good = write_steps([(answers, Steps((Step.between(Answers(), answers),)))])
    for cut in range(0, len(good), 7):
        assert read_steps(good[:cut] + raw, answers) in (Steps(), Steps((Step.between(Answers(), answers),)))


def test_steps_of_another_shape_are_no_steps() -> None:
    answers = Answers({"people": Answer("2")})
    mark = seal(answers)
    for past in ('[{"units":["imperial","cubits"],"changes":{}}]', '[{"units":["imperial","metric"],"changes":{"no_such":[null,null]}}]',
                 '[{"units":["imperial","metric"],"changes":{"people":[[1,"measured"],null]}}]', '{"a":1}', '[[]]', '["x"]',
                 '[{"units":["imperial","metric"],"changes":{"people":[["1",[]],null]}}]', "null"):  # fmt: skip
        assert read_steps(f'{{"states":[{{"seal":"{mark}","past":{past},"future":[]}}]}}'.encode(), answers) == Steps()
    assert read_steps(b"[" * 100_000, answers) == Steps()

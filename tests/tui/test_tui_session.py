"""Where a person stands, and what an answer opens, without a terminal."""

from __future__ import annotations

from pathlib import Path

import pytest
from tui_kit import FIRST_ANSWERS, saved

from calc.brief import Origin
from wizard.interview import engine
from wizard.interview.answers import Answer, Answers
from wizard.interview.engine import Problem
from wizard.screens.jump import matching, places
from wizard.screens.plan import folder_for
from wizard.session import Contradiction, Session
from wizard.store import Store


def test_every_answer_is_in_the_file_before_the_next_question(tmp_path: Path) -> None:
    store, id = saved(tmp_path, {})
    session = Session.open(store, id)
    session.accept("20 ft")
    again = Session.open(Store(tmp_path), id)
    assert (again.answers["shell_length"].text, again.at) == ("20 ft", "shell_width")


def test_a_refused_answer_changes_nothing(tmp_path: Path) -> None:
    store, id = saved(tmp_path, {})
    session = Session.open(store, id)
    with pytest.raises(Problem, match="Length of the area"):
        session.accept("7 bananas")
    assert session.at == "shell_length"
    assert "shell_length" not in session.answers


def test_empty_takes_the_default_and_says_so(tmp_path: Path) -> None:
    store, id = saved(tmp_path, {"shell_length": "20 ft", "shell_width": "14 ft", "shell_height": "7-4"})
    session = Session.open(store, id)
    session.accept("")
    assert session.answers["joist_depth"].origin is Origin.DEFAULT


@pytest.mark.parametrize("text", ["1978", "?"])
def test_empty_keeps_what_was_answered(tmp_path: Path, text: str) -> None:
    store, id = saved(tmp_path, {})
    session = Session.open(store, id)
    session.go("year_built")
    session.accept(text)
    before = session.answers
    session.go("year_built")
    session.accept("")
    assert (session.answers, session.at) == (before, "suspect")


def test_empty_is_refused_where_there_is_no_default(tmp_path: Path) -> None:
    store, id = saved(tmp_path, {})
    with pytest.raises(Problem, match="no default"):
        Session.open(store, id).accept("  ")


def test_a_change_comes_back_after_what_it_opened(tmp_path: Path) -> None:
    store, id = saved(tmp_path, FIRST_ANSWERS)
    session = Session.open(store, id)
    session.go("obstructions", changing=True)
    session.accept("beam")
    visited = []
    while session.at is not None:
        visited.append(session.at)
        session.accept("")
    assert visited == ["beam_underside", "beam_place", "beam_width", "beam_length"]


def test_a_change_that_opens_nothing_comes_straight_back(tmp_path: Path) -> None:
    store, id = saved(tmp_path, FIRST_ANSWERS)
    session = Session.open(store, id)
    session.go("people", changing=True)
    session.accept("5")
    assert session.at is None


def test_the_page_of_all_answers_leads_back_to_where_the_first_change_was_begun(tmp_path: Path) -> None:
    store, id = saved(tmp_path, FIRST_ANSWERS, "code")
    session = Session.open(store, id)
    for changed in ("people", "hours"):
        session.go(changed, changing=True)
        session.skip()
        assert session.at is None
    session.back()
    assert (session.at, session.changing) == ("code", False)


def test_a_detour_answers_one_that_comes_later_and_goes_on_where_it_was_begun(tmp_path: Path) -> None:
    store, id = saved(tmp_path, FIRST_ANSWERS, "code")
    session = Session.open(store, id)
    session.go("obstructions", detour=True)
    session.accept("pipe")
    while session.at != "code":
        assert session.at is not None
        assert session.at.startswith("pipe_")
        session.accept("")
    session.accept("?")
    assert session.at == "habitable"


def test_a_change_on_a_detour_comes_back_to_the_page_of_all_answers(tmp_path: Path) -> None:
    store, id = saved(tmp_path, FIRST_ANSWERS, "code")
    session = Session.open(store, id)
    session.go("radon", detour=True)
    session.go("people", changing=True)
    session.accept("5")
    assert session.at is None
    session.back()
    assert session.at == "code"


def test_a_contradiction_is_told_once_and_may_be_kept(tmp_path: Path) -> None:
    store, id = saved(tmp_path, {**FIRST_ANSWERS, "obstructions": "beam", "beam_underside": "7 ft"})
    session = Session.open(store, id)
    session.go("shell_height")
    with pytest.raises(Contradiction, match="above the joists"):
        session.accept("6 ft 11")
    assert session.answers["shell_height"].text == "7-4"
    session.accept("6 ft 11", knowingly=True)
    assert session.answers["shell_height"].text == "6 ft 11"


def test_back_stops_at_the_first_question(tmp_path: Path) -> None:
    store, id = saved(tmp_path, {"shell_length": "20 ft"})
    session = Session.open(store, id)
    assert session.back()
    assert session.at == "shell_length"
    assert not session.back()


def test_a_saved_place_that_no_longer_applies_gives_the_first_open_question(tmp_path: Path) -> None:
    store, id = saved(tmp_path, FIRST_ANSWERS, place="beam_width")
    assert Session.open(store, id).at == "code"


def test_switching_units_keeps_what_a_bare_number_meant(tmp_path: Path) -> None:
    store, id = saved(tmp_path, {"shell_length": "20"})
    session = Session.open(store, id)
    session.switch_units()
    assert (session.answers.units, session.answers["shell_length"].text) == ("metric", "20 ft")


def hits(words: str, answers: Answers | None = None) -> list[str]:
    return [place.question.id for place in matching(places(answers or Answers()), words)]


def test_jump_finds_words_in_any_order_and_case() -> None:
    assert hits("DEPTH joist")[0] == "joist_depth"
    assert hits("joist answered", Answers({"joist_depth": Answer("9 in")})) == ["joist_depth"]
    assert hits("joist qqq") == []
    missing = [question.id for question in engine.applicable(Answers()) if question.default is None]
    assert hits("missing")[: len(missing)] == missing


@pytest.mark.parametrize(
    ("words", "first"),
    [("Living", "habitable"), ("ducts", "duct_outdoors"), ("start", "start"), ("date", "start"), ("hours", "hours_per_week")],
)
def test_the_best_hit_of_a_jump_comes_first(words: str, first: str) -> None:
    assert hits(words)[0] == first


def test_words_of_a_question_come_after_titles_and_before_its_choices() -> None:
    assert hits("hour")[:2] == ["hours_per_week", "hours"]  # “Hours a week”, then “When”, which has it in its id
    assert hits("living").index("house_area") < hits("living").index("listeners")


@pytest.mark.parametrize("name", ["../../etc", "a/b", "..", "[bold]x[/]", "名前", " "])
def test_a_name_never_leads_out_of_the_current_folder(name: str) -> None:
    assert folder_for(name).parent == Path.cwd()

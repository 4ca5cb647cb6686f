"""The interview in the terminal: answering, errors, moving about, the verdict beside it."""

from __future__ import annotations

import threading
from pathlib import Path

import pytest
from textual import events
from textual.command import CommandList
from textual.pilot import Pilot
from textual.widgets import Input, OptionList, Static
from tui_kit import FIRST_ANSWERS, NARROW, QuickBackroom, enter, make_app, press, saved, screen_text, settle

from wizard.app import StillroomApp
from wizard.backroom import StaleError
from wizard.interview import engine
from wizard.interview.answers import Answers
from wizard.interview.verdict import Verdict
from wizard.palette import QuestionCommands
from wizard.screens.first_verdict import FirstVerdict
from wizard.screens.interview import Interview
from wizard.screens.plan import PlanPage
from wizard.screens.results import Results
from wizard.screens.review import Review
from wizard.session import Session
from wizard.store import Store


def session(app: StillroomApp) -> Session:
    """The session of the open interview."""
    return next(screen for screen in app.screen_stack if isinstance(screen, Interview))._session


def panel(app: StillroomApp) -> str:
    return str(app.screen.query_one("#verdict", Static).content)


async def choose(pilot: Pilot[None], id: str) -> None:
    listed = pilot.app.screen.query_one("#one-of", OptionList)
    listed.highlighted = [option.id for option in listed.options].index(id)
    await press(pilot, "enter")


async def test_the_first_questions_give_a_first_verdict(tmp_path: Path) -> None:
    app = make_app(tmp_path, {})
    async with app.run_test(size=NARROW) as pilot:
        assert "12 of the first 12 answers are still to come" in panel(app)
        for text in ("20'", "14 ft", "7' 4\"", "", "16", "13 ft"):
            await enter(pilot, text)
        await choose(pilot, "drum_kit")
        await choose(pilot, "night")
        await press(pilot, "space", "enter")
        await enter(pilot, "3")
        await enter(pilot, "6' 8\"")
        assert "1 of the first 12 answers is still to come" in panel(app)
        await enter(pilot, "25k")
        await settle(pilot)
        assert isinstance(app.screen, FirstVerdict)
        assert "209 cm" in panel(app)
        await press(pilot, "enter")
        assert session(app).at == "code"
        assert "“Kind of joist” would change this most" in panel(app)
        answers = session(app).answers
    assert (answers["hours"].text, answers["listeners"].text, answers["joist_depth"].origin) == ("night", "bedroom_above", "default")


async def test_an_error_stands_beside_the_field_and_keeps_what_was_typed(tmp_path: Path) -> None:
    app = make_app(tmp_path, {})
    async with app.run_test(size=NARROW) as pilot:
        await enter(pilot, "7 bananas")
        assert app.screen.query_one("#typed", Input).value == "7 bananas"
        assert "Not accepted. Length of the area: “bananas”" in str(app.screen.query_one("#notes", Static).content)
        await enter(pilot, "7 ft")
        assert session(app).at == "shell_width"


async def test_the_reading_is_repeated_while_typing(tmp_path: Path) -> None:
    app = make_app(tmp_path, {})
    async with app.run_test(size=NARROW) as pilot:
        app.screen.query_one("#typed", Input).value = "17' 2 1/2\""
        await settle(pilot)
        assert "= 17 ft 2 1/2 in = 5.245 m" in screen_text(app)


async def test_dont_know_assumes_or_says_why_it_cannot(tmp_path: Path) -> None:
    app = make_app(tmp_path, {"shell_length": "20'", "shell_width": "14'"}, "shell_height")
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "f2")
        assert "this one must be known" in str(app.screen.query_one("#notes", Static).content)
        await enter(pilot, "7-4")
        await press(pilot, "f2")
        assert (session(app).answers["joist_depth"].text, session(app).at) == ("?", "joist_spacing")


async def test_back_jump_and_the_telling_question(tmp_path: Path) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "code")
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        await press(pilot, "f3")
        assert session(app).at == "budget"
        assert app.screen.query_one("#typed", Input).value == "25k"
        await press(pilot, "f8")
        assert session(app).at == "joist_kind"
        await press(pilot, "f4")
        app.screen.query_one(Input).value = "radon"
        await press(pilot, "enter")
        assert session(app).at == "radon"


@pytest.mark.parametrize(("typed", "told"), [("radon", "tested for radon"), ("show: air", "[Air]")])
async def test_the_palette_goes_to_a_question_and_opens_a_page(tmp_path: Path, typed: str, told: str) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "code")
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        await press(pilot, "ctrl+p")
        app.screen.query_one(Input).value = typed
        listed = app.screen.query_one(CommandList)
        while not any(typed in str(option.hit.text).casefold() for option in listed.options[:1]):  # type: ignore[attr-defined]
            await pilot.pause(0.02)
        while not isinstance(app.screen, Interview | Results):
            await press(pilot, "enter")
        await settle(pilot)
        assert told in screen_text(app)


@pytest.mark.parametrize(("words", "found"), [("Living", "habitable"), ("start", "start"), ("building department", "code")])
async def test_jump_stands_on_the_best_hit_and_enter_takes_it(tmp_path: Path, words: str, found: str) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "listeners")
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        await press(pilot, "f4", *(" " if letter == " " else letter for letter in words))
        await settle(pilot)
        assert app.screen.query_one(OptionList).highlighted == 0
        await press(pilot, "enter")
        assert session(app).at == found


async def test_the_palette_offers_the_best_hit_first(tmp_path: Path) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "code")
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        hits = [hit async for hit in QuestionCommands(app.screen).search("living")]
        assert max(hits, key=lambda hit: hit.score).text == "Go to: Project and local code, Living space"


async def test_jump_finds_words_of_the_question_and_tells_its_state_and_topic(tmp_path: Path) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "code")
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "f4")
        app.screen.query_one(Input).value = "building department"
        await settle(pilot)
        assert "Model code  [open] in Project and local code" in screen_text(app)
        assert "Joist" not in screen_text(app)


async def test_an_emptied_field_keeps_the_answer_and_says_how_to_take_it_back(tmp_path: Path) -> None:
    app = make_app(tmp_path, {**FIRST_ANSWERS, "year_built": "1978"}, "year_built")
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        await press(pilot, "backspace")
        await settle(pilot)
        assert "empty keeps your answer: 1978" in screen_text(app)
        await press(pilot, "enter")
        await settle(pilot)
        assert "An empty field keeps your answer, 1978: Enter goes on, F2 says that" in screen_text(app)
        assert (session(app).at, app.screen.query_one("#typed", Input).value) == ("year_built", "1978")
        await press(pilot, "enter")
        assert session(app).answers["year_built"].text == "1978"
        assert session(app).at != "year_built"


async def test_what_is_typed_after_a_refusal_replaces_it_and_arrows_edit_it(tmp_path: Path) -> None:
    app = make_app(tmp_path, {})
    async with app.run_test(size=NARROW) as pilot:
        await enter(pilot, "banana")
        typed = app.screen.query_one("#typed", Input)
        await press(pilot, "end", "s")
        assert typed.value == "bananas"
        await press(pilot, "enter", "2", "0")
        assert typed.value == "20"
        await press(pilot, "enter", "f3", "1", "9")
        assert typed.value == "19"  # an answer that stands is selected, too


async def test_an_estimate_is_marked_as_one(tmp_path: Path) -> None:
    app = make_app(tmp_path, {})
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "f7")
        await enter(pilot, "20 ft")
        assert session(app).answers["shell_length"].origin == "estimated"
        await press(pilot, "f5")
        assert "20 ft = 6.096 m  (estimated)" in screen_text(app)


async def test_a_change_from_the_page_of_all_answers_comes_back_to_it(tmp_path: Path) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "code")
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        await press(pilot, "f5")
        listed = app.screen.query_one(OptionList)
        listed.highlighted = [option.id for option in listed.options].index("obstructions")
        await press(pilot, "enter", "down", "space", "enter")
        assert session(app).at == "beam_underside"
        await enter(pilot, "6' 10\"")
        assert session(app).at == "beam_place"
        await press(pilot, "up", "enter")
        await enter(pilot, "8 in")
        await enter(pilot, "13 ft")
        assert isinstance(app.screen, Review)
        assert app.screen.query_one(OptionList).highlighted_option.id == "beam_length"
        assert session(app).answers["obstructions"].text == "beam"


async def test_what_the_last_answer_moved_says_what_it_was(tmp_path: Path) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "people")
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        assert "was" not in panel(app)
        await enter(pilot, "5")
        await settle(pilot)
        assert "100 cfm  +40 cfm, was 60 cfm" in panel(app)
        assert panel(app).count(" was ") == 1


async def test_keys_typed_ahead_reach_the_next_questions_in_order(tmp_path: Path) -> None:
    app = make_app(tmp_path, {})
    async with app.run_test(size=NARROW) as pilot:
        typed = ["2", "0", "enter", "1", "4", "x", "backspace", "enter", "7", "-", "4", "enter", "enter", "f2", "enter"]
        for key in [*typed, "down", "down", "enter"]:
            app.post_message(events.Key(key, key if len(key) == 1 else None))
        await settle(pilot)
        answers = session(app).answers
    assert [answers[id].text for id in ("shell_length", "shell_width", "shell_height")] == ["20", "14", "7-4"]
    assert (answers["joist_spacing"].text, answers["source"].text) == ("?", "amplified_band")


class SlowBackroom(QuickBackroom):
    """Waits for ``go`` before each verdict."""

    def __init__(self) -> None:
        super().__init__()
        self.go = threading.Event()

    def verdict(self, answers: Answers) -> Verdict:
        assert self.go.wait(10)
        return super().verdict(answers)


async def test_typing_goes_on_while_a_verdict_is_worked_out_and_only_the_last_one_shows(tmp_path: Path) -> None:
    store, id = saved(tmp_path, FIRST_ANSWERS, "people")
    backroom = SlowBackroom()
    app = StillroomApp(store, id, backroom)
    async with app.run_test(size=NARROW) as pilot:
        await enter(pilot, "4")
        await enter(pilot, "6' 7\"")
        app.screen.query_one("#typed", Input).value = "30k"
        assert (session(app).at, app.screen.query_one("#verdict").border_subtitle) == ("budget", "working it out …")
        await press(pilot, "enter")
        backroom.go.set()
        await settle(pilot)
        shown = {line.name: line.value for line in app.screen._verdict.lines}  # type: ignore[attr-defined]
        assert (shown["Fresh air needed"], shown["Cost with reserve"]) == ("80 cfm", "29,100 USD")
        assert "29,100 USD" in panel(app)
    assert len(backroom.judged) <= 2  # the first was under way; those between were never begun


class BrokenBackroom(QuickBackroom):
    def verdict(self, answers: Answers) -> Verdict:
        raise ZeroDivisionError("a fault")


async def test_a_fault_in_the_calculation_does_not_end_the_interview(tmp_path: Path) -> None:
    store, id = saved(tmp_path, FIRST_ANSWERS, "people")
    app = StillroomApp(store, id, BrokenBackroom())
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        assert "fault of this program" in panel(app)
        await enter(pilot, "4")
        assert session(app).at == "lowest_ceiling"
    assert Store(tmp_path).load(id).answers["people"].text == "4"


def test_the_search_for_the_telling_question_ends_when_it_is_not_wanted(tmp_path: Path) -> None:
    """The real backroom looks between two assessments; a stand-in for the assessment counts them."""
    from wizard.backroom import Backroom

    begun: list[object] = []

    def assess(brief: object) -> object:
        begun.append(brief)
        raise AssertionError("not reached")

    store, id = saved(tmp_path, FIRST_ANSWERS)
    try:
        Backroom(assess).telling(store.load(id).answers, lambda: False)  # type: ignore[arg-type]
    except StaleError:
        assert begun == []
    else:
        raise AssertionError("StaleError expected")


async def test_the_plan_waits_for_the_first_answers(tmp_path: Path) -> None:
    app = make_app(tmp_path, {"shell_length": "20'"})
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "f6")
        assert isinstance(app.screen, Interview)
        assert any("11 more" in notice.message for notice in app._notifications)


async def test_the_end_of_the_questions_is_the_page_of_all_answers(tmp_path: Path) -> None:
    answers = dict(FIRST_ANSWERS)
    store, id = saved(tmp_path, answers, "start")
    app = StillroomApp(store, id, QuickBackroom())
    async with app.run_test(size=NARROW) as pilot:
        await enter(pilot, "2027-03-01")
        assert isinstance(app.screen, Review)
        await press(pilot, "f6")
        await settle(pilot)
        assert isinstance(app.screen, PlanPage)
        await press(pilot, "escape")
        assert isinstance(app.screen, Review)
        await press(pilot, "escape")
        assert session(app).at == engine.applicable(session(app).answers)[-1].id


async def test_switching_units_shows_the_same_length_in_metres(tmp_path: Path) -> None:
    app = make_app(tmp_path, {"shell_length": "20"}, "shell_length")
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "f9")
        assert "= 6.096 m = 20 ft" in screen_text(app)


async def test_a_contradiction_is_kept_by_a_second_enter(tmp_path: Path) -> None:
    app = make_app(tmp_path, {**FIRST_ANSWERS, "obstructions": "beam", "beam_underside": "7 ft"}, "shell_height")
    async with app.run_test(size=NARROW) as pilot:
        await enter(pilot, "6 ft 11")
        assert "press Enter again to keep it" in str(app.screen.query_one("#notes", Static).content)
        assert session(app).answers["shell_height"].text == "7-4"
        await press(pilot, "enter")
        assert (session(app).answers["shell_height"].text, session(app).at) == ("6 ft 11", "joist_depth")
        await press(pilot, "f5")
        assert "Check: " in screen_text(app)


async def test_none_goes_with_no_other_choice(tmp_path: Path) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "obstructions")
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "down", "space", "down", "space")
        assert "[ ] nothing" in screen_text(app)
        await press(pilot, "enter")
        assert session(app).answers["obstructions"].text == "beam, duct"


async def test_nothing_ticked_is_told_in_words_until_something_is(tmp_path: Path) -> None:
    app = make_app(tmp_path, dict(list(FIRST_ANSWERS.items())[:8]), "listeners")
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "enter")
        assert "choose at least one; “nobody is within earshot” is one too" in " ".join(screen_text(app).split())
        assert "bedroom_above" not in screen_text(app)
        await press(pilot, "space")
        assert "Not accepted" not in screen_text(app)


async def test_no_choice_hides_below_the_fold_of_a_small_terminal(tmp_path: Path) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "people")
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        page = app.screen
        assert isinstance(page, Interview)
        for question in engine.applicable(session(app).answers):
            if question.choices:
                page.go_to(question.id)
                await settle(pilot)
                shown = app.screen.query_one("#one-of" if question.kind == "choice" else "#several-of", OptionList)
                assert shown.max_scroll_y == 0, question.id


async def test_the_page_of_all_answers_asks_the_open_questions_in_a_row(tmp_path: Path) -> None:
    app = make_app(tmp_path, {**FIRST_ANSWERS, "habitable": "yes"}, "start")
    async with app.run_test(size=NARROW) as pilot:
        await enter(pilot, "2027-03-01")
        assert "not asked yet: o asks these" in screen_text(app)
        await press(pilot, "o")
        assert session(app).at == "code"
        await press(pilot, "up", "enter")
        assert session(app).at == "currency"  # over what is answered
        assert "Esc: all answers" in screen_text(app)
        await press(pilot, "ctrl+z", "up", "enter", "ctrl+n")
        assert session(app).at == "side_1"  # undone, answered again, skipped: still in a row
        await press(pilot, "escape")
        assert isinstance(app.screen, Review)
        assert app.screen.query_one(OptionList).highlighted_option.id == "side_1"
        await press(pilot, "escape", "escape")
        assert not isinstance(app.screen, Interview | Review)


async def test_the_last_open_question_leads_back_to_the_page_of_all_answers(tmp_path: Path) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "code")
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "f5", "o")
        session(app).go("start", changing=True)
        session(app)._in_a_row = True
        app.screen.show_place()  # type: ignore[attr-defined]
        await enter(pilot, "2027-03-01")
        assert isinstance(app.screen, Review)


async def test_map_and_results_open_from_the_page_of_all_answers(tmp_path: Path) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "code")
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        await press(pilot, "f5", "f4", "r", "a", "d", "o", "n", "enter")
        assert isinstance(app.screen, Interview)
        assert session(app).at == "radon"
        await press(pilot, "enter")
        assert isinstance(app.screen, Review)
        await press(pilot, "ctrl+l")
        assert isinstance(app.screen, Results)


async def test_a_slip_in_the_unit_shows_before_it_is_taken(tmp_path: Path) -> None:
    app = make_app(tmp_path, {}, "shell_length")
    async with app.run_test(size=NARROW) as pilot:
        app.screen.query_one("#typed", Input).value = "86"  # meant in inches
        await settle(pilot)
        assert "= 86 ft = 26.213 m (a room is usually 10 ft to 30 ft long)" in screen_text(app)

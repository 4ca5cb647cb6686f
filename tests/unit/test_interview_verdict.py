"""The verdict's lines and the search for the question that would move them most."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from importlib.resources import files
from typing import Any

import pytest

from calc.assess import Assessment, assess
from calc.brief import Brief
from calc.finding import Severity
from calc.isolation import wishes
from wizard.interview import engine, leverage
from wizard.interview.answers import Answers
from wizard.interview.answers_file import read_strictly
from wizard.interview.engine import Problems, accept, question
from wizard.interview.leverage import most_telling
from wizard.interview.question import TOPICS
from wizard.interview.to_brief import to_brief
from wizard.interview.verdict import Verdict, VerdictLine, changes, verdict


def demo() -> Answers:
    return read_strictly(files("wizard").joinpath("example.toml").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def assessment() -> Assessment:
    return assess(to_brief(demo()))


def test_the_lines_of_the_demo(assessment: Assessment) -> None:
    lines = {line.name: line for line in verdict(assessment, "imperial").lines}
    assert [name.split(":")[0].split(",")[0] for name in lines] == [
        "Ceiling" if assessment.headroom.binding.name != assessment.headroom.open_field.name else "Finished ceiling",
        "Joists",
        "Heard",
        "Fresh air needed",
        "Moisture",
        "Hazards",
        "Sound in the room",
        "Cost with reserve",
        "Time",
        "All stops and cautions",
    ]
    heard = next(line for name, line in lines.items() if name.startswith("Heard"))
    critical = assessment.isolation.listeners[assessment.isolation.most_critical or 0]
    assert heard.value.startswith(f"{critical.level_dba:.0f} dBA")
    assert heard.state == ("good" if critical.margin >= 0 else "caution")
    assert lines["Fresh air needed"].value.endswith("cfm")
    assert lines["Cost with reserve"].value == f"{assessment.bill.total:,.0f} USD"
    assert f"{len(assessment.cautions)} caution" in lines["All stops and cautions"].value
    assert lines["Joists"].value == assessment.structure.verdict
    assert lines["Sound in the room"].amount == round(assessment.sound.reverberation.after_mean, 2)
    assert lines["Time"].value == f"{assessment.schedule.weeks:.0f} weeks"
    assert f"after {assessment.air.co2_sealed_minutes:.0f} min" in lines["Fresh air needed"].limit
    assert {line.state for line in lines.values()} <= {"good", "caution", "stop", "open"}


def test_the_lines_follow_the_persons_units(assessment: Assessment) -> None:
    metric = verdict(assessment, "metric").lines
    assert metric[0].value.endswith("m")
    assert metric[3].value.endswith("L/s")


def test_states_say_what_fails(assessment: Assessment) -> None:
    low = replace(assessment.headroom.binding, ok_code=False, height=1.8)
    over = replace(assessment.bill, over=100.0)
    lines = verdict(replace(assessment, headroom=replace(assessment.headroom, binding=low), bill=over), "imperial").lines
    assert (lines[0].state, lines[7].state) == ("stop", "caution")
    assert verdict(replace(assessment, headroom=replace(assessment.headroom, binding=low)), "imperial").state == "stop"


def test_every_stop_stands_in_one_line_of_its_own_and_in_the_last(assessment: Assessment) -> None:
    """A hazard, a wet wall: each where it belongs, both among all of them."""
    wet, gas = (replace(assessment.findings[0], rule=rule, severity=Severity.STOP, title=rule) for rule in ("water-standing", "gas-line"))
    lines = {line.name: line for line in verdict(replace(assessment, findings=(wet, gas)), "imperial").lines}
    assert [name for name, line in lines.items() if line.state == "stop"] == ["Moisture", "Hazards", "All stops and cautions"]
    assert (lines["Hazards"].value, lines["All stops and cautions"].value) == ("1 stop", "2 stops")
    assert "water-standing" in lines["Moisture"].limit


def test_what_moved_says_by_how_much(assessment: Assessment) -> None:
    before = verdict(assessment, "imperial")
    dearer = replace(assessment.bill, total=assessment.bill.total + 1500.0)
    lower = replace(assessment.headroom.binding, height=assessment.headroom.binding.height - 0.0508)
    after = verdict(replace(assessment, bill=dearer, headroom=replace(assessment.headroom, binding=lower)), "imperial")
    moved = changes(before, after)
    assert changes(None, after) == changes(before, before) == {}
    assert moved == {
        after.lines[0].name: f"2 in lower, was {before.lines[0].value}",
        "Cost with reserve": f"+1,500 USD, was {before.lines[7].value}",
    }


def test_what_is_heard_moves_in_words(assessment: Assessment) -> None:
    index = assessment.isolation.most_critical
    assert index is not None
    listeners = list(assessment.isolation.listeners)
    listeners[index] = replace(listeners[index], level_dba=listeners[index].level_dba - 3.0)
    quieter = replace(assessment, isolation=replace(assessment.isolation, listeners=tuple(listeners)))
    before, after = verdict(assessment, "imperial"), verdict(quieter, "imperial")
    name = before.lines[2].name
    assert changes(before, after) == {name: f"3 dB quieter, was {before.lines[2].value}"}
    assert changes(after, before) == {name: f"3 dB louder, was {after.lines[2].value}"}


def test_a_place_that_does_not_decide_is_named_when_it_alone_moved() -> None:
    def heard(hall: float) -> Verdict:
        also = (("hall", hall), ("garden", 20.0))
        words = ("louder", "quieter")
        return Verdict((VerdictLine("Heard: bedroom", "83 dBA", "", "caution", 83.0, "{:.0f} dB".format, words, also=also),))

    assert changes(heard(70.0), heard(58.0)) == {"Heard: bedroom": "hall: 12 dB quieter"}
    assert changes(heard(58.0), heard(58.0)) == {}


def test_what_is_far_off_says_so_as_the_plan_does(assessment: Assessment) -> None:
    index = assessment.isolation.most_critical
    assert index is not None
    listeners = [replace(each, margin=-11.0 if place == index else -1.0) for place, each in enumerate(assessment.isolation.listeners)]
    heard = replace(assessment.isolation, listeners=tuple(listeners))
    stop = wishes.out_of_reach(heard)
    assert stop is not None
    found = verdict(replace(assessment, isolation=heard, findings=(stop, *assessment.findings)), "imperial")
    line = found.lines[2]
    assert "far off: 11 dB too loud" in line.value
    assert line.state == found.state == "stop"
    assert f"{len(listeners) - 1} more place" in line.limit


def test_a_line_that_crosses_its_limit_says_on_which_side_it_was() -> None:
    before, after = (
        Verdict((VerdictLine("Time", f"{weeks:.0f} weeks", "", state, weeks, "{:.0f} weeks".format, ("longer", "shorter")),))
        for weeks, state in ((9.0, "good"), (11.0, "caution"))
    )
    assert changes(before, after) == {"Time": "2 weeks longer, was 9 weeks, good"}


def test_every_line_but_the_last_says_whose_topic_decides_it(assessment: Assessment) -> None:
    known = {topic.id for topic in TOPICS}
    topics = [line.topic for line in verdict(assessment, "imperial").lines]
    assert {*topics[:-1]} <= known
    assert topics[-1] == ""


def test_a_line_whose_state_alone_moved_says_which_it_was() -> None:
    before, after = (Verdict((VerdictLine("Joists", "as found", "", state),)) for state in ("good", "caution"))
    assert changes(before, after) == {"Joists": "was good"}


# ---- leverage, with an assessment whose answer is known beforehand ----------------------------------------------------------------


@dataclass
class Listener:
    label: str = "bedroom above"


@dataclass
class Heard:
    margin: float
    listener: Listener = field(default_factory=Listener)


@dataclass
class Part:
    listeners: tuple[Heard, ...] = ()
    most_critical: int | None = None
    margin: float = 0.1
    total: float = 10_000.0
    binding: Any = None


def assessing(margin_of_foundation: dict[str, float], calls: list[Brief]) -> Any:
    """Only the foundation matters here."""

    @dataclass
    class Found:
        isolation: Part
        headroom: Part
        bill: Part
        stops: tuple[Any, ...] = ()
        cautions: tuple[Any, ...] = ()

    def fake(brief: Brief) -> Found:
        calls.append(brief)
        margin = margin_of_foundation.get(brief.shell.foundation, 0.0)
        return Found(Part((Heard(margin),), 0), Part(binding=Part()), Part())

    return fake


def opened(*keys: str) -> Answers:
    answers = demo()
    for key in keys:
        answers = answers.without(key)
    return answers


def test_the_question_that_moves_most_is_found_and_said() -> None:
    found = most_telling(opened("foundation", "drains", "winter_design"), assessing({"wood": -12.0, "brick or stone": 4.0}, []))
    assert found is not None
    assert found.question == question("foundation")
    assert found.text == "wood"
    assert found.sentence == (
        "“Foundation wall” would change this most: if it is “treated wood frame”, "
        "it is 12 dB louder against its target at the bedroom above."
    )


def missing_its_target(margins: dict[str, float]) -> Any:
    """The block wall that is assumed misses the target by 10 dB; the other margins are given, else as bad as that."""
    now = to_brief(opened("foundation")).shell.foundation
    others = {choice.id: -10.0 for choice in question("foundation").choices}
    return assessing({**others, now: -10.0, **margins}, [])


def test_where_a_target_is_missed_what_helps_goes_before_what_makes_it_worse() -> None:
    found = most_telling(opened("foundation"), missing_its_target({"wood": -30.0, "brick or stone": -6.0}))
    assert found is not None
    assert found.sentence == (
        "“Foundation wall” would change this most: if it is “brick or stone”, it is 4 dB quieter against its target at the bedroom above."
    )


def test_what_can_only_make_it_worse_is_told_as_a_risk() -> None:
    found = most_telling(opened("foundation"), missing_its_target({"wood": -30.0}))
    assert found is not None
    assert found.sentence.startswith("“Foundation wall” is the greatest risk of what is open: if it is “treated wood frame”, it is 20 dB")


def test_answered_questions_are_not_asked_again() -> None:
    assert most_telling(opened("drains"), assessing({"wood": -12.0}, [])) is None


def test_an_unknown_is_worth_finding_out() -> None:
    found = most_telling(accept(question("foundation"), "?", demo()), assessing({"wood": -12.0}, []))
    assert found is not None
    assert found.question.id == "foundation"


def test_the_search_ends_in_time() -> None:
    calls: list[Brief] = []
    assert most_telling(opened("foundation"), assessing({"wood": -12.0}, calls), seconds=-1.0) is None
    assert len(calls) == 1


def test_the_search_ends_early_once_something_as_grave_as_a_stop_is_known() -> None:
    """Every topic was asked about by then, and far from every question."""
    answers = Answers({key: answer for key, answer in demo().items() if question(key).first})
    calls: list[Brief] = []
    now = to_brief(answers).shell.foundation
    found = most_telling(answers, assessing({choice.id: -60.0 for choice in question("foundation").choices if choice.id != now}, calls))
    assert found is not None
    assert found.question == question("foundation")
    assert len(calls) < len(list(leverage._candidates(answers))) / 4


def test_the_search_can_be_broken_off() -> None:
    class Stale(Exception):  # noqa: N818
        pass

    def stale(_: Brief) -> Any:
        raise Stale

    with pytest.raises(Stale):
        most_telling(opened("foundation"), stale)


def test_without_a_brief_there_is_nothing_to_search() -> None:
    with pytest.raises(Problems):
        most_telling(Answers(), assessing({}, []))


def test_every_question_has_its_turn_before_any_has_a_second() -> None:
    answers = demo()
    for key in answers:
        if not question(key).first:
            answers = answers.without(key)
    found = list(leverage._candidates(answers))
    asked = [item.id for item, _ in found]
    assert len(asked[: len(set(asked))]) == len(set(asked[: len(set(asked))]))
    for item, text in found:
        engine.read(item, text, answers)


def test_every_alternative_is_an_answer_that_can_be_read() -> None:
    answers = demo()
    for item in engine.applicable(answers):
        for text in leverage.alternatives(item, answers):
            engine.read(item, text, answers)


def test_a_search_cut_short_has_asked_about_each_topic() -> None:
    answers = Answers({key: answer for key, answer in demo().items() if question(key).first})
    asked = [item.topic for item, _ in leverage._candidates(answers)][:21]
    assert {topic.id for topic in TOPICS if topic.id != "first"} == set(asked)

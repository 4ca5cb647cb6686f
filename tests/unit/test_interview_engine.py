"""The questions and the engine that walks them."""

from __future__ import annotations

import pytest

from calc.brief import Origin
from wizard.interview import engine
from wizard.interview.answers import DONT_KNOW, Answer, Answers
from wizard.interview.bounds import ends, unusual, usual
from wizard.interview.engine import Missing, Problem, accept, question, read
from wizard.interview.question import TOPICS, Kind

FIRST = {
    "shell_length": "20 ft",
    "shell_width": "14 ft",
    "shell_height": "8 ft",
    "joist_depth": "9 1/4",
    "joist_spacing": "16",
    "joist_span": "14 ft",
    "source": "drum_kit",
    "hours": "night",
    "listeners": "bedroom_above, garden_neighbour",
    "people": "2",
    "lowest_ceiling": "6-8",
    "budget": "25k",
}


def first_answers(**more: str) -> Answers:
    answers = Answers()
    for key, text in {**FIRST, **more}.items():
        answers = accept(question(key), text, answers)
    return answers


def test_every_question_is_complete() -> None:
    assert len({item.id for item in engine.QUESTIONS}) == len(engine.QUESTIONS)
    assert {item.topic for item in engine.QUESTIONS} == {topic.id for topic in TOPICS}
    for item in engine.QUESTIONS:
        assert item.text.rstrip(".?").strip(), item.id
        assert item.text.endswith(("?", ".")), item.id
        assert item.why, item.id
        assert item.how, item.id
        assert bool(item.choices) == (item.kind in (Kind.CHOICE, Kind.MULTI)), item.id
        assert (item.unit is None) == bool(item.choices), item.id


def test_topics_come_one_after_the_other() -> None:
    order = [topic.id for topic in TOPICS]
    places = [order.index(item.topic) for item in engine.QUESTIONS]
    assert places == sorted(places)


def test_about_a_dozen_questions_give_the_first_verdict() -> None:
    first = [item for item in engine.QUESTIONS if item.first]
    assert 10 <= len(first) <= 13
    assert first == list(engine.QUESTIONS[: len(first)])
    assert not engine.verdict_ready(Answers())
    assert engine.verdict_ready(first_answers())


@pytest.mark.parametrize("system", ["imperial", "metric"])
def test_defaults_and_unknowns_can_be_read_and_lie_in_their_own_range(system: str) -> None:
    answers = first_answers(obstructions="beam, duct, pipe", escape="window", appliance="sealed", labour="hired", source="amplified_band")
    answers = engine.switch_units(answers, system)
    values = engine.values_of(answers)
    for item in engine.applicable(answers):
        texts = [engine.default_text(item, answers)] + (["?"] if item.unknown else [])
        for text in texts:
            if text is not None:
                assert read(item, text, answers).echo is not None, item.id
        for least, most in (item.typical,) if item.typical else ():
            assert item.low is None or item.low <= least, item.id
            assert item.high is None or most <= item.high, item.id
        if item.unknown and item.choices and isinstance(values.if_unknown(item), tuple):
            assert all(item.choice(part) for part in values.if_unknown(item)), item.id  # type: ignore[union-attr]


def test_the_range_check_names_the_question_the_fault_and_what_is_right() -> None:
    with pytest.raises(Problem) as caught:
        read(question("joist_spacing"), "16 ft", Answers())
    assert caught.value.question_id == "joist_spacing"
    assert caught.value.sentence == (
        "Joist spacing: 16 ft is more than the most that can be worked with, 4 ft; a spacing is usually 12 in to 2 ft."
    )


@pytest.mark.parametrize("system", ["imperial", "metric"])
def test_the_ends_of_every_range_are_accepted_as_printed(system: str) -> None:
    answers = Answers(units=system)
    for item in engine.QUESTIONS:
        for end in ends(item, system):
            if end:
                read(item, end, answers)


def test_a_range_is_told_in_round_numbers_inside_it() -> None:
    ids = ("shell_height", "joist_depth", "appliance_power")
    told = {system: [ends(question(id), system) for id in ids] for system in ("imperial", "metric")}
    assert told["imperial"] == [("5 ft", "14 ft 6 in"), ("3 1/2 in", "2 ft"), ("1,800 BTU/h", "680,000 BTU/h")]
    assert told["metric"] == [("1.5 m", "4.5 m"), ("85 mm", "610 mm"), ("0.5 kW", "200 kW")]


def test_a_number_in_another_unit_than_the_usual_one_is_recognised() -> None:
    with pytest.raises(Problem, match=r"if centimetres were meant, write 510 cm\.$"):
        read(question("shell_width"), "510", Answers(units="metric"))
    with pytest.raises(Problem, match=r"if inches were meant, write 86 in\.$"):
        read(question("shell_height"), "86", Answers(units="imperial"))
    with pytest.raises(Problem, match="usually"):
        read(question("shell_width"), "510 m", Answers(units="metric"))


def test_an_unusual_number_is_taken_with_a_word_on_what_is_usual() -> None:
    length = question("shell_length")
    assert unusual(length, 26.2, "imperial") == "a room is usually 10 ft to 30 ft long"
    assert unusual(length, 26.2, "metric") == "a room is usually 3 m to 9.1 m long"
    assert unusual(length, 6.0, "metric") == ""
    assert usual(question("garden_neighbour_barrier_height"), "imperial") == "a fence is usually 4 ft to 8 ft high"


def test_a_budget_has_no_currency_before_it_was_asked() -> None:
    assert read(question("budget"), "15 000 euros", Answers()).echo == "15,000"
    assert read(question("budget"), "15k", accept(question("currency"), "EUR", Answers())).echo == "15,000 EUR"


@pytest.mark.parametrize(
    ("key", "text", "words"),
    [
        ("source", "drumz", "not one of the choices"),
        ("obstructions", "none, beam", "cannot be chosen together"),
        ("listeners", " , ", "nothing is chosen"),
        ("shell_length", "?", "must be known"),
        ("people", "2.5", "whole number"),
        ("year_built", "60", "less than"),
    ],
)
def test_what_cannot_be_right_is_said(key: str, text: str, words: str) -> None:
    with pytest.raises(Problem, match=words):
        read(question(key), text, Answers())


def test_choices_are_read_by_id_or_label() -> None:
    assert read(question("source"), "Acoustic drum kit", Answers()).value == "drum_kit"
    assert read(question("source"), "drum kit", Answers()).value == "drum_kit"
    assert read(question("obstructions"), "duct,beam", Answers()).value == ("beam", "duct")


def test_a_branch_opens_and_closes_and_keeps_its_answers_masked() -> None:
    answers = first_answers(labour="hired", hourly_rate="75")
    assert question("hourly_rate") in engine.applicable(answers)
    assert engine.values_of(answers).number("hourly_rate") == 75.0
    closed = accept(question("labour"), "own", answers)
    assert question("hourly_rate") not in engine.applicable(closed)
    assert closed["hourly_rate"].text == "75"
    assert engine.values_of(closed).number("hourly_rate") == 60.0
    assert "hourly_rate" not in {row.question.id for row in engine.summary(closed)}


def test_next_and_previous_are_each_others_reverse() -> None:
    answers = first_answers(escape="window")
    walked = [engine.next_after(answers, None)]
    while (item := engine.next_after(answers, walked[-1].id)) is not None:  # type: ignore[union-attr]
        assert engine.previous_before(answers, item.id) == walked[-1]
        walked.append(item)
    assert tuple(walked) == engine.applicable(answers)
    assert engine.previous_before(answers, walked[0].id) is None  # type: ignore[union-attr]


def test_states() -> None:
    answers = Answers(
        {"people": Answer("3"), "hours": DONT_KNOW, "joist_depth": Answer("9 1/4", Origin.DEFAULT), "source": Answer("drumz")}
    )
    states = {key: engine.state(question(key), answers) for key in ("people", "hours", "joist_depth", "source", "budget")}
    assert states == {"people": "answered", "hours": "unknown", "joist_depth": "default", "source": "open", "budget": "open"}
    assert engine.first_open(answers) == question("shell_length")
    topic = engine.topics(answers)[0]
    assert (topic.done, topic.total, topic.state, topic.first_open) == (3, 12, "started", "shell_length")


def test_a_switch_of_units_changes_no_value() -> None:
    imperial = first_answers(
        winter_design="5",
        appliance="sealed",
        appliance_power="80,000",
        foundation_thickness="0,200 m",
        equipment="1,200",
        beam_width="1,200 mm",
    )
    metric = engine.switch_units(imperial, "metric")
    assert metric["shell_length"].text == "20 ft"
    assert metric["joist_spacing"].text == "16 in"
    for key in imperial:
        assert engine.values_of(metric).value(key) == engine.values_of(imperial).value(key), key


def test_contradictions_are_found_once_each() -> None:
    assert engine.problems(first_answers()) == ()
    wrong = first_answers(
        obstructions="beam",
        beam_underside="9 ft",
        beam_width="40 in",
        escape="window",
        escape_height="60 in",
        escape_sill="50 in",
        house_area="200 sq ft",
        sleeping="yes",
        habitable="no",
    )
    assert [problem.question_id for problem in engine.problems(wrong)] == [
        "beam_underside",
        "escape_height",
        "house_area",
        "habitable",
    ]
    assert all(problem.sentence.endswith(".") for problem in engine.problems(wrong))


def test_a_wish_that_cannot_be_met_is_no_contradiction() -> None:
    assert engine.problems(first_answers(shell_height="6 ft", lowest_ceiling="7 ft")) == ()
    assert engine.problems(first_answers(listeners="attached_neighbour", side_1="foundation_below")) == ()


def test_the_summary_marks_assumptions_and_what_they_cost() -> None:
    rows = {row.question.id: row for row in engine.summary(first_answers(joist_span="?"))}
    assert rows["joist_span"].origin is Origin.UNKNOWN
    assert rows["joist_span"].shown == "20 ft"
    assert "longer side" in rows["joist_span"].note
    assert rows["foundation"].origin is Origin.DEFAULT
    assert rows["foundation"].note.startswith("Assumed")
    assert rows["shell_length"].note == ""


def test_a_question_without_default_has_no_value_until_answered() -> None:
    with pytest.raises(Missing):
        engine.values_of(Answers()).value("shell_length")
    assert engine.default_text(question("joist_span"), Answers()) is None
    assert engine.summary(Answers())[0].shown == "not answered yet"


def test_the_nearest_id() -> None:
    assert engine.nearest_id("shell_lenght") == "shell_length"
    assert engine.nearest_id("Joist Spacing") == "joist_spacing"
    assert engine.nearest_id("qqq") is None


@pytest.mark.parametrize(("budget", "currency"), [("25k", "USD"), ("€25,000", "EUR"), ("25,000 aud", "AUD"), ("CHF 25,000", "USD")])
def test_the_money_is_that_in_which_the_budget_was_typed(budget: str, currency: str) -> None:
    answers = Answers().with_answer("budget", Answer(budget))
    assert engine.values_of(answers).word("currency") == currency
    assert engine.values_of(answers.with_answer("currency", Answer("GBP"))).word("currency") == "GBP"

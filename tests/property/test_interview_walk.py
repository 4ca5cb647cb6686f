"""Random walks through the interview: no crash, no lost answer, always a way forward."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from calc.brief import Origin
from wizard.interview import engine
from wizard.interview.answers import Answer, Answers
from wizard.interview.answers_file import read_answers, write_answers
from wizard.interview.engine import BY_ID, QUESTIONS, Problem, Problems
from wizard.interview.question import Kind, Question
from wizard.interview.to_brief import to_brief

ODD = (
    "",
    " ",
    "?",
    "don't know",
    "7' 2 1/2\"",
    "[b]x",
    "\x00",
    "-1",
    "1e9",
    "none",
    "none, beam",
    "9999999",
    "½",
    "‏שלום",
    "0",
    "2,5",
    "two\nlines",
    "a\r\u2028b",
)


def texts(item: Question) -> st.SearchStrategy[str]:
    odd = st.sampled_from(ODD)
    if item.kind is Kind.CHOICE:
        return st.sampled_from([choice.id for choice in item.choices]) | odd
    if item.kind is Kind.MULTI:
        return st.lists(st.sampled_from([choice.id for choice in item.choices]), max_size=3).map(", ".join) | odd
    numbers = st.floats(0.0, 60.0).map(lambda number: f"{number:.2f}") | st.integers(0, 3000).map(str)
    return numbers | odd | st.text(max_size=10)


@st.composite
def answer_sets(draw: st.DrawFn) -> Answers:
    items = draw(st.lists(st.sampled_from(QUESTIONS), max_size=25, unique=True))
    origins = st.sampled_from([Origin.MEASURED, Origin.ESTIMATED, Origin.DEFAULT])
    return Answers({item.id: Answer(draw(texts(item)), draw(origins)) for item in items}, draw(st.sampled_from(["imperial", "metric"])))


@settings(max_examples=40, deadline=None)
@given(answers=answer_sets())
def test_any_answers_can_be_shown_and_walked(answers: Answers) -> None:
    asked = engine.applicable(answers)
    assert asked
    walked = [engine.next_after(answers, None)]
    while (item := engine.next_after(answers, walked[-1].id)) is not None:  # type: ignore[union-attr]
        assert engine.previous_before(answers, item.id) == walked[-1]
        walked.append(item)
    assert tuple(walked) == asked
    assert [row.question for row in engine.summary(answers)] == list(asked)
    assert sum(topic.total for topic in engine.topics(answers)) == len(asked)
    assert {engine.state(item, answers) for item in asked} <= {"answered", "default", "unknown", "open"}
    assert all(problem.sentence for problem in engine.problems(answers))
    opened = engine.first_open(answers)
    assert opened is None or opened in asked
    for item in asked:
        engine.default_text(item, answers)


@settings(max_examples=40, deadline=None)
@given(answers=answer_sets())
def test_any_answers_give_a_brief_or_problems(answers: Answers) -> None:
    try:
        brief = to_brief(answers)
    except Problems as problems:
        assert all(problem.question_id in BY_ID for problem in problems.problems)  # noqa: PT017
        assert all("\n" not in problem.sentence for problem in problems.problems)  # noqa: PT017
    else:
        assert brief.units == answers.units
        assert len(brief.listeners) == len(set(brief.listeners))


@settings(max_examples=40, deadline=None)
@given(data=st.data())
def test_a_walk_keeps_every_accepted_answer(data: st.DataObject) -> None:
    answers, place = Answers(), engine.next_after(Answers(), None)
    accepted: dict[str, str] = {}
    for _ in range(12):
        assert place is not None
        text = data.draw(texts(place))
        try:
            answers = engine.accept(place, text, answers)
        except Problem as problem:
            assert problem.question_id == place.id  # noqa: PT017
        else:
            accepted[place.id] = answers[place.id].text
        move = data.draw(st.sampled_from(["next", "next", "back", "jump"]))
        if move == "next":
            place = engine.next_after(answers, place.id) or place
        elif move == "back":
            place = engine.previous_before(answers, place.id) or place
        else:
            place = data.draw(st.sampled_from(engine.applicable(answers)))
        assert {key: answers[key].text for key in accepted} == accepted
    assert read_answers(write_answers(answers)).answers.items_ == answers.items_


@settings(max_examples=30, deadline=None)
@given(answers=answer_sets())
def test_a_switch_of_units_keeps_every_value(answers: Answers) -> None:
    other = "metric" if answers.units == "imperial" else "imperial"
    switched = engine.switch_units(answers, other)
    for key in answers:
        item = BY_ID[key]
        if engine.state(item, answers) != "open":
            before, after = engine.values_of(answers).read(item, answers[key]), engine.values_of(switched).read(item, switched[key])
            if isinstance(before, float) and isinstance(after, float):
                assert abs(before - after) <= 1e-9 * max(1.0, abs(before)), (key, answers[key])
            else:
                assert before == after

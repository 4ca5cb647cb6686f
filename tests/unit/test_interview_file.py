"""The answers file: read, written, and the same after both."""

from __future__ import annotations

import tomllib
import unicodedata

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.brief import Origin
from wizard.interview import answers_file
from wizard.interview.answers import DONT_KNOW, Answer, Answers
from wizard.interview.answers_file import FormatError, clean, read_answers, read_strictly, write_answers
from wizard.interview.engine import BY_ID, Problems
from wizard.interview.question import Kind


def test_every_form_of_a_value() -> None:
    text = """
[answers]
shell_length = "20 ft"
shell_width = 14
people = 3
room_humidity = 45.5
sleeping = false
listeners = ["bedroom_above", "garden_neighbour"]
obstructions = "beam, duct"
joist_span = "?"
water = "don't know"
level = { text = "104 dBA", origin = "estimated" }
hours = { text = "night" }
radon = { text = "x", origin = "don't know" }
"""
    answers = read_strictly(text)
    assert answers["shell_width"] == Answer("14")
    assert answers["people"] == Answer("3")
    assert answers["room_humidity"] == Answer("45.5")
    assert answers["sleeping"] == Answer("no")
    assert answers["listeners"] == Answer("bedroom_above, garden_neighbour")
    assert answers["joist_span"] == answers["water"] == answers["radon"] == DONT_KNOW
    assert answers["level"] == Answer("104 dBA", Origin.ESTIMATED)
    assert answers["hours"] == Answer("night", Origin.MEASURED)
    assert read_strictly(write_answers(answers)) == answers.with_name("My quiet room")


def test_unknown_keys_name_the_nearest() -> None:
    with pytest.raises(Problems) as caught:
        read_strictly('unit = "metric"\n[answers]\nshel_length = "3 m"\nqqqqq = 1\n')
    sentences = {problem.question_id: problem.sentence for problem in caught.value.problems}
    assert "did you mean shell_length?" in sentences["shel_length"]
    assert "did you mean units?" in sentences["unit"]
    assert "stillroom questions" in sentences["qqqqq"]


@pytest.mark.parametrize("text", ["", "answers = 3", "schema = 0", "schema = true", "schema = 1.5", 'units = "both"', "x = ["])
def test_what_is_no_answers_file(text: str) -> None:
    with pytest.raises(FormatError):
        read_answers(text)


TEXT = st.text(max_size=30).filter(lambda text: text.strip() != "")
KEYS = st.sampled_from(sorted(key for key, item in BY_ID.items() if item.kind is not Kind.MULTI))
ORIGINS = st.sampled_from([Origin.MEASURED, Origin.ESTIMATED, Origin.DEFAULT])


@settings(max_examples=50, deadline=None)
@given(
    items=st.dictionaries(KEYS, st.builds(Answer, TEXT, ORIGINS), max_size=6),
    name=TEXT,
    place=st.sampled_from([None, *BY_ID]),
    old=st.text(max_size=20),
)
def test_whatever_is_typed_survives_the_file(items: dict[str, Answer], name: str, place: str | None, old: str) -> None:
    answers = Answers(items, "metric", name)
    text = write_answers(answers, place, "now", 3, old=write_answers(Answers({"people": Answer(old)})))
    tomllib.loads(text)
    read = read_answers(text)
    assert read.place == place
    assert read.revision == 3
    assert read.answers.name == "".join(" " if unicodedata.category(letter) == "Cc" else letter for letter in clean(name))
    for key, answer in items.items():
        back = read.answers[key]
        assert back == DONT_KNOW if back.origin is Origin.UNKNOWN else back == Answer(clean(answer.text), answer.origin)
    assert set(read.answers) == set(items)


@settings(max_examples=20, deadline=None)
@given(acts=st.lists(st.tuples(KEYS, st.sampled_from(["2", "?", "a b", ""]), ORIGINS), max_size=12))
def test_a_file_written_again_and_again_is_as_if_it_were_parsed_each_time(acts: list[tuple[str, str, Origin]]) -> None:
    answers, quick, slow = Answers(), "", ""
    for number, (key, text, origin) in enumerate(acts):
        answers = answers.with_answer(key, Answer(text, origin)) if text else answers.without(key)
        quick = write_answers(answers, key, "2026", number, quick)
        parsed = dict(answers_file._last)
        answers_file._last.clear()
        slow = write_answers(answers, key, "2026", number, slow)
        assert quick == slow
        answers_file._last.clear()
        answers_file._last.update(parsed)

"""The person's units stand first everywhere in a plan; the other system only in brackets, where a supplier or an engineer counts in it."""

from __future__ import annotations

import datetime
import re
from functools import cache
from importlib.resources import files
from pathlib import Path

import pytest

from calc.assess import Assessment, assess
from wizard.figures.gather import figures
from wizard.interview import engine
from wizard.interview.answers import Answers
from wizard.interview.answers_file import read_strictly
from wizard.interview.engine import switch_units
from wizard.interview.question import worded
from wizard.interview.to_brief import to_brief
from wizard.plain_words import explanation
from wizard.present import bracketed, filters
from wizard.render import handoff_sheets, plan_text
from wizard.widgets.question_pane import help_sections

FOLDER = Path(__file__).parent.parent / "golden_plans"
NAMES = ("demo", "easy", "low_ceiling", "natural_draft", "attached_neighbour")
TODAY = datetime.date(2026, 3, 4)
BARE = {
    "imperial": re.compile(r"\b\d[\d,.]* ?(?:mm|cm|m|m²|m2|m³|m3|kg|kPa|MPa|Pa|L/s|L|mL|N|kN/m|m/s|g/h|m³/h)\b(?!³)|°C"),
    "metric": re.compile(r"\b\d[\d,./]* (?:in|ft|sq ft|cu ft|psf|psi|cfm|lb|gal|BTU/h|mil|fl oz|ft/min|inch|inches|feet|pounds)\b|°F"),
}
ODDS = re.compile(r"\b\d+ in \d+\b|\bNC \d+ in\b")  # "4 in 5" is no length
SOURCE = re.compile(r"Source: .*|.*Table \d+\.\d.*")  # cited as it was printed


@cache
def made(name: str, units: str) -> tuple[Answers, Assessment]:
    file = files("wizard").joinpath("example.toml") if name == "demo" else FOLDER / f"{name}.toml"
    answers = switch_units(read_strictly(file.read_text(encoding="utf-8")), units)
    return answers, assess(to_brief(answers))


def outside_brackets(text: str) -> str:
    """The text without its citations and without what stands in brackets, innermost first."""
    text = SOURCE.sub("", ODDS.sub("", text))
    while (less := re.sub(r"\([^()]*\)", "", text)) != text:
        text = less
    return text


@pytest.mark.parametrize("units", ["imperial", "metric"])
@pytest.mark.parametrize("name", NAMES)
def test_no_size_of_the_other_system_stands_bare(name: str, units: str) -> None:
    answers, assessment = made(name, units)
    sheets = handoff_sheets(assessment, answers, TODAY).values()
    text = outside_brackets("\n".join((plan_text(assessment, answers, TODAY, figures(assessment)), *sheets)))
    bare = [text[max(0, found.start() - 40) : found.end() + 10] for found in BARE[units].finditer(text)]
    assert not bare, bare[:5]


@pytest.mark.parametrize("units", ["imperial", "metric"])
def test_what_a_supplier_sells_by_is_named_in_both_systems(units: str) -> None:
    answers, assessment = made("demo", units)
    text = plan_text(assessment, answers, TODAY)
    first = units == "imperial"
    assert ("5/8 in (15.9 mm)" if first else "15.9 mm (5/8 in)") in text
    assert ("2x4 (38 x 89 mm)" if first else "38 x 89 mm (2x4)") in text
    assert ("12 in (300 mm)" if first else "300 mm (12 in)") in text
    assert re.search(r"\d+ cfm \(\d+ L/s, \d+ m³/h\)" if first else r"\d+ L/s, \d+ m³/h \(\d+ cfm\)", text)
    assert re.search(r"[\d.]+ psf \([\d.]+ kPa\)" if first else r"[\d.]+ kPa \([\d.]+ psf\)", text)


@pytest.mark.parametrize(
    ("text", "imperial", "metric"),
    [
        ("board 15.9 mm (5/8 in)", "board 5/8 in (15.9 mm)", "board 15.9 mm (5/8 in)"),
        ("stud 38 x 89 mm (2x4)", "stud 2x4 (38 x 89 mm)", "stud 38 x 89 mm (2x4)"),
        ("keep 30 in (760 mm) free", "keep 30 in (760 mm) free", "keep 760 mm (30 in) free"),
        ("6 ft 6 in (1.98 m) high", "6 ft 6 in (1.98 m) high", "1.98 m (6 ft 6 in) high"),
        ("50 mm of lining", "2 in of lining", "50 mm of lining"),
    ],
)
def test_a_catalogue_text_is_told_in_the_persons_units(text: str, imperial: str, metric: str) -> None:
    assert filters("imperial", "USD")["own"](text) == imperial
    assert filters("metric", "USD")["own"](text) == metric


def test_a_reading_shows_the_other_system_in_brackets() -> None:
    assert bracketed("21 ft = 6.401 m") == "21 ft (6.401 m)"
    assert bracketed("90 dBA") == "90 dBA"


@pytest.mark.parametrize("units", ["imperial", "metric"])
def test_every_size_in_a_question_stands_first_in_the_persons_units(units: str) -> None:
    for question in engine.QUESTIONS:
        told = worded(question, units)
        texts = (told.why, told.how, *(choice.note for choice in told.choices), told.unknown.cost if told.unknown else "")
        assert not BARE[units].search(outside_brackets(" ".join(texts).replace("7 in the evening", ""))), question.id
        for declared in (question.title, question.text, *(choice.label for choice in question.choices)):  # typed and looked for
            assert not BARE[units].search(ODDS.sub("", declared)), question.id


def test_the_screen_and_the_plain_interview_tell_sizes_in_the_persons_units() -> None:
    question, metric = engine.question("helpers"), Answers(units="metric")
    assert "Boards of 32 kg (70 lb) overhead" in dict(help_sections(question, metric))["Why it is asked"]
    assert "Boards of 32 kg (70 lb) overhead" in " ".join(explanation(question, metric))
    assert "Boards of 70 lb (32 kg) overhead" in " ".join(explanation(question, Answers()))
    assert "184 mm (7 1/4 in)" in engine.read(engine.question("joist_depth"), "?", metric).echo

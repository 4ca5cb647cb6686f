"""From an older schema to today's: tried on an invented history of three schemas, as today's is the first."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from calc.brief import Origin
from wizard.interview import migrations
from wizard.interview.answers import DONT_KNOW, Answer, Answers
from wizard.interview.answers_file import FormatError, NewerSchema, read_answers, write_answers
from wizard.interview.migrations import Document, rename_answer
from wizard.store import Store

FIRST = """# my basement
schema = 1
name = "Drums"
system = "metric"     # was called so

[answers]
persons = 3           # us
shell_length = "6 m"
mine = "kept"
"""


def people(document: Document) -> None:
    rename_answer(document, "persons", "people")


def units(document: Document) -> None:
    if "system" in document:
        document["units"] = document.pop("system")


@pytest.fixture
def three(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(migrations, "SCHEMA", 3)
    monkeypatch.setattr(migrations, "MIGRATIONS", {1: people, 2: units})


def test_there_is_a_migration_from_every_earlier_schema() -> None:
    assert sorted(migrations.MIGRATIONS) == list(range(1, migrations.SCHEMA))


@pytest.mark.parametrize("schema", range(1, migrations.SCHEMA + 1))
def test_a_file_of_every_schema_that_there_was_is_read_whole(schema: int) -> None:
    """Each raise of SCHEMA leaves a file of the schema before here."""
    text = (Path(__file__).parent / "schemas" / f"{schema}.toml").read_text(encoding="utf-8")
    assert f"schema = {schema}\n" in text
    read = read_answers(text)
    assert read.answers.items_ == {
        "shell_length": Answer("20 ft"),
        "shell_width": Answer("14 ft", Origin.ESTIMATED),
        "people": Answer("2"),
        "listeners": Answer("bedroom_above, garden_neighbour"),
        "joist_span": DONT_KNOW,
    }
    assert (read.answers.name, read.answers.units, read.place) == ("Drums under the bedroom", "imperial", "joist_span")
    assert (read.changed, read.revision, [each.question_id for each in read.strangers]) == ("2026-11-25T18:30:00+01:00", 7, ["mine"])


@pytest.mark.usefixtures("three")
def test_a_file_is_read_from_every_earlier_schema() -> None:
    second = FIRST.replace("schema = 1", "schema = 2").replace("persons", "people")
    third = second.replace("schema = 2", "schema = 3").replace("system", "units")
    wanted = Answers({"people": Answer("3"), "shell_length": Answer("6 m")}, "metric", "Drums")
    for text in (FIRST, second, third, third.replace("schema = 3\n", "")):
        assert read_answers(text).answers == wanted
    with pytest.raises(NewerSchema, match="reads up to 3"):
        read_answers(third.replace("schema = 3", "schema = 4"))


@pytest.mark.usefixtures("three")
def test_what_is_written_has_todays_form_and_keeps_remarks() -> None:
    text = write_answers(read_answers(FIRST).answers.with_answer("shell_length", Answer("7 m")), old=FIRST)
    data = tomllib.loads(text)
    assert data == {"schema": 3, "name": "Drums", "units": "metric", "answers": {"people": "3", "shell_length": "7 m", "mine": "kept"}}
    assert "# my basement" in text
    assert "persons" not in text


@pytest.mark.usefixtures("three")
def test_a_file_that_lacks_the_form_of_its_schema_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(document: Document) -> None:
        document["answers"]["gone"]["deep"] = 1

    monkeypatch.setattr(migrations, "MIGRATIONS", {1: broken, 2: units})
    with pytest.raises(FormatError, match="does not have its form"):
        read_answers(FIRST)


def test_a_saved_interview_moves_to_a_new_schema_when_it_is_next_saved(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    store = Store(tmp_path)
    id = store.create("Drums", Answers({"people": Answer("3")}))
    path = tmp_path / "interviews" / id / "answers.toml"
    old = path.read_text().replace("people", "persons")
    path.write_text(old)
    monkeypatch.setattr(migrations, "SCHEMA", 2)
    monkeypatch.setattr(migrations, "MIGRATIONS", {1: people})
    loaded = Store(tmp_path).load(id)
    assert (loaded.answers["people"].text, loaded.notice) == ("3", "")
    assert path.read_text() == old
    store.save(id, loaded.answers.with_answer("people", Answer("4")), None)
    assert tomllib.loads(path.read_text())["schema"] == 2
    assert [version.answers["people"].text for version in store.versions(id)] == ["3"]  # the old form, read through the migration

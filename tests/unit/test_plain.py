"""``stillroom --plain``: the same interview as lines of text."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from importlib.resources import files
from pathlib import Path

import pytest
from store_kit import QuickDisk

from calc.brief import Origin
from wizard.backroom import Backroom
from wizard.interview import engine
from wizard.interview.answers import Answer, Answers
from wizard.interview.answers_file import read_strictly
from wizard.interview.question import Kind
from wizard.interview.to_brief import to_brief
from wizard.interview.verdict import Verdict, VerdictLine
from wizard.plain import run
from wizard.plain_meaning import places
from wizard.plain_words import HELP, SPELT_OUT, choice_labels
from wizard.session import Session
from wizard.store import Store, StoreError

DEMO = read_strictly(files("wizard").joinpath("example.toml").read_text(encoding="utf-8"))
FIRST = ("20 ft", "14 ft", "7-4", "", "", "13 ft", "1", "2", "1, 7", "3", "6' 8\"", "25k")


class QuickBackroom(Backroom):
    """Stands in for the calculation, whose own tests are elsewhere."""

    def verdict(self, answers: Answers) -> Verdict:
        people = engine.values_of(answers).number("people")
        return Verdict(
            (
                VerdictLine("Fresh air needed", f"{people * 20:.0f} cfm", "for all", "good", people * 20, "{:.0f} cfm".format),
                VerdictLine("Stops", "none", "", "good"),
            )
        )

    def telling(self, answers: Answers, wanted: object) -> None:
        return None

    def export(self, answers: Answers, folder: Path) -> Path:
        folder.mkdir(parents=True, exist_ok=True)
        (folder / "plan.md").write_text("# The plan\n", encoding="utf-8")
        return folder / "plan.md"


def talk(folder: Path, *lines: str, name: str = "Drums") -> str:
    """What is said when these lines are typed, the input ending after them."""
    said = io.StringIO()
    assert run(Store(folder, disk=QuickDisk()), name, io.StringIO("".join(f"{line}\n" for line in lines)), said, QuickBackroom()) == 0
    return said.getvalue()


def flat(text: str) -> str:
    """On one line, so that it does not matter where the lines are wrapped."""
    return " ".join(text.split())


def started(folder: Path, *lines: str) -> str:
    """The same, in a new interview that counts in feet."""
    return talk(folder, "1", *lines)


def kept(folder: Path) -> Answers:
    store = Store(folder)
    return store.load(store.list()[0].id).answers


def chosen(answer: Answer, id: str) -> list[str]:
    """The ids of an answer's choices."""
    question = engine.question(id)
    value = engine.read(question, answer.text, DEMO).value
    return list(value) if isinstance(value, tuple) else [str(value)]


def typed(answer: Answer, id: str) -> str:
    """How a person would type an answer: the numbers of choices, ~ before an estimate."""
    question = engine.question(id)
    if answer.origin is Origin.UNKNOWN:
        return "d"
    if question.choices:
        ids = [choice.id for choice in question.choices]
        return ", ".join(str(ids.index(id) + 1) for id in chosen(answer, id))
    return f"~{answer.text}" if answer.origin is Origin.ESTIMATED else answer.text


def demo_lines() -> list[str]:
    """The demo, typed question by question; what it leaves open is skipped."""
    lines, answers, at = [], Answers(units=DEMO.units, name=DEMO.name), engine.next_after(Answers(), None)
    while at is not None:
        if at.id in DEMO:
            answers = answers.with_answer(at.id, DEMO[at.id])
        lines.append(typed(DEMO[at.id], at.id) if at.id in DEMO else ">")
        at = engine.next_after(answers, at.id)
    return lines


def in_the_full_screen(folder: Path) -> Answers:
    """The demo's answers as the full screen takes them."""
    store = Store(folder, disk=QuickDisk())
    session = Session.open(store, store.create(DEMO.name, Answers(units=DEMO.units)))
    while session.question is not None:
        answer = DEMO.get(session.question.id)
        if answer is None:
            session.skip()
        elif session.question.choices and answer.origin is not Origin.UNKNOWN:
            session.accept(", ".join(chosen(answer, session.question.id)), answer.origin)  # its lists give ids
        else:
            session.accept(answer.text, answer.origin)
    return session.answers


def test_the_demo_typed_gives_the_answers_of_the_full_screen(tmp_path: Path) -> None:
    text = talk(tmp_path / "plain", "1", *demo_lines(), name=DEMO.name)
    assert "Not accepted" not in text
    assert "That was the last question" in text
    answers = kept(tmp_path / "plain")
    assert answers == in_the_full_screen(tmp_path / "full")
    assert set(answers) == set(DEMO)
    assert to_brief(answers) == to_brief(DEMO)


def test_nothing_but_plain_lines_is_written(tmp_path: Path) -> None:
    text = started(tmp_path, *FIRST, "?", "a", "v", "@", "h", "\x1b[31mred", "7 bananas\x07")
    assert all(letter.isprintable() or letter == "\n" for letter in text)
    assert not set(text) & set("─│┌┐└┘├┤╭╮╰╯▁▔▊▎█")
    assert max(len(line) for line in text.splitlines() if " " in line.strip()) < 130
    assert "Saved: 12 of" in text


def test_every_command_is_in_the_help_and_no_answer_is_a_command(tmp_path: Path) -> None:
    words = {line.split(" ")[0] for line in HELP[1:]} | {"r"}
    for question in engine.QUESTIONS:
        for choice in question.choices:
            assert choice.id.casefold() not in words
            assert choice.label.casefold() not in words
            assert not choice.id.isdigit()
    text = started(tmp_path, *sorted(words - {"q", "p"}))
    assert "this one must be known" in flat(text)  # d
    assert text.count("Not accepted") == 1


def test_a_command_spelt_out_and_a_word_that_is_no_choice(tmp_path: Path) -> None:
    assert not {item.id for item in engine.QUESTIONS} & set(SPELT_OUT)
    assert not {choice.label for item in engine.QUESTIONS for choice in item.choices} & set(SPELT_OUT)
    said = talk(tmp_path, "1", *FIRST[:7], "noon", "back", "help", "quit")
    assert "“noon” is not one of the choices; type a number from 1 to 4" in " ".join(said.split())
    assert said.count("What is the loudest thing that will be played?") == 3  # asked, gone back to, and again after the help
    assert said.endswith("7 of 85 answered.\n")


def test_a_question_is_explained_and_read_out_once(tmp_path: Path) -> None:
    question = engine.QUESTIONS[0]
    text = started(tmp_path, "?", "7 bananas")
    assert text.count(question.text) == 1
    assert f"Why: {question.why}" in flat(text)
    assert f"How: {question.how}" in flat(text)
    assert "only you can know this one" in flat(text)


def test_back_skip_and_an_empty_line(tmp_path: Path) -> None:
    text = started(tmp_path, "<", "20 ft", "<", "", "<", "21 ft", ">", "7-4", "")
    assert "This is the first question." in text
    assert "empty for 20 ft as before:" in text
    assert "Kept: 20 ft." in text
    assert {id: answer.text for id, answer in kept(tmp_path).items()} == {
        "shell_length": "21 ft",
        "shell_height": "7-4",
        "joist_depth": "9 1/4 in",
    }
    assert kept(tmp_path)["joist_depth"].origin is Origin.DEFAULT


def test_an_empty_line_keeps_an_answer_and_tells_how_to_take_it_back(tmp_path: Path) -> None:
    text = started(tmp_path, "@year_built", "1978", "@year_built", "")
    assert "Kept: 1978; < and then d says that you don't know." in flat(text)
    assert kept(tmp_path)["year_built"].text == "1978"


def test_an_estimate_and_dont_know(tmp_path: Path) -> None:
    started(tmp_path, "~20 ft", "@joist_depth", "d", "@source", "~1", "drum kit", "@hours", "4")
    answers = kept(tmp_path)
    assert answers["shell_length"] == Answer("20 ft", Origin.ESTIMATED)
    assert answers["joist_depth"].origin is answers["hours"].origin is Origin.UNKNOWN
    assert answers["source"] == Answer("drum kit")


def test_several_choices_by_number_and_by_word(tmp_path: Path) -> None:
    text = started(tmp_path, "@listeners", "1 9", "1 2", "@listeners", "bedroom_above, 7", "@listeners", "1, 8")
    assert "there is no choice 9; they go from 1 to 8" in text
    assert "cannot be chosen together" in flat(text)
    assert kept(tmp_path)["listeners"].text == "bedroom_above, garden_neighbour"


def test_jumps_by_topic_number_id_and_words(tmp_path: Path) -> None:
    def ids(words: str) -> list[str]:
        return [item.id for item in places(words, Answers())]

    assert ids("shell_width") == ["shell_width"]
    assert ids("1") == ids("first") == ids("First verdict") == ["shell_length"]
    assert ids("joist DEPTH") == ["joist_depth"]
    assert len(ids("joist")) > 3
    assert ids("qqq") == []
    text = started(tmp_path, "@joist", "@shel_widht", "@joist depth", "9 1/4 in")
    assert "Several questions have that in them:" in text
    assert "did you mean @shell_width?" in text
    assert set(kept(tmp_path)) == {"joist_depth"}


def test_a_contradiction_may_be_kept(tmp_path: Path) -> None:
    lines = ("@obstructions", "beam", "@beam_underside", "7 ft", "@shell_height", "6 ft 11", "6 ft 11")
    text = started(tmp_path, "20 ft", "14 ft", "7-4", *lines)
    assert flat(text).count("type the same again to keep it") == 1
    assert kept(tmp_path)["shell_height"].text == "6 ft 11"


def test_undo_and_redo_over_sessions(tmp_path: Path) -> None:
    started(tmp_path, "20 ft", "14 ft")
    text = talk(tmp_path, "u", "u", "u", "r")
    assert "Undone: Width of the area is open." in text
    assert "There is nothing to undo." in text
    assert "Done again: Length of the area is 20 ft." in text
    assert set(kept(tmp_path)) == {"shell_length"}


def test_the_verdict_comes_with_the_first_answers_and_tells_what_moved(tmp_path: Path) -> None:
    text = started(tmp_path, "v", *FIRST, "@people", "5", "v")
    assert "This needs 12 more of the first answers." in text
    assert text.index("These were the answers that a first verdict needs") < text.index("good: Fresh air needed: 60 cfm; for all.")
    assert "good: Fresh air needed: 100 cfm; +40 cfm, was 60 cfm; for all." in text


def test_the_plan_is_written_and_overwrites_nothing_unasked(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    full = tmp_path / "full"
    full.mkdir()
    (full / "plan.md").write_text("mine")
    data = tmp_path / "data"
    text = started(data, "p", *FIRST, "p", "", "p", str(full), "", "p", str(full), "2", "p", str(full / "plan.md"))
    assert "This needs 12 more" in text
    assert (tmp_path / "drums-plan" / "plan.md").exists()
    assert "Nothing was written." in text
    assert (full / "plan.md").read_text() == "# The plan\n"
    assert "That could not be done: File exists." in text


def test_the_end_offers_what_is_open_and_changes_come_back_to_it(tmp_path: Path) -> None:
    skips = [">"] * (len(engine.QUESTIONS) + 5)
    text = started(tmp_path, *FIRST, *skips, "@people", "4", "x", "", "<", ">", "q")
    assert "That was the last question" in text
    assert text.rindex("That was the last question") > text.index("Taken: 4")
    assert "There is no question here to answer" in text
    assert "Project and local code 1 of" in text[text.index("There is no question here to answer") :]


def test_the_list_of_interviews_and_a_new_one(tmp_path: Path) -> None:
    Store(tmp_path).create("First", Answers({"people": Answer("2")}))
    text = talk(tmp_path, "9", "2", "Second", "x", "2", "6 m", name="")
    assert "1. First, changed 20" in text
    assert "Type a number from 1 to 2" in text
    assert kept(tmp_path).units == "metric"
    assert kept(tmp_path)["shell_length"].text == "6 m"
    assert "2. First" in talk(tmp_path, "q", name="")
    assert len(Store(tmp_path).list()) == 2


def test_a_name_that_is_not_known_is_asked_about_and_one_that_is_twice_is_refused(tmp_path: Path) -> None:
    assert "There is no interview “Drumz” yet" in talk(tmp_path, "3", name="Drumz")
    assert Store(tmp_path).list() == ()
    assert talk(tmp_path, name="Drumz").count("Number:") == 1  # the input ends at once
    for _ in range(2):
        Store(tmp_path).create("Twice")
    with pytest.raises(StoreError, match="Several interviews"):
        talk(tmp_path, name="Twice")


def test_another_window_is_told_and_nothing_is_changed(tmp_path: Path) -> None:
    store = Store(tmp_path)
    store.claim(store.create("Drums"))
    text = talk(tmp_path, "20 ft", "u")
    assert "Please note: This interview is open in another Stillroom" in text
    assert "Not accepted: This interview is open" in flat(text)
    assert "Left: 0 of" in text
    assert len(kept(tmp_path)) == 0


def test_units_and_all_answers(tmp_path: Path) -> None:
    text = started(tmp_path, "20", "m", "a")
    assert "The units are metric now." in text
    assert "Length of the area: 6.096 m = 20 ft." in text
    assert "Width of the area: not answered yet (needed)." in text


def test_a_pipe_and_odd_bytes(tmp_path: Path) -> None:
    environment = {**os.environ, "STILLROOM_DATA": str(tmp_path), "PYTHONIOENCODING": "ascii", "TERM": "dumb"}
    command = [sys.executable, "-m", "wizard", "--plain", "Drums"]
    done = subprocess.run(command, input=b"1\n20 ft\n\xff\xfe\n7' \xc2\xbd\n", capture_output=True, env=environment, check=False)
    assert (done.returncode, done.stderr) == (0, b"")
    assert done.stdout.decode("ascii").rstrip().splitlines()[-1].startswith("Saved: 1 of")
    assert kept(tmp_path)["shell_length"].text == "20 ft"


def test_labels_number_every_choice() -> None:
    for question in engine.QUESTIONS:
        labels = choice_labels(question)
        assert len(labels) == len(question.choices) + (question.kind is Kind.CHOICE and question.unknown is not None)

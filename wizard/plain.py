"""``stillroom --plain``: the interview as numbered prompts. The session decides, the backroom computes; here they are only talked about."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from calc.units import IMPERIAL, METRIC
from wizard.backroom import Backroom
from wizard.interview import engine
from wizard.interview.answers import DONT_KNOW, Answers
from wizard.interview.engine import Problem, Problems
from wizard.plain_meaning import meant, places, reading
from wizard.plain_words import (
    DONT_KNOW_LABEL,
    HELP,
    SPELT_OUT,
    Leave,
    Talk,
    answer_lines,
    explanation,
    prompt,
    question_lines,
    standing,
    topic_lines,
    verdict_lines,
)
from wizard.session import Contradiction, Session, answers_left, place_in_words, progress
from wizard.store import Store, StoreError

if TYPE_CHECKING:
    from wizard.interview.question import Question
    from wizard.interview.verdict import Verdict

MOST_MATCHES = 9


def run(store: Store, name: str, heard: TextIO, said: TextIO, backroom: Backroom | None = None) -> int:
    """Talk until the person leaves or the input ends; the exit code. Raises StoreError when nothing can be opened or saved."""
    for stream in (heard, said):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")  # a letter that the terminal does not have must not end the interview
    talk = Talk(heard, said)
    try:
        id = choose(store, name, talk)
    except (EOFError, Leave):
        return 0
    session = Session.open(store, id)
    try:
        Plain(session, backroom or Backroom(folder=store.folder), talk).run()
    finally:
        session.close()
    return 0


def choose(store: Store, name: str, talk: Talk) -> str:
    """The id of the interview to go on with, or of a new one. Raises EOFError, Leave and StoreError."""
    entries = store.list()
    if name:
        found = [entry.id for entry in entries if name in (entry.id, entry.name)]
        if len(found) > 1:
            raise StoreError(f"Several interviews have the name “{name}”; say which by its id: {', '.join(found)}.")
        return found[0] if found else begin(store, name, talk, f"There is no interview “{name}” yet. Begin it?")
    if entries:
        talk.say("Saved interviews:")
        for number, entry in enumerate(entries, 1):
            state = entry.notice or f"{entry.answered} answered, at: {place_in_words(entry.place, entry.answered)}"
            talk.say(f"{number}. {entry.name}, changed {entry.changed[:16].replace('T', ' ')}, {state}")
        number = talk.pick("Number, or the next one for a new interview:", len(entries) + 1, 1)
        if number <= len(entries):
            return entries[number - 1].id
    name = talk.ask(f"Name of the new interview, empty for {Answers().name}:") or Answers().name
    return begin(store, name, talk, "In what do you measure?")


def begin(store: Store, name: str, talk: Talk, question: str) -> str:
    talk.say(question, "1. in feet and inches", "2. in metres and millimetres", "3. leave")
    number = talk.pick("Number:", 3, None)
    if number == 3:
        raise Leave
    units = IMPERIAL if number == 1 else METRIC
    return store.create(name, Answers(units=units))


class Plain:
    """One interview, asked line by line."""

    def __init__(self, session: Session, backroom: Backroom, talk: Talk) -> None:
        self._session = session
        self._backroom = backroom
        self._talk = talk
        self._verdict: Verdict | None = None  # as last told
        self._contradiction: str | None = None
        self._asked: Question | None = None  # what was read out last, and need not be again
        self._unsaved = False
        self._commands: dict[str, Callable[[], None]] = {
            "?": self.explain,
            "<": self.back,
            ">": self._session.skip,
            "d": lambda: self.take(DONT_KNOW.text),
            "@": lambda: self._talk.say(*topic_lines(self._session.answers)),
            "a": lambda: self._talk.say(*answer_lines(self._session.answers)),
            "v": self.judge,
            "t": self.telling,
            "p": self.plan,
            "u": lambda: self.step(self._session.undo, "Undone", "There is nothing to undo."),
            "r": lambda: self.step(self._session.redo, "Done again", "There is nothing to do again."),
            "m": self.switch_units,
            "h": lambda: self._talk.say(*HELP),
            "q": self.leave,
        }

    def run(self) -> None:
        self._talk.say(f"{self._session.answers.name}. Type ? for why and how, h for the commands, q to save and leave.")
        if self._session.notice:
            self._talk.say(f"Please note: {self._session.notice}")
        try:
            while True:
                self.turn()
        except EOFError:
            self._session.save()
        except Leave:
            pass
        except KeyboardInterrupt:
            self._session.save()
            self._talk.say("")
            self._part()
            raise
        self._part()

    def _part(self) -> None:
        self._talk.say(f"{'Left' if self._session.read_only else 'Saved'}: {progress(self._session.answers, None)}.")

    def turn(self) -> None:
        """One question, or the page after the last, and one line from the person."""
        question, answers = self._session.question, self._session.answers
        if question is None:
            still = sum(engine.state(item, answers) == "open" for item in engine.applicable(answers))
            self._talk.say("", f"That was the last question; {progress(answers, None)}, {still} open.")
            first = ", empty for the first open one" if still else ""
            line = self._talk.ask(f"a all answers, @ to change one, v verdict, p write the plan, q leave{first}:")
        else:
            if question is not self._asked:
                self._talk.say("", f"{progress(answers, question)}.", *question_lines(question, answers))
            self._asked = question
            line = self._talk.ask(prompt(question, answers))
        self.hear(line)

    def hear(self, line: str) -> None:
        word = line.casefold()
        command = self._commands.get(SPELT_OUT.get(word, word))
        if command is not None:
            if line != "?":
                self._asked = None
            command()
        elif line.startswith("@"):
            self.jump(line[1:].strip())
        elif self._session.question is None:
            opened = engine.first_open(self._session.answers)
            if line or opened is None:
                self._talk.say("There is no question here to answer; type one of the letters, or h for all of them.")
            else:
                self._session.go(opened.id)
        else:
            self.take(line)

    # ---- answering -------------------------------------------------------------------------------------------------

    def take(self, line: str) -> None:
        question = self._session.question
        if question is None:
            return
        was_ready = engine.verdict_ready(self._session.answers)
        try:
            kept = standing(question, self._session.answers) if not line else None
            if kept is not None:
                unknown = "; < and then d says that you don't know" if question.unknown and kept != DONT_KNOW_LABEL else ""
                self._talk.say(f"Kept: {kept.rstrip(',')}{unknown}.")
                self._session.skip()
                return
            text, origin = meant(question, line, self._session.answers)
            self._session.accept(text, origin, knowingly=line == self._contradiction)
        except Problem as problem:
            self._refuse(line, problem)
            return
        except StoreError as error:
            self._complain(error)
        self._contradiction = None
        self._talk.say(f"Taken: {reading(question, self._session.answers)}.")
        if not was_ready and engine.verdict_ready(self._session.answers):
            self._talk.say("These were the answers that a first verdict needs; the others make it surer.")
            self.judge()

    def _refuse(self, line: str, problem: Problem) -> None:
        sentence = problem.sentence
        if isinstance(problem, Contradiction):
            self._contradiction = line
            sentence += " Change it, or type the same again to keep it and then change the other answer."
        self._talk.say(f"Not accepted: {sentence}")

    def step(self, act: Callable[[], str | None], done: str, nothing: str) -> None:
        with self._told():
            said = act()
            self._talk.say(f"{done}: {said}." if said else nothing)

    def switch_units(self) -> None:
        with self._told():
            self._session.switch_units()
            self._talk.say(f"The units are {self._session.answers.units} now.")

    def leave(self) -> None:
        """Save; where that fails, stay the first time."""
        try:
            self._session.save()
        except StoreError as error:
            self._complain(error)
            if not self._unsaved:
                self._unsaved = True
                self._talk.say("Type q again to leave all the same.")
                return
        raise Leave

    @contextmanager
    def _told(self) -> Iterator[None]:
        try:
            yield
        except StoreError as error:
            self._complain(error)

    def _complain(self, error: StoreError) -> None:
        self._talk.say(f"Not saved: {error} Your answers are kept here until you leave.")

    # ---- moving ----------------------------------------------------------------------------------------------------

    def explain(self) -> None:
        if self._session.question is None:
            self._talk.say(*HELP)
        else:
            self._talk.say(*explanation(self._session.question, self._session.answers))

    def back(self) -> None:
        if not self._session.back():
            self._talk.say("This is the first question.")

    def jump(self, words: str) -> None:
        found = places(words, self._session.answers)
        if len(found) == 1:
            self._session.go(found[0].id, changing=self._session.question is None)
        elif not found:
            near = engine.nearest_id(words)
            self._talk.say(f"No topic and no question has “{words[:60]}” in it{f'; did you mean @{near}?' if near else '.'}")
        else:
            more = f"\nand {len(found) - MOST_MATCHES} more" if len(found) > MOST_MATCHES else ""
            lines = "\n".join(f"@{item.id}: {item.title}" for item in found[:MOST_MATCHES])
            self._talk.say(f"Several questions have that in them:\n{lines}{more}")

    # ---- verdict and plan ------------------------------------------------------------------------------------------

    def judge(self) -> None:
        if self._early():
            return
        with self._working("Working out the verdict."):
            verdict = self._backroom.verdict(self._session.answers)
            self._talk.say(*verdict_lines(verdict, self._verdict))
            self._verdict = verdict

    def telling(self) -> None:
        if self._early():
            return
        with self._working("Looking for the question that matters most; this takes up to 20 seconds."):
            found = self._backroom.telling(self._session.answers, lambda: True)
            self._talk.say(f"{found.sentence} @{found.question.id} goes there." if found else "No open question would change it much.")

    def plan(self) -> None:
        if self._early():
            return
        from wizard.screens.plan import folder_for

        default = folder_for(self._session.answers.name)
        word = self._talk.ask(f"Folder for the plan, empty for {default}:")
        folder = Path(word).expanduser() if word else default
        with self._working("Writing the plan."):
            if folder.is_dir() and any(folder.iterdir()):
                self._talk.say(
                    f"{folder} is not empty. A plan in it would be replaced; other files stay.", "1. leave it alone", "2. write it there"
                )
                if self._talk.pick("Number, empty for 1:", 2, 1) == 1:
                    self._talk.say("Nothing was written.")
                    return
            self._talk.say(f"Written: {self._backroom.export(self._session.answers, folder)}")

    def _early(self) -> bool:
        left = answers_left(self._session.answers)
        if left:
            self._talk.say(f"This needs {left} more of the first answers.")
        return bool(left)

    @contextmanager
    def _working(self, what: str) -> Iterator[None]:
        """Slow work: say so before, and in one sentence what kept it from being done."""
        self._talk.say(what)
        try:
            yield
        except (EOFError, Leave):
            raise
        except Problems as problems:
            self._talk.say(*(problem.sentence for problem in problems.problems))
        except (OSError, ValueError) as error:
            self._talk.say(f"That could not be done: {getattr(error, 'strerror', None) or error}.")
        except Exception as error:
            self._talk.say(f"That could not be done, by a fault of this program ({error!r}). Your answers are safe.")

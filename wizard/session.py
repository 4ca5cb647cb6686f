"""One open interview: the answers, where the person stands, and the store behind it. No Textual here.

Every accepted answer is saved before the next question is shown. Next and previous are the engine's, pure functions of the
answers; all that is remembered here is whether the person came from the page of all answers, and which questions their
change has opened, or which open ones it has passed in a row.
"""

from __future__ import annotations

from collections.abc import Mapping

from calc.origin import Origin
from calc.units import IMPERIAL, METRIC
from wizard.interview import engine
from wizard.interview.answers import DONT_KNOW, Answer, Answers, is_unknown_text
from wizard.interview.engine import Problem
from wizard.interview.question import TOPICS, Kind, Question
from wizard.store import Step, Steps, Store, StoreError

READ_ONLY = "This interview is open in another Stillroom, so here it can only be read; close it there to change it here."


class Contradiction(Problem):
    """Two answers that cannot both be right: the person may keep this one and change the other."""


class Session:
    """``at`` is the id of the question on the page, or None once there is no further one."""

    def __init__(
        self,
        store: Store,
        id: str,
        answers: Answers,
        place: str | None,
        notice: str = "",
        steps: Steps | None = None,
        read_only: bool = False,
        drafts: Mapping[str, str] | None = None,
    ) -> None:
        self.store = store
        self.id = id
        self.answers = answers
        self.steps = Steps() if steps is None else steps
        self.read_only = read_only  # another window has it open
        self.at = place if place in self._ids() else self._first_open()
        self.notice = notice  # what the store had to say about the file, or nothing
        self.drafts = dict(drafts or {})  # what was typed at a question and not taken, by its id
        self._kept = dict(self.drafts)  # as the store has them
        self.changing = False
        self._came_from: str | None = None  # where the person stood before the first change or the detour
        self._to_page = False  # a change leads back to the page of all answers, a detour to where the person came from
        self._in_a_row = False  # first on to every open question
        self._row: list[str] = []  # the questions that the row has passed
        self._opened: list[str] = []

    @classmethod
    def open(cls, store: Store, id: str) -> Session:
        """Load a saved interview, to read only while another window has it open; raises StoreError when it cannot be opened."""
        mine = store.claim(id)
        try:
            saved = store.load(id)
        except StoreError:
            if mine:
                store.release(id)
            raise
        notice = saved.notice if mine else f"{READ_ONLY} {saved.notice}".strip()
        return cls(store, id, saved.answers, saved.place, notice, saved.steps, read_only=not mine, drafts=saved.drafts)

    def close(self) -> None:
        """Let another window have it."""
        if not self.read_only:
            self.store.release(self.id)

    @property
    def question(self) -> Question | None:
        return engine.question(self.at) if self.at is not None else None

    @property
    def answer(self) -> Answer | None:
        return self.answers.get(self.at) if self.at is not None else None

    def accept(self, text: str, origin: Origin = Origin.MEASURED, *, knowingly: bool = False) -> None:
        """Take an answer, save it, and go on. Raises Problem, with nothing changed, when it cannot be right.

        An empty text keeps the answer that stands, or takes the default. ``knowingly`` accepts an answer that contradicts another one,
        so that both can be changed one after the other; one that cannot be read is never accepted.
        """
        question = self.question
        if question is None:
            return
        answer = self._answer(question, text, origin)
        engine.read(question, answer.text, self.answers)
        if not self._mine():
            raise Problem(question.id, READ_ONLY)
        if not knowingly:
            self._refuse_contradiction(question, self.answers.with_answer(question.id, answer))
        self._take(question, answer)

    def put_aside(self, id: str, text: str) -> None:
        """Keep what was typed at a question and not taken, for when the person comes back; an empty text forgets it."""
        if text:
            self.drafts[id] = text
        else:
            self.drafts.pop(id, None)

    def dont_know(self) -> None:
        """Assume the careful value. Raises Problem where only the person can know."""
        if self.question is not None:
            self.accept(DONT_KNOW.text)

    @property
    def from_page(self) -> bool:
        """Whether the page of all answers sent the person to the question."""
        return self.changing and self._to_page and self.at is not None

    def leave_page(self) -> None:
        """From the page of all answers back to the questions: to where its first change was begun, for it asks no more."""
        if self.from_page:
            self.go(self._came_from if self._came_from in self._ids() else self.at)

    def ask_open(self) -> None:
        """Stand at the first open question; each answer leads to the next open one, the last back to the page of all answers."""
        self.go(self._first_open(), changing=True)
        self._in_a_row = True

    def go(self, id: str | None, *, changing: bool = False, detour: bool = False) -> None:
        """Stand at a question; ``changing`` when the page of all answers sent the person there and wants them back, ``detour`` to answer
        one that comes later and then go on here."""
        self._in_a_row, self._row = False, []
        if not (changing or detour):
            self._came_from = None
        elif not self.changing:
            self._came_from, self._to_page = self.at, changing
        else:
            self._to_page = changing or self._to_page
        self.at = id
        self.changing = changing or detour
        self._opened = []

    def back(self) -> bool:
        """Go to the question before; from the page of all answers to where changes were begun, or the last; False when there is none.

        In a row of open questions the one before is that of the row, and before its first stands the page of all answers.
        """
        if self._in_a_row and self.at is not None:
            self.at = self._before_in_the_row(self.at)
            return True
        before = engine.previous_before(self.answers, self.at) if self.at is not None else self._before_the_page()
        if before is None:
            return False
        self.go(before.id)
        return True

    def skip(self) -> None:
        """Go on without an answer; to where the page of all answers sent the person from, if it did."""
        if self.question is not None:
            self._go_on(self.question, self._ids())

    def switch_units(self) -> None:
        """Count in the other system from now on; what was typed keeps its meaning. Raises StoreError."""
        self._must_be_mine()
        before = self.answers
        self.answers = engine.switch_units(before, METRIC if before.units == IMPERIAL else IMPERIAL)
        self.steps = self.steps.done(before, self.answers)
        self.save()

    def undo(self) -> str | None:
        """Take the last change back, stand at its question, and say what is as it was; None when there is nothing to undo.

        Goes on through earlier sessions. Raises StoreError.
        """
        self._must_be_mine()
        if not self.steps.past:
            return None
        step = self.steps.past[-1]
        return self._stepped(step, step.back(self.answers), self.steps.undone())

    def redo(self) -> str | None:
        """Do the change again that was taken back last; None when there is none. Raises StoreError."""
        self._must_be_mine()
        if not self.steps.future:
            return None
        step = self.steps.future[-1]
        return self._stepped(step, step.again(self.answers), self.steps.redone())

    def save(self) -> None:
        """Remember the place. Raises StoreError."""
        if not self.read_only:
            self.store.save(self.id, self.answers, self.at, self.steps)
            if self._kept != self.drafts:
                self.store.put_aside(self.id, self.drafts)
                self._kept = dict(self.drafts)

    def _stepped(self, step: Step, answers: Answers, steps: Steps) -> str:
        self.answers, self.steps = answers, steps
        ids = [change.question_id for change in step.changes]
        at = next((id for id in ids if id in self._ids()), None)
        if step.units[0] == step.units[1] and at is not None:
            if self.from_page:
                self.at, self._opened = at, []
            else:
                self.go(at)
        elif self.at not in self._ids():
            self.go(self._first_open())
        self.save()
        return "; ".join(self._as_it_is(id) for id in ids) if step.units[0] == step.units[1] else f"the units are {answers.units}"

    def _as_it_is(self, id: str) -> str:
        answer = self.answers.get(id)
        if answer is None:
            return f"{engine.question(id).title} is open"
        return f"{engine.question(id).title} is {'“I don’t know”' if is_unknown_text(answer.text) else self._shown(id, answer)}"

    def _shown(self, id: str, answer: Answer) -> str:
        question = engine.question(id)
        return ", ".join(question.label(part.strip()) for part in answer.text.split(",")) if question.choices else answer.text

    def _mine(self) -> bool:
        """Whether answers may be changed; asks again where another window had the interview open."""
        if self.read_only:
            self.read_only = not self.store.claim(self.id)
        return not self.read_only

    def _must_be_mine(self) -> None:
        if not self._mine():
            raise StoreError(READ_ONLY)

    def _answer(self, question: Question, text: str, origin: Origin) -> Answer:
        if is_unknown_text(text):
            return DONT_KNOW
        if text.strip():
            return Answer(text.strip(), origin)
        if question.kind is Kind.MULTI:
            nobody = question.choice("none")
            raise Problem(question.id, f"{question.title}: choose at least one{f'; “{nobody.label}” is one too' if nobody else ''}.")
        standing = self.answers.get(question.id)
        if standing is not None and engine.state(question, self.answers) in ("answered", "unknown"):
            return standing
        default = engine.default_text(question, self.answers)
        if default is None:
            raise Problem(question.id, f"{question.title}: please type an answer; this one has no default.")
        return DONT_KNOW if is_unknown_text(default) else Answer(default, Origin.DEFAULT)

    def _take(self, question: Question, answer: Answer) -> None:
        known, before = self._ids(), self.answers
        self.answers = before.with_answer(question.id, answer)
        self.steps = self.steps.done(before, self.answers)
        self.drafts.pop(question.id, None)
        self._go_on(question, known)
        self.save()

    def _go_on(self, question: Question, known: set[str]) -> None:
        if self._in_a_row and question.id not in self._row:
            self._row.append(question.id)
        if not self.changing:
            after = engine.next_after(self.answers, question.id)
            self.at = after.id if after is not None else None
            return
        ids = self._ids()
        new = [q.id for q in engine.applicable(self.answers) if q.id not in known and q.id not in self.answers]
        self._opened = [id for id in [*self._opened, *new] if id in ids and id != question.id]
        if self._opened:
            self.at = self._opened[0]
        elif self._in_a_row and (after := engine.next_open(self.answers, question.id)) is not None:
            self.at = after.id
        elif self._to_page:
            self.at = None
        else:
            self.go(self._came_from if self._came_from in ids else self._first_open())

    def _refuse_contradiction(self, question: Question, after: Answers) -> None:
        """What clashes with a default that nobody has looked at yet is not the person's contradiction; that question will say so."""
        standing = {problem.sentence for problem in engine.problems(self.answers)}
        for problem in engine.problems(after):
            if problem.sentence not in standing and problem.question_id in after:
                raise Contradiction(question.id, problem.sentence)

    def _ids(self) -> set[str]:
        return {q.id for q in engine.applicable(self.answers)}

    def _first_open(self) -> str | None:
        found = engine.first_open(self.answers)
        return found.id if found is not None else None

    def _before_in_the_row(self, at: str) -> str | None:
        passed = self._row[: self._row.index(at)] if at in self._row else self._row
        ids = self._ids()
        return next((id for id in reversed(passed) if id in ids), None)

    def _before_the_page(self) -> Question:
        return engine.question(self._came_from) if self._came_from in self._ids() else engine.applicable(self.answers)[-1]


def first_count() -> int:
    return sum(question.first for question in engine.QUESTIONS)


def answers_left(answers: Answers) -> int:
    """How many of the first questions are not answered yet."""
    return sum(question.first and question.id not in answers for question in engine.applicable(answers))


def progress(answers: Answers, at: Question | None) -> str:
    """The topic, and how many of the questions that apply are answered."""
    asked = engine.applicable(answers)
    done = sum(question.id in answers for question in asked)
    if at is None:
        return f"{done} of {len(asked)} answered"
    here = [question.id for question in asked if question.topic == at.topic]
    return f"{topic_label(at.topic)} {here.index(at.id) + 1} of {len(here)} · {done} of {len(asked)} answered"


def topic_label(id: str) -> str:
    return next(topic.label for topic in TOPICS if topic.id == id)


def place_in_words(id: str | None, answered: int) -> str:
    """The question at which an interview was left."""
    known = next((question for question in engine.QUESTIONS if question.id == id), None)
    if known is not None:
        return f"{topic_label(known.topic)}, {known.title}"
    return "all answers" if answered else "the beginning"

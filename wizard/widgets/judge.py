"""Works out the verdict, and then the open question that would change it most, in threads beside the typing.

Posts what it found; whoever started it decides whether it still matters, by the answers that come with the message.
"""

from __future__ import annotations

import time
from dataclasses import dataclass
from functools import partial
from threading import Lock
from typing import TYPE_CHECKING

from textual import work
from textual.message import Message
from textual.timer import Timer
from textual.widget import Widget
from textual.worker import Worker, WorkerState, get_current_worker

from wizard.backroom import StaleError
from wizard.interview.answers import Answers
from wizard.interview.engine import Problems

if TYPE_CHECKING:
    from wizard.backroom import Backroom
    from wizard.interview.leverage import Leverage
    from wizard.interview.verdict import Verdict


STILL = 0.6  # s without a key, from which on nobody is typing
LOOK = 0.01  # s between two looks whether somebody is


class Judge(Widget):
    """Shows nothing. ``start`` drops what was begun for earlier answers; the search waits while somebody types."""

    DEFAULT_CSS = "Judge { display: none; }"

    @dataclass
    class Judged(Message):
        answers: Answers
        verdict: Verdict

    @dataclass
    class NotJudged(Message):
        answers: Answers
        sentence: str

    @dataclass
    class Told(Message):
        answers: Answers
        leverage: Leverage | None

    def __init__(self, backroom: Backroom) -> None:
        super().__init__()
        self._backroom = backroom
        self._turn = Lock()  # one assessment at a time: a thread that is no longer wanted still runs to its next look
        self._search: Timer | None = None
        self._answers = Answers()
        self._typed = -STILL  # when the last key came

    def start(self, answers: Answers) -> None:
        self.stop()
        self._answers = answers
        self._work_out(answers)

    def stop(self) -> None:
        if self._search is not None:
            self._search.stop()
        self.workers.cancel_node(self)

    @work(thread=True, exclusive=True, group="verdict", exit_on_error=False)
    def _work_out(self, answers: Answers) -> None:
        worker = get_current_worker()
        with self._turn:
            if worker.is_cancelled:
                return
            try:
                self.post_message(self.Judged(answers, self._backroom.verdict(answers)))
            except Problems as problems:
                self.post_message(self.NotJudged(answers, str(problems)))

    def look_for_telling(self, answers: Answers) -> None:
        """Begin the search after a pause, so that it does not take the processor from quick answers."""
        if self._backroom.patience:
            self._search = self.set_timer(self._backroom.patience, partial(self._look, answers))
        else:
            self._look(answers)

    def hold(self) -> None:
        """Somebody types: let the search wait."""
        self._typed = time.monotonic()

    @work(thread=True, exclusive=True, group="telling", exit_on_error=False)
    def _look(self, answers: Answers) -> None:
        worker = get_current_worker()

        def wanted() -> bool:
            while not worker.is_cancelled and time.monotonic() < self._typed + STILL * bool(self._backroom.patience):
                time.sleep(LOOK)
            return not worker.is_cancelled

        with self._turn:
            try:
                self.post_message(self.Told(answers, self._backroom.telling(answers, wanted)))
            except StaleError:
                return

    def on_worker_state_changed(self, event: Worker.StateChanged) -> None:
        if event.state is WorkerState.ERROR:
            fault = f"by a fault of this program ({event.worker.error!r})"
            self.post_message(self.NotJudged(self._answers, f"The verdict could not be worked out, {fault}. Your answers are safe."))

"""What the interface tests share: an application over a store of its own, a quick stand-in for the calculation, screens as plain text."""

from __future__ import annotations

import asyncio
import os
import time
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from textual import events
from textual._compositor import Compositor
from textual._context import visible_screen_stack
from textual.app import App
from textual.pilot import Pilot
from textual.screen import Screen
from textual.widgets import Input
from textual.worker import WorkerCancelled, WorkerFailed

from calc.assess import Assessment
from wizard.app import StillroomApp
from wizard.backroom import Backroom, Plan
from wizard.interview import engine
from wizard.interview.answers import Answer, Answers
from wizard.interview.leverage import Leverage
from wizard.interview.verdict import Verdict, VerdictLine
from wizard.lines import Line, Page, Part, section
from wizard.plots import bars, co2_plot, modes_plot, ringing_plot
from wizard.quiet import Heard, Quiet, Step, Way
from wizard.quiet_page import QuietPage
from wizard.store import Store

GOLDENS = Path(__file__).parent / "goldens"
PATIENCE = 30.0  # s until a screen that never comes to rest is looked at as it is


def _draw_nothing(self: Compositor, full: bool = False, screen_stack: list[Screen[Any]] | None = None, simplify: bool = False) -> None:
    """In place of Compositor.render_update, which draws for a terminal that nobody sees: a third of the time of these tests.

    Screens are laid out all the same, and ``screen_text`` draws what it is asked for. test_tui_kill.py runs in a terminal that is drawn on.
    """
    visible_screen_stack.set(screen_stack or [])
    self._dirty_regions.clear()


DRAW = Compositor.render_update
Compositor.render_update = _draw_nothing  # type: ignore[method-assign]
NARROW, WIDE = (80, 24), (120, 40)

# The invented basement of these tests: an answer to each of the first questions.
FIRST_ANSWERS = {
    "shell_length": "20'",
    "shell_width": "14 ft",
    "shell_height": "7-4",
    "joist_depth": "9 1/4",
    "joist_spacing": "16 in",
    "joist_span": "13 ft",
    "source": "drum_kit",
    "hours": "evening",
    "listeners": "bedroom_above, garden_neighbour",
    "people": "3",
    "lowest_ceiling": "6' 8\"",
    "budget": "25k",
}


LISTENERS = ("bedroom above", "living room above", "rest of the basement", "neighbour across the garden", "[b]a very long name[/b] 家 " * 3)


def heard(label: str, louder: float) -> Heard:
    """An invented listener: bass that falls 2 dB a band, against a target that falls 1 dB a band."""
    return Heard(
        label=label,
        inside=False,
        predicted=f"{34 + louder:.0f}",
        range=f"{29 + louder:.0f} to {40 + louder:.0f}",
        wanted="30",
        needed="",
        margin=f"{-4 - louder:.0f}",
        where="50 Hz",
        likelihood="1 in 3",
        few_words="1 in 3",
        levels=[60.0 + louder - 2.0 * band for band in range(21)],
        target=[50.0 - band for band in range(21)],
        background=[40.0 - 1.5 * band for band in range(21)],
        ways=(Way("lid", "32", "63 %"), Way("round the lid, through the joists and the boards of the floor above them", "29", "32 %")),
        together="",
        weakest="The weakest way by 3 dB: lid. If nothing came by the weakest, 31 dBA would be left.",
        surer=("Read a sound level meter in the room: the range narrows from ±9 dB to ±6 dB.",),
    )


def quiet_of(listeners: int) -> Quiet:
    """Invented listeners, each 3 dB quieter than the one before."""
    return Quiet(
        listeners=tuple(heard(label, -3.0 * place) for place, label in enumerate(LISTENERS[:listeners])),
        critical=0,
        steps=(Step("door: two doors in series", "438 USD more", ("+2 dB at bedroom above (then an even bet)",)),),
        wasted=(Step("air path: silencer boxes", "1,993 USD more", ()),),
        room_to_spare=False,
        surer=(),
        measured=False,
        asked="",
        sure_enough=True,
    )


@dataclass(frozen=True)
class Invented:
    """A page with invented curves; ``others`` are rows to choose from."""

    kind: str
    others: tuple[str, ...] = ()
    start: int = 0

    def rows(self, width: int) -> tuple[str, ...]:
        return ("The scheme chosen, beside the best with:", *self.others) if self.others else ()

    def lines(self, index: int, width: int, height: int, unicode: bool) -> list[Line]:
        hours = [0.0, 1.0, 2.0]
        if self.kind == "air":
            plot = co2_plot((hours, [430.0, 900.0, 980.0]), (hours, [430.0, 2430.0, 4430.0]), 1000.0, width, max(8, height - 2), unicode)
            heat = bars([("people", 510.0, "510 W"), ("lights", 114.0, "114 W")], width, unicode)
            return [*section("CO2 over one session", [plot], Part.CHART, first=True), *section("Heat in the room", [heat], Part.CHART)]
        if self.kind == "room":
            modes = modes_plot([(29.0, "axial"), (44.0, "axial"), (53.0, "tangential"), (96.0, "oblique")], (53.0, 96.0), width, unicode)
            bands = (125.0, 250.0, 500.0, 1000.0, 2000.0, 4000.0)
            times = ringing_plot(bands, [0.8, 1.1, 1.5, 2.4, 2.2, 1.6], [0.4] * 6, [0.7, 0.4, 0.4, 0.4, 0.4, 0.4], [125.0], width, unicode)
            return [*section("Room modes", [modes], Part.CHART, first=True), *section("How long the room rings", [times], Part.CHART)]
        return section(self.others[index], [["Ceiling, open field   6 ft 9 in                   7 ft 1 in"]], first=True)


class QuickBackroom(Backroom):
    """Stands in for the calculation, whose own tests are elsewhere: a verdict that can be told from the answers at a glance."""

    patience = 0.0

    def __init__(self) -> None:
        super().__init__()
        self.judged: list[Answers] = []

    def warm(self) -> None:
        """Nothing slow to load."""

    def verdict(self, answers: Answers) -> Verdict:
        self.judged.append(answers)
        values = engine.values_of(answers)
        flow, damaged = values.number("people") * 20, "The joists are damaged"
        return Verdict(
            (
                VerdictLine("Finished ceiling", f"{values.number('shell_height') * 100 - 15:.0f} cm", "at least 200 cm", "good"),
                VerdictLine("Joists", "stop", "the ceiling adds 10.2 psf to them, they carry 9.9 psf", "stop"),
                VerdictLine("Heard: bedroom above", "34 dBA, 4 dB too loud", "target 30 dBA; 1 in 3 to meet it in every band", "caution"),
                VerdictLine("Fresh air needed", f"{flow:.0f} cfm", "CO2 1000 of 1000 ppm", "good", flow, "{:.0f} cfm".format),
                VerdictLine("Moisture", "74 % humid", "at the foundation wall in winter", "good"),
                VerdictLine("Hazards", "1 caution", "Radon is not tested", "caution"),
                VerdictLine("Sound in the room", "rings 0.35 s", "when treated; wanted 0.35 s, bare 1.8 s", "good"),
                VerdictLine("Cost with reserve", f"{values.number('budget') - 900:,.0f} USD", "budget invented", "good"),
                VerdictLine("Time", "14 weeks", "312 hours of work", "good"),
                VerdictLine("All stops and cautions", "1 stop, 1 caution", f"{damaged}; Radon is not tested", "stop"),
            )
        )

    def telling(self, answers: Answers, wanted: Callable[[], bool]) -> Leverage | None:
        question = engine.question("joist_kind")
        effect = "it is 11 dB louder against its target at the bedroom above"
        sentence = f"“Kind of joist” would change this most: if it is “open-web truss”, {effect}."
        return Leverage(question, sentence, 4.0, "truss") if engine.state(question, answers) != "answered" else None

    def page(self, kind: str, answers: Answers) -> Page:
        if kind == "quiet":
            return QuietPage(quiet_of(len(LISTENERS)))
        return Invented(kind, ("boards on isolation clips", "an independent ceiling") if kind == "compare" else ())

    def plan(self, answers: Answers) -> Plan:
        return Plan(self.verdict(answers), f"# The plan\n\nFor {engine.values_of(answers).number('people'):.0f} people.\n")

    def export(self, answers: Answers, folder: Path) -> Path:
        folder.mkdir(parents=True, exist_ok=True)
        (folder / "plan.md").write_text(self.plan(answers).text, encoding="utf-8")
        return folder / "plan.md"


def first_answers(name: str = "Test basement") -> Answers:
    full = Answers(name=name)
    for key, text in FIRST_ANSWERS.items():
        full = full.with_answer(key, Answer(text))
    return full


@cache
def assessed() -> Assessment:
    """The one real assessment that these tests share: it takes more than a second."""
    from calc.assess import assess
    from wizard.interview.to_brief import to_brief

    return assess(to_brief(first_answers()))


def fixed_time() -> str:
    return "2026-02-03T04:05:06+00:00"


def saved(folder: Path, answers: Mapping[str, str], place: str | None = None, name: str = "Test basement") -> tuple[Store, str]:
    """A store with one interview that holds these answers."""
    store = Store(folder, now=fixed_time)
    full = Answers(name=name)
    for key, text in answers.items():
        full = full.with_answer(key, Answer(text))
    id = store.create(name, full)
    store.load(id)
    if place is not None:
        store.save(id, full, place)
    return store, id


def make_app(folder: Path, answers: Mapping[str, str] | None = None, place: str | None = None, name: str = "Test basement") -> StillroomApp:
    """The application, in one interview with these answers, or on the empty list for None."""
    if answers is None:
        return StillroomApp(Store(folder, now=fixed_time), None, QuickBackroom())
    store, id = saved(folder, answers, place, name)
    return StillroomApp(store, id, QuickBackroom())


def screen_text(app: App[None]) -> str:
    """What stands on the screen, as plain text."""
    strips = app.screen._compositor.render_strips()
    return "\n".join("".join(segment.text for segment in strip).rstrip() for strip in strips) + "\n"


def check_golden(app: App[None], name: str) -> None:
    """Compare the screen with goldens/NAME.txt. STILLROOM_GOLDENS=write writes the file instead."""
    path = GOLDENS / f"{name}.txt"
    text = screen_text(app)
    if os.environ.get("STILLROOM_GOLDENS") == "write":
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    assert text == path.read_text(encoding="utf-8"), f"{path.name} differs; STILLROOM_GOLDENS=write rewrites it"


def at_rest(app: App[None]) -> bool:
    """Nothing is on its way to or from a widget: no message, no new size, nothing to be laid out or called afterwards.

    Reads private state of Textual: recheck it when the pin moves. A fixed number of rounds instead is too few now and then,
    where other work has the processors.
    """
    if app._exit:
        return True
    screen = app.screen
    if app._resize_event or screen._layout_required or screen._repaint_required or screen._dirty_widgets or screen._callbacks:
        return False
    widgets = screen.walk_children(with_self=True)
    waiting = any(pump.message_queue_size or pump._next_callbacks for pump in (app, *widgets))
    return not waiting and all(widget.is_mounted for widget in widgets)


async def flush(pilot: Pilot[None]) -> None:
    """Wait until what was sent so far has travelled down to the widgets and back up to the application.

    ``pilot.pause()`` without a delay waits for an idle processor besides, which costs a tenth of a second a key.
    """
    end = time.monotonic() + PATIENCE
    rests = 0
    while rests < 2 and time.monotonic() < end:
        await pilot.pause(0)
        reached = asyncio.Event()
        pilot.app.call_later(reached.set)
        await reached.wait()
        rests = rests + 1 if at_rest(pilot.app) else 0


async def press(pilot: Pilot[None], *keys: str) -> None:
    """Press keys by Textual's names, or as the character itself."""
    for key in keys:
        pilot.app.post_message(events.Key(key, " " if key == "space" else key if len(key) == 1 else None))
        await flush(pilot)


async def until(pilot: Pilot[None], screen: type[Screen[Any]]) -> None:
    """Wait until such a screen is on top."""
    for _ in range(200):
        if isinstance(pilot.app.screen, screen):
            await flush(pilot)
            return
        await flush(pilot)
    raise AssertionError(f"{screen.__name__} never came; {pilot.app.screen} is on top")


async def settle(pilot: Pilot[None]) -> None:
    """Wait for every worker and every message that it posted. What a worker raises is the screen's to tell."""
    await flush(pilot)
    while left := [worker for worker in pilot.app.workers if not worker.is_finished]:
        for worker in left:
            with suppress(WorkerFailed, WorkerCancelled):
                await worker.wait()
        await flush(pilot)


async def check_golden_soon(pilot: Pilot[None], name: str) -> None:
    """As ``check_golden``, once the screen has had time to lay itself out again: a busy machine may take a few rounds."""
    path = GOLDENS / f"{name}.txt"
    for _ in range(40):
        if path.exists() and screen_text(pilot.app) == path.read_text(encoding="utf-8"):
            break
        await pilot.pause(0.05)
    check_golden(pilot.app, name)


def clipped(app: App[None]) -> list[str]:
    """The focusable controls of the screen of which a part is cut off, or that have no room at all."""
    places = [(widget, app.screen.find_widget(widget)) for widget in app.screen.focus_chain]
    return [f"{widget!r} {place.region}" for widget, place in places if not place.region.area or place.visible_region != place.region]


async def enter(pilot: Pilot[None], text: str) -> None:
    """Type an answer at once and press Enter."""
    pilot.app.screen.query_one("#typed", Input).value = text
    await press(pilot, "enter")

"""Print how fast the program is for the person at the keyboard, and what memory it takes, beside what it aims at.

python tests/bench/interface.py [start | plan | answer | memory] ...

Times are ratios within one run where they can be; CPU time counts on a busy machine, the clock only on a quiet one.
"""

from __future__ import annotations

import asyncio
import os
import random
import resource
import select
import signal
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

sys.path.insert(0, str(Path(__file__).parent.parent))
from changes_kit import BASEMENTS, answers_of, answers_text, change

if TYPE_CHECKING:
    from wizard.app import StillroomApp
    from wizard.screens.interview import Interview

STARTS, CHANGES = 9, 12  # pairs of starts; changed answers of each interview, as many again while somebody types
MEGABYTE = 1024.0  # KiB, as Linux gives the peak of memory
BARE = """
from textual.app import App
from textual.widgets import Input

class Bare(App):
    def compose(self):
        yield Input(placeholder="ready")

Bare().run()
"""
# what a plan needs besides computing and writing it: the modules it ends up with, and the drawing of its figures
PLAN = """
import sys, time
from wizard import __main__
import wizard.figures.gather as gather
spent, draw = [], gather.figures
def figures(*given):
    begun = time.process_time()
    found = draw(*given)
    spent.append(time.process_time() - begun)
    return found
gather.figures = figures
import wizard.export, wizard.render
for module in (wizard.export, wizard.render):
    if hasattr(module, "figures"):
        module.figures = figures
code = __main__.main(sys.argv[1:])
print("spent", code, sum(spent), time.process_time(), *sys.modules)
"""


def told(what: str, value: str, aim: str = "", met: bool | None = None) -> None:
    print(f"{what:<58} {value:>18}  {aim:<12} {'' if met is None else 'met' if met else 'MISSED'}".rstrip(), flush=True)


def warm(folder: Path, **more: str) -> dict[str, str]:
    """The environment of a process that finds its modules compiled, as an installed program does."""
    settled = {key: value for key, value in os.environ.items() if key != "PYTHONDONTWRITEBYTECODE"}
    return {**settled, "PYTHONPYCACHEPREFIX": str(folder / "compiled"), **more}


def percentile(values: Sequence[float], share: float) -> float:
    """The least value that at least this share of the values does not exceed."""
    return sorted(values)[min(len(values) - 1, int(share * len(values)))]


def make_store(folder: Path, names: Sequence[str] = BASEMENTS) -> dict[str, str]:
    """Saved interviews in a folder; their ids by name."""
    from wizard.store import Store

    store = Store(folder)
    return {name: store.create(name, answers_of(name)) for name in names}


# ---- start ---------------------------------------------------------------------------------------------------------


def shown(command: Sequence[str], word: bytes, environment: dict[str, str]) -> tuple[float, float]:
    """Seconds by the clock and of the processor until a command in a terminal of 80 x 24 shows a word; then it is killed."""
    import fcntl
    import pty
    import struct
    import termios

    ours, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
    begun, seen = time.perf_counter(), b""
    with subprocess.Popen(command, stdin=theirs, stdout=theirs, stderr=theirs, env=environment) as process:
        while word not in seen:
            if not select.select([ours], [], [], 60.0)[0]:
                raise TimeoutError(f"{word!r} never came: {seen[-500:]!r}")
            seen += os.read(ours, 65536)
        wall = time.perf_counter() - begun
        cpu = cpu_of(process.pid)
        process.send_signal(signal.SIGKILL)
    os.close(theirs)
    os.close(ours)
    return wall, cpu


def cpu_of(pid: int) -> float:
    """Processor time of a running process so far [s], as the kernel counts it in nanoseconds; Linux only."""
    tasks = Path(f"/proc/{pid}/task").glob("*/schedstat")
    return sum(int(task.read_text().split()[0]) for task in tasks) * 1e-9


def start(folder: Path) -> None:
    make_store(folder, ("demo",))
    bare = [sys.executable, "-c", BARE]
    ours = [sys.executable, "-m", "wizard", "--data-dir", str(folder)]
    environment = warm(folder, TERM="xterm-256color", COLUMNS="80", LINES="24")
    for code in ("import textual.widgets._option_list, textual.widgets._input, textual.app", "import wizard.cli, wizard.app"):
        subprocess.run([sys.executable, "-c", code], env=environment, check=True)
    # the cursor stands on the first letter, so that the terminal gets it apart from the others
    programs = ((bare, b"eady"), (ours, b"demo"))
    for command, word in programs:  # once to warm the caches
        shown(command, word, environment)
    pairs = [[shown(command, word, environment) for command, word in programs] for _ in range(STARTS)]
    for place, clock in enumerate(("by the clock", "CPU")):
        middle = [statistics.median(pair[which][place] for pair in pairs) for which in (0, 1)]
        ratio = statistics.median(pair[1][place] / pair[0][place] for pair in pairs)
        told(f"first screen, {clock}: bare application", f"{middle[0] * 1e3:.0f} ms")
        told(f"first screen, {clock}: ours", f"{middle[1] * 1e3:.0f} ms")
        told(f"first screen, {clock}: ours over bare", f"{ratio:.2f}", "<= 1.3", ratio <= 1.3)


# ---- plan ----------------------------------------------------------------------------------------------------------


def plan(folder: Path) -> None:
    file = folder / "demo.toml"
    file.write_text(answers_text("demo"), encoding="utf-8")
    ratios, environment = [], warm(folder)
    for turn in range(6):
        wanted = ["--data-dir", str(folder), "plan", str(file), "--out", str(folder / f"plan{turn}")]
        done = subprocess.run([sys.executable, "-c", PLAN, *wanted], env=environment, capture_output=True, text=True, check=True)
        words = done.stdout.rsplit("spent", 1)[1].split()
        drawn, whole = float(words[1]), float(words[2])
        names = [name for name in words[3:] if not name.startswith("__")]
        imports = f"import importlib, time\nfor name in {names!r}:\n    importlib.import_module(name)\nprint(time.process_time())"
        loaded = subprocess.run([sys.executable, "-c", imports], env=environment, capture_output=True, text=True, check=True)
        imported = float(loaded.stdout)
        if turn:  # the first warms the caches
            ratios.append((whole / (imported + drawn), whole, imported, drawn))
    ratio, whole, imported, drawn = (statistics.median(each[place] for each in ratios) for place in range(4))
    told("stillroom plan on the demo, CPU", f"{whole * 1e3:.0f} ms")
    told("its imports; drawing its figures, CPU", f"{imported * 1e3:.0f} + {drawn * 1e3:.0f} ms")
    told("plan over imports and figures", f"{ratio:.2f}", "<= 1.5", ratio <= 1.5)


# ---- answers and keys ----------------------------------------------------------------------------------------------


async def typed(app: StillroomApp, screen: Interview, more: Callable[[], bool]) -> list[float]:
    """Seconds from each of some keys, typed into a field one after another, until its letter is drawn."""
    from textual import events
    from textual.widgets import Input

    times = []
    while app.screen is not screen:
        app.pop_screen()
    screen.go_to("shell_length")
    field = screen.query_one("#typed", Input)
    while more():
        field.value, reached = "", asyncio.Event()
        await asyncio.sleep(0.005)
        begun = time.perf_counter()
        app.post_message(events.Key("7", "7"))
        while not field.value:
            await asyncio.sleep(0)
        field.call_after_refresh(reached.set)
        await reached.wait()
        times.append(time.perf_counter() - begun)
    return times


async def answered(folder: Path, id: str, name: str, count: int) -> tuple[list[tuple[float, float]], list[float], list[float]]:
    """Of the real application in one interview: wall and CPU time from each answer to its verdict, and the times of keys while nothing and
    while a verdict is being worked out."""
    from wizard.app import StillroomApp
    from wizard.screens.interview import Interview
    from wizard.store import Store
    from wizard.widgets.verdict_panel import VerdictPanel

    app, took, still, busy = StillroomApp(Store(folder), id), [], [], []
    app.backroom.patience = 1000.0
    drawn, draw = asyncio.Event(), random.Random(name)
    show = VerdictPanel.show_verdict

    def seen(panel: VerdictPanel, *given: object) -> None:
        show(panel, *given)  # type: ignore[arg-type]
        panel.call_after_refresh(drawn.set)

    async def until_drawn() -> None:
        await asyncio.wait_for(drawn.wait(), 60.0)
        drawn.clear()

    VerdictPanel.show_verdict = seen  # type: ignore[method-assign,assignment]
    try:
        async with app.run_test(size=(120, 40)) as pilot:
            await until_drawn()
            await app.workers.wait_for_complete([worker for worker in app.workers if worker.group == "warm"])
            screen = app.screen_stack[-1]
            assert isinstance(screen, Interview)
            if screen.answers and screen._session.at is None:
                app.pop_screen()
            for number in range(2 * count):
                question, text = change(screen.answers, draw)
                screen.go_to(question)
                await pilot.pause(0.02)
                standing = screen.answers
                wall, cpu = time.perf_counter(), time.process_time()
                screen.take(text)
                if screen.answers is standing:
                    continue  # it contradicts another answer
                if number % 2:
                    await until_drawn()
                    took.append((time.perf_counter() - wall, time.process_time() - cpu))
                else:
                    busy += await typed(app, screen, lambda: not drawn.is_set())
                    left = iter(range(4))
                    still += await typed(app, screen, lambda left=left: next(left, None) is not None)  # type: ignore[misc]
                while app.screen is not screen:
                    app.pop_screen()
                drawn.clear()
                screen.action_undo()
                await until_drawn()
    finally:
        VerdictPanel.show_verdict = show  # type: ignore[method-assign]
    return took, still, busy


def answer(folder: Path) -> None:
    ids = make_store(folder)
    took: list[tuple[float, float]] = []
    still: list[float] = []
    busy: list[float] = []
    for name, id in ids.items():
        each, keys, loaded = asyncio.run(answered(folder, id, name, CHANGES))
        took, still, busy = took + each, still + keys, busy + loaded
        told(f"  {name}, by the clock: median, 95 %", spread([wall for wall, _ in each]))
    for place, clock in enumerate(("by the clock", "CPU")):
        times = [each[place] for each in took]
        worst = percentile(times, 0.95)
        told(f"answer to verdict, {clock}, {len(times)} answers: median, 95 %", spread(times), "95 % <= 100", worst <= 0.1)
    told(f"key to echo, nothing else running, {len(still)} keys: 95 %, max", late(still))
    told(f"key to echo, a verdict being worked out, {len(busy)} keys: 95 %, max", late(busy), "95 % <= 50", percentile(busy, 0.95) <= 0.05)


def spread(times: Sequence[float]) -> str:
    return f"{statistics.median(times) * 1e3:.0f}, {percentile(times, 0.95) * 1e3:.0f} ms"


def late(times: Sequence[float]) -> str:
    return f"{percentile(times, 0.95) * 1e3:.0f}, {max(times) * 1e3:.0f} ms"


# ---- memory --------------------------------------------------------------------------------------------------------


async def session(folder: Path, id: str) -> None:
    """Thirty answers, every page of results, and the plan, in the real application."""
    from wizard.app import StillroomApp
    from wizard.screens.interview import Interview
    from wizard.screens.plan import PlanPage
    from wizard.screens.results import PAGES
    from wizard.store import Store

    app = StillroomApp(Store(folder), id)

    async def idle() -> None:
        await asyncio.sleep(0.05)
        while [worker for worker in app.workers if not worker.is_finished and worker.group != "telling"]:
            await asyncio.sleep(0.02)
        await asyncio.sleep(0.05)

    async with app.run_test(size=(120, 40)):
        await idle()
        screen = app.screen
        assert isinstance(screen, Interview)
        draw = random.Random("session")
        for _ in range(30):
            question, text = change(screen.answers, draw)
            screen.go_to(question)
            screen.take(text)
            await idle()
            while app.screen is not screen:
                app.pop_screen()
        for kind in PAGES:
            screen.action_results(kind)
            await idle()
            app.pop_screen()
        screen.action_plan()
        await idle()
        assert isinstance(app.screen, PlanPage)
        await asyncio.sleep(1.0)
        await idle()


def memory(folder: Path) -> None:
    command = [sys.executable, __file__, "--session", str(folder / "m")]
    peak = float(subprocess.run(command, capture_output=True, text=True, check=True).stdout.split()[-1])
    told("peak memory of a session: 30 answers, all pages, the plan", f"{peak:.0f} MB", "< 250", peak < 250.0)


def _session(folder: Path) -> None:
    asyncio.run(session(folder, make_store(folder, ("demo",))["demo"]))
    print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / MEGABYTE)


PARTS = {"start": start, "plan": plan, "answer": answer, "memory": memory}


def main(wanted: Sequence[str]) -> None:
    if wanted[:1] == ["--session"]:
        _session(Path(wanted[1]))
        return
    for name in wanted or PARTS:
        begun = time.perf_counter()
        with tempfile.TemporaryDirectory() as folder:
            PARTS[name](Path(folder))
        print(f"({name}: {time.perf_counter() - begun:.0f} s, load {os.getloadavg()[0]:.1f})\n", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])

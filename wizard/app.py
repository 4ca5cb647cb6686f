"""The Textual application: a thin router. Screens hold the pages, wizard/session.py what a person has answered,
wizard/backroom.py the slow work."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import partial
from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.app import App, SystemCommand
from textual.binding import Binding, BindingType
from textual.filter import LineFilter
from textual.screen import Screen

from wizard.screens.home import Home
from wizard.session import Session
from wizard.store import Store, StoreError
from wizard.terminal import Ascii, Harmless, only_ascii
from wizard.theme import NARROW, NIGHT, THEMES

if TYPE_CHECKING:
    from wizard.backroom import Backroom


SETTLE = 0.05  # s; the first page is drawn before anything is loaded beside it, as both want the interpreter


class StillroomApp(App[None]):
    """Opens on the list of interviews, or straight in one."""

    TITLE = "Stillroom"
    CSS_PATH = "stillroom.tcss"
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (NARROW, "-wide")]  # noqa: RUF012  Textual declares it so
    VERTICAL_BREAKPOINTS = [(0, "-short"), (32, "-tall")]  # noqa: RUF012
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+p", "command_palette", "More", key_display="^P", priority=True, tooltip="All commands"),
        Binding("ctrl+q", "quit", "Quit", key_display="^Q", priority=True),
    ]

    def __init__(self, store: Store | None = None, open_id: str | None = None, backroom: Backroom | None = None) -> None:
        from wizard.backroom import Backroom

        super().__init__()
        self.store = store or Store()
        self.backroom = backroom or Backroom(folder=self.store.folder)
        self._open_id = open_id
        self._signs: list[LineFilter] = [Harmless(), *([Ascii()] if only_ascii() else [])]
        for theme, _ in THEMES.values():
            self.register_theme(theme)
        self.theme = NIGHT.name

    def get_line_filters(self) -> Sequence[LineFilter]:
        return [*super().get_line_filters(), *self._signs]

    def get_default_screen(self) -> Screen[None]:
        return Home(self.store)

    def on_mount(self) -> None:
        if self._open_id is not None:
            self.open_interview(self._open_id)
        self.set_timer(SETTLE, self.warm)

    @work(thread=True, group="warm", exit_on_error=False)
    def warm(self) -> None:
        """Import what is slow to import while the first page is being read. An error here is told where the import is needed."""
        self.backroom.warm()

    def on_home_open(self, event: Home.Open) -> None:
        self.open_interview(event.id)

    def open_interview(self, id: str) -> None:
        """Open a saved interview where it was left, or say why it cannot be opened."""
        try:
            session = Session.open(self.store, id)
        except StoreError as error:
            self.notify(str(error), title="This interview could not be opened", severity="error", markup=False, timeout=20)
            return
        from wizard.screens.interview import Interview  # not at the top: the list of interviews, which comes first, does not wait for it

        self.push_screen(Interview(session, self.backroom))

    async def action_quit(self) -> None:
        """Remember where the person stands; every answer is saved already."""
        from wizard.screens.interview import Interview

        for screen in self.screen_stack:
            if isinstance(screen, Interview):
                screen.save_place()
        await super().action_quit()

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        from wizard.screens.interview import Interview
        from wizard.screens.results import PAGES

        for name, (_, label) in THEMES.items():
            yield SystemCommand(f"Colours: {label}", "Change the colours of the screen", partial(setattr, self, "theme", name))
        if isinstance(screen, Interview):
            for kind, label in PAGES.items():
                yield SystemCommand(f"Show: {label}", "A page of results", partial(screen.action_results, kind))
        told = {"command_palette"}  # actions; of several keys for one, the first is named
        for _, binding, enabled, _ in screen.active_bindings.values():
            if enabled and (binding.show or binding.key_display) and binding.description and binding.action not in told:
                told.add(binding.action)
                what = binding.tooltip or binding.description
                yield SystemCommand(what, f"Key: {self.get_key_display(binding)}", partial(self.simulate_key, binding.key))


def run(store: Store | None = None, open_id: str | None = None) -> int:
    """Run the interface and return the exit code of the process."""
    app = StillroomApp(store, open_id)
    app.run()
    return app.return_code or 0

"""Whatever is typed into the plain interview: no crash, no lost answer, nothing but text on the terminal, and a clean end."""

from __future__ import annotations

import io
import tempfile
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st
from store_kit import QuickDisk

from wizard.backroom import Backroom
from wizard.interview.answers import Answers
from wizard.plain import Plain
from wizard.plain_words import Talk
from wizard.session import Session
from wizard.store import Store

ODD = (
    *("", " ", "1", "2", "1, 2", "99", "0", "~20 ft", "~", "20 ft", "7-4", "none", "[b]x", "½", "²", "1,²", "日本", "‏שלום", "don't know"),
    *("?", "<", ">", "d", "@", "@3", "@joist", "@people", "@\x00", "a", "u", "r", "m", "h", "v", "\x1b[31m", "9" * 400, "\ud800"),
)


class NoBackroom(Backroom):
    """Raises what a fault would."""

    def verdict(self, answers: Answers) -> object:  # type: ignore[override]
        raise ZeroDivisionError


@settings(max_examples=25, deadline=None)
@given(lines=st.lists(st.sampled_from(ODD) | st.text(max_size=12).filter(lambda text: text.strip() not in ("p", "P")), max_size=14))
def test_any_lines_end_well(lines: list[str]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        store = Store(Path(folder), disk=QuickDisk())
        id = store.create("Drums")
        session = Session.open(store, id)
        said = io.StringIO()
        Plain(session, NoBackroom(), Talk(io.StringIO("\n".join(lines)), said)).run()
        assert all(letter >= " " or letter == "\n" for letter in said.getvalue())
        assert said.getvalue().rstrip().splitlines()[-1].startswith("Saved: ")
        again = store.load(id)
        assert set(again.answers) == set(session.answers)
        assert (again.answers.units, again.place) == (session.answers.units, session.at)

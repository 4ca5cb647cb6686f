"""Whatever stands in a saved file: it is read, or set aside whole and explained; never a crash, never a file lost."""

from __future__ import annotations

import re
import tempfile
from importlib.resources import files
from pathlib import Path

from hypothesis import example, given, settings
from hypothesis import strategies as st
from store_kit import QuickDisk

from wizard.interview.answers import Answer, Answers
from wizard.interview.answers_file import FormatError, read_answers, write_answers
from wizard.screens.plan import folder_for
from wizard.store import Store, StoreError

DEMO = files("wizard").joinpath("example.toml").read_bytes()
GOOD = Answers({"people": Answer("2")}, "imperial", "Drums")


@st.composite
def mutations(draw: st.DrawFn) -> bytes:
    """The demo answers with a piece cut out, put in, or put elsewhere."""
    start = draw(st.integers(0, len(DEMO)))
    end = min(len(DEMO), start + draw(st.integers(0, 60)))
    piece = draw(st.binary(max_size=12) | st.sampled_from([b"", b'"""', b"\x00", b"=", b"[[answers]]", b"{", b"'", DEMO[start:end] * 2]))
    return DEMO[:start] + piece + (DEMO[end:] if draw(st.booleans()) else b"")


VALUES = st.recursive(
    st.sampled_from(["1", "-1", "true", '"x"', '"?"', "nan", "inf", "1979-05-27", "07:32:00", "0x" + "f" * 5000, "9" * 5000, "'''a\nb'''"]),
    lambda inner: st.lists(inner, max_size=3).map(lambda parts: f"[{', '.join(parts)}]") | inner.map(lambda part: f"{{ text = {part} }}"),
    max_leaves=4,
)
KEYS = st.sampled_from(["schema", "name", "units", "place", "changed", "revision", "answers", "answers.people", "answers.listeners", "x"])
SETTINGS = st.dictionaries(KEYS, VALUES, max_size=4).map(
    lambda pairs: "\n".join(f"{key} = {value}" for key, value in pairs.items()).encode()
)


def filed(data: bytes, folder: Path) -> None:
    """A file with this content beside one good version: load it, go on from there, and find everything again."""
    store = Store(folder, disk=QuickDisk())
    id = store.create("Drums", GOOD)
    store.save(id, GOOD.with_answer("people", Answer("3")), None)
    path = folder / "interviews" / id / "answers.toml"
    path.write_bytes(data)
    entry = store.list()[0]
    assert not any(letter in entry.name + entry.changed for letter in "\x1b\x07\n")
    loaded = Store(folder, disk=QuickDisk())
    saved = loaded.load(id)
    whole = [place.read_bytes() for place in (folder / "interviews" / id).rglob("*.toml")]
    assert data in whole
    if saved.notice:
        assert saved.answers == GOOD
    loaded.save(id, saved.answers.with_answer("people", Answer("9")), saved.place)
    again = Store(folder, disk=QuickDisk()).load(id)
    assert again.answers["people"].text == "9"
    assert data in [place.read_bytes() for place in (folder / "interviews" / id).rglob("*.toml")]


@settings(max_examples=40, deadline=None)
@given(
    data=st.one_of(st.binary(max_size=60), st.text(max_size=60).map(lambda text: text.encode("utf-8", "replace")), mutations(), SETTINGS)
)
@example(data=b"a = " + b"9" * 5000)
@example(data=b"revision = 0x" + b"f" * 5000 + b"\n[answers]\npeople = 0x" + b"f" * 5000)
@example(data=b"schema = 0x" + b"f" * 5000)
@example(data=b"a = " + b"[" * 5000)
@example(data=b'name = "\\u001b[31mred\\u0007"\n[answers]\npeople = 2')
@example(data=b"[answers]\n[answers.people]\ntext = '2'\n[answers.level]\ntext='9'\norigin='estimated'")
@example(data=b"answers.people = 2")
@example(data=b"\xef\xbb\xbfschema = 1")
def test_any_file_is_read_or_set_aside_whole(data: bytes) -> None:
    with tempfile.TemporaryDirectory() as folder:
        filed(data, Path(folder))


@settings(max_examples=40, deadline=None)
@given(data=mutations() | SETTINGS)
@example(data=b"answers.people = nan\nanswers.listeners = nan")
@example(data=b"answers.people = 2\nx.y = 1\nanswers.listeners = 'street'\nx.z = 1979-05-27")
@example(data=b"answers.people = 0x" + b"f" * 5000)
def test_any_text_is_answers_or_a_format_error(data: bytes) -> None:
    text = data.decode("utf-8", "replace")
    try:
        read = read_answers(text)
    except FormatError as error:
        assert str(error)  # noqa: PT017
        return
    again = read_answers(write_answers(read.answers, read.place, read.changed, read.revision, text))
    assert list(map(str, again.strangers)) == list(map(str, read.strangers))
    assert (again.answers, again.place, again.changed, again.revision) == (read.answers, read.place, read.changed, read.revision)


@settings(max_examples=50, deadline=None)
@given(
    id=st.text(max_size=90) | st.sampled_from(["..", "../x", "a/../../b", "C:\\x", "con", "a\x00b", "-", "é"]),
    name=st.text(max_size=40)
    | st.sampled_from(["..", "/etc/passwd", "~", "CON", "nul.txt", "COM1", "ＣＯＮ", "İ", "e\u0301" * 90, "\ud800", "a" * 200]),
)
def test_neither_id_nor_name_leads_out_of_the_folder(id: str, name: str) -> None:
    with tempfile.TemporaryDirectory() as outer:
        store = Store(Path(outer) / "data", disk=QuickDisk())
        for act in (store.load, store.delete, store.undelete, store.claim):
            try:
                act(id)
            except StoreError:
                continue
        try:
            store.create(name, GOOD)
        except StoreError:
            return
        assert [path.name for path in Path(outer).iterdir()] == ["data"]
        assert [path.name for path in (Path(outer) / "data").iterdir()] == ["interviews"]
        (made,) = (Path(outer) / "data" / "interviews").iterdir()
        assert re.fullmatch(
            r"[a-z0-9-]{1,30}-[0-9a-f]{6}", made.name
        )  # the same on a file system that folds case or normalises; never reserved
        folder = folder_for(name)
        assert folder.parent == Path.cwd()
        assert re.fullmatch(r"[a-z0-9-]{1,40}-plan", folder.name)

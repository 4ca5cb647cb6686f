"""The plan folder: every file, nothing left of an earlier plan, and a page that stands alone."""

from __future__ import annotations

import csv
import datetime
import io
import re
from dataclasses import replace
from functools import cache
from html.parser import HTMLParser
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from calc.assess import Assessment, assess
from calc.brief import Origin
from calc.materials.shopping import BESIDE
from wizard.export import HEAD, _cell, export, plan_files, undated
from wizard.figures.figure import Figure
from wizard.figures.gather import figures
from wizard.interview.answers import Answers
from wizard.interview.answers_file import read_strictly
from wizard.interview.to_brief import to_brief
from wizard.markdown import TURNING
from wizard.page import page

TODAY = datetime.date(2026, 3, 4)
EXAMPLE = (Path(__file__).parent.parent / "golden_plans" / "easy.toml").read_text(encoding="utf-8")
NASTY = (
    "|", "||", "\\", "`", "```", "*", "_", "~~", "[", "](http://x.y)", "![i](http://x.y/z.png)", "<b>", "</b>", "<!--", "-->", "<script>",
    "&lt;", "&#60;", "#", "# h", "1. ", "- ", "> ", "---", "\n", "\r\n", "\t", "\u2028", "www.x.org", "http://x.y", "a@b.cd", "{{", "}}",
    "{% raw %}", "%%", ";", ":", '"', "'", "=1+1", "@SUM(A1)", "](javascript:alert(1))", "\u202e", "\u2066", "é", "语", "😀",
    "]]>", "$$", "$x$", "^2^", "~2~", "[^1]", "^[n]", ":smile:", "{.c}", "{=html}", "[@x]", "::: a", "+cmd", "-2+3", "</style>",
    "END:VEVENT",
)  # fmt: skip
HOSTILE = (
    st.lists(st.one_of(st.sampled_from(NASTY), st.text(max_size=4)), min_size=1, max_size=8)
    .map("".join)
    .filter(lambda text: bool(text.split()))
)


class Page(HTMLParser):
    """What a browser would see: tags, ids, and everything that would make it fetch something."""

    VOID = ("meta", "br", "hr", "img", "link", "input")
    FETCHING = ("src", "href", "xlink:href", "data", "action", "poster", "srcset", "background")

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.open: list[str] = []
        self.ids: list[str] = []
        self.named: list[str] = []
        self.fetched: list[str] = []
        self.handlers: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        if tag not in self.VOID:
            self.open.append(tag)
        for name, value in attrs:
            if name == "id":
                self.ids.append(value or "")
            if name in ("href", "aria-labelledby", "aria-describedby") or "url(#" in (value or ""):
                self.named += re.findall(r"url\(#([^)]+)\)", value or "") or (value or "").replace("#", "").split()
            if name in self.FETCHING and not (value or "").startswith("#"):
                self.fetched.append(f"{tag} {name}={value}")
            if name.startswith("on"):
                self.handlers.append(name)
            if name == "style" or tag == "style":
                assert "url(" not in (value or "").replace("url(#", "")

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in self.VOID:
            self.open.pop()

    def handle_endtag(self, tag: str) -> None:
        assert self.open, f"</{tag}> closes nothing"
        assert self.open.pop() == tag


def seen(html: str) -> Page:
    found = Page()
    found.feed(html)
    found.close()
    return found


@cache
def made() -> tuple[Assessment, Answers, tuple[Figure, ...]]:
    """The example; a function and not a fixture, so that a failing example is not printed with all of it."""
    answers = read_strictly(EXAMPLE)
    assessment = assess(to_brief(answers))
    return assessment, answers, figures(assessment)


@cache
def plain() -> dict[str, str]:
    assessment, answers, drawn = made()
    return plan_files(assessment, answers, TODAY, drawn)


def shape(markdown: str) -> list[str]:
    """The blocks of a Markdown text, and whatever stands in its lines that is more than text."""
    tokens = MarkdownIt("gfm-like", {"linkify": False}).parse(markdown)
    inline = [child.type for token in tokens for child in token.children or []]
    return [token.type for token in tokens if token.type != "inline"] + [each for each in inline if each not in ("text", "text_special")]


@cache
def plain_shape(name: str) -> list[str]:
    return shape(plain()[name])


@pytest.fixture
def answers() -> Answers:
    return made()[1]


@pytest.fixture
def assessment() -> Assessment:
    return made()[0]


@pytest.fixture
def drawn() -> tuple[Figure, ...]:
    return made()[2]


def named(assessment: Assessment, text: str) -> Assessment:
    """The same assessment with a text in every place that a person can type into freely."""
    brief = replace(assessment.brief, name=text)
    listeners = tuple(replace(each, listener=replace(each.listener, label=text)) for each in assessment.isolation.listeners)
    return replace(assessment, brief=brief, isolation=replace(assessment.isolation, listeners=listeners))


@settings(max_examples=10, deadline=None)
@given(text=HOSTILE)
def test_nothing_typed_becomes_markup_anywhere(text: str) -> None:
    assessment, answers, drawn = made()
    files = plan_files(named(assessment, text), answers.with_name(text), TODAY, drawn)
    for name in (name for name in files if name.endswith(".md")):
        assert shape(files[name]) == plain_shape(name), name
    assert [line.partition(":")[0] for line in unfolded(files["tasks.ics"])] == [
        line.partition(":")[0] for line in unfolded(plain()["tasks.ics"])
    ]
    found = seen(page(files["plan.md"], drawn, text))
    assert found.tags == plain_tags()
    assert not found.handlers
    assert not found.fetched
    rows = list(csv.reader(io.StringIO(files["shopping-list.csv"])))
    assert {len(row) for row in rows} == {len(rows[0])}
    names = [line.split(":")[0].split(";")[0] for line in re.sub(r"\r\n ", "", files["tasks.ics"]).split("\r\n")]
    assert names == plain_names()
    assert max(len(line.encode()) for line in files["tasks.ics"].split("\r\n")) <= 75
    for name, told in files.items():
        assert not any(chr(sign) in told for sign in TURNING) or name.startswith("figures/"), name


def test_a_name_cannot_leave_the_foot_of_a_sheet() -> None:
    """The name stands in the page's style sheet as the text at the foot of each sheet of paper: nothing in it may end that text."""
    html = page(plain()["plan.md"], made()[2], 'x"} body { display: none } </style><p>')
    style = html[html.index("<style>") : html.index("</style>")]
    foot = re.search(r'@bottom-left \{ content: "([^"]*)";', style)
    assert foot
    assert re.fullmatch(r"(?:\w| |\\[0-9a-f]+ )*", foot[1])
    assert "display: none" not in style


@cache
def plain_names() -> list[str]:
    return [line.split(":")[0].split(";")[0] for line in re.sub(r"\r\n ", "", plain()["tasks.ics"]).split("\r\n")]


def unfolded(calendar: str) -> list[str]:
    """The properties of a calendar, one a line: RFC 5545, 3.1."""
    return calendar.replace("\r\n ", "").split("\r\n")


@cache
def plain_tags() -> list[str]:
    return seen(page(plain()["plan.md"], made()[2], "x")).tags


def test_the_page_stands_alone_with_every_figure(assessment: Assessment, answers: Answers, drawn: tuple[Figure, ...]) -> None:
    text = plan_files(assessment, answers, TODAY, drawn)["plan.md"]
    html = page(text, drawn, assessment.brief.name)
    found = seen(html)
    assert not found.handlers
    assert not found.fetched
    assert not {"script", "img", "iframe", "link", "object", "embed"} & set(found.tags)
    assert found.tags.count("figure") == found.tags.count("figcaption") == len(drawn)
    assert all(figure.svg in html for figure in drawn)
    assert len(found.ids) == len(set(found.ids))
    assert all(f"<p><em>{figure.caption}" not in html for figure in drawn)  # a caption stands once, under its figure
    assert len([each for each in found.ids if re.match(r"section-\d", each)]) == 15
    assert set(found.named) <= set(found.ids)  # links, titles of drawings, hatches: each leads to something on the page
    assert not found.open
    assert "default-src 'none'" in html  # and a browser is told to fetch nothing
    assert found.tags.count("nav") == 1
    assert "dateFormat" not in html  # the Mermaid block is for Markdown readers; the page has the figure
    boxes = found.tags.count("table") + found.tags.count("pre") + len(drawn)
    assert html.count('<div class="scroll" tabindex="0">') == boxes  # what is wide scrolls in a box that a keyboard reaches, too
    assert html.count('class="sheet"') == len([name for name in plain() if name.startswith("handoff/")])


def test_the_folder_holds_every_file_and_loses_only_our_own(assessment: Assessment, answers: Answers, tmp_path: Path) -> None:
    folder = tmp_path / "plan"
    (folder / "figures").mkdir(parents=True)
    (folder / "figures" / "mine.svg").write_text("<svg/>")
    (folder / "figures" / "old.svg").write_text("<!-- Written by Stillroom -->\n<svg/>")
    export(assessment, folder, answers, TODAY, html=True)
    there = {str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file()}
    assert {"plan.md", "plan.html", "shopping-list.csv", "tasks.ics", "figures/floor-plan.svg", "figures/mine.svg"} <= there
    assert {"handoff/structural-engineer.md", "handoff/hvac-designer.md", "handoff/electrician.md"} <= there
    assert "figures/old.svg" not in there
    assert not [name for name in there if name.endswith(".part")]
    text = (folder / "plan.md").read_text(encoding="utf-8")
    links = [part.split(")")[0] for part in text.split("](figures/")[1:]]
    assert links
    assert all((folder / "figures" / name).is_file() for name in links)


def test_each_sheet_makes_sense_alone(assessment: Assessment, answers: Answers, drawn: tuple[Figure, ...]) -> None:
    files = plan_files(assessment, answers, TODAY, drawn)
    for name in ("structural-engineer", "hvac-designer", "electrician", "building-official"):
        sheet = files[f"handoff/{name}.md"]
        assert assessment.brief.name in sheet
        assert "Written by Stillroom" in sheet
        assert f"Date: {TODAY.isoformat()}" in sheet
        assert "Owner, address, telephone: ____" in sheet
        assert sheet.count("Answer: ____") >= 4
        assert all(f"- {each}: ____" in sheet for each in ("Name and licence", "Date", "Signature"))
        assert "section " not in sheet.replace("section 3-4", "")
        assert "(../figures/section.svg)" in sheet
        assert "**Not for the owner to decide:**" in sheet
        assert "**When you are needed, and what waits for it**" in sheet


def test_a_sheet_says_how_each_fact_is_known(assessment: Assessment) -> None:
    """What the owner measured, estimated, took as usual or does not know are four different things to an engineer."""
    told = read_strictly(EXAMPLE)
    sheet = plan_files(assessment, told, TODAY, ())["handoff/structural-engineer.md"]
    facts = dict(re.findall(r"(?m)^\| ([^|]+) \| [^|]+ \| ([^|]+) \|$", sheet))
    assert facts["Joist span"] == "measured or told by the owner"
    unsure = told.with_answer("joist_span", replace(told.get("joist_span"), origin=Origin.ESTIMATED))
    sheet = plan_files(assess(to_brief(unsure)), unsure, TODAY, ())["handoff/structural-engineer.md"]
    assert dict(re.findall(r"(?m)^\| ([^|]+) \| [^|]+ \| ([^|]+) \|$", sheet))["Joist span"] == "estimated by the owner"


def test_the_note_to_the_neighbour_is_short_and_has_no_trade_words() -> None:
    told = read_strictly((Path(__file__).parent.parent / "golden_plans" / "attached_neighbour.toml").read_text(encoding="utf-8"))
    note = plan_files(assess(to_brief(told)), told, TODAY, ())["handoff/neighbour.md"]
    assert len(note.split()) < 250
    assert not re.search(r"(?i)\b(band|octave|STC|likelihood|margin|permit|sealant|decoupl\w*|flanking|transmission)\b", note)
    assert note.count("dBA") == 2  # the level, and what the word means


def test_every_purchase_says_when_how_many_of_what_at_what_price_and_for_what(assessment: Assessment) -> None:
    text = plain()["shopping-list.csv"]
    assert text[0] == "\ufeff"  # by which a spreadsheet knows UTF-8
    rows = list(csv.DictReader(io.StringIO(text[1:])))
    assert tuple(rows[0]) == HEAD
    assert all(value for row in rows for value in row.values())
    assert {row["currency"] for row in rows} == {assessment.brief.means.currency}
    for row in rows:
        assert abs(int(row["amount"]) * float(row["price of one unit"]) - float(row["total"])) <= 0.005 * int(row["amount"]) + 0.005
    for bill, mine in (
        (assessment.bill, [row for row in rows if row["stage"] != BESIDE]),
        (assessment.sound_bill, [row for row in rows if row["stage"] == BESIDE]),
    ):
        assert mine
        assert abs(sum(float(row["total"]) for row in mine) - sum(row.total for row in bill.rows)) <= 0.005 * len(rows)


@given(st.text(max_size=20) | st.sampled_from(["=1+1", "+cmd|x", "-2+3", "@SUM(A1)", "\t=1", "\r=1"]))
def test_no_cell_is_a_formula(text: str) -> None:
    shown = _cell(text)
    assert shown in (text, f"'{text}")
    assert shown[:1] not in set("=+-@\t\r") or re.fullmatch(r"-*[\d.]+", shown)


def test_a_plan_of_another_day_is_the_same_plan(assessment: Assessment, answers: Answers) -> None:
    undecided = answers.without("start")
    one, two = (plan_files(assessment, undecided, day, ())["plan.md"] for day in (TODAY, datetime.date(2030, 1, 1)))
    assert one != two
    assert undated(one) == undated(two)

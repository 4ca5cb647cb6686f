"""The plan folder: every file, nothing left of an earlier plan, and a page that stands alone."""

from __future__ import annotations

import csv
import datetime
import io
from dataclasses import replace
from functools import cache
from html.parser import HTMLParser
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from calc.assess import Assessment, assess
from wizard.export import export, plan_files, undated
from wizard.figures.figure import Figure
from wizard.figures.gather import figures
from wizard.interview.answers import Answers
from wizard.interview.answers_file import read_strictly
from wizard.interview.to_brief import to_brief
from wizard.page import page

TODAY = datetime.date(2026, 3, 4)
EXAMPLE = (Path(__file__).parent.parent / "golden_plans" / "easy.toml").read_text(encoding="utf-8")
NASTY = (
    "|", "||", "\\", "`", "```", "*", "_", "~~", "[", "](http://x.y)", "![i](http://x.y/z.png)", "<b>", "</b>", "<!--", "-->", "<script>",
    "&lt;", "&#60;", "#", "# h", "1. ", "- ", "> ", "---", "\n", "\r\n", "\t", "\u2028", "www.x.org", "http://x.y", "a@b.cd", "{{", "}}",
    "{% raw %}", "%%", ";", ":", '"', "'", "=1+1", "@SUM(A1)", "javascript:", "\u202e", "é", "语", "]]>", "$$",
)  # fmt: skip
HOSTILE = (
    st.lists(st.one_of(st.sampled_from(NASTY), st.text(max_size=4)), min_size=1, max_size=8)
    .map("".join)
    .filter(lambda text: bool(text.split()))
)


class Page(HTMLParser):
    """What a browser would see: tags, ids, and everything that would make it fetch something."""

    FETCHING = ("src", "href", "xlink:href", "data", "action", "poster", "srcset", "background")

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.ids: list[str] = []
        self.fetched: list[str] = []
        self.handlers: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        for name, value in attrs:
            if name == "id":
                self.ids.append(value or "")
            if name in self.FETCHING and not (value or "").startswith("#"):
                self.fetched.append(f"{tag} {name}={value}")
            if name.startswith("on"):
                self.handlers.append(name)
            if name == "style" or tag == "style":
                assert "url(" not in (value or "")


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
    for name in ("plan.md", "handoff/building-official.md"):
        assert shape(files[name]) == plain_shape(name), name
    found = seen(page(files["plan.md"], drawn, text))
    assert found.tags == plain_tags()
    assert not found.handlers
    assert not found.fetched
    rows = list(csv.reader(io.StringIO(files["shopping-list.csv"])))
    assert {len(row) for row in rows} == {len(rows[0])}


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
    assert {f"section-{number}" for number in range(1, 16)} <= set(found.ids)
    assert "dateFormat" not in html  # the Mermaid block is for Markdown readers; the page has the figure
    assert found.tags.count("table") == html.count('<div class="scroll">')


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


def test_each_sheet_makes_sense_alone(assessment: Assessment, answers: Answers) -> None:
    files = plan_files(assessment, answers, TODAY, ())
    for name in ("structural-engineer", "hvac-designer", "electrician", "building-official"):
        sheet = files[f"handoff/{name}.md"]
        assert assessment.brief.name in sheet
        assert "Written by Stillroom" in sheet
        assert f"Date: {TODAY.isoformat()}" in sheet
        assert sheet.count("Answer: ____") >= 4
        assert "signature: ____" in sheet
        assert "section " not in sheet.replace("section 3-4", "")
        assert "1. " in sheet
        assert "**Facts**" in sheet


def test_a_plan_of_another_day_is_the_same_plan(assessment: Assessment, answers: Answers) -> None:
    undecided = answers.without("start")
    one, two = (plan_files(assessment, undecided, day, ())["plan.md"] for day in (TODAY, datetime.date(2030, 1, 1)))
    assert one != two
    assert undated(one) == undated(two)

"""The plan and its sheets say the same in every reader of Markdown: CommonMark, GitHub's and pandoc's.

Readers differ in what a heading's anchor is, in what they take for mathematics, footnotes, attributes or links, and in what they need
before a list or a table.

Source of the anchor rules: pandoc User's Guide, extensions auto_identifiers and gfm_auto_identifiers, release 2.17.
"""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from markdown_it import MarkdownIt
from markdown_it.token import Token
from test_plan_goldens import NAMES, TODAY, made

import templates
from wizard.export import plan_files
from wizard.figures.gather import figures

TEXTS: dict[str, dict[str, str]] = {}
needs_pandoc = pytest.mark.skipif(shutil.which("pandoc") is None, reason="pandoc is not on this machine")


def texts(name: str) -> dict[str, str]:
    """plan.md and the sheets of one invented basement, by path."""
    if name not in TEXTS:
        answers, assessment = made(name)
        files = plan_files(assessment, answers, TODAY, figures(assessment))
        TEXTS[name] = {path: text for path, text in files.items() if path.endswith(".md")}
    return TEXTS[name]


def github_anchor(heading: str) -> str:
    """Lower case, punctuation but hyphen and underscore dropped, a hyphen for each space."""
    return re.sub(r"[^\w\- ]", "", heading.lower()).replace(" ", "-")


def pandoc_anchor(heading: str) -> str:
    """Everything before the first letter dropped, punctuation but hyphen, underscore and full stop dropped, runs of space one hyphen."""
    kept = re.sub(r"[^\w\-. ]", "", heading.lower())
    return re.sub(r"^[^a-z]+", "", re.sub(r"\s+", "-", kept)) or "section"


def children(tokens: list[Token]) -> Iterator[Token]:
    for token in tokens:
        yield from token.children or []


def words(inline: Token) -> str:
    return "".join(child.content for child in inline.children or [])


@pytest.mark.parametrize("name", NAMES)
def test_every_link_leads_to_an_anchor_that_every_reader_makes(name: str) -> None:
    for path, text in texts(name).items():
        tokens = MarkdownIt("gfm-like", {"linkify": False}).parse(text)
        headings = [words(after) for token, after in pairwise(tokens) if token.type == "heading_open"]
        anchors = [github_anchor(each) for each in headings]
        there = {
            anchor for anchor, each in zip(anchors, headings, strict=True) if anchor == pandoc_anchor(each) and anchors.count(anchor) == 1
        }
        inner = [
            str(child.attrs["href"])[1:] for child in children(tokens) if child.type == "link_open" and str(child.attrs["href"])[0] == "#"
        ]
        assert set(inner) <= there, path
        assert len(inner) == (15 if path == "plan.md" else 0)


@pytest.mark.parametrize("name", NAMES)
def test_every_other_link_leads_to_a_file_of_the_folder(name: str) -> None:
    answers, assessment = made(name)
    there = plan_files(assessment, answers, TODAY, figures(assessment))
    for path, text in texts(name).items():
        up = "../" if "/" in path else ""
        for child in children(MarkdownIt("gfm-like", {"linkify": False}).parse(text)):
            to = str(child.attrs.get("src" if child.type == "image" else "href", ""))
            if child.type in ("image", "link_open") and not to.startswith("#"):
                assert to.startswith(up)
                assert to.removeprefix(up) in there, (path, to)


@pytest.mark.parametrize("name", NAMES)
def test_a_blank_line_stands_before_every_list_table_fence_and_heading(name: str) -> None:
    """Pandoc begins none of them inside a paragraph; CommonMark does, and would show another text."""
    begins = re.compile(r"([-*+] |\d+[.)] |\||```|#)")
    for path, text in texts(name).items():
        before, fenced = "", False
        for line in text.splitlines():
            starts = begins.match(line)
            if starts and before and not fenced:
                first = before.lstrip()[:1]
                assert before.startswith(("- ", "|", "   ")) or re.match(r"\d+\. ", before), (path, before, line)
                assert (line[0] == "|") == (first == "|"), (path, before, line)
            fenced ^= line.startswith("```")
            before = line


@pytest.mark.parametrize("name", NAMES)
def test_every_table_is_full_and_named(name: str) -> None:
    """As many cells in each row as in the head, and a head that is not empty: pandoc drops an empty one."""
    for path, text in texts(name).items():
        lines = text.splitlines()
        for number, line in enumerate(lines):
            if re.fullmatch(r"\|( :?-+:? \|)+", line):
                assert lines[number - 1].strip("| "), (path, number)
                columns = line.count("|") - 1
                for row in (lines[number - 1], *rows_below(lines, number)):
                    assert len(re.findall(r"(?<!\\)\|", row)) - 1 == columns, (path, row)


def rows_below(lines: list[str], number: int) -> list[str]:
    rows: list[str] = []
    for line in lines[number + 1 :]:
        if not line.startswith("|"):
            break
        rows.append(line)
    return rows


@pytest.mark.parametrize("name", NAMES)
def test_no_sign_is_left_that_only_some_readers_understand(name: str) -> None:
    """Mathematics, footnotes, superscripts, citations, spans, raw parts, line blocks, definitions and tags, outside code."""
    odd = re.compile(r"(?<!\\)\$|\[\^|\^\[|(?<!\\)\^|(?<!\\)~|(?<!\\)@|\]\{|`\{|(?m:^\| [^|]*$)|(?m:^:{1,3} )|(?<!\\)<[/!?a-zA-Z]")
    for path, text in texts(name).items():
        told = re.sub(r"(?ms)^```.*?^```$|`[^`\n]*`", "", text)
        assert not odd.findall(told), path


def ast(reader: str, text: str) -> list[Any]:
    """What pandoc makes of a text: each block and each inline part that is more than words, in order; rows with their cells' words."""
    run = subprocess.run(["pandoc", "-f", reader, "-t", "json"], input=text, capture_output=True, text=True, check=True, encoding="utf-8")
    out: list[Any] = []
    walk(json.loads(run.stdout)["blocks"], out)
    return out


def walk(node: Any, out: list[Any]) -> None:
    if isinstance(node, list):
        for each in node:
            walk(each, out)
    elif isinstance(node, dict):
        kind, content = node.get("t"), node.get("c")
        match kind:
            case (
                "Str" | "Space" | "SoftBreak" | "Para" | "Plain" | "Quoted" | "SingleQuote" | "DoubleQuote" | "ColWidth" | "ColWidthDefault"
            ):
                pass  # words, their typography, and how wide a column is set
            case "Header":
                out.append((kind, content[0]))
            case "Table":
                out.append((kind, len(content[2]), len(content[3][1]), *(len(body[3]) for body in content[4])))
            case "BulletList":
                out.append((kind, len(content)))
            case "OrderedList":
                out.append((kind, content[0][0], len(content[1])))
            case "Image" | "Link":
                out.append((kind, content[2][0]))
            case "CodeBlock":
                out.append((kind, content[0][1], content[1]))
            case _:
                out.append(kind)
        walk(content, out)


@needs_pandoc
@pytest.mark.parametrize("name", NAMES)
def test_pandoc_reads_the_same_by_three_rules(name: str) -> None:
    for path, text in texts(name).items():
        common = ast("commonmark+pipe_tables", text)
        assert ast("gfm", text) == common, path
        assert ast("markdown", text) == common, path
        assert {"RawBlock", "RawInline", "Math", "Note", "Cite", "Span", "Div"}.isdisjoint(each for each in common if isinstance(each, str))


@needs_pandoc
@pytest.mark.parametrize("reader", ["gfm", "markdown"])
def test_pandoc_makes_the_anchors_that_the_plan_links_to(reader: str) -> None:
    text = texts("easy")["plan.md"]
    run = subprocess.run(["pandoc", "-f", reader, "-t", "html"], input=text, capture_output=True, text=True, check=True, encoding="utf-8")
    made_ids = re.findall(r'id="([^"]+)"', run.stdout)
    linked = re.findall(r'href="#([^"]+)"', run.stdout)
    assert len(linked) == 15
    assert set(linked) <= set(made_ids)


def test_the_drawings_that_a_sheet_names_are_drawings_of_ours() -> None:
    """A sheet leaves out a drawing that does not apply, so a slip in a name would go unseen."""
    drawn = {figure.name for name in NAMES for figure in figures(made(name)[1])}
    sheets = [path.read_text(encoding="utf-8") for path in (Path(templates.__file__).parent / "handoff").iterdir()]
    lists = [found for sheet in sheets for found in re.findall(r"set drawings = \((.*?)\)", sheet)]
    named = {each for found in lists for each in re.findall(r'"([\w-]+)"', found)}
    assert len(named) > 10
    assert named <= drawn | {"silencer-box"}  # drawn by wizard/figures/ducts.py where an air path has a box; none of these four has


HOSTILE = (
    "$x$ and $$y$$", "a^2^ b~2~ ~~c~~", "[^1] ^[n] [^1]: z", "[@x] @y a@b.cd", "[span]{.c} {#id .c} `c`{=html}", "::: div", "(@) x",
    "- [ ] x", "[a](javascript:alert(1)) ![i](u)", "<b>x</b> <!-- --> &#60;", ":smile: http://x.y www.x.org", "|a|b|", "# h",
    "Term\n: x", "\\(x\\) \\[y\\]", "*[H]: a",
)  # fmt: skip


@needs_pandoc
@pytest.mark.parametrize("reader", ["gfm", "markdown"])
def test_pandoc_finds_nothing_in_a_name_but_words(reader: str) -> None:
    answers, assessment = made("attached_neighbour")

    def blocks(name: str) -> list[Any]:
        listeners = tuple(replace(each, listener=replace(each.listener, label=name)) for each in assessment.isolation.listeners)
        isolation = replace(assessment.isolation, listeners=listeners)
        changed = replace(assessment, brief=replace(assessment.brief, name=name), isolation=isolation)
        files = plan_files(changed, answers.with_name(name), TODAY, ())
        found = [part for path in ("plan.md", "handoff/neighbour.md") for part in ast(reader, files[path])]
        return [part[:2] if part[0] == "CodeBlock" else part for part in found]  # a block of code holds the name as it is

    plain = blocks("A room")
    for name in (" ".join(HOSTILE), *HOSTILE[:5]):
        assert blocks(name) == plain, name

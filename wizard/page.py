"""The plan as one printable page: the Markdown rendered, the figures inside, nothing fetched."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from itertools import pairwise

from markdown_it import MarkdownIt
from markdown_it.token import Token

from wizard.figures.figure import Figure
from wizard.markdown import anchor, one_line
from wizard.render import SHEETS

POLICY = "default-src 'none'; style-src 'unsafe-inline'"  # a browser fetches nothing, whatever stands in the page

# Figures are 170 mm wide and drawn to scale: paper must never shrink them, so nothing on paper may be wider than its column. On a
# telephone they and wide tables keep a legible size and scroll in their own box. Margins leave 180 mm on A4 and 186 mm on US Letter.
STYLE = """
:root { color-scheme: light; }
body { font: 16px/1.5 Georgia, "Times New Roman", serif; max-width: 46rem; margin: 0 auto; padding: 1rem; color: #111; background: #fff;
  overflow-wrap: break-word; -webkit-text-size-adjust: 100%; }
h1, h2, h3, h4 { font-family: Helvetica, Arial, sans-serif; line-height: 1.2; break-after: avoid; }
h2 { margin-top: 2.5rem; border-top: 2px solid #111; padding-top: .5rem; }
a { color: #0645ad; }
.scroll { overflow-x: auto; margin: 1rem 0; }
table { border-collapse: collapse; font-size: .9em; }
th, td { border: 1px solid #777; padding: .25rem .5rem; text-align: left; vertical-align: top; }
pre { font-size: .75em; line-height: 1.1; margin: 0; padding: .5em 0; }
figure { margin: 1.5rem 0; }
figure svg { display: block; max-width: 100%; height: auto; }
nav ul { list-style: none; padding: 0; columns: 2 16rem; font-size: .9em; }
figcaption { font-size: .9em; }
@media screen and (max-width: 42rem) {
  figure svg, table:has(th:nth-child(4)) { max-width: none; min-width: 34rem; }
}
@media print {
  body { max-width: none; font-size: 10.5pt; padding: 0; orphans: 3; widows: 3; }
  a { color: inherit; text-decoration: none; }
  .scroll { display: contents; }
  nav ul { columns: 3; font-size: .8em; }
  pre { white-space: pre-wrap; }
  figure, pre, nav, tr, li, ul:not(:has(> li:nth-child(4))), table:not(:has(tr:nth-child(9))) { break-inside: avoid; }
  figure svg { max-height: 230mm; }
  p:has(+ .scroll), p:has(+ ul), p:has(+ ol), p:has(+ nav) { break-after: avoid; }
  h2:has(+ p + .sheet), .sheet ~ .sheet, .sheet ~ h2 { break-before: page; }
}
@page {
  margin: 15mm 15mm 18mm;
  @bottom-left { content: "TITLE"; FOOT }
  @bottom-right { content: counter(page) " / " counter(pages); FOOT }
}
""".replace("FOOT", "font: 8pt Helvetica, Arial, sans-serif; color: #444")
LONGEST_FOOT = 60  # signs of a name that stand at the foot of every sheet beside its number


def page(markdown: str, drawn: Sequence[Figure], title: str) -> str:
    """One self-contained HTML page of a plan; each linked figure stands in it as SVG. No script, no request. Raises KeyError for a link
    to a figure that is not among ``drawn``."""
    parser = MarkdownIt("commonmark", {"html": False}).enable("table")
    tokens = parser.parse(markdown)
    _name_headings(tokens)
    body = parser.renderer.render(_with_figures(tokens, {each.name: each for each in drawn}), parser.options, {})
    title = one_line(title)
    head = (
        f'<meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="{POLICY}">'
        '<meta name="viewport" content="width=device-width, initial-scale=1"><meta name="format-detection" content="telephone=no">'
        f"<title>{escape(title)}</title><style>{STYLE.replace('TITLE', _css(title[:LONGEST_FOOT]))}</style>"
    )
    return f'<!DOCTYPE html>\n<html lang="en"><head>{head}</head>\n<body><main>\n{body}</main></body></html>\n'


def _css(text: str) -> str:
    """A text for a string of a style sheet: all but letters, digits and spaces as escapes. Source: CSS Syntax Module Level 3, 4.3.7."""
    return "".join(sign if sign.isalnum() or sign == " " else f"\\{ord(sign):x} " for sign in text)


def _name_headings(tokens: Sequence[Token]) -> None:
    """Each section gets the anchor that the plan's own links name; a sheet for a professional begins on a sheet of paper of its own."""
    for token, inline in pairwise(tokens):
        if token.type == "heading_open" and token.tag == "h2":
            token.attrs["id"] = anchor(_text(inline))
        elif token.type == "heading_open" and token.tag == "h3" and _text(inline) in SHEETS.values():
            token.attrs["class"] = "sheet"


def _text(inline: Token) -> str:
    """The words of a heading."""
    return "".join(child.content for child in inline.children or [])


def _with_figures(tokens: Sequence[Token], drawn: dict[str, Figure]) -> list[Token]:
    """Paragraphs that are one image become the figure itself; tables can be scrolled on a small screen."""
    out: list[Token] = []
    skip, contents = 0, False
    for number, token in enumerate(tokens):
        if skip:
            skip -= 1
            continue
        children = (tokens[number + 1].children or []) if token.type == "paragraph_open" else []
        image = children[0] if len(children) == 1 and children[0].type == "image" else None
        if image is not None:
            figure = drawn[str(image.attrs["src"]).removeprefix("figures/").removesuffix(".svg")]
            drawing = f'<div class="scroll" tabindex="0">{figure.svg}</div>'
            out.append(_raw(f"<figure>{drawing}<figcaption>{escape(figure.caption)}</figcaption></figure>\n"))
            skip = 5 if _caption(tokens, number + 3) else 2
        elif token.type == "fence" and token.info == "mermaid":
            continue  # the same bars stand beside it as a figure
        elif token.type in ("table_open", "fence"):
            out += [_raw('<div class="scroll" tabindex="0">'), token, *([_raw("</div>\n")] if token.type == "fence" else [])]
        elif token.type == "table_close":
            out += [token, _raw("</div>\n")]
        elif token.type == "bullet_list_open" and token.level == 0 and _leads_inside(tokens[number + 3]):
            out += [_raw('<nav aria-label="Sections">'), token]
            contents = True
        elif token.type == "bullet_list_close" and token.level == 0 and contents:
            out += [token, _raw("</nav>\n")]
            contents = False
        else:
            out.append(token)
    return out


def _leads_inside(inline: Token) -> bool:
    """Whether a line begins with a link to a section: the first of the list of sections does."""
    first = (inline.children or [inline])[0]
    return first.type == "link_open" and str(first.attrs["href"]).startswith("#")


def _caption(tokens: Sequence[Token], number: int) -> bool:
    """Whether a paragraph begins there that is all in italics: a figure's caption, which the page sets under the figure itself."""
    if number + 1 >= len(tokens) or tokens[number].type != "paragraph_open":
        return False
    children = [child for child in tokens[number + 1].children or [] if child.type != "text" or child.content]
    return bool(children) and children[0].type == "em_open" and children[-1].type == "em_close"


def _raw(html: str) -> Token:
    return Token("html_block", "", 0, content=html)

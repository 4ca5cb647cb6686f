"""The plan as one printable page: the Markdown rendered, the figures inside, nothing fetched."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from markdown_it import MarkdownIt
from markdown_it.token import Token

from wizard.figures.figure import Figure

STYLE = """
:root { color-scheme: light; }
body { font: 16px/1.5 Georgia, "Times New Roman", serif; max-width: 46rem; margin: 0 auto; padding: 1rem; color: #111; background: #fff; }
h1, h2, h3 { font-family: Helvetica, Arial, sans-serif; line-height: 1.2; break-after: avoid; }
h2 { margin-top: 2.5rem; border-top: 2px solid #111; padding-top: .5rem; }
.scroll { overflow-x: auto; }
table { border-collapse: collapse; font-size: .9em; }
th, td { border: 1px solid #777; padding: .25rem .5rem; text-align: left; vertical-align: top; }
pre { overflow-x: auto; font-size: .75em; line-height: 1.1; }
figure { margin: 1.5rem 0; break-inside: avoid; }
figure svg { max-width: 100%; height: auto; }
nav ul { list-style: none; padding: 0; columns: 2 16rem; font-size: .9em; }
figcaption { font-size: .9em; }
@media print {
  body { max-width: none; font-size: 10.5pt; padding: 0; }
  .scroll, pre { overflow: visible; }
  pre { white-space: pre-wrap; }
  tr { break-inside: avoid; }
}
"""


def page(markdown: str, drawn: Sequence[Figure], title: str) -> str:
    """One self-contained HTML page of a plan; each linked figure stands in it as SVG. No script, no request. Raises KeyError for a link
    to a figure that is not among ``drawn``."""
    parser = MarkdownIt("commonmark", {"html": False}).enable("table")
    tokens = parser.parse(markdown)
    contents = _contents(tokens)
    body = parser.renderer.render(_with_figures(tokens, {each.name: each for each in drawn}), parser.options, {})
    head = f'<meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>{escape(title)}</title>'
    return f'<!DOCTYPE html>\n<html lang="en"><head>{head}<style>{STYLE}</style></head>\n<body>\n{contents}{body}</body></html>\n'


def _contents(tokens: Sequence[Token]) -> str:
    """Links to the sections; each section heading is given the id that its link names."""
    rows: list[str] = []
    for number, token in enumerate(tokens):
        if token.type == "heading_open" and token.tag == "h2":
            token.attrs["id"] = f"section-{len(rows) + 1}"
            rows.append(f'<li><a href="#section-{len(rows) + 1}">{escape(_text(tokens[number + 1]))}</a></li>')
    return f'<nav aria-label="Contents"><ul>{"".join(rows)}</ul></nav>\n'


def _text(inline: Token) -> str:
    """The words of a heading."""
    return "".join(child.content for child in inline.children or [])


def _with_figures(tokens: Sequence[Token], drawn: dict[str, Figure]) -> list[Token]:
    """Paragraphs that are one image become the figure itself; tables can be scrolled on a small screen."""
    out: list[Token] = []
    skip = 0
    for number, token in enumerate(tokens):
        if skip:
            skip -= 1
            continue
        children = (tokens[number + 1].children or []) if token.type == "paragraph_open" else []
        image = children[0] if len(children) == 1 and children[0].type == "image" else None
        if image is not None:
            figure = drawn[str(image.attrs["src"]).removeprefix("figures/").removesuffix(".svg")]
            out.append(_raw(f"<figure>{figure.svg}<figcaption>{escape(figure.caption)}</figcaption></figure>\n"))
            skip = 5 if _caption(tokens, number + 3) else 2
        elif token.type == "fence" and token.info == "mermaid":
            continue  # the same bars stand beside it as a figure
        elif token.type in ("table_open", "table_close"):
            out += [_raw('<div class="scroll">'), token] if token.type == "table_open" else [token, _raw("</div>\n")]
        else:
            out.append(token)
    return out


def _caption(tokens: Sequence[Token], number: int) -> bool:
    """Whether a paragraph begins there that is all in italics: a figure's caption, which the page sets under the figure itself."""
    if number + 1 >= len(tokens) or tokens[number].type != "paragraph_open":
        return False
    children = [child for child in tokens[number + 1].children or [] if child.type != "text" or child.content]
    return bool(children) and children[0].type == "em_open" and children[-1].type == "em_close"


def _raw(html: str) -> Token:
    return Token("html_block", "", 0, content=html)

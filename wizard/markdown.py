"""Text made harmless for every reader of Markdown, and the anchors that they make.

Sources: CommonMark specification 0.31, 2.4 backslash escapes; GitHub Flavored Markdown specification 0.29, 6.9 autolinks; pandoc User's
Guide, release 2.17, extensions of its own Markdown (tex_math_dollars, superscript, subscript, citations) and auto_identifiers.
"""

from __future__ import annotations

import re

# What one of them takes for more than text: CommonMark's signs, GitHub's www. and :emoji:, pandoc's $, ^, ~ and @.
SIGNS = re.compile(r"([\\|<>\[\]`*_&@~$^]|:(?=//|[\w+-]+:)|(?<=www)\.)")
BREAKS = re.compile(r"[\n-\r\x1c-\x1e\x85\u2028\u2029]+")  # wherever str.splitlines() breaks a line
TURNING = dict.fromkeys([*range(0x202A, 0x202F), *range(0x2066, 0x206A)])  # Unicode's embeddings, overrides and isolates
# One of the signs that escaping may change, to pass most text over quickly.
SPECIAL = re.compile(r"[\\|<>\[\]`*_&@~$^:\n-\r\x1c-\x1e\x85\u2028\u2029\u202a-\u202e\u2066-\u2069]|www\.")


def one_line(text: object) -> str:
    """Any text on one line, without the signs that turn the direction of what follows."""
    return " ".join(str(text).translate(TURNING).split())


def escaped(text: str) -> str:
    """Text in the midst of a line, its blanks kept: no line break, and every sign that could break it or make a tag or a link escaped."""
    return text if SPECIAL.search(text) is None else SIGNS.sub(r"\\\1", BREAKS.sub(" ", text.translate(TURNING)))


def cell(text: object) -> str:
    """Any text, typed or ours, for a line or a table cell: one line, and every sign that could break it or make a tag or a link escaped."""
    plain = str(text)
    return " ".join(plain.split()) if SPECIAL.search(plain) is None else SIGNS.sub(r"\\\1", one_line(plain))


def anchor(heading: str) -> str:
    """The anchor of a heading as GitHub makes it and pandoc, too, where the heading begins with a letter and holds no full stop."""
    return re.sub(r"[^\w -]", "", heading.lower()).replace(" ", "-")

"""One figure of the plan."""

from __future__ import annotations

import re
from dataclasses import dataclass


@dataclass(frozen=True)
class Figure:
    """``name`` is the file's stem; ``title``, ``caption`` and ``text`` are plain text, and may hold what a person typed.

    ``text`` says in words what the drawing shows, for who cannot see it.
    """

    name: str
    title: str
    svg: str
    caption: str
    text: str


def stem(text: str) -> str:
    """A word for a file's name: letters, digits and dashes."""
    return re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-") or "place"

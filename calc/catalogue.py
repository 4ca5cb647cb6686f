"""Loads data/*.toml. Every fact of the catalogue stands there once, with its source."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import tomli

_DATA = Path(__file__).parent / "data"  # importlib.resources would take a fifth of what our own modules take to import


@cache
def load(name: str) -> dict[str, Any]:
    """The table data/<name>.toml as plain dicts. Callers must not change it. Raises FileNotFoundError for an unknown name."""
    return tomli.loads((_DATA / f"{name}.toml").read_text(encoding="utf-8"))

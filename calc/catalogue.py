"""Loads data/*.toml. Every fact of the catalogue stands there once, with its source."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def load(name: str) -> dict[str, Any]:
    """The table data/<name>.toml as plain dicts. Callers must not change it. Raises FileNotFoundError for an unknown name."""
    return tomllib.loads(files("calc").joinpath("data", f"{name}.toml").read_text(encoding="utf-8"))

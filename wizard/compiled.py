"""Compiled templates, kept as Python keeps compiled modules: to compile them takes as long as to work out a plan."""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from functools import cache
from importlib.util import cache_from_source
from pathlib import Path
from typing import Any

from jinja2 import BytecodeCache
from jinja2.bccache import Bucket
from jinja2.compiler import CodeGenerator, Frame
from jinja2.nodes import Expr, Impossible, TemplateData

import templates


class Unfolded(CodeGenerator):
    """Compiles nothing in that a filter makes of a constant: so what is kept depends on the template alone, not on units, currency or our
    own code. For an environment with ``optimized=False``."""

    def _output_child_to_const(self, node: Expr, frame: Frame, finalize: Any) -> str:
        if not isinstance(node, TemplateData):
            raise Impossible
        return super()._output_child_to_const(node, frame, finalize)


class Compiled(BytecodeCache):
    """In memory, and beside the templates in __pycache__, unless Python was told to write none there or cannot.

    A file that belongs to another text of its template, or to another Python, is passed over: Jinja compares both."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._kept: dict[str, bytes] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        if bucket.key not in self._kept:
            with suppress(OSError):
                self._kept[bucket.key] = self._path(bucket).read_bytes()
        if bucket.key in self._kept:
            try:
                bucket.bytecode_from_string(self._kept[bucket.key])
            except Exception:  # a file cut short: unpickling raises many kinds
                bucket.reset()

    def dump_bytecode(self, bucket: Bucket) -> None:
        self._kept[bucket.key] = bucket.bytecode_to_string()
        if sys.dont_write_bytecode:
            return
        path = self._path(bucket)
        beside = path.with_name(f"{path.name}.{os.getpid()}")
        with suppress(OSError):
            path.parent.mkdir(parents=True, exist_ok=True)
            beside.write_bytes(self._kept[bucket.key])
            beside.replace(path)

    def _path(self, bucket: Bucket) -> Path:
        return Path(cache_from_source(str(self._folder / f"{bucket.key}.py"))).with_suffix(".jinja")


@cache
def compiled() -> Compiled:
    """The one store of this process."""
    return Compiled(Path(templates.__file__).parent)

"""``stillroom assembly``: constructions described in TOML to sound insulation."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from calc.bands import BANDS
from calc.isolation.assembly import Assembly
from calc.isolation.predict import Prediction
from calc.isolation.predict import predictions as predict_all
from calc.isolation.reader import read_assemblies
from wizard.as_data import as_data
from wizard.cli_input import BadInput, text_of


def predictions(names: Sequence[str], use_measured: bool = True) -> list[dict[str, Any]]:
    """One object an assembly, in the order of the files. Raises BadInput before anything is computed."""
    assemblies = [assembly for name in names for assembly in _read(name)]
    return [_one(*pair) for pair in zip(assemblies, predict_all(assemblies, use_measured), strict=True)]


def _read(name: str) -> tuple[Assembly, ...]:
    try:
        return read_assemblies(tomllib.loads(text_of(Path(name))))
    except (tomllib.TOMLDecodeError, RecursionError, MemoryError) as error:
        raise BadInput(f"{name} is not valid TOML: {error}.") from None
    except ValueError as error:  # AssemblyError, and tomllib's own for a number of thousands of digits
        raise BadInput(f"{name}: {error}") from None


def _one(assembly: Assembly, found: Prediction) -> dict[str, Any]:
    return {
        "id": assembly.id,
        "stc": as_data(found.stc),
        "rw": as_data(found.rw),
        "c": as_data(found.c),
        "ctr": as_data(found.ctr),
        "iic": as_data(found.iic),
        "surface_mass_kg_m2": as_data(found.surface_mass),
        "bands_hz": [int(band) if float(band).is_integer() else float(band) for band in BANDS],
        "tl_db": as_data(found.tl),
        "std_uncertainty_db": as_data(found.std_uncertainty),
        "basis": found.basis,
    }


def table(found: Sequence[dict[str, Any]]) -> list[str]:
    """The ratings as lines of text for a person."""
    width = max([len(str(item["id"])) for item in found] + [8])
    head = f"{'assembly':{width}}  STC  Rw (C; Ctr)     kg/m²  basis"
    return [head, *(_line(item, width) for item in found)]


def _line(item: dict[str, Any], width: int) -> str:
    rw = f"{item['rw']} ({item['c']}; {item['ctr']})"
    return f"{item['id']:{width}}  {item['stc']:3}  {rw:14}  {item['surface_mass_kg_m2']:5.1f}  {item['basis']}"

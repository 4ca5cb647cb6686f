"""The ways for fresh air through the shell, built from the parts of data/ducts.toml."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import product
from typing import Any

from calc.brief import Brief
from calc.catalogue import load
from calc.scheme import AirPathOption


def _air_path(names: Sequence[str], lined: AirPathOption, end: dict[str, Any]) -> AirPathOption:
    """The path with an end."""
    return replace(
        lined,
        id="-".join(("air", *names)),
        label=f"{lined.label}, {end['text']}",
        fan_unit=end["fan_unit"],
        house_ducts=end["house_ducts"],
    )


def _lined_ducts(length: str, lining: str, elbows: str, size: str, casing: str) -> AirPathOption:
    """Lined ducts of these parts of data/ducts.toml, without an end; no box for size "none"."""
    data = load("ducts")
    box, round_it = data["box"]["size"].get(size), data["casing"]["kind"][casing]
    texts = [f"{data['length'][length]['text']} with {data['lining'][lining]['text']} and {data['elbows'][elbows]}"]
    texts += [box["text"]] if box else []
    texts += [round_it["text"]] if round_it["text"] else []
    return AirPathOption(
        id="",
        label=", ".join(texts),
        lined_length=data["length"][length]["length"],
        lining=data["lining"][lining]["thickness"],
        elbows=int(elbows),
        silencer_box=bool(box),
        fan_unit=False,
        chambers=box["chambers"] if box else 0,
        box_lining=box["lining"] if box else 0.0,
        box_layers=box["layers"] if box else 0,
        enclosed=round_it["enclosed"],
    )


def _runs() -> Iterator[tuple[str, str, str]]:
    """Lined runs: length, lining, elbows; as many elbows as the length has room for."""
    data = load("ducts")
    for (length, row), lining, elbows in product(data["length"].items(), data["lining"], data["elbows"]):
        if int(elbows) <= row["most_elbows"]:
            yield length, lining, elbows


def air_paths(brief: Brief) -> tuple[AirPathOption, ...]:
    """Every way for fresh air through the shell, of the parts of data/ducts.toml; only a house with an air handler lends its ducts,
    and none ends outdoors where two ducts cannot get there.

    Lining, length and elbows cost little, so boards round the ducts, and a box, come after the most of them. Source: data/ducts.toml.
    """
    return _air_paths(brief.air.system, brief.air.duct_outdoors == "no")


@lru_cache(maxsize=16)
def _air_paths(system: str, indoors: bool) -> tuple[AirPathOption, ...]:
    data = load("ducts")
    ends = {key: end for key, end in data["end"].items() if end.get("system", system) == system and not (end["fan_unit"] and indoors)}
    runs = list(_runs())
    made: list[tuple[tuple[str, ...], AirPathOption]] = [(("bare",), AirPathOption("", "bare ducts", 0.0, 0.0, 0, False, False, 0, 0.0, 0))]
    made += [(run, _lined_ducts(*run, "none", "open")) for run in runs]
    for size, casing in product(("none", *data["box"]["size"]), data["casing"]["kind"]):
        added = tuple(word for word in (size, casing) if word not in ("none", "open"))
        if added:
            made.append(((*runs[-1], *added), _lined_ducts(*runs[-1], size, casing)))
    return tuple(_air_path((*names, key), ducts, end) for names, ducts in made for key, end in ends.items())

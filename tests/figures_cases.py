"""Invented basements whose figures are drawn in tests: five made for them, the example and the golden plans."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from conftest import make_brief
from figures_kit import Drawing, read

import wizard
from calc.assess import Assessment, assess
from calc.brief import Brief, Listener, Obstruction, Side, SideKind
from calc.options import air_paths, doors, floors, lids, walls
from calc.scheme import Scheme
from wizard.figures import Figure, figures
from wizard.interview.answers_file import read_strictly
from wizard.interview.to_brief import to_brief

EXAMPLE = Path(wizard.__file__).parent / "example.toml"
HOSTILE = '</text><script>alert(1)</script> & "<b>x" \u202e]]> ' + "long name " * 12


def sides(length: float, across: float, *kinds: SideKind) -> tuple[Side, ...]:
    return tuple(Side(n, length if n % 2 else across, kind) for n, kind in enumerate(kinds, start=1))


BELOW, ABOVE, OPEN, PARTY = SideKind.FOUNDATION_BELOW, SideKind.FOUNDATION_ABOVE, SideKind.OPEN, SideKind.PARTY


@cache
def case(name: str) -> Assessment:
    if name not in CASES:
        return _answered(EXAMPLE if name == DEMO else GOLDENS / f"{name}.toml")
    return {"usual": _usual, "low": _low, "party": _party, "closed": _closed, "large": _large}[name]()


def _scheme(brief: Brief, lid: str, wall: str, partition: str, door: str, air: str, floor: str) -> Scheme:
    kinds = dict.fromkeys(side.kind for side in brief.shell.sides)

    def pick(options, key: str):  # type: ignore[no-untyped-def]
        return next(option for option in options if option.id == key)

    chosen = tuple((kind, pick(walls(brief, kind), partition if kind is OPEN else wall)) for kind in kinds)
    return Scheme(pick(lids(brief), lid), chosen, pick(doors(brief), door), pick(air_paths(brief), air), pick(floors(brief), floor))


def _air(brief: Brief, **wanted: object) -> str:
    return next(path.id for path in air_paths(brief) if all(getattr(path, key) == value for key, value in wanted.items()))


def _usual() -> Assessment:
    return assess(make_brief(), explain=False)


def _low() -> Assessment:
    brief = make_brief(
        units="metric", name=HOSTILE, shell__height=2.12, shell__length=5.2, shell__width=3.4,
        shell__sides=sides(5.2, 3.4, BELOW, ABOVE, OPEN, OPEN),
        shell__obstructions=(Obstruction("beam", 1.95, 0.2, False, "walking route"), Obstruction("pipe", 2.0, 0.1, True, "side")),
        use__source="mixing", use__level=85.0, use__activity="mixing", use__recording=True, limits__lowest_ceiling=1.95,
        listeners=(Listener("bedroom_above", HOSTILE, "tolerable_by_day", 30.0, 0.0, "closed"),), means__currency="<€>",
    )  # fmt: skip
    air = _air(brief, silencer_box=True, chambers=2, enclosed=True, fan_unit=True)
    return assess(brief, _scheme(brief, "lid-1-clip-2d", "wall-strapped_clip-2d", "wall-staggered-2d", "factory", air, "insulated"), False)


def _party() -> Assessment:
    brief = make_brief(
        units="metric", shell__sides=sides(6.1, 4.3, PARTY, ABOVE, OPEN, BELOW), shell__foundation="brick or stone",
        listeners=(Listener("attached_neighbour", "neighbour", "quiet_for_sleep", 25.0, 0.0, "closed"),), use__hours="night",
    )  # fmt: skip
    air = _air(brief, silencer_box=True, chambers=1, house_ducts=True)
    return assess(brief, _scheme(brief, "lid-2-below-3d", "wall-frame-3d", "wall-two_rows-3", "pair_sealed", air, "rubber_plywood"), False)


def _closed() -> Assessment:
    """No side open to the house, nobody listens, nothing overhead."""
    brief = make_brief(
        shell__length=3.2, shell__width=4.4, shell__sides=sides(3.2, 4.4, BELOW, BELOW, PARTY, ABOVE), shell__obstructions=(),
        shell__foundation="hollow block", shell__escape="door", shell__escape_width=0.8, listeners=(),
    )  # fmt: skip
    scheme = _scheme(brief, "lid-0-channel-3", "wall-strapped_channel-2", "", "solid_perimeter", "air-bare-basement", "carpet")
    return assess(brief, scheme, False)


def _large() -> Assessment:
    things = tuple(Obstruction(kind, 2.2 - 0.05 * n, 0.3, True) for n, kind in enumerate(("beam", "duct", "pipe", "slope")))
    brief = make_brief(
        shell__length=13.0, shell__width=8.5, shell__sides=sides(13.0, 8.5, OPEN, OPEN, OPEN, OPEN), shell__obstructions=things,
        shell__escape="none", use__recording=True,
    )  # fmt: skip
    return assess(brief, explain=False)


GOLDENS = Path(__file__).parent / "golden_plans"
CASES = ("usual", "low", "party", "closed", "large")
DEMO = "demo"
EVERY = (*CASES, DEMO, *sorted(path.stem for path in GOLDENS.glob("*.toml")))


def _answered(path: Path) -> Assessment:
    return assess(to_brief(read_strictly(path.read_text(encoding="utf-8"))), explain=False)


@cache
def drawn(name: str) -> dict[str, tuple[Figure, Drawing]]:
    return {each.name: (each, read(each.svg)) for each in figures(case(name))}

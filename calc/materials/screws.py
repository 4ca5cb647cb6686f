"""Which board screw each ply of each face takes, and where a longer one does harm."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from calc.brief import Brief
from calc.materials.items import item
from calc.materials.line import Line
from calc.scheme import Scheme

RESILIENT = ("resilient channel", "isolation clip")
BETWEEN = "between the joists, against the subfloor"


@dataclass(frozen=True)
class FaceScrews:
    """Faces that take the same screws: ``plies`` holds number and screw length [m] of each ply. ``longer``: what a longer one would do."""

    faces: tuple[str, ...]
    plies: tuple[tuple[int, float], ...]
    longer: str


def on_channel(brief: Brief, scheme: Scheme) -> dict[str, str]:
    """The faces whose boards hang on channel or clips, each with what stands behind the channel."""
    found = {"lid": "joist"} if scheme.lid.support in RESILIENT else {}
    walls = [side.number for side in brief.shell.sides if scheme.wall(side.kind).support in RESILIENT]
    return found | {f"wall on side {number}": "stud" for number in walls}


def face_screws(lines: Sequence[Line], channelled: Mapping[str, str]) -> tuple[FaceScrews, ...]:
    """The board screws of a task's lines by face and ply; ``channelled`` as ``on_channel`` gives it."""
    plies: dict[str, list[tuple[int, float]]] = {}
    for each in lines:
        face, _, number = each.where.rpartition(", ply ")
        if face and each.item.startswith("board_screw"):
            plies.setdefault(face, []).append((int(number), float(item(each.item).facts["length"])))
    alike: dict[tuple[tuple[tuple[int, float], ...], str], list[str]] = {}
    for face, found in plies.items():
        alike.setdefault((tuple(sorted(found)), _longer(face, channelled)), []).append(face)
    return tuple(FaceScrews(tuple(sorted(faces)), found, longer) for (found, longer), faces in alike.items())


def _longer(face: str, channelled: Mapping[str, str]) -> str:
    if face in channelled:
        return f"may touch the {channelled[face]} through the channel"
    if face.startswith("soffit"):
        return "may touch the frame through the channel of the bottom"
    return "may come out of the floor above" if face == BETWEEN else ""


def longest_on_channel(lines: Sequence[Line], channelled: Mapping[str, str]) -> dict[float, tuple[str, ...]]:
    """Lengths [m] of the longest screw that a face on channel takes, and the faces of each."""
    found: dict[float, tuple[str, ...]] = {}
    for group in face_screws(lines, channelled):
        for face in group.faces if group.longer else ():
            if face in channelled:
                length = max(screw for _, screw in group.plies)
                found[length] = (*found.get(length, ()), face)
    return found

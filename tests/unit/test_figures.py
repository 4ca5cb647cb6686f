"""Every figure of several invented basements: well formed, legible in print, to scale, harmless, the same every time."""

from __future__ import annotations

import hashlib
import os
import re
import subprocess
import sys
from dataclasses import replace
from functools import cache
from itertools import pairwise

import pytest
from conftest import make_brief
from figures_kit import NINE_POINTS, SVG, TALLEST, Drawing, read

from calc.assess import Assessment, assess
from calc.brief import Brief, Listener, Obstruction, Side, SideKind
from calc.options import air_paths, doors, floors, lids, walls
from calc.scheme import Scheme
from wizard.figures import Figure, figures
from wizard.figures.boards import Placed, board_layout
from wizard.figures.callouts import spread
from wizard.figures.charts import band_chart, ladder_chart
from wizard.figures.detail import built
from wizard.figures.layers import floor_layers, lid_below, wall_layers
from wizard.figures.places import places
from wizard.figures.scale import View, fitting
from wizard.figures.svg import Canvas
from wizard.figures.text import SMALLEST, clean, width, wrapped

HOSTILE = '</text><script>alert(1)</script> & "<b>x" \u202e]]> ' + "long name " * 12


def _sides(length: float, across: float, *kinds: SideKind) -> tuple[Side, ...]:
    return tuple(Side(n, length if n % 2 else across, kind) for n, kind in enumerate(kinds, start=1))


BELOW, ABOVE, OPEN, PARTY = SideKind.FOUNDATION_BELOW, SideKind.FOUNDATION_ABOVE, SideKind.OPEN, SideKind.PARTY


@cache
def case(name: str) -> Assessment:
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
        shell__sides=_sides(5.2, 3.4, BELOW, ABOVE, OPEN, OPEN),
        shell__obstructions=(Obstruction("beam", 1.95, 0.2, False, "walking route"), Obstruction("pipe", 2.0, 0.1, True, "side")),
        use__source="mixing", use__level=85.0, use__activity="mixing", use__recording=True, limits__lowest_ceiling=1.95,
        listeners=(Listener("bedroom_above", HOSTILE, "tolerable_by_day", 30.0, 0.0, "closed"),), means__currency="<€>",
    )  # fmt: skip
    air = _air(brief, silencer_box=True, chambers=2, enclosed=True, fan_unit=True)
    return assess(brief, _scheme(brief, "lid-1-clip-2d", "wall-strapped_clip-2d", "wall-staggered-2d", "factory", air, "insulated"), False)


def _party() -> Assessment:
    brief = make_brief(
        units="metric", shell__sides=_sides(6.1, 4.3, PARTY, ABOVE, OPEN, BELOW), shell__foundation="brick or stone",
        listeners=(Listener("attached_neighbour", "neighbour", "quiet_for_sleep", 25.0, 0.0, "closed"),), use__hours="night",
    )  # fmt: skip
    air = _air(brief, silencer_box=True, chambers=1, house_ducts=True)
    return assess(brief, _scheme(brief, "lid-2-below-3d", "wall-frame-3d", "wall-two_rows-3", "pair_sealed", air, "rubber_plywood"), False)


def _closed() -> Assessment:
    """No side open to the house, nobody listens, nothing overhead."""
    brief = make_brief(
        shell__length=3.2, shell__width=4.4, shell__sides=_sides(3.2, 4.4, BELOW, BELOW, PARTY, ABOVE), shell__obstructions=(),
        shell__foundation="hollow block", shell__escape="door", shell__escape_width=0.8, listeners=(),
    )  # fmt: skip
    return assess(brief, _scheme(brief, "lid-0-channel-3", "wall-strapped_channel-2", "", "hollow", "air-bare-basement", "carpet"), False)


def _large() -> Assessment:
    things = tuple(Obstruction(kind, 2.2 - 0.05 * n, 0.3, True) for n, kind in enumerate(("beam", "duct", "pipe", "slope")))
    brief = make_brief(
        shell__length=13.0, shell__width=8.5, shell__sides=_sides(13.0, 8.5, OPEN, OPEN, OPEN, OPEN), shell__obstructions=things,
        shell__escape="none", use__recording=True,
    )  # fmt: skip
    return assess(brief, explain=False)


CASES = ("usual", "low", "party", "closed", "large")


@cache
def drawn(name: str) -> dict[str, tuple[Figure, Drawing]]:
    return {each.name: (each, read(each.svg)) for each in figures(case(name))}


@pytest.mark.parametrize("name", CASES)
def test_every_figure_has_its_own_name_a_title_and_words_for_who_cannot_see_it(name: str) -> None:
    found = drawn(name)
    assert len(found) == len(figures(case(name)))
    for each, drawing in found.values():
        assert re.fullmatch(r"[a-z0-9-]+", each.name)
        assert drawing.title == clean(each.title) != ""
        assert drawing.desc == clean(each.text) != ""
        labels = drawing.root.attrib["aria-labelledby"].split()
        assert labels == [drawing.root.find(f"{SVG}{tag}").attrib["id"] for tag in ("title", "desc")]  # type: ignore[union-attr]
        assert all(label.startswith(each.name) for label in labels)  # several figures in one page share no id


@pytest.mark.parametrize("name", CASES)
def test_text_prints_at_nine_points_or_more_inside_the_page_and_on_no_other_text(name: str) -> None:
    for figure, drawing in drawn(name).values():
        assert drawing.wide == 170.0
        assert drawing.tall <= TALLEST, figure.name
        assert min((text.size for text in drawing.texts), default=NINE_POINTS) >= NINE_POINTS - 1e-3, figure.name
        assert not drawing.overlaps(), figure.name
        assert not drawing.outside(), figure.name


@pytest.mark.parametrize("name", CASES)
def test_figures_hold_nothing_but_marks_in_greys(name: str) -> None:
    allowed = {f"{SVG}{tag}" for tag in ("svg", "title", "desc", "rect", "line", "path", "circle", "text")}
    for figure, drawing in drawn(name).values():
        assert {each.tag for each in drawing.root.iter()} <= allowed
        assert not any("href" in key or key.startswith("on") for each in drawing.root.iter() for key in each.attrib)
        assert "url(" not in figure.svg
        assert "style" not in figure.svg
        for colour in re.findall(r'(?:fill|stroke)="([^"]*)"', figure.svg):
            assert colour == "none" or re.fullmatch(r"#(?:([0-9a-f])\1\1|([0-9a-f]{2})\2\2)", colour), colour


def test_names_that_a_person_typed_stay_text() -> None:
    figure, drawing = next(pair for key, pair in drawn("low").items() if key.startswith("sound-1"))
    assert "<script" not in figure.svg
    assert "alert(1)</script>" in drawing.title
    assert "\u202e" not in figure.svg


def test_the_same_assessment_gives_the_same_bytes_in_another_process() -> None:
    code = (
        "import sys, hashlib; sys.path[:0] = sys.argv[1:]; import test_figures as t; from wizard.figures import figures;"
        "print(hashlib.sha256(''.join(f.svg for f in figures(t.case('closed'))).encode()).hexdigest())"
    )
    here = os.path.dirname(__file__)
    env = {**os.environ, "PYTHONHASHSEED": "7"}
    other = subprocess.run([sys.executable, "-c", code, here, os.path.dirname(here)], capture_output=True, text=True, check=True, env=env)
    mine = hashlib.sha256("".join(each.svg for each in figures(case("closed"))).encode()).hexdigest()
    assert other.stdout.strip() == mine


def _ratio(drawing: Drawing) -> int:
    return next(int(found[1]) for text in drawing.texts if (found := re.match(r"Scale 1:(\d+)", text.words)))


def _sizes(drawing: Drawing) -> list[tuple[float, float]]:
    return [(float(each.attrib["width"]), float(each.attrib["height"])) for each in drawing.root.iter(f"{SVG}rect")]


def _shows(drawing: Drawing, wide: float, tall: float) -> bool:
    """A rectangle of this size [m] at the scale that the figure states, to a hundredth of a millimetre on paper."""
    scale = 1000.0 / _ratio(drawing)
    return any(abs(w - wide * scale) < 0.01 and abs(h - tall * scale) < 0.01 for w, h in _sizes(drawing))


def test_five_metres_at_one_to_fifty_are_a_hundred_millimetres() -> None:
    view = View(Canvas(), (10.0, 20.0), 50.0)
    assert view.mm(5.0) == pytest.approx(100.0)
    assert view.at(5.0, 1.0) == pytest.approx((110.0, 40.0))
    assert View(Canvas(), (10.0, 20.0), 50.0, up=True).at(0.0, 1.0) == pytest.approx((10.0, 0.0))


def test_scales_are_usual_ones_that_fit() -> None:
    assert fitting(5.0, 120.0, "metric") == 50
    assert fitting(5.0, 120.0, "imperial") == 48
    assert fitting(90.0, 100.0, "metric") == 1000


@pytest.mark.parametrize("name", CASES)
def test_the_plan_shows_shell_and_room_to_scale(name: str) -> None:
    a, (_, drawing) = case(name), drawn(name)["floor-plan"]
    assert _shows(drawing, a.brief.shell.length, a.brief.shell.width)
    assert _shows(drawing, a.room.length, a.room.width)


@pytest.mark.parametrize("name", ["low", "party"])
def test_the_silencer_box_is_drawn_as_it_is_built(name: str) -> None:
    made, (_, drawing) = places(case(name)).silencer, drawn(name)["silencer-box"]
    assert made is not None
    assert _shows(drawing, made.outside[1], made.outside[2])
    assert _shows(drawing, made.outside[0], made.panel)


@pytest.mark.parametrize("name", CASES)
def test_boards_are_drawn_as_thick_as_they_are(name: str) -> None:
    a = case(name)
    for kind, option in a.scheme.walls:
        stem = {BELOW: "below-ground", ABOVE: "above-ground", OPEN: "partition", PARTY: "party-wall"}[kind]
        _, drawing = drawn(name)[f"wall-{stem}"]
        tall = option.inner_plies[0].thickness * 1000.0 / _ratio(drawing)
        assert any(abs(h - tall) < 0.002 for _, h in _sizes(drawing))


@pytest.mark.parametrize("name", CASES)
def test_every_wall_and_lid_is_as_thick_in_its_layers_as_the_scheme_says(name: str) -> None:
    brief = case(name).brief
    for kind in dict.fromkeys(side.kind for side in brief.shell.sides):
        for option in walls(brief, kind):
            new = [layer for layer in wall_layers(option, kind, brief) if layer.part != "found"]
            assert sum(layer.thickness for layer in new) == pytest.approx(option.thickness)
            assert min(layer.thickness for layer in new) > 0.0
    for lid in lids(brief):
        assert sum(layer.thickness for layer in lid_below(lid)) == pytest.approx(lid.height_taken)


@pytest.mark.parametrize("name", CASES)
def test_the_boards_of_a_wall_begin_where_its_inner_plies_do(name: str) -> None:
    a = case(name)
    for kind, option in a.scheme.walls:
        wall = built(a, kind)
        thick = sum(ply.thickness for ply in option.inner_plies)
        films = (len(option.inner_plies) - 1) * 0.0006 if option.damped else 0.0  # a film of compound between each two plies
        assert wall.total - wall.boards == pytest.approx(thick + films)


@pytest.mark.parametrize("name", CASES)
def test_door_window_and_ducts_keep_clear_of_each_other(name: str) -> None:
    where = places(case(name))
    wide = where.silencer.outside[0] if where.silencer else where.size.casing
    spans = [(opening.side, opening.start, opening.end) for opening in (where.door, where.escape) if opening]
    assert all(start >= 0.0 and end <= where.room.side_length(side) + 1e-9 for side, start, end in spans)
    spans += [(duct.side, duct.middle - wide / 2.0, duct.middle + wide / 2.0) for duct in where.ducts]
    for side in (1, 2, 3, 4):
        mine = sorted(span[1:] for span in spans if span[0] == side)
        assert all(one[1] <= other[0] + 1e-9 for one, other in pairwise(mine))


def test_a_door_leads_to_the_rest_of_the_basement_where_there_is_any() -> None:
    for name in ("usual", "low", "party", "large"):
        a = case(name)
        assert next(side.kind for side in a.brief.shell.sides if side.number == places(a).door.side) is OPEN


def test_a_floor_is_drawn_with_what_is_walked_on_at_the_top() -> None:
    tops = {option.id: floor_layers(option)[0].name for option in floors(make_brief())}
    assert "panel" in tops["insulated"]
    assert "panel" in tops["rubber_plywood"]
    assert tops["carpet"] == "carpet"
    assert "plank" in tops["laminate"]


def test_only_the_details_that_apply_are_drawn() -> None:
    assert "detail-clip-channel" in drawn("low")
    assert "detail-clip-channel" not in drawn("party")
    assert "detail-fireblock" in drawn("party")
    assert "detail-fireblock" not in drawn("low")
    assert "detail-soffit" not in drawn("closed")
    assert "silencer-box" not in drawn("closed")
    assert "Door pair" in drawn("party")["detail-door"][1].title
    always = {"detail-wall-foot", "detail-wall-head", "detail-corner", "detail-lid-edge", "detail-door", "detail-duct", "detail-box"}
    assert all(always <= set(drawn(name)) for name in CASES)


def test_lengths_are_written_in_the_units_asked_for() -> None:
    a = case("party")
    metric, imperial = (" ".join(each.text for each in figures(a, units)) for units in ("metric", "imperial"))
    assert " ft " not in metric.replace("\u00a0", " ")
    assert not re.search(r"\d mm\b", imperial.replace("\u00a0", " "))


def test_a_band_chart_tells_loud_bands_by_more_than_colour() -> None:
    target = [30.0] * 21
    loud = band_chart("a", "a place", [40.0] + [20.0] * 20, target, None, (35.0, 30.0, 40.0, 30.0))
    quiet = band_chart("a", "a place", [20.0] * 21, target, None, (25.0, 20.0, 30.0, 30.0))
    assert "Too loud at 50 Hz" in loud.text
    assert "No band is too loud" in quiet.text
    assert loud.svg.count("M") > quiet.svg.count("M")  # the loud bar is hatched
    with pytest.raises(ValueError, match="21 bands"):
        band_chart("a", "a place", [20.0], target, None, (25.0, 20.0, 30.0, 30.0))


def test_a_ladder_marks_the_rung_that_meets_and_the_one_within_the_budget() -> None:
    figure = ladder_chart([(10_000.0, -6.0, False, False), (15_000.0, 1.0, True, True), (30_000.0, 7.0, False, False)], 20_000.0, "USD")
    assert "15,000 USD: +1 dB" in figure.text
    assert not read(figure.svg).overlaps()


def test_a_board_layout_shows_pieces_and_the_joints_below() -> None:
    below = [Placed(0.0, 0.0, 2.44, 1.2), Placed(2.44, 0.0, 1.56, 1.2), Placed(0.0, 1.2, 4.0, 1.1)]
    over = [Placed(0.0, 0.0, 1.2, 2.3), Placed(1.2, 0.0, 2.8, 2.3)]
    figure = board_layout("lid", "Boards of the lid", (4.0, 2.3), [below, over], "metric", [Placed(3.0, 0.5, 0.4, 0.4)])
    drawing = read(figure.svg)
    assert _shows(drawing, 2.44, 1.2)
    assert _shows(drawing, 4.0, 2.3)
    assert not drawing.overlaps()
    with pytest.raises(ValueError, match="at least one ply"):
        board_layout("lid", "Boards", (4.0, 2.3), [], "metric")


def test_text_is_measured_cleaned_and_broken() -> None:
    assert clean("a\n\tb \u202e\x00c") == "a b c"
    assert width("WWW", 10.0) > width("iii", 10.0) > 0.0
    assert all(width(line, SMALLEST) <= 30.0 for line in wrapped("several words and averyverylongwordthatdoesnotfit " * 3, SMALLEST, 30.0))
    with pytest.raises(ValueError, match="9 pt"):
        Canvas().text((0.0, 0.0), "small", 2.0)


def test_call_outs_keep_their_order_and_their_distance() -> None:
    placed = spread([5.0, 5.0, 5.5, 40.0], 6.0)
    assert all(later - earlier >= 6.0 - 1e-9 for earlier, later in pairwise(placed))
    assert placed[3] == pytest.approx(40.0)


def test_a_room_without_height_still_gets_its_other_figures() -> None:
    a = case("usual")
    flat = replace(a, room=replace(a.room, height=-0.1))
    assert "modes" not in {each.name for each in figures(flat)}

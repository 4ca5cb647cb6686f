"""What the figures draw: to scale, as the scheme says, each size readable, and only what applies."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from conftest import make_brief
from figures_cases import ABOVE, BELOW, CASES, EVERY, OPEN, PARTY, case, drawn, sides
from figures_kit import SVG, Drawing, lengths_at_scale, ratio, read

from calc.assess import Assessment, assess
from calc.brief import Obstruction
from calc.choose import choose
from calc.codes import rule
from calc.headroom import soffit_sides
from calc.isolation.duct_way import DuctSize, way_length
from calc.materials.boards import Laid, layouts
from calc.options import air_paths, floors, lids, walls
from calc.ventilation.run import end_of
from calc.ventilation.silencer import smallest
from wizard.figures import figures
from wizard.figures.boards import Placed, board_layout
from wizard.figures.constructions import STEMS
from wizard.figures.detail import built
from wizard.figures.figure import stem as name_stem
from wizard.figures.layers import floor_layers, lid_below, wall_layers
from wizard.figures.places import places
from wizard.figures.scale import View, fitting, sold, written
from wizard.figures.silencers import folded
from wizard.figures.svg import Canvas


def boarded(a: Assessment) -> dict[str, list[Laid]]:
    """Plies by the faces that have a figure, in its order."""
    found: dict[str, list[Laid]] = {}
    for laid in layouts(a.brief, a.room, a.scheme):
        if laid.face.name == "lid" or laid.face.side:
            found.setdefault(laid.face.name, []).append(laid)
    return found


def _sizes(drawing: Drawing) -> list[tuple[float, float]]:
    return [(float(each.attrib["width"]), float(each.attrib["height"])) for each in drawing.root.iter(f"{SVG}rect")]


def _shows(drawing: Drawing, wide: float, tall: float) -> bool:
    """A rectangle of this size [m] at the scale that the figure states, to a hundredth of a millimetre on paper."""
    scale = 1000.0 / ratio(drawing)
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


@pytest.mark.parametrize("name", EVERY)
def test_the_plan_shows_shell_and_room_to_scale(name: str) -> None:
    a, (_, drawing) = case(name), drawn(name)["floor-plan"]
    assert _shows(drawing, a.brief.shell.length, a.brief.shell.width)
    assert _shows(drawing, a.room.length, a.room.width)


@pytest.mark.parametrize("name", EVERY)
def test_dimension_lines_are_as_long_as_what_they_measure(name: str) -> None:
    a, found = case(name), drawn(name)
    shell, field = a.brief.shell, a.headroom.open_field
    along_x = shell.length >= shell.width
    wanted = {
        "floor-plan": [shell.length, shell.width, a.room.length, a.room.width],
        "section": [shell.height, shell.joists.depth, field.height, *([shell.width, a.room.width] if along_x else [shell.length])],
        "lid": [a.scheme.lid.height_taken, shell.joists.spacing],
        "height-stack": [shell.joists.depth, *(layer.thickness for layer in lid_below(a.scheme.lid))],
        **{f"wall-{STEMS[kind]}": [option.thickness, option.stud_spacing] for kind, option in a.scheme.walls},
    }
    for figure, lengths in wanted.items():
        for metres in lengths:
            assert lengths_at_scale(found[figure][1], metres), (figure, metres)


ODD = {"long": (14.0, 2.2), "deep": (3.2, 9.0), "tiny": (1.8, 1.6), "usual": (6.1, 4.3)}


@pytest.mark.parametrize("name", ODD)
def test_no_dimension_loses_its_words_in_a_room_of_any_shape(name: str) -> None:
    length, across = ODD[name]
    kinds = sides(length, across, BELOW, ABOVE, OPEN, PARTY)
    a = assess(make_brief(shell__length=length, shell__width=across, shell__sides=kinds), explain=False)
    plan = next(read(each.svg) for each in figures(a) if each.name == "floor-plan")
    words = {text.words for text in plan.texts}
    for metres in (length, across, a.room.length, a.room.width):
        assert written(metres, a.brief.units, 1.0) in words


def test_a_kit_that_the_room_cannot_hold_is_said_and_not_drawn() -> None:
    small = make_brief(shell__length=2.0, shell__width=1.8, shell__sides=sides(2.0, 1.8, BELOW, ABOVE, OPEN, PARTY))
    text = next(each.text for each in figures(assess(small, None, False)) if each.name == "floor-plan")
    assert "more than the room has: not drawn" in text
    assert "not drawn" not in drawn("usual")["floor-plan"][0].text


@pytest.mark.parametrize("length", [5.4, 4.6, 3.8])
def test_the_name_of_the_room_stands_on_nothing_that_stands_in_it(length: float) -> None:
    brief = make_brief(
        units="metric", use__source="drum_kit", use__recording=True, shell__length=length, shell__width=4.1,
        shell__sides=sides(length, 4.1, PARTY, ABOVE, BELOW, OPEN), shell__escape_width=1.0,
    )  # fmt: skip
    plan = read(next(each.svg for each in figures(assess(brief, None, False)) if each.name == "floor-plan"))
    scale = 1000.0 / ratio(plan)
    circles = [(float(each.attrib["cx"]), float(each.attrib["cy"]), float(each.attrib["r"])) for each in plan.root.iter(f"{SVG}circle")]
    things = [(x - r, y - r, x + r, y + r) for x, y, r in circles if abs(r - scale) < 0.01]  # a kit takes 2 x 2 m
    for each in plan.root.iter(f"{SVG}rect"):
        x, y, wide, high = (float(each.attrib.get(key, "0")) for key in ("x", "y", "width", "height"))
        if sorted((round(wide, 1), round(high, 1))) == [round(0.8 * scale, 1), round(1.6 * scale, 1)]:
            things.append((x, y, x + wide, y + high))
    assert len(things) == 2
    name = [text for text in plan.texts if text.words == "inner room" or text.words.endswith(" high")]
    for text in name:
        for left, top, right, bottom in things:
            assert not (text.left < right and left < text.right and text.top < bottom and top < text.bottom)
    assert name or "inner room, " in next(each.text for each in figures(assess(brief, None, False)) if each.name == "floor-plan")


def test_the_space_before_an_electrical_panel_is_kept_free_to_scale_and_only_where_there_may_be_one() -> None:
    row = rule("irc_2024_existing", "panel")
    for where, shown in (("in the area", True), ("unknown", True), ("none", False), ("elsewhere", False)):
        a = assess(make_brief(shell__panel=where), case("usual").scheme, explain=False)
        figure = next(each for each in figures(a) if each.name == "floor-plan")
        assert ("electrical panel" in figure.text) == shown
        assert _shows(read(figure.svg), row["width"], row["depth"]) == shown


@pytest.mark.parametrize("name", ["low", "large"])
def test_a_soffit_is_as_wide_in_the_section_as_in_its_detail(name: str) -> None:
    a = case(name)
    around = soffit_sides().whole
    boxed = [zone for zone in a.headroom.zones if zone.obstruction]
    assert boxed
    found = lengths_at_scale(drawn(name)["section"][1], a.brief.shell.obstructions[0].width + 2.0 * around)
    assert found or name == "large"  # the wall cuts off what hangs at the side
    if "detail-soffit" in drawn(name):
        thing = min(a.brief.shell.obstructions, key=lambda each: each.underside if each.kind != "slope" else 9.0)
        assert lengths_at_scale(drawn(name)["detail-soffit"][1], min(thing.width, 0.60) + 2.0 * around)


@pytest.mark.parametrize("name", EVERY)
def test_the_size_of_every_board_can_be_read_in_the_drawing(name: str) -> None:
    a, seen = case(name), set()
    for number, (face, plies) in enumerate(boarded(a).items(), start=1):
        drawing = drawn(name)[f"boards-{number}-{name_stem(face)}"][1]
        words = " ".join(text.words for text in drawing.texts).replace("\u00a0", " ")
        for laid in plies:
            for piece in laid.pieces:
                size = f"{written(piece.width, a.brief.units)} × {written(piece.height, a.brief.units)}".replace("\u00a0", " ")
                assert size in words, (face, size)
                seen.add(size)
    assert seen


def test_the_run_of_a_duct_is_drawn_to_its_end() -> None:
    ends = {"outdoors": "weather hood", "house": "trunk duct of the house", "basement": "rest of the basement"}
    seen = set()
    for name in EVERY:
        a = case(name)
        text = drawn(name)["duct-sketch"][0].text
        end = end_of(a.scheme.air_path)
        seen.add(end)
        assert ends[end] in text
        assert not any(words in text for key, words in ends.items() if key not in (end, "basement"))
        assert written(way_length(a.brief, a.scheme.air_path), a.brief.units) in text
        at_fan = a.air_design.at_fan
        assert ("silencer-box-fan" in drawn(name)) == (at_fan is not None)
        if at_fan is not None:
            assert " × ".join(written(each, a.brief.units, 1.0) for each in at_fan.outside) in text
        grille = a.air_design.supply.grille
        assert sold(grille.width, grille.height, a.brief.units) in text
    assert seen == set(ends)


@pytest.mark.parametrize("name", ["low", "party"])
def test_the_silencer_box_is_drawn_as_it_is_built(name: str) -> None:
    made, (_, drawing) = places(case(name)).silencer, drawn(name)["silencer-box"]
    assert made is not None
    assert _shows(drawing, made.outside[1], made.outside[2])
    assert _shows(drawing, made.outside[0], made.panel)


@pytest.mark.parametrize("name", EVERY)
def test_boards_are_drawn_as_thick_as_they_are(name: str) -> None:
    a = case(name)
    for kind, option in a.scheme.walls:
        stem = {BELOW: "below-ground", ABOVE: "above-ground", OPEN: "partition", PARTY: "party-wall"}[kind]
        _, drawing = drawn(name)[f"wall-{stem}"]
        tall = option.inner_plies[0].thickness * 1000.0 / ratio(drawing)
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


@pytest.mark.parametrize("name", EVERY)
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


def test_the_slab_is_drawn_and_told_as_thick_as_was_answered() -> None:
    brief = make_brief(units="metric")
    for thick in (None, 0.15):
        a = assess(replace(brief, site=replace(brief.site, slab_thickness=thick)), None, False)
        found = {each.name: each for each in figures(a)}
        section, stack = read(found["section"].svg), found["height-stack"].text.replace("\u00a0", " ")
        scale, heights = 1000.0 / ratio(section), {round(high, 2) for _, high in _sizes(section)}
        assert round((thick or 0.1) * scale, 2) in heights
        assert ("thickness not known" in stack) == (thick is None)
        assert ("slab, as found: 150 mm" in stack) == (thick is not None)
        assert ("Nobody gave the slab's thickness" in found["section"].text) == (thick is None)


@pytest.mark.parametrize("name", CASES)
def test_the_section_ends_frames_under_the_joists_and_wall_boards_under_the_lid(name: str) -> None:
    a = case(name)
    shell, along = a.brief.shell, a.brief.shell.length >= a.brief.shell.width
    walls_cut = [a.scheme.wall(side.kind) for side in shell.sides if side.number in ((1, 3) if along else (4, 2))]
    section, lid = drawn(name)["section"][1], a.scheme.lid
    scale = 1000.0 / ratio(section)
    shown = {(round(wide, 2), round(high, 2)) for wide, high in _sizes(section)}
    for wall in walls_cut:
        board = wall.inner_plies[0].thickness
        assert (round(board * scale, 2), round((shell.height - lid.height_taken - 0.006) * scale, 2)) in shown
        if wall.gap > 0.0 and not lid.own_joist_depth:
            frames = [high for wide, high in shown if abs(wide - wall.stud_depth * scale) < 0.02 and high > 1.5 * scale]
            assert frames
            assert max(frames) == pytest.approx((shell.height - 0.025) * scale, abs=0.02)


@pytest.mark.parametrize(
    ("support", "words"),
    [("isolation clip", "on its clips over each"), ("resilient channel", "channel over each"), ("absent", "from the joists")],
)
def test_a_soffit_hangs_from_what_carries_the_lid_and_the_lid_stops_short_of_its_frame(support: str, words: str) -> None:
    brief = make_brief(units="metric", shell__obstructions=(Obstruction("pipe", 2.05, 0.12, False),))
    usual = assess(brief, None, False)
    lid = next(each for each in lids(brief) if each.support == support and len(each.plies) > 1 and not each.between_joists)
    figure = next(each for each in figures(assess(brief, replace(usual.scheme, lid=lid), False)) if each.name == "detail-soffit")
    drawing, sides_ = read(figure.svg), soffit_sides()
    scale, ply = 1000.0 / ratio(drawing), lid.plies[0].thickness
    plies = [wide for wide, high in _sizes(drawing) if high == pytest.approx(ply * scale, abs=0.02) and wide > 0.1 * scale]
    beside = 0.12 + sides_.skin  # m of lid shown, up to the framed side
    assert plies.count(pytest.approx((beside - 0.006) * scale, abs=0.02)) == 4 * len(lid.plies)  # at both sides, each with its edge
    assert not any(wide == pytest.approx(beside * scale, abs=0.02) for wide in plies)
    assert words in figure.text
    hung = [each for each in drawing.root.iter(f"{SVG}path") if each.attrib.get("stroke-width") == "0.5"]
    assert len(hung) == (0 if support == "absent" else 2)


@pytest.mark.parametrize("name", CASES)
def test_the_lid_is_laid_out_as_far_as_its_details_draw_it(name: str) -> None:
    a = case(name)
    shell, kinds = a.brief.shell, {side.number: side.kind for side in a.brief.shell.sides}
    edges = {}
    for number, kind in kinds.items():
        wall = built(a, kind)
        found = wall.layers[0].thickness if wall.layers[0].part == "found" else 0.0
        edges[number] = (wall.stud[1] if a.scheme.lid.own_joist_depth > 0.0 else wall.boards) - found
    lid = next(laid.face for laid in layouts(a.brief, a.room, a.scheme) if laid.face.name == "lid")
    assert lid.width == pytest.approx(shell.length - edges[2] - edges[4])
    assert lid.height == pytest.approx(shell.width - edges[1] - edges[3])
    assert lid.width > a.room.length


def test_where_a_soffit_opens_the_lid_its_layout_says_that_the_boards_are_cut_on_site() -> None:
    def lid(*things: Obstruction) -> tuple[str, list[str]]:
        a = assess(make_brief(units="metric", shell__obstructions=things), None, False)
        figure = next(each for each in figures(a) if each.name == "boards-1-lid")
        return figure.caption, re.findall(r'<rect [^>]*width="([^"]+)"[^>]*stroke-dasharray="0.6 0.9"', figure.svg)

    opened, outlines = lid(Obstruction("pipe", 2.1, 0.12, False))
    assert "soffit round the pipe opens it, cut the boards on site" in opened
    assert outlines
    whole, none = lid()
    assert "over the wall boards" in whole
    assert "cut the boards on site" not in whole
    assert none == []


def test_every_strip_of_a_layout_has_its_number_however_many_lie_side_by_side() -> None:
    strips = [Placed(0.0, 0.0, 4.7, 3.8), *(Placed(4.7, top, 0.2, tall) for top, tall in ((0.0, 0.4), (0.4, 2.44), (2.84, 0.96)))]
    strips += [Placed(4.9, 1.9 * n, 0.2, 1.9) for n in range(2)]
    drawing = read(board_layout("boards-9-lid", "Boards", (5.1, 3.8), [strips], "metric").svg)
    words = [text.words for text in drawing.texts]
    assert all(words.count(f"{n}") >= 1 for n in range(2, 7))
    assert drawing.overlaps() == []


def test_the_box_that_the_air_path_still_lacks_is_drawn_as_designed_and_named_as_not_in_the_bill() -> None:
    brief = make_brief(shell__obstructions=())
    bare = next(path for path in air_paths(brief) if path.id == "air-bare-basement")
    a = assess(brief, replace(choose(brief, explain=False).scheme, air_path=bare), explain=False)
    wanted = a.air_design.silencer
    assert wanted is not None
    figure = next(each for each in figures(a) if each.name == "silencer-asked")
    assert "not in the bill" in figure.title
    for metres in wanted.outside[:2]:
        assert lengths_at_scale(read(figure.svg), metres)
    assert "silencer-asked" not in drawn("usual")


@pytest.mark.parametrize("loss", [3.0, 20.0, 30.0])
def test_a_folded_passage_is_as_long_and_wide_as_its_box_says(loss: float) -> None:
    box = smallest(np.array([0.0, 0.1, 0.25, 0.7, 1.0, 1.0, 0.7]) * loss, 0.2)
    drawing = read(folded("box", "Box", box, DuctSize(1, 0.2, 0.3), "metric").svg)
    assert lengths_at_scale(drawing, box.outside[0])
    assert lengths_at_scale(drawing, box.outside[1])
    assert not drawing.overlaps()
    openings = 2 + box.count - 1  # a way in, a way out, and a turn between each two passages
    left_free = [each for each in drawing.root.iter(f"{SVG}rect") if (each.get("fill"), each.get("stroke-width")) == ("#fff", "0.18")]
    assert len(left_free) == openings

"""From answers to the brief: parsed, checked, in SI, every assumption recorded."""

from __future__ import annotations

from calc.brief import (
    Air,
    Assumption,
    Brief,
    House,
    Joists,
    Labour,
    Limits,
    Listener,
    Means,
    Obstruction,
    Origin,
    Shell,
    Side,
    SideKind,
    Use,
)
from calc.catalogue import load
from calc.site import Site
from wizard.interview import engine
from wizard.interview.answers import Answers
from wizard.interview.question import SIDE_IDS
from wizard.interview.reading import AnswerValues, Problems
from wizard.interview.topics import itself, overhead
from wizard.interview.topics.surroundings import time_of_day


def to_brief(answers: Answers) -> Brief:
    """The brief of these answers. Raises Problems, one for each question that keeps it from being made."""
    found = (*engine.missing(answers), *engine.problems(answers))
    if found:
        raise Problems(found)
    values = engine.values_of(answers)
    return Brief(
        name=answers.name,
        units=answers.units,
        code=values.word("code"),
        habitable=values.word("habitable"),
        shell=_shell(values),
        use=_use(values),
        listeners=_listeners(values),
        air=_air(values),
        means=_means(values),
        limits=Limits(
            lowest_ceiling=values.number("lowest_ceiling"),
            joists_may_be_touched=values.word("joists_may_be_touched") == "yes",
            likelihood=float(load("criteria")["sureness"][values.word("sureness")]["share"]),
        ),
        assumptions=_assumptions(answers),
        house=_house(values),
        site=_site(values),
    )


def _shell(values: AnswerValues) -> Shell:
    opening = values.word("escape") in ("window", "door")
    year = values.value("year_built")
    return Shell(
        length=values.number("shell_length"),
        width=values.number("shell_width"),
        height=values.number("shell_height"),
        slab_unevenness=values.number("slab_unevenness"),
        sides=_sides(values),
        foundation=values.word("foundation"),
        foundation_thickness=values.number("foundation_thickness"),
        joists=_joists(values),
        subfloor=values.word("subfloor"),
        floor_above=values.word("floor_above"),
        room_above=values.word("room_above"),
        obstructions=_obstructions(values),
        water=values.word("water"),
        radon=values.word("radon"),
        year_built=int(year) if isinstance(year, float) else None,
        appliance=values.word("appliance"),
        appliance_power=values.number("appliance_power") if values.word("appliance") != "none" else 0.0,
        basement_volume_left=values.number("basement_rest") * values.number("shell_height"),
        panel=values.word("panel"),
        gas_line=values.word("gas_line"),
        drains=values.word("drains"),
        escape=values.word("escape"),
        escape_width=values.number("escape_width") if opening else 0.0,
        escape_height=values.number("escape_height") if opening else 0.0,
        escape_sill=values.number("escape_sill") if opening else 0.0,
        ceiling_texture=values.word("ceiling_texture"),
        party=values.word("party_wall"),
    )


def _sides(values: AnswerValues) -> tuple[Side, ...]:
    lengths = (values.number("shell_length"), values.number("shell_width")) * 2
    return tuple(Side(n, lengths[n - 1], SideKind[values.word(key).upper()]) for n, key in enumerate(SIDE_IDS, start=1))


def _joists(values: AnswerValues) -> Joists:
    return Joists(
        kind=values.word("joist_kind"),
        depth=values.number("joist_depth"),
        breadth=values.number("joist_breadth"),
        spacing=values.number("joist_spacing"),
        span=values.number("joist_span"),
        species=values.word("joist_species"),
        grade=values.word("joist_grade"),
        damaged=values.word("joist_damaged"),
    )


def _obstructions(values: AnswerValues) -> tuple[Obstruction, ...]:
    """A beam carries the house, a slope is part of it: neither is ever taken as movable."""
    return tuple(
        Obstruction(
            kind=kind,
            underside=values.number(f"{kind}_underside"),
            width=values.number(f"{kind}_width"),
            movable=kind not in overhead.FIXED and values.word(f"{kind}_movable") == "yes",
            place=values.word(f"{kind}_place"),
            length=values.number(f"{kind}_length"),
        )
        for kind in values.words("obstructions")
        if kind != "none"
    )


def _use(values: AnswerValues) -> Use:
    return Use(
        source=values.word("source"),
        level=values.number("level"),
        hours=values.word("hours"),
        people=int(values.number("people")),
        activity=values.word("activity"),
        session=values.number("session"),
        equipment=values.number("equipment"),
        recording=values.word("recording") == "yes",
        sleeping=values.word("sleeping") == "yes",
        level_measured="level" in values.answers and values.resolve("level")[1] is Origin.MEASURED,
        level_careful=values.resolve("level")[1] is Origin.UNKNOWN,
    )


def _listeners(values: AnswerValues) -> tuple[Listener, ...]:
    """Who was chosen, and the room itself where it records or mixes with a limit."""
    chosen = tuple(_listener(values, kind) for kind in values.words("listeners") if kind != "none")
    return (*chosen, _room_itself(values)) if itself.listens(values) else chosen


def _listener(values: AnswerValues, kind: str) -> Listener:
    outdoors = f"{kind}_distance" in values.questions
    target = values.word(f"{kind}_target")
    by_law, fence = target == "by_law", outdoors and values.word(f"{kind}_barrier") == "yes"
    label = str(load("criteria")["listener"][kind]["label"])
    window = values.word(f"{kind}_window") if outdoors else "closed"
    return Listener(
        kind=kind,
        label=f"{label}, outdoors at the window" if outdoors and by_law else label,
        target=target,
        background=values.number(f"{kind}_background"),
        distance=values.number(f"{kind}_distance") if outdoors else 0.0,
        window="outside" if outdoors and by_law else window,
        barrier_height=values.number(f"{kind}_barrier_height") if fence else 0.0,
        barrier_distance=values.number(f"{kind}_barrier_distance") if fence else 0.0,
        limit=values.number(f"{kind}_limit") if by_law else 0.0,
    )


def _room_itself(values: AnswerValues) -> Listener:
    row = load("criteria")["listener"]["this_room"]
    background = float(row[f"background_{time_of_day(values)}"])
    return Listener("this_room", str(row["label"]), values.word("this_room_target"), background, 0.0, "closed")


def _house(values: AnswerValues) -> House:
    """The door at the stair, and what was said of the house's noise; the plain defaults where the room does not listen to it."""
    door = values.word("stair_door")
    if not itself.listens(values):
        return House(stair_door=door)
    return House(values.word("walking"), values.word("plumbing"), values.word("machine"), values.number("street_level"), door)


def _site(values: AnswerValues) -> Site:
    return Site(
        corner_heights=_corners(values),
        stair_headroom=_measured(values, "stair_headroom"),
        stair_width=_measured(values, "stair_width"),
        board_length=_measured(values, "board_length"),
        point_loads=values.word("point_loads"),
        clip_rating=_measured(values, "clip_rating"),
        slab_thickness=_measured(values, "slab_thickness"),
        slab_state=values.word("slab_state"),
        foundation_state=values.word("foundation_state"),
        well=values.word("well"),
        well_width=_measured(values, "well_width"),
        well_projection=_measured(values, "well_projection"),
        well_depth=_measured(values, "well_depth"),
        garage=values.word("garage"),
        tight_house=values.word("tight_house"),
        appliance_clear=_measured(values, "appliance_clear"),
        panel_clear=_measured(values, "panel_clear"),
        wiring=values.word("wiring"),
        wall_test=values.word("wall_test"),
        mould=values.word("mould"),
        suspect=values.word("suspect"),
    )


def _measured(values: AnswerValues, question_id: str) -> float | None:
    """The number, or None where nobody has measured."""
    value = values.value(question_id)
    return value if isinstance(value, float) else None


def _corners(values: AnswerValues) -> tuple[float, ...]:
    """Heights of all four corners, then the middle where it was measured; none of them where a corner is missing."""
    corners = [_measured(values, key) for key in (*overhead.CORNERS, overhead.MIDDLE)]
    four = tuple(height for height in corners[:4] if height is not None)
    return (*four, *(height for height in corners[4:] if height is not None)) if len(four) == 4 else ()


def _air(values: AnswerValues) -> Air:
    return Air(
        system=values.word("heating"),
        winter_design=values.number("winter_design"),
        room_temperature=values.number("room_temperature"),
        room_humidity=values.number("room_humidity"),
        co2_limit=values.number("co2_limit"),
        bedrooms=int(values.number("bedrooms")),
        house_area=values.number("house_area"),
        breaks=values.word("breaks"),
        arrivals=values.word("arrivals"),
        summer_design=values.number("summer_design"),
        summer_damp=values.word("summer_damp"),
        duct_outdoors=values.word("duct_outdoors"),
        duct_reach=values.number("duct_reach"),
    )


def _means(values: AnswerValues) -> Means:
    return Means(
        budget=values.number("budget"),
        contingency=values.number("contingency"),
        labour=Labour(values.word("labour")),
        hourly_rate=values.number("hourly_rate"),
        hours_per_week=values.number("hours_per_week"),
        helpers=int(values.number("helpers")),
        currency=values.word("currency"),
    )


def _assumptions(answers: Answers) -> tuple[Assumption, ...]:
    """Every value that applies and that nobody has measured or estimated."""
    return tuple(
        Assumption(row.question.title, engine.topic_label(row.question.topic), row.shown, row.note, row.origin)
        for row in engine.assumed(answers)
    )

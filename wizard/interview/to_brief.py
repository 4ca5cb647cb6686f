"""From answers to the brief: parsed, checked, in SI, every assumption recorded."""

from __future__ import annotations

from calc.brief import (
    Air,
    Assumption,
    Brief,
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
from wizard.interview import engine
from wizard.interview.answers import Answers
from wizard.interview.question import SIDE_IDS
from wizard.interview.reading import AnswerValues, Problems


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
        listeners=tuple(_listener(values, kind) for kind in values.words("listeners")),
        air=_air(values),
        means=_means(values),
        limits=Limits(values.number("lowest_ceiling"), values.word("joists_may_be_touched") == "yes"),
        assumptions=_assumptions(answers),
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
    """A beam carries the house and is never taken as movable."""
    return tuple(
        Obstruction(
            kind=kind,
            underside=values.number(f"{kind}_underside"),
            width=values.number(f"{kind}_width"),
            movable=kind != "beam" and values.word(f"{kind}_movable") == "yes",
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
    )


def _listener(values: AnswerValues, kind: str) -> Listener:
    outdoors = f"{kind}_distance" in values.questions
    return Listener(
        kind=kind,
        label=str(load("criteria")["listener"][kind]["label"]),
        target=values.word(f"{kind}_target"),
        background=values.number(f"{kind}_background"),
        distance=values.number(f"{kind}_distance") if outdoors else 0.0,
        window=values.word(f"{kind}_window") if outdoors else "closed",
    )


def _air(values: AnswerValues) -> Air:
    return Air(
        system=values.word("heating"),
        winter_design=values.number("winter_design"),
        room_temperature=values.number("room_temperature"),
        room_humidity=values.number("room_humidity"),
        co2_limit=values.number("co2_limit"),
        bedrooms=int(values.number("bedrooms")),
        house_area=values.number("house_area"),
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
        for row in engine.summary(answers)
        if row.origin in (Origin.DEFAULT, Origin.UNKNOWN)
    )

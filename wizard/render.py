"""Assessment to Markdown, through the templates. The templates hold the prose; numbers are formatted here and in present.py."""

from __future__ import annotations

import datetime
import re
from collections.abc import Sequence
from importlib.metadata import version
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from calc.assess import SEVERITY_ORDER, Assessment
from calc.bands import OCTAVES
from calc.brief import Brief, SideKind
from calc.finding import Finding
from calc.isolation.checking import NoiseCheck, noise_check
from calc.isolation.criteria import background_spectrum
from calc.isolation.duct_way import duct_size
from calc.isolation.listener import ListenerResult
from calc.isolation.opening import door_source, window_source
from calc.isolation.path import where
from calc.isolation.source import source_label, source_spectrum
from calc.materials.items import item
from calc.materials.shopping import Purchase, beside, shopping, stages
from calc.materials.treatment import piece_size
from calc.options import empty_bay
from calc.schedule import Task, dates, last_day
from calc.scheme import Ply, Scheme, WallOption
from calc.structure import clip_joists
from wizard.compiled import Unfolded, compiled
from wizard.figures.constructions import STEMS
from wizard.figures.figure import Figure
from wizard.gantt import mermaid
from wizard.glossary import used
from wizard.interview.answers import Answers
from wizard.interview.engine import question, summary
from wizard.interview.first_day import first_day
from wizard.markdown import cell, escaped
from wizard.present import filters, in_a_row
from wizard.quiet import INSIDE, quiet
from wizard.weights import hung_soffits, weights


def printed(value: Any) -> Any:
    """What a template prints of a value: text escaped for Markdown unless it is Markdown already, as what macros, ``cell`` and ``verbatim``
    give is.

    A template that would print None is a fault of ours: say so instead of printing it.
    """
    if value is None:
        raise ValueError("a template tried to print a value that is not there")
    return Markup(escaped(value)) if isinstance(value, str) and not isinstance(value, Markup) else value


def environment(units: str, currency: str) -> Environment:
    """The Jinja environment with our filters for one system of units and one currency."""
    env = Environment(
        loader=PackageLoader("templates", package_path=""),
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=printed,
        optimized=False,
        bytecode_cache=compiled(),
        autoescape=True,  # for Markdown, by ``printed``: what comes out of it passes Jinja's own escaping, which is that of HTML
    )
    env.code_generator_class = Unfolded
    env.filters.update(filters(units, currency), cell=lambda text: Markup(cell(text)), verbatim=Markup)
    return env


SHEETS = {
    "structural-engineer": "Structural engineer",
    "hvac-designer": "HVAC designer",
    "electrician": "Electrician",
    "building-official": "Building official",
    "neighbour": "A note to the neighbour",
}


# Questions whose answers a sheet's facts rest on, each printed with how it is known.
HANGING = ("obstructions", "beam_underside", "beam_width", "duct_underside", "duct_width", "pipe_underside", "pipe_width")
RESTS_ON = {
    "structural-engineer": (
        "year_built", "joist_kind", "joist_breadth", "joist_depth", "joist_spacing", "joist_span", "joist_species", "joist_grade",
        "joist_damaged", "joists_may_be_touched", "room_above", "floor_above", "subfloor", "point_loads", *HANGING, "shell_height",
        "foundation", "foundation_thickness", "foundation_state", "slab_state", "slab_thickness",
    ),
    "hvac-designer": (
        "people", "activity", "session", "breaks", "arrivals", "equipment", "co2_limit", "heating", "house_area", "bedrooms", "tight_house",
        "winter_design", "room_temperature", "room_humidity", "summer_design", "summer_damp", "duct_outdoors", "duct_reach", "appliance",
        "appliance_power", "basement_rest", "appliance_clear", "gas_line", "radon", *HANGING,
    ),
    "electrician": ("year_built", "panel", "panel_clear", "wiring", "equipment", "appliance", "garage"),
    "building-official": (
        "code", "habitable", "year_built", "shell_height", "bedrooms", "escape", "escape_width", "escape_height", "escape_sill", "well",
        "well_width", "well_projection", "well_depth", "stair_headroom", "stair_width", "appliance", "appliance_power", "basement_rest",
        "tight_house", "gas_line", "garage", "foundation", "water",
        "radon", "suspect",
    ),
}  # fmt: skip


def visits(tasks: Sequence[Task], trades: Sequence[str]) -> list[tuple[Task, list[Task]]]:
    """The tasks that one of some trades does or takes part in, each with those that wait for it."""
    theirs = [task for task in tasks if any(trade in task.who for trade in trades)]
    return [(task, [each for each in tasks if task.id in each.after]) for task in theirs]


def sheets(brief: Brief) -> dict[str, str]:
    """The hand-off sheets that apply, by file name, with their titles: the note to the neighbour only where one listens."""
    near = any(where(listener) in ("neighbour", "outdoors") for listener in brief.listeners)
    return {name: title for name, title in SHEETS.items() if name != "neighbour" or near}


def walls_alike(scheme: Scheme) -> list[tuple[WallOption, list[SideKind]]]:
    """Each construction of a wall once, with the kinds of side it stands on."""
    found: dict[WallOption, list[SideKind]] = {}
    for kind, wall in scheme.walls:
        found.setdefault(wall, []).append(kind)
    return list(found.items())


def used_plies(scheme: Scheme) -> tuple[Ply, ...]:
    """Each kind of board of a scheme once."""
    plies = [*scheme.lid.between_joists, *scheme.lid.plies]
    for _, wall in scheme.walls:
        plies += [*wall.outer_plies, *wall.inner_plies]
    return tuple(dict.fromkeys(plies))


# Where the plan holds the notes of those who decide; those of all others stand at their task, or beside the stops and cautions.
NOTES_AT = {"structural engineer": 7, "HVAC designer": 8, "electrician": 10}


def notes_at(assessment: Assessment) -> dict[int, list[Finding]]:
    """The one section in which each note stands."""
    found: dict[int, list[Finding]] = {2: [], 7: [], 8: [], 10: [], 12: []}
    told = [each for task in assessment.schedule.tasks for each in task.findings]
    for note in assessment.notes:
        found[NOTES_AT.get(note.decides, 12 if note in told else 2)].append(note)
    return found


def by_stage(purchases: Sequence[Purchase]) -> list[tuple[str, list[Purchase]]]:
    """The shopping list by stage, in the order of the work; stages that need nothing left out."""
    found = [(stage, [each for each in purchases if each.stage == stage]) for stage in stages()]
    return [(stage, rows) for stage, rows in found if rows]


def plan_text(assessment: Assessment, answers: Answers, today: datetime.date, drawn: Sequence[Figure] = ()) -> str:
    """The whole plan as Markdown, with links to the figures ``drawn``. The same answers give the same text, apart from the date line."""
    env, context = _prepared(assessment, answers, today, drawn)
    text = env.get_template("plan.md.j2").render(context)
    return tidy(f"{text}\n\n{env.get_template('words.md.j2').render(words=used(text))}")


def handoff_sheets(assessment: Assessment, answers: Answers, today: datetime.date, drawn: Sequence[Figure] = ()) -> dict[str, str]:
    """Each hand-off sheet as Markdown, by file name, with links to those of the figures ``drawn`` that it needs."""
    env, context = _prepared(assessment, answers, today, drawn)
    sheet = env.get_template("sheet.md.j2")
    return {name: tidy(sheet.render(context, name=name, title=title, standalone=True)) for name, title in sheets(assessment.brief).items()}


def _prepared(
    assessment: Assessment, answers: Answers, today: datetime.date, drawn: Sequence[Figure]
) -> tuple[Environment, dict[str, Any]]:
    brief = assessment.brief
    env = environment(brief.units, brief.means.currency)
    numbers = {task.id: task.number for task in assessment.schedule.tasks}
    env.filters["choice"] = lambda id, question_id: "not known" if id == "unknown" else question(question_id).label(id)
    env.filters["task_numbers"] = lambda ids: in_a_row([str(number) for number in sorted(numbers[id] for id in ids)])
    env.filters["short"] = lambda id: item(id).short
    env.filters["lump"] = lambda id: item(id).package_label.startswith("allowance")  # a sum of money, not a number of things
    env.filters["place"] = where
    env.filters["visits"] = visits
    env.filters["piece"] = piece_size
    context = {field: getattr(assessment, field) for field in assessment.__dataclass_fields__}
    start, rows = first_day(answers, today), summary(answers)
    return env, context | {
        "stops": assessment.stops,
        "cautions": assessment.cautions,
        "notes_at": notes_at(assessment),
        "feasible": assessment.feasible,
        "sound": assessment.sound,
        "sound_findings": assessment.sound_findings,
        "air_design": assessment.air_design,
        "sealed_door_cost": assessment.sealed_door_cost,
        "air_systems": assessment.air_systems,
        "air_findings": assessment.air_findings,
        "all_findings": sorted(
            (*assessment.findings, *assessment.air_findings, *assessment.sound_findings), key=lambda f: SEVERITY_ORDER[f.severity]
        ),
        "standalone": False,
        "rests_on": RESTS_ON,
        "clear": any(wall.gap > 0.0 for _, wall in assessment.scheme.walls),
        "strapped": any(wall.frame == "wood strapping" for _, wall in assessment.scheme.walls),
        "answered": {row.question.id: row for row in rows},
        "rows": rows,
        "how_to_measure": {row.question.title: row.question.how for row in rows},
        "quiet": quiet(assessment),
        "outside": [(each, _noise_check(brief, each)) for each in assessment.isolation.listeners if where(each.listener) != INSIDE],
        "octaves": OCTAVES,
        "door_source": door_source(assessment.scheme.door.id),
        "window_source": window_source(),
        "source_label": source_label(brief.use.source),
        "wall_figures": {kind: f"wall-{stem}" for kind, stem in STEMS.items()},
        "figures": {each.name: each for each in drawn},
        "sheets": sheets(brief),
        "empty_bay": empty_bay(assessment.scheme.lid, brief.shell.joists.depth),
        "weights": weights(assessment.scheme.lid, brief.units),
        "hung_soffits": hung_soffits(brief, assessment.room, assessment.scheme.lid),
        "clip_joists": clip_joists(assessment.scheme.lid.clip_spacing, brief.shell.joists.spacing),
        "walls_alike": walls_alike(assessment.scheme),
        "used_plies": used_plies(assessment.scheme),
        "purchases": by_stage(shopping(assessment.bill)),
        "duct": duct_size(brief, assessment.scheme.air_path),
        "order_sizes": assessment.order_sizes,
        "sound_bill": assessment.sound_bill,
        "beside": beside(assessment.sound_bill),
        "gantt": mermaid(assessment.schedule, start, brief.name),
        "start": start.isoformat(),
        "finish": last_day(assessment.schedule, start).isoformat(),
        "days": {each.task: each for each in dates(assessment.schedule, start)},
        "version": version("stillroom"),
        "today": today.isoformat(),
    }


def _noise_check(brief: Brief, result: ListenerResult) -> NoiseCheck:
    """What pink noise, as loud as the music, should show at one listener."""
    played = source_spectrum(brief.use.source, brief.use.level)
    return noise_check(played, result.levels, background_spectrum(result.listener.background), brief.use.level)


def tidy(text: str) -> str:
    """One blank line between blocks and none at the end: template tags leave more or fewer."""
    out: list[str] = []
    for line in (raw.rstrip() for raw in text.splitlines()):
        if line and out and out[-1] and block(line) != block(out[-1]):
            out.append("")
        if line or (out and out[-1]):
            out.append(line)
    return "\n".join(out).strip() + "\n"


def block(line: str) -> str:
    """The kind of Markdown block a line belongs to. Every heading is a block of its own."""
    if line.startswith("#"):
        return line
    if line.startswith("|"):
        return "table"
    return "list" if re.match(r"(-|\d+\.) ", line) else "text"

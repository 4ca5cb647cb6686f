"""Assessment to plan folder, through the templates. The templates hold the prose; numbers are formatted here and in present.py."""

from __future__ import annotations

import datetime
import re
from importlib.metadata import version
from pathlib import Path
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined

from calc.assess import Assessment
from calc.isolation.source import source_label
from wizard.interview.answers import Answers
from wizard.interview.engine import question, summary
from wizard.present import filters
from wizard.quiet import quiet


def refuse_none(value: Any) -> Any:
    """A template that would print None is a fault of ours: say so instead of printing it."""
    if value is None:
        raise ValueError("a template tried to print a value that is not there")
    return value


def environment(units: str, currency: str) -> Environment:
    """The Jinja environment with our filters for one system of units and one currency."""
    env = Environment(
        loader=PackageLoader("templates", package_path=""),
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=refuse_none,
        autoescape=False,  # Markdown, not HTML: what a person typed goes through the plain and cell filters
    )
    env.filters.update(filters(units, currency))
    return env


def plan_text(assessment: Assessment, answers: Answers, today: datetime.date) -> str:
    """The whole plan as Markdown. The same answers give the same text, apart from the date line."""
    brief = assessment.brief
    env = environment(brief.units, brief.means.currency)
    numbers = {task.id: f"{task.number} ({task.name.lower()})" for task in assessment.schedule.tasks}
    env.filters["choice"] = lambda id, question_id: question(question_id).label(id)
    env.filters["task_ref"] = numbers.__getitem__
    context = {field: getattr(assessment, field) for field in assessment.__dataclass_fields__}
    text = env.get_template("plan.md.j2").render(
        **context,
        stops=assessment.stops,
        cautions=assessment.cautions,
        notes=assessment.notes,
        feasible=assessment.feasible,
        rows=summary(answers),
        quiet=quiet(assessment),
        source_label=source_label(brief.use.source),
        version=version("stillroom"),
        today=today.isoformat(),
    )
    return tidy(text)


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


def export(assessment: Assessment, folder: Path, answers: Answers, today: datetime.date, overwrite: bool = True) -> Path:
    """Write the plan folder and return the path of plan.md.

    Without ``overwrite`` a plan that differs from this one, apart from its date line, is left alone: FileExistsError. Raises OSError when
    the folder cannot be made or written.
    """
    text = plan_text(assessment, answers, today)
    path = folder / "plan.md"
    if not overwrite and path.exists() and undated(path.read_text(encoding="utf-8", errors="replace")) != undated(text):
        raise FileExistsError(path)
    folder.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return path


def undated(text: str) -> list[str]:
    """The lines of a plan without its date line."""
    return [line for line in text.splitlines() if not line.startswith("Date: ")]

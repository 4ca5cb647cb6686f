"""The plan folder: plan.md, its figures, the shopping list, the calendar, a sheet for each professional, and one page to print.

Each file is written beside and renamed, so that a folder never holds half of one. What an earlier plan left behind is taken away only
where it bears our mark.
"""

from __future__ import annotations

import csv
import datetime
import io
import os
import re
from collections.abc import Mapping
from pathlib import Path

from calc.assess import Assessment
from calc.materials.shopping import shopping
from wizard.figures.figure import Figure
from wizard.figures.gather import figures
from wizard.ics import calendar
from wizard.interview.answers import Answers
from wizard.interview.first_day import first_day
from wizard.present import filters
from wizard.render import handoff_sheets, plan_text

MARK = "Written by Stillroom"  # stands near the top of every figure and sheet
OWN_FOLDERS = {"figures": "*.svg", "handoff": "*.md"}


def export(
    assessment: Assessment, folder: Path, answers: Answers, today: datetime.date, overwrite: bool = True, html: bool = False
) -> Path:
    """Write the plan folder and return the path of plan.md; with ``html`` one page more, figures inside.

    Without ``overwrite`` a plan that differs from this one, apart from its dates, is left alone: FileExistsError. Raises OSError when
    the folder cannot be made or written.
    """
    drawn = figures(assessment)
    files = plan_files(assessment, answers, today, drawn)
    path = folder / "plan.md"
    if not overwrite and path.exists() and undated(path.read_text(encoding="utf-8", errors="replace")) != undated(files["plan.md"]):
        raise FileExistsError(path)
    if html:
        from wizard.page import page

        files["plan.html"] = page(files["plan.md"], drawn, assessment.brief.name)
    folder.mkdir(parents=True, exist_ok=True)
    _forget(folder, files)
    for name, text in files.items():
        _write(folder / name, text)
    return path


def plan_files(assessment: Assessment, answers: Answers, today: datetime.date, drawn: tuple[Figure, ...]) -> dict[str, str]:
    """Every file of the folder by its path in it, all text. The same answers give the same files, apart from dates."""
    brief = assessment.brief
    stamp = datetime.datetime.combine(today, datetime.time(), datetime.UTC)
    files = {"plan.md": plan_text(assessment, answers, today, drawn)}
    files |= {f"figures/{each.name}.svg": f"<!-- {MARK} -->\n{each.svg}\n" for each in drawn}
    files["shopping-list.csv"] = shopping_list(assessment)
    files["tasks.ics"] = calendar(assessment.schedule, first_day(answers, today), brief.name, stamp)
    return files | {f"handoff/{name}.md": text for name, text in handoff_sheets(assessment, answers, today).items()}


def shopping_list(assessment: Assessment) -> str:
    """The shopping list as CSV, by shop and stage; a cell that a spreadsheet would take for a formula is quoted with an apostrophe."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    currency = assessment.brief.means.currency
    writer.writerow(
        [
            "shop",
            "on site for",
            "item",
            "packages",
            "package",
            f"price of one ({currency})",
            f"total ({currency})",
            "price from",
            "used in all stages",
            "waste",
            "used for",
        ]
    )
    amount, bought = filters(assessment.brief.units, currency)["amount"], {row.item: row for row in assessment.bill.rows}
    used = {name: sum(row.used for row in assessment.bill.rows if row.item == name) for name in bought}
    for each in shopping(assessment.bill):
        origin = "your price book" if each.own_price else "invented example"
        row = [
            each.shop,
            each.stage,
            each.label,
            each.packages,
            each.package_label,
            f"{each.unit_price:.2f}",
            f"{each.total:.2f}",
            origin,
            amount(used[each.item], bought[each.item].unit),
            f"{bought[each.item].waste:.0%}",
            each.where,
        ]
        writer.writerow([_cell(value) for value in row])
    return out.getvalue()


def _cell(value: object) -> str:
    text = str(value)
    return f"'{text}" if text[:1] in ("=", "+", "-", "@", "\t", "\r") and not text.lstrip("-").replace(".", "", 1).isdigit() else text


def _write(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    beside = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        with beside.open("w", encoding="utf-8", newline="") as file:
            file.write(text)
        beside.replace(path)
    finally:
        beside.unlink(missing_ok=True)


def _forget(folder: Path, files: Mapping[str, str]) -> None:
    """Take away figures and sheets of an earlier plan of ours that this one does not have: they would tell of another room."""
    for name, pattern in OWN_FOLDERS.items():
        for path in (folder / name).glob(pattern):
            if f"{name}/{path.name}" not in files and path.is_file() and MARK in path.read_text(encoding="utf-8", errors="replace")[:2000]:
                path.unlink()


def undated(text: str) -> list[str]:
    """The lines of a plan without its dates: where nobody named the first day, they count from the day the plan was written."""
    return [re.sub(r"\d{4}-\d\d-\d\d", "", line) for line in text.splitlines()]

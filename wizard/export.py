"""The plan folder: plan.md, its figures, the shopping list, the calendar, a sheet for each professional, and one page to print.

All files are written beside and then renamed, so that a folder never holds half of one. What an earlier plan left behind is taken away
only where it bears our mark.
"""

from __future__ import annotations

import contextlib
import csv
import datetime
import errno
import io
import os
import re
from collections.abc import Mapping, Sequence
from pathlib import Path

from calc.assess import Assessment
from calc.materials.shopping import beside, shopping
from wizard.figures.figure import Figure
from wizard.figures.gather import figures
from wizard.ics import calendar
from wizard.interview.answers import Answers
from wizard.interview.first_day import first_day
from wizard.markdown import one_line
from wizard.present import filters
from wizard.render import handoff_sheets, plan_text

MARK = "Written by Stillroom"  # stands in every figure and sheet, and in the page
OWN_FOLDERS = {"figures": "*.svg", "handoff": "*.md"}


class WouldOverwrite(FileExistsError):  # noqa: N818
    """Files that are not those of this plan stand where its files would be written, or would be taken away; ``names`` in the folder."""

    def __init__(self, names: Sequence[str]) -> None:
        super().__init__(errno.EEXIST, ", ".join(names))
        self.names = tuple(names)


def export(
    assessment: Assessment, folder: Path, answers: Answers, today: datetime.date, overwrite: bool = True, html: bool = False
) -> Path:
    """Write the plan folder and return the path of plan.md; with ``html``, or where one is already, one page more, figures inside.

    Without ``overwrite`` a folder in which any file would change, dates apart, is left alone: WouldOverwrite. Raises OSError when the
    folder cannot be made or written. Links are replaced, and nothing is written through them.
    """
    drawn = figures(assessment)
    files = plan_files(assessment, answers, today, drawn)
    if html or _ours(folder / "plan.html"):
        from wizard.page import page

        files["plan.html"] = page(files["plan.md"], drawn, assessment.brief.name)
    _check_places(folder, files)
    old = _left_behind(folder, files)
    if not overwrite:
        names = [name for name, text in files.items() if _differs(folder / name, text)] + [str(path.relative_to(folder)) for path in old]
        if names:
            raise WouldOverwrite(names)
    _write(folder, files)
    for path in old:
        path.unlink()
    return folder / "plan.md"


def plan_files(assessment: Assessment, answers: Answers, today: datetime.date, drawn: tuple[Figure, ...]) -> dict[str, str]:
    """Every file of the folder by its path in it, all text. The same answers give the same files, apart from dates."""
    brief = assessment.brief
    stamp = datetime.datetime.combine(today, datetime.time(), datetime.UTC)
    files = {"plan.md": plan_text(assessment, answers, today, drawn)}
    files |= {f"figures/{each.name}.svg": f"<!-- {MARK} -->\n{each.svg}\n" for each in drawn}
    files["shopping-list.csv"] = shopping_list(assessment)
    files["tasks.ics"] = calendar(assessment.schedule, first_day(answers, today), one_line(brief.name), stamp)
    return files | {f"handoff/{name}.md": text for name, text in handoff_sheets(assessment, answers, today, drawn).items()}


HEAD = (
    "stage", "shop", "item", "amount", "unit", "price of one unit", "total", "currency", "price from", "used in all stages", "waste",
    "for what",
)  # fmt: skip


def shopping_list(assessment: Assessment) -> str:
    """The shopping list as CSV, by shop and stage, sizes in the person's units.

    A cell that a spreadsheet would take for a formula is quoted with an apostrophe. The mark in front tells a spreadsheet that this is
    UTF-8: without it some take it for their own country's letters.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(HEAD)
    currency = assessment.brief.means.currency
    ours = filters(assessment.brief.units, currency)
    own, amount = ours["own"], ours["amount"]
    bought = [(assessment.bill, each) for each in shopping(assessment.bill)]
    for bill, each in (*bought, *((assessment.sound_bill, each) for each in beside(assessment.sound_bill))):
        rows = [row for row in bill.rows if row.item == each.item]
        label = ": ".join(filter(None, (own(each.label), assessment.order_sizes.get(each.item))))
        row = (
            each.stage, each.shop, label, each.packages, own(each.package_label), f"{each.unit_price:.2f}", f"{each.total:.2f}",
            currency, "your price book" if each.own_price else "invented example", amount(sum(row.used for row in rows), rows[0].unit),
            f"{rows[-1].waste:.0%}", own(each.where),
        )  # fmt: skip
        writer.writerow([_cell(value) for value in row])
    return "\ufeff" + out.getvalue()


def _cell(value: object) -> str:
    text = str(value)
    return f"'{text}" if text[:1] in ("=", "+", "-", "@", "\t", "\r") and not text.lstrip("-").replace(".", "", 1).isdigit() else text


def _check_places(folder: Path, files: Mapping[str, str]) -> None:
    """Raises OSError, before anything is written, for a folder in the place of a file and a link in the place of a folder."""
    for name in OWN_FOLDERS:
        if (folder / name).is_symlink():
            raise OSError(errno.ELOOP, "it is a link, and nothing is written through it", str(folder / name))
    for name in files:
        if (folder / name).is_dir() and not (folder / name).is_symlink():
            raise IsADirectoryError(errno.EISDIR, "a folder stands in its place", str(folder / name))


def _differs(path: Path, text: str) -> bool:
    """Whether something stands there that is not this text, dates apart."""
    if path.is_symlink() or (path.exists() and not path.is_file()):
        return True
    return path.exists() and undated(path.read_text(encoding="utf-8", errors="replace")) != undated(text)


def _left_behind(folder: Path, files: Mapping[str, str]) -> list[Path]:
    """Figures and sheets of an earlier plan of ours that this one does not have: they would tell of another room."""
    found = (path for name, pattern in OWN_FOLDERS.items() for path in sorted((folder / name).glob(pattern)))
    return [path for path in found if path.relative_to(folder).as_posix() not in files and _ours(path)]


def _ours(path: Path) -> bool:
    return path.is_file() and MARK in path.read_text(encoding="utf-8", errors="replace")


def _write(folder: Path, files: Mapping[str, str]) -> None:
    """Every file beside its place, and when all are there, each into its place: a full disk leaves the earlier plan whole."""
    parts = {(folder / name): (folder / name).with_name(f".{Path(name).name}.{os.getpid()}.part") for name in files}
    try:
        for (path, part), text in zip(parts.items(), files.values(), strict=True):
            path.parent.mkdir(parents=True, exist_ok=True)
            part.unlink(missing_ok=True)
            with part.open("x", encoding="utf-8", newline="") as file:
                file.write(text)
        for path, part in parts.items():
            part.replace(path)
    finally:
        for part in parts.values():
            with contextlib.suppress(OSError):
                part.unlink(missing_ok=True)


def undated(text: str) -> list[str]:
    """The lines of a file without its dates: where nobody named the first day, they count from the day the plan was written."""
    return [re.sub(r"\d{4}-\d\d-\d\d|\b20\d{6}(?:T\d{6}Z?)?\b", "", line) for line in text.splitlines()]

"""The plan as read in the terminal: figures as plots in plain text where they can be, the others in the folder that is written."""

from __future__ import annotations

import datetime
import re
from typing import TYPE_CHECKING

from wizard.figures.figure import Figure
from wizard.plots import co2_plot, modes_plot, weeks_plot
from wizard.render import plan_text

if TYPE_CHECKING:
    from calc.assess import Assessment
    from wizard.interview.answers import Answers

WIDTH, HEIGHT = 72, 18
CAPTIONS = {
    "co2": "Carbon dioxide shows how stale the air gets",
    "modes": "Axial modes matter most, then tangential ones; a number counts modes that share a place",
}
PICTURE = re.compile(r"!\[[^\]]*\]\(figures/([\w-]+)\.svg\)")
MERMAID = re.compile(r"```mermaid\n.*?\n```", re.DOTALL)
SECTIONS = re.compile(r"The sections:\n\n(?:- \[.*\]\(#.*\)\n)+")  # a terminal has its own way round: its links would print their targets
DRAWN = "Show these to whoever does the work."
ELSEWHERE = "They are drawn in the folder that the plan is written to: show them to whoever does the work."


def preview_text(assessment: Assessment, answers: Answers, today: datetime.date) -> str:
    """The plan's Markdown with plots in fenced blocks instead of links to figures."""
    drawn = plots(assessment)
    stand_ins = [Figure(name, name, "", CAPTIONS[name], "") for name in drawn]
    text = plan_text(assessment, answers, today, stand_ins)
    text = PICTURE.sub(lambda found: fenced(drawn.get(found.group(1), [])), text)
    text = MERMAID.sub(lambda found: fenced(_weeks(assessment)), SECTIONS.sub("", text))
    return text.replace(DRAWN, ELSEWHERE)


def fenced(lines: list[str]) -> str:
    return "\n".join(["```text", *lines, "```"])


def plots(assessment: Assessment) -> dict[str, list[str]]:
    """The figures that can be plotted in plain text, by their names in the plan."""
    air, sound = assessment.air, assessment.sound
    return {
        "co2": co2_plot(air.co2_curve, air.co2_off, assessment.brief.air.co2_limit, WIDTH, HEIGHT),
        "modes": modes_plot([(each.frequency, each.kind) for each in sound.modes], (sound.gap_at, sound.gap_at + sound.spacing), WIDTH),
    }


def _weeks(assessment: Assessment) -> list[str]:
    tasks = assessment.schedule.tasks
    rows = [(f"{task.number}. {task.name}", task.start, task.finish, task.ready, task.critical) for task in tasks]
    return weeks_plot(rows, assessment.schedule.weeks, WIDTH)

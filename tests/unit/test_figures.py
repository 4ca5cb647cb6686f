"""Every figure of several invented basements: well formed, legible in print, harmless, the same every time, and the charts."""

from __future__ import annotations

import datetime
import hashlib
import os
import re
import subprocess
import sys
from dataclasses import replace
from itertools import pairwise

import pytest
from figures_cases import EVERY, case, drawn
from figures_kit import NINE_POINTS, SVG, TALLEST, read

from calc.schedule import dates
from wizard.figures import figures
from wizard.figures.callouts import spread
from wizard.figures.charts import band_chart, ladder_chart
from wizard.figures.gantt import gantts, hold_at
from wizard.figures.svg import Canvas
from wizard.figures.text import SMALLEST, clean, width, wrapped


@pytest.mark.parametrize("name", EVERY)
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


@pytest.mark.parametrize("name", EVERY)
def test_text_prints_at_nine_points_or_more_inside_the_page_and_on_no_other_text(name: str) -> None:
    for figure, drawing in drawn(name).values():
        assert drawing.wide == 170.0
        assert drawing.tall <= TALLEST, figure.name
        assert min((text.size for text in drawing.texts), default=NINE_POINTS) >= NINE_POINTS - 1e-3, figure.name
        assert not drawing.overlaps(), figure.name
        assert not drawing.outside(), figure.name
        assert not drawing.strays(), figure.name


@pytest.mark.parametrize("name", EVERY)
def test_figures_hold_nothing_but_marks_in_greys(name: str) -> None:
    allowed = {f"{SVG}{tag}" for tag in ("svg", "title", "desc", "rect", "line", "path", "circle", "text")}
    for figure, drawing in drawn(name).values():
        assert {each.tag for each in drawing.root.iter()} <= allowed
        assert not any("href" in key or key.startswith("on") for each in drawing.root.iter() for key in each.attrib)
        assert "url(" not in figure.svg
        assert "style" not in figure.svg
        for colour in re.findall(r'(?:fill|stroke)="([^"]*)"', figure.svg):
            assert colour == "none" or re.fullmatch(r"#(?:([0-9a-f])\1\1|([0-9a-f]{2})\2\2)", colour), colour


@pytest.mark.parametrize("name", EVERY)
def test_all_figures_stand_in_one_page_without_sharing_an_id(name: str) -> None:
    found = [each for _, drawing in drawn(name).values() for each in drawing.root.iter() if "id" in each.attrib]
    ids = [each.attrib["id"] for each in found]
    assert len(set(ids)) == len(ids) == 2 * len(drawn(name))
    assert all(drawing.root.attrib["role"] == "img" for _, drawing in drawn(name).values())


def test_names_that_a_person_typed_stay_text() -> None:
    figure, drawing = next(pair for key, pair in drawn("low").items() if key.startswith("sound-1"))
    assert "<script" not in figure.svg
    assert "alert(1)</script>" in drawing.title
    assert "\u202e" not in figure.svg


def test_the_same_assessment_gives_the_same_bytes_in_another_process() -> None:
    code = (
        "import sys, hashlib; sys.path[:0] = sys.argv[1:]; import figures_cases as t; from wizard.figures import figures;"
        "print(hashlib.sha256(''.join(f.svg for f in figures(t.case('closed'))).encode()).hexdigest())"
    )
    here = os.path.dirname(__file__)
    env = {**os.environ, "PYTHONHASHSEED": "7"}
    other = subprocess.run([sys.executable, "-c", code, here, os.path.dirname(here)], capture_output=True, text=True, check=True, env=env)
    mine = hashlib.sha256("".join(each.svg for each in figures(case("closed"))).encode()).hexdigest()
    assert other.stdout.strip() == mine


def test_a_hold_point_stands_in_the_chart_on_the_day_that_the_dates_give_it() -> None:
    start = datetime.date(2026, 3, 2)
    for name in EVERY:
        plan = case(name).schedule
        for task, days in zip(plan.tasks, dates(plan, start), strict=True):
            if days.hold is not None:
                held = (days.hold - start).days / 7.0
                assert abs(hold_at(task) - held) <= 1.0, (name, task.name)  # a weekend may lie between, of each of those who come


def test_a_long_schedule_is_drawn_in_parts_that_each_fit_a_page_and_share_one_scale() -> None:
    tasks = case("usual").schedule.tasks
    many = [replace(task, number=n, stage=f"stage {n // 20}") for n, task in enumerate(tasks * 3, start=1)]
    parts = list(gantts(many, 40.0))
    assert len(parts) > 1
    assert [each.name for each in parts] == ["gantt", *(f"gantt-{n}" for n in range(2, len(parts) + 1))]
    assert all(read(each.svg).tall <= TALLEST for each in parts)
    assert len({tuple(t.words for t in read(each.svg).texts if t.words.isdigit()) for each in parts}) == 1
    told = " ".join(each.text for each in parts)
    assert all(f"Task {task.number}, " in told for task in many)


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

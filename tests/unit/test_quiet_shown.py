"""What is said about sound at the listeners: shares, the weakest way, steps, certainty, rows that fit."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
from rich.cells import cell_len

from calc.bands import A_WEIGHTING, BANDS, a_weighted, energy_sum
from calc.brief import Listener
from calc.isolation.listener import ListenerResult, PathLevel
from calc.next_steps import NextStep
from wizard.quiet import Heard, Quiet, quiet
from wizard.quiet_page import Part, cut, details, table

AWFUL = "[b]Ana | <i>`x`\n\tthe 家 of\x1b[31m a very long name indeed"


def path(name: str, dba: float, band: int = 12) -> PathLevel:
    """A path whose energy lies in one band."""
    levels = np.full(21, -80.0)
    levels[band] = dba - A_WEIGHTING[band]
    return PathLevel(name, levels, a_weighted(levels))


def result(*paths: PathLevel, label: str = "bedroom above", worst: float | None = None, raisers: tuple[str, ...] = ()) -> ListenerResult:
    ranked = tuple(sorted(paths, key=lambda each: -each.level_dba))
    levels = energy_sum(np.stack([each.levels for each in ranked]), axis=0)
    return ListenerResult(
        listener=Listener("bedroom_above", label, "quiet_for_sleep", 23.0, 0.0, "closed"),
        levels=levels,
        level_dba=a_weighted(levels),
        target_levels=np.full(21, 30.0),
        target_dba=30.0,
        margin=-3.4,
        worst_band_hz=worst,
        low_dba=28.6,
        high_dba=41.2,
        likelihood=0.34,
        raisers=raisers,
        paths=ranked,
    )


def shown(*results: ListenerResult, steps: tuple[NextStep, ...] = (), wasted: tuple[NextStep, ...] = (), likelihood: float = 0.0) -> Quiet:
    assessment = SimpleNamespace(
        brief=SimpleNamespace(
            units="imperial",
            means=SimpleNamespace(currency="USD"),
            use=SimpleNamespace(level_measured=False),
            house=SimpleNamespace(stair_door="yes"),
            limits=SimpleNamespace(likelihood=likelihood),
        ),
        isolation=SimpleNamespace(listeners=results, most_critical=0 if results else None),
        next_steps=steps,
        wasted=wasted,
    )
    return quiet(assessment)  # type: ignore[arg-type]


def one(*paths: PathLevel, worst: float | None = None) -> Heard:
    return shown(result(*paths, worst=worst)).listeners[0]


def test_a_row_holds_level_range_margin_and_likelihood() -> None:
    heard = one(path("lid", 33.4), worst=50.0)
    assert (heard.predicted, heard.range, heard.wanted) == ("33", "29 to 41", "30")
    assert (heard.margin, heard.where, heard.likelihood) == ("-3", "50 Hz", "1 in 3")
    rows = table(shown(result(path("lid", 33.4), worst=50.0)), 75)
    assert rows == (
        "Listener       dBA (range)    wanted  margin, dB   likely to meet",
        "bedroom above  33 (29 to 41)  30      -3, 50 Hz    1 in 3",
    )
    assert one(path("lid", 33.4)).where == "total"


def test_shares_are_of_the_energy_and_faint_ways_are_summed() -> None:
    heard = one(path("lid", 40.0), path("door", 30.0), path("duct", 15.0), path("slit", 10.0))
    assert [(way.name, way.share) for way in heard.ways] == [("lid", "91 %"), ("door", "9 %"), ("2 other ways together", "under 1 %")]
    assert heard.ways[2].level == "16"  # 15 and 10 dB on energy


@pytest.mark.parametrize(
    ("second", "said"),
    [
        (30.0, "The weakest way by 10 dB: lid. If nothing came by the weakest way, 30 dBA would be left."),
        (
            38.0,
            "The two weakest ways let through about the same: lid; door. Mend both, or little is gained.",
        ),
    ],
)
def test_the_weakest_way_and_by_how_much(second: float, said: str) -> None:
    assert one(path("lid", 40.0), path("door", second)).weakest.startswith(said)


def test_another_way_that_decides_in_the_worst_band_is_named() -> None:
    heard = one(path("lid", 40.0), path("duct", 20.0, band=0), worst=float(BANDS[0]))
    assert "At 50 Hz, where the margin is least, most comes by another: duct." in heard.weakest


def test_bands_that_are_too_loud_only_together_are_said_to_be_so() -> None:
    assert "together they are 3 dB too loud" in one(path("lid", 40.0)).together
    assert one(path("lid", 40.0), worst=50.0).together == ""


def test_one_way_alone_and_silence() -> None:
    assert one(path("lid", 40.0)).weakest == "All of it comes by one way: lid."
    assert "anybody would hear" in one(path("lid", -20.0), path("door", -25.0)).weakest


def test_steps_name_only_the_listeners_that_hear_them() -> None:
    results = (result(path("lid", 40.0)), result(path("lid", 30.0), label="neighbour"))
    steps = (NextStep("door: 45 mm core", 437.6, (3.4, 0.9), (0.81, None)), NextStep("lid: thinner", -80.0, (1.0, 2.0), (0.2, 0.96)))
    found = shown(*results, steps=steps).steps
    assert (found[0].money, found[0].buys) == ("438 USD more", ("+3 dB at bedroom above (then 4 in 5)",))
    assert found[0].change == "door: 1 3/4 in core"
    assert (found[1].money, len(found[1].buys)) == ("80 USD less", 2)


def test_what_makes_it_surer_is_said_once_with_what_it_gains_where() -> None:
    meter, seal = (
        "Read a meter: the range narrows from ±9 dB to ±{} dB.",
        "Inspect the seals (door): the range narrows from ±9 dB to ±8 dB.",
    )
    results = (
        result(path("lid", 40.0), raisers=(meter.format(6), seal)),
        result(path("lid", 30.0), label="neighbour", raisers=(meter.format(5),)),
    )
    assert shown(*results).surer == (
        "Read a meter: the range narrows from ±9 dB to ±6 dB (bedroom above); ±5 dB (neighbour).",
        "Inspect the seals (door): the range narrows from ±9 dB to ±8 dB (bedroom above).",
    )
    same = (results[1], replace(results[1], listener=results[0].listener))
    assert shown(*same).surer == (meter.format(5),)


@pytest.mark.parametrize("width", [56, 75, 115])
def test_rows_keep_their_columns_whatever_the_names(width: int) -> None:
    head, *rows = table(shown(result(path("lid", 33.4), label=AWFUL), result(path("lid", 33.4))), width)
    for line in rows:
        assert cell_len(line) <= width
        assert line.isprintable()
        assert cell_len(line[: line.index("33 (29")]) == head.index("dBA (range)")


def test_a_name_is_cut_between_signs_and_never_longer_than_its_room() -> None:
    for room in range(8, 60):
        assert cell_len(cut(AWFUL, room)) == room
        assert cell_len(cut("家" * 30, room)) == room
    assert cut("a\nb\tc", 8) == "a b c   "


@pytest.mark.parametrize("width", [40, 60, 75, 115])
def test_the_page_fits_its_width_and_leaves_out_what_is_not_known(width: int) -> None:
    found = shown(
        result(path("a way with a very long name that must be laid on two lines at the least, or three", 40.0), path("door", 30.0))
    )
    lines = details(found, 0, width, 16)
    assert all(cell_len(line.text) <= width for line in lines if line.part is not Part.CHART)
    headings = [line.text for line in lines if line.part is Part.HEADING]
    assert headings == ["bedroom above", "By which way it comes", "What one step more would buy", "How to read this"]
    assert "No change of one part, or of two, buys a decibel more." in " ".join(line.text for line in lines)
    assert len([line for line in lines if line.part is Part.CHART]) <= 15


def test_nobody_to_disturb_is_no_fault() -> None:
    assert shown().listeners == ()


def test_the_likelihood_asked_is_held_against_every_listener() -> None:
    found = shown(result(path("lid", 40.0)), likelihood=1 / 3)
    assert (found.asked, found.sure_enough) == ("1 in 3", True)
    assert not shown(result(path("lid", 40.0)), likelihood=0.8).sure_enough
    assert shown(result(path("lid", 40.0))).asked == ""

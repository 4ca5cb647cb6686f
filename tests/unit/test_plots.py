"""Plots in plain text: where things are drawn, that nothing is wider than asked, and that ASCII is ASCII."""

from __future__ import annotations

import pytest

from wizard.plots import ASCII, UNICODE, WIDEST, bars, co2_plot, modes_plot, ringing_plot, weeks_plot

HOURS = [0.0, 0.5, 1.0, 1.5, 2.0]
PLANNED = (HOURS, [430.0, 800.0, 930.0, 970.0, 990.0])
OFF = (HOURS, [430.0, 2430.0, 4430.0, 6430.0, 8430.0])
BANDS = (125.0, 250.0, 500.0)


def every(unicode: bool, width: int) -> list[str]:
    return [
        *co2_plot(PLANNED, OFF, 1000.0, width, 16, unicode),
        *modes_plot([(29.0, "axial"), (199.9, "oblique"), (20.0, "tangential")], (29.0, 199.0), width, unicode),
        *bars([("people", 510.0, "510 W"), ("nothing", 0.0, "0 W")], width, unicode),
        *weeks_plot([("1. Survey", 0.0, 0.5, 2.0, True), ("2. " + "x" * 50, 2.0, 9.9, 10.0, False)], 10.0, width, unicode),
        *ringing_plot(BANDS, (0.8, 1.1, 1.5), (0.4, 0.4, 0.4), (0.7, 0.4, 0.4), (125.0,), width, unicode),
    ]


@pytest.mark.parametrize("width", [60, 72, 76, 200])
def test_no_line_is_too_wide_and_ascii_is_ascii(width: int) -> None:
    assert all(len(line) <= min(width, WIDEST) for unicode in (True, False) for line in every(unicode, width))
    assert all(line.isascii() for line in every(False, width))


def test_curves_stand_where_their_values_are() -> None:
    """With the air off 1000 ppm are passed after 8.6 minutes, a fourteenth of the session; the planned air stays under it."""
    legend, *rows = co2_plot(PLANNED, OFF, 1000.0, 76, 16)
    assert all(words in legend for words in ("air as planned", "air off", "your limit"))
    limit = next(row for row in rows if row.strip().startswith("1,000 "))
    columns = len(limit) - 11
    assert limit[11:].index(UNICODE.off) / columns == pytest.approx(8.55 / 120.0, abs=1.0 / columns)
    above = rows[: rows.index(limit)]
    assert all(UNICODE.curve not in row for row in above)
    assert rows[11].strip().startswith("400 ")
    assert rows[11][11] == UNICODE.curve
    assert rows[-1].split() == ["minutes", "0", "15", "30", "45", "60", "75", "90", "105", "120"]


def test_curves_have_no_holes() -> None:
    """Every column of a steep curve is drawn, and every row it passes."""
    rows = co2_plot((HOURS, [430.0, 2000.0, 430.0, 2000.0, 430.0]), PLANNED, 1000.0, 76, 20)[1:-2]
    assert all(any(row[column : column + 1] in (UNICODE.curve,) for row in rows) for column in range(11, 76))
    low = next(i for i, row in enumerate(rows) if row.strip().startswith("400 "))
    top = next(i for i, row in enumerate(rows) if UNICODE.curve in row)
    assert low - top == 8
    assert all(UNICODE.curve in row for row in rows[top:low])


def test_modes_stand_at_their_frequency_and_are_counted_where_they_share_a_place() -> None:
    axial, tangential, oblique, gap, _, labels = modes_plot(
        [(20.0, "axial"), (110.0, "tangential"), (110.5, "tangential"), (200.0, "oblique"), (19.0, "axial")], (20.0, 110.0), 76, False
    )
    assert (axial.split(), tangential.split(), oblique.split()) == (["axial", "|"], ["tangential", "2"], ["oblique", "|"])
    assert axial.index("|") == 11
    assert tangential.index("2") == 11 + (76 - 11) // 2
    assert oblique.index("|") == 75
    assert gap.strip().startswith("gap")
    assert set(gap.split()[1]) == {ASCII.track}
    assert labels.split() == ["Hz", "20", "40", "60", "80", "100", "120", "140", "160", "180", "200"]


def test_bars_are_as_long_as_what_they_show() -> None:
    one, two, tiny, none = bars([("one", 100.0, "100"), ("two", 50.0, "50"), ("tiny", 0.01, "0"), ("none", 0.0, "0")], 76)
    assert abs(one.count("█") - 2 * two.count("█")) <= 1
    assert (tiny.count("█"), none.count("█")) == (1, 0)
    assert bars([], 76) == []


def test_ringing_says_in_words_which_octave_misses() -> None:
    _, low, middle, _, legend = ringing_plot(BANDS, (0.8, 1.1, 1.5), (0.4, 0.4, 0.4), (0.7, 0.4, 0.4), (125.0,), 76)
    assert low.endswith("0.80    0.40     0.70  off")
    assert middle.endswith("1.10    0.40     0.40")
    assert low.index(UNICODE.wanted) < low.index(UNICODE.treated) < low.index(UNICODE.bare)
    assert all(word in legend for word in ("bare", "wanted", "treated"))


def test_a_task_stands_in_its_weeks() -> None:
    """Half of ten weeks is half of the width; work that may wait looks otherwise, and so does waiting."""
    head, survey, build, *_ = weeks_plot([("survey", 0.0, 2.5, 5.0, True), ("build", 5.0, 10.0, 10.0, False)], 10.0, 76)
    assert head.endswith("10 weeks")
    assert len(head) == len(build) == 76
    assert (survey.count("█"), survey.count("·")) == (17, 17)
    assert build.count("░") == 35
    assert build.index("░") == survey.rindex("·")


def test_too_little_room_is_refused() -> None:
    for width, height in ((59, 16), (76, 7)):
        with pytest.raises(ValueError, match="columns"):
            co2_plot(PLANNED, OFF, 1000.0, width, height)
    with pytest.raises(ValueError, match="columns"):
        modes_plot([], (0.0, 0.0), 59)
    with pytest.raises(ValueError, match="columns"):
        ringing_plot(BANDS, (1.0,) * 3, (1.0,) * 3, (1.0,) * 3, (), 59)

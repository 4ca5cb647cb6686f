"""The band chart as plain text: what it says, and that it fits."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wizard.chart import ASCII, LEAST_HEIGHT, LEAST_WIDTH, MARGIN, UNICODE, Signs, band_chart, band_name

BANDS = 21
FALLING = [60.0 - 2.0 * band for band in range(BANDS)]
FLAT = [40.0] * BANDS
LOW = [5.0] * BANDS
SPECTRA = st.lists(st.floats(-60.0, 110.0), min_size=BANDS, max_size=BANDS)


def band(lines: list[str], place: int, cell: int = 3) -> str:
    """The signs of one band from the bottom up, its gap left out."""
    start = MARGIN + place * cell
    plot = [line.ljust(200) for line in lines if len(line) >= MARGIN and line[MARGIN - 1] in "│┤"]
    return "".join(line[start] for line in reversed(plot))


def row(lines: list[str], name: str) -> str:
    return next(line for line in lines if line.startswith(name))


def test_the_fill_of_a_bar_says_whether_it_is_too_loud() -> None:
    lines = band_chart(FALLING, FLAT, None, 76, 16)
    for place, level in enumerate(FALLING):
        bar = band(lines, place)
        assert ("█" in bar) == (level > 40.5), place
        assert ("░" in bar) == (level <= 40.5), place


def test_bars_stand_as_high_as_their_levels() -> None:
    lines = band_chart(FALLING, LOW, None, 76, 16)
    heights = [sum(sign not in " ━" for sign in band(lines, place)) for place in range(BANDS)]
    assert heights == sorted(heights, reverse=True)
    assert heights[0] == 12 - 1  # 0 to 60 dB over twelve rows, one of them crossed by the line of what is wanted


def test_the_wanted_line_runs_through_every_band_and_the_background_beside_the_bars() -> None:
    lines = band_chart(FALLING, FLAT, [20.0] * BANDS, 76, 16)
    assert all("━" in band(lines, place) for place in range(BANDS))
    assert sum(line.count("·") for line in lines[1:]) >= BANDS
    assert "background" in lines[0]
    assert "background" not in band_chart(FALLING, FLAT, None, 76, 16)[0]


def test_where_wanted_and_background_meet_both_are_seen() -> None:
    lines = band_chart(LOW, FLAT, FLAT, 76, 16)
    assert any("━━·━━·" in line for line in lines)


def test_axes_are_named() -> None:
    lines = band_chart(FALLING, FLAT, None, 76, 16)
    assert "dB" in lines[0]
    hertz = row(lines, "       Hz")
    assert hertz.split() == ["Hz", "50", "100", "200", "400", "800", "1.6k", "3.15k", "5k"]
    assert hertz.index("100") == MARGIN + 3 * 3
    marks = [int(line.split("┤")[0]) for line in lines if "┤" in line]
    assert marks == sorted(marks, reverse=True)
    assert {0, 20, 40} <= set(marks)
    assert band_name(3150) == "3.15k"


def test_numbers_stand_under_their_bars() -> None:
    lines = band_chart(FALLING, FLAT, LOW, 76, 16, numbers=True)
    assert row(lines, "level").split()[1:] == [f"{x:.0f}" for x in FALLING]
    assert row(lines, "wanted").split()[1:] == ["40"] * BANDS
    assert row(lines, "background").split()[1:] == ["5"] * BANDS
    assert row(lines, "over by").split()[2:] == ["20", "18", "16", "14", "12", "10", "8", "6", "4", "2"]
    assert row(lines, "over by")[MARGIN : MARGIN + 2] == "20"


def test_a_band_that_is_over_by_nothing_to_speak_of_is_not_called_too_loud() -> None:
    lines = band_chart([40.4] * BANDS, FLAT, None, 76, 16)
    assert not any("█" in line for line in lines[1:])
    assert not any(line.startswith("over by") for line in lines)


def test_below_nothing_is_only_said_to_be_below() -> None:
    lines = band_chart([-31.0] * BANDS, FLAT, None, 76, 16, numbers=True)
    assert set(row(lines, "level").split()[1:]) == {"<0"}


@pytest.mark.parametrize(("unicode", "signs"), [(True, UNICODE), (False, ASCII)])
def test_the_legend_shows_every_sign(unicode: bool, signs: Signs) -> None:
    legend = band_chart(FALLING, FLAT, LOW, 76, 16, unicode)[0]
    assert all(sign * 2 in legend for sign in (signs.loud, signs.quiet, signs.wanted, signs.background))


def test_the_fallback_is_plain_ascii() -> None:
    assert all(line.isascii() for line in band_chart(FALLING, FLAT, LOW, 76, 16, unicode=False, numbers=True))


@given(SPECTRA, SPECTRA, st.one_of(st.none(), SPECTRA), st.integers(LEAST_WIDTH, 140), st.integers(LEAST_HEIGHT, 40), st.booleans())
@settings(max_examples=50)
def test_it_fits_whatever_the_levels(
    levels: list[float], target: list[float], background: list[float] | None, width: int, height: int, unicode: bool
) -> None:
    lines = band_chart(levels, target, background, width, height, unicode)
    assert max(map(len, lines)) <= width
    assert len([line for line in lines if not line.startswith("over by")]) <= height


def test_too_little_room_or_too_few_bands_are_refused() -> None:
    with pytest.raises(ValueError, match="columns"):
        band_chart(FALLING, FLAT, None, LEAST_WIDTH - 1, 16)
    with pytest.raises(ValueError, match="lines"):
        band_chart(FALLING, FLAT, None, 76, LEAST_HEIGHT - 1)
    with pytest.raises(ValueError, match="21 bands"):
        band_chart(FALLING, FLAT[:-1], None, 76, 16)

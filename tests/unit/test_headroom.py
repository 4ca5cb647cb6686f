from __future__ import annotations

from dataclasses import replace

import pytest
from conftest import make_brief

from calc.brief import Assumption, Brief, Obstruction, Origin
from calc.finding import Severity
from calc.headroom import HEIGHT_QUESTION, UNDERSIDE_QUESTION, code_limit, findings, headroom, soffit_layers
from calc.scheme import FloorOption, Layer, LidOption, Ply
from wizard.interview.engine import QUESTIONS

FOOT = 0.3048
BOARD = Ply("gypsum board type X", 0.0159, 10.7)
CLIP = Layer("isolation clip and furring channel", 0.041, 1.5)
BARE = FloorOption("bare", "bare slab", ())
SOFFIT = sum(layer.thickness for layer in soffit_layers())


def lid(plies: int, carrier: tuple[Layer, ...] = (CLIP,)) -> LidOption:
    boards = (BOARD,) * plies
    layers = (*carrier, *(Layer(ply.material, ply.thickness, ply.surface_mass) for ply in boards))
    mass = sum(layer.surface_mass for layer in layers)
    return LidOption("test", "test", (), "glass fibre", 0.09, "isolation clip", 0.61, 1.22, 0.0, boards, False, layers, mass)


def basement(height: float, **changes: object) -> Brief:
    return make_brief(shell__height=height, shell__slab_unevenness=0.0, shell__obstructions=(), **changes)


@pytest.mark.parametrize(("feet", "keeps"), [(7.0, False), (8.0, True)])
def test_seven_feet_lose_the_habitable_height_under_two_plies_on_clips_and_eight_keep_it(feet: float, keeps: bool) -> None:
    # common practice, no source; 7 ft 0 in by IRC 2018/2021 R305.1
    brief = basement(feet * FOOT, code="irc_2018_2021", habitable="yes")
    result = headroom(brief, lid(2), BARE)
    assert result.open_field.ok_code is keeps
    stops = [found for found in findings(brief, result) if found.severity is Severity.STOP]
    assert bool(stops) is not keeps


def test_height_is_what_the_layers_leave() -> None:
    brief = make_brief(shell__height=2.4, shell__slab_unevenness=0.01, shell__obstructions=())
    floor = FloorOption("f", "f", (Layer("plywood", 0.018, 12.0), Layer("rubber", 0.01, 9.0)))
    result = headroom(brief, lid(2), floor)
    assert result.open_field.height == pytest.approx(2.4 - 0.041 - 2 * 0.0159 - 0.028 - 0.01)
    assert result.open_field.height + sum(layer.thickness for layer in result.open_field.stack) == pytest.approx(2.4)


def test_a_beam_is_boxed_and_binds() -> None:
    brief = make_brief(
        shell__height=2.4,
        shell__slab_unevenness=0.0,
        shell__obstructions=(Obstruction("beam", 2.0, 0.2, False), Obstruction("pipe", 2.397, 0.1, True)),
    )
    result = headroom(brief, lid(2), BARE)
    assert [zone.name for zone in result.zones] == ["open field", "under the beam"]  # the lid hides the pipe
    assert result.binding.name == "under the beam"
    assert result.binding.height == pytest.approx(2.0 - SOFFIT)
    assert result.binding.own_limit is None


def test_a_wide_duct_counts_as_ceiling_for_the_own_limit() -> None:
    brief = make_brief(shell__obstructions=(Obstruction("duct", 2.0, 1.2, True),), limits__lowest_ceiling=2.1)
    zone = headroom(brief, lid(1), BARE).zones[1]
    assert zone.own_limit == 2.1
    assert not zone.ok_own


def test_moving_a_movable_duct_is_offered_and_a_fixed_beam_is_not() -> None:
    for kind, movable in (("duct", True), ("beam", False)):
        brief = make_brief(shell__obstructions=(Obstruction(kind, 2.0, 0.4, movable),))
        result = headroom(brief, lid(1), BARE)
        assert any("move" in text for text in result.win_back) is movable


def test_nothing_is_raised_between_joists_where_own_joists_or_boards_already_stand() -> None:
    brief = make_brief(shell__obstructions=(Obstruction("duct", 2.0, 0.4, True),))
    plain = lid(1)
    for option, free in ((plain, True), (replace(plain, own_joist_depth=0.14), False), (replace(plain, between_joists=(BOARD,)), False)):
        assert any("up between the joists" in text for text in headroom(brief, option, BARE).win_back) is free


def test_several_obstructions_of_a_kind_are_told_apart() -> None:
    brief = make_brief(shell__obstructions=(Obstruction("duct", 2.0, 0.4, True), Obstruction("duct", 2.1, 0.4, True)))
    assert [zone.name for zone in headroom(brief, lid(1), BARE).zones] == ["open field", "under duct 1", "under duct 2"]


def test_unknown_edition_takes_the_highest_limit_and_asks() -> None:
    for obstruction in (False, True):
        known = [code_limit(code, "yes", obstruction).height for code in ("irc_2024_existing", "irc_2018_2021", "nbc_2020", "obc_2012")]
        assert code_limit("unknown", "yes", obstruction).height == max(known)
    brief = basement(3.0, code="unknown", habitable="unknown")
    found = findings(brief, headroom(brief, lid(2), BARE))
    assert {finding.rule for finding in found} == {"headroom-edition-unknown", "headroom-habitable-unknown"}


def test_another_country_takes_the_highest_limit_as_a_yardstick_and_says_that_it_is_no_law() -> None:
    for obstruction in (False, True):
        limit = code_limit("elsewhere", "yes", obstruction)
        assert limit.height == code_limit("unknown", "yes", obstruction).height
        assert "not the law where the house stands" in limit.source
    brief = basement(2.15, code="elsewhere", habitable="yes")
    found = {finding.rule: finding for finding in findings(brief, headroom(brief, lid(2), BARE))}
    assert found["headroom-code-elsewhere"].title.startswith("Ask what the law is where the house stands: no limit here is")
    assert "office that grants building permits" in found["headroom-code-elsewhere"].remedy
    assert "would pass under" not in found["headroom-code-open-field"].remedy
    assert "headroom-edition-unknown" not in found


def test_a_stop_under_an_unknown_edition_says_which_edition_would_pass() -> None:
    brief = basement(2.15, code="unknown", habitable="yes")
    stops = [finding for finding in findings(brief, headroom(brief, lid(2), BARE)) if finding.severity is Severity.STOP]
    assert len(stops) == 1
    assert "would pass under IRC 2024" in stops[0].remedy


def test_a_stop_names_another_edition_of_the_same_country_that_an_office_may_judge_by() -> None:
    brief = basement(2.10, code="irc_2018_2021", habitable="yes")  # 6 ft 8 in to 7 ft with a lid
    found = {finding.rule: finding for finding in findings(brief, headroom(brief, lid(1), BARE))}
    assert "IRC 2024, new living space in a basement that already exists: ask whether" in found["headroom-code-open-field"].remedy
    canadian = basement(2.10, code="nbc_2020", habitable="yes")
    assert "IRC" not in " ".join(finding.remedy for finding in findings(canadian, headroom(canadian, lid(1), BARE)))


def test_not_knowing_whether_it_is_habitable_is_taken_as_yes() -> None:
    assert code_limit("irc_2018_2021", "unknown", False) == code_limit("irc_2018_2021", "yes", False)


@pytest.mark.parametrize(
    ("habitable", "height", "severity"),
    [("yes", 2.05, Severity.STOP), ("no", 2.0, Severity.CAUTION), ("no", 1.92, Severity.STOP), ("unknown", 2.05, Severity.CAUTION)],
)
def test_a_low_ceiling_stops_where_it_is_claimed_or_cannot_be_walked(habitable: str, height: float, severity: Severity) -> None:
    none = LidOption("n", "n", (), "none", 0, "absent", 0, 0, 0, (), False, (), 0)
    brief = basement(height, code="irc_2018_2021", habitable=habitable, limits__lowest_ceiling=1.5)
    found = [finding for finding in findings(brief, headroom(brief, none, BARE)) if finding.rule.startswith("headroom-code")]
    assert [finding.severity for finding in found] == [severity]


def under_a_beam(underside: float, *assumed: str) -> str:
    """Title and remedy of the code finding under a beam."""
    brief = make_brief(
        shell__height=2.4,
        shell__slab_unevenness=0.01,
        shell__obstructions=(Obstruction("beam", underside, 0.2, False),),
        assumptions=tuple(Assumption(question, "shell", "1.9 m", "", Origin.UNKNOWN) for question in assumed),
    )
    (found,) = (found for found in findings(brief, headroom(brief, lid(2), BARE)) if found.rule == "headroom-code-under-the-beam")
    return f"{found.title}: {found.remedy}"


def test_a_height_that_nobody_measured_is_measured_first() -> None:
    assert "assumed: measure first" in under_a_beam(1.9, UNDERSIDE_QUESTION.format(kind="beam"))
    assert "assumed" not in under_a_beam(1.9, HEIGHT_QUESTION)


def test_no_lid_cures_a_beam_that_is_too_low_bare_and_no_thinner_lid_helps_under_one() -> None:
    # the limit is 1.9304 m (6 ft 4 in); the slab takes 10 mm, the soffit about 67 mm
    assert "No lid" in under_a_beam(1.935)
    assert "No lid" not in under_a_beam(1.945)
    for underside in (1.935, 1.945):
        assert "Choose a thinner lid" not in under_a_beam(underside)


def test_assumptions_are_found_by_the_titles_of_the_questions() -> None:
    titles = {question.title for question in QUESTIONS}
    assert {HEIGHT_QUESTION, *(UNDERSIDE_QUESTION.format(kind=kind) for kind in ("beam", "duct", "pipe"))} <= titles

"""What the choice promises: hard limits, bearing, explanations, comparisons."""

from __future__ import annotations

import re
from functools import cache
from time import perf_counter

import pytest
from conftest import make_brief

from calc.assess import assess
from calc.brief import Brief, Listener, Obstruction, Side, SideKind
from calc.choice_alternatives import _fine
from calc.choose import Choice, choose
from calc.geometry import Room, inner_room, side_kinds
from calc.headroom import headroom
from calc.isolation.listener import isolation
from calc.options import lids
from calc.problem import Part, billed_total, height_short, part_cost
from calc.scheme import LidOption, Scheme

PIANO = make_brief(use__source="piano", use__level=91.0)


@cache
def chosen(brief: Brief) -> Choice:
    """The choice with its reasons; several tests ask for that of the same brief."""
    return choose(brief)


@cache
def bare(brief: Brief) -> Choice:
    """The choice without its reasons, several times faster."""
    return choose(brief, explain=False)


@pytest.fixture(scope="module")
def piano() -> Choice:
    return chosen(PIANO)


def kinds_of(choice: Choice) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for reason in choice.why:
        found.setdefault(reason.kind, []).append(reason.subject)
    return found


def test_a_scheme_that_meets_all_does_so_in_the_drawn_room(piano: Choice) -> None:
    assert piano.meets_all
    found = isolation(PIANO, piano.scheme, inner_room(PIANO, piano.scheme))
    assert all(result.margin >= 0.0 for result in found.listeners)
    assert billed_total(PIANO, piano.scheme) <= PIANO.means.budget
    assert headroom(PIANO, piano.scheme.lid, piano.scheme.floor).ok


def test_every_side_kind_has_its_wall(piano: Choice) -> None:
    assert tuple(kind for kind, _ in piano.scheme.walls) == side_kinds(PIANO)


def test_one_alternative_is_the_chosen_one_and_none_that_meets_all_is_cheaper(piano: Choice) -> None:
    assert sum(each.chosen for each in piano.alternatives) == 1
    for each in piano.alternatives:
        if not each.breaks:
            # the search counts money without rounding to packages, the table shows whole bills
            assert each.extra_cost >= -0.02 * piano.cost
        else:
            assert not each.chosen
    assert len({each.family for each in piano.alternatives}) == len(piano.alternatives) == 10


def test_an_independent_lid_stands_on_walls_that_carry_it() -> None:
    for each in chosen(make_brief()).alternatives:
        if each.scheme.lid.support == "independent joists":
            assert all(wall.carries_lid for _, wall in each.scheme.walls)


def test_loud_drums_at_night_cannot_be_met_and_it_says_by_how_much() -> None:
    night = Listener("bedroom_above", "bedroom above", "quiet_for_sleep", 24.0, 0.0, "closed")
    choice = chosen(make_brief(listeners=(night,)))
    assert not choice.meets_all
    assert choice.margins[0] < -10.0
    relaxed = [r for r in choice.why if r.kind == "in the way" and r.subject == "bedroom above"]
    assert relaxed
    assert relaxed[0].value == pytest.approx(-choice.margins[0], abs=0.6)


def test_the_needed_relaxation_is_enough() -> None:
    choice = chosen(make_brief())
    assert not choice.meets_all
    (short,) = (r.value for r in choice.why if r.kind == "in the way" and r.subject == "bedroom above")
    assert short is not None
    assert bare(make_brief(use__level=105.0 - short - 0.01)).meets_all


def test_too_little_money_names_the_sum_that_would_do() -> None:
    poor = make_brief(use__source="piano", use__level=91.0, means__budget=8000.0)
    choice = chosen(poor)
    assert not choice.meets_all
    (enough,) = (r.value for r in choice.why if r.kind == "in the way" and r.subject == "budget")
    assert enough is not None
    assert enough > 8000.0
    assert bare(make_brief(use__source="piano", use__level=91.0, means__budget=enough + 1.0)).meets_all


@pytest.mark.parametrize("share", [1.03, 1.1, 1.2])
def test_the_bill_keeps_a_budget_over_that_of_the_cheapest_room(share: float) -> None:
    budget = share * billed_total(make_brief(), bare(make_brief(listeners=())).scheme)
    brief = make_brief(means__budget=budget)
    assert billed_total(brief, bare(brief).scheme) <= budget


def test_too_low_a_basement_gets_the_lid_that_loses_least() -> None:
    low = make_brief(shell__height=2.01)
    choice = chosen(low)
    assert not choice.meets_all
    assert choice.scheme.lid.height_taken == min(each.scheme.lid.height_taken for each in choice.alternatives)
    assert choice.scheme.floor.height_taken == 0.0
    assert "height" in kinds_of(choice)["in the way"]


def test_where_a_beam_sets_the_height_no_ceiling_is_said_to_lose_least() -> None:
    beam = Obstruction("beam", 1.80, 0.3, False, "walking route")
    for brief, helps in ((make_brief(shell__obstructions=(beam,)), False), (make_brief(shell__height=2.01, shell__obstructions=()), True)):
        choice = chosen(brief)
        text = next(each.text for each in choice.why if each.subject == "height" and "The ceiling shown misses" in each.text)
        assert ("a thinner ceiling does not help" in text) is not helps
        assert ("does better where most is missed" in text or "does worse where most is missed" in text) is helps
        short = {height_short(brief, lid, choice.scheme.floor) for lid in lids(brief)}
        assert (len(short) > 1) is helps  # under the beam every ceiling falls short by the same


def test_own_lowest_ceiling_is_a_hard_limit() -> None:
    for lowest in (2.2, 2.3, 2.33):
        brief = make_brief(limits__lowest_ceiling=lowest, shell__obstructions=())
        choice = bare(brief)
        assert headroom(brief, choice.scheme.lid, choice.scheme.floor).open_field.height >= lowest


def test_boards_under_the_joists_come_down_first() -> None:
    found = {ceiling: kinds_of(chosen(make_brief(shell__ceiling_texture=ceiling)))["lid"] for ceiling in ("bare", "boarded", "unknown")}
    assert "existing ceiling" not in found["bare"]
    assert "existing ceiling" in found["boarded"]
    assert "existing ceiling" in found["unknown"]


def test_a_free_standing_lid_explains_its_walls_and_its_joists() -> None:
    choice = chosen(make_brief(limits__joists_may_be_touched=False, shell__height=2.2))
    texts = [reason.text for reason in choice.why]
    assert choice.scheme.lid.support == "independent joists"
    assert any("free-standing frame because the ceiling stands on it" in text for text in texts)
    if "interleaved" in choice.scheme.lid.id:
        assert any("bays must be free of ducts" in text for text in texts)


def test_reasons_carry_no_lengths_or_money_in_their_words() -> None:
    for brief in (PIANO, make_brief(), make_brief(means__budget=9000.0), make_brief(shell__height=2.01)):
        for reason in (each for each in chosen(brief).why if "The ceiling shown misses" not in each.text):
            assert not re.search(r"\d\s?(mm|cm|m|in|ft|USD|\$)\b", reason.text), reason.text


def test_nobody_to_disturb_gets_the_cheapest() -> None:
    choice = chosen(make_brief(listeners=()))
    assert choice.meets_all
    assert choice.margins == ()
    (mine,) = (each for each in choice.alternatives if each.chosen)
    assert mine.cost == min(each.cost for each in choice.alternatives)


def test_prices_can_be_replaced() -> None:
    # where every lid costs the same, none that breaks a target is worth having, and the answer no longer follows the price of boards
    def flat(brief: Brief, room: Room, part: Part) -> float:
        return 100.0 if isinstance(part, LidOption) else part_cost(brief, room, part)

    cheaper = choose(PIANO, flat, lambda brief, scheme: 0.0)
    assert cheaper.meets_all
    assert cheaper.cost < chosen(PIANO).cost


def test_fast_enough_to_follow_the_typing() -> None:
    chosen(PIANO)
    start = perf_counter()
    choose(PIANO)
    assert perf_counter() - start < 2.0  # about 0.2 s alone on one core; room for a busy machine


@pytest.mark.parametrize("kind", list(SideKind))
def test_a_room_with_one_kind_of_side(kind: SideKind) -> None:
    sides = tuple(Side(n, 6.1 if n % 2 else 4.3, kind) for n in (1, 2, 3, 4))
    brief = make_brief(shell__sides=sides)
    choice = bare(brief)
    found = isolation(brief, choice.scheme, inner_room(brief, choice.scheme))
    assert [each for each, _ in choice.scheme.walls] == [kind]
    assert found.most_critical is not None


WIDE = tuple(Side(n, 9.0, SideKind.FOUNDATION_BELOW if n < 4 else SideKind.OPEN) for n in (1, 2, 3, 4))


def test_where_only_hung_lids_fit_and_the_joists_may_not_be_touched_it_says_so() -> None:
    brief = make_brief(limits__joists_may_be_touched=False, shell__sides=WIDE, shell__length=9.0, shell__width=9.0)
    choice = chosen(brief)
    assert not choice.meets_all
    assert choice.scheme.lid.support != "independent joists"
    assert any(r.kind == "in the way" and r.subject == "load" and "without touching the joists" in r.text for r in choice.why)
    stops = [f for f in assess(brief, explain=False).stops if f.rule == "untouched_joists"]
    assert [f.decides for f in stops] == ["structural engineer"]
    allowed = make_brief(shell__sides=WIDE, shell__length=9.0, shell__width=9.0)
    assert not [f for f in assess(allowed, explain=False).stops if f.rule == "untouched_joists"]


def test_the_choice_is_the_same_without_its_explanation() -> None:
    full, bare = chosen(PIANO), choose(PIANO, explain=False)
    assert (bare.scheme, bare.meets_all, bare.cost, bare.margins) == (full.scheme, full.meets_all, full.cost, full.margins)
    assert bare.why == bare.alternatives == ()


def test_the_table_shows_whole_bills(piano: Choice) -> None:
    for each in piano.alternatives:
        assert each.cost == pytest.approx(billed_total(PIANO, each.scheme))
        assert ("budget" in each.breaks) is (each.cost > PIANO.means.budget)


def test_a_budget_below_every_room_gets_the_cheapest_of_the_table() -> None:
    choice = chosen(make_brief(means__budget=6000.0))
    (mine,) = (each for each in choice.alternatives if each.chosen)
    assert mine.breaks[0] == "budget"
    assert mine.cost <= min(each.cost for each in choice.alternatives) * 1.02


def test_a_part_that_alone_misses_the_target_is_not_kept_to_save_a_little_nor_said_to_serve() -> None:
    night = Listener("bedroom_above", "bedroom above", "quiet_for_sleep", 24.0, 0.0, "closed")
    brief = make_brief(listeners=(night,), means__budget=40_000.0)
    choice = chosen(brief)
    assert choice.margins[0] < -10.0
    paths = {path.name: path.level_dba for path in isolation(brief, choice.scheme, inner_room(brief, choice.scheme)).listeners[0].paths}
    loudest = max(paths.values())  # what another sum would take off the air path is hardly heard under the ceiling
    assert all(level <= loudest - 5.0 for name, level in paths.items() if name.startswith("air path")), paths
    poor = chosen(make_brief(listeners=(night,), means__budget=6000.0))
    serving = [reason.subject for reason in poor.why if "serves" in reason.text]
    assert "air path" not in serving
    assert any(reason.subject == "air path" and "by itself misses the target" in reason.text for reason in poor.why)


def test_no_line_tells_of_a_difference_under_a_decibel() -> None:
    for budget in (6000.0, 20_000.0, 40_000.0):
        for reason in chosen(make_brief(means__budget=budget)).why:
            found = re.search(r"by (\d+) dB in place of (\d+) dB", reason.text)
            assert found is None or int(found[1]) > int(found[2]), reason.text


def test_a_cheaper_ceiling_is_told_by_what_it_was_passed_over_for() -> None:
    packages = "Meets everything for much the same money; only its packages round better."
    assert _fine(-50.0, asked=False, less_to_spare=True) == packages
    assert "less sure" in _fine(-50.0, asked=True, less_to_spare=True)
    assert _fine(-50.0, asked=True, less_to_spare=False) == "Meets every target by the predicted level."
    assert _fine(50.0, asked=True, less_to_spare=True) == "Meets everything, but is dearer."


def test_joists_of_a_lid_are_not_led_through_what_hangs_there() -> None:
    """A duct under the joists: no lid on own joists is chosen, the families that have them say why, and what moving it would bring."""
    brief = make_brief(shell__obstructions=(Obstruction("duct", 2.20, 0.40, True),))
    found = choose(brief)
    assert found.scheme.lid.own_joist_depth == 0.0
    own = [each for each in found.alternatives if each.scheme.lid.own_joist_depth > 0.0]
    assert own
    assert all("passage" in each.breaks for each in own)
    free = choose(make_brief(shell__obstructions=()))
    assert not any("passage" in each.breaks for each in free.alternatives)


def test_where_only_own_joists_can_be_built_they_are_shown_all_the_same() -> None:
    brief = make_brief(shell__obstructions=(Obstruction("duct", 2.20, 0.40, True),), limits__joists_may_be_touched=False)
    assert choose(brief, explain=False).scheme.lid.own_joist_depth > 0.0


def test_no_part_is_called_the_cheapest_where_whole_packages_make_another_no_worse_one_cheaper() -> None:
    """The choice goes by the price of what a part takes; the bill counts whole packages, and may end lower with another part."""
    brief = make_brief(means__budget=80_000.0)
    kept = next(reason.subject for reason in chosen(brief).why if reason.text == "The air path is the cheapest that serves here.")
    mine = chosen(brief).scheme.air_path.id

    def rounded(brief: Brief, scheme: Scheme) -> float:
        return billed_total(brief, scheme) - (0.0 if scheme.air_path.id == mine else 400.0)

    told = choose(brief, billed=rounded)
    assert told.scheme.air_path.id == mine
    assert kept not in [reason.subject for reason in told.why if "cheapest" in reason.text]

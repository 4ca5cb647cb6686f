"""The plan as text: whole, steady, harmless to read, in one system of units."""

from __future__ import annotations

import datetime
import re
from dataclasses import replace
from importlib.resources import files

import pytest
from conftest import make_brief
from hypothesis import given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from calc.assess import Assessment, assess
from calc.brief import Brief
from calc.finding import Severity
from calc.isolation.duct_way import duct_size
from calc.isolation.source import source_ids
from calc.next_steps import NextStep
from calc.scheme import Ply
from calc.unit_format import format_flow, format_nominal, format_power
from wizard import present
from wizard.export import undated
from wizard.figures.gather import figures
from wizard.interview import engine
from wizard.interview.answers import Answers
from wizard.interview.answers_file import read_strictly
from wizard.interview.to_brief import to_brief
from wizard.likelihood import in_words
from wizard.markdown import BREAKS, SIGNS, TURNING, cell, escaped, one_line
from wizard.render import environment, plan_text

TODAY = datetime.date(2026, 3, 4)
HOSTILE = '<script>x</script> | [a](http://b) `c` **d** <e@f.g> ~~h~~ \\ # 1. "i" &amp; www.j.org'
HEADINGS = [
    "Section 1: Verdict",
    "Section 2: Before anything: stops and cautions",
    "Section 3: What you asked for, and what was assumed",
    "Section 4: The room",
    "Section 5: How quiet",
    "Section 6: Constructions, layer by layer",
    "Section 7: Weight on the floor above",
    "Section 8: Air, heat and moisture",
    "Section 9: Sound in the room",
    "Section 10: Electrical wishes",
    "Section 11: Quantities and cost",
    "Section 12: Stages, hold points and warnings",
    "Section 13: Hand-off sheets",
    "Section 14: After the build",
    "Section 15: What this rests on",
]


@pytest.fixture(scope="module")
def answers() -> Answers:
    return read_strictly(files("wizard").joinpath("example.toml").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def demo(answers: Answers) -> Brief:
    return to_brief(answers)


@pytest.fixture(scope="module")
def assessment(demo: Brief) -> Assessment:
    return assess(demo)


@pytest.fixture(scope="module")
def text(answers: Answers, assessment: Assessment) -> str:
    return plan_text(assessment, answers, TODAY)


def how_quiet(text: str) -> str:
    return text[text.index("## Section 5: How quiet") : text.index("### Why this construction")]


def test_the_plan_holds_every_part_in_order(text: str) -> None:
    assert re.findall(r"(?m)^## (.*)$", text) == HEADINGS


def test_only_the_date_line_differs_from_day_to_day(text: str, answers: Answers, demo: Brief) -> None:
    other = plan_text(assess(demo), answers, datetime.date(2030, 1, 1))
    assert other != text
    assert undated(other) == undated(text)


def test_every_table_reads_as_a_table_with_its_columns(text: str) -> None:
    tokens = MarkdownIt("gfm-like", {"linkify": False}).parse(text)
    rows = [line for line in text.splitlines() if line.startswith("|")]
    rules = [row for row in rows if re.fullmatch(r"[| :-]+", row) and "-" in row]
    assert sum(token.type == "table_open" for token in tokens) == len(rules)
    assert sum(token.type == "tr_open" for token in tokens) == len(rows) - len(rules)
    assert not [token for token in tokens if token.type == "html_block"]


def test_the_demo_leaves_nothing_open_but_its_clip_and_its_sheet_test(answers: Answers, assessment: Assessment) -> None:
    assert {key for key, answer in answers.items() if answer.text == "?"} == {"clip_rating", "wall_test"}
    open_points = [f.rule for f in assessment.findings if f.rule.endswith("-unknown") or "Nobody has" in f.title]
    assert set(open_points) <= {"clips-rating-unknown"}, "the rating of a clip is known once it is bought"
    assert "water-test" in {finding.rule for finding in assessment.findings}


def test_the_plan_shows_the_measured_corners_and_what_each_choice_costs_in_height(
    answers: Answers, assessment: Assessment, text: str
) -> None:
    assert "| corner of sides 2 and 3 | 8 ft 1 1/2 in | " in text
    assert "100 % of the plan would have full height by the model code. Lowest: the corner of sides 2 and 3." in text
    assert "| two plies on isolation clips and channel | 2 7/8 in | " in text  # 41 mm of clip and channel, two boards of 15.9 mm
    assert "| laminate on underlay | 3/8 in |" in text  # 3 and 8 mm
    unmeasured = plan_text(replace(assessment, height_map=None), answers, TODAY)
    assert "corner of sides 2 and 3 |" not in unmeasured


def test_section_9_names_the_sides_of_door_and_way_out_among_what_stays_free(text: str, assessment: Assessment) -> None:
    part = text.split("## Section 9")[1].split("## Section 10")[0].split("Keep the floor free before door and way out")[1]
    door, escape = assessment.sound.openings
    rows = [line for line in part.splitlines() if line.startswith("- Side")]
    assert len(rows) == 2
    assert rows[0].startswith(f"- Side {door.side}: from ")
    assert rows[0].endswith("before the room's door.")
    assert rows[1].startswith(f"- Side {escape.side}: from ")
    assert rows[1].endswith(f"before the way out, a {escape.kind}.")


@pytest.mark.parametrize(
    ("depth", "said"), [(0.184, "it leaves 1/4 in of the depth"), (0.180, "it fills the depth"), (0.2032, "it leaves 1 in of")]
)
def test_the_fill_of_the_lid_is_told_by_what_it_leaves_empty(assessment: Assessment, answers: Answers, depth: float, said: str) -> None:
    shell = assessment.brief.shell
    lid = replace(assessment.scheme.lid, between_joists=(), fill="glass fibre", fill_thickness=0.178)
    changed = replace(
        assessment,
        brief=replace(assessment.brief, shell=replace(shell, joists=replace(shell.joists, depth=depth))),
        scheme=replace(assessment.scheme, lid=lid),
    )
    told = plan_text(changed, answers, TODAY)
    line = next(each for each in told.splitlines() if "In the cavity" in each)
    assert said in line


@pytest.mark.parametrize("height", [2.5, 2.501, 2.502, 2.503, 2.504])
def test_no_ceiling_panel_is_said_to_hang_above_the_lid(answers: Answers, height: float) -> None:
    a = assess(make_brief(units="metric", use__source="mixing", shell__height=height, shell__obstructions=()), None, False)
    part = plan_text(a, answers, TODAY).split("## Section 9")[1].split("## Section 10")[0]
    rows = re.findall(r"\(ceiling cloud\) \| [^|]+ \| [^|]+ \| ([\d.]+) m \|", part)
    assert rows
    assert all(float(row) <= a.room.height + 0.0005 for row in rows)
    left = re.search(r"Ceiling panels take (\d+) mm below the lid and leave ([\d.]+) m", part)
    assert left is not None
    assert float(left[2]) == pytest.approx(a.room.height - float(left[1]) / 1000.0, abs=0.0006)


def test_section_12_owns_up_to_not_knowing_public_holidays(text: str) -> None:
    stages = text.split("## Section 12")[1].split("## Section 13")[0]
    assert "public holidays are not known to the program" in stages


def test_plan_and_hvac_sheet_say_how_quiet_the_air_must_be_and_why(text: str, assessment: Assessment) -> None:
    wanted = f"NC {assessment.air.noise_target}, {assessment.air.noise_reason}."
    assert f"in the room; wanted is {wanted}" in text
    assert f"- Noise wanted in the room: {wanted}" in text


def test_nothing_unsaid_is_printed(text: str) -> None:
    assert not re.search(r"\bNone\b|\bnan\b|\binf\b|\{length:|\{\{|\}\}|Undefined", text)


def test_what_a_person_typed_stays_text(answers: Answers) -> None:
    named = answers.with_name(HOSTILE)
    text = plan_text(assess(to_brief(named)), named, TODAY)
    assert re.findall(r"(?m)^## (.*)$", text) == HEADINGS
    tokens = MarkdownIt("gfm-like", {"linkify": False}).parse(text)
    inline = [child for token in tokens for child in token.children or []]
    assert not [child for child in inline if child.type in {"html_inline", "image", "s_open"}]
    assert all(str(child.attrs["href"]).startswith("#section-") for child in inline if child.type == "link_open")


def test_every_listener_has_a_row_a_chart_and_its_ways(text: str, assessment: Assessment) -> None:
    told = how_quiet(text)
    fences = [token for token in MarkdownIt().parse(told) if token.type == "fence"]
    assert len(fences) == len(assessment.isolation.listeners) > 1
    for result, fence in zip(assessment.isolation.listeners, fences, strict=True):
        lines = fence.content.splitlines()
        assert max(map(len, lines)) <= 76
        assert not any(line == "" for line in lines)
        levels = next(line for line in lines if line.startswith("level")).split()[1:]
        assert levels == [f"{round(x)}" if round(x) >= 0 else "<0" for x in result.levels]
        assert f"### {result.listener.label}, band by band" in told
        assert f"| {result.listener.label} | {present.level(result.level_dba)} dBA, " in told
        assert f"| {result.paths[0].name} | {present.level(result.paths[0].level_dba)} dBA | " in told
        assert in_words(result.likelihood) in told


def test_the_shares_of_the_ways_make_the_whole(text: str) -> None:
    for part in how_quiet(text).split("\n### ")[1:]:
        shares = [int(share) for share in re.findall(r"(?m)^\| .* dBA \| (\d+) % \|$", part)]
        assert not shares or 97 <= sum(shares) <= 103


def changed(assessment: Assessment, steps: tuple[NextStep, ...], wasted: tuple[NextStep, ...], measured: bool) -> Assessment:
    return replace(
        assessment,
        brief=replace(assessment.brief, use=replace(assessment.brief.use, level_measured=measured)),
        choice=replace(assessment.choice, next_steps=steps, wasted=wasted),
    )


def test_steps_are_told_with_money_gain_and_likelihood(assessment: Assessment, answers: Answers) -> None:
    count = len(assessment.isolation.listeners)
    step = NextStep(f"door: {HOSTILE}", 812.4, (3.2, *[0.4] * (count - 1)), (0.85, *[None] * (count - 1)))
    dear = NextStep("air path: 50 mm of lining", 1993.0, (0.2,) * count, (None,) * count)
    told = how_quiet(plan_text(changed(assessment, (step,), (dear,), measured=False), answers, TODAY))
    assert f"| 812 USD more | +3 dB at {assessment.isolation.listeners[0].listener.label} (then 4 in 5) |" in told
    assert "- air path: 2 in of lining (1,993 USD more)" in told
    assert "<script>" not in told.replace("\\<script", "")
    none = how_quiet(plan_text(changed(assessment, (), (), measured=False), answers, TODAY))
    assert "Nothing in the catalogue" in none
    assert "not worth their money" not in none


def test_what_is_not_known_is_said_only_where_it_is_not_known(assessment: Assessment, answers: Answers) -> None:
    stated = how_quiet(plan_text(changed(assessment, (), (), measured=False), answers, TODAY))
    measured = how_quiet(plan_text(changed(assessment, (), (), measured=True), answers, TODAY))
    assert "a stated or usual value" in stated
    assert "- Your level: " in stated
    assert "as read from your meter" in measured
    assert "- Your level: " not in measured
    assert all("recorded samples" in told and "under 100 Hz" in told for told in (stated, measured))
    assert "Steps overhead" not in stated


@pytest.mark.parametrize("source", source_ids())
def test_what_shakes_the_floor_is_owned_up_to(assessment: Assessment, answers: Answers, source: str) -> None:
    brief = replace(assessment.brief, use=replace(assessment.brief.use, source=source))
    told = how_quiet(plan_text(replace(assessment, brief=brief), answers, TODAY))
    assert ("What shakes the floor" in told) is (source != "voice_acoustic")
    assert ("kick-drum" in told) is (source in ("drum_kit", "amplified_band"))


def test_the_room_itself_listens_to_the_house_and_not_to_the_music(assessment: Assessment, answers: Answers) -> None:
    first, *others = assessment.isolation.listeners
    itself = replace(first, listener=replace(first.listener, kind="this_room", label="the room itself"))
    heard = replace(assessment, isolation=replace(assessment.isolation, listeners=(itself, *others)))
    text = plan_text(heard, answers, TODAY)
    assert "This listener is you" in how_quiet(text)
    assert "- Steps overhead: " in how_quiet(text)
    assert "with the house as usual and no music" in text
    assert "| the room itself |" not in text[text.index("## Section 14: After the build") :]


def test_nobody_to_disturb_leaves_no_empty_table(assessment: Assessment, answers: Answers) -> None:
    nobody = changed(assessment, (), (), measured=False)
    nobody = replace(nobody, isolation=replace(nobody.isolation, listeners=(), most_critical=None))
    told = how_quiet(plan_text(nobody, answers, TODAY))
    assert "You named nobody" in told
    assert "| --- |" not in told


def verdict(text: str) -> str:
    return text[: text.index("## Section 2: ")]


def test_nobody_to_disturb_still_gets_a_verdict(assessment: Assessment, answers: Answers) -> None:
    nobody = changed(assessment, (), (), measured=False)
    nobody = replace(nobody, isolation=replace(nobody.isolation, listeners=(), most_critical=None))
    assert "no quiet is promised" in verdict(plan_text(nobody, answers, TODAY))
    low = replace(nobody, choice=replace(nobody.choice, meets_all=False))
    assert "not everything you asked for can be had" in verdict(plan_text(low, answers, TODAY))
    stop = replace(nobody, findings=tuple(replace(each, severity=Severity.STOP) for each in nobody.findings[:1]))
    assert "Do not start building yet" in verdict(plan_text(stop, answers, TODAY))


@pytest.mark.parametrize(
    ("likelihood", "asked", "words"),
    [
        (0.95, 0.0, "it will very likely be as quiet as you asked"),
        (0.55, 0.0, "it will more likely than not be as quiet as you asked"),
        (0.22, 0.0, "it will more likely miss the quiet you asked for than keep it"),
        (0.85, 0.8, "as surely as you asked"),
        (0.55, 0.8, "but not as surely as you asked"),
    ],
)
def test_the_verdict_says_no_more_than_the_likelihood(
    assessment: Assessment, answers: Answers, likelihood: float, asked: float, words: str
) -> None:
    first, *others = assessment.isolation.listeners
    listeners = (replace(first, likelihood=likelihood), *(replace(each, likelihood=0.99) for each in others))
    brief = replace(assessment.brief, limits=replace(assessment.brief.limits, likelihood=asked))
    made = replace(assessment, brief=brief, isolation=replace(assessment.isolation, listeners=listeners))
    assert words in verdict(plan_text(made, answers, TODAY))


def test_small_words() -> None:
    assert present.level(-3.0) == "below 0"
    assert present.level(-0.2) == "0"
    assert present.signed(-0.4) == "0"
    assert present.signed(2.6) == "+3"
    assert present.hours(0.3) == "15 min"
    assert present.hours(21.9) == "22 h"
    board = Ply("gypsum board type X", 0.0159, 11.0)
    assert [(g.count, g.material) for g in present.ply_groups((board, board))] == [(2, "gypsum board type X")]


def test_the_curve_is_read_from_its_first_to_its_last_point() -> None:
    times = tuple(i / 60 for i in range(61))
    picked = present.sampled((times, tuple(400.0 + i for i in range(61))))
    assert picked[0] == (0, 400.0)
    assert picked[-1] == (60, 460.0)


def test_the_verdict_owns_up_to_a_ceiling_that_nobody_has_drawn_past_a_duct(answers: Answers) -> None:
    """Joists that may not be touched leave a ceiling on its own joists only, and the demo has a duct in their way."""
    answers = engine.accept(engine.question("joists_may_be_touched"), "no", answers)
    assessment = assess(to_brief(answers), explain=False)
    (open_point,) = [finding for finding in assessment.findings if finding.rule == "own-joists-meet"]
    assert open_point.title in verdict(plan_text(assessment, answers, TODAY))
    free = replace(assessment, findings=tuple(each for each in assessment.findings if each.rule != "own-joists-meet"))
    assert "has to be drawn first" not in plan_text(free, answers, TODAY)


def test_section_eleven_prices_what_section_nine_hangs_outside_the_sum(assessment: Assessment, answers: Answers) -> None:
    text = plan_text(assessment, answers, TODAY)
    cost = text[text.index("## Section 11") : text.index("## Section 12")]
    told = sum(row.total for row in assessment.sound_bill.rows)
    assert told > 0.0
    assert f"Not in this sum either, and not in its reserve: what section 9 lists to hang for the sound in the room, {told:,.0f} " in cost
    assert f"#### Sound in the room, not in the sum: {told:,.0f} USD" in cost
    assert "- the platform under the drums that section 5 advises" in cost
    stages = text[text.index("## Section 12") : text.index("## Section 13")]
    assert "build and hang them now" in stages[stages.index("Measure what was gained\n\n") :]


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_a_duct_has_one_nominal_size_in_list_section_and_drawings(assessment: Assessment, answers: Answers, units: str) -> None:
    brief = replace(assessment.brief, units=units)
    found = replace(assessment, brief=brief)
    size = duct_size(brief, found.scheme.air_path)
    assert size.side == pytest.approx(size.casing - 2.0 * found.scheme.air_path.lining)
    inside, free = (format_nominal(each, units) for each in (size.casing, size.side))
    drawn = {each.name: each.text.replace("\N{NO-BREAK SPACE}", " ") for each in figures(found)}
    text = plan_text(found, answers, TODAY)
    assert f"| square duct {inside} (" in text
    assert f"inside its sheet | {inside} | {inside} |" in text
    assert f"inside the lining | {free} | {free} |" in text
    assert f"{inside} square inside the sheet" in drawn["duct-sketch"]
    assert f"{free} square left free" in drawn["duct-sketch"]
    assert f"{inside} square inside the sheet" in drawn["detail-duct"]
    assert f"supply duct, {inside} square" in drawn["floor-plan"]


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_the_shopping_list_says_what_size_to_order(assessment: Assessment, answers: Answers, units: str) -> None:
    found = replace(assessment, brief=replace(assessment.brief, units=units))
    rows = [line for line in plan_text(found, answers, TODAY).splitlines() if line.startswith("| ")]
    leaf = {"metric": "915 mm × 2.03 m", "imperial": "3 ft × 6 ft 8 in"}[units]
    grille, units_of = found.air_design.supply.grille, found.brief.units
    face = f"{format_nominal(grille.width, units_of)} × {format_nominal(grille.height, units_of)} for the supply"
    told = {
        "door leaf": leaf,
        "door frame": f"for a leaf of {leaf}",
        "grille without": face,
        "recovery unit with filters": f"both ways {format_flow(found.air.fresh_air, units_of)} against ",
        "split cooling unit": f"about {format_power(found.air.cooling_W)} of cooling",
        "second sash for": "clear through both sashes",
    }
    for name, words in told.items():
        row = next(line for line in rows if name in line and " at " in line)
        assert words in row


def test_a_plan_for_another_country_says_near_its_top_and_in_its_findings_that_no_limit_is_the_law_there(answers: Answers) -> None:
    def text(code: str) -> str:
        abroad = engine.accept(engine.question("code"), code, answers)
        return plan_text(assess(to_brief(abroad), explain=False), abroad, TODAY)

    plan = text("elsewhere")
    verdict, rest = plan.split("Section 2: Before anything", 1)
    assert verdict.count("None of the limits in this plan is your law.") == 1
    assert "Ask the office that grants building permits where the house stands" in verdict
    assert "no limit here is; the strictest of North America" in rest
    assert "not the law where the house stands" in rest
    assert "is your law" not in text("?")


def test_a_metric_plan_keeps_spacings_of_a_tape_and_says_what_is_counted_in_inches(assessment: Assessment, answers: Answers) -> None:
    metric = assess(replace(assessment.brief, units="metric"))
    text = plan_text(metric, answers, TODAY)
    work = text[text.index("### 1. Measure") : text.index("## Section 13")]
    assert not re.search(r"\b(?:152|305|3\.048|3\.05) m?m\b", work)
    assert "within 150 mm of" in work
    assert "Lap channel by 150 mm" in work
    assert "Screw the lid every 300 mm and the walls every 400 mm" in work
    assert "every 3 m along the wall" in work
    assert "floor, ceiling and every 3 m along the wall" in text[: text.index("## Section 3")]
    assert "counted in the sizes of inch countries" in text
    own = plan_text(assessment, answers, TODAY)
    assert "counted in the sizes of inch countries" not in own
    assert "every 10 ft along the wall" in own


@pytest.mark.parametrize(
    ("template", "printed"),
    [
        ("{{ typed }}", r"\<b\>x\</b\> \| \[a\](b) \`c\` d"),
        ("{{ typed | cell }}", r"\<b\>x\</b\> \| \[a\](b) \`c\` d"),
        ("{% macro m(text) %}*{{ text }}*{% endmacro %}{{ m(typed) }}", r"*\<b\>x\</b\> \| \[a\](b) \`c\` d*"),
        ("{{ [typed, 'e&f'] | join(', ') }}", r"\<b\>x\</b\> \| \[a\](b) \`c\` d, e\&f"),
        ("{{ typed | verbatim }}", "<b>x</b> | [a](b) `c`\nd"),
        ("{{ 'it is ' if count }}{{ count }}", "it is 3"),
    ],
)
def test_templates_escape_for_markdown_by_themselves(template: str, printed: str) -> None:
    typed = "<b>x</b> | [a](b) `c`\nd"
    assert environment("metric", "EUR").from_string(template).render(typed=typed, count=3) == printed


@given(st.text())
def test_what_is_passed_over_quickly_needs_no_escape(text: str) -> None:
    assert escaped(text) == SIGNS.sub(r"\\\1", BREAKS.sub(" ", text.translate(TURNING)))
    assert len(escaped(text).splitlines()) <= 1
    assert cell(text) == SIGNS.sub(r"\\\1", one_line(text))

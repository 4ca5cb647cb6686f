"""What the air, the dust and the sound can do to the people who build and play."""

from __future__ import annotations

from typing import Any

from calc.brief import Brief
from calc.codes import CANADA, country
from calc.finding import Finding
from calc.geometry import Room
from calc.safety.rule import Rule, SiteRule, caution, limits, note
from calc.scheme import Scheme
from calc.site import Site
from calc.unit_format import format_duration

BACKDRAFT = (
    " The suction can draw basement air through the cracks and a burner's flue gas with it: have the draft of each burner that takes its "
    "air from the house tested with the radon fan running."
)
BACKDRAFT_SOURCE = "draft test: US EPA, Radon Mitigation Standards, EPA 402-R-93-078, 1994, from memory"


def radon(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """Soil gas collects in a tight basement room: test before and after."""
    rule = limits("radon")
    limit = float(rule["canada"] if country(brief.code) == CANADA else rule["action"])
    burner = brief.shell.appliance in ("natural draft", "unknown")
    facts: dict[str, Any] = {"limit": limit, "unit": "Bq/m3", "source": str(rule["source"]), "task": "hazards_test"}
    if brief.shell.radon == "below":
        return note(
            "radon-retest",
            "Radon was below the action level: test again once the room is built, a tight room can hold more",
            "Repeat the test with the door shut and the air running as in use.",
            decides="owner",
            **facts,
        )
    if brief.shell.radon == "above":
        return caution(
            "radon-above",
            "Radon is above the action level: have it drawn off before the room is built",
            "A radon contractor fits under-slab suction first (pipe route before walls); seal slab cracks and the sump; test again after."
            + (BACKDRAFT if burner else ""),
            decides="radon contractor",
            **facts | {"source": f"{rule['source']}; {BACKDRAFT_SOURCE}" if burner else rule["source"]},
        )
    return caution(
        "radon-test",
        "Radon is not tested against the action level: hours a week in a tight basement room make it matter",
        "Leave a test kit in the basement for 90 days (or a short test first) before the money is spent, and test again after.",
        decides="owner",
        **facts,
    )


def lead(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """Paint in homes built before the ban."""
    year, rule = brief.shell.year_built, limits("lead")
    if year is not None and year >= rule["year"]:
        return None
    return caution(
        "lead",
        f"Paint in a house from before {rule['year']} may hold lead"
        if year is not None
        else "The year built is not known: assume lead paint",
        "Test before sanding, scraping or tearing out; no dry sanding, plastic sheet and wet methods; hired work "
        + ("is for people trained and equipped for it." if country(brief.code) == CANADA else "needs a certified firm."),
        source=str(rule["source"]),
        decides="certified lead inspector",
        task="hazards_test",
    )


def asbestos(brief: Brief, scheme: Scheme, room: Room, site: Site) -> Finding | None:
    """Floor tile, pipe wrap, joint compound, ceiling texture, vermiculite: by what was seen, else by the year built."""
    year, rule = brief.shell.year_built, limits("asbestos")
    seen = site.suspect == "yes"
    if not seen and year is not None and year >= rule["year"]:
        return None
    return (note if site.suspect == "no" and year is not None else caution)(
        "asbestos",
        "Old tile, pipe wrap, texture or vermiculite was seen in the area: it may hold asbestos until a laboratory says that it does not"
        if seen
        else "Old floor tile, glue, pipe wrap, joint compound, ceiling texture or vermiculite may hold asbestos, and some of it is hidden"
        if year is not None
        else "The year built is not known: assume that tile, pipe wrap and texture may hold asbestos",
        "Do not break, drill, sand or sweep it. Have samples tested by a laboratory before demolition; removal is for licensed people.",
        source=str(rule["source"]),
        decides="accredited asbestos inspector",
        task="hazards_test",
    )


def old_ceiling(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """A board left under the joists hides them and would make a third leaf."""
    if brief.shell.ceiling_texture == "bare":
        return None
    known = brief.shell.ceiling_texture == "boarded"
    return (note if known else caution)(
        "old-ceiling",
        "The ceiling under the joists comes down first: it hides wires, pipes and joists, and a third leaf lets low sound through"
        if known
        else "Nobody has said what hangs under the joists now",
        "Test texture and joint compound first where the house is old; power off; wear goggles and a mask; look at every joist when it "
        "is down."
        if known
        else "Look up: bare joists, boards, plaster or tiles? What is there must be tested where old, then come down.",
        decides="owner",
        task="demolish",
    )


def silica(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """Drilling and grinding masonry, and sanding some compounds, raise silica dust."""
    rule = limits("silica")
    return note(
        "silica",
        "Drilling or grinding concrete and sanding joint compound raise fine dust that scars lungs",
        f"US work rules allow {rule['limit']:.0f} µg/m³, mean of 8 hours. Drill wet or with a vacuum shroud, sand with a vacuum or wet "
        "sponge, wear a fitted P100 or N95 mask, never sweep dry.",
        source=str(rule["source"]),
        decides="owner",
        task="frame",
    )


def niosh_hours(level: float) -> float:
    """Hours a day at a sound level [dB(A)] by NIOSH: 8 h at 85, half for each 3 dB more.

    Source: NIOSH, criteria for a recommended standard: occupational noise exposure, 1998.
    """
    rule = limits("noise")
    halvings: float = (level - rule["niosh_level"]) / rule["niosh_exchange"]
    return float(rule["reference_hours"] * 0.5**halvings)


def osha_hours(level: float) -> float:
    """Hours a day at a sound level [dB(A)] by OSHA: 8 h at 90, half for each 5 dB more; laxer than NIOSH.

    Source: 29 CFR 1910.95.
    """
    rule = limits("noise")
    halvings: float = (level - rule["osha_level"]) / rule["osha_exchange"]
    return float(rule["reference_hours"] * 0.5**halvings)


def _time(hours: float) -> str:
    """A time that may be under a minute, in words; the last NIOSH minutes of loud sound must not read as none."""
    return format_duration(hours) if hours >= 1.0 / 60.0 else f"{max(3600.0 * hours, 1.0):.0f} s"


def hearing(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """The room keeps the sound in: whoever plays gets all of it."""
    level = brief.use.level
    if level < limits("noise")["niosh_level"]:
        return None
    allowed = niosh_hours(level)
    return (caution if brief.use.session > allowed else note)(
        "hearing",
        f"At {level:.0f} dBA unprotected ears have {_time(allowed)} a day"
        + (f"; a session lasts {format_duration(brief.use.session)}" if brief.use.session > allowed else ""),
        "Wear ear plugs made for musicians or ear muffs, play softer, take breaks in quiet; everyone in the room, children first.",
        source=str(limits("noise")["source"]),
        decides="owner",
        task="measure",
    )


RULES: tuple[Rule, ...] = (radon, lead, old_ceiling, silica, hearing)
SITE_RULES: tuple[SiteRule, ...] = (asbestos,)

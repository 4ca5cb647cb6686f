"""The brief: what a person asked for, parsed, checked and in SI. Frozen; made by the interview, read by everything else.

Lengths m, areas m2, masses kg, powers W, times h, temperatures degC, money in the person's currency, sound levels dB.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from calc.hashed import hashed_once
from calc.origin import Origin as Origin
from calc.prices import NO_PRICES, PriceBook
from calc.site import NOTHING_KNOWN, Site

ITSELF = "this_room"  # the listener of data/criteria.toml who is in the room


class SideKind(StrEnum):
    """What stands on one side of the basement area the room will take."""

    FOUNDATION_BELOW = "foundation, all below ground"
    FOUNDATION_ABOVE = "foundation, partly above ground"
    OPEN = "open to the rest of the basement"
    PARTY = "party wall with an attached neighbour"


class Labour(StrEnum):
    OWN = "own"
    HIRED = "hired"


@dataclass(frozen=True)
class Assumption:
    """A value that nobody measured: which question, what was assumed, and what that costs in certainty."""

    question: str
    topic: str
    assumed: str
    why: str
    origin: Origin


@dataclass(frozen=True)
class Side:
    """One side of the rectangle. Sides 1 and 3 run along the length, 2 and 4 along the width."""

    number: int
    length: float
    kind: SideKind


@dataclass(frozen=True)
class Joists:
    """The joists over the room. ``species`` and ``grade`` are keys of data/joists.toml, or "unknown"."""

    kind: str  # sawn | i-joist | truss | unknown
    depth: float
    breadth: float
    spacing: float
    span: float
    species: str
    grade: str
    damaged: str  # no | yes | unknown: notches, holes, cracks, rot


@dataclass(frozen=True)
class Obstruction:
    """A beam, duct or pipe below the joists, or a part that slopes; ``underside`` is its height above the slab, a slope's at its lowest."""

    kind: str  # beam | duct | pipe | slope
    underside: float
    width: float
    movable: bool
    place: str = "unknown"  # walking route | door | desk | side | unknown: what lies under it
    length: float = 0.0  # m; 0: it runs across the whole area

    def run(self, across: float) -> float:
        """How far it runs [m] through an area that is so long across."""
        return min(self.length, across) if self.length > 0.0 else across


@dataclass(frozen=True)
class Shell:
    """The basement as found. ``height`` is from slab to joist underside."""

    length: float
    width: float
    height: float
    slab_unevenness: float
    sides: tuple[Side, ...]
    foundation: str  # poured concrete | hollow block | brick or stone | wood
    foundation_thickness: float
    joists: Joists
    subfloor: str  # plywood or OSB | boards | unknown
    floor_above: str  # carpet | wood | tile | vinyl | unknown
    room_above: str  # bedroom | living | kitchen or bath | unknown
    obstructions: tuple[Obstruction, ...]
    water: str  # none | stains | damp | standing | unknown
    radon: str  # below | above | untested | unknown
    year_built: int | None
    appliance: str  # none | sealed | natural draft | unknown: fuel-burning appliances in the basement
    appliance_power: float  # total input, W
    basement_volume_left: float  # volume that stays with the appliance, m3
    panel: str  # none | in the area | elsewhere | unknown: electrical panel
    gas_line: str  # no | yes | unknown: gas pipe or shut-off inside the area
    drains: str  # no | yes | unknown: sump, floor drain or clean-out inside the area
    escape: str  # none | window | door | unknown
    escape_width: float  # clear opening, m; 0 where none
    escape_height: float
    escape_sill: float
    ceiling_texture: str  # bare | boarded | unknown: what hangs under the joists now
    party: str = "unknown"  # what the wall to a neighbour is made of: a key of the party table of data/options.toml


@dataclass(frozen=True)
class Use:
    """What happens in the room. ``source`` is a key of data/sources.toml; ``level`` the A-weighted level in the room, dB."""

    source: str
    level: float
    hours: str  # day | evening | night
    people: int
    activity: str  # key of the activity table of data/air.toml
    session: float  # h
    equipment: float  # W
    recording: bool
    sleeping: bool
    level_measured: bool = False  # the level is the person's own meter reading
    level_careful: bool = False  # nobody knows the level: it is one standard uncertainty over the usual one


@dataclass(frozen=True)
class Listener:
    """A place where the sound must be low enough. ``kind`` is a key of data/criteria.toml's listener table."""

    kind: str
    label: str
    target: str  # key of data/criteria.toml's target table
    background: float  # A-weighted background at the listener, dB
    distance: float  # m, outdoors only
    window: str  # open | closed; outside where the listener stands before it (a by-law's number); neighbours only
    barrier_height: float = 0.0  # m above ground of a wall or solid fence between, outdoors only; 0 none
    barrier_distance: float = 0.0  # m from the room's wall to it
    limit: float = 0.0  # dBA that a by-law or contract states; 0 none


@dataclass(frozen=True)
class House:
    """What the house sounds like to the room while it records or mixes, keys of data/house_noise.toml; and the way up from the basement."""

    walking: str = "soft"  # of its walker table: who walks overhead
    plumbing: str = "no"  # no | yes | unknown: drains in the joists over the room
    machine: str = "none"  # of its machine table: what runs in the rest of the basement
    outdoors: float = 45.0  # A-weighted level outside the room's walls and window, dB
    stair_door: str = "yes"  # yes | no: a door that shuts between the basement and the rooms above


@dataclass(frozen=True)
class Air:
    """How the house is heated and how stale the air may get."""

    system: str  # forced air | hydronic | electric | heat pump split | none | unknown
    winter_design: float  # outdoor design temperature, degC
    room_temperature: float
    room_humidity: float  # 0..1
    co2_limit: float  # ppm
    bedrooms: int  # of the house
    house_area: float  # floor area of the house with this room, m2
    breaks: str = "none"  # key of the breaks table of data/air.toml
    arrivals: str = "together"  # key of its arrivals table
    summer_design: float = 33.0  # outdoor design temperature, degC
    summer_damp: str = "muggy"  # key of its summer table, or unknown
    duct_outdoors: str = "yes"  # yes | no | unknown: two ducts can reach the outdoors
    duct_reach: float = 6.0  # m of duct from the room's shell to where it ends, lined part included


@dataclass(frozen=True)
class Means:
    budget: float
    contingency: float  # share, 0..1
    labour: Labour
    hourly_rate: float
    hours_per_week: float
    helpers: int
    currency: str


@dataclass(frozen=True)
class Limits:
    """The person's own limits."""

    lowest_ceiling: float
    joists_may_be_touched: bool
    likelihood: float = 0.0  # share of 1 with which every target shall be kept; 0: the predicted level alone decides


@hashed_once
@dataclass(frozen=True)
class Brief:
    name: str
    units: str  # imperial | metric
    code: str  # key of the ceiling-height cases in data/rules.toml
    habitable: str  # yes | no | unknown
    shell: Shell
    use: Use
    listeners: tuple[Listener, ...]
    air: Air
    means: Means
    limits: Limits
    assumptions: tuple[Assumption, ...]
    house: House = House()
    site: Site = NOTHING_KNOWN
    prices: PriceBook = NO_PRICES

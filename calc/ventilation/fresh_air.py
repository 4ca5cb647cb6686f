"""Fresh-air rates that standards ask for, m3/s."""

from __future__ import annotations

from calc.catalogue import load


def breathing_zone_rate(people: int, area: float, rate_person: float | None = None, rate_area: float | None = None) -> float:
    """Outdoor air in the breathing zone [m3/s] for people on a floor area [m2]; rates m3/s each, those of a music room unless given.

    Source: ASHRAE 62.1 Eq. 6-1 (2016: 6.2.2.1), Vbz = Rp Pz + Ra Az.
    """
    data = load("air")["ashrae_62_1"]
    rp = data["people"] if rate_person is None else rate_person
    ra = data["area"] if rate_area is None else rate_area
    return float(rp * people + ra * area)


def zone_rate(people: int, area: float) -> float:
    """Outdoor air at the grille [m3/s]: the breathing-zone rate over the zone air distribution effectiveness of warm ceiling supply.

    Source: ASHRAE 62.1 Eq. 6-2, Voz = Vbz / Ez (2016: 6.2.2.3).
    """
    return breathing_zone_rate(people, area) / float(load("air")["ashrae_62_1"]["effectiveness"])


def dwelling_rate(house_area: float, bedrooms: int) -> float:
    """Outdoor air of the whole dwelling [m3/s]; area m2, infiltration not deducted.

    Source: ASHRAE 62.2 Eq. 4.1, SI form: 0.15 A + 3.5 (Nbr + 1) L/s.
    """
    data = load("air")["ashrae_62_2"]
    return float(data["area"] * house_area + data["bedroom"] * (bedrooms + 1))


def dwelling_fan_rate(total: float, infiltration: float, run_share: float = 1.0) -> float:
    """What the dwelling's fan has to move [m3/s]: its whole rate less what leaks in, at most two thirds of it, over the share of time that
    it runs, 0..1.

    Raises ValueError for a fan that never runs. Source: ASHRAE 62.2 (2013-2019) 4.1.2, credit and intermittent operation; second hand.
    """
    if run_share <= 0.0:
        raise ValueError("a fan that never runs moves no air")
    return (total - min(infiltration, total * 2.0 / 3.0)) / run_share


def air_change_rate(volume: float) -> float:
    """Mechanical air [m3/s] of a habitable room [m3] whose windows do not open: 0.35 air changes an hour.

    Source: IRC 2024 R325 (2018, 2021: R303).
    """
    return float(load("air")["irc_air_change"]["rate"]) * volume / 3600.0

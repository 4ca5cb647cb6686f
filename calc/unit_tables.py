"""Units: exact definitions, what people write for them, and the unit that a bare number of each kind has."""

from __future__ import annotations

from dataclasses import dataclass

IMPERIAL = "imperial"
METRIC = "metric"

# Exact definitions; source: A. Thompson and B. N. Taylor, Guide for the Use of the SI, NIST Special Publication 811, 2008, appendix B.8.
# Btu is the International Table Btu (SP 811 B.6, 1.055 055 852 62 kJ).
DEFINITIONS = """
meter = [length] = m
second = [time] = s
kilogram = [mass] = kg
kelvin = [temperature] = K
centimeter = 0.01 * meter = cm
millimeter = 0.001 * meter = mm
inch = 0.0254 * meter = in
foot = 12 * inch = ft
yard = 3 * foot = yd
minute = 60 * second = min
hour = 3600 * second = h
day = 24 * hour
week = 7 * day
liter = 0.001 * meter ** 3 = L
newton = kilogram * meter / second ** 2 = N
pascal = newton / meter ** 2 = Pa
kilopascal = 1000 * pascal = kPa
watt = newton * meter / second = W
kilowatt = 1000 * watt = kW
btu = 1055.05585262 * watt * second
pound = 0.45359237 * kilogram = lb
pound_force = pound * 9.80665 * meter / second ** 2 = lbf
kilogram_force = kilogram * 9.80665 * meter / second ** 2 = kgf
degree_Celsius = kelvin; offset: 273.15 = degC
degree_Fahrenheit = 5 / 9 * kelvin; offset: 233.15 + 200 / 9 = degF
percent = 0.01
ppm = 1e-6
"""


@dataclass(frozen=True)
class Measure:
    """A dimension and the unit that a bare number has in each system."""

    dimension: str
    imperial: str
    metric: str

    def unit(self, system: str) -> str:
        return self.imperial if system == IMPERIAL else self.metric


ROOM_LENGTH = Measure("length", "ft", "m")
SMALL_LENGTH = Measure("length", "in", "mm")
AREA = Measure("area", "ft2", "m2")
VOLUME = Measure("volume", "ft3", "m3")
FLOW = Measure("flow", "cfm", "L/s")
POWER = Measure("power", "W", "W")
HEAT_INPUT = Measure("power", "BTU/h", "kW")
PRESSURE = Measure("pressure", "psf", "kPa")
FORCE = Measure("force", "lb", "N")
TEMPERATURE = Measure("temperature", "°F", "°C")
SHARE = Measure("share", "%", "%")
DURATION = Measure("duration", "h", "h")
LEVEL = Measure("level", "dBA", "dBA")
CO2 = Measure("concentration", "ppm", "ppm")
MONEY = Measure("money", "", "")
COUNT = Measure("count", "", "")
YEAR = Measure("year", "", "")
DATE = Measure("date", "", "")

# What a dimension is counted in inside calc: the unit of every value that parse() returns.
BASE = {
    "length": "meter",
    "area": "meter ** 2",
    "volume": "meter ** 3",
    "flow": "meter ** 3 / second",
    "power": "watt",
    "pressure": "pascal",
    "force": "newton",
    "temperature": "degree_Celsius",
    "duration": "hour",
}

# For each dimension: what people write (lower case, no blanks or dots) -> the unit of the registry.
ALIASES: dict[str, dict[str, str]] = {
    "length": {
        **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), "meter"),
        **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), "centimeter"),
        **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), "millimeter"),
        **dict.fromkeys(("in", "inch", "inches", '"'), "inch"),
        **dict.fromkeys(("ft", "foot", "feet", "'"), "foot"),
        **dict.fromkeys(("yd", "yard", "yards"), "yard"),
    },
    "area": {
        **dict.fromkeys(("m2", "m^2", "sqm", "squaremetres", "squaremeters", "squaremetre", "squaremeter"), "meter ** 2"),
        **dict.fromkeys(("ft2", "ft^2", "sqft", "sf", "squarefeet", "squarefoot"), "foot ** 2"),
        **dict.fromkeys(("in2", "in^2", "sqin", "squareinches", "squareinch"), "inch ** 2"),
        **dict.fromkeys(("cm2", "cm^2", "sqcm"), "centimeter ** 2"),
    },
    "volume": {
        **dict.fromkeys(("m3", "m^3", "cum", "cubicmetres", "cubicmeters"), "meter ** 3"),
        **dict.fromkeys(("ft3", "ft^3", "cuft", "cf", "cubicfeet"), "foot ** 3"),
        **dict.fromkeys(("l", "litre", "litres", "liter", "liters"), "liter"),
    },
    "flow": {
        **dict.fromkeys(("cfm", "ft3/min", "cuft/min"), "foot ** 3 / minute"),
        **dict.fromkeys(("l/s", "lps"), "liter / second"),
        **dict.fromkeys(("m3/h", "m^3/h", "cmh"), "meter ** 3 / hour"),
        **dict.fromkeys(("m3/s", "m^3/s"), "meter ** 3 / second"),
    },
    "power": {
        **dict.fromkeys(("w", "watt", "watts"), "watt"),
        **dict.fromkeys(("kw", "kilowatt", "kilowatts"), "kilowatt"),
        **dict.fromkeys(("btu/h", "btuh", "btu/hr", "btu", "btus", "btuperhour"), "btu / hour"),
        **dict.fromkeys(("mbh", "kbtu/h", "kbtu"), "1000 * btu / hour"),
    },
    "pressure": {"psf": "pound_force / foot ** 2", "lb/ft2": "pound_force / foot ** 2", "pa": "pascal", "kpa": "kilopascal"},
    "force": {
        **dict.fromkeys(("lb", "lbs", "lbf", "pound", "pounds"), "pound_force"),
        **dict.fromkeys(("n", "newton", "newtons"), "newton"),
        "kn": "1000 * newton",
        **dict.fromkeys(("kg", "kgf", "kilogram", "kilograms", "kilo", "kilos"), "kilogram_force"),
    },
    "temperature": {
        **dict.fromkeys(("c", "°c", "degc", "celsius"), "degree_Celsius"),
        **dict.fromkeys(("f", "°f", "degf", "fahrenheit"), "degree_Fahrenheit"),
    },
    "duration": {
        **dict.fromkeys(("h", "hr", "hrs", "hour", "hours"), "hour"),
        **dict.fromkeys(("min", "mins", "minute", "minutes"), "minute"),
        **dict.fromkeys(("h/week", "hperweek", "hoursaweek", "hours/week", "haweek"), "hour"),
    },
}

# After a number in one of these a comma before three digits counts thousands, whatever the person's own system.
IMPERIAL_UNITS = frozenset(
    alias
    for table in ALIASES.values()
    for alias, unit in table.items()
    if any(word in unit for word in ("inch", "foot", "yard", "btu", "pound", "Fahrenheit"))
)

# Written after the number and then without effect, because the quantity is already in its unit.
PLAIN_SUFFIXES = {
    "share": ("%", "percent", "pct"),
    "level": ("dba", "db(a)", "db", "dbc"),
    "concentration": ("ppm",),
    "count": ("people", "persons", "person", "bedrooms", "bedroom", "helpers", "helper", "players"),
    "year": (),
}

EXAMPLES = {
    "length": "7' 2 1/2\", 86 1/2 in, 7.2 ft, 7-2, 2.18 m or 218 cm",
    "area": "300 sq ft or 28 m2",
    "volume": "2400 cu ft or 68 m3",
    "flow": "60 cfm or 28 L/s",
    "power": "800 W, 24 kW or 80,000 BTU/h",
    "pressure": "10 psf or 0.48 kPa",
    "force": "34 lb, 150 N or 15 kg",
    "temperature": "-5 °C or 23 °F",
    "share": "15 %",
    "duration": "2.5 h, 90 min or 1 h 30 min",
    "level": "105 dBA",
    "concentration": "1000 ppm",
    "money": "12,000 or 12k",
    "count": "a whole number such as 4",
    "year": "a year such as 1962",
    "date": "2027-03-01, the year first",
}

# The money that a sign or a word beside a sum means; a code of three letters (ISO 4217) means itself.
CURRENCY_SIGNS = {
    "$": "USD", "us$": "USD", "c$": "CAD", "ca$": "CAD", "a$": "AUD", "au$": "AUD", "nz$": "NZD", "€": "EUR", "£": "GBP",
    "euro": "EUR", "euros": "EUR", "dollar": "USD", "dollars": "USD", "pound": "GBP", "pounds": "GBP",
}  # fmt: skip

IN_METRIC = {"length": "2.18 m, 218 cm, 2180 mm or 7' 2 1/2\""}  # examples that begin in the other system


def example(dimension: str, system: str) -> str:
    """How an answer can be written, the person's own units first."""
    return IN_METRIC.get(dimension, EXAMPLES[dimension]) if system == METRIC else EXAMPLES[dimension]


FRACTIONS = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6",
    "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip

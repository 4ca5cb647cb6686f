"""Fresh air, CO2, heat, moisture and duct size of a tight room with people in it."""

from calc.ventilation.air import AirResult, air
from calc.ventilation.rules import findings

__all__ = ["AirResult", "air", "findings"]

"""Any result of calc as plain data for JSON: dataclasses to objects, arrays and sets to lists, enums to their words, no NaN."""

from __future__ import annotations

import dataclasses
import enum
import math
from collections.abc import Mapping
from typing import Any


def as_data(value: Any) -> Any:
    """Plain data. A number that is not finite becomes None: JSON knows neither NaN nor infinity. Raises TypeError for the rest."""
    if value is None or (isinstance(value, bool | int) and not isinstance(value, enum.Enum)):
        return value
    if isinstance(value, enum.Enum):
        return as_data(value.value)
    if isinstance(value, str):
        return str(value)
    if isinstance(value, float):
        return float(value) if math.isfinite(value) else None
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {field.name: as_data(getattr(value, field.name)) for field in dataclasses.fields(value)}
    if isinstance(value, Mapping):
        return {str(as_data(key)): as_data(item) for key, item in value.items()}
    if isinstance(value, set | frozenset):
        return sorted((as_data(item) for item in value), key=str)
    if isinstance(value, list | tuple):
        return [as_data(item) for item in value]
    if hasattr(value, "tolist"):  # numpy arrays and scalars
        return as_data(value.tolist())
    raise TypeError(f"{type(value).__name__} is not data")

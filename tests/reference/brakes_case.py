"""What a brake case is: inputs read in SI, and expected values compared in the unit the source states.

Adapters answer in SI by the names of ``expected``. The factors stand here on their own, exact by definition of the units, so that a
wrong factor in ``calc.units`` cannot hide itself.
"""

import math
from collections.abc import Mapping
from typing import Any

INCH, FOOT, POUND, GRAVITY = 0.0254, 0.3048, 0.45359237, 9.80665
POUND_FORCE = POUND * GRAVITY
PSI = POUND_FORCE / INCH**2

# unit as the cases write it: (factor, offset) to SI
UNITS: dict[str, tuple[float, float]] = {
    "%": (0.01, 0),
    "percentage points": (0.01, 0),
    "MPa": (1e6, 0),
    "kPa": (1e3, 0),
    "psi": (PSI, 0),
    "kN": (1e3, 0),
    "lbf": (POUND_FORCE, 0),
    "lbf in": (POUND_FORCE * INCH, 0),
    "mm": (1e-3, 0),
    "mm2": (1e-6, 0),
    "mm2/s": (1e-6, 0),
    "cm3": (1e-6, 0),
    "cm3/ft": (1e-6 / FOOT, 0),
    "in": (INCH, 0),
    "ft": (FOOT, 0),
    "ft/s2": (FOOT, 0),
    "km/h": (1 / 3.6, 0),
    "mph": (1609.344 / 3600, 0),
    "rpm": (2 * math.pi / 60, 0),
    "W/(m2 K rpm)": (60 / (2 * math.pi), 0),
    "deg": (math.pi / 180, 0),
    "degC": (1, 273.15),
    "degF": (5 / 9, 273.15 - 32 * 5 / 9),
}


def _conversion(written: str) -> tuple[float, float]:
    plain = written.split(" (")[0].replace(" uphill", "")
    return UNITS.get(plain, (1.0, 0.0))


def to_si(value: Any, written: str) -> Any:
    """Return a number, or numbers at any depth, in SI; words and truths stay as they are."""
    if isinstance(value, list):
        return [to_si(each, written) for each in value]
    if isinstance(value, bool | str):
        return value
    factor, offset = _conversion(written)
    return value * factor + offset


class Given:
    """The inputs of a case in SI: ``given["wheelbase"]``; ``given.get(name, default)``."""

    def __init__(self, inputs: Mapping[str, Any]) -> None:
        self._inputs = inputs

    def __contains__(self, name: str) -> bool:
        return name in self._inputs

    def __getitem__(self, name: str) -> Any:
        held = self._inputs[name]
        return to_si(held["value"], held["unit"]) if isinstance(held, dict) else held

    def get(self, name: str, default: Any) -> Any:
        """Return an input in SI, or the default where the case does not give it."""
        held = self._inputs.get(name)
        return default if held is None else self[name]


def wrong(found: Any, wanted: Mapping[str, Any]) -> bool:
    """Return whether an answer in SI lies outside the stated tolerance of the stated value."""
    value, allowed = wanted["value"], wanted["tolerance"]
    factor, _ = _conversion(wanted["unit"])
    return not _near(found, to_si(value, wanted["unit"]), value, allowed, factor)


def _near(found: Any, si: Any, printed: Any, allowed: Mapping[str, Any], factor: float) -> bool:
    if isinstance(si, list):
        return len(found) == len(si) and all(
            _near(f, s, p, allowed, factor) for f, s, p in zip(found, si, printed, strict=True)
        )
    if isinstance(si, bool | str):
        return bool(found == si)
    room = allowed.get("abs", 0.0) + allowed.get("rel", 0.0) * abs(printed)
    return abs(found - si) <= room * abs(factor)

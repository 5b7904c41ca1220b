"""How a number is written for a reader: sensible digits, thin spaces between thousands, a true minus sign."""

from collections.abc import Mapping
from typing import Any

from calc.refusal import Refused
from calc.units import UNITS, unit

_THIN = "\u202f"  # narrow no-break space
_SUPERSCRIPT = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")


# Decimals beyond which a digit says nothing on a car, by unit.
_PLACES = {
    "mm": 2,
    "in": 3,
    "m": 4,
    "kg": 1,
    "lb": 1,
    "N": 1,
    "lbf": 1,
    "kgf": 1,
    "bar": 2,
    "psi": 1,
    "%": 2,
    "g": 3,
    "°": 3,
    "°C": 1,
    "°F": 1,
}


def number(value: float, figures: int = 4, *, places: int = 15, trim: bool = True) -> str:
    """Return ``value`` with ``figures`` significant digits, at most ``places`` decimals; digits before the point are never dropped.

    ``trim`` drops closing zeros: right for a number a reader typed, wrong for an answer, whose zeros say how far it goes.

    >>> print(number(1.61803), number(-0.5), number(2.5e-13))
    1.618 −0.5 2.5 × 10⁻¹³
    """
    if value == 0:
        return "0"
    mantissa, _, exponent = f"{value:.{figures - 1}e}".partition("e")
    power = int(exponent)
    if power < -5 or power > 11:
        return f"{_trim(mantissa)} × 10{str(power).translate(_SUPERSCRIPT)}".replace("-", "−")
    text = f"{value:,.{max(0, min(places, figures - 1 - power))}f}".replace(",", _THIN)
    text = _trim(text) if trim else text
    return text.lstrip("-") if not text.strip("-0.") else text.replace("-", "−")


def plain(value: float) -> str:
    """Return a number as one types it: a plain point and minus, up to twelve digits that matter.

    >>> plain(0.1 + 0.2), plain(26000.0), plain(-1.5e-13)
    ('0.3', '26000', '-1.5e-13')
    """
    text = f"{value:.12g}"
    return text if "e" not in text or abs(value) < 1e-4 else f"{value:.0f}"


def quantity(value: float, shown: str, figures: int = 4) -> str:
    """Return the SI ``value`` written in the unit ``shown``.

    >>> quantity(0.1, "mm")
    '100\xa0mm'
    """
    return with_unit(number(unit(shown).from_si(value), figures), shown)


def with_unit(text: str, shown: str) -> str:
    """Return a written number with its unit: degrees close up, all else after a no-break space."""
    return text if not shown else f"{text}°" if shown == "°" else f"{text}\u00a0{UNITS[shown].symbol}"


class Shown:
    """The reader's units: ``Shown({"N/mm": "lbf/in"})`` shows in lbf/in what is usually shown in N/mm."""

    def __init__(self, chosen: Mapping[str, str] | None = None) -> None:
        self._chosen = dict(chosen or {})
        for usual, wanted in self._chosen.items():
            if unit(usual).dimension != unit(wanted).dimension:
                raise Refused("units", f"must measure {unit(usual).dimension}, as {usual} does", wanted)

    def unit(self, usual: str) -> str:
        """Return the unit shown where ``usual`` is the usual one."""
        return self._chosen.get(usual, usual)

    def number(self, value: float, usual: str) -> float:
        """Return an SI value in the unit shown."""
        return unit(self.unit(usual)).from_si(value)

    def value(self, value: Any, usual: str, figures: int = 4, *, trim: bool = True) -> tuple[str, str]:
        """Return a value as text, and its unit."""
        if value is None:
            return "none", ""
        if isinstance(value, tuple):
            return "; ".join(self.value(each, usual, figures, trim=trim)[0] for each in value), self.unit(usual)
        if isinstance(value, str):
            return value, ""
        wanted = self.unit(usual)
        if isinstance(value, int) and wanted == usual:
            return number(value, 15), wanted
        return number(self.number(float(value), usual), figures, places=_PLACES.get(wanted, 15), trim=trim), wanted

    def text(self, value: float, usual: str, figures: int = 4) -> str:
        """Return a value with its unit in one text."""
        return quantity(value, self.unit(usual), figures)

    def span(self, low: float, high: float, usual: str) -> str:
        """Return a range, such as ``2000 to 3200 mm``."""
        return f"{self.value(low, usual, 3)[0]} to {self.text(high, usual, 3)}"


def _trim(text: str) -> str:
    return text.rstrip("0").rstrip(".") if "." in text else text

"""What every brake calculator says besides its answer: the caution that work on brakes deserves, and likely slips of units."""

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from calc.form import Remark, Remarks
from calc.units import STANDARD_GRAVITY

CAUTION = Remark(
    "Work on brakes can kill. Have it inspected by someone qualified, test it at walking pace in a safe place before any speed, "
    "and follow local codes and the scrutineer: this book computes, it does not approve.",
    "caution",
)

LOWEST_LIKELY_PRESSURE = 1e3  # Pa: a smaller one in a brake is a number of bar without its unit
HIGH_PRESSURE = 20e6  # Pa, above which a road-based brake line is worth a second look (common practice, no source)
HOT_AMBIENT = 333.15  # K, 60 degC: a hotter "ambient" is most likely a kelvin value given as degrees Celsius
COLD_AMBIENT = 220.0  # K: a colder one is most likely degrees Celsius given without a unit
SLIPPERY_SHARE = 0.01  # a smaller share is most likely a fraction typed where percent is shown
HIGH_PAD_FRICTION = 0.8
HIGH_ADHESION = 2.2


def with_care(own: Remarks | None = None) -> Remarks:
    """Return remarks that end with the likely slips and with the caution."""

    def remarks(result: Any, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
        return (*(own(result, inputs) if own else ()), *slips(inputs), CAUTION)

    return remarks


def slips(inputs: Mapping[str, Any]) -> Iterator[Remark]:
    """Yield a caution for each input that looks like a slip of units; an input is known by the end of its name."""
    for name, value in inputs.items():
        for ending, says in _SLIPS.items():
            if name.endswith(ending) and "_per_" not in name and isinstance(value, float) and (text := says(value)):
                yield Remark(text, "caution", name)


def _pressure(value: float) -> str:
    if 0 < value < LOWEST_LIKELY_PRESSURE:
        return f"A pressure of {value:g} Pa is next to nothing: were {value:g} bar meant? Write the unit."
    if value > HIGH_PRESSURE:
        return "A line pressure above 200 bar is beyond what hoses and seals of this kind usually see."
    return ""


def _ambient(value: float) -> str:
    if value > HOT_AMBIENT:
        return f"Air at {value - 273.15:.0f} °C: was a number in kelvin given as degrees Celsius?"
    if value < COLD_AMBIENT:
        return f"Air at {value - 273.15:.0f} °C: were degrees Celsius given without a unit? A bare number is kelvin."
    return ""


def _share(value: float) -> str:
    if 0 < value < SLIPPERY_SHARE:
        return f"A share of {100 * value:g} % is very small: was a fraction ({100 * value:g}) typed where percent is shown?"
    return ""


def _friction(value: float) -> str:
    return "Friction of a pad or lining above 0.8 is rare: check the figure." if value > HIGH_PAD_FRICTION else ""


def _adhesion(value: float) -> str:
    return "Tyre grip above 2.2 is rare, even on slicks: check the figure." if value > HIGH_ADHESION else ""


def _deceleration(value: float) -> str:
    if 0 < value < 0.03 * STANDARD_GRAVITY:
        return "This deceleration is hardly braking: was it given in g where m/s² is read? Write the unit."
    return ""


_SLIPS: dict[str, Callable[[float], str]] = {
    "pressure": _pressure,
    "ambient": _ambient,
    "share": _share,
    "friction": _friction,
    "adhesion": _adhesion,
    "deceleration": _deceleration,
}

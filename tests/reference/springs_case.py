"""What a reference case is, and the shape of the adapters that put its inputs to ``calc``.

``ADAPTERS`` holds one function for each topic: given the inputs of a case it returns values by the names of ``expected``, in the
units stated there (`Given.si` reads an input in SI; `in_unit` turns an answer from SI into the stated unit). Names beyond those
expected are ignored.

``BAD`` holds, for each case of bad input (``topic:first input``), the name of the input the refusal must name (a part of it is
enough; empty where a flag in the answer is promised) and a call without arguments that asks for it.
"""

from collections.abc import Callable, Mapping
from typing import Any

from calc.units import unit

Adapter = Callable[["Given"], Mapping[str, Any]]
Bad = tuple[str, Callable[[], Any]]


class Given:
    """The inputs of a case: ``given["wheelbase"]`` as stated, ``given.si("wheelbase")`` in SI."""

    def __init__(self, inputs: Mapping[str, Mapping[str, Any]]) -> None:
        self._inputs = inputs

    def __contains__(self, name: str) -> bool:
        return name in self._inputs

    def __getitem__(self, name: str) -> Any:
        return self._inputs[name]["value"]

    def unit(self, name: str) -> str:
        """Return the unit text as the case states it."""
        return str(self._inputs[name]["unit"])

    def si(self, name: str) -> Any:
        """Return a value, or a list of values, in SI; words after the unit (``N/m (FL FR RL RR)``) are dropped."""
        value = self[name]
        written = self.unit(name).split(" (")[0]
        if isinstance(value, list):
            return [to_si(each, written) for each in value]
        return to_si(value, written)


def to_si(value: float, written: str) -> float:
    """Return ``value`` of the unit ``written`` in SI."""
    return unit(written).to_si(value)


def in_unit(value: float, written: str) -> float:
    """Return the SI ``value`` in the unit ``written``."""
    return unit(written).from_si(value)

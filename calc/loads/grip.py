"""How the friction of a tyre falls with load: a straight line, a power, or points of a table."""

import math
from bisect import bisect_right
from collections.abc import Sequence
from itertools import pairwise
from typing import Annotated, Literal, NamedTuple, Protocol

from calc.display import quantity
from calc.form import Choice, Input
from calc.loads.terms import LoadSensitivity
from calc.refusal import Refused
from calc.units import Newtons, PerNewton, Ratio


class Friction(Protocol):
    """From the load on a tyre to its friction coefficient."""

    def __call__(self, load: float) -> float:
        """Return the friction coefficient at a load."""


Form = Annotated[
    Literal["linear", "power"],
    Choice("Friction falls with load as", {"linear": "a straight line", "power": "a power of the load"}),
]


def friction_input(where: str = "", symbol: str = r"\mu_F") -> Input:
    """Return the input for the friction coefficient at the reference load."""
    return Input(f"Friction coefficient{where} at the reference load", symbol, "", above=0, typical=(0.6, 2.0))


ReferenceLoad = Annotated[
    Newtons,
    Input(
        "Reference load of one tyre",
        "F_0",
        "N",
        above=0,
        typical=(1500, 5000),
        help="The load at which the friction coefficient is known.",
    ),
]
Exponent = Annotated[
    Ratio,
    Input(
        "Exponent of the power form",
        "n",
        "",
        above=0,
        at_most=1,
        typical=(0.7, 0.98),
        help="Side force grows as load to this power.",
    ),
]
Sensitivity = LoadSensitivity


class Point(NamedTuple):
    """A measured point: load on one tyre and its friction coefficient."""

    load: Annotated[Newtons, Input("Load on one tyre", "F_i", "N", above=0)]
    friction: Annotated[Ratio, Input("Friction coefficient", r"\mu_i", "", above=0, at_most=5)]


class Linear(NamedTuple):
    """mu = mu_0 - s F."""

    at_zero: float
    fall: float

    def __call__(self, load: float) -> float:
        """Return the friction coefficient; never below zero."""
        return max(0.0, self.at_zero - self.fall * load)

    @property
    def peak(self) -> float:
        """The load beyond which more load gives less side force: mu_0/(2 s)."""
        return self.at_zero / (2 * self.fall) if self.fall > 0 else math.inf


class Power(NamedTuple):
    """mu = mu_F (F/F_0)^(n - 1), so that the side force grows as F^n."""

    reference: float
    load: float
    exponent: float

    def __call__(self, load: float) -> float:
        """Return the friction coefficient; at no load there is none to speak of, and no force."""
        return float(self.reference * (load / self.load) ** (self.exponent - 1)) if load > 0 else self.reference

    @property
    def peak(self) -> float:
        """A power of the load never peaks."""
        return math.inf


class Table(NamedTuple):
    """Points of load and friction, with straight lines between them."""

    loads: tuple[float, ...]
    frictions: tuple[float, ...]
    name: str

    def __call__(self, load: float) -> float:
        """Return the friction coefficient between two points; outside them is refused."""
        if not self.loads[0] <= load <= self.loads[-1]:
            span = f"{quantity(self.loads[0], 'N')} to {quantity(self.loads[-1], 'N')}"
            raise Refused(
                self.name,
                f"must cover the load of every tyre; it holds {span}",
                quantity(load, "N"),
                hint="Nothing is guessed outside the table.",
            )
        after = min(max(bisect_right(self.loads, load), 1), len(self.loads) - 1)
        low, high = self.loads[after - 1], self.loads[after]
        part = (load - low) / (high - low)
        return self.frictions[after - 1] * (1 - part) + self.frictions[after] * part


def table(rows: Sequence[Point], name: str) -> Table:
    """Return a table; at least two rows, loads rising."""
    if len(rows) < 2:
        raise Refused(name, "must have at least two rows", f"{len(rows)} row")
    for number, (before, row) in enumerate(pairwise(rows), start=2):
        if row.load <= before.load:
            raise Refused(
                f"{name}[{number}].load",
                f"must exceed the load of the row above, {quantity(before.load, 'N')}",
                quantity(row.load, "N"),
            )
    return Table(tuple(row.load for row in rows), tuple(row.friction for row in rows), name)


def pair_force(friction: Friction, load: float, transfer: float) -> float:
    """Return the side force of two tyres that each carried ``load`` before ``transfer`` went from one to the other.

    Equation: F_y = mu(F + dF)(F + dF) + mu(F - dF)(F - dF). Beyond dF = F the inside tyre is off the ground.

    >>> round(pair_force(Linear(1.2, 0.0001), 3000, 1000), 6) == round(2 * 3000 * (1.2 - 0.3) - 2 * 0.0001 * 1000**2, 6)
    True
    """
    moved = min(transfer, load)
    outside, inside = load + moved, load - moved
    return friction(outside) * outside + (friction(inside) * inside if inside > 0 else 0.0)


def of_form(
    form: str, at_reference: float, reference: float, sensitivity: PerNewton, exponent: float
) -> Linear | Power:
    """Return the friction of one form that has the given coefficient at the reference load."""
    if form == "power":
        return Power(at_reference, reference, exponent)
    return Linear(at_reference + sensitivity * reference, sensitivity)

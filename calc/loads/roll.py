"""A car in roll: the roll of both axles, the load that moves across each, and what is left when a wheel has lifted."""

import math
from typing import NamedTuple

from calc.display import quantity
from calc.refusal import Refused
from calc.units import STANDARD_GRAVITY


class RollAxle(NamedTuple):
    """One axle in roll: what it carries and how it resists. ``arm`` is the sprung centre of gravity above its roll centre."""

    track: float
    stiffness: float
    sprung: float
    arm: float
    centre: float
    unsprung: float
    unsprung_height: float

    @property
    def half_load(self) -> float:
        """The most that can move before the inside wheel lifts: half of the axle load."""
        return (self.sprung + self.unsprung) * STANDARD_GRAVITY / 2

    def unsprung_part(self, lateral: float) -> float:
        """Return the load moved by the unsprung mass."""
        return lateral * self.unsprung * self.unsprung_height / self.track

    def geometric_part(self, lateral: float) -> float:
        """Return the load moved through the links, at the height of the roll centre."""
        return lateral * self.sprung * self.centre / self.track


class Rolled(NamedTuple):
    """Roll of each axle, the elastic load transfer of each, and which of them has an inside wheel off the ground."""

    rolls: tuple[float, float] | None
    elastic: tuple[float, float]
    lifted: tuple[bool, bool]

    def totals(self, axles: tuple[RollAxle, RollAxle], lateral: float) -> tuple[float, float]:
        """Return all three parts together."""
        front, rear = (
            math.fsum((axle.unsprung_part(lateral), axle.geometric_part(lateral), part))
            for axle, part in zip(axles, self.elastic, strict=True)
        )
        return front, rear


def roll(
    axles: tuple[RollAxle, RollAxle],
    chassis: float | None,
    lateral: float,
    *,
    gravity: bool,
    blame: str = "front_roll_stiffness",
) -> Rolled:
    """Return how the car rolls at a lateral acceleration; axles whose inside wheel has lifted carry no more.

    Equation: [[K_f + K_c - G_f, -K_c], [-K_c, K_r + K_c - G_r]] phi = M, M_i = m_si a_y d_i, G_i = m_si g d_i or nothing without the
    gravity term; a rigid chassis has one phi. After a lift the elastic moment of that axle stays what it was then. ``blame`` names the
    input that is refused when the springs cannot hold the car up at rest.
    """
    tilt = [axle.sprung * STANDARD_GRAVITY * axle.arm if gravity else 0.0 for axle in axles]
    lifted = (False, False)
    while True:
        found = _solve(axles, chassis, lateral, tilt, lifted)
        if found is None and not any(lifted):
            rule = f"with the rear must exceed m_s g d, {quantity(math.fsum(tilt), 'N·m/deg')}, or the car falls over at rest"
            raise Refused(blame, rule, quantity(axles[0].stiffness + axles[1].stiffness, "N·m/deg"))
        over = lifted if found is None else _over(found, axles, lateral)
        if found is not None and over == lifted:
            return found
        if found is None or all(over):
            return Rolled(None, (_left_over(axles[0], lateral), _left_over(axles[1], lateral)), (True, True))
        lifted = over


def _over(found: Rolled, axles: tuple[RollAxle, RollAxle], lateral: float) -> tuple[bool, bool]:
    """Return which axles have lifted before or move more than half of their load now."""
    totals = found.totals(axles, lateral)
    front, rear = (up or total > axle.half_load for up, total, axle in zip(found.lifted, totals, axles, strict=True))
    return front, rear


def _left_over(axle: RollAxle, lateral: float) -> float:
    """Return the elastic transfer at which the inside wheel of an axle leaves the ground."""
    return axle.half_load - axle.unsprung_part(lateral) - axle.geometric_part(lateral)


def _solve(
    axles: tuple[RollAxle, RollAxle],
    chassis: float | None,
    lateral: float,
    tilt: list[float],
    lifted: tuple[bool, bool],
) -> Rolled | None:
    held = [_left_over(axle, lateral) * axle.track if up else 0.0 for axle, up in zip(axles, lifted, strict=True)]
    stiff = [0.0 if up else axle.stiffness for axle, up in zip(axles, lifted, strict=True)]
    moments = [axle.sprung * lateral * axle.arm - kept for axle, kept in zip(axles, held, strict=True)]
    rolls = _rolls([k - g for k, g in zip(stiff, tilt, strict=True)], moments, chassis)
    if rolls is None:
        return None
    front, rear = ((k * phi + kept) / axle.track for k, phi, kept, axle in zip(stiff, rolls, held, axles, strict=True))
    return Rolled(rolls, (front, rear), lifted)


def _rolls(net: list[float], moments: list[float], chassis: float | None) -> tuple[float, float] | None:
    """Return the roll of each axle, or none where the stiffness that is left cannot hold the car up."""
    if chassis is None:
        total = math.fsum(net)
        return (math.fsum(moments) / total, math.fsum(moments) / total) if total > 0 else None
    front, rear = net[0] + chassis, net[1] + chassis
    # front rear - K_c^2, written so that a very stiff chassis loses no digits
    spread = net[0] * net[1] + chassis * (net[0] + net[1])
    if not (front > 0 and rear > 0 and spread > 0):
        return None
    return (
        (rear * moments[0] + chassis * moments[1]) / spread,
        (front * moments[1] + chassis * moments[0]) / spread,
    )

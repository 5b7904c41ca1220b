"""One corner's brake as four bodies (disc, pads, caliper, fluid), stepped through braking and rolling."""

import math
from typing import NamedTuple

from calc.brakes.heat.terms import RADIATION, STILL_AIR

_PART = 0.5  # of the shortest time constant, the widest step
_HOT = 1200.0  # K, where the time constant of radiation is taken


class Corner(NamedTuple):
    """Heat capacities in J/K, conductances in W/K, cooling of the disc, and how the friction heat is split."""

    disc: float
    pads: float
    caliper: float
    fluid: float
    disc_share: float
    area: float
    emissivity: float
    h_still: float
    h_per_speed: float
    pad_to_air: float
    pad_to_caliper: float
    caliper_to_air: float
    caliper_to_fluid: float
    disc_to_pad: float
    ambient: float

    def cooled(self, factor: float) -> "Corner":
        """Return the corner with its convection multiplied."""
        return self._replace(
            h_still=self.h_still * factor,
            h_per_speed=self.h_per_speed * factor,
            pad_to_air=self.pad_to_air * factor,
            caliper_to_air=self.caliper_to_air * factor,
        )

    def parked(self, still: float) -> "Corner":
        """Return the corner at a standstill: natural convection of the disc, and ``still`` of the air cooling of the rest."""
        return self._replace(
            h_still=STILL_AIR,
            h_per_speed=0.0,
            pad_to_air=self.pad_to_air * still,
            caliper_to_air=self.caliper_to_air * still,
        )

    def rates(self, speed: float) -> dict[str, float]:
        """Return the inverse time constant of each body at a speed."""
        h = max(STILL_AIR, self.h_still + self.h_per_speed * speed) + 4 * self.emissivity * RADIATION * _HOT**3
        return {
            "disc": (self.area * h + self.disc_to_pad) / self.disc,
            "pad": (self.pad_to_air + self.pad_to_caliper + self.disc_to_pad) / self.pads,
            "caliper": (self.pad_to_caliper + self.caliper_to_air + self.caliper_to_fluid) / self.caliper,
            "fluid": self.caliper_to_fluid / self.fluid,
        }

    def widest_step(self, speed: float) -> float:
        """Return the widest step that resolves every body at a speed."""
        return _PART / max(self.rates(speed).values())

    def fastest(self) -> str:
        """Return the body with the shortest time constant."""
        rates = self.rates(0.0)
        return max(rates, key=lambda name: rates[name])

    def stored(self, before: "State", after: "State") -> float:
        """Return the heat that went into the bodies between two states, J."""
        return math.fsum(
            (
                self.disc * (after.disc - before.disc),
                self.pads * (after.pads - before.pads),
                self.caliper * (after.caliper - before.caliper),
                self.fluid * (after.fluid - before.fluid),
            )
        )


class State(NamedTuple):
    """Temperatures in kelvin, and the heat given to the air so far in J."""

    disc: float
    pads: float
    caliper: float
    fluid: float
    lost: float = 0.0


class Phase(NamedTuple):
    """A stretch of time: speed falls in a straight line, friction heat is (force + quadratic v^2) v."""

    duration: float
    speed: float
    slowing: float = 0.0
    force: float = 0.0
    quadratic: float = 0.0


class Highest(NamedTuple):
    """Highest temperatures inside a phase."""

    disc: float
    pads: float
    caliper: float
    fluid: float


Slope = tuple[float, float, float, float, float]


def slope(c: Corner, disc: float, pads: float, caliper: float, fluid: float, speed: float, heat: float) -> Slope:
    """Return the rates of the four temperatures and of the heat given to the air."""
    h = c.h_still + c.h_per_speed * speed
    if h < STILL_AIR:
        h = STILL_AIR
    squares = disc * disc, c.ambient * c.ambient
    air = c.area * (
        h * (disc - c.ambient) + c.emissivity * RADIATION * (squares[0] * squares[0] - squares[1] * squares[1])
    )
    through = c.disc_to_pad * (disc - pads)
    pad_air, back = c.pad_to_air * (pads - c.ambient), c.pad_to_caliper * (pads - caliper)
    caliper_air, wet = c.caliper_to_air * (caliper - c.ambient), c.caliper_to_fluid * (caliper - fluid)
    return (
        (c.disc_share * heat - air - through) / c.disc,
        ((1 - c.disc_share) * heat + through - pad_air - back) / c.pads,
        (back - caliper_air - wet) / c.caliper,
        wet / c.fluid,
        air + pad_air + caliper_air,
    )


def advance(c: Corner, state: State, phase: Phase, halvings: int = 0) -> tuple[State, Highest]:
    """Return the state after a phase, and the highest temperatures in it, by Runge and Kutta's fourth-order steps."""
    if phase.duration <= 0:
        return state, Highest(*state[:4])
    steps = max(1, math.ceil(phase.duration / c.widest_step(phase.speed))) << halvings
    width = phase.duration / steps
    td, tp, tc, tf, lost = state
    tops = [td, tp, tc, tf]
    v = phase.speed
    k1 = slope(c, td, tp, tc, tf, v, (phase.force + phase.quadratic * v * v) * v)
    for n in range(steps):
        middle, end = phase.speed - phase.slowing * (n + 0.5) * width, phase.speed - phase.slowing * (n + 1) * width
        q_middle, q_end = (
            (phase.force + phase.quadratic * middle * middle) * middle,
            (phase.force + phase.quadratic * end * end) * end,
        )
        half = width / 2
        a, b, d, e, _ = k1
        k2 = slope(c, td + half * a, tp + half * b, tc + half * d, tf + half * e, middle, q_middle)
        a, b, d, e, _ = k2
        k3 = slope(c, td + half * a, tp + half * b, tc + half * d, tf + half * e, middle, q_middle)
        a, b, d, e, _ = k3
        k4 = slope(c, td + width * a, tp + width * b, tc + width * d, tf + width * e, end, q_end)
        before, first = td, k1[0]
        sixth = width / 6
        td += sixth * (k1[0] + 2 * (k2[0] + k3[0]) + k4[0])
        tp += sixth * (k1[1] + 2 * (k2[1] + k3[1]) + k4[1])
        tc += sixth * (k1[2] + 2 * (k2[2] + k3[2]) + k4[2])
        tf += sixth * (k1[3] + 2 * (k2[3] + k3[3]) + k4[3])
        lost += sixth * (k1[4] + 2 * (k2[4] + k3[4]) + k4[4])
        k1 = slope(c, td, tp, tc, tf, end, q_end)
        if first > 0 > k1[0]:
            tops[0] = max(tops[0], _crest(before, td, first * width, k1[0] * width))
        if td > tops[0]:
            tops[0] = td
        if tp > tops[1]:
            tops[1] = tp
        if tc > tops[2]:
            tops[2] = tc
        if tf > tops[3]:
            tops[3] = tf
    return State(td, tp, tc, tf, lost), Highest(*tops)


def _crest(y0: float, y1: float, m0: float, m1: float) -> float:
    """Return the top of the cubic through two ends with a rising and a falling slope (both times the width)."""
    c, d = 3 * (y1 - y0) - 2 * m0 - m1, m0 + m1 - 2 * (y1 - y0)
    if abs(d) < 1e-12:
        s = -m0 / (2 * c)
    else:
        root = math.sqrt(max(0.0, c * c - 3 * d * m0))
        s = next(
            (x for x in ((-c - root) / (3 * d), (-c + root) / (3 * d)) if 0 <= x <= 1 and 2 * c + 6 * d * x <= 0), 1.0
        )
    return y0 + s * (m0 + s * (c + s * d))

"""The quarter car: body on spring and damper, wheel on its tyre. Plain mechanics; the calculators stand beside it.

Heights z are measured upwards from rest: body s, wheel u, road r. Contact load falls by k_t (z_u - z_r).
"""

import math
from collections.abc import Callable, Mapping, Sequence
from typing import NamedTuple

from calc.numeric.exponential import step_matrices, times
from calc.numeric.modes import Mode, modes
from calc.units import STANDARD_GRAVITY


class Transfer(NamedTuple):
    """What one metre of road at one frequency does: body, wheel, suspension travel (m), and tyre force (N)."""

    body: complex
    wheel: complex
    travel: complex
    tyre: complex


class Phase(NamedTuple):
    """A stretch of time walked in equal steps."""

    step: float
    steps: int


class Moment(NamedTuple):
    """The quarter car at one time."""

    time: float
    body: float
    wheel: float
    road: float
    acceleration: float
    contact: float


class Quarter(NamedTuple):
    """One corner: sprung and unsprung mass, wheel rate k, tyre rate kt, damping c at the wheel."""

    ms: float
    mu: float
    k: float
    kt: float
    c: float

    @property
    def weight(self) -> float:
        """The contact load at rest, N."""
        return (self.ms + self.mu) * STANDARD_GRAVITY

    def state(self) -> list[list[float]]:
        """Return A of x' = A x + B z_r, with x = (z_s, z_s', z_u, z_u') and B = (0, 0, 0, k_t / m_u)."""
        ms, mu, k, kt, c = self
        return [
            [0.0, 1.0, 0.0, 0.0],
            [-k / ms, -c / ms, k / ms, c / ms],
            [0.0, 0.0, 0.0, 1.0],
            [k / mu, c / mu, -(k + kt) / mu, -c / mu],
        ]

    def modes(self) -> tuple[Mode, ...]:
        """Return the damped modes of body and wheel, the body's first."""
        return modes(self.state())

    def undamped(self) -> tuple[float, float]:
        """Return the two undamped natural angular frequencies, the body's first."""
        ms, mu, k, kt, _ = self
        half = (k / ms + (k + kt) / mu) / 2
        product = k / ms * kt / mu
        high = half + math.sqrt(max(0.0, half**2 - product))
        return math.sqrt(product / high), math.sqrt(high)

    def transfer(self, frequency: float) -> Transfer:
        """Return what a road of one metre amplitude does at a frequency in Hz."""
        ms, mu, k, kt, c = self
        s = 2j * math.pi * frequency
        link = k + c * s
        top, ground = ms * s * s + link, mu * s * s + kt
        # top (ground + link) - link^2, without the difference of near equals
        wheel = kt * top / (ms * s * s * ground + link * (ms * s * s + ground))
        body = wheel * link / top
        # body - wheel written without a difference of near equals
        return Transfer(body, wheel, -wheel * ms * s * s / top, kt * (1 - wheel))

    def over(self, road: Callable[[float], float], phases: Sequence[Phase], sudden: float = 0.0) -> list[Moment]:
        """Return the motion over a road height given in time, straight between the steps, exact for that road.

        ``sudden`` is a step of the road at time 0, over no length at all.
        """
        wide = [[*row, 0.0] for row in self.state()]
        wide[3][4] = self.kt / self.mu
        time, height = 0.0, road(0.0)
        x = [0.0, 0.0, 0.0, 0.0, sudden + height]
        found = [self._moment(time, x)]
        for step, steps in phases:
            walk, push = step_matrices([*wide, [0.0] * 5], [[0.0]] * 4 + [[1.0]], step)
            start = time
            for n in range(1, steps + 1):
                time = start + n * step
                before, height = height, road(time)
                slope = (height - before) / step
                x = [a + b[0] * slope for a, b in zip(times(walk, x), push, strict=True)]
                found.append(self._moment(time, x))
        return found

    def _moment(self, time: float, x: Sequence[float]) -> Moment:
        body, body_speed, wheel, wheel_speed, road = x
        pull = self.k * (body - wheel) + self.c * (body_speed - wheel_speed)
        return Moment(time, body, wheel, road, -pull / self.ms, self.weight - self.kt * (wheel - road))


def corner_of(inputs: Mapping[str, float]) -> Quarter:
    """Return the quarter car of the inputs that all its calculators share."""
    names = ("sprung_mass", "unsprung_mass", "wheel_rate", "tyre_rate", "damping")
    return Quarter(*(inputs[name] for name in names))

"""The shape of a damper's curve: an exponent, and two straight lines that meet at a knee."""

import math
from collections.abc import Sequence
from operator import mul
from typing import Literal, NamedTuple

from calc.numeric.least_squares import line

Bend = Literal["digressive", "linear", "progressive"]
_LINEAR = 0.1  # an exponent this close to 1 counts as linear
_KNEES = 24  # places tried, and again around the best


class PowerLaw(NamedTuple):
    """F = factor v^exponent."""

    factor: float
    exponent: float

    @property
    def bend(self) -> Bend:
        """Whether the force rises slower than, as fast as, or faster than the speed."""
        if abs(self.exponent - 1) <= _LINEAR:
            return "linear"
        return "digressive" if self.exponent < 1 else "progressive"


class TwoSlopes(NamedTuple):
    """F = first v up to the knee, and first knee + second (v - knee) beyond it. Speeds at the damper, m/s."""

    first: float
    knee: float
    second: float

    def force(self, speed: float) -> float:
        """Return the force at a speed.

        >>> TwoSlopes(6000.0, 0.05, 1500.0).force(0.15)
        450.0
        """
        return self.first * min(speed, self.knee) + self.second * max(0.0, speed - self.knee)

    def energy(self, top_speed: float, amplitude: float) -> float:
        """Return the energy of one cycle of sinusoidal stroke, J.

        It is 4 X times the integral of F(V cos a) cos a over a quarter turn, in closed form on both sides of the knee.

        >>> round(TwoSlopes(1800.0, 1.0, 1800.0).energy(2 * math.pi * 2 * 0.02, 0.02), 6)
        28.424461
        """
        V, excess = top_speed, self.first - self.second
        if self.knee >= V:
            return math.pi * self.first * V * amplitude
        turn = math.acos(self.knee / V)
        capped = self.knee * math.sin(turn) + V * (math.pi / 2 - turn - math.sin(turn) * math.cos(turn)) / 2
        return 4 * amplitude * (self.second * V * math.pi / 4 + excess * capped)


def power_law(speeds: Sequence[float], forces: Sequence[float]) -> PowerLaw | None:
    """Return the power law through a curve by least squares of logarithms, or none where fewer than two points have a force.

    >>> law = power_law([0.05, 0.1, 0.2], [100.0, 200.0, 400.0])
    >>> round(law.exponent, 9), law.bend
    (1.0, 'linear')
    """
    pairs = [(math.log(v), math.log(F)) for v, F in zip(speeds, forces, strict=True) if v > 0 and F > 0]
    if len({v for v, _ in pairs}) < 2:
        return None
    fit = line([v for v, _ in pairs], [F for _, F in pairs])
    return PowerLaw(math.exp(fit.intercept), fit.slope)


def two_slopes(speeds: Sequence[float], forces: Sequence[float]) -> TwoSlopes | None:
    """Return the two straight lines of least squares from zero, or none from fewer than three points.

    >>> speeds = [0.025, 0.05, 0.1, 0.2, 0.3]
    >>> fit = two_slopes(speeds, [TwoSlopes(6000.0, 0.05, 1500.0).force(v) for v in speeds])
    >>> round(fit.first), round(fit.knee, 4), round(fit.second)
    (6000, 0.05, 1500)
    """
    moving = sorted({v for v in speeds if v > 0})
    if len(moving) < 3:
        return None
    low, high = moving[0], moving[-2]
    step = (high - low) / _KNEES
    tried = [low + step * i for i in range(_KNEES + 1)] + moving[:_KNEES][:-1]
    best = _best(speeds, forces, tried)
    near = [best.knee + step * (i / _KNEES * 2 - 1) for i in range(_KNEES + 1)]
    return _best(speeds, forces, [best.knee, *(knee for knee in near if low <= knee <= high)])


def _best(speeds: Sequence[float], forces: Sequence[float], knees: Sequence[float]) -> TwoSlopes:
    return min((_with_knee(speeds, forces, knee) for knee in knees), key=lambda pair: pair[0])[1]


def _with_knee(speeds: Sequence[float], forces: Sequence[float], knee: float) -> tuple[float, TwoSlopes]:
    """Return the sum of squares left, and the two slopes of least squares for this knee."""
    below, above = [min(v, knee) for v in speeds], [max(0.0, v - knee) for v in speeds]
    aa, ab, bb = _dot(below, below), _dot(below, above), _dot(above, above)
    fa, fb = _dot(below, forces), _dot(above, forces)
    size = aa * bb - ab * ab
    first, second = ((fa * bb - fb * ab) / size, (fb * aa - fa * ab) / size) if size > 0 else (fa / aa, 0.0)
    if second < 0:
        first, second = fa / aa, 0.0
    found = TwoSlopes(first, knee, second)
    return sum((found.force(v) - F) ** 2 for v, F in zip(speeds, forces, strict=True)), found


def _dot(a: Sequence[float], b: Sequence[float]) -> float:
    total: float = sum(map(mul, a, b))
    return total

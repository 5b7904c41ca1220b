"""The quarter car on a random road: closed forms for white vertical speed, and integrals over a band."""

import math
from itertools import pairwise
from typing import NamedTuple

from calc.numeric.integrate import nodes
from calc.springs.road.comfort import weighting
from calc.springs.road.quarter import Quarter

BAND = (0.1, 50.0)  # Hz
_DECADES = 5  # pieces of five points in each factor of ten, away from the modes
_NEAR = tuple(2.0**-n for n in range(1, 10))  # distances from a mode, as shares of it, where pieces meet


class Noise(NamedTuple):
    """RMS values: body acceleration (m/s2), suspension travel (m), tyre load (N); and the weighted acceleration, where it was asked."""

    acceleration: float
    travel: float
    tyre: float
    weighted: float | None = None


def closed_form(car: Quarter, density: float) -> Noise:
    """Return the RMS values on a road of white vertical speed, one-sided density per Hz, over an infinite band.

    >>> noise = closed_form(Quarter(250, 35, 25e3, 200e3, 1500), 4 * math.pi**2 * 256e-6 * 0.01 * 20)
    >>> round(noise.acceleration, 4), round(noise.travel * 1000, 4), round(noise.tyre, 2)
    (1.84, 9.7986, 782.45)
    """
    ms, mu, k, kt, c = car
    M, half = ms + mu, density / 4  # q / 2 with q = S_v / 2
    acceleration = c * kt / ms**2 + k**2 * M / (c * ms**2)
    tyre = kt * c * M**2 / ms**2 + _contact(car) / c
    return Noise(math.sqrt(half * acceleration), math.sqrt(half * M / c), math.sqrt(half * tyre))


def _contact(car: Quarter) -> float:
    """Return the part of the tyre load that falls with damping; written as a sum of squares, so that it cannot cancel."""
    ms, mu, k, kt, _ = car
    M = ms + mu
    # M^3 k^2 / ms^2 - 2 kt k mu M / ms + kt^2 mu = mu (kt - k M / ms)^2 + k^2 M^2 (M - mu) / ms^2
    return mu * (kt - k * M / ms) ** 2 + k**2 * M**2 / ms


def comfort_damping(car: Quarter) -> float:
    """Return the damping of least body acceleration, k sqrt(M / k_t)."""
    return car.k * math.sqrt((car.ms + car.mu) / car.kt)


def contact_damping(car: Quarter) -> float:
    """Return the damping of least tyre load variation."""
    return math.sqrt(car.ms**2 * _contact(car) / (car.kt * (car.ms + car.mu) ** 2))


def within_band(car: Quarter, density: float, low: float = BAND[0], high: float = BAND[1]) -> Noise:
    """Return the RMS values within a band of frequencies, and the weighted acceleration, by numerical integration."""
    sums = [0.0, 0.0, 0.0, 0.0]
    for start, end in _pieces(car, low, high):
        for f, weight in nodes(start, end):
            omega = 2 * math.pi * f
            moved = car.transfer(f)
            part = weight * density / omega**2  # the road's height from its speed
            body = (omega**2 * abs(moved.body)) ** 2 * part
            sums[0] += body
            sums[1] += abs(moved.travel) ** 2 * part
            sums[2] += abs(moved.tyre) ** 2 * part
            sums[3] += body * weighting(f) ** 2
    acceleration, travel, tyre, weighted = (math.sqrt(total) for total in sums)
    return Noise(acceleration, travel, tyre, weighted)


def _pieces(car: Quarter, low: float, high: float) -> list[tuple[float, float]]:
    """Return the pieces of a band: even in powers of ten, and closing in on the modes of body, wheel and locked damper."""
    count = max(1, math.ceil(_DECADES * math.log10(high / low)))
    places = {low * (high / low) ** (i / count) for i in range(count + 1)}
    locked = math.sqrt(car.kt / (car.ms + car.mu))  # where a damper too strong to move lets the car bounce on its tyre
    for omega in (*car.undamped(), locked):
        f = omega / (2 * math.pi)
        places |= {f * (1 + side * near) for near in _NEAR for side in (-1, 1)}
    inside = sorted({low, high, *(f for f in places if low < f < high)})
    return list(pairwise(inside))

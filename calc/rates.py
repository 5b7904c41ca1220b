"""Rates in series and at the wheel, and the frequency of a mass on a rate: small functions that several rooms build on."""

import math


def in_series(first: float, second: float) -> float:
    """Return the rate of two springs in series, N/m.

    Equation: 1/k = 1/k_1 + 1/k_2.

    >>> round(in_series(25e3, 200e3))
    22222
    """
    return first / (1 + first / second)


def before_series(total: float, known: float) -> float:
    """Return the rate that gives ``total`` in series with ``known``; ``total`` must be the smaller.

    >>> round(before_series(in_series(25e3, 200e3), 200e3))
    25000
    """
    return total / (1 - total / known)


def natural_frequency(rate: float, mass: float) -> float:
    """Return the undamped natural frequency in Hz of a mass on a spring.

    Equation: f = sqrt(k / m) / (2 pi).

    >>> round(natural_frequency(65300, 900), 3)
    1.356
    """
    return math.sqrt(rate / mass) / (2 * math.pi)


def rate_for_frequency(frequency: float, mass: float) -> float:
    """Return the rate in N/m that gives a mass the natural frequency, in Hz.

    >>> round(rate_for_frequency(natural_frequency(65300, 900), 900))
    65300
    """
    return mass * (2 * math.pi * frequency) ** 2


def axle_roll_stiffness(wheel: float, bar: float, track: float, tyre: float | None = None) -> float:
    """Return the roll stiffness of an independent axle, N·m/rad.

    Equation: K = k_w t^2/2 + k_a t^2, in series with the tyres' k_t t^2/2 where they are given. The bar's rate is force at one wheel
    for each unit of difference between the two wheels' travel.

    >>> round(axle_roll_stiffness(28000, 9000, 1.46, 220000), 4)
    40548.4812
    """
    suspension = (wheel / 2 + bar) * track**2
    return suspension if tyre is None else in_series(suspension, tyre * track**2 / 2)

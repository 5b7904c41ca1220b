"""Damped modes: eigenvalues of a state matrix, two by two, as natural frequency and damping ratio."""

import math
from collections.abc import Sequence
from typing import NamedTuple

from calc.numeric.eigen import eigenvalues


class Mode(NamedTuple):
    """One mode: natural angular frequency in rad/s, and damping ratio; from 1 upwards it does not swing."""

    omega: float
    ratio: float

    @property
    def frequency(self) -> float:
        """The natural frequency in Hz."""
        return self.omega / (2 * math.pi)

    @property
    def damped(self) -> float | None:
        """The damped angular frequency in rad/s, or none where the mode does not swing."""
        return self.omega * math.sqrt(1 - self.ratio**2) if self.ratio < 1 else None


def modes(state: Sequence[Sequence[float]]) -> tuple[Mode, ...]:
    """Return the modes of x' = A x, slowest first. Real eigenvalues are taken in pairs, the slowest two together.

    >>> [(round(m.omega, 6), round(m.ratio, 6)) for m in modes([[0.0, 1.0], [-4.0, -2.0]])]
    [(2.0, 0.5)]
    """
    values = eigenvalues(state)
    pairs = [(z, z.conjugate()) for z in values if z.imag > 0]
    real = sorted((z for z in values if z.imag == 0), key=abs)
    pairs += list(zip(real[::2], real[1::2], strict=True))
    found = [_mode(a, b) for a, b in pairs]
    return tuple(sorted(found, key=lambda mode: mode.omega))


def _mode(a: complex, b: complex) -> Mode:
    omega = math.sqrt(abs(a * b))
    return Mode(omega, -(a + b).real / 2 / omega if omega > 0 else 0.0)

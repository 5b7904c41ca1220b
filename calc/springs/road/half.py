"""The half car: body in heave and pitch on two axles that move. Plain mechanics; the calculator stands in ``half_car``.

Coordinates: body heave z and pitch theta (front height z - a theta, rear z + b theta), front and rear wheels.
"""

import math
from typing import NamedTuple

from calc.numeric.eigen import symmetric
from calc.numeric.exponential import step_matrices, times
from calc.numeric.modes import Mode, modes


class End(NamedTuple):
    """One axle: rate, damping, unsprung mass and tyre rate, of both wheels together."""

    rate: float
    damping: float
    mass: float
    tyre: float


class Half(NamedTuple):
    """Body of mass ms and radius of gyration rho, centre of gravity a behind the front and b ahead of the rear axle."""

    ms: float
    rho: float
    a: float
    b: float
    front: End
    rear: End

    def masses(self) -> tuple[float, float, float, float]:
        """Return the masses of the four coordinates."""
        return self.ms, self.ms * self.rho**2, self.front.mass, self.rear.mass

    def _coupling(self, front: float, rear: float, tyres: tuple[float, float]) -> list[list[float]]:
        """Return the matrix of springs or dampers between body and axles, and of the tyres below."""
        total = [[0.0] * 4 for _ in range(4)]
        for rate, line in ((front, (1.0, -self.a, -1.0, 0.0)), (rear, (1.0, self.b, 0.0, -1.0))):
            for i in range(4):
                for j in range(4):
                    total[i][j] += rate * line[i] * line[j]
        total[2][2] += tyres[0]
        total[3][3] += tyres[1]
        return total

    def stiffness(self) -> list[list[float]]:
        """Return the stiffness matrix."""
        return self._coupling(self.front.rate, self.rear.rate, (self.front.tyre, self.rear.tyre))

    def undamped(self) -> tuple[float, ...]:
        """Return the four undamped natural frequencies in Hz, rising."""
        m, k = self.masses(), self.stiffness()
        scaled = [[k[i][j] / math.sqrt(m[i] * m[j]) for j in range(4)] for i in range(4)]
        values, _ = symmetric(scaled)
        return tuple(math.sqrt(max(value, 0.0)) / (2 * math.pi) for value in values)

    def state(self) -> list[list[float]]:
        """Return A of x' = A x + B (z_rf, z_rr): four coordinates, then their speeds."""
        m, k, c = self.masses(), self.stiffness(), self._coupling(self.front.damping, self.rear.damping, (0.0, 0.0))
        top = [[0.0] * 4 + [float(i == j) for j in range(4)] for i in range(4)]
        return top + [[-k[i][j] / m[i] for j in range(4)] + [-c[i][j] / m[i] for j in range(4)] for i in range(4)]

    def damped(self) -> tuple[Mode, ...]:
        """Return the four damped modes, slowest first."""
        return modes(self.state())

    def over(self, front: list[float], rear: list[float], step: float) -> list[list[float]]:
        """Return the states over road heights given at every step, straight between them."""
        wide = [[*row, 0.0, 0.0] for row in self.state()]
        wide[6][8], wide[7][9] = self.front.tyre / self.front.mass, self.rear.tyre / self.rear.mass
        slopes = [[0.0, 0.0]] * 8 + [[1.0, 0.0], [0.0, 1.0]]
        walk, push = step_matrices([*wide, [0.0] * 10, [0.0] * 10], slopes, step)
        x = [0.0] * 8 + [front[0], rear[0]]
        found = [x]
        for n in range(1, len(front)):
            u, v = (front[n] - front[n - 1]) / step, (rear[n] - rear[n - 1]) / step
            x = [value + b[0] * u + b[1] * v for value, b in zip(times(walk, x), push, strict=True)]
            found.append(x)
        return found

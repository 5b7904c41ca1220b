"""Axle loads of a braking car on a level or sloping road, and what each axle asks of its tyres. Braking rate z is deceleration over g."""

import math
from typing import NamedTuple


class Axles(NamedTuple):
    """Lengths a, b, h over the wheelbase: how the load is shared at rest and how fast it moves."""

    front: float  # b / L, share of the front axle at rest
    height: float  # h / L

    @property
    def lift(self) -> float:
        """The braking rate at which the rear axle lifts."""
        return (1 - self.front) / self.height

    def ideal_share(self, rate: float) -> float:
        """Return the front share that uses both axles equally at a braking rate."""
        return self.front + rate * self.height

    def front_use(self, share: float, rate: float) -> float:
        """Return the grip the front axle uses: phi z L / (b + z h)."""
        return share * rate / self.ideal_share(rate)

    def rear_use(self, share: float, rate: float) -> float:
        """Return the grip the rear axle uses: (1 - phi) z L / (a - z h); only below the lift of the rear axle."""
        return (1 - share) * rate / (1 - self.ideal_share(rate))

    def critical(self, share: float) -> float:
        """Return the braking rate at which installed and ideal distribution cross; at or below zero the rear always leads."""
        return (share - self.front) / self.height

    def front_lock(self, share: float, grip: float) -> float | None:
        """Return the braking rate at which the front axle locks, or none if it cannot."""
        spare = share - grip * self.height
        return grip * self.front / spare if spare > 0 else None

    def rear_lock(self, share: float, grip: float) -> float | None:
        """Return the braking rate at which the rear axle locks, or none if it carries no brake."""
        return grip * (1 - self.front) / (1 - share + grip * self.height) if share < 1 else None

    def first_lock(self, share: float, grip: float) -> float:
        """Return the braking rate at the first lock, or at the lift of the rear axle if that comes before."""
        limits = (self.front_lock(share, grip), self.rear_lock(share, grip))
        return min([self.lift, *(rate for rate in limits if rate is not None)])

    def single_axle(self, braked: str, grip: float) -> float:
        """Return the braking rate with one axle at its limit, ``front`` or ``rear``, or with ``all`` of them.

        >>> round(Axles(0.46, 0.24).single_axle("rear", 0.5), 4)
        0.2411
        """
        if braked == "front":
            return self.first_lock(1.0, grip)
        if braked == "rear":
            return min(self.lift, grip * (1 - self.front) / (1 + grip * self.height))
        return min(grip, self.lift)


def ideal_rear_force(front_force: float, weight: float, axles: Axles) -> float:
    """Return the rear force on the ideal curve for a front force: (W/2h)(sqrt(b^2 + 4 h L F_f/W) - b) - F_f.

    >>> round(ideal_rear_force(5000.0, 13000.0, Axles(1.35 / 2.6, 0.5 / 2.6)), 3)
    2866.579
    """
    total = (
        weight
        / (2 * axles.height)
        * (math.sqrt(axles.front**2 + 4 * axles.height * front_force / weight) - axles.front)
    )
    return total - front_force

"""One pair of master cylinders with a pedal box, held against the targets of a choice."""

from collections.abc import Sequence
from typing import NamedTuple

from calc.brakes.cylinders import bore_area

_DIGITS = 9  # two shares that agree to this many decimals are the same share


class Targets(NamedTuple):
    """What a choice must meet."""

    total_force: float
    share: float
    share_tolerance: float
    pedal_force_min: float
    pedal_force_max: float
    front_per_pressure: float
    rear_per_pressure: float
    front_volume: float
    rear_volume: float
    max_stroke: float
    reserve: float
    efficiency: float
    bar: str
    spacing: float
    rod_share_most: float


class Pairing(NamedTuple):
    """What one choice gives, and the targets it fails with the amount of each."""

    front_bore: float
    rear_bore: float
    ratio: float
    rod_share: float
    offset: float
    share: float
    force: float
    travel: float
    reserve: float
    fails: tuple[tuple[str, str], ...]
    missed: float  # sum of what is missed, each over its target

    @property
    def sentence(self) -> str:
        """The choice and what it fails by."""
        return f"{1e3 * self.front_bore:.2f} / {1e3 * self.rear_bore:.2f} mm at {self.ratio:g}: " + ", ".join(
            f"{n} {by}" for n, by in self.fails
        )

    def share_with(self, front: float, rear: float) -> float:
        """Return the front share when the friction of each axle is multiplied by a factor."""
        return self.share * front / (self.share * front + (1 - self.share) * rear)


def rod_share_for(targets: Targets, front_area: float, rear_area: float) -> float:
    """Return the bar share that gives the front share wanted."""
    front = targets.share * front_area * targets.rear_per_pressure
    return front / (front + (1 - targets.share) * rear_area * targets.front_per_pressure)


def pairing(targets: Targets, front_bore: float, rear_bore: float, ratio: float) -> Pairing:
    """Return what one choice gives."""
    front_area, rear_area = bore_area(front_bore), bore_area(rear_bore)
    rod = rod_share_for(targets, front_area, rear_area) if targets.bar == "trimmed" else 0.5
    used = min(targets.rod_share_most, max(1 - targets.rod_share_most, rod))
    front, rear = used * targets.front_per_pressure / front_area, (1 - used) * targets.rear_per_pressure / rear_area
    share = front / (front + rear)
    force = targets.total_force / (front + rear) / (ratio * targets.efficiency)
    strokes = targets.front_volume / front_area, targets.rear_volume / rear_area
    reserve = 1 - max(strokes) / targets.max_stroke
    fails, missed = _fails(targets, share, force, reserve, rod - used)
    travel = ratio * (used * strokes[0] + (1 - used) * strokes[1])
    return Pairing(
        front_bore, rear_bore, ratio, used, targets.spacing * (used - 0.5), share, force, travel, reserve, fails, missed
    )


def _fails(
    targets: Targets, share: float, force: float, reserve: float, beyond: float
) -> tuple[tuple[tuple[str, str], ...], float]:
    """Return the targets missed, in words, and the sum of the misses."""
    off = abs(share - targets.share) - targets.share_tolerance
    found = [
        (beyond if beyond > 0 else -beyond, "bar range", f"by {100 * abs(beyond):.1f} points", 1.0),
        (off if off > 1e-12 else 0.0, "front share", f"by {100 * off:.1f} points", 1.0),
        (
            force - targets.pedal_force_max,
            "pedal force",
            f"{force - targets.pedal_force_max:.0f} N too much",
            targets.pedal_force_max,
        ),
        (
            targets.pedal_force_min - force,
            "pedal force",
            f"{targets.pedal_force_min - force:.0f} N too little",
            targets.pedal_force_max,
        ),
        (
            targets.reserve - reserve,
            "stroke reserve",
            f"{100 * (targets.reserve - reserve):.0f} points too little",
            1.0,
        ),
    ]
    missed = [(by / scale, name, words) for by, name, words, scale in found if by > 0]
    return tuple((name, words) for _, name, words in missed), sum(by for by, _, _ in missed)


def all_pairings(targets: Targets, bores: Sequence[float], ratios: Sequence[float]) -> list[Pairing]:
    """Return every combination, the best first: nearest share, then the bar nearest its middle, then the lighter pedal."""
    pairs = [pairing(targets, front, rear, ratio) for ratio in ratios for front in bores for rear in bores]
    return sorted(
        pairs, key=lambda p: (round(abs(p.share - targets.share), _DIGITS), round(abs(p.offset), _DIGITS), p.force)
    )

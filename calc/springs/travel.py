"""One corner's travel on one axis: where the wheel is, what spring, damper and rubber do there, and what stops it.

The axis is wheel travel from ride height, bump positive. The calculator stands in ``budget``.
"""

import math
from typing import NamedTuple

from calc.numeric.monotone import Curve
from calc.springs.stack import Stack


class Event(NamedTuple):
    """Something that happens at one place of the axis. ``stops`` is true where the wheel goes no further."""

    name: str
    at: float
    stops: bool = False


class Corner(NamedTuple):
    """Spring stack, damper and rubber of one corner. Lengths in m; the ratios are travel for each unit of wheel travel."""

    stack: Stack
    static_force: float  # in the spring
    spring_ratio: float
    damper_ratio: float
    open: float
    closed: float
    static: float
    rubber_free: float
    rubber_block: float
    rubber: Curve | None
    bind_margin: float
    tyre_to_body: float | None
    floor_clearance: float | None

    @property
    def static_compression(self) -> float:
        """The compression of the stack at ride height."""
        return self.stack.travel(self.static_force)

    @property
    def damper_bump(self) -> float:
        """Damper travel from ride height to the blocked rubber, or to metal where there is none."""
        return self.static - self.closed - self.rubber_block

    @property
    def damper_droop(self) -> float:
        """Damper travel from ride height to topped out."""
        return self.open - self.static

    @property
    def to_bind(self) -> float | None:
        """Spring travel from ride height to coil bind less the margin, or none where no spring can bind."""
        solid = self.stack.solid_travel()
        return None if solid is None else solid - self.bind_margin - self.static_compression

    def rubber_compression(self, z: float) -> float:
        """Return how far the rubber is pressed with the wheel at ``z``; negative is the gap left."""
        return self.closed + self.rubber_free - self.static + self.damper_ratio * z

    @property
    def droop(self) -> float:
        """Wheel travel from ride height to topped out, positive."""
        return self.damper_droop / self.damper_ratio

    @property
    def preload(self) -> float:
        """Compression of the stack at full droop; negative where it is loose there."""
        return self.static_compression - self.spring_ratio * self.droop

    def events(self) -> tuple[Event, ...]:
        """Return everything that happens along the axis, from droop to bump."""
        ratio, compressed = self.spring_ratio, self.static_compression
        found = [
            Event("damper topped out", -self.droop, stops=True),
            Event("ride height", 0.0),
            Event(
                "rubber blocked" if self.rubber_block else "damper bottomed, metal to metal",
                self.damper_bump / self.damper_ratio,
                stops=True,
            ),
        ]
        if self.preload < 0:
            found.append(Event("spring loose below here", -compressed / ratio))
        for n, force in enumerate(self.stack.block_forces()):
            if self.stack.rate(force) is not None:
                found.append(
                    Event(
                        "soft spring blocked" if n == 0 else "next spring blocked",
                        (self.stack.travel(force) - compressed) / ratio,
                    )
                )
        if self.rubber_free > self.rubber_block:
            found.append(Event("rubber touches", -self.rubber_compression(0.0) / self.damper_ratio))
        if (bind := self.to_bind) is not None:
            found.append(Event("coil bind less margin", bind / ratio, stops=True))
        for name, at in (("tyre meets body", self.tyre_to_body), ("floor meets ground", self.floor_clearance)):
            if at is not None:
                found.append(Event(name, at, stops=True))
        return tuple(sorted(found, key=lambda event: event.at))

    def bump_stop(self) -> Event:
        """Return what stops the wheel first in bump."""
        return min(
            (event for event in self.events() if event.stops and event.name != "damper topped out"),
            key=lambda event: event.at,
        )

    def force(self, z: float) -> float:
        """Return the force of spring and rubber at the wheel; NaN where the rubber was not measured."""
        compression = self.static_compression + self.spring_ratio * z
        spring = self.stack.force(compression) if compression > 0 else 0.0
        return spring * self.spring_ratio + self._rubber(z, slope=False) * self.damper_ratio

    def rate(self, z: float) -> float:
        """Return the wheel rate just above ``z``; NaN where the rubber was not measured."""
        compression = self.static_compression + self.spring_ratio * z
        spring = 0.0
        if compression >= -1e-12:
            rate = self.stack.rate(self.stack.force(max(compression, 0.0)))
            spring = math.nan if rate is None else rate
        return spring * self.spring_ratio**2 + self._rubber(z, slope=True) * self.damper_ratio**2

    def _rubber(self, z: float, *, slope: bool) -> float:
        pressed = self.rubber_compression(z)
        if self.rubber is None or pressed <= 0:
            return 0.0
        if pressed > self.rubber.x[-1] * (1 + 1e-9):
            return math.nan
        pressed = min(pressed, self.rubber.x[-1])
        return self.rubber.slope(pressed) if slope else self.rubber.value(pressed)

"""What holds a wheel, as plain data: points by name, and which members join them.

Axes (ISO 8855): x forward, y left, z up; the LEFT wheel, chassis held still. Lengths in metres, angles in radians. A right wheel is
the mirror image (y changes sign), solved as a left one with the rack reversed.
"""

from collections.abc import Mapping
from typing import NamedTuple

from calc.geometry.vectors import Vector

Pair = tuple[str, str]


class Telescope(NamedTuple):
    """A spring or damper: the point that moves, the chassis point, and the member that carries the moving one."""

    moving: str
    chassis: str
    on: str = "carrier"


class Crank(NamedTuple):
    """A bar arm or a rocker: it turns about a chassis axis; ``crank_end`` keeps its distance to ``link_end``, carried by ``on``."""

    axis: Pair
    crank_end: str
    link_end: str
    on: str = "carrier"


class SwingingArm(NamedTuple):
    """A chassis-hinged arm with freedom of its own: an H-arm, an arm with an integral link, or a Watt crank on the chassis.

    ``balls`` are points it shares with the carrier (the first held fully, a second one across the line of the two);
    ``rods`` are [arm point, carrier point] pairs that keep their distance.
    """

    hinge: Pair
    balls: tuple[str, ...] = ()
    rods: tuple[Pair, ...] = ()


class Linkage(NamedTuple):
    """A wheel (or a whole axle) and its members.

    ``links`` are two-joint members and wishbone legs, [chassis point, carrier point]; a carrier point in two links is one joint.
    ``slider`` is a strut: [top mount, lower point on its axis]. ``hinge`` makes the carrier a trailing or semi-trailing arm.
    ``arms`` name the members that may carry parts: [inner front, inner rear, outer joint]. ``pins`` hold a carrier point at its place.
    ``box`` steers by a drop arm instead of a rack: [its pivot, a point above on the pivot's axis, the arm's end].
    ``lengths`` keeps a link (by its pair) at a length other than the drawn one; ``strut_axis`` likewise keeps the drawn axis of a strut.
    """

    points: Mapping[str, Vector]
    loaded_radius: float
    static_camber: float = 0.0
    static_toe_in: float = 0.0
    links: tuple[Pair, ...] = ()
    slider: Pair | None = None
    swinging: SwingingArm | None = None
    hinge: Pair | None = None
    pins: tuple[str, ...] = ()
    axle_crank: tuple[str, str, str, str, str] | None = None
    tie_rod: Pair | None = None
    box: tuple[str, str, str] | None = None
    kingpin: Pair | None = None
    arms: Mapping[str, tuple[str, str, str]] = {}
    springs: Mapping[str, Telescope] = {}
    cranks: Mapping[str, Crank] = {}
    lengths: Mapping[Pair, float] = {}
    strut_axis: Vector | None = None

    def with_points(self, moved: Mapping[str, Vector]) -> "Linkage":
        """Return the linkage with some points elsewhere and every length taken anew there."""
        return self._replace(points={**self.points, **moved})

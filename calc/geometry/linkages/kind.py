"""What each kind of linkage says of itself, and the wheel all of them carry."""

from collections.abc import Callable, Mapping
from typing import NamedTuple

from calc.geometry.linkage import Linkage, Pair
from calc.geometry.vectors import Vector

Points = Mapping[str, Vector]


class Wheel(NamedTuple):
    """The wheel as drawn: loaded radius (m), static camber and toe-in (rad)."""

    radius: float
    camber: float = 0.0
    toe_in: float = 0.0


class Kind(NamedTuple):
    """A kind of linkage: its name in words, its points with what each is, and how they become a linkage.

    ``toe`` and ``camber`` are the links whose length sets static toe and camber, ``camber_joint`` a chassis point that does.
    """

    words: str
    points: Mapping[str, str]
    build: Callable[[Points, Wheel], Linkage]
    toe: Pair | None = None
    camber: tuple[Pair, ...] = ()
    camber_joint: str = ""


WHEEL_CENTRE = {"wheel_centre": "middle of the wheel, on its spin axis"}


def link(name: str, what: str) -> dict[str, str]:
    """Return the two points of a two-joint link.

    >>> list(link("tie_rod", "tie rod"))
    ['tie_rod_inner', 'tie_rod_outer']
    """
    return {f"{name}_inner": f"chassis end of the {what}", f"{name}_outer": f"wheel end of the {what}"}


def arm(name: str, what: str, joint: str) -> dict[str, str]:
    """Return the three points of a wishbone."""
    return {
        f"{name}_front_inner": f"front chassis pivot of the {what}",
        f"{name}_rear_inner": f"rear chassis pivot of the {what}",
        joint: f"outer ball joint of the {what}",
    }


def legs(name: str, joint: str) -> tuple[Pair, Pair]:
    """Return the two legs of a wishbone."""
    return (f"{name}_front_inner", joint), (f"{name}_rear_inner", joint)


def pair(name: str) -> Pair:
    """Return the ends of a two-joint link, chassis end first."""
    return f"{name}_inner", f"{name}_outer"


def drawn(points: Points, wheel: Wheel) -> Linkage:
    """Return a linkage without members yet."""
    return Linkage(points, wheel.radius, wheel.camber, wheel.toe_in)

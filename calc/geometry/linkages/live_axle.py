"""Rigid axles: four converging links; three links with a Panhard rod or a Watt linkage; four parallel links; trailing or truck arms.

Four parallel links and a Panhard rod hold an axle in one way too many and live by the give of their rubber: the two upper links are
taken as one between them, which is exact while the car is the same left and right. Trailing and truck arms are rigid with the axle:
in heave it turns about the line through both front pivots, in roll the bushes and the arms give; the mean of the two front pivots
stays where it is.
"""

from collections.abc import Callable, Mapping
from typing import NamedTuple

from calc.geometry.linkage import Linkage, Pair, SwingingArm
from calc.geometry.linkages.kind import Points
from calc.geometry.vectors import add, middle


class AxleKind(NamedTuple):
    """A kind of rigid axle: its name in words, its points with what each is, and how they become a linkage."""

    words: str
    points: Mapping[str, str]
    build: Callable[[Points, float], Linkage]


def _both(name: str, what: str) -> dict[str, str]:
    return {f"{name}_{side}": f"{what}, {side}" for side in ("left", "right")}


def _ends(name: str, what: str) -> dict[str, str]:
    return _both(f"{name}_chassis", f"chassis end of the {what}") | _both(f"{name}_axle", f"axle end of the {what}")


def _pairs(name: str) -> tuple[Pair, Pair]:
    return (f"{name}_chassis_left", f"{name}_axle_left"), (f"{name}_chassis_right", f"{name}_axle_right")


_WHEELS = _both("wheel_centre", "middle of the wheel")
_LOWER = _ends("lower_link", "lower link")
_UPPER = _ends("upper_link", "upper link")
_TOP = {"upper_link_chassis": "chassis end of the upper link", "upper_link_axle": "axle end of the upper link"}
_PANHARD = {"panhard_chassis": "chassis end of the Panhard rod", "panhard_axle": "axle end of the Panhard rod"}
_ROD: Pair = ("panhard_chassis", "panhard_axle")


def four_link(points: Points, radius: float) -> Linkage:
    """Return an axle on four converging links."""
    return Linkage(points, radius, links=(*_pairs("lower_link"), *_pairs("upper_link")))


def three_link_panhard(points: Points, radius: float) -> Linkage:
    """Return an axle on three links and a Panhard rod."""
    return Linkage(points, radius, links=(*_pairs("lower_link"), ("upper_link_chassis", "upper_link_axle"), _ROD))


def four_link_panhard(points: Points, radius: float) -> Linkage:
    """Return an axle on four parallel links and a Panhard rod, the upper pair taken as one link between them."""
    mean = {
        f"upper_link_{end}": middle(points[f"upper_link_{end}_left"], points[f"upper_link_{end}_right"])
        for end in ("chassis", "axle")
    }
    return three_link_panhard({**points, **mean}, radius)


def watt(points: Points, radius: float) -> Linkage:
    """Return an axle on three links and a Watt linkage whose crank pivots on the axle."""
    return Linkage(
        points, radius, links=(*_pairs("lower_link"), ("upper_link_chassis", "upper_link_axle")), axle_crank=_CRANK
    )


def watt_on_chassis(points: Points, radius: float) -> Linkage:
    """Return an axle on three links and a Watt linkage whose crank pivots on the chassis: its rods run to the axle."""
    ahead = add(points["watt_pivot"], (1.0, 0.0, 0.0))
    rods = (("watt_upper_end", "watt_upper_axle"), ("watt_lower_end", "watt_lower_axle"))
    return Linkage(
        {**points, "watt_pivot_ahead": ahead},
        radius,
        links=(*_pairs("lower_link"), ("upper_link_chassis", "upper_link_axle")),
        swinging=SwingingArm(("watt_pivot", "watt_pivot_ahead"), (), rods),
    )


def trailing_arms(points: Points, radius: float) -> Linkage:
    """Return an axle on trailing or truck arms rigid with it, and a Panhard rod."""
    held = {"arm_pivot_mean": middle(points["arm_pivot_left"], points["arm_pivot_right"])}
    return Linkage({**points, **held}, radius, links=(_ROD,), pins=("arm_pivot_mean",))


_CRANK = ("watt_pivot", "watt_upper_end", "watt_lower_end", "watt_upper_chassis", "watt_lower_chassis")
_WATT = {
    "watt_pivot": "pivot of the crank, on the axle",
    "watt_upper_end": "upper end of the crank",
    "watt_lower_end": "lower end of the crank",
    "watt_upper_chassis": "chassis end of the upper rod",
    "watt_lower_chassis": "chassis end of the lower rod",
}
_WATT_ON_CHASSIS = {
    "watt_pivot": "pivot of the crank, on the chassis",
    "watt_upper_end": "upper end of the crank",
    "watt_lower_end": "lower end of the crank",
    "watt_upper_axle": "axle end of the upper rod",
    "watt_lower_axle": "axle end of the lower rod",
}

AXLES: dict[str, AxleKind] = {
    "four_link": AxleKind("four converging links", _WHEELS | _LOWER | _UPPER, four_link),
    "three_link_panhard": AxleKind(
        "three links and a Panhard rod", _WHEELS | _LOWER | _TOP | _PANHARD, three_link_panhard
    ),
    "four_link_panhard": AxleKind(
        "four parallel links and a Panhard rod", _WHEELS | _LOWER | _UPPER | _PANHARD, four_link_panhard
    ),
    "watt": AxleKind("three links and a Watt linkage on the axle", _WHEELS | _LOWER | _TOP | _WATT, watt),
    "watt_on_chassis": AxleKind(
        "three links and a Watt linkage on the chassis", _WHEELS | _LOWER | _TOP | _WATT_ON_CHASSIS, watt_on_chassis
    ),
    "trailing_arms": AxleKind(
        "trailing or truck arms rigid with the axle, and a Panhard rod",
        _WHEELS | _both("arm_pivot", "front pivot of the arm") | _PANHARD,
        trailing_arms,
    ),
}

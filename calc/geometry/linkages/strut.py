"""Strut: a lower wishbone, or a lateral link and a rod ahead of or behind the axle, with the strut running through its top mount."""

from math import sqrt

from calc.geometry.closed import ClosedForm, Follow, body, wishbone
from calc.geometry.linkage import Linkage, Pair, Telescope
from calc.geometry.linkages.kind import WHEEL_CENTRE, Kind, Points, Wheel, arm, drawn, legs, link, pair
from calc.geometry.solve_errors import Unreachable
from calc.geometry.vectors import Vector, along, dot, scale, sub, unit

_STILL: Vector = (0.0, 0.0, 0.0)


class Strut(ClosedForm):
    """Lower joint on its circle; the strut passes the top mount at a fixed distance from that joint; the tie rod fixes the steer angle."""

    def __init__(self, linkage: Linkage, arm: tuple[Pair, Pair], slider: Pair, closing: Pair) -> None:
        points = linkage.points
        self.first, self.top, lower = points[arm[0][1]], points[slider[0]], points[slider[1]]
        super().__init__(linkage, wishbone(linkage, arm), self.first, self.top, closing)
        self.axis = linkage.strut_axis or unit(sub(self.top, lower))
        self.outer, self.wheel = points[closing[1]], points["wheel_centre"]
        self.foot = along(lower, dot(sub(self.first, lower), self.axis), self.axis)
        gap = sub(self.first, self.foot)
        self.offset = dot(gap, gap)

    def follow(self, angle: float, first: Vector, swing: Vector) -> Follow:
        """Return the top mount, and the carrier seen from the line to it: the rod has moved in the strut."""
        k = sub(self.top, first)
        square = dot(k, k) - self.offset
        if square <= 0:
            raise Unreachable
        long = sqrt(square)
        seen = body(self.first, along(self.foot, long, self.axis), self.outer, self.wheel)
        return Follow(self.top, _STILL, seen, scale(dot(k, swing) / long, self.axis))


def build(points: Points, wheel: Wheel) -> Linkage:
    """Return a strut on a wishbone."""
    return _strut(points, wheel, legs("lower_arm", "lower_ball_joint"))


def build_with_rod(points: Points, wheel: Wheel) -> Linkage:
    """Return a strut on a lateral link and a longitudinal rod that meet at one joint."""
    return _strut(points, wheel, (("lateral_link_inner", "lower_ball_joint"), ("rod_inner", "lower_ball_joint")))


def _strut(points: Points, wheel: Wheel, lower: tuple[Pair, Pair]) -> Linkage:
    return drawn(points, wheel)._replace(
        links=(*lower, pair("tie_rod")),
        slider=_SLIDER,
        tie_rod=pair("tie_rod"),
        kingpin=("lower_ball_joint", "strut_top_mount"),
        arms={"lower_arm": (lower[0][0], lower[1][0], "lower_ball_joint")},
        springs={
            "spring": Telescope("strut_lower", "strut_top_mount"),
            "damper": Telescope("strut_lower", "strut_top_mount"),
        },
    )


_SLIDER = ("strut_top_mount", "strut_lower")
_STRUT = {
    "strut_top_mount": "middle of the strut's top mount",
    "strut_lower": "a point low on the strut's axis, fixed to the knuckle",
}

KIND = Kind(
    "strut with a lower wishbone",
    WHEEL_CENTRE
    | _STRUT
    | arm("lower_arm", "lower wishbone", "lower_ball_joint")
    | link("tie_rod", "tie rod or toe link"),
    build,
    toe=pair("tie_rod"),
    camber_joint="strut_top_mount",
)

KIND_WITH_ROD = Kind(
    "strut with a lateral link and a longitudinal rod",
    WHEEL_CENTRE
    | _STRUT
    | {
        "lateral_link_inner": "chassis end of the lateral link",
        "rod_inner": "chassis end of the longitudinal rod, ahead of or behind the axle",
        "lower_ball_joint": "outer joint, where lateral link and rod meet",
    }
    | link("tie_rod", "tie rod or toe link"),
    build_with_rod,
    toe=pair("tie_rod"),
    camber_joint="strut_top_mount",
)

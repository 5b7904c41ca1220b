"""Trailing and semi-trailing arm: the wheel is fixed to an arm on one chassis axis."""

from calc.geometry.linkage import Linkage
from calc.geometry.linkages.kind import WHEEL_CENTRE, Kind, Points, Wheel, drawn


def build(points: Points, wheel: Wheel) -> Linkage:
    """Return the linkage of these points."""
    return drawn(points, wheel)._replace(hinge=("pivot_inner", "pivot_outer"))


KIND = Kind(
    "trailing or semi-trailing arm",
    WHEEL_CENTRE | {"pivot_inner": "inner pivot of the arm", "pivot_outer": "outer pivot of the arm"},
    build,
)

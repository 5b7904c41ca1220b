"""Lower H-arm with a camber link: the arm holds toe, the link holds camber."""

from calc.geometry.closed import ClosedForm, Follow, circle
from calc.geometry.linkage import Linkage, Pair, SwingingArm
from calc.geometry.linkages.kind import WHEEL_CENTRE, Kind, Points, Wheel, drawn, link, pair
from calc.geometry.vectors import Vector, add, apply, cross, spin, sub


class TwoBallArm(ClosedForm):
    """Both outer joints turn with the arm, and the camber link fixes the carrier about the line through them."""

    def __init__(self, linkage: Linkage, hinge: Pair, balls: Pair, closing: Pair) -> None:
        inner, other = (linkage.points[name] for name in hinge)
        first, second = (linkage.points[name] for name in balls)
        super().__init__(linkage, circle(inner, other, first), first, second, closing)
        self.gap = sub(second, first)

    def follow(self, angle: float, first: Vector, swing: Vector) -> Follow:
        """Return the second outer joint, turned about the same axis."""
        gap = apply(spin(self.arm.axis, angle), self.gap)
        return Follow(add(first, gap), add(swing, cross(self.arm.axis, gap)), self.body)


def build(points: Points, wheel: Wheel) -> Linkage:
    """Return the linkage of these points."""
    return drawn(points, wheel)._replace(
        links=(pair("camber_link"),),
        swinging=SwingingArm(("h_arm_front_inner", "h_arm_rear_inner"), ("h_arm_front_outer", "h_arm_rear_outer")),
        arms={"lower_arm": ("h_arm_front_inner", "h_arm_rear_inner", "h_arm_front_outer")},
    )


KIND = Kind(
    "lower H-arm with a camber link",
    WHEEL_CENTRE
    | {
        "h_arm_front_inner": "front chassis pivot of the H-arm",
        "h_arm_rear_inner": "rear chassis pivot of the H-arm",
        "h_arm_front_outer": "front outer joint of the H-arm",
        "h_arm_rear_outer": "rear outer joint of the H-arm",
    }
    | link("camber_link", "camber link"),
    build,
    camber=(pair("camber_link"),),
)

"""Double wishbone: two wishbones and a tie rod (or toe link)."""

from calc.geometry.closed import ClosedForm, Follow, branch_of, crossing, wishbone
from calc.geometry.linkage import Linkage, Pair
from calc.geometry.linkages.kind import WHEEL_CENTRE, Kind, Points, Wheel, arm, drawn, legs, link, pair
from calc.geometry.vectors import Vector, dot, norm, scale, sub


class DoubleWishbone(ClosedForm):
    """Lower joint on its circle; upper joint where its circle is one knuckle length away; the tie rod fixes the steer angle."""

    def __init__(self, linkage: Linkage, lower: tuple[Pair, Pair], upper: tuple[Pair, Pair], closing: Pair) -> None:
        first, second = linkage.points[lower[0][1]], linkage.points[upper[0][1]]
        super().__init__(linkage, wishbone(linkage, lower), first, second, closing)
        self.upper = wishbone(linkage, upper)
        self.knuckle = norm(sub(second, first))
        self.branch = branch_of(self.upper, first, second)

    def follow(self, angle: float, first: Vector, swing: Vector) -> Follow:
        """Return the upper joint for a lower one."""
        second, moves = self.upper.at(crossing(self.upper, first, self.knuckle, self.branch))
        k = sub(second, first)
        gain = dot(moves, k)
        share = dot(swing, k) / gain if gain else 0.0
        return Follow(second, scale(share, moves), self.body)


def build(points: Points, wheel: Wheel) -> Linkage:
    """Return the linkage of these points."""
    return drawn(points, wheel)._replace(
        links=(*legs("lower_arm", "lower_ball_joint"), *legs("upper_arm", "upper_ball_joint"), pair("tie_rod")),
        tie_rod=pair("tie_rod"),
        kingpin=("lower_ball_joint", "upper_ball_joint"),
        arms={
            "lower_arm": ("lower_arm_front_inner", "lower_arm_rear_inner", "lower_ball_joint"),
            "upper_arm": ("upper_arm_front_inner", "upper_arm_rear_inner", "upper_ball_joint"),
        },
    )


KIND = Kind(
    "double wishbone",
    WHEEL_CENTRE
    | arm("lower_arm", "lower wishbone", "lower_ball_joint")
    | arm("upper_arm", "upper wishbone", "upper_ball_joint")
    | link("tie_rod", "tie rod or toe link"),
    build,
    toe=pair("tie_rod"),
    camber=legs("upper_arm", "upper_ball_joint"),
)

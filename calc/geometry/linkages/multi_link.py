"""Multi-link: a lower wishbone with camber link, toe link and traction (trailing) rod; moved by the general solver."""

from calc.geometry.linkage import Linkage
from calc.geometry.linkages.kind import WHEEL_CENTRE, Kind, Points, Wheel, arm, drawn, legs, link, pair


def build(points: Points, wheel: Wheel) -> Linkage:
    """Return the linkage of these points."""
    return drawn(points, wheel)._replace(
        links=(*legs("lower_arm", "lower_ball_joint"), pair("camber_link"), pair("toe_link"), pair("traction_rod")),
        tie_rod=pair("toe_link"),
        arms={"lower_arm": ("lower_arm_front_inner", "lower_arm_rear_inner", "lower_ball_joint")},
    )


KIND = Kind(
    "lower wishbone with camber link, toe link and traction rod",
    WHEEL_CENTRE
    | arm("lower_arm", "lower wishbone", "lower_ball_joint")
    | link("camber_link", "camber link")
    | link("toe_link", "toe link")
    | link("traction_rod", "traction or trailing rod"),
    build,
    toe=pair("toe_link"),
    camber=(pair("camber_link"),),
)

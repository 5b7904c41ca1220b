"""Integral link: a lower arm with one ball joint and a short link to the carrier that takes the brake torque; camber and toe links."""

from calc.geometry.linkage import Linkage, SwingingArm
from calc.geometry.linkages.kind import WHEEL_CENTRE, Kind, Points, Wheel, arm, drawn, link, pair


def build(points: Points, wheel: Wheel) -> Linkage:
    """Return the linkage of these points."""
    return drawn(points, wheel)._replace(
        links=(pair("camber_link"), pair("toe_link")),
        swinging=SwingingArm(
            ("lower_arm_front_inner", "lower_arm_rear_inner"),
            ("lower_ball_joint",),
            (("integral_link_lower", "integral_link_upper"),),
        ),
        tie_rod=pair("toe_link"),
        arms={"lower_arm": ("lower_arm_front_inner", "lower_arm_rear_inner", "lower_ball_joint")},
    )


KIND = Kind(
    "lower arm with integral link, camber link and toe link",
    WHEEL_CENTRE
    | arm("lower_arm", "lower arm", "lower_ball_joint")
    | {
        "integral_link_lower": "end of the integral link on the lower arm",
        "integral_link_upper": "end of the integral link on the wheel carrier",
    }
    | link("camber_link", "camber link")
    | link("toe_link", "toe link"),
    build,
    toe=pair("toe_link"),
    camber=(pair("camber_link"),),
)

"""A base set of points for every kind of linkage, and random valid sets around it. Invented; millimetres."""

import math
import random

from calc.geometry.forms import examples
from calc.geometry.forms.inputs import rows_of
from calc.geometry.linkage import Telescope
from calc.geometry.linkages import KINDS
from calc.geometry.linkages.kind import Wheel
from calc.geometry.linkages.live_axle import AXLES

FIVE_LINK = rows_of("""
wheel_centre 0 780 320
upper_front_inner 130 455 560
upper_front_outer 20 680 580
upper_rear_inner -190 450 545
upper_rear_outer -45 675 575
lower_front_inner 300 390 215
lower_front_outer 45 705 185
lower_rear_inner -40 330 200
lower_rear_outer -20 715 180
tie_rod_inner -150 380 250
tie_rod_outer -145 700 240
""")
H_ARM = rows_of("""
wheel_centre 0 735 310
h_arm_front_inner 160 300 200
h_arm_rear_inner -170 290 190
h_arm_front_outer 110 680 185
h_arm_rear_outer -120 685 180
camber_link_inner -10 400 450
camber_link_outer 0 650 465
""")
INTEGRAL = rows_of("""
wheel_centre 0 765 318
lower_arm_front_inner 180 320 210
lower_arm_rear_inner -190 310 200
lower_ball_joint -60 705 178
integral_link_lower 95 690 190
integral_link_upper 90 700 345
camber_link_inner -20 430 470
camber_link_outer -10 670 485
toe_link_inner -230 350 225
toe_link_outer -215 700 212
""")
POINTS = {
    "double_wishbone": examples.DOUBLE_WISHBONE,
    "strut": examples.STRUT,
    "strut_with_rod": examples.STRUT_WITH_ROD,
    "five_link": FIVE_LINK,
    "multi_link": examples.MULTI_LINK,
    "h_arm": H_ARM,
    "integral_link": INTEGRAL,
    "trailing_arm": examples.SEMI_TRAILING,
}

_LOWER = """
wheel_centre_left 0 740 320
wheel_centre_right 0 -740 320
lower_link_chassis_left 540 450 290
lower_link_chassis_right 540 -450 290
lower_link_axle_left 10 500 250
lower_link_axle_right 10 -500 250
"""
_TOP = "upper_link_chassis 400 8 440\nupper_link_axle 30 5 480\n"
_PANHARD = "panhard_chassis -120 -480 330\npanhard_axle -120 460 300\n"
_UPPERS = """
upper_link_chassis_left 430 400 445
upper_link_chassis_right 430 -400 445
upper_link_axle_left 30 400 480
upper_link_axle_right 30 -400 480
"""
_CONVERGING = """
upper_link_chassis_left 430 500 445
upper_link_chassis_right 430 -500 445
upper_link_axle_left 30 130 480
upper_link_axle_right 30 -130 480
"""
AXLE_POINTS = {
    "four_link": _LOWER + _CONVERGING,
    "three_link_panhard": _LOWER + _TOP + _PANHARD,
    "four_link_panhard": _LOWER + _UPPERS + _PANHARD,
    "watt": _LOWER
    + _TOP
    + "watt_pivot -120 0 310\nwatt_upper_end -120 0 385\nwatt_lower_end -120 0 235\nwatt_upper_chassis -120 500 385\nwatt_lower_chassis -120 -500 235\n",
    "watt_on_chassis": _LOWER
    + _TOP
    + "watt_pivot -120 0 310\nwatt_upper_end -120 0 385\nwatt_lower_end -120 0 235\nwatt_upper_axle -120 500 385\nwatt_lower_axle -120 -500 235\n",
    "trailing_arms": "wheel_centre_left 0 740 320\nwheel_centre_right 0 -740 320\narm_pivot_left 700 250 330\narm_pivot_right 700 -250 330\n"
    + _PANHARD,
}


def placed(rows):
    """Return points in metres by name."""
    return {name: tuple(float(text.split()[0]) / 1000 for text in at) for name, *at in rows}


def shaken(points, seed, size):
    """Return the points, each coordinate moved by up to ``size`` (m)."""
    rng = random.Random(seed)
    return {name: tuple(value + rng.uniform(-size, size) for value in at) for name, at in points.items()}


def corner_linkage(kind, seed=None, size=0.012, camber=-1.2, toe=0.15):
    """Return the linkage of a kind, its points shaken by a seed, a spring on it."""
    points = placed(POINTS[kind])
    if seed is not None:
        points = shaken(points, seed, size)
    radius = points["wheel_centre"][2]
    built = KINDS[kind].build(points, Wheel(radius, math.radians(camber), math.radians(toe)))
    if "spring" not in built.springs:
        low, high = points.get("spring_lower", (0.01, 0.60, 0.22)), points.get("spring_upper", (0.0, 0.53, 0.62))
        built = built._replace(
            points={**points, "spring_lower": low, "spring_upper": high},
            springs={"spring": Telescope("spring_lower", "spring_upper", "lower_arm" if built.arms else "carrier")},
        )
    return built


def axle_linkage(kind, seed=None, size=0.008):
    """Return the linkage of a rigid axle."""
    points = placed(rows_of(AXLE_POINTS[kind]))
    if seed is not None:
        points = shaken(points, seed, size)
    return AXLES[kind].build(points, 0.32)

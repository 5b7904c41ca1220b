"""The side view against an independent reference: two arms moved numerically, and the instant centre by line intersection."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import fsolve

from calc.geometry.side_view import side_view_anti
from calc.refusal import Refused

CAR = {"wheel_radius": 0.3, "wheelbase": 2.5, "cg_height": 0.45, "front_brake_share": 0.65}
angles = st.floats(-0.2, 0.2)


def said_for(lower, upper, **more):
    return side_view_anti(
        **{
            "axle": "front",
            "lower_joint_height": 0.18,
            "lower_arm_angle": lower,
            "upper_joint_height": 0.46,
            "upper_arm_angle": upper,
            **CAR,
            **more,
        }
    )


@given(angles, angles)
def test_the_contact_point_moves_square_to_the_line_to_the_instant_centre(lower, upper):
    """Independent: intersect the two arm lines with numpy and turn the contact point about the crossing."""
    assume(abs(lower - upper) > 0.01)
    lines = np.array([[-math.tan(lower), 1], [-math.tan(upper), 1]])
    x, z = np.linalg.solve(lines, [0.18, 0.46])
    said = said_for(lower, upper)

    assert (said.swing_arm, said.instant_height) == pytest.approx((x, z), rel=1e-9)
    assert said.contact_slope == pytest.approx(-z / x, rel=1e-9, abs=1e-12)


@pytest.mark.parametrize(("lower", "upper"), [(0.03, -0.06), (-0.02, 0.07), (0.05, 0.05)])
def test_a_moved_linkage_has_the_slope(lower, upper):
    """Independent: joints slide along lines square to their arms' tilt, the carrier between them keeps its length (scipy fsolve)."""
    low, high = np.array([0, 0.18]), np.array([0, 0.46])
    along = [np.array([-math.sin(a), math.cos(a)]) for a in (lower, upper)]

    def contact(travel):
        p = low + travel * along[0]
        q = fsolve(lambda s: np.linalg.norm(high + s * along[1] - p) - 0.28, travel, xtol=1e-14)[0] * along[1] + high
        axis = (q - p) / np.linalg.norm(q - p)
        return p - 0.18 * axis

    step = 1e-5
    moved = contact(step) - contact(-step)
    assert said_for(lower, upper).contact_slope == pytest.approx(moved[0] / moved[1], rel=1e-5)


@given(angles, angles, st.floats(0.1, 0.9))
def test_anti_dive_and_anti_lift_share_the_brake_force(lower, upper, share):
    front = said_for(lower, upper, front_brake_share=share)
    rear = said_for(lower, upper, front_brake_share=share, axle="rear")

    assert front.anti_braking * (1 - share) == pytest.approx(-rear.anti_braking * share, abs=1e-12)
    assert front.anti_drive == pytest.approx(-rear.anti_drive)


@given(angles)
def test_parallel_arms_have_no_centre_and_say_so(angle):
    said = said_for(angle, angle)

    assert said.swing_arm is None
    assert said.contact_slope == pytest.approx(-math.tan(angle))
    assert "parallel" in said.flags[0]


def test_level_arms_do_nothing():
    assert said_for(0.0, 0.0).anti_braking == 0


def test_raising_the_lower_front_pivot_takes_anti_dive_away_and_the_upper_one_gives_it():
    """Common practice and virtual work agree; many think the opposite of the lower arm."""
    base = said_for(0.0, 0.05).anti_braking

    assert said_for(0.02, 0.05).anti_braking < base
    assert said_for(0.0, 0.07).anti_braking > base


def test_joints_the_wrong_way_up_are_refused():
    with pytest.raises(Refused, match="greater than the height of the lower joint"):
        said_for(0.0, 0.0, upper_joint_height=0.18)

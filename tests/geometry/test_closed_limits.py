"""Linkages whose answer is known in closed form: flat wishbones, trailing arms, Panhard rod, Watt linkage, converging links, beams."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from calc.geometry import planar
from calc.geometry.axle import Axle
from calc.geometry.beam import roll_centre_height
from calc.geometry.centres import slopes
from calc.geometry.linkages.kind import Wheel
from calc.geometry.linkages.trailing_arm import build as trailing_arm
from calc.geometry.motion import Corner
from calc.geometry.readings import reading
from calc.geometry.roll import roll_pair
from tests.geometry.linkages import AXLE_POINTS, axle_linkage
from tests.geometry.reference import derivative


def flat_wishbones(lower_inner=0.35, upper_inner=0.42, z=((0.18, 0.16), (0.44, 0.48))):
    """Return a double wishbone whose pivots run along the car, with its tie rod in the plane of the lower arm."""
    (z1, z2), (z3, z4) = z
    points = {"wheel_centre": (0.0, 0.75, 0.3)}
    for arm, inner, outer, low, high in (("lower", lower_inner, 0.7, z1, z2), ("upper", upper_inner, 0.66, z3, z4)):
        points[f"{arm}_arm_front_inner"], points[f"{arm}_arm_rear_inner"] = (0.2, inner, low), (-0.2, inner, low)
        points[f"{arm}_ball_joint"] = (0.0, outer, high)
    points |= {"tie_rod_inner": (-0.12, lower_inner, z1), "tie_rod_outer": (-0.12, 0.7, z2)}
    from calc.geometry.linkages.double_wishbone import build

    return build(points, Wheel(0.3))


def test_flat_wishbones_are_the_plane_case():
    corner = Corner(flat_wishbones())
    row = reading(corner, corner.state())
    plane = planar.front_view(((0.35, 0.18), (0.7, 0.16)), ((0.42, 0.44), (0.66, 0.48)), (0.75, 0.0))

    assert row.roll_centre_height == pytest.approx(plane.roll_centre_height, abs=1e-9)
    assert row.front_swing_arm == pytest.approx(plane.swing_arm, rel=1e-9)
    # the plane rate is per rise of the contact point, which for a wheel without camber rises as the wheel centre does
    assert row.camber_rate == pytest.approx(plane.camber_rate, rel=1e-9)
    assert row.contact_slope == pytest.approx(0.0, abs=1e-12)
    # the tie rod lies in the lower arm's plane and points at the instant centre: no bump steer
    assert row.toe_in_rate == pytest.approx(0.0, abs=1e-9)


def test_parallel_arms_have_their_centre_at_infinity_and_no_camber_change():
    corner = Corner(flat_wishbones(0.35, 0.31, ((0.2, 0.2), (0.45, 0.45))))
    row = reading(corner, corner.state())

    assert row.front_centre_y is None
    assert row.front_swing_arm is None
    assert row.camber_rate == pytest.approx(0.0, abs=1e-12)
    assert row.roll_centre_height == pytest.approx(0.0, abs=1e-12)


@given(travel=st.floats(-0.1, 0.1))
def test_pure_trailing_arm_keeps_camber_and_track(travel):
    points = {"wheel_centre": (0.0, 0.68, 0.285), "pivot_inner": (0.42, 0.3, 0.31), "pivot_outer": (0.42, 0.6, 0.31)}
    corner = Corner(trailing_arm(points, Wheel(0.285)))
    row = reading(corner, corner.state(travel))

    assert row.camber == pytest.approx(0.0, abs=1e-12)
    assert row.half_track_change == pytest.approx(0.0, abs=1e-12)
    assert row.roll_centre_height == 0.0
    assert row.wheel_dx == pytest.approx(math.sqrt(0.42**2 + 0.025**2 - (0.025 - travel) ** 2) * -1 + 0.42, abs=1e-12)


def test_trailing_arms_lean_with_the_body():
    points = {"wheel_centre": (0.0, 0.68, 0.285), "pivot_inner": (0.42, 0.3, 0.31), "pivot_outer": (0.42, 0.6, 0.31)}
    corner = Corner(trailing_arm(points, Wheel(0.285)))

    pair = roll_pair(corner, corner, math.radians(3), 0.5)

    assert math.degrees(pair.left.camber_to_ground) == pytest.approx(-3.0, abs=1e-9)
    assert math.degrees(pair.right.camber_to_ground) == pytest.approx(3.0, abs=1e-9)
    assert pair.force_height == pytest.approx(0.0, abs=1e-9)


def with_long_level_links(linkage):
    """Return an axle whose links are level and twelve metres long: it rises nearly straight up."""
    points = dict(linkage.points)
    for name in list(points):
        if "link_chassis" in name:
            mate = points[name.replace("chassis", "axle")]
            points[name] = (mate[0] + 12.0, mate[1], mate[2])
    return linkage._replace(points=points)


@given(rise=st.floats(-0.08, 0.08))
def test_panhard_rod_of_the_full_axle_follows_its_closed_form_where_nothing_else_moves_it(rise):
    axle = Axle(with_long_level_links(axle_linkage("three_link_panhard")))
    rod_run, below = 0.94, 0.03

    # negative y: the chassis end is on the right
    assert -axle.reading(rise, rise).dy == pytest.approx(planar.panhard_shift(rod_run, below, rise), abs=2e-5)


@pytest.mark.parametrize("kind", ["watt", "watt_on_chassis"])
def test_watt_linkage_runs_straight_to_fifth_order(kind):
    axle = Axle(with_long_level_links(axle_linkage(kind)))

    for z in (0.03, 0.05, 0.08):
        shift = abs(axle.reading(z, z).dy)
        assert shift == pytest.approx(z**5 / (8 * 0.075 * 0.5**3), rel=0.1, abs=1e-6)


def test_converging_links_roll_about_the_line_through_their_apexes():
    """Plane construction: apex of the upper and of the lower pair in plan view, at the mean height of the pair on its line."""
    linkage = axle_linkage("four_link")
    points = linkage.points
    axle = Axle(linkage)
    row = axle.reading()

    def apex(chassis, end):
        a, b = np.array(points[chassis]), np.array(points[end])
        share = a[1] / (a[1] - b[1])
        return a + share * (b - a)

    upper = apex("upper_link_chassis_left", "upper_link_axle_left")
    lower = apex("lower_link_chassis_left", "lower_link_axle_left")
    line = lower - upper
    at_axle = upper + line * (0.0 - upper[0]) / line[0]
    assert row.roll_centre_height == pytest.approx(at_axle[2], abs=1e-9)
    assert row.roll_steer == pytest.approx(line[2] / line[0], abs=1e-9)


def test_truck_arms_turn_about_their_front_pivots_in_heave():
    axle = Axle(axle_linkage("trailing_arms"))
    row = axle.reading()

    assert row.side_centre_x == pytest.approx(0.7, abs=2e-2)
    assert row.side_centre_height == pytest.approx(0.33, abs=2e-2)


def test_all_axles_without_shift_are_where_they_were_drawn():
    for kind in AXLE_POINTS:
        row = Axle(axle_linkage(kind)).reading()
        assert (row.dx, row.dy, row.yaw, row.pinion) == pytest.approx((0, 0, 0, 0), abs=1e-12)


def test_slopes_do_not_run_away_when_a_centre_does():
    corner = Corner(flat_wishbones(0.35, 0.31, ((0.2, 0.2), (0.45, 0.45000001))))

    assert abs(slopes(corner.state()).lateral) < 1e-6


@given(data=st.data())
@settings(max_examples=20)
def test_the_roll_centre_of_a_beam_is_the_slope_of_its_wheels_path(data):
    """The contact point as a carrier-fixed point, turned about the line bush - shear centre; differences of high order."""
    bush = (data.draw(st.floats(0.3, 0.5)), data.draw(st.floats(0.45, 0.65)), data.draw(st.floats(0.2, 0.4)))
    shear = (data.draw(st.floats(0.05, 0.35)), 0.0, data.draw(st.floats(0.2, 0.4)))
    contact = np.array([0.0, 0.72, 0.0])
    axis = np.subtract(shear, bush) / np.linalg.norm(np.subtract(shear, bush))

    moves = derivative(lambda angle: bush + Rotation.from_rotvec(angle * axis).apply(contact - bush), 0.0, 1e-2)

    assert roll_centre_height(bush, shear, tuple(contact)) == pytest.approx(0.72 * moves[1] / moves[2], rel=1e-9)

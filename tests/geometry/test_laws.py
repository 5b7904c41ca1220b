"""Laws every linkage keeps: mirror symmetry, there and back, no jump, virtual work, limits with a closed form."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from calc.geometry import planar
from calc.geometry.axle import Axle
from calc.geometry.beam import roll_centre_height
from calc.geometry.centres import drawn_axis, slopes, virtual_axis
from calc.geometry.linkages.kind import Wheel
from calc.geometry.linkages.trailing_arm import build as trailing_arm
from calc.geometry.loads import member_loads
from calc.geometry.motion import Corner
from calc.geometry.readings import reading
from calc.geometry.roll import roll_pair
from calc.geometry.vectors import dot, mirrored, norm
from calc.geometry.walk import General
from calc.geometry.wheel import camber, toe_in
from calc.refusal import Refused
from tests.geometry.linkages import AXLE_POINTS, POINTS, axle_linkage, corner_linkage
from tests.geometry.reference import derivative

SEEDS = st.integers(0, 10_000)
FORCES = st.floats(-6000, 6000)


@pytest.mark.parametrize("kind", POINTS)
@given(seed=SEEDS, travel=st.floats(-0.05, 0.05), rack=st.floats(-0.02, 0.02))
@settings(max_examples=15)
def test_a_mirrored_linkage_moves_as_the_mirror_image(kind, seed, travel, rack):
    linkage = corner_linkage(kind, seed)
    left = Corner(linkage)
    right = Corner(linkage._replace(points={name: mirrored(at) for name, at in linkage.points.items()}))
    rack = rack if linkage.tie_rod else 0.0

    one, other = left.pose(travel, rack), right.pose(travel, -rack)

    assert mirrored(other.centre) == pytest.approx(one.centre, abs=1e-10)
    signs = (1, -1, 1, -1, 1, -1, 1, -1, 1)
    assert [s * r for s, r in zip(signs, other.turn, strict=True)] == pytest.approx(one.turn, abs=1e-10)


@pytest.mark.parametrize("kind", POINTS)
@given(seed=SEEDS)
@settings(max_examples=8)
def test_there_and_back_ends_at_the_start(kind, seed):
    corner = Corner(corner_linkage(kind, seed))
    up = [0.005 * i for i in range(11)]
    pose = corner.drawn
    for z in [*up, *reversed(up)]:
        pose = corner._solve((z, 0.0), pose, 0.005)

    assert pose.centre == pytest.approx(corner.drawn.centre, abs=1e-10)
    assert pose.turn == pytest.approx(corner.drawn.turn, abs=1e-9)


@pytest.mark.parametrize("kind", POINTS)
@given(seed=SEEDS)
@settings(max_examples=5)
def test_a_sweep_is_the_same_as_single_positions_and_does_not_jump(kind, seed):
    corner = Corner(corner_linkage(kind, seed))
    travels = [0.01 * i for i in range(-5, 6)]

    swept = corner.sweep(travels)

    for state, z in zip(swept, travels, strict=True):
        assert state.pose.centre == pytest.approx(corner.pose(z).centre, abs=1e-10)
        assert state.pose.centre[2] - corner.height == pytest.approx(z, abs=1e-10)
    for before, after in pairwise(swept):
        assert norm(np.subtract(after.spin, before.spin)) < 0.05


@pytest.mark.parametrize("kind", POINTS)
def test_the_general_solver_agrees_with_the_closed_form(kind):
    for seed in range(6):
        corner = Corner(corner_linkage(kind, seed))
        if corner.closed is None:
            continue
        closed = [corner.pose(z).centre for z in (-0.05, 0.03)]
        corner.closed, corner.general = None, General(corner.mechanism, (corner.height,))
        general = [corner.pose(z).centre for z in (-0.05, 0.03)]
        assert np.array(general) == pytest.approx(np.array(closed), abs=1e-10)


@pytest.mark.parametrize("kind", POINTS)
@given(seed=SEEDS, travel=st.floats(-0.04, 0.04), force=st.tuples(FORCES, FORCES, st.floats(500, 9000)))
@settings(max_examples=12)
def test_link_loads_do_the_same_work_as_the_contact_force(kind, seed, travel, force):
    corner = Corner(corner_linkage(kind, seed))
    state = corner.state(travel)
    spring = corner.parts.length(corner.linkage.springs["spring"], state.pose, state.per_travel)

    loads = member_loads(corner, state, force)

    work = dot(force, state.per_travel.at(state.pose.centre, state.contact))
    assert loads.spring * spring.ratio == pytest.approx(work, rel=1e-8, abs=1e-5)


@pytest.mark.parametrize("kind", ["five_link", "strut", "trailing_arm"])
def test_torque_on_the_body_brings_no_couple_about_the_spin_axis(kind):
    """Virtual work again: the longitudinal force then works with the velocity of the wheel centre."""
    corner = Corner(corner_linkage(kind))
    state = corner.state(0.02)
    force = (-3000.0, 0.0, 0.0)
    spring = corner.parts.length(corner.linkage.springs["spring"], state.pose, state.per_travel)

    loads = member_loads(corner, state, force, torque_on_body=True)

    assert loads.spring * spring.ratio == pytest.approx(force[0] * state.per_travel.velocity[0], rel=1e-9)


def test_with_two_ball_joints_the_virtual_axis_is_the_line_through_them():
    """Derived: with the spring on an arm the axis passes through both joints exactly."""
    for kind in ("double_wishbone", "strut"):
        corner = Corner(corner_linkage(kind, 7))
        state = corner.state(0.0)
        drawn, virtual = drawn_axis(corner, state), virtual_axis(corner, state)
        assert virtual.steering == pytest.approx(drawn, abs=1e-9)
        assert virtual.pitch == pytest.approx(0.0, abs=1e-12)


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


@pytest.mark.parametrize("kind", POINTS)
@given(seed=SEEDS, roll=st.floats(-0.06, 0.06), share=st.floats(0, 1))
@settings(max_examples=10)
def test_roll_to_the_other_side_swaps_the_wheels(kind, seed, roll, share):
    corner = Corner(corner_linkage(kind, seed))

    one, other = roll_pair(corner, corner, roll, share), roll_pair(corner, corner, -roll, 1 - share)

    assert other.left[:5] == pytest.approx(one.right[:5], abs=1e-10)
    assert other.force_height == pytest.approx(one.force_height, abs=1e-10)
    assert other.jacking == pytest.approx(-one.jacking, abs=1e-10)


@pytest.mark.parametrize("kind", POINTS)
def test_without_roll_the_force_centre_is_the_roll_centre_of_one_wheel(kind):
    corner = Corner(corner_linkage(kind, 3))

    pair = roll_pair(corner, corner, 0.0, 0.5)

    assert pair.force_height == pytest.approx(reading(corner, corner.state()).roll_centre_height, abs=1e-12)
    assert pair.jacking == pytest.approx(0.0, abs=1e-12)
    assert pair.centre_y is None or pair.centre_y == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("kind", [kind for kind in POINTS if kind != "trailing_arm"])
def test_beyond_a_lock_the_refusal_says_how_far_it_goes(kind):
    corner = Corner(corner_linkage(kind))
    low, high = corner.limits()

    assert low is not None
    assert high is not None
    for limit, way in ((low, "droop"), (high, "bump")):
        corner.state(0.99 * limit)
        with pytest.raises(Refused) as caught:
            corner.state(1.02 * limit)
        assert caught.value.input == "travel"
        assert way in caught.value.rule
        said = float(caught.value.rule.split(" mm of")[0].split()[-1])
        assert said == pytest.approx(1000 * abs(limit), abs=0.2)


@pytest.mark.parametrize("kind", ["double_wishbone", "five_link", "strut"])
def test_a_rack_too_far_is_refused_by_its_own_name(kind):
    corner = Corner(corner_linkage(kind))

    with pytest.raises(Refused, match=r"rack .* mm to the right"):
        corner.state(0.0, -0.3)

    right, _ = corner.rack_limits()
    assert -0.3 < right < -0.05
    corner.state(0.0, 0.99 * right)


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


def test_over_and_under_held_wheels_are_refused_apart():
    whole = corner_linkage("five_link")
    free = whole._replace(links=whole.links[1:], tie_rod=None)
    held = whole._replace(links=(*whole.links, ("upper_front_inner", "lower_front_outer")))

    with pytest.raises(Refused, match="this one is free"):
        Corner(free)
    with pytest.raises(Refused, match="this one is over-held"):
        Corner(held)


def test_an_arm_that_stands_on_the_hinge_line_is_refused():
    points = {"wheel_centre": (0.0, 0.7, 0.3), "pivot_inner": (0.0, 0.3, 0.3), "pivot_outer": (0.0, 0.5, 0.3)}

    with pytest.raises(Refused):
        Corner(trailing_arm(points, Wheel(0.3)))


def test_camber_and_toe_as_drawn_are_the_static_ones():
    for kind in POINTS:
        state = Corner(corner_linkage(kind)).state()
        assert math.degrees(camber(state.spin)) == pytest.approx(-1.2, abs=1e-9)
        assert math.degrees(toe_in(state.spin)) == pytest.approx(0.15, abs=1e-9)


def test_slopes_do_not_run_away_when_a_centre_does():
    corner = Corner(flat_wishbones(0.35, 0.31, ((0.2, 0.2), (0.45, 0.45000001))))

    assert abs(slopes(corner.state()).lateral) < 1e-6


@pytest.mark.parametrize("kind", POINTS)
def test_a_far_position_is_the_one_reached_in_small_steps(kind):
    """Other assemblies satisfy the same lengths: a position must be the one that is walked to, close to the lock as well."""
    for seed in range(4):
        corner = Corner(corner_linkage(kind, seed))
        for limit in corner.limits():
            goal = 0.97 * (limit or 0.3)
            pose = corner.drawn
            for step in range(1, 201):
                pose = corner._solve((goal * step / 200, 0.0), pose, 0.002)
            assert corner.pose(goal).centre == pytest.approx(pose.centre, abs=1e-8)


@pytest.mark.parametrize("kind", POINTS)
def test_the_limit_is_where_walking_on_stops(kind):
    for seed in range(3):
        corner = Corner(corner_linkage(kind, seed))
        for limit, far in zip(corner.limits(), (-0.5, 0.5), strict=True):
            walked, _ = corner._end_of_way(corner.drawn, (0.0, 0.0), (far, 0.0))
            assert (limit is None) == (walked is None)
            if limit is not None:
                assert walked == pytest.approx(limit, abs=1e-4)


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

"""Laws every linkage keeps: mirror symmetry, there and back, no jump, virtual work, limits with a closed form."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.geometry.centres import drawn_axis, virtual_axis
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
from tests.geometry.linkages import POINTS, corner_linkage

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

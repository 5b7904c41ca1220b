"""Every linkage against the independent reference, on random but valid points: positions, rates, motion ratios; axles as well."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.geometry.axle import Axle
from calc.geometry.centres import slopes
from calc.geometry.linkages.live_axle import AXLES
from calc.geometry.motion import Corner
from calc.geometry.readings import reading
from calc.geometry.walk import General
from calc.geometry.wheel import camber, toe_in
from tests.geometry.linkages import POINTS, axle_linkage, corner_linkage
from tests.geometry.reference import Reference, derivative

SEEDS = st.integers(0, 10_000)


def metres(most):
    """Return lengths up to ``most`` either way, to a hundredth of a millimetre."""
    return st.integers(-round(most * 1e5), round(most * 1e5)).map(lambda n: n / 1e5)


TRAVELS = metres(0.055)


def test_the_differences_are_of_high_order():
    assert derivative(np.sin, 0.3, 0.05) == pytest.approx(np.cos(0.3), abs=1e-12)


@pytest.mark.parametrize("kind", POINTS)
@settings(max_examples=8)
@given(seed=SEEDS, travel=TRAVELS, rack=metres(0.03))
def test_positions(kind, seed, travel, rack):
    linkage = corner_linkage(kind, seed)
    rack = rack if linkage.tie_rod else 0.0
    reference = Reference(linkage)
    expected = reference.attitude(reference.solve([travel], rack))

    state = Corner(linkage).state(travel, rack)

    found = [*state.pose.centre, *state.spin, camber(state.spin), toe_in(state.spin), *state.contact]
    assert found == pytest.approx(expected, abs=2e-10)


@pytest.mark.parametrize("kind", POINTS)
@settings(max_examples=3)
@given(seed=SEEDS, travel=metres(0.04))
def test_rates_are_the_slopes_of_the_reference(kind, seed, travel):
    linkage = corner_linkage(kind, seed)
    reference = Reference(linkage)
    start = reference.solve([travel])

    def attitude(z):
        return reference.attitude(reference.solve([z], 0.0, start))

    expected = derivative(attitude, travel)

    corner = Corner(linkage)
    row = reading(corner, corner.state(travel))
    state = corner.state(travel)

    assert state.per_travel.velocity == pytest.approx(expected[:3], abs=1e-8)
    assert row.camber_rate == pytest.approx(expected[6], rel=1e-7, abs=1e-8)
    assert row.toe_in_rate == pytest.approx(expected[7], rel=1e-7, abs=1e-8)


@pytest.mark.parametrize("kind", [kind for kind in POINTS if corner_linkage(kind).tie_rod])
@settings(max_examples=3)
@given(seed=SEEDS, rack=metres(0.025))
def test_rates_with_the_rack(kind, seed, rack):
    linkage = corner_linkage(kind, seed)
    reference = Reference(linkage)
    start = reference.solve([0.0], rack)

    expected = derivative(lambda u: reference.attitude(reference.solve([0.0], u, start)), rack)

    state = Corner(linkage).state(0.0, rack)
    turned = np.cross(state.per_rack.turning, state.spin)
    assert state.per_rack.velocity == pytest.approx(expected[:3], abs=1e-8)
    assert turned == pytest.approx(expected[3:6], abs=1e-7)


@pytest.mark.parametrize("kind", POINTS)
@settings(max_examples=5)
@given(seed=SEEDS, travel=TRAVELS)
def test_motion_ratio_is_the_slope_of_the_spring_length(kind, seed, travel):
    corner = Corner(corner_linkage(kind, seed))

    slope = derivative(lambda z: [reading(corner, corner.state(z)).spring_length], travel)

    assert reading(corner, corner.state(travel)).spring_ratio == pytest.approx(-slope[0], abs=1e-7)


@pytest.mark.parametrize("kind", POINTS)
def test_slope_of_the_contact_is_that_of_the_carrier_not_of_the_lowest_point(kind):
    """The sheet of definitions: V_C = V + w x (C - W), with w from the rotation of the reference."""
    linkage = corner_linkage(kind)
    reference = Reference(linkage)
    start = reference.solve([0.0])
    point = reference.attitude(start)[8:]

    def fixed_point(z):
        q = reference.solve([z], 0.0, start)
        from scipy.spatial.transform import Rotation

        return reference.centre + q[:3] + Rotation.from_rotvec(q[3:6]).apply(point - reference.centre)

    moves = derivative(fixed_point, 0.0)
    found = slopes(Corner(linkage).state())
    assert found.lateral == pytest.approx(moves[1] / moves[2], abs=1e-8)
    assert found.contact == pytest.approx(moves[0] / moves[2], abs=1e-8)


@pytest.mark.parametrize("kind", AXLES)
@settings(max_examples=5)
@given(seed=SEEDS, left=metres(0.05), right=metres(0.05))
def test_axle_positions_and_rates(kind, seed, left, right):
    linkage = axle_linkage(kind, seed)
    reference = Reference(linkage)
    q = reference.solve([left, right])

    axle = Axle(linkage)
    state = axle.state(left, right)

    assert state.pose.centre == pytest.approx(reference.centre + q[:3], abs=1e-9)
    per_left = derivative(lambda z: reference.solve([z, right], 0.0, q)[:3], left)
    per_right = derivative(lambda z: reference.solve([left, z], 0.0, q)[:3], right)
    assert state.heave.velocity == pytest.approx(per_left + per_right, abs=1e-7)
    assert state.roll.velocity == pytest.approx(per_left - per_right, abs=1e-7)


@settings(max_examples=6)
@given(seed=SEEDS, travel=metres(0.04), rack=metres(0.03))
def test_a_steering_box_moves_the_tie_rod_on_an_arc(seed, travel, rack):
    linkage = corner_linkage("double_wishbone", seed)
    box = {
        "box_pivot": (-0.25, 0.33, 0.19),
        "box_pivot_above": (-0.24, 0.33, 0.29),
        "box_arm_end": (-0.118, 0.338, 0.19),
    }
    linkage = linkage._replace(points={**linkage.points, **box}, box=tuple(box))
    reference = Reference(linkage)
    q = reference.solve([travel], rack)

    corner = Corner(linkage)
    state = corner.state(travel, rack)

    assert [*state.pose.centre, *state.spin] == pytest.approx(reference.attitude(q)[:6], abs=2e-10)
    expected = derivative(lambda u: reference.attitude(reference.solve([travel], u, q))[:3], rack)
    assert state.per_rack.velocity == pytest.approx(expected, abs=1e-7)
    corner.closed, corner.general = None, General(corner.mechanism, (corner.height,))
    assert corner.pose(travel, rack).centre == pytest.approx(state.pose.centre, abs=1e-10)

"""Bars, blades and roll stiffness: definitions kept apart, laws, and beams integrated independently."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import quad

from calc.refusal import Refused
from calc.springs.bars.bar import anti_roll_bar
from calc.springs.bars.blade import Blade, bar_blade, rate_at
from calc.springs.bars.rate import OneWheel, at_wheel, bar_rates
from calc.springs.bars.roll import roll_stiffness

rates = st.floats(1e3, 100e3)
tracks = st.floats(1.1, 1.8)
BAR = {
    "outer_diameter": 0.022,
    "inner_diameter": 0.016,
    "twisted_length": 0.9,
    "lever": 0.24,
    "motion_ratio": 0.62,
    "track": 1.5,
}


@given(rates, tracks)
def test_the_three_rates_lead_to_each_other(rate, track):
    one = bar_rates(track=track, one_wheel_rate=rate)
    two = bar_rates(track=track, opposite_rate=one.opposite)
    three = bar_rates(track=track, roll_stiffness=one.roll)

    assert two.one_wheel == pytest.approx(rate)
    assert three.one_wheel == pytest.approx(rate)


@given(rates, tracks, st.floats(-0.05, 0.05), st.floats(-0.05, 0.05))
def test_each_rate_is_what_its_name_says(rate, track, left, right):
    """Independent reference: wheel forces from the difference of travel, then each definition by its own movement."""
    bar = OneWheel(rate)

    def forces(a, b):
        return rate * (a - b), rate * (b - a)

    assert forces(left, 0.0)[0] == pytest.approx(bar.rate * left)
    assert forces(left, -left)[0] == pytest.approx(bar.opposite().rate * left)
    roll = 0.01
    up, down = forces(roll * track / 2, -roll * track / 2)
    assert (up - down) * track / 2 == pytest.approx(bar.roll(track).stiffness * roll)
    assert sum(forces(left, right)) == pytest.approx(0, abs=1e-9)


def test_only_one_of_the_three_may_be_given():
    with pytest.raises(Refused, match="only one"):
        bar_rates(track=1.5)
    with pytest.raises(Refused, match="only one"):
        bar_rates(track=1.5, one_wheel_rate=1e3, opposite_rate=2e3)


@given(st.floats(0.012, 0.035), st.floats(0, 0.9), st.floats(0.4, 1.2), st.floats(0.1, 0.35), st.floats(0.3, 1.0))
def test_the_bar_stores_the_work_of_rolling(outer, bore, length, lever, ratio):
    """Independent reference: energy of the twist, with scipy's integral along the bar, against half K phi squared."""
    said = anti_roll_bar(
        outer_diameter=outer,
        inner_diameter=bore * outer,
        twisted_length=length,
        lever=lever,
        motion_ratio=ratio,
        track=1.5,
        roll_angle=0.02,
    )
    polar = math.pi * (outer**4 - (bore * outer) ** 4) / 32
    twist, _ = quad(lambda _: (said.link_force * lever) ** 2 / (2 * 79.5e9 * polar), 0, length)

    assert twist == pytest.approx(said.roll_stiffness * 0.02**2 / 2, rel=1e-9)
    assert said.twist * lever == pytest.approx(said.end_difference)


@given(st.floats(0.1, 0.4), st.floats(4e-3, 15e-3), st.floats(10e-3, 40e-3), st.sampled_from(["round", "flat"]))
def test_arms_and_links_only_soften(length, width, depth, shape):
    arms = {"arms": shape, "arm_length": length, "arm_width": width, "arm_depth": depth}
    stiff, bent = anti_roll_bar(**BAR), anti_roll_bar(**BAR, **arms)
    linked = anti_roll_bar(**BAR, **arms, link_rate=500e3)

    assert linked.one_wheel_rate < bent.one_wheel_rate < stiff.one_wheel_rate
    assert bent.opposite_rate == pytest.approx(2 * bent.one_wheel_rate)
    assert bent.roll_stiffness == pytest.approx(bent.one_wheel_rate * 1.5**2)


def test_a_very_stiff_arm_changes_nothing():
    assert anti_roll_bar(**BAR, blade_rate=1e13).end_rate == pytest.approx(anti_roll_bar(**BAR).end_rate)


def test_the_chain_to_the_wheel_squares_the_ratio():
    said = anti_roll_bar(**BAR)

    assert said.one_wheel_rate == pytest.approx(at_wheel(said.end_rate, 0.62).rate)
    assert anti_roll_bar(**BAR, link_tilt=0.3).one_wheel_rate == pytest.approx(said.one_wheel_rate * math.cos(0.3) ** 2)


@pytest.mark.parametrize("missing", ["arm_length", "arm_width", "arm_depth"])
def test_a_flat_arm_needs_its_sizes(missing):
    sizes = {"arm_length": 0.25, "arm_width": 0.01, "arm_depth": 0.028}
    with pytest.raises(Refused) as caught:
        anti_roll_bar(**BAR, arms="flat", **{name: size for name, size in sizes.items() if name != missing})

    assert caught.value.input == missing


def test_a_bar_worked_hard_is_flagged_and_one_that_yields_more_so():
    assert not anti_roll_bar(**BAR, shear_yield=700e6, roll_angle=0.03).flags
    assert any("short" in flag for flag in anti_roll_bar(**BAR, shear_yield=200e6, roll_angle=0.035).flags)
    assert any("takes a set" in flag for flag in anti_roll_bar(**BAR, shear_yield=200e6, roll_angle=0.2).flags)


sizes = st.tuples(st.floats(2e-3, 8e-3), st.floats(12e-3, 40e-3), st.floats(0.08, 0.35))


@given(sizes, st.floats(0, math.pi / 2), st.floats(1, 3000))
def test_a_turned_blade_is_a_beam_bent_about_both_axes(size, angle, force):
    """Independent reference: the tensor of compliances of the section, turned by a rotation matrix of numpy."""
    b, h, length = size
    said = bar_blade(thickness=b, height=h, length=length, angle=angle, force=force)
    principal = np.diag([length**3 / (3 * 206e9 * h * b**3 / 12), length**3 / (3 * 206e9 * b * h**3 / 12)])
    turn = np.array([[math.cos(angle), -math.sin(angle)], [math.sin(angle), math.cos(angle)]])
    compliance = turn.T @ principal @ turn

    assert said.rate == pytest.approx(1 / compliance[0, 0], rel=1e-9)
    guided = bar_blade(thickness=b, height=h, length=length, angle=angle, force=force, tip="guided")
    assert guided.rate == pytest.approx(np.linalg.inv(compliance)[0, 0], rel=1e-9)


@given(sizes, st.floats(0, math.pi / 2), st.floats(1, 3000), st.sampled_from(["free", "guided"]))
def test_the_stress_is_that_of_the_bending_moments(size, angle, force, tip):
    """Independent reference: stiffness tensor times the tip's movement gives the force each way; stress from both moments at the root."""
    b, h, length = size
    said = bar_blade(thickness=b, height=h, length=length, angle=angle, force=force, tip=tip)
    soft, hard = said.soft_rate, said.hard_rate
    along = np.array([math.cos(angle), math.sin(angle)])
    pulls = force * along if tip == "free" else np.array([soft, hard]) * along * said.deflection
    moments = pulls * length

    assert said.stress == pytest.approx(moments[0] * 6 / (h * b**2) + moments[1] * 6 / (b * h**2), rel=1e-9)


@given(sizes, st.floats(0.4, 1), st.floats(0.4, 1))
def test_a_tapered_blade_is_integrated(size, thin, low):
    """Independent reference: scipy's integral of x squared over E I along the taper."""
    b, h, length = size
    blade = Blade(length, (b, b * thin), (h, h * low), 206e9)

    def inertia(x):
        here = [tip + (root - tip) * x / length for root, tip in ((b, b * thin), (h, h * low))]
        return here[1] * here[0] ** 3 / 12, here[0] * here[1] ** 3 / 12

    for way in (0, 1):
        compliance, _ = quad(lambda x, way=way: x**2 / (206e9 * inertia(x)[way]), 0, length, epsrel=1e-12)
        assert blade.rates()[way] == pytest.approx(1 / compliance, rel=1e-8)


@given(st.floats(0, math.pi / 2), st.floats(0, math.pi / 2), st.floats(2, 200))
def test_turning_towards_hard_only_stiffens_and_a_guided_tip_is_stiffer(first, second, ratio):
    low, high = sorted((first, second))
    for tip in ("free", "guided"):
        assert rate_at(1.0, ratio, high, tip) >= rate_at(1.0, ratio, low, tip) * (1 - 1e-12)
    assert rate_at(1.0, ratio, low, "guided") >= rate_at(1.0, ratio, low, "free") * (1 - 1e-12)


AXLES = {
    "front_rate": 40e3,
    "front_bar": 9e3,
    "front_tyre": 210e3,
    "front_track": 1.5,
    "rear_rate": 45e3,
    "rear_bar": 3e3,
    "rear_tyre": 220e3,
    "rear_track": 1.48,
}


@given(rates, st.floats(0, 60e3), st.floats(120e3, 400e3), tracks)
def test_axle_stiffness_is_that_of_springs_solved_at_both_wheels(rate, bar, tyre, track):
    """Independent reference: heights of two wheels on tyres under a body turned by phi, solved by numpy; moment from the tyre forces."""
    said = roll_stiffness(**{**AXLES, "front_rate": rate, "front_bar": bar, "front_tyre": tyre, "front_track": track})
    phi = 0.01
    body = np.array([phi * track / 2, -phi * track / 2])
    suspension = np.array([[rate + bar, -bar], [-bar, rate + bar]])
    wheels = np.linalg.solve(suspension + tyre * np.eye(2), suspension @ body)
    moment = tyre * (wheels[0] - wheels[1]) * track / 2

    assert said.front == pytest.approx(moment / phi, rel=1e-9)


def test_a_live_axle_counts_its_spring_base():
    live = {**AXLES, "rear_suspension": "live_axle", "rear_spring_base": 1.0}

    assert roll_stiffness(**live).rear_springs == pytest.approx(45e3 * 1.0**2 / 2)
    with pytest.raises(Refused) as caught:
        roll_stiffness(**{**live, "rear_spring_base": None})
    assert caught.value.input == "rear_spring_base"


@given(st.floats(100, 60e3))
def test_a_stiffer_front_bar_moves_the_share_forward(more):
    assume(more > 1)
    base, stiff = roll_stiffness(**AXLES), roll_stiffness(**{**AXLES, "front_bar": 9e3 + more})

    assert stiff.front_share > base.front_share
    assert stiff.rear == base.rear


def test_a_car_that_would_fall_over_is_refused():
    car = {**AXLES, "sprung_mass": 1000.0, "cg_above_roll_axis": 0.4}

    assert roll_stiffness(**car).net == pytest.approx(roll_stiffness(**AXLES).total - 1000 * 9.80665 * 0.4)
    with pytest.raises(Refused, match="fall over") as caught:
        roll_stiffness(**{**car, "cg_above_roll_axis": 40.0})
    assert caught.value.input == "sprung_mass"

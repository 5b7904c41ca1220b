"""Springs together, preload, press readings, rubber and torsion bar: laws, and numpy, scipy as independent references."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from calc.refusal import Refused
from calc.springs.nested import nested_springs
from calc.springs.preload import preload
from calc.springs.press import Reading, press_rate
from calc.springs.rubber import Pressed, bump_rubber
from calc.springs.stack import InSeries, Stack, series_springs
from calc.springs.torsion_bar import torsion_bar_spring

rates = st.floats(5e3, 300e3)
stacks = st.lists(st.tuples(rates, st.floats(0.005, 0.15)), min_size=1, max_size=4).map(
    lambda rows: Stack((InSeries(rows[0][0]), *(InSeries(*row) for row in rows[1:])))
)


@given(stacks, st.floats(0, 8000))
def test_force_undoes_travel(stack, force):
    assert stack.force(stack.travel(force)) == pytest.approx(force, rel=1e-9, abs=1e-6)


@given(stacks, st.floats(0, 8000), st.floats(1, 2000))
def test_a_stack_never_softens_as_it_is_pressed(stack, force, more):
    assert stack.rate(force + more) >= stack.rate(force) * (1 - 1e-12)
    assert stack.travel(force + more) > stack.travel(force)


@given(stacks, st.floats(10, 8000))
def test_the_rate_is_the_slope_of_the_force(stack, force):
    step = 1e-3
    assume(all(abs(force - block) > 1 for block in stack.block_forces()))
    slope = 2 * step / (stack.travel(force + step) - stack.travel(force - step))

    assert stack.rate(force) == pytest.approx(slope, rel=1e-6)


@given(stacks)
def test_a_stack_is_softer_than_its_softest_spring(stack):
    assert stack.rate(0.0) <= min(spring.rate for spring in stack.springs) * (1 + 1e-12)


def test_what_blocks_is_said():
    late = series_springs(springs=(InSeries(60e3, 0.02), InSeries(25e3, 0.2)), static_force=500.0)
    solid = series_springs(springs=(InSeries(60e3, 0.02), InSeries(25e3, 0.02)), static_force=3000.0)

    assert any("stiffest spring blocks first" in flag for flag in late.flags)
    assert any("coil bind" in flag for flag in solid.flags)
    assert solid.static_rate is None


@given(rates, rates, st.floats(0, 0.05), st.floats(0, 10e3))
def test_nested_springs_carry_the_force_between_them(first, second, gap, force):
    said = nested_springs(first_rate=first, second_rate=second, gap=gap, force=force)
    travel = brentq(lambda s: first * s + second * max(0.0, s - gap) - force, 0, force / first + 1e-9)

    assert said.first_force + said.second_force == pytest.approx(force)
    assert said.deflection == pytest.approx(travel, rel=1e-6, abs=1e-9)


@given(rates, st.floats(0, 0.03), st.floats(100, 6000), st.floats(0.4, 1.1), st.floats(-3, 3))
def test_perch_turns_move_the_body_and_keep_the_sum_of_droop_and_preload(rate, start, force, ratio, turns):
    said = preload(spring_rate=rate, preload=start, static_force=force, motion_ratio=ratio, turns=turns, pitch=0.002)

    assert said.preload_after + said.droop_spring == pytest.approx(force / rate)
    assert said.body_rise * ratio == pytest.approx(turns * 0.002, abs=1e-12)


def test_a_topped_out_damper_and_a_loose_spring_are_flagged():
    assert any("topped out" in flag for flag in preload(spring_rate=50e3, preload=0.06, static_force=2600).flags)
    assert any("loose" in flag for flag in preload(spring_rate=50e3, preload=0.0, static_force=2600, turns=-2).flags)


@given(rates, st.floats(-0.005, 0.005), st.integers(5, 15), st.integers(0, 9999))
def test_the_press_rate_is_that_of_numpy(rate, offset, count, seed):
    rng = np.random.default_rng(seed)
    x = np.linspace(0.02, 0.09, count)
    F = rate * (x - offset) + rng.normal(size=count) * rate * 1e-4
    said = press_rate(readings=tuple(map(Reading, x.tolist(), F.tolist())), leave_out_first=0)
    (slope, constant), covariance = np.polyfit(x, F, 1, cov=True)

    assert said.rate == pytest.approx(slope, rel=1e-9)
    assert said.intercept == pytest.approx(constant, rel=1e-6, abs=1e-6 * rate)
    assert (
        said.uncertainty > math.sqrt(covariance[0, 0]) * 1.9
    )  # Student's t is above the normal 1.96, cov above ours by none
    assert said.rate_all == said.rate


def test_the_uncertainty_covers_the_truth_as_often_as_it_says():
    """Independent reference: 2000 simulated presses; 95 % of the intervals hold the true rate."""
    rng, held = np.random.default_rng(5), 0
    x = np.linspace(0.01, 0.07, 6)
    for _ in range(2000):
        F = 60e3 * x + rng.normal(size=6) * 8
        said = press_rate(readings=tuple(map(Reading, x.tolist(), F.tolist())), leave_out_first=0)
        held += abs(said.rate - 60e3) <= said.uncertainty

    assert held / 2000 == pytest.approx(0.95, abs=0.015)


@given(rates, st.floats(2e5, 5e7))
def test_the_give_of_the_press_is_taken_off(rate, press):
    assume(press > 1.2 * rate)
    read = rate * press / (rate + press)
    rows = tuple(Reading(x, read * x) for x in (0.01, 0.02, 0.03, 0.04, 0.05))

    assert press_rate(readings=rows, press_stiffness=press).rate == pytest.approx(rate)


def test_a_rising_spring_is_called_rising_and_its_tangents_given():
    rows = tuple(Reading(x / 1000, 40 * x + 0.3 * x**2) for x in range(0, 80, 10))
    said = press_rate(readings=rows, leave_out_first=0)

    assert said.shape == "rising"
    assert said.rate_low == pytest.approx(40e3, rel=1e-6)
    assert said.rate_high == pytest.approx((40 + 0.6 * 70) * 1e3, rel=1e-6)
    assert said.flags


def test_a_window_by_travel_takes_30_to_70_per_cent():
    rows = tuple(Reading(x / 1000, 60 * x) for x in range(0, 101, 10))

    assert press_rate(readings=rows, travel_to_solid=0.1).used == 5
    with pytest.raises(Refused, match="two different compressions"):
        press_rate(readings=rows, travel_to_solid=1.0)


@pytest.mark.parametrize(
    "rows", [((0.01, 500.0), (0.01, 510.0), (0.01, 505.0)), ((0.01, 500.0), (0.02, 600.0), (0.03, 400.0))]
)
def test_readings_that_are_no_spring_are_refused(rows):
    with pytest.raises(Refused, match="readings"):
        press_rate(readings=tuple(Reading(*row) for row in rows), leave_out_first=1)


@given(st.lists(st.tuples(st.floats(1e-3, 1e-2), st.floats(1, 900)), min_size=2, max_size=9), st.floats(0, 1))
def test_the_rubber_takes_the_energy_under_its_curve(steps, share):
    x, F = (np.cumsum(column).tolist() for column in zip(*steps, strict=True))
    rows = tuple(map(Pressed, x, F))
    end = share * x[-1]
    said = bump_rubber(readings=rows, compression=end)
    wanted, _ = quad(
        lambda at: bump_rubber(readings=rows, compression=at).force, 0, end, points=[p for p in x if p < end], limit=200
    )

    assert said.energy == pytest.approx(wanted, rel=1e-7, abs=1e-9)
    assert 0 <= said.force <= F[-1] * (1 + 1e-12)


def test_rubber_is_not_read_beyond_its_table():
    rows = (Pressed(0.01, 100.0), Pressed(0.02, 400.0))

    with pytest.raises(Refused, match="measured range") as caught:
        bump_rubber(readings=rows, compression=0.021)
    assert caught.value.input == "compression"
    with pytest.raises(Refused) as caught:
        bump_rubber(readings=(rows[1], rows[0]), compression=0.01)
    assert caught.value.input == "readings[2].compression"


@given(st.floats(0.015, 0.04), st.floats(0, 0.9), st.floats(0.1, 0.5), st.floats(-0.9, 0.9), st.floats(-500, 900))
def test_the_lever_rate_is_the_slope_of_its_vertical_force(outer, bore, lever, angle, torque):
    """Independent reference: the vertical force at two heights of the lever end, by central difference."""
    said = torsion_bar_spring(
        outer_diameter=outer,
        inner_diameter=bore * outer,
        twisted_length=0.9,
        lever=lever,
        lever_angle=angle,
        torque=torque,
    )

    def force(height):
        turned = math.asin(height / lever)
        return (torque + said.torsional_rate * (turned - angle)) / (lever * math.cos(turned))

    here, step = lever * math.sin(angle), lever * 1e-5
    slope = (force(here + step) - force(here - step)) / (2 * step)
    assert said.lever_rate == pytest.approx(slope, rel=1e-6, abs=1e-6 * said.level_rate)


def test_a_bar_that_snaps_through_or_yields_is_flagged():
    bar = {"outer_diameter": 0.02, "twisted_length": 1.0, "lever": 0.2}

    assert torsion_bar_spring(**bar, lever_angle=1.0, torque=-3000.0).flags
    assert torsion_bar_spring(**bar, torque=900.0, shear_yield=500e6).flags
    assert not torsion_bar_spring(**bar, torque=100.0, shear_yield=500e6).flags

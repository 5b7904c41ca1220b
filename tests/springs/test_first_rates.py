"""Wheel rate, ride frequency and spring choice: inverses, limits, and an independent oscillator."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from calc.refusal import Refused
from calc.springs.choice import spring_for_frequency
from calc.springs.ride import FREQUENCY_BANDS, ride_frequency
from calc.springs.wheel_rate import wheel_rate

rates = st.floats(5e3, 3e5)
ratios = st.floats(0.3, 1.2)


@given(rates, ratios, st.floats(0, 1.2))
def test_virtual_work_gives_the_wheel_rate(spring, ratio, angle):
    """Independent of the formula: move the wheel, take the spring's force from its own travel, bring it back to the wheel."""
    said = wheel_rate(spring_rate=spring, lever_ratio=ratio, spring_angle=angle, tyre_rate=2e5)

    travel = 0.001
    spring_travel = travel * ratio * math.cos(angle)
    force_at_wheel = spring * spring_travel * spring_travel / travel
    assert force_at_wheel / travel == pytest.approx(said.wheel_rate)


@given(rates, ratios)
def test_a_hard_tyre_leaves_the_wheel_rate(spring, ratio):
    said = wheel_rate(spring_rate=spring, lever_ratio=ratio, tyre_rate=1e12)

    assert said.ride_rate == pytest.approx(said.wheel_rate, rel=1e-5)


@given(rates, st.floats(1e4, 1e6))
def test_the_tyre_in_series_softens(spring, tyre):
    said = wheel_rate(spring_rate=spring, lever_ratio=1.0, tyre_rate=tyre)

    assert said.ride_rate < min(said.wheel_rate, tyre)


def test_bushes_stand_beside_the_spring():
    with_rubber = wheel_rate(spring_rate=60e3, lever_ratio=0.8, tyre_rate=2e5, bush_rate=4e3)

    assert with_rubber.wheel_rate - wheel_rate(spring_rate=60e3, lever_ratio=0.8, tyre_rate=2e5).wheel_rate == 4e3


def test_a_ratio_that_falls_too_fast_is_refused():
    with pytest.raises(Refused, match="wheel rate above 0"):
        wheel_rate(spring_rate=20e3, lever_ratio=0.5, tyre_rate=2e5, spring_force=8000.0, motion_ratio_gradient=-1.0)


@pytest.mark.parametrize(("mass", "rate"), [(250.0, 25e3), (140.0, 90e3)])
def test_a_simulated_corner_bounces_at_the_frequency(mass, rate):
    """Independent numerical reference: scipy solve_ivp on the equation of motion, frequency from its zero crossings."""
    crossing = lambda t, x: x[0]  # noqa: E731  # scipy wants a function with attributes
    crossing.direction = 1
    run = solve_ivp(
        lambda t, x: (x[1], -rate / mass * x[0]), (0, 5), (0.02, 0.0), events=crossing, rtol=1e-10, atol=1e-12
    )
    measured = 1 / np.diff(run.t_events[0]).mean()

    assert ride_frequency(sprung_mass=mass, wheel_rate=rate, tyre_rate=2e5).body_frequency == pytest.approx(
        measured, rel=1e-6
    )


@given(st.floats(80, 500), st.floats(0.8, 4), ratios, st.sampled_from(["body", "with_tyre"]))
def test_the_chosen_spring_gives_the_wanted_frequency(mass, frequency, ratio, meaning):
    tyre = 4e5
    if meaning == "with_tyre" and mass * (2 * math.pi * frequency) ** 2 > 0.9 * tyre:
        return
    chosen = spring_for_frequency(
        sprung_mass=mass, frequency=frequency, meaning=meaning, tyre_rate=tyre, motion_ratio=ratio
    )
    at_wheel = wheel_rate(spring_rate=chosen.spring_rate, lever_ratio=ratio, tyre_rate=tyre).wheel_rate
    said = ride_frequency(sprung_mass=mass, wheel_rate=at_wheel, tyre_rate=tyre)

    assert (said.body_frequency if meaning == "body" else said.ride_frequency) == pytest.approx(frequency)


def test_a_frequency_above_that_of_the_tyre_alone_is_refused():
    with pytest.raises(Refused, match="must be below 4"):
        spring_for_frequency(sprung_mass=250.0, frequency=6.0, meaning="with_tyre", tyre_rate=2e5, motion_ratio=1.0)


def test_the_bands_of_practice_join_without_gaps():
    for (_, high, _), (low, _, _) in pairwise(FREQUENCY_BANDS):
        assert high == low

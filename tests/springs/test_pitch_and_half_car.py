"""Pitch, bounce, flat ride and the half car: eigenvalues, motion and limits by numpy and scipy."""

import math

import numpy as np
import pytest
import scipy.linalg
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from calc import load
from calc.refusal import Refused
from calc.springs.road.half import End, Half
from calc.springs.road.pitch import swings
from calc.springs.road.quarter import Quarter

ends = st.builds(
    End,
    rate=st.floats(20e3, 300e3),
    damping=st.floats(1000, 20000),
    mass=st.floats(30, 150),
    tyre=st.floats(240e3, 800e3),
)
cars = st.builds(
    Half,
    ms=st.floats(400, 1600),
    rho=st.floats(0.8, 1.6),
    a=st.floats(0.9, 1.8),
    b=st.floats(0.9, 1.8),
    front=ends,
    rear=ends,
)


def matrices(car):
    """Mass, damping and stiffness written again, from the energy of each spring and damper."""
    lines = np.array([[1, -car.a, -1, 0], [1, car.b, 0, -1]])
    M = np.diag([car.ms, car.ms * car.rho**2, car.front.mass, car.rear.mass])
    K = lines.T @ np.diag([car.front.rate, car.rear.rate]) @ lines + np.diag([0, 0, car.front.tyre, car.rear.tyre])
    C = lines.T @ np.diag([car.front.damping, car.rear.damping]) @ lines
    return M, C, K


@given(
    st.floats(400, 1600),
    st.floats(0.7, 1.7),
    st.floats(0.8, 2),
    st.floats(0.8, 2),
    st.floats(20e3, 300e3),
    st.floats(20e3, 300e3),
)
def test_pitch_and_bounce_are_those_of_the_general_eigenproblem(ms, rho, a, b, kf, kr):
    K = np.array([[kf + kr, kr * b - kf * a], [kr * b - kf * a, kf * a**2 + kr * b**2]])
    assume(abs(K[0, 1]) > 1e-6 * K[0, 0])
    values, vectors = scipy.linalg.eigh(K, np.diag([ms, ms * rho**2]))
    wanted = sorted(
        (math.sqrt(value) / (2 * math.pi), z / theta) for value, (z, theta) in zip(values, vectors.T, strict=True)
    )
    found = sorted((swing.frequency, swing.node) for swing in swings(ms, rho, a, b, kf, kr))

    for (f, node), (f_wanted, node_wanted) in zip(found, wanted, strict=True):
        assert f == pytest.approx(f_wanted, rel=1e-9)
        assert node == pytest.approx(node_wanted, rel=1e-5)


@given(
    st.floats(400, 1600),
    st.floats(0.7, 1.7),
    st.floats(0.8, 2),
    st.floats(0.8, 2),
    st.floats(20e3, 300e3),
    st.floats(20e3, 300e3),
)
def test_the_two_nodes_stand_on_both_sides_rho_squared_apart(ms, rho, a, b, kf, kr):
    assume(abs(kr * b - kf * a) > 1e-6 * (kf + kr))
    bounce, pitch = swings(ms, rho, a, b, kf, kr)

    assert bounce.node * pitch.node == pytest.approx(-(rho**2), rel=1e-6)
    assert abs(bounce.node) >= rho * (1 - 1e-9) >= abs(pitch.node) * (1 - 1e-8)


def test_balanced_rates_decouple_without_dividing_by_nothing():
    bounce, pitch = swings(800, math.sqrt(1.1), 1.1, 1.3, 26e3, 22e3)

    assert bounce.node is None
    assert pitch.node == 0


@given(st.floats(2.0, 3.0), st.floats(8, 60), st.floats(1, 3), st.floats(0.5, 3))
def test_at_flat_ride_both_ends_finish_together(wheelbase, speed, front, cycles):
    assume(cycles / front > 1.01 * wheelbase / speed)
    said = load("flat_ride")(wheelbase=wheelbase, speed=speed, front_frequency=front, cycles=cycles)

    assert said.rear_frequency * (cycles / front - said.delay) == pytest.approx(cycles)
    assert said.rear_frequency > front


def test_a_car_too_slow_for_a_flat_ride_is_refused():
    with pytest.raises(Refused, match="must be above") as caught:
        load("flat_ride")(wheelbase=2.5, speed=3.0, front_frequency=2.0, cycles=1.5)

    assert caught.value.input == "speed"


@given(cars)
def test_the_four_modes_are_those_of_scipy(car):
    M, C, K = matrices(car)
    undamped = np.sqrt(scipy.linalg.eigh(K, M, eigvals_only=True)) / (2 * math.pi)
    state = np.block([[np.zeros((4, 4)), np.eye(4)], [-np.linalg.solve(M, K), -np.linalg.solve(M, C)]])
    poles = scipy.linalg.eigvals(state)

    assert list(car.undamped()) == pytest.approx(undamped.tolist(), rel=1e-8)
    swinging = sorted((z for z in poles if z.imag > 1e-6), key=abs)
    assume(len(swinging) == 4)
    for mode, z in zip(car.damped(), swinging, strict=True):
        assert mode.omega == pytest.approx(abs(z), rel=1e-7)
        assert mode.ratio == pytest.approx(-z.real / abs(z), rel=1e-6)


@given(st.floats(400, 1600), st.floats(0.9, 1.8), st.floats(0.9, 1.8), ends, ends)
def test_with_a_dynamic_index_of_one_it_is_two_quarter_cars(ms, a, b, front, rear):
    car = Half(ms, math.sqrt(a * b), a, b, front, rear)
    quarters = [
        Quarter(ms * far / (a + b), end.mass, end.rate, end.tyre, end.damping).undamped()
        for far, end in ((b, front), (a, rear))
    ]
    wanted = sorted(omega / (2 * math.pi) for pair in quarters for omega in pair)

    assert list(car.undamped()) == pytest.approx(wanted, rel=1e-7)


@given(cars, st.integers(0, 999))
def test_the_motion_is_that_of_scipy(car, seed):
    """Independent reference: scipy solve_ivp over random roads drawn straight between the steps."""
    M, C, K = matrices(car)
    step, steps = 0.01, 30
    roads = np.cumsum(np.random.default_rng(seed).normal(size=(2, steps + 1)), axis=1) * 0.003
    times = np.arange(steps + 1) * step

    def motion(t, x):
        push = np.array(
            [0, 0, car.front.tyre * np.interp(t, times, roads[0]), car.rear.tyre * np.interp(t, times, roads[1])]
        )
        return np.concatenate([x[4:], np.linalg.solve(M, push - K @ x[:4] - C @ x[4:])])

    start = np.zeros(8)
    run = solve_ivp(motion, (0, times[-1]), start, rtol=1e-8, atol=1e-12, max_step=step)
    found = car.over(roads[0].tolist(), roads[1].tolist(), step)[-1]

    assert found[:4] == pytest.approx(run.y[:4, -1].tolist(), rel=1e-4, abs=1e-7)


CAR = {
    "sprung_mass": 1000.0, "pitch_radius": 1.2, "to_front": 1.2, "to_rear": 1.3, "front_axle_rate": 100e3, "rear_axle_rate": 95e3,
    "front_axle_damping": 7000.0, "rear_axle_damping": 6500.0, "front_unsprung": 75.0, "rear_unsprung": 70.0,
    "front_axle_tyre": 420e3, "rear_axle_tyre": 440e3,
}  # fmt: skip


def test_a_smooth_bump_keeps_the_wheels_down_and_a_sharp_one_does_not():
    assert not load("half_car")(**CAR, speed=10, bump_height=0.01, bump_length=8).flags
    assert load("half_car")(**CAR, speed=30, bump_height=0.08, bump_length=0.6).flags


@given(st.floats(1.1, 3))
def test_a_higher_bump_moves_everything_in_proportion(more):
    low, high = (load("half_car")(**CAR, speed=20, bump_height=0.01 * by) for by in (1, more))

    assert high.pitch_peak == pytest.approx(low.pitch_peak * more)
    assert high.heave_peak == pytest.approx(low.heave_peak * more)
    assert high.damping_ratios == low.damping_ratios

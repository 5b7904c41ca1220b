"""The quarter car: modes, waves, bumps and random roads against scipy, and the laws they keep."""

import math

import numpy as np
import pytest
import scipy.linalg
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import signal
from scipy.integrate import quad, solve_ivp

from calc import load
from calc.springs.road.bump import force_overshoot, road_overshoot, road_shape, step_response
from calc.springs.road.comfort import feel, weighting
from calc.springs.road.noise import closed_form, comfort_damping, contact_damping, within_band
from calc.springs.road.quarter import Quarter
from calc.springs.road.roughness import GRADES, grade_of, roughness, velocity_density
from calc.springs.road.wave import transmissibility_at

corners = st.builds(
    Quarter,
    ms=st.floats(80, 500),
    mu=st.floats(12, 60),
    k=st.floats(10e3, 200e3),
    kt=st.floats(120e3, 400e3),
    c=st.floats(500, 12000),
)
GOLDEN = Quarter(250.0, 35.0, 25e3, 200e3, 1500.0)


def inputs_of(car):
    return {"sprung_mass": car.ms, "unsprung_mass": car.mu, "wheel_rate": car.k, "tyre_rate": car.kt, "damping": car.c}


def by_scipy(car):
    """The same car written down again from its equations of motion, as scipy's state space: outputs body, wheel, acceleration."""
    ms, mu, k, kt, c = car
    M, K, C = np.diag([ms, mu]), np.array([[k, -k], [-k, k + kt]]), np.array([[c, -c], [-c, c]])
    A = np.block([[np.zeros((2, 2)), np.eye(2)], [-np.linalg.solve(M, K), -np.linalg.solve(M, C)]])
    B = np.concatenate([[0, 0], np.linalg.solve(M, [0, kt])]).reshape(4, 1)
    outputs = np.vstack([np.eye(4)[:2], A[2]])
    return signal.StateSpace(A, B, outputs, np.zeros((3, 1)))


@given(corners)
def test_modes_are_the_eigenvalues_of_scipy(car):
    poles = scipy.linalg.eigvals(by_scipy(car).A)
    swinging = sorted((z for z in poles if z.imag > 1e-6), key=abs)
    assume(len(swinging) == 2)

    for mode, z in zip(car.modes(), swinging, strict=True):
        assert mode.omega == pytest.approx(abs(z), rel=1e-8)
        assert mode.ratio == pytest.approx(-z.real / abs(z), rel=1e-7)


@given(corners)
def test_all_modes_die_away_and_their_product_is_that_of_the_springs(car):
    body, hop = car.modes()

    assert body.ratio > 0
    assert hop.ratio > 0
    assert body.omega * hop.omega == pytest.approx(math.sqrt(car.k * car.kt / (car.ms * car.mu)), rel=1e-8)
    slow, fast = car.undamped()
    assert slow * fast == pytest.approx(body.omega * hop.omega, rel=1e-8)


@given(corners, st.floats(0.05, 40))
def test_the_frequency_response_is_that_of_scipy(car, frequency):
    system = by_scipy(car)
    s = 2j * math.pi * frequency
    body, wheel, acceleration = (system.C @ np.linalg.solve(s * np.eye(4) - system.A, system.B)).ravel()
    found = car.transfer(frequency)

    assert found.body == pytest.approx(body, rel=1e-7)
    assert found.wheel == pytest.approx(wheel, rel=1e-7)
    assert found.travel == pytest.approx(body - wheel, rel=1e-5, abs=1e-9)
    assert found.tyre == pytest.approx(car.kt * (1 - wheel), rel=1e-4, abs=1e-6 * car.kt)
    assert found.body * s * s == pytest.approx(acceleration, rel=1e-6, abs=1e-9)


@given(corners)
def test_a_long_wave_carries_everything_along(car):
    slow = car.transfer(1e-3)

    assert abs(slow.body) == pytest.approx(1, abs=1e-4)
    assert abs(slow.travel) < 1e-3


def test_the_wheel_leaving_a_wavy_road_is_flagged():
    rough = load("quarter_car_waves")(**inputs_of(GOLDEN), speed=25, wavelength=2, amplitude=0.05)
    smooth = load("quarter_car_waves")(**inputs_of(GOLDEN), speed=25, wavelength=2, amplitude=0.001)

    assert rough.flags
    assert rough.least_load == 0
    assert not smooth.flags


@given(st.floats(0, 4), st.floats(0.01, 2))
def test_transmissibility_is_that_of_the_complex_oscillator(ratio, damping):
    direct = abs((1 + 2j * damping * ratio) / (1 - ratio**2 + 2j * damping * ratio))

    assert transmissibility_at(ratio, damping) == pytest.approx(direct, rel=1e-9)
    assert (transmissibility_at(ratio, damping) >= 1) == (ratio <= math.sqrt(2)) or abs(ratio - math.sqrt(2)) < 1e-6


@pytest.mark.parametrize("damping", [0.05, 0.2, 0.4, 0.7, 0.95, 1.0, 1.3, 3.0])
def test_overshoots_are_those_of_the_integrated_oscillator(damping):
    """Independent reference: scipy's step response of both transfer functions."""
    times = np.linspace(0, 40, 40001)
    _, force = signal.step(signal.lti([1], [1, 2 * damping, 1]), T=times)
    _, road = signal.step(signal.lti([2 * damping, 1], [1, 2 * damping, 1]), T=times)

    assert force_overshoot(damping) == pytest.approx(max(0.0, force.max() - 1), abs=2e-6)
    assert road_overshoot(damping) == pytest.approx(road.max() - 1, abs=2e-6)


@pytest.mark.parametrize("damping", [0.3, 0.7, 1.0, 2.0])
def test_after_the_settling_time_it_stays_within_five_per_cent(damping):
    said = step_response(frequency=1 / (2 * math.pi), damping_ratio=damping)
    times = np.linspace(0, 60, 60001)
    _, moved = signal.step(signal.lti([1], [1, 2 * damping, 1]), T=times)
    late = times > said.settling_time * 1.0001

    assert abs(moved[late] - 1).max() <= 0.0501
    assert step_response(frequency=2, damping_ratio=0).settling_time is None


@given(corners, st.sampled_from(["ramp", "bump"]), st.floats(0.3, 4))
def test_the_motion_over_an_obstacle_is_that_of_scipy(car, shape, length):
    """Independent reference: scipy solve_ivp over the very road the steps draw, at the end of the obstacle."""
    speed, height, steps = 20.0, 0.03, 64
    road = road_shape(shape, height, length, speed)
    step = length / speed / steps
    drawn = [road(n * step) for n in range(steps + 1)]
    system = by_scipy(car)
    run = solve_ivp(
        lambda t, x: system.A @ x + system.B.ravel() * np.interp(t, np.arange(steps + 1) * step, drawn),
        (0, length / speed),
        np.zeros(4),
        rtol=1e-9,
        atol=1e-13,
        max_step=step,
    )
    last = car.over(road, [(step, steps)])[-1]

    assert last.body == pytest.approx(run.y[0, -1], rel=1e-5, abs=1e-9)
    assert last.wheel == pytest.approx(run.y[1, -1], rel=1e-5, abs=1e-9)
    assert last.acceleration == pytest.approx(float(system.A[2] @ run.y[:, -1]), rel=1e-4, abs=1e-5)


def test_a_sudden_step_is_the_step_response_of_scipy():
    times, moved = signal.step(by_scipy(GOLDEN), T=np.linspace(0, 1.5, 301))
    found = GOLDEN.over(lambda t: 0.0, [(times[1], 300)], sudden=1.0)

    assert [moment.body for moment in found] == pytest.approx(moved[:, 0].tolist(), abs=1e-9)
    assert [moment.wheel for moment in found] == pytest.approx(moved[:, 1].tolist(), abs=1e-9)


@pytest.mark.parametrize("shape", ["step", "ramp", "bump"])
@pytest.mark.parametrize("length", [0.2, 1.5, 12.0])
def test_the_peaks_are_those_of_a_much_finer_walk(shape, length):
    """Independent of the choice of steps: the same car walked in steps of a tenth of a millisecond."""
    said = load("quarter_car_bump")(**inputs_of(GOLDEN), shape=shape, height=0.02, length=length, speed=25.0)
    sudden = 0.02 if shape == "step" else 0.0
    fine = GOLDEN.over(road_shape(shape, 0.02, length, 25.0), [(1e-4, int(said.duration * 1e4))], sudden)

    assert said.acceleration == pytest.approx(max(abs(m.acceleration) for m in fine), rel=0.01)
    assert said.greatest_load == pytest.approx(max(m.contact for m in fine), rel=0.01)
    assert said.bump_travel == pytest.approx(max(m.wheel - m.body for m in fine), rel=0.01)
    assert said.body_peak == pytest.approx(max(m.body for m in fine), rel=0.01)


def test_a_hard_bump_lifts_the_wheel_and_says_so():
    car = inputs_of(GOLDEN)
    hard = load("quarter_car_bump")(**car, height=0.1, length=0.8, speed=30)
    gentle = load("quarter_car_bump")(**car, height=0.01, length=20, speed=10)

    assert hard.flags
    assert hard.least_load == 0
    assert not gentle.flags
    assert gentle.overshoot is None
    assert load("quarter_car_bump")(**car, shape="step", height=0.02, speed=20).overshoot > 0.2


@given(corners, st.floats(1e-6, 1e-2))
def test_the_closed_forms_solve_the_lyapunov_equation(car, density):
    """Independent reference: scipy's continuous Lyapunov solver, states and white road speed written from the equations again."""
    ms, mu, k, kt, c = car
    # states: travel z_s - z_u, body speed, tyre z_u - z_r, wheel speed; input: road speed
    A = np.array([[0, 1, 0, -1], [-k / ms, -c / ms, 0, c / ms], [0, 0, 0, 1], [k / mu, c / mu, -kt / mu, -c / mu]])
    B = np.array([[0.0], [0.0], [-1.0], [0.0]])
    P = scipy.linalg.solve_continuous_lyapunov(A, -(density / 2) * B @ B.T)
    found = closed_form(car, density)

    assert found.travel == pytest.approx(math.sqrt(P[0, 0]), rel=1e-6)
    assert found.tyre == pytest.approx(kt * math.sqrt(P[2, 2]), rel=1e-6)
    assert found.acceleration == pytest.approx(math.sqrt(A[1] @ P @ A[1]), rel=1e-6)


@given(corners)
def test_the_integral_over_a_band_is_that_of_scipy(car):
    density = 1e-3
    found = within_band(car, density)
    modes = sorted(omega / (2 * math.pi) for omega in car.undamped())
    near = sorted({f for f in (0.3, 1.0, *modes, 20.0) if 0.1 < f < 50})

    def squared(pick):
        def at(f):
            return abs(pick(car.transfer(f), 2 * math.pi * f)) ** 2 * density / (2 * math.pi * f) ** 2

        return quad(at, 0.1, 50, points=near, limit=400, epsrel=1e-9)[0]

    assert found.acceleration == pytest.approx(math.sqrt(squared(lambda h, w: h.body * w**2)), rel=1e-5)
    assert found.travel == pytest.approx(math.sqrt(squared(lambda h, w: h.travel)), rel=1e-5)
    assert found.tyre == pytest.approx(math.sqrt(squared(lambda h, w: h.tyre)), rel=1e-5)


@given(corners)
def test_a_wide_band_comes_near_the_closed_form(car):
    wide, closed = within_band(car, 1e-3, 1e-3, 5e3), closed_form(car, 1e-3)

    assert wide.travel == pytest.approx(closed.travel, rel=2e-3)
    assert wide.tyre == pytest.approx(closed.tyre, rel=5e-3)
    assert wide.tyre <= closed.tyre * (1 + 1e-6)


def test_the_band_of_the_notes():
    """Source: integrated over 0.1 to 50 Hz in a scratch computation with scipy: 1.8388 m/s2, 9.7984 mm, 754.72 N."""
    found = within_band(GOLDEN, velocity_density(256e-6, 20.0))

    assert found.acceleration == pytest.approx(1.8388, rel=5e-5)
    assert found.travel == pytest.approx(9.7984e-3, rel=5e-5)
    assert found.tyre == pytest.approx(754.72, rel=5e-5)


@given(corners, st.floats(0.5, 0.98))
def test_the_best_dampings_are_best(car, share):
    for best, pick in ((comfort_damping(car), "acceleration"), (contact_damping(car), "tyre")):
        least = getattr(closed_form(car._replace(c=best), 1e-3), pick)
        for c in (best * share, best / share):
            assert getattr(closed_form(car._replace(c=c), 1e-3), pick) >= least * (1 - 1e-12)


@given(corners, st.floats(1.1, 4))
def test_a_faster_or_rougher_road_shakes_by_its_root(car, more):
    slow, fast = closed_form(car, 1e-3), closed_form(car, 1e-3 * more)

    assert fast.tyre == pytest.approx(slow.tyre * math.sqrt(more))


def test_road_classes_are_four_times_each_other_and_found_again():
    for grade in GRADES:
        assert grade_of(roughness(grade)) == grade
    assert roughness("H") / roughness("A") == 4.0**7
    assert grade_of(10.0) == "H"


# ISO 2631-1, table of Wk at third octaves, in thousandths (from memory).
WK = {
    0.5: 418,
    1.0: 482,
    2.0: 531,
    4.0: 967,
    5.0: 1039,
    6.3: 1054,
    8.0: 1036,
    10.0: 988,
    16.0: 768,
    31.5: 405,
    80.0: 132,
}


@pytest.mark.parametrize(("frequency", "factor"), WK.items())
def test_the_weighting_is_that_of_the_standard(frequency, factor):
    assert weighting(frequency) * 1000 == pytest.approx(factor, abs=1.5)


def test_comfort_words_go_from_good_to_bad():
    said = [feel(a) for a in (0.1, 0.4, 0.6, 0.9, 1.5, 3.0)]

    assert len(set(said)) == 6
    assert said[0] == "not uncomfortable"
    assert said[-1] == "extremely uncomfortable"


def test_a_road_that_lifts_the_wheel_is_flagged():
    car = inputs_of(GOLDEN)

    assert load("road_response")(**car, grade="E", speed=30).flags
    assert not load("road_response")(**car, grade="A", speed=30).flags

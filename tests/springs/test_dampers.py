"""Dampers: energies integrated independently, inverses, and laws that hold for every damper."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import quad

from calc import load
from calc.refusal import Refused
from calc.springs.dampers.clicks import Measured
from calc.springs.dampers.dyno import Stroke, dyno
from calc.springs.dampers.shape import TwoSlopes, power_law, two_slopes

masses, wheel_rates, dampings = st.floats(100, 500), st.floats(10e3, 150e3), st.floats(300, 12000)


@given(masses, wheel_rates, st.floats(0.05, 1.5), st.floats(0.4, 1.2))
def test_the_damper_for_a_ratio_gives_that_ratio(mass, rate, wanted, lever):
    found = load("damper_for_ratio")(sprung_mass=mass, wheel_rate=rate, wanted_ratio=wanted, damper_ratio=lever)
    said = load("damping_ratio")(
        sprung_mass=mass, wheel_rate=rate, damper_damping=found.damper_damping, damper_ratio=lever
    )

    assert said.ratio == pytest.approx(wanted)
    assert (said.damped_frequency is None) == (said.ratio >= 1)


@given(masses, wheel_rates, wheel_rates, st.floats(0.1, 1))
def test_a_spring_change_is_what_two_ratios_say(mass, before, after, ratio):
    said = load("damping_after_spring_change")(
        sprung_mass=mass, rate_before=before, rate_after=after, ratio_before=ratio
    )
    c = ratio * 2 * math.sqrt(before * mass)

    assert said.ratio_after == pytest.approx(
        load("damping_ratio")(sprung_mass=mass, wheel_rate=after, damper_damping=c).ratio
    )
    assert said.damping_wanted == pytest.approx(c * (1 + said.damping_change))
    assert (said.ratio_after < ratio) == (after > before) or after == pytest.approx(before)


@given(
    st.floats(600, 1500),
    st.floats(1, 1.5),
    st.floats(1, 1.6),
    st.floats(1, 1.6),
    wheel_rates,
    wheel_rates,
    dampings,
    dampings,
    st.floats(0, 20e3),
)
def test_body_ratios_are_those_of_the_whole_car(ms, rho, a, b, kf, kr, cf, cr, bar):
    """Independent reference: matrices of a body on four corners built from their positions; each mode alone, its own diagonal."""
    t, inertia = 1.5, 400.0
    said = load("car_damping_ratios")(
        sprung_mass=ms, pitch_radius=rho, to_front=a, to_rear=b, front_track=t, rear_track=t, front_rate=kf, rear_rate=kr,
        front_damping=cf, rear_damping=cr, front_bar=bar, roll_inertia=inertia,
    )  # fmt: skip
    places = np.array([[1, -a, t / 2], [1, -a, -t / 2], [1, b, t / 2], [1, b, -t / 2]])
    K = places.T @ np.diag([kf, kf, kr, kr]) @ places
    K[2, 2] += bar * t**2
    C = places.T @ np.diag([cf, cf, cr, cr]) @ places
    M = [ms, ms * rho**2, inertia]

    for i, ratio in enumerate((said.heave, said.pitch, said.roll)):
        assert ratio == pytest.approx(C[i, i] / (2 * math.sqrt(K[i, i] * M[i])))


def test_bars_lower_the_ratio_in_roll_alone():
    car = {"sprung_mass": 1000.0, "pitch_radius": 1.2, "to_front": 1.2, "to_rear": 1.3, "front_track": 1.5, "rear_track": 1.5, "front_rate": 50e3,
           "rear_rate": 50e3, "front_damping": 4000.0, "rear_damping": 4000.0, "roll_inertia": 400.0}  # fmt: skip
    plain, barred = load("car_damping_ratios")(**car), load("car_damping_ratios")(**car, front_bar=15e3)

    assert barred.roll < plain.roll
    assert barred[:2] == plain[:2]
    with pytest.raises(Refused, match="fall over"):
        load("car_damping_ratios")(**car, cg_above_roll_axis=30.0)


curves = st.builds(TwoSlopes, first=st.floats(500, 15000), knee=st.floats(0.02, 0.2), second=st.floats(0, 15000))


@given(curves, st.floats(0.5, 15), st.floats(0.001, 0.05))
def test_the_energy_is_the_area_of_the_loop(curve, frequency, amplitude):
    """Independent reference: scipy's integral of F dx around one stroke."""
    omega = 2 * math.pi * frequency
    V = omega * amplitude
    knee = [math.acos(curve.knee / V)] if curve.knee < V else []
    quarter, _ = quad(
        lambda a: curve.force(V * math.cos(a)) * amplitude * math.cos(a), 0, math.pi / 2, points=knee or None
    )
    said = load("damper_energy")(
        damping=curve.first, knee=curve.knee, high_damping=curve.second, frequency=frequency, amplitude=amplitude
    )

    assert said.energy == pytest.approx(4 * quarter, rel=1e-7)
    assert said.power == pytest.approx(said.energy * frequency)
    assert said.top_force == pytest.approx(curve.force(V))


@given(
    st.lists(st.tuples(st.floats(0.01, 0.1), st.floats(10, 400), st.floats(10, 400)), min_size=3, max_size=8),
    st.floats(0.05, 1),
)
def test_the_equivalent_damping_takes_the_energy_of_the_table(steps, share):
    v, inward, outward = (np.cumsum(column).tolist() for column in zip(*steps, strict=True))
    rows = tuple(map(Stroke, v, inward, outward))
    known, V = dyno(rows), share * v[-1]
    knees = sorted(math.acos(min(1.0, x / V)) for x in v if x < V)

    def force(a):
        return (known.compression.value(V * math.cos(a)) + known.rebound.value(V * math.cos(a))) * math.cos(a)

    work, _ = quad(force, 0, math.pi / 2, points=knees or None, limit=200)
    said = load("damper_curve")(dyno_table=rows, speed=V)

    assert said.equivalent == pytest.approx(2 * work / (math.pi * V), rel=1e-6)
    assert said.compression <= inward[-1] * (1 + 1e-12)


@given(st.floats(300, 9000), st.floats(0.4, 1.6), st.floats(0.4, 1.6))
def test_a_power_law_is_recognised(factor, into, out):
    speeds = [0.025, 0.05, 0.1, 0.2, 0.4]
    rows = tuple(Stroke(v, factor * v**into, factor * v**out) for v in speeds)
    said = load("damper_curve")(dyno_table=rows, speed=0.1)

    assert said.compression_exponent == pytest.approx(into)
    assert said.rebound_exponent == pytest.approx(out)
    for exponent, bend in ((into, said.compression_shape), (out, said.rebound_shape)):
        if abs(abs(exponent - 1) - 0.1) > 1e-6:
            assert bend == ("linear" if abs(exponent - 1) < 0.1 else "digressive" if exponent < 1 else "progressive")


@given(curves)
def test_two_slopes_are_found_again(curve):
    assume(abs(curve.first - curve.second) > 0.1 * curve.first)
    speeds = [0.01 * n for n in range(1, 31)]
    found = two_slopes(speeds, [curve.force(v) for v in speeds])

    assert [found.force(v) for v in speeds] == pytest.approx(
        [curve.force(v) for v in speeds], rel=0.02, abs=0.02 * curve.force(0.3)
    )
    if 0.03 < curve.knee < 0.2:
        assert found.knee == pytest.approx(curve.knee, abs=0.011)


def test_few_points_have_no_shape():
    assert power_law([0.1], [10.0]) is None
    assert two_slopes([0.1, 0.2], [10.0, 20.0]) is None


def test_gas_and_friction_are_taken_off_and_reported():
    rows = (Stroke(0.0, 180.0, 60.0), Stroke(0.1, 580.0, 760.0), Stroke(0.2, 980.0, 1460.0))
    said = load("damper_curve")(dyno_table=rows, speed=0.1)

    assert said.gas_offset == pytest.approx(60.0)
    assert said.friction == pytest.approx(120.0)
    assert said.compression == pytest.approx(400.0)
    assert said.rebound == pytest.approx(700.0)


@pytest.mark.parametrize(
    ("rows", "speed", "named"),
    [
        (((0.1, 100.0, 100.0), (0.05, 200.0, 200.0)), 0.05, "dyno_table[2].speed"),
        (((0.1, 100.0, 100.0), (0.1, 200.0, 200.0)), 0.05, "dyno_table[2].speed"),
        (((0.1, 100.0, 100.0), (0.2, 50.0, 200.0)), 0.05, "dyno_table[2].compression"),
        (((0.1, 100.0, 100.0), (0.2, 150.0, 20.0)), 0.05, "dyno_table[2].rebound"),
        (((0.1, 100.0, 100.0), (0.2, 150.0, 120.0)), 0.21, "speed"),
        (((0.1, -100.0, 100.0), (0.2, 150.0, 120.0)), 0.1, "dyno_table[1].compression"),
    ],
)
def test_a_table_that_is_no_damper_is_refused_by_cell(rows, speed, named):
    with pytest.raises(Refused) as caught:
        load("damper_curve")(dyno_table=tuple(Stroke(*row) for row in rows), speed=speed)

    assert caught.value.input == named


TABLE = tuple(
    Measured(n, v, F)
    for n, forces in ((4, (260, 480, 760)), (12, (150, 290, 500)))
    for v, F in zip((0.025, 0.05, 0.1), forces, strict=True)
)


@given(st.floats(0, 0.1), st.floats(4, 12))
def test_clicks_are_bilinear(speed, click):
    """Independent reference: numpy's interpolation within each click, then between them."""
    force = [np.interp(speed, [0, 0.025, 0.05, 0.1], [0, *forces]) for forces in ((260, 480, 760), (150, 290, 500))]
    said = load("damper_clicks")(readings=TABLE, speed=speed, click=click)

    assert said.force == pytest.approx(np.interp(click, [4, 12], force), abs=1e-9)
    assert said.for_each_click <= 0


@pytest.mark.parametrize(("speed", "click", "named"), [(0.11, 8, "speed"), (0.05, 3, "click"), (0.05, 13, "click")])
def test_nothing_is_read_beyond_the_clicks(speed, click, named):
    with pytest.raises(Refused) as caught:
        load("damper_clicks")(readings=TABLE, speed=speed, click=click)

    assert caught.value.input == named


@given(masses, wheel_rates, st.floats(0.4, 1.2), st.floats(0.3, 1), st.floats(0.1, 0.5), st.floats(0.5, 4))
def test_the_target_curve_gives_the_ratios_back(mass, rate, lever, low, high, share):
    said = load("damper_target")(
        sprung_mass=mass, wheel_rate=rate, damper_ratio=lever, low_ratio=low, high_ratio=high, rebound_share=share
    )
    rows = tuple(map(Stroke, said.speeds, said.compression, said.rebound))
    below = load("damper_curve")(dyno_table=rows, speed=0.03, sprung_mass=mass, wheel_rate=rate, damper_ratio=lever)

    assert below.ratio == pytest.approx(low, rel=1e-6)
    assert below.rebound_over_compression == pytest.approx(share)
    mean = [(c + r) / 2 for c, r in zip(said.compression, said.rebound, strict=True)]
    slope = (mean[-1] - mean[-2]) / (said.speeds[-1] - said.speeds[-2])
    assert slope * lever**2 / (2 * math.sqrt(rate * mass)) == pytest.approx(high)
    assert min(low, high) * (1 - 1e-9) <= said.top_ratio <= max(low, high) * (1 + 1e-9)


@given(st.floats(2e5, 25e5), st.floats(0.01, 0.02), st.floats(40e-6, 300e-6), st.floats(0.01, 0.08), st.floats(1, 1.4))
def test_the_gas_rate_is_the_slope_of_its_force(pressure, rod, volume, insertion, exponent):
    gas = {
        "charge_pressure": pressure,
        "rod_diameter": rod,
        "gas_volume": volume,
        "wheel_rate": 50e3,
        "exponent": exponent,
    }
    assume(math.pi * rod**2 / 4 * insertion < 0.9 * volume)
    step = 1e-6
    low, here, high = (load("damper_gas")(**gas, insertion=insertion + by) for by in (-step, 0, step))

    assert here.rate == pytest.approx((high.force - low.force) / (2 * step), rel=1e-5)
    assert here.force > here.extended_force
    assert here.ride_height == pytest.approx(here.force / 50e3)


def test_hot_gas_pushes_harder_and_a_rod_too_big_is_refused():
    gas = {"charge_pressure": 12e5, "rod_diameter": 0.014, "gas_volume": 60e-6, "wheel_rate": 50e3}

    assert (
        load("damper_gas")(**gas, insertion=0.04, temperature=353.15).force
        > load("damper_gas")(**gas, insertion=0.04).force
    )
    with pytest.raises(Refused) as caught:
        load("damper_gas")(**gas, insertion=0.5)
    assert caught.value.input == "gas_volume"

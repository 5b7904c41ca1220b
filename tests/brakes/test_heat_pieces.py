"""Heat piece by piece: cooling, the surface, repeated stops, power, discs and pads, against scipy and by their laws."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from calc.brakes.heat.convection import disc_convection, face_coefficient
from calc.brakes.heat.cooling import Moment, disc_cooling
from calc.brakes.heat.disc import disc_expansion, disc_size
from calc.brakes.heat.repeats import repeated_stops
from calc.brakes.heat.stops import braking_power, stop_heat
from calc.brakes.heat.surface import slab_rise, surface_temperature, thick_rise
from calc.brakes.heat.upkeep import pad_wear

SIGMA = 5.670374e-8


@given(h=st.floats(5, 200), emissivity=st.floats(0, 1), start=st.floats(300, 1200))
def test_cooling_against_solve_ivp(h, emissivity, start):
    found = disc_cooling(
        disc_mass=8.0,
        specific_heat=500.0,
        heat_transfer=h,
        area=0.16,
        emissivity=emissivity,
        ambient=293.15,
        start_temperature=start,
        times=(Moment(20.0), Moment(90.0)),
    )
    solved = solve_ivp(
        lambda t, y: -0.16 * (h * (y - 293.15) + emissivity * SIGMA * (y**4 - 293.15**4)) / 4000.0,
        (0, 90),
        [start],
        rtol=1e-10,
        atol=1e-9,
        t_eval=[20, 90],
    )

    assert found.temperatures == pytest.approx(solved.y[0], abs=0.02)


@pytest.mark.parametrize("depth", [0.005, 0.007, 0.014])
@pytest.mark.parametrize("stop", [1.0, 4.0])
def test_the_slab_against_lines_of_finite_differences(depth, stop):
    """Independent reference: 200 layers, solve_ivp (BDF)."""
    k, rho, c, q0, n = 52.0, 7200.0, 480.0, 3e6, 200
    alpha, dx = k / (rho * c), depth / n

    def slopes(t, y):
        flux = q0 * (1 - t / stop)
        padded = np.concatenate([[y[0] + flux * dx / k], y, [y[-1]]])
        return alpha * (padded[2:] - 2 * padded[1:-1] + padded[:-2]) / dx**2

    at = np.array([0.1, 0.35, 0.6, 1.0]) * stop
    solved = solve_ivp(slopes, (0, stop), np.zeros(n), method="BDF", rtol=1e-7, atol=1e-5, t_eval=at)
    for t, layer in zip(at, solved.y[0], strict=True):
        surface = layer + q0 * (1 - t / stop) * dx / 2 / k  # from the middle of the first layer to the face
        assert slab_rise(q0, k, alpha, depth, stop, t) == pytest.approx(surface, rel=2e-3, abs=0.2)


def test_the_slab_keeps_the_heat_and_early_it_is_a_thick_body():
    k, rho, c, depth = 52.0, 7200.0, 480.0, 0.007
    late = slab_rise(3e6, k, k / (rho * c), depth, 4.0, 4.0)
    bulk = 3e6 * 4.0 / 2 / (rho * c * depth)

    assert late > bulk
    assert late - bulk < 0.1 * bulk
    early = slab_rise(3e6, k, k / (rho * c), depth, 4.0, 0.06)
    assert early == pytest.approx(slab_rise(3e6, k, k / (rho * c), depth, 4.0, 0.0660), rel=0.06)
    assert early == pytest.approx(thick_rise(3e6, math.sqrt(k * rho * c), 4.0, 0.06), rel=1e-6)
    found = surface_temperature(flux=3e6, conductivity=k, density=rho, specific_heat=c, stop_time=4.0, depth=depth)
    assert found.slab_peak > found.peak_rise


@given(
    rise=st.floats(5, 300),
    gap=st.floats(5, 200),
    tau=st.floats(20, 600),
    n=st.integers(1, 60),
    start=st.floats(293, 700),
)
def test_repeated_stops_one_by_one(rise, gap, tau, n, start):
    temperature = start
    for stop in range(n):
        if stop:
            temperature = 293.15 + (temperature - 293.15) * math.exp(-gap / tau)
        temperature += rise
    found = repeated_stops(rise=rise, cooling_time=tau, interval=gap, stops=n, ambient=293.15, start_temperature=start)

    assert found.peak == pytest.approx(temperature, rel=1e-9)


@given(speed=st.floats(0, 90), diameter=st.floats(0.2, 0.4))
def test_convection_never_falls_below_still_air(speed, diameter):
    found = disc_convection(speed=speed, diameter=diameter)

    assert found.face >= 4.0
    assert found.face_low <= found.face


def test_the_published_pair_jumps_and_is_left_to():
    below, above = (face_coefficient(re, 0.026, 0.3) for re in (2.4e5, 2.4e5 * (1 + 1e-12)))

    assert above / below == pytest.approx(1.26, abs=0.01)


@given(v1=st.floats(10, 90), part=st.floats(0, 0.95), d=st.floats(2, 25))
def test_power_times_time_is_energy(v1, part, d):
    found = braking_power(mass=1000.0, start_speed=v1, end_speed=part * v1, deceleration=d)

    assert found.mean_power * found.time == pytest.approx(found.energy)
    assert found.peak_over_mean == pytest.approx(2 / (1 + part))


def test_two_snubs_heat_as_one_stop():
    same = {"mass": 1200.0, "axle_share": 0.7, "disc_mass": 7.0, "specific_heat": 500.0}
    whole = stop_heat(start_speed=50.0, **same).rise
    parts = stop_heat(start_speed=50.0, end_speed=20.0, **same).rise + stop_heat(start_speed=20.0, **same).rise

    assert parts == pytest.approx(whole)


def test_disc_sized_for_a_rise_has_that_rise():
    same = {"inner_radius": 0.1, "void": 0.4, "specific_heat": 520.0, "energy": 7e5}
    first = disc_size(outer_radius=0.15, thickness=0.024, rise_allowed=180.0, **same)
    thicker = disc_size(outer_radius=0.15, thickness=first.thickness_needed, **same)
    shift = first.outer_needed - 0.15
    wider = disc_size(outer_radius=0.15 + shift, thickness=0.024, **{**same, "inner_radius": 0.1 + shift})

    assert thicker.rise == pytest.approx(180.0)
    assert wider.rise == pytest.approx(180.0)


def test_pins_are_sized_for_the_cold_hat():
    found = disc_expansion(pin_radius=0.085, disc_rise=580.0, hat_rise=190.0, tolerance=1e-4)

    assert found.clearance_needed == pytest.approx(found.disc_growth + 1e-4)
    assert found.clearance_needed > found.relative_growth


def test_a_pad_worn_to_its_energy_is_worn_out():
    same = {"specific_wear": 2e-14, "pad_area": 0.0055, "usable_thickness": 0.009}
    left = pad_wear(energy=0.0, energy_per_lap=1e6, **same)
    worn = pad_wear(energy=left.energy_to_worn, energy_per_lap=1e6, **same)

    assert worn.thickness_lost == pytest.approx(0.009)
    assert worn.laps_left == pytest.approx(0, abs=1e-6)
    assert left.laps_left * 1e6 == pytest.approx(left.energy_to_worn)

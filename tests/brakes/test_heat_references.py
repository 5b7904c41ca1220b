"""Heat against independent numerical references (scipy), and the balance of energy over whole sessions."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from calc.ask.inputs import read_inputs
from calc.brakes.heat.convection import disc_convection, face_coefficient
from calc.brakes.heat.cooling import Moment, disc_cooling
from calc.brakes.heat.disc import disc_expansion, disc_size
from calc.brakes.heat.inputs import EXAMPLE
from calc.brakes.heat.lap import lap_heat
from calc.brakes.heat.network import Corner, Phase, State, advance
from calc.brakes.heat.repeats import repeated_stops
from calc.brakes.heat.session import run_laps, settle
from calc.brakes.heat.stops import braking_power, stop_heat
from calc.brakes.heat.surface import slab_rise, surface_temperature, thick_rise
from calc.brakes.heat.upkeep import pad_wear
from calc.brakes.heat.zones import Load, Zone, stretches
from calc.form import parameters
from calc.refusal import Refused

SIGMA = 5.670374e-8
CORNER = Corner(
    disc=3200.0,
    pads=950.0,
    caliper=2300.0,
    fluid=60.0,
    disc_share=0.95,
    area=0.23,
    emissivity=0.6,
    h_still=20.0,
    h_per_speed=2.0,
    pad_to_air=1.5,
    pad_to_caliper=0.9,
    caliper_to_air=3.0,
    caliper_to_fluid=4.0,
    disc_to_pad=0.8,
    ambient=293.15,
)
ZONES = (Zone(58.0, 21.0, 10.5, 11.0), Zone(44.0, 30.0, 9.0, 7.0), Zone(50.0, 18.0, 10.0, 16.0))
LOAD = Load(0.36, 1160 * 1.05, 0.6 * 0.85, 120.0)
START = State(330.0, 320.0, 310.0, 305.0)


def _slopes(c, speed_at, heat_at):
    """The same physics written anew, with numpy's powers and its own heat ledger."""

    def slopes(t, y):
        td, tp, tc, tf, _ = y
        v, q = speed_at(t), heat_at(t)
        air = c.area * (
            max(4.0, c.h_still + c.h_per_speed * v) * (td - c.ambient) + c.emissivity * SIGMA * (td**4 - c.ambient**4)
        )
        return [
            (c.disc_share * q - air - c.disc_to_pad * (td - tp)) / c.disc,
            (
                (1 - c.disc_share) * q
                + c.disc_to_pad * (td - tp)
                - c.pad_to_air * (tp - c.ambient)
                - c.pad_to_caliper * (tp - tc)
            )
            / c.pads,
            (c.pad_to_caliper * (tp - tc) - c.caliper_to_air * (tc - c.ambient) - c.caliper_to_fluid * (tc - tf))
            / c.caliper,
            c.caliper_to_fluid * (tc - tf) / c.fluid,
            air + c.pad_to_air * (tp - c.ambient) + c.caliper_to_air * (tc - c.ambient),
        ]

    return slopes


def _solve_laps(laps):
    """Return disc peaks of the last lap and the final state by solve_ivp, phase after phase."""
    y, peaks = np.array([*START[:4], 0.0]), []
    for lap in range(laps):
        for n, zone in enumerate(ZONES):
            duration = (zone.entry_speed - zone.exit_speed) / zone.deceleration

            def speed(t, zone=zone):
                return zone.entry_speed - zone.deceleration * t

            def heat(t, zone=zone):
                v = zone.entry_speed - zone.deceleration * t
                return LOAD.share * (LOAD.mass * zone.deceleration - LOAD.drag * v**2 - LOAD.engine) * v

            dense = np.linspace(0, duration, 400)
            braking = solve_ivp(_slopes(CORNER, speed, heat), (0, duration), y, rtol=1e-10, atol=1e-9, t_eval=dense)
            if lap == laps - 1:
                peaks.append(braking.y[0].max())
            between = (zone.exit_speed + ZONES[(n + 1) % 3].entry_speed) / 2
            y = solve_ivp(
                _slopes(CORNER, lambda t, v=between: v, lambda t: 0.0),
                (0, zone.time_to_next),
                braking.y[:, -1],
                rtol=1e-10,
                atol=1e-9,
            ).y[:, -1]
    return peaks, y


def test_laps_against_solve_ivp():
    peaks, end = _solve_laps(5)
    last = run_laps(CORNER, stretches(ZONES, LOAD, None), START, 5)[-1]

    assert last.disc_peaks == pytest.approx(peaks, abs=0.1)
    assert last.end[:4] == pytest.approx(end[:4], abs=0.05)
    assert last.end.lost == pytest.approx(end[4], rel=1e-4)


def test_standing_against_solve_ivp():
    """The fluid goes on warming in a car that stands."""
    hot, parked = State(800.0, 620.0, 370.0, 360.0), CORNER.parked(0.3)
    solved = solve_ivp(
        _slopes(parked, lambda t: 0.0, lambda t: 0.0),
        (0, 900),
        [*hot[:4], 0.0],
        rtol=1e-10,
        atol=1e-9,
        t_eval=np.arange(0, 901, 100),
    )
    state = hot
    for column in range(1, 10):
        state, _ = advance(parked, state, Phase(100.0, 0.0))
        assert state[:4] == pytest.approx(solved.y[:4, column], abs=0.05)
    assert max(solved.y[2]) > hot.caliper + 10


capacities = st.floats(300, 6000)
conductances = st.floats(0.0, 8.0)


@settings(max_examples=40)
@given(
    disc=capacities,
    pads=capacities,
    caliper=capacities,
    fluid=st.one_of(st.none(), st.floats(20, 200)),
    gamma=st.floats(0.5, 1.0),
    area=st.floats(0.02, 0.6),
    ways=st.tuples(*[conductances] * 4),
    drag=st.floats(0, 1.2),
    laps=st.integers(1, 8),
)
def test_energy_balances_over_a_session(disc, pads, caliper, fluid, gamma, area, ways, drag, laps):
    found = lap_heat(
        zones=ZONES,
        laps=laps,
        mass=1160.0,
        corner_share=0.36,
        drag_area=drag,
        disc_capacity=disc,
        pad_capacity=pads,
        caliper_capacity=caliper,
        fluid_capacity=fluid,
        disc_share=gamma,
        area=area,
        pad_to_air=ways[0],
        pad_to_caliper=ways[1],
        caliper_to_air=ways[2],
        disc_to_pad=ways[3],
    )
    squares = math.fsum(z.entry_speed**2 - z.exit_speed**2 for z in ZONES)
    fourths = math.fsum((z.entry_speed**4 - z.exit_speed**4) / (4 * z.deceleration) for z in ZONES)
    kinetic = laps * 0.36 * (1160 * 1.05 * squares / 2 - 0.6 * drag * fourths)

    assert found.energy == pytest.approx(kinetic, rel=1e-9)
    assert found.heat_lost + found.heat_stored == pytest.approx(found.energy, rel=1e-3)
    assert abs(found.balance_error) < 1e-3
    assert found.step_error < 0.5


def test_heat_given_to_the_air_against_the_area_under_its_curve():
    """Independent reference: trapezia under the losses of a finely cut trace."""
    phase, state, lost = Phase(300.0, 40.0), State(900.0, 700.0, 400.0, 390.0), 0.0
    trace = [state]
    for _ in range(3000):
        state, _ = advance(CORNER, state, Phase(0.1, 40.0))
        trace.append(state)
    for one, other in pairwise(trace):
        flow = [
            CORNER.area * (100.0 * (s.disc - 293.15) + 0.6 * SIGMA * (s.disc**4 - 293.15**4))
            + 1.5 * (s.pads - 293.15)
            + 3.0 * (s.caliper - 293.15)
            for s in (one, other)
        ]
        lost += 0.1 * sum(flow) / 2
    whole, _ = advance(CORNER, trace[0], phase)

    assert whole.lost == pytest.approx(lost, rel=1e-4)
    assert CORNER.stored(trace[0], whole) == pytest.approx(-lost, rel=1e-4)


def test_the_band_and_the_settled_lap():
    inputs = {**read_inputs(parameters(lap_heat), EXAMPLE), "laps": 40}
    found = lap_heat(**inputs)

    assert found.disc_low < found.disc_peak < found.disc_high
    assert found.disc_peak == pytest.approx(found.settled_disc, abs=1.0)
    assert found.laps_to_settle is not None
    assert found.laps_to_settle < 40
    assert found.soak_peak >= found.caliper_end
    assert found.fluid_peak <= found.soak_peak
    assert 0 <= found.window_share <= 1


def test_settling_is_when_a_lap_repeats_itself():
    road = stretches(ZONES, LOAD, None)
    number, lap = settle(CORNER, road, run_laps(CORNER, road, START, 2))
    laps = run_laps(CORNER, road, START, number)
    changes = [max(abs(a - b) for a, b in zip(x.highest, y.highest, strict=True)) for x, y in pairwise(laps)]

    assert changes[-1] < 1.0
    assert all(change >= 1.0 for change in changes[:-1])
    assert laps[-1].highest == pytest.approx(lap.highest)


@pytest.mark.parametrize(
    ("zone", "cell"),
    [
        (Zone(40.0, 40.0, 9.0, 5.0), "zones[2].exit_speed"),
        (Zone(40.0, 20.0, -1.0, 5.0), "zones[2].deceleration"),
        (Zone(40.0, 20.0, 9.0, -5.0), "zones[2].time_to_next"),
        (Zone(90.0, 20.0, 0.1, 5.0), "zones[2].deceleration"),
    ],
)
def test_a_bad_zone_is_named_by_its_number(zone, cell):
    with pytest.raises(Refused) as caught:
        lap_heat(
            zones=(ZONES[0], zone),
            laps=1,
            mass=1000.0,
            corner_share=0.35,
            drag_area=0.8,
            disc_capacity=3000.0,
            pad_capacity=900.0,
            caliper_capacity=2000.0,
            area=0.2,
        )
    assert caught.value.input == cell


def test_a_body_too_small_to_follow_is_refused_by_name():
    with pytest.raises(Refused, match="pad_capacity"):
        lap_heat(
            zones=ZONES,
            laps=1,
            mass=1000.0,
            corner_share=0.35,
            disc_capacity=3000.0,
            pad_capacity=1e-6,
            caliper_capacity=2000.0,
            area=0.2,
        )


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

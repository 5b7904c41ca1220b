"""Heat against independent numerical references (scipy), and the balance of energy over whole sessions."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from calc.ask.inputs import read_inputs
from calc.brakes.heat.inputs import EXAMPLE
from calc.brakes.heat.lap import lap_heat
from calc.brakes.heat.network import Corner, Phase, State, advance
from calc.brakes.heat.session import run_laps, settle
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

"""Laws of the pedal side that hold for every input, and independent numerical references (scipy)."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from calc.brakes.bar import balance_bar
from calc.brakes.bar_failure import bar_circuit_lost
from calc.brakes.booster import Booster, booster_removed
from calc.brakes.circuit import air_volume, circuit_travel
from calc.brakes.cylinders import bore_change, cylinder_pressures, line_pressure
from calc.brakes.lever import Lever, pedal_ratio
from calc.brakes.lines import line_rating
from calc.brakes.parking import hand_lever
from calc.brakes.pedal import brake_forces, pedal_effort
from calc.brakes.valves import valve_pressure
from calc.refusal import Refused

bores = st.floats(0.012, 0.03)
forces = st.floats(10, 5000)
shares = st.floats(0.05, 0.95)
CAR = {
    "pedal_ratio": 5.2,
    "front_pistons": 0.0022,
    "rear_pistons": 0.0011,
    "front_friction": 0.45,
    "rear_friction": 0.42,
    "front_disc_radius": 0.128,
    "rear_disc_radius": 0.118,
    "front_wheel_radius": 0.305,
    "rear_wheel_radius": 0.305,
}


@given(force=forces, front=bores, rear=bores, share=shares)
def test_front_and_rear_make_the_whole(force, front, rear, share):
    found = brake_forces(pedal_force=force, front_bore=front, rear_bore=rear, bar_front_share=share, **CAR)

    assert found.front_force + found.rear_force == pytest.approx(found.total_force)
    assert found.front_share == pytest.approx(found.front_force / found.total_force)


@given(force=forces, one=bores, other=bores, lost=st.floats(0, 100))
def test_a_smaller_bore_never_lowers_pressure(force, one, other, lost):
    small, large = sorted((one, other))

    assert line_pressure(force, small, lost) >= line_pressure(force, large, lost)
    assert bore_change(old_bore=large, new_bore=small).pressure_change >= 0


@given(torque=st.floats(10, 4000), bore=bores, share=shares)
def test_the_way_back_to_the_pedal_is_the_way_there(torque, bore, share):
    effort = pedal_effort(
        torque=torque,
        disc_radius=CAR["front_disc_radius"],
        friction=CAR["front_friction"],
        pistons=CAR["front_pistons"],
        bore=bore,
        rod_share=share,
        pedal_ratio=CAR["pedal_ratio"],
    )
    there = brake_forces(pedal_force=effort.pedal_force, front_bore=bore, rear_bore=bore, bar_front_share=share, **CAR)

    assert there.front_force * CAR["front_wheel_radius"] / 2 == pytest.approx(torque)


@given(force=forces, spacing=st.floats(0.04, 0.1), part=st.floats(-0.49, 0.49), tilt=st.floats(-0.3, 0.3))
def test_a_bar_gives_all_it_gets_and_tilt_alone_moves_nothing(force, spacing, part, tilt):
    square = balance_bar(rod_force=force, spacing=spacing, trunnion_offset=part * spacing)
    tilted = balance_bar(rod_force=force, spacing=spacing, trunnion_offset=part * spacing, tilt=tilt)

    assert square.front_force + square.rear_force == pytest.approx(force)
    assert tilted.front_share == pytest.approx(square.front_share)
    # Moments about the trunnion vanish.
    arm_front, arm_rear = spacing / 2 - part * spacing, spacing / 2 + part * spacing
    assert square.front_force * arm_front == pytest.approx(square.rear_force * arm_rear, rel=1e-9, abs=1e-9)


@given(e=st.floats(0.001, 0.008), tilt=st.floats(0.01, 0.2))
def test_the_leading_clevis_with_its_pin_ahead_loses_share(e, tilt):
    found = balance_bar(rod_force=1000.0, spacing=0.064, pin_offset=e, tilt=tilt)

    assert found.front_share < found.square_share


@given(
    good=st.floats(0, 0.03),
    bottom=st.floats(0.005, 0.06),
    part=st.floats(-0.3, 0.3),
    lost=st.sampled_from(["front", "rear"]),
)
def test_a_lost_circuit_stops_at_the_nearer_of_two_stops(good, bottom, part, lost):
    found = bar_circuit_lost(
        lost=lost,
        spacing=0.064,
        trunnion_offset=part * 0.064,
        tilt_limit=0.2,
        good_stroke=good,
        bottom_stroke=bottom,
        pedal_ratio=5.0,
        free_travel=0.15,
    )

    assert found.lost_stroke == min(bottom, good + 0.064 * math.tan(0.2))
    assert (found.case == "failed cylinder bottoms") == (found.lost_stroke < good + 0.064 * math.tan(0.2))
    assert (found.good_share == 1.0) == (found.case == "bar reaches its tilt stop")
    assert (found.reserve < 0) == bool(found.flags)


@given(
    ratio=st.floats(1.5, 8),
    area=st.floats(0.01, 0.08),
    vacuum=st.floats(0, 9e4),
    cut_in=st.floats(0, 60),
    force=st.floats(0, 6000),
)
def test_a_booster_never_gives_less_than_it_gets_nor_more_than_its_assist(ratio, area, vacuum, cut_in, force):
    booster = Booster(ratio, area, vacuum, cut_in)

    assert force <= booster.output(force) <= force + booster.assist_limit + 1e-9
    assert booster.output(force) <= booster.output(force + 1.0)


@given(ratio=st.floats(1.5, 8), area=st.floats(0.01, 0.08), vacuum=st.floats(1e4, 9e4), wanted=st.floats(1, 12000))
def test_the_booster_inverse_is_the_root_of_its_output(ratio, area, vacuum, wanted):
    booster = Booster(ratio, area, vacuum)

    assert booster.input_for(wanted) == pytest.approx(
        brentq(lambda f: booster.output(f) - wanted, 0.0, wanted), rel=1e-9
    )


def test_without_the_booster_below_the_knee_effort_rises_by_the_boost_ratio():
    found = booster_removed(
        master_force=2000.0, boost_ratio=4.5, diaphragm_area=0.05, vacuum=8e4, pedal_ratio=4.0, pedal_wanted=300.0
    )

    assert found.effort_ratio == pytest.approx(4.5)
    # The bore found brings the pedal to the force wanted.
    assert found.bare_pedal * found.bore_factor**2 == pytest.approx(300.0)


@given(line=st.floats(0, 1.5e7), more=st.floats(0, 1e6), knee=st.floats(1e5, 1e7), slope=st.floats(0, 1))
def test_a_valve_never_raises_pressure_and_never_drops_it_as_the_line_rises(line, more, knee, slope):
    behind = valve_pressure(line, knee, slope)

    assert behind <= line * (1 + 1e-12)
    assert valve_pressure(line + more, knee, slope) >= behind - 1e-6
    assert valve_pressure(knee * (1 + 1e-12), knee, slope) == pytest.approx(knee)


@given(gap=st.floats(0, 0.001), more=st.floats(1e-5, 0.001), pressure=st.floats(1e5, 1e7), air=st.floats(0, 5e-6))
def test_more_clearance_or_air_always_lengthens_the_pedal(gap, more, pressure, air):
    def travel(clearance, trapped):
        return circuit_travel(
            one_side_area=0.0023,
            clearance=clearance,
            line_pressure=pressure,
            caliper_give=6e-14,
            hose_length=0.6,
            hose_give=2.5e-14,
            fluid=45e-6,
            air=trapped,
            bore=0.019,
            available_stroke=0.03,
            pedal_ratio=5.2,
        )

    base = travel(gap, air)
    assert travel(gap + more, air).pedal_travel > base.pedal_travel
    assert travel(gap, air + 1e-6).pedal_travel > base.pedal_travel
    assert air_volume(air, pressure) <= air
    parts = (base.clearance_volume, base.caliper_volume, base.hose_volume, base.fluid_volume, base.air_volume)
    assert math.fsum(parts) == pytest.approx(base.total_volume)


def test_air_is_squeezed_as_a_gas():
    """Independent reference: the volume where p V^n is kept, found by a root."""
    for n in (1.0, 1.2, 1.4):
        left = brentq(lambda v, n=n: (101325 + 4e6) * v**n - 101325, 1e-9, 1.0)
        assert air_volume(1.0, 4e6, n) == pytest.approx(1 - left, rel=1e-9)


@given(turned=st.floats(0, 0.25), rest=st.floats(-0.3, 0.1), line=st.floats(0.045, 0.055))
def test_the_pedal_ratio_is_the_slope_of_its_travel(turned, rest, line):
    """Independent reference: a central difference of the piston's place."""
    lever = Lever(0.26, 0.05, 0.12, line, rest)
    step = 1e-6
    slope = (lever.piston(turned + step) - lever.piston(turned - step)) / (2 * step)

    assert lever.ratio(turned) == pytest.approx(0.26 / slope, rel=1e-6)


def test_the_mean_ratio_is_travel_over_stroke():
    found = pedal_ratio(pad_arm=0.26, rod_arm=0.05, rest_angle=-0.15, pedal_travel=0.06)

    assert found.mean_ratio * found.rod_stroke == pytest.approx(0.06)
    assert (
        min(found.rest_ratio, found.end_ratio) - 0.1 < found.mean_ratio < max(found.rest_ratio, found.end_ratio) + 0.1
    )


def test_a_tandem_shares_its_pressure():
    found = cylinder_pressures(kind="tandem", rod_force=2000, front_bore=0.0222, spring_offset=1e5)

    assert found.front_pressure - found.rear_pressure == pytest.approx(1e5)


@given(hand=st.floats(0, 500), foot=st.floats(0, 1e7))
def test_the_hand_lever_never_adds_to_the_foot(hand, foot):
    found = hand_lever(
        hand_force=hand,
        lever_ratio=7.0,
        bore=0.0178,
        foot_pressure=foot,
        rear_per_pressure=8e-4,
        adhesion=0.9,
        rear_load=4300.0,
    )

    assert found.rear_pressure == max(found.hand_pressure, foot)
    at_limit = hand_lever(
        hand_force=found.hand_force_to_lock,
        lever_ratio=7.0,
        bore=0.0178,
        rear_per_pressure=8e-4,
        adhesion=0.9,
        rear_load=4300.0,
    )
    assert at_limit.rear_force == pytest.approx(0.9 * 4300.0)


def test_a_lever_in_the_front_circuit_is_refused():
    with pytest.raises(Refused, match="rear circuit"):
        hand_lever(
            circuit="front",
            hand_force=100.0,
            lever_ratio=7.0,
            bore=0.0178,
            rear_per_pressure=8e-4,
            adhesion=0.9,
            rear_load=4300.0,
        )


def test_a_line_is_used_to_a_third_of_its_burst():
    found = line_rating(kind="hose", working_pressure=12e6)

    assert found.allowed_pressure == pytest.approx(found.burst_pressure / 3)
    assert found.enough == "no"

"""Straight lines, corners and banking: equilibrium sums, symmetry, lift, and independent roots."""

import math

import numpy
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from calc.loads.banking import banked_corner, held_speed
from calc.loads.cornering import cornering_loads
from calc.loads.longitudinal import longitudinal_load_transfer
from calc.loads.straight import straight_line_loads
from calc.loads.track import track_and_wheelbase
from calc.units import STANDARD_GRAVITY as G

car = st.fixed_dictionaries(
    {
        "mass": st.floats(300, 2500),
        "wheelbase": st.floats(1.8, 3.4),
        "front_share": st.floats(0.3, 0.7),
        "cg_height": st.floats(0.2, 0.8),
    }
)
air = st.fixed_dictionaries({"front_aero": st.floats(-200, 3000), "rear_aero": st.floats(-200, 3000)})


@given(car, air, st.floats(-20, 12), st.floats(-0.3, 0.3))
def test_forces_and_moments_balance_on_a_grade(car, air, ax, grade):
    """Law: forces square to the road, and moments about the front contact with d'Alembert's force at the centre of gravity."""
    found = straight_line_loads(**car, **air, acceleration=ax, grade=grade)
    if found.flags:
        return
    m, L, h = car["mass"], car["wheelbase"], car["cg_height"]
    sine, cosine = math.sin(math.atan(grade)), math.cos(math.atan(grade))
    down = m * G * cosine + air["front_aero"] + air["rear_aero"]
    moment = m * G * cosine * (1 - car["front_share"]) * L + m * (ax + G * sine) * h + air["rear_aero"] * L

    assert found.front_load + found.rear_load == pytest.approx(down)
    assert found.rear_load * L == pytest.approx(moment)
    assert found.road_force == pytest.approx(m * (ax + G * sine))
    assert found.acceleration_transfer == pytest.approx(m * ax * h / L)
    assert found.grade_transfer == pytest.approx(m * G * sine * h / L)
    assert found.front_share == pytest.approx(found.front_load / down)


def test_a_grade_in_per_cent_is_a_slope_not_an_angle():
    """Closed form: 12 % is 6.84 degrees; front load W (b cos - h sin)/L at rest."""
    found = straight_line_loads(mass=1000, wheelbase=2.5, front_share=0.5, cg_height=0.5, grade=0.12)

    assert math.degrees(found.grade_angle) == pytest.approx(6.8428, abs=1e-4)
    assert found.front_load == pytest.approx(
        1000 * G * (1.25 * math.cos(found.grade_angle) - 0.5 * math.sin(found.grade_angle)) / 2.5
    )


@given(car)
def test_axles_lift_at_a_over_h_and_b_over_h(car):
    """Closed form: the rear lifts at |a_x|/g = a/h, the front at b/h."""
    found = straight_line_loads(**car)
    to_front = car["wheelbase"] * (1 - car["front_share"])

    assert found.rear_lift == pytest.approx(-G * to_front / car["cg_height"])
    assert found.front_lift == pytest.approx(G * (car["wheelbase"] - to_front) / car["cg_height"])
    beyond = straight_line_loads(**car, acceleration=found.rear_lift * 1.01)
    assert (beyond.rear_load, beyond.flags != ()) == (0.0, True)
    assert beyond.front_load == pytest.approx(car["mass"] * G)


@given(car, st.floats(0.5, 1.5))
def test_both_calculators_of_braking_agree(car, part):
    """Up to the lift of the rear axle and beyond it: half to one and a half times a/h."""
    d = part * G * car["wheelbase"] * (1 - car["front_share"]) / car["cg_height"]
    one, two = longitudinal_load_transfer(**car, deceleration=d), straight_line_loads(**car, acceleration=-d)

    assert one.front_load == pytest.approx(two.front_load)
    assert one.rear_load == pytest.approx(two.rear_load, abs=1e-6 * car["mass"])
    assert bool(one.flags) == (part >= 1)
    assert one.lift_deceleration == pytest.approx(-two.rear_lift)


tracks = st.fixed_dictionaries({"front_track": st.floats(1.1, 1.9), "rear_track": st.floats(1.1, 1.9)})


@given(car, tracks, air, st.floats(0, 1), st.floats(0, 25), st.floats(-15, 8), st.sampled_from(["left", "right"]))
def test_a_corner_balances_or_rolls_over(car, tracks, air, share, ay, ax, turn):
    """Law: vertical forces, moments along and across; a wheel never pulls; beyond two lifted wheels it says so."""
    found = cornering_loads(
        **car, **tracks, **air, front_transfer_share=share, lateral_acceleration=ay, acceleration=ax, turn=turn
    )
    loads = found.front_left, found.front_right, found.rear_left, found.rear_right
    moment = (found.front_right - found.front_left) / 2 * tracks["front_track"] + (
        found.rear_right - found.rear_left
    ) / 2 * tracks["rear_track"]

    assert min(loads) >= -1e-9 * car["mass"] * G
    if any("roll over" in flag or "carries nothing" in flag for flag in found.flags):
        return
    assert sum(loads) == pytest.approx(car["mass"] * G + air["front_aero"] + air["rear_aero"])
    assert moment * (1 if turn == "left" else -1) == pytest.approx(car["mass"] * ay * car["cg_height"], abs=1e-6)
    along = straight_line_loads(**car, **air, acceleration=ax)
    assert found.longitudinal_transfer == pytest.approx(along.acceleration_transfer)
    assert found.front_left + found.front_right == pytest.approx(along.front_load, abs=1e-6)
    if found.lift_acceleration is not None and abs(ay / found.lift_acceleration - 1) > 1e-9:
        assert any("has lifted" in flag for flag in found.flags) == (ay > found.lift_acceleration)
    if not found.flags and ay > 1e-9:
        assert found.front_transfer / (found.front_transfer + found.rear_transfer) == pytest.approx(share)


@given(car, tracks, st.floats(0, 1), st.floats(0, 20), st.floats(-10, 6))
def test_a_corner_to_the_right_is_the_mirror_image(car, tracks, share, ay, ax):
    left, right = (
        cornering_loads(
            **car, **tracks, front_transfer_share=share, lateral_acceleration=ay, acceleration=ax, turn=turn
        )
        for turn in ("left", "right")
    )

    assert (left.front_left, left.rear_right) == (right.front_right, right.rear_left)


@given(car, tracks, st.floats(0.05, 0.95))
def test_the_first_wheel_lifts_where_it_is_said_to(car, tracks, share):
    """Independent numerical reference: scipy's root of the inside load as cornering grows."""
    ask = {**car, **tracks, "front_transfer_share": share}
    first = cornering_loads(**ask, lateral_acceleration=1.0)
    corner = f"{first.first_to_lift}_left"

    def inside(ay):
        found = cornering_loads(**ask, lateral_acceleration=ay)
        return getattr(found, corner) - 1e-6

    root = brentq(inside, 0.0, first.lift_acceleration * 1.5)
    assert root == pytest.approx(first.lift_acceleration, rel=1e-6)
    assert first.roll_over >= first.lift_acceleration * (1 - 1e-12)


@given(st.floats(5, 400), st.floats(-0.4, 0.6), st.floats(0.3, 2.0))
def test_the_highest_banked_speed_is_where_grip_is_used_up(radius, bank, grip):
    """Independent numerical reference: scipy's root of side force less grip times load."""
    speed = held_speed(radius, bank, grip)

    def spare(v):
        path = v * v / radius
        return grip * (G * math.cos(bank) + path * math.sin(bank)) - (path * math.cos(bank) - G * math.sin(bank))

    if speed is None:
        assert min(spare(v) for v in numpy.linspace(0, 500, 200)) > 0
    elif speed == 0:
        assert spare(0.0) <= 1e-9
    else:
        assert brentq(spare, 0.0, 3 * speed + 1) == pytest.approx(speed, rel=1e-9)


@given(st.floats(5, 60), st.floats(10, 300), st.floats(-0.3, 0.5))
def test_forces_on_a_banking_are_those_of_the_level_axes(speed, radius, bank):
    """Law: turning the axes by the banking changes no force: weight down, path force level. Reference: numpy rotation."""
    found = banked_corner(mass=1000, cg_height=0.5, track=1.5, speed=speed, radius=radius, bank=bank, adhesion=1.2)
    turn = numpy.array([[math.cos(bank), -math.sin(bank)], [math.sin(bank), math.cos(bank)]])
    side, normal = turn @ numpy.array([1000 * speed**2 / radius, 1000 * G])

    assert found.side_force == pytest.approx(side, rel=1e-9, abs=1e-6)
    assert found.normal_load == pytest.approx(max(0.0, normal), rel=1e-9, abs=1e-6)
    assert found.load_ratio == pytest.approx(found.normal_load / (1000 * G))
    assert found.transfer == pytest.approx(side * 0.5 / 1.5, rel=1e-9, abs=1e-6)
    if normal > 0:
        assert found.grip_used == pytest.approx(abs(side) / (1.2 * normal), rel=1e-9, abs=1e-12)
    assert found.flat_limit_speed == pytest.approx(held_speed(radius, 0.0, 1.2))


def test_more_than_the_grip_is_flagged_either_way():
    road = {"mass": 1000.0, "cg_height": 0.4, "track": 1.5, "radius": 50.0, "adhesion": 0.3}

    assert "outward" in banked_corner(**road, speed=40.0, bank=0.1).flags[0]
    assert "down the banking" in banked_corner(**road, speed=0.0, bank=0.5).flags[0]


@given(st.floats(1.1, 1.9), st.floats(1.1, 1.9), st.floats(1.8, 3.4), st.floats(1.8, 3.4))
def test_transfer_scales_with_one_over_track_and_wheelbase(t, t2, L, L2):
    """Law: dF_y t and dF_x L do not change; roll stiffness grows with the square of the track."""
    found = track_and_wheelbase(
        mass=1000, cg_height=0.5, track_before=t, track_after=t2, wheelbase_before=L, wheelbase_after=L2,
        lateral_acceleration=10, longitudinal_acceleration=8,
    )  # fmt: skip

    assert found.lateral_before * t == pytest.approx(found.lateral_after * t2)
    assert found.longitudinal_before * L == pytest.approx(found.longitudinal_after * L2)
    assert found.roll_stiffness_ratio * found.roll_ratio == pytest.approx(1)

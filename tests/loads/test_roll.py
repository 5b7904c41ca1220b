"""Lateral load transfer: independent solves, moment sums, symmetry, limits, and what is left after a wheel lifts."""

import math

import numpy
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq, fsolve

from calc.loads.chassis import chassis_twist
from calc.loads.lateral import lateral_load_transfer
from calc.refusal import Refused
from calc.units import STANDARD_GRAVITY as G

NAMES = {
    "sprung_mass": st.floats(300, 1600), "sprung_front_share": st.floats(0.35, 0.65), "sprung_height": st.floats(0.3, 0.7),
    "unsprung_front": st.floats(20, 120), "unsprung_rear": st.floats(20, 160), "unsprung_front_height": st.floats(0.2, 0.4),
    "unsprung_rear_height": st.floats(0.2, 0.4), "front_roll_centre": st.floats(-0.1, 0.25), "rear_roll_centre": st.floats(-0.1, 0.28),
    "front_track": st.floats(1.1, 1.9), "rear_track": st.floats(1.1, 1.9), "front_roll_stiffness": st.floats(1.5e4, 1.5e5),
    "rear_roll_stiffness": st.floats(1.5e4, 1.5e5),
}  # fmt: skip
cars = st.fixed_dictionaries(NAMES)
gentle = st.floats(0.2, 4.0)
chassis = st.none() | st.floats(5e3, 1e7)


def parts(car):
    """Masses, arms and the half loads of both axles, written out again for the reference."""
    sprung = [car["sprung_mass"] * car["sprung_front_share"], car["sprung_mass"] * (1 - car["sprung_front_share"])]
    arms = [car["sprung_height"] - car[f"{end}_roll_centre"] for end in ("front", "rear")]
    half = [(m + car[f"unsprung_{end}"]) * G / 2 for m, end in zip(sprung, ("front", "rear"), strict=True)]
    return sprung, arms, half


def rigid_parts(car, ay):
    """The unsprung and geometric load transfer of both axles."""
    sprung, _, _ = parts(car)
    return [
        ay
        * (car[f"unsprung_{end}"] * car[f"unsprung_{end}_height"] + m * car[f"{end}_roll_centre"])
        / car[f"{end}_track"]
        for m, end in zip(sprung, ("front", "rear"), strict=True)
    ]


@given(cars, gentle, st.floats(5e3, 1e7), st.booleans())
def test_a_twisting_chassis_agrees_with_numpy(car, ay, K_c, gravity):
    """Independent numerical reference: numpy.linalg.solve of the two moment equations."""
    found = lateral_load_transfer(**car, lateral_acceleration=ay, chassis_stiffness=K_c, gravity_term=gravity)
    if found.flags:
        return
    sprung, arms, _ = parts(car)
    tilt = [m * G * d * gravity for m, d in zip(sprung, arms, strict=True)]
    stiff = car["front_roll_stiffness"], car["rear_roll_stiffness"]
    matrix = numpy.array([[stiff[0] + K_c - tilt[0], -K_c], [-K_c, stiff[1] + K_c - tilt[1]]])
    roll = numpy.linalg.solve(matrix, [m * ay * d for m, d in zip(sprung, arms, strict=True)])
    fixed = rigid_parts(car, ay)

    assert found.roll_angle == pytest.approx(roll[0], rel=1e-7)
    assert found.chassis_twist == pytest.approx(roll[1] - roll[0], rel=1e-5, abs=1e-10)
    assert found.front_transfer == pytest.approx(fixed[0] + stiff[0] * roll[0] / car["front_track"], rel=1e-7)
    assert found.rear_transfer == pytest.approx(fixed[1] + stiff[1] * roll[1] / car["rear_track"], rel=1e-7)
    both = found.front_transfer + found.rear_transfer
    assert found.front_transfer_share * both == pytest.approx(found.front_transfer)
    assert found.stiffness_share == pytest.approx(stiff[0] / sum(stiff))
    assert found.roll_arm * car["sprung_mass"] == pytest.approx(
        sum(m * d for m, d in zip(sprung, arms, strict=True)), abs=1e-9
    )
    assert found.roll_gradient_without_gravity == pytest.approx(
        sum(m * d for m, d in zip(sprung, arms, strict=True)) / sum(stiff)
    )


@given(cars, gentle, chassis)
def test_moments_of_both_axles_hold_the_car(car, ay, K_c):
    """Law: sum of dF t = m a_y h + m_s g d phi, with each end's own roll. Source: moment balance about the ground."""
    found = lateral_load_transfer(**car, lateral_acceleration=ay, chassis_stiffness=K_c)
    if found.roll_angle is None:
        return
    sprung, arms, _ = parts(car)
    rolls = found.roll_angle, found.roll_angle + found.chassis_twist
    high = ay * (
        car["sprung_mass"] * car["sprung_height"]
        + sum(car[f"unsprung_{end}"] * car[f"unsprung_{end}_height"] for end in ("front", "rear"))
    )
    lean = sum(m * G * d * phi for m, d, phi in zip(sprung, arms, rolls, strict=True))

    assert found.moment == pytest.approx(high + lean, rel=1e-8)


def saturated(car, ay):
    """Independent numerical reference for a rigid chassis: each axle's elastic moment stops at wheel lift; the root is scipy's."""
    sprung, arms, half = parts(car)
    fixed = rigid_parts(car, ay)
    caps = [(h - f) * car[f"{end}_track"] for h, f, end in zip(half, fixed, ("front", "rear"), strict=True)]
    stiff = car["front_roll_stiffness"], car["rear_roll_stiffness"]

    def left(phi):
        push = sum(m * (ay + G * phi) * d for m, d in zip(sprung, arms, strict=True))
        return push - sum(min(k * phi, cap) for k, cap in zip(stiff, caps, strict=True))

    grid = numpy.linspace(0, 1.5, 6001)
    values = [left(phi) for phi in grid]
    for low, high, a, b in zip(grid, grid[1:], values, values[1:], strict=False):
        if a > 0 >= b:
            phi = brentq(left, low, high, xtol=1e-14)
            return phi, [
                f + min(k * phi, cap) / car[f"{end}_track"]
                for f, k, cap, end in zip(fixed, stiff, caps, ("front", "rear"), strict=True)
            ]
    return None


@given(cars, st.floats(4, 30))
def test_after_a_wheel_lifts_the_other_axle_takes_the_rest(car, ay):
    found = lateral_load_transfer(**car, lateral_acceleration=ay)
    expected = saturated(car, ay)

    if expected is None:
        assert found.roll_angle is None or found.roll_angle > 1.49
    elif found.roll_angle is not None:
        phi, transfers = expected
        assert found.roll_angle == pytest.approx(phi, rel=1e-6, abs=1e-9)
        assert (found.front_transfer, found.rear_transfer) == pytest.approx(transfers, rel=1e-6)
    _, _, half = parts(car)
    assert found.front_transfer <= half[0] * (1 + 1e-9)
    assert found.rear_transfer <= half[1] * (1 + 1e-9)


def test_after_a_lift_a_twisting_chassis_agrees_with_scipy():
    """Independent numerical reference: scipy.optimize.fsolve on saturating springs."""
    car = {
        "sprung_mass": 900.0, "sprung_front_share": 0.62, "sprung_height": 0.5, "unsprung_front": 70.0, "unsprung_rear": 60.0,
        "unsprung_front_height": 0.3, "unsprung_rear_height": 0.3, "front_roll_centre": 0.05, "rear_roll_centre": 0.1,
        "front_track": 1.5, "rear_track": 1.45, "front_roll_stiffness": 3e4, "rear_roll_stiffness": 9e4,
    }  # fmt: skip
    ay, K_c = 9.0, 3e5
    found = lateral_load_transfer(**car, lateral_acceleration=ay, chassis_stiffness=K_c)
    sprung, arms, half = parts(car)
    fixed = rigid_parts(car, ay)
    stiff = car["front_roll_stiffness"], car["rear_roll_stiffness"]
    caps = [(h - f) * t for h, f, t in zip(half, fixed, (1.5, 1.45), strict=True)]

    def left(phi):
        twist = K_c * (phi[1] - phi[0])
        held = [min(k * p, cap) for k, p, cap in zip(stiff, phi, caps, strict=True)]
        push = [m * (ay + G * p) * d for m, d, p in zip(sprung, arms, phi, strict=True)]
        return [push[0] + twist - held[0], push[1] - twist - held[1]]

    front, rear = fsolve(left, [0.05, 0.05], xtol=1e-13)
    assert any("inside rear wheel lifts" in flag for flag in found.flags)
    assert (found.roll_angle, found.roll_angle + found.chassis_twist) == pytest.approx((front, rear), rel=1e-8)


@given(cars, gentle)
def test_a_car_turned_end_for_end_swaps_its_axles(car, ay):
    """Law: nothing in roll knows which end is the front."""
    swapped = {}
    for name, value in car.items():
        other = name.replace("front", "x").replace("rear", "front").replace("x", "rear")
        swapped[name if name == "sprung_front_share" else other] = 1 - value if name == "sprung_front_share" else value
    one, two = (lateral_load_transfer(**each, lateral_acceleration=ay) for each in (car, swapped))

    assert two.front_transfer == pytest.approx(one.rear_transfer, rel=1e-9)
    assert two.rear_elastic == pytest.approx(one.front_elastic, rel=1e-9)


@given(cars, gentle)
def test_limits_of_chassis_and_stiffness(car, ay):
    rigid = lateral_load_transfer(**car, lateral_acceleration=ay)
    stiff = lateral_load_transfer(**car, lateral_acceleration=ay, chassis_stiffness=1e14)
    if rigid.flags:
        return

    assert stiff.front_transfer == pytest.approx(rigid.front_transfer, rel=1e-6)
    solid = lateral_load_transfer(
        **{**car, "front_roll_stiffness": 1e14, "rear_roll_stiffness": 1e14}, lateral_acceleration=ay
    )
    assert solid.roll_angle == pytest.approx(0, abs=1e-8)
    assert rigid.roll_gradient_without_gravity <= rigid.roll_gradient or rigid.roll_arm < 0


@given(cars, gentle, st.floats(1.01, 3))
def test_a_stiffer_front_takes_more_and_rolls_less(car, ay, more):
    """Monotonic: more front roll stiffness moves load transfer to the front and reduces roll."""
    stiffer = {**car, "front_roll_stiffness": car["front_roll_stiffness"] * more}
    before, after = (lateral_load_transfer(**each, lateral_acceleration=ay) for each in (car, stiffer))
    if before.flags or after.flags or before.roll_arm <= 0:
        return

    assert after.front_elastic >= before.front_elastic
    assert after.rear_elastic <= before.rear_elastic
    assert after.roll_angle <= before.roll_angle


@given(cars, gentle, st.floats(0.1, 0.9))
def test_without_a_lift_all_is_proportional_to_acceleration(car, ay, part):
    whole, less = (lateral_load_transfer(**car, lateral_acceleration=a) for a in (ay, ay * part))
    if whole.flags:
        return

    assert less.front_transfer == pytest.approx(part * whole.front_transfer, rel=1e-9)
    assert less.roll_gradient == pytest.approx(whole.roll_gradient, rel=1e-9)


def test_a_car_that_falls_over_at_rest_is_refused():
    car = dict.fromkeys(NAMES, 0.5) | {"sprung_mass": 1000.0, "sprung_height": 0.6, "front_roll_centre": 0.1, "rear_roll_centre": 0.1,
           "front_track": 1.5, "rear_track": 1.5, "front_roll_stiffness": 2000.0, "rear_roll_stiffness": 2000.0}  # fmt: skip
    for stiffness in (None, 1e5):
        with pytest.raises(Refused, match="falls over") as caught:
            lateral_load_transfer(**car, lateral_acceleration=1.0, chassis_stiffness=stiffness)
        assert caught.value.input == "front_roll_stiffness"


def test_both_wheels_up_is_a_roll_over():
    car = dict.fromkeys(NAMES, 0.5) | {"sprung_mass": 1000.0, "sprung_height": 0.6, "front_roll_centre": 0.1, "rear_roll_centre": 0.1,
           "front_track": 1.5, "rear_track": 1.5, "front_roll_stiffness": 6e4, "rear_roll_stiffness": 5e4}  # fmt: skip
    found = lateral_load_transfer(**car, lateral_acceleration=30.0)

    assert found.roll_angle is None
    assert "roll over" in found.flags[0]


@given(
    st.floats(1e4, 2e5),
    st.floats(1e4, 2e5),
    st.floats(0, 1e7),
    st.floats(0.35, 0.65),
    st.floats(0.2, 0.6),
    st.floats(0.2, 0.6),
)
def test_chassis_twist_agrees_with_numpy(K_f, K_r, K_c, share, d_f, d_r):
    """Independent numerical reference: numpy.linalg.solve, and the closed form of the sheet with lambda and mu."""
    found = chassis_twist(
        front_roll_stiffness=K_f, rear_roll_stiffness=K_r, chassis_stiffness=K_c, sprung_mass=1000.0, sprung_front_share=share,
        front_arm=d_f, rear_arm=d_r, lateral_acceleration=10.0,
    )  # fmt: skip
    ends = [1e4 * share * d_f, 1e4 * (1 - share) * d_r]
    roll = numpy.linalg.solve([[K_f + K_c, -K_c], [-K_c, K_r + K_c]], ends)

    assert (found.front_roll, found.rear_roll) == pytest.approx(tuple(roll), rel=1e-7)
    assert found.front_share == pytest.approx(K_f * roll[0] / sum(ends), rel=1e-7)
    part, mu = K_f / (K_f + K_r), K_c / (K_f + K_r)
    below = part**2 - part - mu
    assert found.front_of_front == pytest.approx((part**2 - (mu + 1) * part) / below, rel=1e-7)
    assert found.front_of_rear == pytest.approx(-mu * part / below, rel=1e-7, abs=1e-15)
    if K_c > 1e3:
        step = K_f * 1e-4
        moved = [
            chassis_twist(
                front_roll_stiffness=k, rear_roll_stiffness=K_r, chassis_stiffness=K_c, sprung_mass=1000.0, sprung_front_share=share,
                front_arm=d_f, rear_arm=d_r, lateral_acceleration=10.0,
            )
            for k in (K_f + step, K_f - step)
        ]  # fmt: skip
        slope, rigid = ((getattr(moved[0], name) - getattr(moved[1], name)) for name in ("front_share", "rigid_share"))
        assert found.bar_effect == pytest.approx(slope / rigid, rel=1e-4)


def test_a_chassis_without_stiffness_leaves_each_end_to_itself():
    found = chassis_twist(
        front_roll_stiffness=5e4, rear_roll_stiffness=3e4, chassis_stiffness=0.0, sprung_mass=1000.0, sprung_front_share=0.5,
        front_arm=0.4, rear_arm=0.3, lateral_acceleration=10.0,
    )  # fmt: skip

    assert (found.front_of_front, found.front_of_rear, found.bar_effect) == (1.0, 0.0, 0.0)
    assert math.isclose(found.front_roll, 1000 * 0.5 * 10 * 0.4 / 5e4)

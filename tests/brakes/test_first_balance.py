"""Pedal to tyre and brake balance: laws, and lock order by an independent search."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from calc.brakes.balance import brake_balance
from calc.brakes.pedal import brake_forces
from calc.units import STANDARD_GRAVITY

BOX = {
    "pedal_force": 400.0,
    "pedal_ratio": 5.2,
    "front_bore": 0.01905,
    "rear_bore": 0.02064,
    "front_pistons": 22.8e-4,
    "rear_pistons": 11.4e-4,
    "front_friction": 0.45,
    "rear_friction": 0.42,
    "front_disc_radius": 0.128,
    "rear_disc_radius": 0.118,
    "front_wheel_radius": 0.305,
    "rear_wheel_radius": 0.305,
}
CAR = {"mass": 1160.0, "wheelbase": 2.56, "front_share": 0.526, "cg_height": 0.48}


@given(st.floats(0.011, 0.03), st.floats(0.011, 0.03))
def test_a_smaller_bore_never_lowers_pressure(one, other):
    small, large = sorted((one, other))
    a, b = (brake_forces(**{**BOX, "front_bore": bore}) for bore in (small, large))

    assert a.front_pressure >= b.front_pressure
    assert a.front_share >= b.front_share


@given(st.floats(10, 2000))
def test_forces_grow_in_proportion_and_the_share_stays(force):
    one, other = brake_forces(**BOX), brake_forces(**{**BOX, "pedal_force": force})

    assert other.front_share == pytest.approx(one.front_share)
    assert other.total_force / one.total_force == pytest.approx(force / BOX["pedal_force"])


def test_hydraulics_lose_no_work():
    """Independent: work of the rods equals work of the pads plus nothing, for incompressible fluid and one side's area counted twice."""
    said = brake_forces(**BOX)
    rod_travel = 0.001
    volume = rod_travel * math.pi * BOX["front_bore"] ** 2 / 4
    clamp = said.front_pressure * BOX["front_pistons"]
    pad_travel = volume / (2 * BOX["front_pistons"])  # both sides of one caliper move

    assert 0.5 * said.rod_force * rod_travel == pytest.approx(2 * clamp * pad_travel)


def use_of_grip(rate, share):
    """Adhesion each axle uses at a braking rate, straight from the moment balance."""
    moved = rate * CAR["cg_height"] / CAR["wheelbase"]
    return share * rate / (CAR["front_share"] + moved), (1 - share) * rate / (1 - CAR["front_share"] - moved)


@given(st.floats(0.4, 0.95), st.floats(0.3, 1.6))
def test_lock_order_agrees_with_a_search(share, grip):
    """Independent numerical reference: scipy brentq on the adhesion used by the more loaded axle."""
    said = brake_balance(**CAR, front_brake_share=share, adhesion=grip)
    lift = (1 - CAR["front_share"]) * CAR["wheelbase"] / CAR["cg_height"]
    found = brentq(lambda z: max(use_of_grip(z, share)) - grip, 1e-9, lift * (1 - 1e-9))
    front, rear = use_of_grip(found, share)

    assert said.limit == pytest.approx(found * STANDARD_GRAVITY, rel=1e-6)
    if abs(front - rear) > 1e-6:
        assert said.locks_first == ("front" if front > rear else "rear")


@given(st.floats(0.3, 1.6))
def test_the_ideal_share_uses_all_the_grip(grip):
    ideal = brake_balance(**CAR, front_brake_share=0.7, adhesion=grip).ideal_share
    said = brake_balance(**CAR, front_brake_share=ideal, adhesion=grip)

    assert said.efficiency == pytest.approx(1)
    assert said.locks_first == "both together"


@pytest.mark.parametrize(("share", "axle"), [(1.0, "front"), (0.0, "rear")])
def test_one_axle_alone_stops_by_the_single_axle_formula(share, axle):
    """z = mu b / (L - mu h) and mu a / (L + mu h): Limpert, Brake Design and Safety, 1999 (from memory)."""
    grip, length, height = 0.8, CAR["wheelbase"], CAR["cg_height"]
    b = CAR["front_share"] * length
    expected = grip * b / (length - grip * height) if share else grip * (length - b) / (length + grip * height)
    said = brake_balance(**CAR, front_brake_share=share, adhesion=grip)

    assert said.limit / STANDARD_GRAVITY == pytest.approx(expected)
    assert said.locks_first == axle


def test_a_rear_axle_that_lifts_is_flagged():
    said = brake_balance(**{**CAR, "cg_height": 1.6}, front_brake_share=1.0, adhesion=1.5)

    assert "lifts" in said.flags[0]
    assert said.limit == pytest.approx(0.474 * 2.56 / 1.6 * STANDARD_GRAVITY)

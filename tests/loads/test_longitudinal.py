"""Load transfer along the car: laws and the end of the model."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.loads.longitudinal import longitudinal_load_transfer
from calc.units import STANDARD_GRAVITY

CAR = {"mass": 1160.0, "cg_height": 0.48, "wheelbase": 2.56, "front_share": 0.526}


@given(st.floats(0.1, 20))
def test_no_load_is_made_or_lost(deceleration):
    said = longitudinal_load_transfer(**CAR, deceleration=deceleration)

    assert said.front_load + said.rear_load == pytest.approx(CAR["mass"] * STANDARD_GRAVITY)


@given(st.floats(0.1, 20))
def test_moments_about_the_centre_of_gravity_balance(deceleration):
    """Independent of the formula: contact forces m d at the ground and axle loads must not turn the car."""
    said = longitudinal_load_transfer(**CAR, deceleration=deceleration)

    behind = CAR["wheelbase"] * (1 - CAR["front_share"])  # front axle to centre of gravity
    ahead = CAR["wheelbase"] * CAR["front_share"]
    turning = said.front_load * behind - said.rear_load * ahead - CAR["mass"] * deceleration * CAR["cg_height"]
    assert turning == pytest.approx(0, abs=1e-6)


def test_a_rear_axle_in_the_air_is_flagged_and_carries_nothing():
    said = longitudinal_load_transfer(**CAR, deceleration=30.0)

    assert said.rear_load == pytest.approx(0, abs=1e-9)
    assert "lift" in said.flags[0]
    assert said.lift_deceleration < 30.0

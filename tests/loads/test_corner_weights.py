"""Four scales: laws of the balance, and refusals."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.loads.corner_weights import corner_weights
from calc.refusal import Refused

SIZES = {"wheelbase": 2.56, "front_track": 1.51, "rear_track": 1.49}
CORNERS = ("front_left", "front_right", "rear_left", "rear_right")
scales = st.fixed_dictionaries({corner: st.floats(50, 800) for corner in CORNERS})


@given(scales)
def test_moments_about_the_centre_of_gravity_vanish(read):
    said = corner_weights(**read, **SIZES)

    front, rear = read["front_left"] + read["front_right"], read["rear_left"] + read["rear_right"]
    assert front * said.cg_to_front == pytest.approx(rear * said.cg_to_rear)
    left = sum(read[c] * (SIZES[f"{c[:-5]}_track"] / 2 - said.cg_left) for c in ("front_left", "rear_left"))
    right = sum(read[c] * (SIZES[f"{c[:-6]}_track"] / 2 + said.cg_left) for c in ("front_right", "rear_right"))
    assert left == pytest.approx(right)


@given(scales)
def test_a_mirrored_car_has_the_other_diagonal_and_the_other_side(read):
    mirrored = {c: read[c.replace("left", "x").replace("right", "left").replace("x", "right")] for c in CORNERS}
    one, other = corner_weights(**read, **SIZES), corner_weights(**mirrored, **SIZES)

    assert one.cross_share + other.cross_share == pytest.approx(1)
    assert one.cg_left == pytest.approx(-other.cg_left, abs=1e-12)


@given(scales, st.floats(0.1, 10))
def test_scales_in_any_unit_give_the_same_shares(read, by):
    one = corner_weights(**read, **SIZES)
    other = corner_weights(**{c: by * v for c, v in read.items()}, **SIZES)

    assert other[:3] == pytest.approx(one[:3])


def test_an_empty_car_is_refused():
    with pytest.raises(Refused, match="must carry some mass"):
        corner_weights(**dict.fromkeys(CORNERS, 0.0), **SIZES)

"""Numbers as a reader sees them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.display import Shown, number, quantity
from calc.refusal import Refused
from calc.units import split


@pytest.mark.parametrize(
    ("value", "figures", "text"),
    [
        (26000.4, 4, "26\u202f000"),
        (1.61803, 4, "1.618"),
        (-0.5, 4, "−0.5"),
        (0.0, 4, "0"),
        (2.5e-13, 4, "2.5 × 10⁻¹³"),
        (-3.1e15, 3, "−3.1 × 10¹⁵"),
        (123456.7, 2, "123\u202f457"),
        (9.9999, 3, "10"),
    ],
)
def test_a_number_is_written_with_sensible_digits(value, figures, text):
    assert number(value, figures) == text


def test_the_zeros_of_an_answer_stay():
    assert number(2.0, 3, trim=False) == "2.00"
    assert number(-0.0004, 3, places=2, trim=False) == "0.00"


@given(st.floats(min_value=-1e9, max_value=1e9))
def test_what_is_written_reads_back_to_its_digits(value):
    written = number(value, 6)
    if "×" not in written:
        assert split(written)[0] == pytest.approx(value, rel=5e-6, abs=1e-9)


def test_the_readers_unit_is_used():
    shown = Shown({"N/mm": "lbf/in"})

    assert shown.value(52_538.0, "N/mm") == ("300", "lbf/in")
    assert shown.text(0.1, "mm") == "100\u00a0mm"
    assert shown.span(15e3, 250e3, "N/mm") == "85.7 to 1\u202f428\u00a0lbf/in"


def test_a_unit_of_another_kind_cannot_be_chosen():
    with pytest.raises(Refused, match="must measure stiffness"):
        Shown({"N/mm": "kg"})


def test_degrees_close_up_and_other_units_do_not():
    assert quantity(0.5, "°", 3) == "28.6°"
    assert quantity(0.5, "%", 3) == "50\u00a0%"


def test_a_count_has_no_decimals():
    assert Shown().value(26, "", 4, trim=False) == ("26", "")
    assert Shown().value(26.0, "", 4, trim=False) == ("26.00", "")

"""Units against pint and scipy, two independent unit libraries."""

import math

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import constants

from calc.refusal import Refused
from calc.units import UNITS, Quantity, choices, convert, read, read_as_thousands, split, unit

REGISTRY = pint.UnitRegistry()
AS_PINT = {  # our symbol: how pint writes it, where that differs
    "": "dimensionless",
    "%": "percent",
    "in": "inch",
    "in²": "inch**2",
    "in³": "inch**3",
    "kgf": "kilogram_force",
    "lbf": "pound_force",
    "kgf/mm": "kilogram_force/mm",
    "lbf/in": "pound_force/inch",
    "lbf·ft": "pound_force*foot",
    "lbf·ft/deg": "pound_force*foot/degree",
    "1/in": "1/inch",
    "lb": "pound",
    "l": "litre",
    "h": "hour",
    "°": "degree",
    "°C": "degC",
    "°F": "degF",
    "g": "standard_gravity",
    "cpm": "1/minute",
    "in/s": "inch/s",
    "psi": "psi",
    "deg/g": "degree/standard_gravity",
    "rad/g": "rad/standard_gravity",
    "lbf/deg": "pound_force/degree",
    "1/lbf": "1/pound_force",
}


def as_pint(symbol: str) -> str:
    written = AS_PINT.get(symbol, symbol)
    for ours, theirs in (("·", "*"), ("²", "**2"), ("³", "**3"), ("⁴", "**4")):
        written = written.replace(ours, theirs)
    return written


def si_of(dimension: str) -> str:
    return next(
        each.symbol for each in UNITS.values() if each.dimension == dimension and each.factor == 1 and not each.offset
    )


@pytest.mark.parametrize("symbol", sorted(UNITS))
def test_every_unit_agrees_with_an_independent_library(symbol):
    ours = UNITS[symbol]
    si = as_pint(si_of(ours.dimension))

    for value in (0.0, 1.0, -3.7, 812.25):
        theirs = REGISTRY.Quantity(value, as_pint(symbol)).to(si).magnitude
        assert ours.to_si(value) == pytest.approx(theirs, rel=1e-12, abs=1e-9 if ours.offset else 1e-15)


def test_factors_agree_with_scipy_constants():
    assert unit("lbf").factor == pytest.approx(constants.lbf, rel=1e-14)
    assert unit("psi").factor == pytest.approx(constants.psi, rel=1e-14)
    assert unit("mph").factor == pytest.approx(constants.mph, rel=1e-14)
    assert unit("g").factor == constants.g


def test_no_name_stands_for_two_units():
    names = [name for each in UNITS.values() for name in (each.symbol, *each.aliases)]

    assert len(names) == len(set(names))


@pytest.mark.parametrize("symbol", sorted(UNITS))
@given(value=st.floats(-1e6, 1e6))
def test_there_and_back(symbol, value):
    assert UNITS[symbol].from_si(UNITS[symbol].to_si(value)) == pytest.approx(value, rel=1e-12, abs=1e-9)


def test_units_a_reader_may_choose_measure_the_same_thing():
    for symbol in UNITS:
        assert {each.dimension for each in choices(symbol)} == {UNITS[symbol].dimension}


@pytest.mark.parametrize(
    ("text", "number", "name"),
    [
        ("26 N/mm", 26.0, "N/mm"),
        ("26,5N/mm", 26.5, "N/mm"),
        (" 26.5  N/mm ", 26.5, "N/mm"),
        ("−5 °C", -5.0, "°C"),
        ("1\u202f160 kg", 1160.0, "kg"),
        ("26 000 N/m", 26000.0, "N/m"),
        ("1.2e3 N", 1200.0, "N"),
        (".5 in", 0.5, "in"),
        ("5/8 in", 0.625, "in"),
        ("1 1/4 in", 1.25, "in"),
        ("12", 12.0, ""),
    ],
)
def test_what_people_write_is_read(text, number, name):
    assert split(text) == (number, name)


@pytest.mark.parametrize(
    "text", ["", "N/mm", "1.2.3 mm", "1,234.5 kg", "twelve mm", "<b>1</b>", "1" * 100, "nan", "inf", "1/0 in", "--1 mm"]
)
def test_what_cannot_be_read_is_refused(text):
    with pytest.raises(Refused):
        read(text, Quantity("length", "m"))


def test_a_wrong_unit_is_named_with_what_would_fit():
    with pytest.raises(Refused, match=r"must measure length .*mm.*got '5 kg'"):
        read("5 kg", Quantity("length", "m"))


def test_a_slip_of_the_pen_gets_the_nearest_unit():
    with pytest.raises(Refused, match=r"Did you mean N/mm\?"):
        unit("N/mmm")


def test_a_comma_that_may_mean_thousands_is_noticed():
    assert read_as_thousands("1,250 kg")
    assert not any(map(read_as_thousands, ("1,25 kg", "0,250 m", "1250 kg", "1,2500 kg", "12,5 mm")))


@given(st.floats(min_value=-1e9, max_value=1e9))
def test_degrees_celsius_and_fahrenheit_meet_at_minus_forty(value):
    assert convert(-40.0, "°C", "°F") == pytest.approx(-40.0)
    assert math.isclose(convert(convert(value, "°C", "°F"), "°F", "°C"), value, rel_tol=1e-9, abs_tol=1e-6)

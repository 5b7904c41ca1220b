"""Laws of discs, calipers, drums and pads, with scipy as the independent reference."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import dblquad, quad
from scipy.interpolate import PchipInterpolator

from calc.brakes.button_pads import button_factor
from calc.brakes.calipers import Piston, caliper_clamp
from calc.brakes.discs import uniform_pressure, uniform_wear
from calc.brakes.drum_factor import DrumGeometry, drum_factor
from calc.brakes.drums import Shoe, drum_shoes
from calc.brakes.friction import AxleTemperatures, FrictionPoint, make_pad, pad_balance, pad_friction_over_temperature
from calc.brakes.table import read_between
from calc.refusal import Refused


@given(inner=st.floats(0.05, 0.14), width=st.floats(0.005, 0.08))
def test_even_pressure_rubs_no_further_in_than_even_wear(inner, width):
    outer = inner + width
    exact = quad(lambda r: r * r, inner, outer)[0] / quad(lambda r: r, inner, outer)[0]

    assert uniform_pressure(inner, outer) >= uniform_wear(inner, outer)
    assert uniform_pressure(inner, outer) == pytest.approx(exact, rel=1e-9)
    if inner / outer >= 0.61:
        assert uniform_pressure(inner, outer) / uniform_wear(inner, outer) < 1.02


@pytest.mark.parametrize("size", [0.1, 0.3, 0.5])
@pytest.mark.parametrize(("law", "power"), [("uniform wear", -1), ("uniform pressure", 0)])
def test_button_factors_against_a_double_integral(size, law, power):
    """Independent reference: scipy's double integral over the pad, in polar coordinates about its own centre."""

    def over_pad(weight):
        def at(angle, r):
            axle = math.hypot(1 + r * math.cos(angle), r * math.sin(angle))
            return weight(axle) * axle**power * r

        return dblquad(at, 0, size, 0, 2 * math.pi)[0]

    assert button_factor(size, law) == pytest.approx(over_pad(lambda d: d) / over_pad(lambda d: 1.0), rel=2e-5)


@given(pressure=st.floats(0, 1e7), pistons=st.lists(st.floats(0.02, 0.06), min_size=1, max_size=4))
def test_opposed_and_sliding_clamp_alike_and_differ_in_fluid_area(pressure, pistons):
    rows = tuple(Piston(d) for d in pistons)
    same = {"pistons": rows, "line_pressure": pressure, "friction": 0.4, "disc_radius": 0.13, "wheel_radius": 0.3}
    opposed, sliding = caliper_clamp(kind="opposed", **same), caliper_clamp(kind="sliding", **same)

    assert opposed.clamp == sliding.clamp
    assert opposed.fluid_area == pytest.approx(2 * sliding.fluid_area)


@given(mu=st.floats(0.1, 0.4), start=st.floats(0, 0.6), end=st.floats(1.2, 2.6))
def test_shoe_moments_against_quadrature(mu, start, end):
    """Independent reference: scipy's integral of pressure times arm along the lining."""
    r, pivot, width = 0.11, 0.09, 0.04
    shoe = Shoe(r, pivot, width, mu, start, end)
    peak = 1.0 if end >= math.pi / 2 else math.sin(end)

    def along(arm):
        return quad(lambda t: math.sin(t) / peak * width * r * arm(t), start, end)[0]

    assert shoe.normal == pytest.approx(along(lambda t: pivot * math.sin(t)), rel=1e-9)
    assert shoe.drag == pytest.approx(along(lambda t: mu * (r - pivot * math.cos(t))), rel=1e-9)
    assert shoe.torque == pytest.approx(along(lambda t: mu * r), rel=1e-9)


def test_the_wrong_sign_of_the_friction_arm_is_not_ours():
    """A printed example has the arm r + R cos(theta); with ours the drag stays below that one."""
    shoe = Shoe(0.15, 0.12, 0.05, 0.3, 0.2, 2.1)
    printed = quad(lambda t: 0.3 * math.sin(t) * 0.05 * 0.15 * (0.15 + 0.12 * math.cos(t)), 0.2, 2.1)[0]

    assert shoe.drag < 0.9 * printed


@given(mu=st.floats(0.1, 0.6))
def test_a_leading_shoe_does_more_than_a_trailing_one(mu):
    assume(Shoe(0.11, 0.09, 0.04, mu, 0.2, 2.1).drag < 0.95 * Shoe(0.11, 0.09, 0.04, mu, 0.2, 2.1).normal)
    found = drum_shoes(
        force=2000.0,
        drum_radius=0.11,
        pivot_radius=0.09,
        width=0.04,
        friction=mu,
        start_angle=0.2,
        end_angle=2.1,
        force_arm=0.17,
    )

    assert found.leading_torque > found.trailing_torque
    assert found.normal_moment - found.friction_moment == pytest.approx(2000.0 * 0.17)


def test_a_shoe_that_locks_by_itself_is_refused():
    same = {"drum_radius": 0.125, "force_height": 0.1, "anchor_height": 0.1}
    with pytest.raises(Refused, match="locks by itself"):
        drum_factor(kind="two leading", friction=0.8, **same)
    with pytest.raises(Refused, match="locks by itself"):
        drum_shoes(force=1.0, drum_radius=0.2, pivot_radius=0.1, width=0.04, friction=1.4, end_angle=2.4, force_arm=0.2)


@given(mu=st.floats(0.05, 0.7))
def test_the_sensitivity_is_the_logarithmic_slope(mu):
    drum = DrumGeometry(0.125, 0.1, 0.1)
    found = drum_factor(kind="duo-servo", friction=mu, drum_radius=0.125, force_height=0.1, anchor_height=0.1)
    step = 1e-6 * mu
    slope = (math.log(drum.factor("duo-servo", mu + step)) - math.log(drum.factor("duo-servo", mu - step))) / math.log(
        (mu + step) / (mu - step)
    )

    assert found.sensitivity == pytest.approx(slope, rel=1e-4)
    assert found.sensitivity > 1


TABLE = st.lists(st.tuples(st.floats(20, 120), st.floats(0.2, 0.6)), min_size=2, max_size=8)


@given(rows=TABLE, part=st.floats(0, 1))
def test_a_table_is_read_as_scipy_reads_it_and_never_overshoots(rows, part):
    """Independent reference: scipy's PchipInterpolator."""
    xs = [sum(width for width, _ in rows[: i + 1]) for i in range(len(rows))]
    ys = [mu for _, mu in rows]
    at = xs[0] + part * (xs[-1] - xs[0])
    smooth = read_between(xs, ys, at, "monotone cubic")

    assert smooth == pytest.approx(float(PchipInterpolator(xs, ys)(at)), rel=1e-9, abs=1e-12)
    assert min(ys) - 1e-12 <= smooth <= max(ys) + 1e-12
    assert min(ys) - 1e-12 <= read_between(xs, ys, at) <= max(ys) + 1e-12


PAD = tuple(
    FrictionPoint(t + 273.15, mu)
    for t, mu in ((50, 0.34), (150, 0.42), (300, 0.47), (450, 0.48), (600, 0.44), (700, 0.33))
)


@pytest.mark.parametrize("way", ["linear", "monotone cubic"])
def test_fade_begins_where_friction_falls_below_nine_tenths_of_the_peak(way):
    found = pad_friction_over_temperature(points=PAD, way=way, at_temperature=400.0)
    pad = make_pad(PAD, "points", way)

    assert pad.at(found.fade_onset, "x") == pytest.approx(0.9 * found.peak, rel=1e-9)
    assert all(
        pad.at(t, "x") > 0.9 * found.peak
        for t in (
            found.peak_temperature + (found.fade_onset - 1e-3 - found.peak_temperature) * i / 50 for i in range(51)
        )
    )


def test_pads_of_one_compound_at_one_temperature_keep_the_balance():
    found = pad_balance(
        base_share=0.7,
        base_front_friction=0.45,
        base_rear_friction=0.45,
        front_pad=PAD,
        rear_pad=PAD,
        moments=tuple(AxleTemperatures(t, t) for t in (330.0, 600.0, 900.0)),
    )

    assert found.shares == (pytest.approx(0.7),) * 3

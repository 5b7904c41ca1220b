"""Monotone curves, least squares, roots and areas: laws, and scipy or numpy as independent references."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import stats

from calc.numeric.integrate import area
from calc.numeric.least_squares import line, parabola, student_95
from calc.numeric.monotone import Curve, OutOfRange
from calc.numeric.roots import crossing


@st.composite
def rising_points(draw, least=2):
    gaps = draw(st.lists(st.floats(0.01, 10), min_size=least - 1, max_size=12))
    rises = draw(st.lists(st.floats(0, 100), min_size=len(gaps), max_size=len(gaps)))
    return np.cumsum([0, *gaps]).tolist(), np.cumsum([0, *rises]).tolist()


@given(rising_points(), st.floats(0, 1), st.floats(0, 1))
def test_a_curve_rises_wherever_its_points_rise(points, first, second):
    x, y = points
    curve = Curve(x, y)
    low, high = sorted(share * x[-1] for share in (first, second))

    assert curve.value(high) >= curve.value(low) - 1e-9 * y[-1]
    assert curve.slope(low) >= -1e-9 * (y[-1] + 1)
    assert -1e-9 <= curve.value(low) <= y[-1] * (1 + 1e-9) + 1e-9


@given(rising_points())
def test_a_curve_goes_through_its_points(points):
    curve = Curve(*points)

    assert [curve.value(x) for x in points[0]] == pytest.approx(points[1], rel=1e-9, abs=1e-9)


@given(st.lists(st.floats(0.1, 5), min_size=4, max_size=4), st.floats(0, 1), st.integers(4, 12))
def test_points_of_a_rising_cubic_give_it_back(coefficients, share, count):
    """The slope read from five points is exact for a cubic; the limit for monotony must not bite where the cubic is gentle."""
    a, b, c, _ = coefficients
    law = np.polynomial.Polynomial([0, 5 * a, b, c / 10])
    x = np.linspace(0, 2, count + 1).tolist()
    curve = Curve(x, [float(law(at)) for at in x])

    assert curve.value(2 * share) == pytest.approx(float(law(2 * share)), rel=1e-9, abs=1e-12)
    assert curve.slope(2 * share) == pytest.approx(float(law.deriv()(2 * share)), rel=1e-8)
    assert curve.area(2 * share) == pytest.approx(float(law.integ()(2 * share)), rel=1e-8, abs=1e-12)


@given(rising_points(), st.floats(0, 1))
def test_the_area_is_the_integral_of_the_value(points, share):
    x, _ = points
    curve = Curve(*points)
    end = share * x[-1]
    pieces = [at for at in x if at < end] + [end]
    summed = math.fsum(area(curve.value, a, b, 1) for a, b in pairwise(pieces))

    assert curve.area(end) == pytest.approx(summed, rel=1e-9, abs=1e-9)


def test_nothing_is_read_beyond_the_points():
    curve = Curve((0.0, 1.0), (0.0, 1.0))

    for outside in (-1e-6, 1 + 1e-6, math.nan):
        with pytest.raises(OutOfRange):
            curve.value(outside)


@pytest.mark.parametrize("force", [(150, 270, 420, 510, 650, 840), (260, 480, 760, 930, 1190, 1520)])
def test_a_digressive_curve_stays_digressive(force):
    """A damper's table, unevenly spaced: the slope falls all the way and does not die at the last point."""
    speed = (0.0, 0.025, 0.05, 0.1, 0.15, 0.25, 0.4)
    curve = Curve(speed, (0.0, *map(float, force)))
    slopes = [curve.slope(v) for v in speed]

    assert slopes == sorted(slopes, reverse=True)
    assert slopes[-1] > 0.7 * (force[-1] - force[-2]) / 0.15


def test_a_knee_gives_no_overshoot():
    curve = Curve((0.0, 1.0, 2.0, 3.0, 4.0), (0.0, 10.0, 10.0, 10.0, 12.0))

    assert all(curve.value(1 + 2 * i / 50) == pytest.approx(10.0) for i in range(51))


@given(st.lists(st.tuples(st.floats(-50, 50), st.floats(-1e4, 1e4)), min_size=3, max_size=20))
def test_the_line_is_that_of_scipy(pairs):
    x, y = zip(*pairs, strict=True)
    assume(max(x) - min(x) > 0.1)
    assume(max(y) - min(y) > 1e-3)
    found, wanted = line(x, y), stats.linregress(x, y)

    size = (max(y) - min(y)) / (max(x) - min(x))
    assert found.slope == pytest.approx(wanted.slope, rel=1e-7, abs=1e-9 * size)
    assert found.intercept == pytest.approx(wanted.intercept, rel=1e-7, abs=1e-7 * (max(map(abs, y)) + 50 * size))
    assert found.slope_error == pytest.approx(wanted.stderr, rel=1e-4, abs=1e-6 * size)
    assert found.r_squared == pytest.approx(wanted.rvalue**2, rel=1e-6, abs=1e-9)


@given(st.lists(st.tuples(st.integers(-20, 20), st.floats(-100, 100)), min_size=4, max_size=15))
def test_the_parabola_is_that_of_numpy(pairs):
    x, y = zip(*pairs, strict=True)
    assume(len(set(x)) >= 3)
    fit = parabola(x, y)

    wanted = np.polynomial.Polynomial.fit(x, y, 2)
    assert [fit.a * v * v + fit.b * v + fit.c for v in x] == pytest.approx([float(wanted(v)) for v in x], abs=1e-6)


@pytest.mark.parametrize("freedom", [1, 2, 3, 4, 5, 7, 10, 29, 30, 100])
def test_students_quantile_is_that_of_scipy(freedom):
    assert student_95(freedom) == pytest.approx(stats.t.ppf(0.975, freedom), rel=1e-10)


@given(st.floats(-5, 5), st.floats(0.1, 3))
def test_a_crossing_is_found_where_it_is(root, slope):
    assert crossing(lambda x: slope * (x - root), -10, 10) == pytest.approx(root, abs=1e-12)
    assert crossing(lambda x: slope * (x - root), root + 1, root + 2) is None

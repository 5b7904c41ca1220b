"""Bounce tests: decays made by scipy, with and without dry friction, read back."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.signal import argrelextrema

from calc.refusal import Refused
from calc.springs.road.bounce import Peak, bounce_test


@given(st.floats(0.02, 0.6), st.floats(1, 4), st.sampled_from(["half", "full"]))
def test_a_viscous_decay_is_read_back(ratio, frequency, spacing):
    seen = frequency * math.sqrt(1 - ratio**2)
    every = 0.5 if spacing == "half" else 1.0
    times = [n * every / seen for n in range(4)]
    peaks = tuple(Peak(t, 0.02 * math.exp(-ratio * 2 * math.pi * frequency * t)) for t in times)
    said = bounce_test(peaks=peaks, spacing=spacing, mass=250.0)

    assert said.damping_ratio == pytest.approx(ratio, rel=1e-6)
    assert said.frequency == pytest.approx(frequency, rel=1e-6)
    assert said.damping == pytest.approx(2 * ratio * math.sqrt(said.stiffness * 250), rel=1e-6)
    assert not said.flags


@given(st.floats(0.03, 0.2), st.floats(0.0003, 0.0015))
def test_friction_is_found_and_measured(ratio, held):
    """Independent reference: a mass on spring, damper and dry friction, moved by scipy half cycle by half cycle."""
    omega, x, peaks = 2 * math.pi * 2.0, 0.02, [(0.0, 0.02)]
    stop = lambda t, y, side: y[1]  # noqa: E731  # scipy wants a function with attributes
    stop.terminal = True
    for n in range(1, 5):
        if abs(x) <= held:
            break
        side = 1 if n % 2 else -1  # moves down first: friction pushes up
        run = solve_ivp(
            lambda t, y, side: (y[1], -(omega**2) * (y[0] - side * held) - 2 * ratio * omega * y[1]),
            (0, 1.0), (x, -side * 1e-12), args=(side,), events=stop, rtol=1e-10, atol=1e-14, max_step=0.01,
        )  # fmt: skip
        arrived = next(t for t in run.t_events[0] if t > 1e-3)
        x = float(run.y[0][np.argmin(abs(run.t - arrived))])
        if (x < 0) != (n % 2 == 1):
            break  # stopped by friction before it came to the other side: no peak any more
        peaks.append((peaks[-1][0] + arrived, x))
    assume(len(peaks) >= 4)
    said = bounce_test(peaks=tuple(Peak(t, x) for t, x in peaks))

    assert said.friction == pytest.approx(held, rel=0.02)
    assert said.damping_ratio > ratio
    if held > 0.0012:
        assert any("Friction" in flag for flag in said.flags)


def test_a_logged_trace_gives_its_peaks_to_the_test():
    """Independent reference: a sampled decay of scipy, peaks picked from it; the reading is good to the sampling."""
    omega, ratio = 2 * math.pi * 1.8, 0.25
    times = np.linspace(0, 2, 4001)
    run = solve_ivp(
        lambda t, y: (y[1], -(omega**2) * y[0] - 2 * ratio * omega * y[1]),
        (0, 2),
        (0.02, 0),
        t_eval=times,
        rtol=1e-10,
        atol=1e-12,
    )
    at = [0, *argrelextrema(abs(run.y[0]), np.greater)[0][:3]]
    said = bounce_test(peaks=tuple(Peak(float(times[i]), float(run.y[0][i])) for i in at))

    assert said.damping_ratio == pytest.approx(ratio, rel=2e-3)
    assert said.frequency == pytest.approx(1.8, rel=2e-3)


@pytest.mark.parametrize(
    ("rows", "named"),
    [
        (((0, 0.02),), "peaks"),
        (((0, 0.02), (0.2, 0.02)), "peaks[2].height"),
        (((0, 0.02), (0.2, 0.01), (0.2, 0.005)), "peaks[3].time"),
        (((0, 0.02), (0.2, 0.0)), "peaks[2].height"),
        (((0, 0.02), (0.2, -0.01), (0.4, -0.005)), "peaks[3].height"),
    ],
)
def test_peaks_that_are_no_decay_are_refused_by_cell(rows, named):
    with pytest.raises(Refused) as caught:
        bounce_test(peaks=tuple(Peak(*row) for row in rows))

    assert caught.value.input == named

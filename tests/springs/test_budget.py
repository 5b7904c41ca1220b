"""The travel budget: one axis, with force and rate that fit each other, and the stop that comes first."""

import math
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from calc.refusal import Refused
from calc.springs.budget import travel_budget
from calc.springs.budget_figures import figures
from calc.springs.rubber import Pressed, rubber_curve
from calc.springs.stack import InSeries, Stack
from calc.springs.travel import Corner

RUBBER = tuple(Pressed(x / 1000, 8 * x + 0.02 * x**3) for x in range(0, 40, 5))
CAR = {
    "springs": (InSeries(60e3, 0.13),),
    "static_force": 2790.0,
    "motion_ratio": 0.94,
    "damper_open": 0.485,
    "damper_closed": 0.365,
    "damper_static": 0.443,
    "rubber_free": 0.060,
    "rubber_block": 0.026,
    "rubber": RUBBER,
}


def corner(**changed):
    usual = {
        "stack": Stack((InSeries(75e3, 0.12), InSeries(30e3, 0.05))),
        "static_force": 2500.0,
        "spring_ratio": 0.9,
        "damper_ratio": 0.8,
        "open": 0.48,
        "closed": 0.34,
        "static": 0.43,
        "rubber_free": 0.06,
        "rubber_block": 0.025,
        "rubber": rubber_curve(RUBBER, "rubber"),
        "bind_margin": 0.005,
        "tyre_to_body": None,
        "floor_clearance": None,
    }
    return Corner(**{**usual, **changed})


@given(st.floats(0.02, 0.98), st.floats(500, 4000), st.floats(0.4, 1.1), st.floats(0.4, 1.1))
def test_the_rate_is_the_slope_of_the_force_along_the_axis(share, force, spring_ratio, damper_ratio):
    here = corner(static_force=force, spring_ratio=spring_ratio, damper_ratio=damper_ratio)
    stop = here.bump_stop().at
    assume(stop > 0)
    z, step = -here.droop + share * (stop + here.droop), 1e-7
    assume(all(abs(z - event.at) > 1e-5 for event in here.events()))
    slope = (here.force(z + step) - here.force(z - step)) / (2 * step)

    assert here.rate(z) == pytest.approx(slope, rel=1e-4, abs=1.0)


@given(st.floats(500, 4000), st.floats(0.4, 1.1), st.floats(0.35, 0.47))
def test_nothing_jumps_but_the_rate(force, ratio, static):
    here = corner(static_force=force, spring_ratio=ratio, static=static)
    low, high = -here.droop, max(-here.droop, min(here.bump_stop().at, 0.5))
    places = [low + (high - low) * i / 400 for i in range(401)]
    forces = [here.force(z) for z in places]
    known = [F for F in forces if not math.isnan(F)]

    assert all(after >= before - 1e-9 for before, after in pairwise(known))


def test_ride_height_carries_the_static_force():
    here = corner(rubber_free=0.0, rubber_block=0.0, rubber=None)

    assert here.force(0.0) == pytest.approx(2500.0 * 0.9)


@given(st.floats(0.01, 0.2), st.floats(0.01, 0.2), st.floats(0.04, 0.2))
def test_the_smallest_of_all_stops_counts(tyre, floor, bind):
    changed = {"tyre_to_body": tyre, "floor_clearance": floor, "springs": (InSeries(60e3, 0.0465 + 0.005 + bind),)}
    said = travel_budget(**{**CAR, **changed})
    damper = (0.443 - 0.365 - 0.026) / 0.94

    assert said.wheel_bump == pytest.approx(min(tyre, floor, bind / 0.94, damper), rel=1e-9)
    assert said.spring_to_bind == pytest.approx(bind)


def test_what_should_not_be_is_flagged():
    assert not travel_budget(**CAR).flags
    touching = travel_budget(**{**CAR, "rubber_free": 0.085})
    loose = travel_budget(**{**CAR, "damper_open": 0.52})
    binding = travel_budget(**{**CAR, "springs": (InSeries(60e3, 0.08),)})
    unknown = travel_budget(**{**CAR, "rubber": RUBBER[:4]})

    assert any("touches at ride height" in flag for flag in touching.flags)
    assert any("loose" in flag for flag in loose.flags)
    assert any("binds before" in flag for flag in binding.flags)
    assert any("was measured to" in flag for flag in unknown.flags)
    assert unknown.bump_force is None
    assert loose.preload < 0


def test_events_stand_in_order_on_the_axis():
    said = travel_budget(**{**CAR, "springs": (InSeries(60e3, 0.13), InSeries(40e3, 0.05))})

    assert list(said.positions) == sorted(said.positions)
    assert said.positions[said.events.index("ride height")] == 0
    assert "soft spring blocked" in said.events
    assert -said.positions[said.events.index("damper topped out")] == pytest.approx(said.wheel_droop)


def test_the_figures_reach_from_droop_to_the_stop():
    here = corner()
    _, force, rate = figures(here)

    assert force.series[0].x[0] == pytest.approx(-here.droop)
    assert force.series[0].x[-1] == pytest.approx(here.bump_stop().at)
    assert len(rate.series[0].x) == len(rate.series[0].y)


@pytest.mark.parametrize(
    ("changed", "named"),
    [
        ({"damper_closed": 0.5}, "damper_closed"),
        ({"damper_static": 0.3}, "damper_static"),
        ({"damper_static": 0.5}, "damper_static"),
        ({"damper_static": 0.38}, "damper_static"),
        ({"rubber_block": 0.08}, "rubber_block"),
        ({"static_force": 9000.0}, "static_force"),
        ({"rubber": (Pressed(0.02, 100.0), Pressed(0.01, 200.0))}, "rubber[2].compression"),
    ],
)
def test_a_corner_that_cannot_be_is_refused_by_name(changed, named):
    with pytest.raises(Refused) as caught:
        travel_budget(**{**CAR, **changed})

    assert caught.value.input == named
    assert caught.value.value

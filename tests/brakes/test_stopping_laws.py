"""Laws of stopping, lock, parking and pull, with scipy as the independent reference."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from calc.brakes.aero_stop import aero_stop
from calc.brakes.one_side import one_side_locks
from calc.brakes.parking import parking_hold
from calc.brakes.pull import brake_pull
from calc.brakes.stopping import braking_efficiency, stopping_distance
from calc.brakes.suspects import SUSPECTS
from calc.brakes.wheel_lock import Wheel, first_wheel_lock, kerb_lock
from calc.units import STANDARD_GRAVITY

G = STANDARD_GRAVITY
lengths = {"wheelbase": st.floats(2.0, 3.2), "front_share": st.floats(0.38, 0.66), "cg_height": st.floats(0.25, 0.65)}
cars = st.fixed_dictionaries({**lengths, "mass": st.floats(400, 2500)})
bodies = st.fixed_dictionaries(lengths)
grips = st.floats(0.1, 1.5)
CAR = {"mass": 1160.0, "wheelbase": 2.56, "front_share": 0.526, "cg_height": 0.48}


@given(speed=st.floats(1, 90), d=st.floats(1, 20), t_r=st.floats(0, 2), t_b=st.floats(0.01, 1.5))
def test_stopping_distance_against_the_equation_of_motion(speed, d, t_r, t_b):
    """Independent reference: scipy's solve_ivp, stopped when the car stands."""
    found = stopping_distance(speed=speed, deceleration=d, reaction_time=t_r, build_up_time=t_b)

    def stands(t, y):
        return y[1]

    stands.terminal, stands.direction = True, -1
    solved = solve_ivp(
        lambda t, y: (y[1], -d * min(1.0, t / t_b)),
        (0, 1e3),
        (0.0, speed),
        events=stands,
        max_step=t_b / 2,
        rtol=1e-9,
        atol=1e-10,
    )

    assert found.distance == pytest.approx(speed * t_r + solved.y_events[0][0][0], rel=1e-6, abs=1e-6)
    assert found.time == pytest.approx(t_r + solved.t_events[0][0], rel=1e-6, abs=1e-6)


@given(k=st.floats(-1.5, 4), drag=st.floats(0, 1.5), start=st.floats(20, 85), part=st.floats(0, 0.9))
def test_aero_stop_against_the_equation_of_motion(k, drag, start, part):
    """Independent reference: solve_ivp; downforce, lift and none."""
    assume(1.2 * 800 * G + 0.6 * (1.2 * k + drag) * start**2 > 0.2 * 1.2 * 800 * G)
    found = aero_stop(
        mass=800.0, adhesion=1.2, start_speed=start, end_speed=part * start, downforce_area=k, drag_area=drag
    )

    def there(t, y):
        return y[1] - part * start

    there.terminal, there.direction = True, -1
    rate = 0.6 * (1.2 * k + drag) / 800.0
    solved = solve_ivp(
        lambda t, y: (y[1], -1.2 * G - rate * y[1] ** 2), (0, 1e3), (0.0, start), events=there, rtol=1e-10, atol=1e-10
    )

    assert found.distance == pytest.approx(solved.y_events[0][0][0], rel=1e-6)
    assert found.time == pytest.approx(solved.t_events[0][0], rel=1e-6)


@given(efficiency=st.floats(0.3, 1.0), grip=st.floats(0.4, 1.3), v2=st.floats(0, 10))
def test_efficiency_gives_back_what_made_the_stop(efficiency, grip, v2):
    distance = 1.04 * (30.0**2 - v2**2) / (2 * G * (efficiency * grip + 0.015))
    found = braking_efficiency(start_speed=30.0, end_speed=v2, distance=distance, adhesion=grip)

    assert found.efficiency == pytest.approx(efficiency, rel=1e-9)


SIDES = st.tuples(*[st.floats(0, 5000)] * 4)


@given(forces=SIDES, scrub=st.floats(-0.05, 0.1))
def test_pull_mirrors(forces, scrub):
    def ask(fl, fr, rl, rr):
        return brake_pull(
            front_left=fl,
            front_right=fr,
            rear_left=rl,
            rear_right=rr,
            front_track=1.5,
            rear_track=1.52,
            wheelbase=2.56,
            scrub_radius=scrub,
        )

    fl, fr, rl, rr = forces
    one, mirrored = ask(fl, fr, rl, rr), ask(fr, fl, rr, rl)
    assert one.yaw_moment == pytest.approx(-mirrored.yaw_moment, abs=1e-9)
    assert one.steering_moment == pytest.approx(-mirrored.steering_moment, abs=1e-9)
    assert one.lateral_force * 2.56 == pytest.approx(one.yaw_moment, abs=1e-9)


@given(loads=st.tuples(*[st.floats(100, 6000)] * 4), scale=st.floats(0.5, 2))
def test_the_margin_is_what_the_torques_may_grow_by(loads, scale):
    torques = (900.0, 900.0, 400.0, 400.0)

    def ask(by):
        rows = tuple(Wheel(n, t * by) for n, t in zip(loads, torques, strict=True))
        return first_wheel_lock(wheels=rows, adhesion=1.0, wheel_radius=0.3)

    assert ask(scale).smallest == pytest.approx(ask(1.0).smallest / scale)
    assert ask(ask(1.0).smallest).smallest == pytest.approx(1.0)


def test_kerb_lock_against_the_equation_of_motion():
    """Independent reference: solve_ivp until the wheel stands."""
    found = kerb_lock(torque=1050.0, load=1200.0, adhesion=1.1, wheel_radius=0.31, inertia=1.1, speed=40.0)

    def stands(t, y):
        return y[0]

    stands.terminal = True
    solved = solve_ivp(lambda t, y: [-(1050.0 - 1.1 * 1200.0 * 0.31) / 1.1], (0, 5), [40.0 / 0.31], events=stands)

    assert found.time_to_lock == pytest.approx(solved.t_events[0][0], rel=1e-6)


def test_a_wheel_that_the_tyre_can_hold_never_locks():
    found = kerb_lock(torque=300.0, load=1200.0, adhesion=1.1, wheel_radius=0.31, inertia=1.1, speed=40.0)

    assert (found.time_to_lock, found.locks) == (None, "no")


@given(car=cars, grip=st.floats(0.2, 1.2), held=st.sampled_from(["rear", "front", "all"]))
def test_the_parked_car_slides_at_the_slope_it_names(car, grip, held):
    """Independent reference: brentq on grip less the weight along the slope, nose up."""
    found = parking_hold(held=held, **car, adhesion=grip, slope=0.1, wheel_radius=0.3)
    rise, front = car["cg_height"] / car["wheelbase"], car["front_share"]

    def slack(angle):
        moved = math.sin(angle) * rise
        loads = {
            "rear": (1 - front) * math.cos(angle) + moved,
            "front": front * math.cos(angle) - moved,
            "all": math.cos(angle),
        }
        return grip * loads[held] - math.sin(angle)

    assert math.atan(found.grade_nose_up) == pytest.approx(brentq(slack, 0, 1.5), rel=1e-6)


QUIET = {"wheel_force": 2600.0, "front_track": 1.5, "adhesion": 1.0}


@pytest.mark.parametrize("suspect", SUSPECTS, ids=lambda s: s.name)
def test_each_cause_comes_first_for_its_own_signs(suspect):
    seen = {
        "pull": suspect.pull[0],
        "when": suspect.when[-1],
        "pressures_differ": "yes" if suspect.pressures_differ else "no",
        "cold_side": "right" if suspect.temperatures_differ else "equal",
        "follows_wheel": "yes" if suspect.follows_wheel else "no",
    }
    heavy = 400.0 if suspect.name.startswith("corner weights") else 0.0
    found = one_side_locks(locks="left", load_difference=heavy, **seen, **QUIET)

    best = [name for name, fit in zip(found.causes, found.fits, strict=True) if fit == found.fits[0]]
    assert suspect.name in best
    assert len(best) <= 2  # where two causes show the same signs, their tests tell them apart
    assert len(set(found.tests)) == len(found.tests)


def test_only_unequal_braking_turns_the_car_before_a_lock():
    found = one_side_locks(
        locks="left", pull="steady", when="every stop", scrub_radius=0.01, load_difference=300.0, **QUIET
    )
    moments = dict(zip(found.causes, found.yaw_moments, strict=True))
    grips = dict(zip(found.causes, found.grip_differences, strict=True))

    assert moments["piston seized or slides stuck"] == pytest.approx(0.25 * 2600 * 1.5 / 2)
    assert moments["corner weights: one front wheel light"] == 0
    assert grips["corner weights: one front wheel light"] == pytest.approx(300.0)

"""Laws of the balance, of stopping and of pull; with scipy as the independent reference where one is named."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import brentq

from calc.brakes.aero import aero_braking, brake_migration
from calc.brakes.aero_car import AeroCar
from calc.brakes.axles import Axles, ideal_rear_force
from calc.brakes.balance import brake_balance
from calc.brakes.band import balance_band
from calc.brakes.distribution import axle_stop, brake_distribution
from calc.brakes.engine import engine_braking
from calc.brakes.fuel import fuel_balance
from calc.brakes.grade import grade_stop
from calc.brakes.legal import heavy_grip, least_rate, legal_curves, passenger_grip
from calc.brakes.load_sensitivity import load_sensitive_balance
from calc.units import STANDARD_GRAVITY

G = STANDARD_GRAVITY
lengths = {"wheelbase": st.floats(2.0, 3.2), "front_share": st.floats(0.38, 0.66), "cg_height": st.floats(0.25, 0.65)}
cars = st.fixed_dictionaries({**lengths, "mass": st.floats(400, 2500)})
bodies = st.fixed_dictionaries(lengths)
grips = st.floats(0.1, 1.5)
CAR = {"mass": 1160.0, "wheelbase": 2.56, "front_share": 0.526, "cg_height": 0.48}


@given(car=cars, rate=st.floats(0.05, 1.4))
def test_on_the_ideal_curve_both_axles_use_the_braking_rate(car, rate):
    axles = Axles(car["front_share"], car["cg_height"] / car["wheelbase"])
    assume(axles.ideal_share(rate) < 0.99)
    found = brake_distribution(**car, front_brake_share=axles.ideal_share(rate), deceleration=rate * G)

    assert found.front_use == pytest.approx(rate)
    assert found.rear_use == pytest.approx(rate, rel=1e-6)
    assert found.ideal_front + found.ideal_rear == pytest.approx(car["mass"] * rate * G)
    assert found.front_load + found.rear_load == pytest.approx(car["mass"] * G)


@given(car=cars, rate=st.floats(0.05, 1.2))
def test_the_explicit_parabola_is_the_ideal_curve(car, rate):
    axles = Axles(car["front_share"], car["cg_height"] / car["wheelbase"])
    assume(axles.ideal_share(rate) < 0.99)
    weight = car["mass"] * G
    front = rate * weight * axles.ideal_share(rate)

    assert ideal_rear_force(front, weight, axles) == pytest.approx(rate * weight - front, rel=1e-6, abs=1e-6 * weight)


@given(car=cars, share=st.floats(0.3, 0.95), grip=grips)
def test_at_first_lock_one_axle_uses_all_the_grip_and_the_other_no_more(car, share, grip):
    found = brake_balance(**car, front_brake_share=share, adhesion=grip)
    assume(not found.flags)
    axles = Axles(car["front_share"], car["cg_height"] / car["wheelbase"])
    rate = found.limit / G
    uses = {"front": axles.front_use(share, rate), "rear": axles.rear_use(share, rate)}

    assert max(uses.values()) == pytest.approx(grip, rel=1e-6)
    if found.locks_first != "both together":
        assert uses[found.locks_first] == max(uses.values())
    assert found.efficiency <= 1 + 1e-9


@given(car=bodies, grip=grips, braked=st.sampled_from(["front", "rear"]))
def test_one_axle_never_stops_shorter_than_all(car, grip, braked):
    one, every = (axle_stop(braked=b, adhesion=grip, speed=20.0, **car) for b in (braked, "all"))

    assert one.braking_distance >= every.braking_distance * (1 - 1e-9)


@given(car=cars, share=st.floats(0.4, 0.9), grip=st.floats(0.3, 1.4), speed=st.floats(5, 80))
def test_without_air_the_speed_does_not_matter(car, share, grip, speed):
    with_air = aero_braking(
        **car,
        front_brake_share=share,
        adhesion=grip,
        speed=speed,
        downforce_front=0.0,
        downforce_rear=0.0,
        drag_area=0.0,
    )
    without = brake_balance(**car, front_brake_share=share, adhesion=grip)
    assume(without.locks_first != "both together")
    assume(not without.flags)

    assert with_air.first_axle == without.locks_first
    assert with_air.deceleration == pytest.approx(without.limit, rel=1e-9)


@given(
    front=st.floats(0, 2),
    rear=st.floats(0.05, 2),
    drag=st.floats(0.2, 1.5),
    height=st.floats(0, 0.7),
    speed=st.floats(10, 80),
)
def test_first_lock_with_air_is_the_root_of_the_force_balance(front, rear, drag, height, speed):
    """Independent reference: the smallest tyre force at which either axle's demand meets its grip, by brentq."""
    share, grip = 0.66, 1.2
    car = AeroCar(1160.0, 2.56, 0.526, 0.48, front, rear, drag, height, 1.2)
    assume(min(car.bare_loads(speed)) > 500)
    found = aero_braking(
        **CAR,
        front_brake_share=share,
        adhesion=grip,
        speed=speed,
        downforce_front=front,
        downforce_rear=rear,
        drag_area=drag,
        drag_height=height,
    )
    q = 0.6 * speed**2
    weight, base, h = 1160.0 * G, 2.56, 0.48

    def slack(force, axle):
        moment = (1160.0 * (force + q * drag) / 1160.0 * h - q * drag * height) / base
        if axle == "front":
            return grip * (weight * 0.526 + q * front + moment) - share * force
        return grip * (weight * 0.474 + q * rear - moment) - (1 - share) * force

    roots = {axle: brentq(slack, 0.0, 1e6, args=(axle,)) for axle in ("front", "rear")}
    assert found.tyre_force == pytest.approx(min(roots.values()), rel=1e-8)
    assert found.first_axle == min(roots, key=lambda axle: roots[axle])


@given(front=st.floats(0, 2), rear=st.floats(0, 2), drag=st.floats(0, 1.5), height=st.floats(0, 0.7))
def test_migration_follows_aero_balance_against_static_share(front, rear, drag, height):
    assume(front + rear > 0.05)
    car = AeroCar(1160.0, 2.56, 0.526, 0.48, front, rear, drag, height, 1.2)
    assume(abs(car.aero_balance - 0.526) > 1e-3)
    assume(all(0.02 < car.ideal_share(1.1, v) < 0.98 for v in (20.0, 60.0)))
    assume(min(car.bare_loads(60.0)) > 100)
    found = brake_migration(
        **CAR,
        adhesion=1.1,
        entry_speed=60.0,
        end_speed=20.0,
        downforce_front=front,
        downforce_rear=rear,
        drag_area=drag,
        drag_height=height,
    )

    assert (found.migration > 0) == (car.aero_balance < 0.526)


@given(angle=st.floats(-0.2, 0.2), car=bodies, grip=st.floats(0.4, 1.2))
def test_the_ideal_share_does_not_know_the_hill(angle, car, grip):
    assume(abs(angle) > 1e-6)
    hill, level = (grade_stop(angle=a, speed=20.0, adhesion=grip, **car) for a in (angle, 0.0))

    assert hill.ideal_share == level.ideal_share
    assert (hill.distance < level.distance) == (math.sin(angle) > grip * (1 - math.cos(angle)))


@given(fuel=st.floats(1, 100), place=st.floats(0, 2.56))
def test_fuel_behind_the_middle_wants_more_front_as_it_burns(fuel, place):
    found = fuel_balance(
        **CAR, fuel=fuel, tank_behind_front=place, tank_height=0.48, adhesion=1.0, front_brake_share=0.7
    )

    assert (found.points > 0) == (place > 2.56 * (1 - 0.526) + 1e-12) or found.points == pytest.approx(0, abs=1e-12)


@given(torque=st.floats(0, 150), inertia=st.floats(0, 0.5), ratio=st.floats(3, 18))
def test_engine_braking_satisfies_its_own_equation(torque, inertia, ratio):
    found = engine_braking(
        **CAR,
        driven="rear",
        front_force=6000.0,
        rear_force=2500.0,
        drag_torque=torque,
        overall_ratio=ratio,
        efficiency=0.92,
        engine_inertia=inertia,
        wheel_radius=0.305,
    )
    bracket = torque - inertia * ratio * found.deceleration / 0.305
    losses = 1 / 0.92 if bracket > 0 else 0.92

    assert found.engine_force == pytest.approx(ratio * bracket / 0.305 * losses, rel=1e-9, abs=1e-6)
    assert 1160.0 * found.deceleration == pytest.approx(8500.0 + found.engine_force)


BAND = {
    **CAR,
    "adhesion": 1.15,
    "entry_speed": 60.0,
    "end_speed": 20.0,
    "downforce_front": 0.25,
    "downforce_rear": 0.75,
    "drag_area": 0.85,
    "fuel": 42.0,
    "tank_behind_front": 2.45,
    "tank_height": 0.33,
    "pad_change": 0.05,
    "engine_force": 450.0,
}


def test_the_safe_setting_is_the_root_of_the_smallest_margin():
    """Independent reference: brentq over the calculator itself."""
    found = balance_band(**BAND, front_brake_share=0.7)
    root = brentq(lambda share: balance_band(**BAND, front_brake_share=share).safe_margin, 0.5, 0.99, xtol=1e-10)

    assert found.safe_setting == pytest.approx(root, abs=1e-8)
    assert found.verdict != "front locks first everywhere"
    assert balance_band(**BAND, front_brake_share=root + 1e-6).verdict == "front locks first everywhere"


@given(share=st.floats(0.5, 0.95))
def test_the_band_holds_the_single_numbers(share):
    found = balance_band(**BAND, front_brake_share=share)
    migration = brake_migration(
        **{
            name: BAND[name]
            for name in (*CAR, "adhesion", "entry_speed", "end_speed", "downforce_front", "downforce_rear", "drag_area")
        }
    )

    assert found.ideal_high >= max(migration.ideal_shares) - 1e-12
    assert found.installed_low <= share <= found.installed_high


@given(car=bodies, share=st.floats(0.4, 0.95))
def test_the_lock_order_rule_is_the_critical_deceleration(car, share):
    found = legal_curves(category="passenger car", front_brake_share=share, **car)
    axles = Axles(car["front_share"], car["cg_height"] / car["wheelbase"])
    rates = [z for z in (0.15 + 0.65 * i / 200 for i in range(201)) if axles.ideal_share(z) < 0.999]
    above = any(axles.rear_use(share, z) > axles.front_use(share, z) * (1 + 1e-9) for z in rates)

    if abs(found.critical / G - 0.8) > 0.01:
        assert (found.rear_below_front == "no") == above


@given(rate=st.floats(0.1, 0.52))
def test_the_two_regulations_are_kept_apart(rate):
    assert least_rate("passenger car", passenger_grip(rate)) == pytest.approx(rate)
    assert least_rate("heavier vehicle", heavy_grip(rate)) == pytest.approx(rate)
    assert heavy_grip(rate) <= passenger_grip(rate) + 1e-12


@given(car=cars, share=st.floats(0.4, 0.9), k=st.floats(0.0, 0.2), grip=st.floats(0.3, 1.3))
def test_first_lock_of_load_sensitive_tyres_is_a_root(car, share, k, grip):
    """Independent reference: brentq on each axle's slack, loads written anew."""
    reference = car["mass"] * G / 4
    found = load_sensitive_balance(
        **car, front_brake_share=share, adhesion=grip, sensitivity=k, reference_load=reference
    )
    assume(not found.flags)
    weight, rise = car["mass"] * G, car["cg_height"] / car["wheelbase"]

    def slack(z, axle):
        load = (
            weight * (car["front_share"] + z * rise)
            if axle == "front"
            else weight * (1 - car["front_share"] - z * rise)
        )
        held = load * grip * (1 - k * (load / 2 - reference) / reference)
        return held - (share if axle == "front" else 1 - share) * z * weight

    lift = (1 - car["front_share"]) / rise
    roots = [brentq(slack, 0, lift, args=(axle,)) for axle in ("front", "rear") if slack(lift, axle) < 0]
    assert found.limit / G == pytest.approx(min(roots), rel=1e-6)
    at_ideal = load_sensitive_balance(
        **car, front_brake_share=found.ideal_share, adhesion=grip, sensitivity=k, reference_load=reference
    )
    assert at_ideal.limit == pytest.approx(found.ideal_limit, rel=1e-6)


def test_load_sensitivity_takes_share_from_the_loaded_axle():
    found = load_sensitive_balance(**CAR, front_brake_share=0.72, adhesion=1.1, sensitivity=0.15, reference_load=2800.0)

    assert found.ideal_share < found.constant_share
    assert found.front_grip < found.rear_grip

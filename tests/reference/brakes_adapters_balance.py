"""Adapters for balance, valves, aero, grade, stopping, pull, lock and the legal curves: see ``brakes_case`` for their shape."""

import math

from calc.brakes.aero import aero_braking, brake_migration
from calc.brakes.aero_stop import aero_stop
from calc.brakes.axles import Axles
from calc.brakes.balance import brake_balance
from calc.brakes.distribution import axle_stop, brake_distribution
from calc.brakes.engine import engine_braking
from calc.brakes.grade import grade_stop
from calc.brakes.legal import heavy_grip, legal_curves, mean_deceleration, passenger_grip, stopping_limits
from calc.brakes.parking import parking_hold
from calc.brakes.pull import TyrePoint, brake_pull, braking_tyre_load
from calc.brakes.stopping import (
    braking_efficiency,
    highway_distance,
    rolling_resistance,
    sight_distance_imperial,
    stopping_distance,
)
from calc.brakes.valves import brake_valve
from calc.brakes.wheel_lock import Wheel, first_wheel_lock, kerb_lock
from tests.reference.brakes_case import FOOT, GRAVITY, POUND_FORCE, Given


def _car(given: Given) -> dict[str, float]:
    """Masses from weights: the cases give newtons."""
    base = given["wheelbase"]
    mass = given["mass"] if "mass" in given else given.get("weight", 10000.0) / GRAVITY
    return {
        "mass": mass,
        "wheelbase": base,
        "front_share": given["cg_to_rear_axle"] / base,
        "cg_height": given["cg_height"],
    }


def axle_braking(given: Given) -> dict[str, object]:
    """Rear only, front only, all wheels, for one grip or several."""
    car = {name: value for name, value in _car(given).items() if name != "mass"}
    frictions = given["friction"]
    many = isinstance(frictions, list)

    def ask(braked: str) -> object:
        found = [
            axle_stop(braked=braked, adhesion=mu, speed=given["speed"], gravity=given["g"], **car)
            for mu in (frictions if many else [frictions])
        ]
        return [each.braking_distance for each in found] if many else found[0].braking_distance

    axles = Axles(car["front_share"], car["cg_height"] / car["wheelbase"])
    ideal = [axles.ideal_share(mu) for mu in (frictions if many else [frictions])]
    return {
        "rear_only": ask("rear"),
        "front_only": ask("front"),
        "all_wheels": ask("all"),
        "front_over_rear_load": [share / (1 - share) for share in ideal],
    }


def ideal(given: Given) -> dict[str, object]:
    """Ideal forces, grip use and first locks; or the ideal partner of a front force."""
    car = _car(given)
    if "front_force" in given:
        found = brake_distribution(**car, front_brake_share=0.6, deceleration=1.0, front_force=given["front_force"])
        return {"rear_force": found.rear_for_front, "braking_rate": found.rate_for_front / GRAVITY}
    share = given["front_brake_share"]
    at = [brake_distribution(**car, front_brake_share=share, deceleration=z * GRAVITY) for z in given["braking_rates"]]
    locks = [brake_balance(**car, front_brake_share=share, adhesion=k) for k in given["adhesions"]]
    return {
        "ideal_front_force": [each.ideal_front for each in at],
        "ideal_rear_force": [each.ideal_rear for each in at],
        "utilisation_front": [each.front_use for each in at],
        "utilisation_rear": [each.rear_use for each in at],
        "critical_deceleration": at[0].critical / GRAVITY,
        "first_axle_to_lock": [each.locks_first for each in locks],
        "deceleration_at_first_lock": [each.limit / GRAVITY for each in locks],
        "efficiency": [each.efficiency for each in locks],
    }


def _aero(given: Given) -> dict[str, float]:
    return {
        **_car(given),
        "adhesion": given["adhesion"],
        "downforce_front": given["downforce_area_front"],
        "downforce_rear": given["downforce_area_rear"],
        "drag_area": given["drag_area"],
        "drag_height": given["drag_height"],
        "air_density": given["air_density"],
    }


def downforce_braking(given: Given) -> dict[str, object]:
    """Each speed on its own."""
    found = [
        aero_braking(**_aero(given), front_brake_share=given["front_brake_share"], speed=v) for v in given["speeds"]
    ]
    return {
        "deceleration_g": [each.deceleration / GRAVITY for each in found],
        "first_axle": [each.first_axle for each in found],
        "ideal_deceleration_g": [each.ideal_deceleration / GRAVITY for each in found],
        "ideal_front_share": [each.ideal_share for each in found],
    }


def bias_migration(given: Given) -> dict[str, object]:
    """The speeds of the case are evenly spaced."""
    speeds = given["speeds"]
    found = brake_migration(**_aero(given), entry_speed=speeds[0], end_speed=speeds[-1], points=len(speeds))
    return {"ideal_front_share": list(found.ideal_shares), "migration_points": found.migration}


def grade(given: Given) -> dict[str, float]:
    """A slope in degrees, or the small-slope form of the highway tables."""
    if "grade" in given:
        speed_mph = given["speed"] / (1609.344 / 3600)
        feet = highway_distance(speed_mph, given["deceleration_over_g"], given["grade"])
        return {"braking_distance": feet * FOOT}
    found = grade_stop(
        angle=given["grade_angle"],
        speed=given["speed"],
        adhesion=given["friction"],
        wheelbase=2.5,
        front_share=0.5,
        cg_height=0.5,
        gravity=given["g"],
    )
    return {"stopping_distance": found.distance}


def parking(given: Given) -> dict[str, object]:
    """Loads and angles do not depend on what is held."""
    found = parking_hold(**_car(given), adhesion=given["adhesion"], slope=given.get("slope", 0.1), wheel_radius=0.3)
    return {
        "grade_nose_up": found.grade_nose_up,
        "grade_nose_down": found.grade_nose_down,
        "all_wheels": found.all_wheels,
        "holds_20_percent_both_ways": found.holds_both_ways == "yes",
        "slide_angle": found.slide_angle,
        "front_load_nose_up": found.front_load,
        "rear_load_nose_up": found.rear_load,
        "overturn_angle_nose_up": found.tip_angle,
    }


def valve(given: Given) -> dict[str, object]:
    """Each pressure on its own."""
    car = _car(given)
    car["front_share_static"] = car.pop("front_share")
    found = [
        brake_valve(
            kind="proportioning",
            front_pressure=p,
            knee_pressure=given["knee_pressure"],
            slope=given["slope_above_knee"],
            front_per_pressure=given["front_force_per_pressure"],
            rear_per_pressure=given["rear_force_per_pressure"],
            **car,
        )
        for p in given["front_pressures"]
    ]
    return {
        "rear_pressure": [each.rear_pressure for each in found],
        "braking_rate": [each.deceleration / GRAVITY for each in found],
        "utilisation_front": [each.front_use for each in found],
        "utilisation_rear": [each.rear_use for each in found],
    }


def engine(given: Given) -> dict[str, float]:
    """Rear drive, steady engine speed."""
    found = engine_braking(
        driven="rear",
        front_force=given["friction_brake_front"],
        rear_force=given["friction_brake_rear"],
        drag_torque=given["engine_drag_torque"],
        overall_ratio=given["overall_ratio"],
        efficiency=given["driveline_efficiency"],
        wheel_radius=given["wheel_radius"],
        **_car(given),
    )
    return {
        "engine_force_at_tyres": found.engine_force,
        "braking_rate": found.deceleration / GRAVITY,
        "utilisation_front": found.front_use,
        "utilisation_rear": found.rear_use,
        "effective_front_share": found.effective_share,
    }


def legal(given: Given) -> dict[str, object]:
    """One state of load, or the curves themselves."""
    if "braking_rates" in given:
        rates = given["braking_rates"]
        return {
            "k_max_passenger": [passenger_grip(z) for z in rates],
            "k_max_regulation_13": [heavy_grip(z) for z in rates],
        }
    car = {name: value for name, value in _car(given).items() if name != "mass"}
    found = legal_curves(category="passenger car", front_brake_share=given["front_brake_share"], **car)
    return {
        "rear_not_above_front_0_15_to_0_80": found.rear_below_front == "yes",
        "efficiency_curve_met_for_k_0_2_to_0_8": found.efficiency_met == "yes",
        "smallest_margin_in_z": found.smallest_margin,
        "critical_deceleration": found.critical / GRAVITY,
    }


def limits(given: Given) -> dict[str, float]:
    """The square part of the distance is a deceleration."""
    found = stopping_limits(speed=given["speed"])
    return {"max_distance": found.distance, "mfdd_equivalent": found.deceleration}


def mfdd(given: Given) -> dict[str, float]:
    """Two points of a measured stop."""
    found = mean_deceleration(
        speed=given["initial_speed"],
        high_distance=given["distance_at_0_8_v0"],
        low_distance=given["distance_at_0_1_v0"],
    )
    return {"mfdd": found.mfdd}


def stopping(given: Given) -> dict[str, float]:
    """Front brakes only, a road table in imperial units, or a deceleration or grip with reaction and build-up."""
    if "wheelbase" in given:
        car = {name: value for name, value in _car(given).items() if name != "mass"}
        found = axle_stop(
            braked="front",
            adhesion=given["friction"],
            speed=given["speed"],
            reaction_time=given["reaction_time"],
            gravity=given["g"],
            **car,
        )
        return {
            "deceleration": found.deceleration,
            "braking_distance": found.braking_distance,
            "total_distance": found.total_distance,
        }
    deceleration = given["deceleration"] if "deceleration" in given else given["friction"] * given["g"]
    exact = stopping_distance(
        speed=given["speed"],
        deceleration=deceleration,
        reaction_time=given.get("reaction_time", 0.0),
        build_up_time=given.get("buildup_time", 0.0),
    )
    road = sight_distance_imperial(
        given["speed"] / (1609.344 / 3600), given.get("reaction_time", 0.0), deceleration / FOOT
    )
    return {
        "distance": exact.distance,
        "time": exact.time,
        "reaction_distance": road.reaction * FOOT,
        "braking_distance": road.braking * FOOT,
        "total": road.total * FOOT,
    }


def efficiency(given: Given) -> dict[str, float]:
    """Speed from engine speed, ratio and slip; rolling resistance from the mean speed."""
    start = given["engine_speed"] * given["wheel_radius"] * (1 - given["driveline_slip"]) / given["overall_ratio"]

    def ask(adhesion: float):
        return braking_efficiency(
            start_speed=start,
            end_speed=given["end_speed"],
            distance=given["distance"],
            adhesion=adhesion,
            rolling=rolling_resistance((start + given["end_speed"]) / 2),
            angle=math.asin(given["grade"]),
            mass_factor=given["mass_factor"],
            gravity=32.2 * FOOT,
        )

    locked, peak = ask(given["locked_adhesion"]), ask(given["peak_adhesion"])
    return {
        "efficiency_times_adhesion": locked.grip_used,
        "efficiency_locked": locked.efficiency,
        "efficiency_needed_with_peak": peak.efficiency,
    }


def downforce_stop(given: Given) -> dict[str, object]:
    """The deceleration at parts of the speed comes from stops that begin there."""
    same = {
        "mass": given["mass"],
        "adhesion": given["adhesion"],
        "drag_area": given["drag_area"],
        "downforce_area": given["downforce_area"],
        "air_density": given["air_density"],
        "gravity": given["g"],
    }
    found = [aero_stop(start_speed=given["speed"] * part, **same) for part in (1.0, 0.75, 0.5, 0.25)]
    return {
        "distance": found[0].distance,
        "time": found[0].time,
        "deceleration_g_at_speeds": [each.start_deceleration / given["g"] for each in found],
        "distance_without_aero": found[0].distance_without,
    }


def tyre(given: Given) -> dict[str, object]:
    """The query stands in the name of what is expected."""
    rows = tuple(TyrePoint(n, mu) for n, mu in zip(given["loads"], given["coefficient"], strict=True))
    found = braking_tyre_load(points=rows, load=1575 * POUND_FORCE)
    return {
        "peak_force": list(found.peak_forces),
        "exponent_end_points": found.exponent,
        "coefficient_at_1575_linear": found.grip,
    }


def pull(given: Given) -> dict[str, float]:
    """All names are the same."""
    names = (
        "front_left",
        "front_right",
        "rear_left",
        "rear_right",
        "front_track",
        "rear_track",
        "wheelbase",
        "scrub_radius",
    )
    found = brake_pull(**{name: given[name] for name in names})
    return {
        "yaw_moment": found.yaw_moment,
        "lateral_force_couple": found.lateral_force,
        "kingpin_moment_difference": found.steering_moment,
        "front_imbalance_percent": found.front_imbalance,
    }


def first_lock(given: Given) -> dict[str, object]:
    """Loads and torques in the order of the case."""
    rows = tuple(
        Wheel(n, t) for n, t in zip(given["dynamic_loads_FL_FR_RL_RR"], given["torque_FL_FR_RL_RR"], strict=True)
    )
    found = first_wheel_lock(wheels=rows, adhesion=given["adhesion"], wheel_radius=given["wheel_radius"])
    short = {"left front": "FL", "right front": "FR", "left rear": "RL", "right rear": "RR"}
    return {"lock_margin_scale": list(found.margins), "first_wheel": short[found.first_wheel]}


def kerb(given: Given) -> dict[str, object]:
    """A wheel unloaded over a kerb."""
    found = kerb_lock(
        torque=given["brake_torque"],
        load=given["unloaded_wheel_load"],
        adhesion=given["adhesion"],
        wheel_radius=given["wheel_radius"],
        inertia=given["wheel_inertia"],
        speed=given["speed"],
    )
    return {
        "net_deceleration": found.wheel_deceleration,
        "time_to_lock": found.time_to_lock,
        "locks": found.locks == "yes",
    }


ADAPTERS = {
    "axle_braking": axle_braking,
    "ideal_distribution": ideal,
    "downforce_braking": downforce_braking,
    "bias_migration": bias_migration,
    "grade_braking": grade,
    "parking_brake": parking,
    "proportioning_valve": valve,
    "engine_braking": engine,
    "legal_envelope": legal,
    "stopping_limits": limits,
    "mfdd": mfdd,
    "stopping_distance": stopping,
    "braking_efficiency": efficiency,
    "downforce_stop": downforce_stop,
    "tyre_load_sensitivity": tyre,
    "brake_pull": pull,
    "first_wheel_lock": first_lock,
    "kerb_lock": kerb,
}

_CAR = {"wheelbase": 2.5, "front_share": 0.5, "cg_height": 0.5}


def _slope(angle: float):
    return grade_stop(angle=angle, speed=20.0, adhesion=0.3, **_CAR)


def _share(share: float):
    return brake_balance(mass=1000.0, front_brake_share=share, adhesion=1.0, **_CAR)


BAD = {
    ("ideal_distribution", "front_share"): (
        "front_brake_share",
        [lambda: _share(-0.1), lambda: _share(1.1), lambda: _share(62.0)],
    ),
    ("grade_braking", "grade"): ("angle", [lambda: _slope(-math.atan(0.3)), lambda: _slope(-0.5)]),
    ("legal_envelope", "category"): (
        "category",
        [
            lambda c=c: legal_curves(category=c, front_brake_share=0.7, **_CAR)
            for c in ("motorcycle", "trailer", "more than two axles")
        ],
    ),
    ("stopping_distance", "deceleration"): (
        "deceleration",
        [lambda d=d: stopping_distance(speed=20.0, deceleration=d) for d in (0.0, -5.0)],
    ),
}

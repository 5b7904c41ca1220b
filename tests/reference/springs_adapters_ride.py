"""Adapters for the topics of ride and road: modes, waves, bumps, random roads, bounce tests."""

import math
from collections.abc import Mapping
from typing import Any

from calc import load
from calc.numeric.exponential import step_matrices
from calc.springs.road.bounce import Peak
from calc.springs.road.quarter import Quarter
from calc.springs.road.wave import transmissibility_at
from tests.reference.springs_case import Adapter, Given, in_unit


def pitch_bounce(given: Given) -> Mapping[str, Any]:
    squared = "radius_of_gyration_squared" in given
    answer = load("pitch_bounce")(
        sprung_mass=given.si("sprung_mass"),
        pitch_radius=math.sqrt(given["radius_of_gyration_squared"]) if squared else given.si("radius_of_gyration"),
        to_front=given.si("cg_to_front_axle"),
        to_rear=given.si("cg_to_rear_axle"),
        front_axle_rate=given.si("front_axle_rate"),
        rear_axle_rate=given.si("rear_axle_rate"),
    )
    modes = sorted([(answer.bounce_frequency, answer.bounce_node), (answer.pitch_frequency, answer.pitch_node)])
    (low, low_node), (high, high_node) = modes
    return {
        "omega_1": 2 * math.pi * low,
        "omega_2": 2 * math.pi * high,
        "amplitude_ratio_z_per_theta_mode1": low_node,
        "amplitude_ratio_z_per_theta_mode2": high_node,
        "f1": low,
        "f2": high,
        "f_low": low,
        "f_high": high,
        "f_bounce": answer.bounce_frequency,
        "f_pitch": answer.pitch_frequency,
    }


def flat_ride(given: Given) -> Mapping[str, Any]:
    answer = load("flat_ride")(
        wheelbase=given.si("wheelbase"),
        speed=given.si("speed"),
        front_frequency=given.si("front_frequency"),
        cycles=given["cycles_n"],
    )
    return {"time_delay": answer.delay, "rear_frequency": answer.rear_frequency}


def _golden(given: Given) -> dict[str, float]:
    """A car stated by its ratios to the sprung mass, as one of 1 kg."""
    return {
        "sprung_mass": 1.0,
        "unsprung_mass": given["mu_over_ms"],
        "wheel_rate": given["k_susp_over_ms"],
        "tyre_rate": given["k_tyre_over_ms"],
        "damping": given["c_over_ms"],
    }


def golden_step(given: Given) -> Mapping[str, Any]:
    """The states of the case are the derivatives of ours and its input is the slope of the road: the matrices are the same."""
    car = Quarter(*_golden(given).values())
    walk, push = step_matrices(
        car.state(), [[0.0], [0.0], [0.0], [car.kt / car.mu]], given.si("step") / given.si("speed")
    )
    rows = {f"ST_row{n}": row for n, row in enumerate(walk, start=1)}
    return {**rows, "PR": [value for (value,) in push]}


def golden_modes(given: Given) -> Mapping[str, Any]:
    answer = load("quarter_car_modes")(**_golden(given))
    return {
        "omega_d_body": 2 * math.pi * answer.body_damped,
        "zeta_body": answer.body_ratio,
        "omega_d_hop": 2 * math.pi * answer.hop_damped,
        "zeta_hop": answer.hop_ratio,
    }


def half_car(given: Given) -> Mapping[str, Any]:
    answer = load("half_car")(
        sprung_mass=given.si("ms"),
        pitch_radius=math.sqrt(given["J_pitch"] / given["ms"]),
        to_front=given.si("a"),
        to_rear=given.si("b"),
        front_axle_rate=given.si("kf_axle"),
        rear_axle_rate=given.si("kr_axle"),
        front_axle_damping=0.0,
        rear_axle_damping=0.0,
        front_unsprung=given.si("mu_f_axle"),
        rear_unsprung=given.si("mu_r_axle"),
        front_axle_tyre=given.si("ktf_axle"),
        rear_axle_tyre=given.si("ktr_axle"),
        speed=25.0,
    )
    return {"frequencies": list(answer[:4])}


def waves(given: Given) -> Mapping[str, Any]:
    if "damping_ratios" in given:
        ratio = given["frequency_ratio"]
        return {"transmissibility": [transmissibility_at(ratio, zeta) for zeta in given["damping_ratios"]]}
    answer = load("transmissibility")(
        mass=given.si("mass"),
        stiffness=given.si("stiffness"),
        damping_ratio=given["damping_ratio"],
        speed=given.si("speed"),
        wavelength=given.si("wavelength"),
        amplitude=given.si("road_amplitude"),
    )
    return {
        "omega_n": 2 * math.pi * answer.natural_frequency,
        "frequency_ratio": answer.frequency_ratio,
        "X": answer.amplitude,
    }


def classes(given: Given) -> Mapping[str, Any]:
    return {"Gd_n0": [load("road_roughness")(grade=grade, speed=20.0).density for grade in given["classes"]]}


def random_road(given: Given) -> Mapping[str, Any]:
    answer = load("road_response")(
        sprung_mass=given.si("ms"),
        unsprung_mass=given.si("mu"),
        wheel_rate=given.si("k"),
        tyre_rate=given.si("kt"),
        damping=given.si("c"),
        grade="C",
        roughness_given=given["Gd_n0"],
        speed=given.si("speed"),
    )
    return {
        "rms_body_acceleration": answer.acceleration,
        "rms_suspension_travel": in_unit(answer.travel, "mm"),
        "rms_dynamic_tyre_load": answer.tyre_load,
        "dynamic_load_coefficient": answer.load_coefficient,
    }


def bounce(given: Given) -> Mapping[str, Any]:
    times, sizes = given.si("times_of_peaks_half_cycles"), given.si("peak_magnitudes")
    answer = load("bounce_test")(peaks=tuple(Peak(t, x) for t, x in zip(times, sizes, strict=True)))
    return {
        "damping_ratio": answer.damping_ratio,
        "f_damped": answer.damped_frequency,
        "f_undamped": answer.frequency,
    }


def overshoot(given: Given) -> Mapping[str, Any]:
    answers = [load("step_response")(frequency=2.0, damping_ratio=zeta) for zeta in given["damping_ratio"]]
    return {"overshoot_fraction": [answer.force_overshoot for answer in answers]}


RIDE: dict[str, Adapter] = {
    "pitch_bounce": pitch_bounce,
    "flat_ride": flat_ride,
    "quarter_car_transient": golden_step,
    "quarter_car_modes": golden_modes,
    "half_car_modes": half_car,
    "transmissibility": waves,
    "road_class": classes,
    "random_road": random_road,
    "bounce_test": bounce,
    "transient_response": overshoot,
}

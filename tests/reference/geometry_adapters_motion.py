"""Puts the reference cases of wheels and axles in motion to ``calc.geometry``: inputs in, values by the names of ``expected`` out."""

from math import degrees, radians

from calc.geometry.axle import Axle
from calc.geometry.beam import beam_wheel
from calc.geometry.centres import virtual_axis
from calc.geometry.motion import Corner
from calc.geometry.readings import reading, readings
from calc.geometry.roll import roll_pair
from tests.reference.geometry_linkages import linkage_of

READINGS = {
    "camber_deg": "camber",
    "toe_in_deg": "toe_in",
    "half_track_change_m": "half_track_change",
    "wheel_centre_dx_m": "wheel_dx",
    "wheel_centre_dy_m": "wheel_dy",
    "camber_rate_deg_per_m": "camber_rate",
    "toe_in_rate_deg_per_m": "toe_in_rate",
    "dy_dz_contact": "lateral_slope",
    "dx_dz_contact": "contact_slope",
    "dx_dz_wheel_centre": "wheel_slope",
    "roll_centre_height_m": "roll_centre_height",
    "front_view_ic_y_m": "front_centre_y",
    "front_view_ic_z_above_contact_m": "front_centre_above",
    "side_view_ic_x_m": "side_centre_x",
    "side_view_ic_z_above_contact_m": "side_centre_above",
    "caster_deg": "caster",
    "kpi_deg": "inclination",
    "mechanical_trail_m": "trail",
    "scrub_radius_m": "scrub",
    "spring_length_m": "spring_length",
    "spring_motion_ratio": "spring_ratio",
    "bar_turn_deg": "bar_turn",
    "bar_turn_rate_deg_per_m": "bar_rate",
    "rocker_turn_deg": "rocker_turn",
    "rocker_turn_rate_deg_per_m": "rocker_rate",
    "rocker_damper_length_m": "damper_length",
    "rocker_damper_motion_ratio": "damper_ratio",
}
AXLE = {
    "axle_dx_m": "dx",
    "axle_dy_m": "dy",
    "axle_yaw_left_deg": "yaw",
    "axle_roll_deg": "roll",
    "pinion_nose_up_deg": "pinion",
    "heave_dx_dz_axle": "wheel_slope",
    "heave_dx_dz_contact": "contact_slope",
    "heave_dy_dz_axle": "lateral_slope",
    "side_view_ic_x_m": "side_centre_x",
    "side_view_ic_z_above_ground_m": "side_centre_height",
    "roll_centre_height_m": "roll_centre_height",
    "roll_steer_left_per_roll": "roll_steer",
}


def shown(value, name):
    """Return an SI value in the unit the name of an output ends with."""
    if value is None:
        return None
    return degrees(value) if "_deg" in name else value


def named(row, names):
    return {name: shown(getattr(row, field), name) for name, field in names.items()}


def columns(rows, names):
    return {name: [shown(getattr(row, field), name) for row in rows] for name, field in names.items()}


def travel(given):
    corner = Corner(linkage_of(given["linkage"]))
    rows = readings(corner, given["wheel_centre_travel_m"], given["rack_travel_m"])
    start = reading(corner, corner.state())
    return columns(rows, READINGS) | {
        "design_kpi_deg": shown(start.inclination, "_deg"),
        "design_caster_deg": shown(start.caster, "_deg"),
    }


def steer(given):
    corner = Corner(linkage_of(given["linkage"]))
    rows = [readings(corner, given["wheel_centre_travel_m"], rack) for rack in given["rack_travel_m"]]
    tables = {name: [columns(row, {name: field})[name] for row in rows] for name, field in READINGS.items()}
    axis = virtual_axis(corner, corner.state())
    return tables | {
        "virtual_axis_point_at_ground_m": list(axis.at_ground),
        "virtual_axis_direction": list(axis.direction),
        "virtual_caster_deg": degrees(axis.steering.caster),
        "virtual_kpi_deg": degrees(axis.steering.inclination),
        "virtual_trail_m": axis.steering.trail,
        "virtual_scrub_m": axis.steering.scrub,
        "screw_pitch_m": axis.pitch,
    }


def axle(given):
    return columns(Axle(linkage_of(given["linkage"])).sweep(given["left_right_wheel_travel_m"]), AXLE)


def beam(given):
    points = given["points_m"]
    bush, shear, wheel = (tuple(points[n]) for n in ("bush_left", "beam_shear_centre", "wheel_centre_left"))
    rows = [beam_wheel(bush, shear, wheel, left, right) for left, right in given["left_right_wheel_travel_m"]]
    names = {"camber_deg": "camber", "toe_in_deg": "toe_in", "wheel_centre_dx_m": "dx", "wheel_centre_dy_m": "dy"}
    return columns(rows, names)


def roll(given):
    corner = Corner(linkage_of(given["linkage"]))
    pairs = [roll_pair(corner, corner, radians(a), given["lateral_force_share_left"]) for a in given["body_roll_deg"]]
    wheel = {
        "travel_m": "travel",
        "camber_to_ground_deg": "camber_to_ground",
        "toe_in_deg": "toe_in",
        "dy_dz": "lateral_slope",
    }
    both = {
        f"{side}_{name}": [shown(getattr(getattr(pair, side), field), name) for pair in pairs]
        for side in ("left", "right")
        for name, field in wheel.items()
    }
    return both | {
        "left_contact_y_m": [pair.left.contact_y for pair in pairs],
        "right_contact_y_m": [-pair.right.contact_y for pair in pairs],
        "kinematic_roll_centre_y_m": [pair.centre_y for pair in pairs],
        "kinematic_roll_centre_z_m": [pair.centre_z for pair in pairs],
        "force_roll_centre_height_m": [pair.force_height for pair in pairs],
        "jacking_up_per_lateral_force": [pair.jacking for pair in pairs],
    }


ADAPTERS = {"travel": travel, "steer": steer, "axle": axle, "beam": beam, "roll": roll}

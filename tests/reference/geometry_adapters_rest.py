"""Puts the other reference cases for geometry to ``calc.geometry``: changes, steering, anti effects, loads, alignment, measuring."""

import math
from math import degrees, radians

from calc.geometry import alignment, anti, planar, spread, steering, survey
from calc.geometry.axle import Axle
from calc.geometry.loads import member_loads, top_mount_axes
from calc.geometry.motion import Corner
from calc.geometry.moves import moved, other_wheel, raised_hub
from calc.geometry.readings import reading, readings
from calc.geometry.vectors import dot
from tests.reference.geometry_adapters_motion import READINGS, columns, named, shown
from tests.reference.geometry_linkages import linkage_of


def ackermann(given):
    linkage = linkage_of(given["linkage"])

    def table(forward):
        corner = Corner(moved(linkage, {linkage.tie_rod[0]: (forward, 0.0, 0.0)}))
        pairs = [
            steering.steer_pair(corner, rack, given["wheelbase_m"], given["track_m"]) for rack in given["rack_travel_m"]
        ]
        return columns(
            pairs, {"left_steer_deg": "left", "right_steer_deg": "right", "ideal_inner_deg": "ideal_inner"}
        ) | {"ackermann_percent": [None if p.ackermann is None else 100 * p.ackermann for p in pairs]}

    return {f"rack_moved_forward_{mm}_mm": table(mm / 1000) for mm in (-30, 0, 30)}


def bump(given):
    linkage = linkage_of(given["linkage"])
    found = {}
    for point in linkage.tie_rod:
        for mm in (-10, -5, 0, 5, 10):
            corner = Corner(moved(linkage, {point: (0.0, 0.0, mm / 1000)}))
            rows = readings(corner, given["wheel_centre_travel_m"])
            slope = degrees(reading(corner, corner.state()).toe_in_rate)
            end = "tie_rod_inner" if point == linkage.tie_rod[0] else "tie_rod_outer"
            found[f"{end}_raised_{mm}_mm"] = {
                "toe_in_deg": [degrees(row.toe_in) for row in rows],
                "slope_at_design_deg_per_m": slope,
            }
    return found


def changes(given):
    linkage = linkage_of(given["linkage"])
    joint, rod = linkage.links[0][1], linkage.tie_rod[1]
    down = (0.0, 0.0, -0.025)

    def at(changed, rise=0.0):
        corner = Corner(changed)
        return named(reading(corner, corner.state(rise)), READINGS)

    return {
        "standard": at(linkage),
        "lowered_30_mm_on_springs": at(linkage, 0.03),
        "lowered_30_mm_and_25_mm_spacer_at_ball_joint": at(moved(linkage, {joint: down}, lengths_kept=True), 0.03),
        "as_before_and_25_mm_at_tie_rod_outer": at(moved(linkage, {joint: down, rod: down}, lengths_kept=True), 0.03),
        "hub_raised_30_mm_on_knuckle_arms_unmoved": at(raised_hub(linkage, 0.03)) | {"body_lower_m": 0.03},
        "wheel_offset_20_mm_outward": at(other_wheel(linkage, 0.02, 0.0)),
        "tyre_radius_plus_15_mm": at(other_wheel(linkage, 0.0, 0.015)),
    }


def anti_effects(given):
    lever = given["wheelbase_m"] / given["cg_height_m"]
    front, rear = (
        reading(corner, corner.state())
        for corner in (Corner(linkage_of(given["linkages"][name])) for name in ("front", "rear_independent"))
    )
    live = Axle(linkage_of(given["linkages"]["rear_live"])).reading()
    share = given["front_brake_share"]
    at_front = anti.front(front.contact_slope, front.wheel_slope, lever, share, 1.0)
    at_rear = anti.rear(rear.contact_slope, rear.wheel_slope, lever, 1 - share, 1.0)
    on_axle = anti.rear(live.contact_slope, live.wheel_slope, lever, 1 - share, 1.0)
    by_share = {
        key: 100 * anti.front(front.contact_slope, front.wheel_slope, lever, float(key), 1.0).braking_outboard
        for key in ("0.5", "0.6", "0.7", "0.8")
    }
    return {
        "front_anti_dive_outboard": 100 * at_front.braking_outboard,
        "front_anti_dive_inboard": 100 * at_front.braking_inboard,
        "front_anti_lift_drive_front_share_1": 100 * at_front.drive_on_body,
        "rear_anti_lift_outboard": 100 * at_rear.braking_outboard,
        "rear_anti_lift_inboard": 100 * at_rear.braking_inboard,
        "rear_anti_squat_independent": 100 * at_rear.drive_on_body,
        "live_axle_anti_squat": 100 * on_axle.drive_on_carrier,
        "live_axle_anti_lift_braking": 100 * on_axle.braking_outboard,
        "front_anti_dive_by_front_brake_share": by_share,
    }


def raised(given, names, heights):
    linkage = linkage_of(given["linkage"])
    found = {}
    for name in names:
        for mm in heights:
            corner = Corner(moved(linkage, {name: (0.0, 0.0, mm / 1000)}))
            found[name, mm] = named(reading(corner, corner.state()), READINGS)
    return found


def rod_pickup(given):
    return {f"raised_{mm}_mm": row for (_, mm), row in raised(given, [given["moved"]], (-20, -10, 0, 10, 20)).items()}


def arm_pivot(given):
    names = [f"{arm}_arm_{end}_inner" for arm in ("lower", "upper") for end in ("front", "rear")]
    heights = [round(1000 * up) for up in given["moved_up_m"]]
    return {f"{name}_raised_{mm}_mm": row for (name, mm), row in raised(given, names, heights).items()}


def loads(given):
    corner = Corner(linkage_of(given["linkage"]))
    state = corner.state()
    found = member_loads(corner, state, tuple(given["contact_force_N"]))
    tension = dict(found.links)
    if corner.linkage.slider:
        side = [dot(found.joints["strut_top_mount"], tuple(way)) for way in given["top_mount_axes"]]
        names = ("top_mount_along_strut", "top_mount_across_1", "top_mount_across_2")
        tension |= dict(zip(names, side, strict=True))
        axis = top_mount_axes(corner, state)[0]
        assert max(abs(a - b) for a, b in zip(axis, given["top_mount_axes"][0], strict=True)) < 1e-9
        return {
            "member_tension_N": tension,
            "condition_number": found.condition,
            "strut_side_force_N": math.hypot(side[1], side[2]),
        }
    outer = {corner_end: tension[chassis] for chassis, corner_end in corner.linkage.links if chassis in tension}
    if "lower_ball_joint" in found.joints:
        return {
            "upper_front_leg_tension_N": tension["upper_arm_front_inner"],
            "upper_rear_leg_tension_N": tension["upper_arm_rear_inner"],
            "tie_rod_tension_N": tension["tie_rod_inner"],
            "force_on_carrier_at_lower_ball_joint_N": list(found.joints["lower_ball_joint"]),
            "spring_compression_force_N": found.spring,
        }
    return {"member_tension_N": outer | {"spring": -found.spring}, "condition_number": found.condition}


def parallel(given):
    corner = Corner(linkage_of(given["linkage"]))
    start = reading(corner, corner.state())
    return columns(readings(corner, given["wheel_centre_travel_m"]), READINGS) | {
        "roll_centre_height_m_at_design": start.roll_centre_height,
        "front_view_instant_centre": "at infinity" if start.front_centre_y is None else "found",
        "front_view_line_slope_at_design": -start.lateral_slope,
    }


def plane(given):
    lower, upper = (
        (tuple(given[f"{arm}_inner_yz_m"]), tuple(given[f"{arm}_outer_yz_m"])) for arm in ("lower", "upper")
    )
    seen = planar.front_view(lower, upper, tuple(given["contact_yz_m"]))
    return {
        "instant_centre_yz_m": list(seen.centre),
        "swing_arm_m": seen.swing_arm,
        "roll_centre_height_m": seen.roll_centre_height,
        "camber_rate_deg_per_m": degrees(seen.camber_rate),
    }


def ideal_book(given):
    length, track, inner = given["wheelbase_in"], given["track_in"], given["inner_rad"]
    outer = steering.ideal_outer(inner, length, track)
    return {
        "outer_deg": degrees(outer),
        "radius_rear_axle_mid_in": steering.turn_radius(outer, length, track),
        "mean_deg": degrees(steering.mean_angle(inner, outer)),
    }


def ideal(given):
    length, track = given["wheelbase_m"], given["track_m"]
    outers = [radians(angle) for angle in given["outer_deg"]]
    inners = [steering.ideal_inner(outer, length, track) for outer in outers]
    return {
        "inner_deg": [degrees(inner) for inner in inners],
        "toe_out_on_turn_deg": [degrees(i - o) for i, o in zip(inners, outers, strict=True)],
        "turning_circle_diameter_m": [steering.kerb_circle(o, length, given["scrub_radius_m"]) for o in outers],
        "mean_radius_rear_axle_m": [steering.turn_radius(o, length, track) for o in outers],
    }


def toe_units(given):
    rim = given["rim_diameter_m"]
    return {
        "deg": [degrees(alignment.toe_angle(mm / 1000, rim)) for mm in given["toe_per_wheel_mm"]],
        "mm": [1000 * alignment.toe_length(radians(angle), rim) for angle in given["toe_per_wheel_deg"]],
        "total_is_sum_of_both": True,
    }


def caster(given):
    names = ("caster_deg", "kpi_deg", "static_camber_deg", "wheel_turn_deg")
    said = alignment.caster_sweep(*(radians(given[name]) for name in names))
    return {
        "camber_turned_in_deg": degrees(said.turned_in),
        "camber_turned_out_deg": degrees(said.turned_out),
        "caster_estimate_deg": degrees(said.estimate),
        "factor": 1 / (2 * math.sin(radians(given["wheel_turn_deg"]))),
    }


def semi(given):
    corner = Corner(linkage_of(given["linkage"]))
    state = corner.state()
    return named(reading(corner, state), READINGS) | {"angular_velocity_rad_per_m": list(state.per_travel.turning)}


def leaf(given):
    path = [
        planar.leaf_path(given["front_half_length_m"], given["eye_height_m"], given["axle_seat_height_m"], rise)
        for rise in given["travel_m"]
    ]
    arm = 0.75 * given["front_half_length_m"]
    drop = given["eye_height_m"] - given["axle_seat_height_m"]
    return {
        "equivalent_arm_m": arm,
        "equivalent_pivot_ahead_of_axle_m": math.sqrt(arm**2 - drop**2),
        "axle_dx_m": [ahead for ahead, _ in path],
        "slope_dx_dz_at_design": path[0][1],
    }


def panhard(given):
    run, below = given["rod_lateral_run_m"], given["axle_end_below_chassis_end_m"]
    return {"shift_towards_chassis_end_m": [planar.panhard_shift(run, below, rise) for rise in given["axle_rise_m"]]}


def lockout(given):
    pivot = tuple(given["upper_pivot_from_lower_pivot_yz_m"])
    locks = planar.lock_angles(given["lower_arm_m"], given["upper_arm_m"], given["knuckle_m"], pivot)
    return {
        "droop_lock_lower_arm_deg": shown(locks.droop, "_deg"),
        "bump_lock_lower_arm_deg": shown(locks.bump, "_deg"),
    }


def locate(given):
    found = survey.locate([tuple(p) for p in given["reference_points_m"]], given["distances_m"])
    return {"point_m": list(found.point), "rms_residual_m": found.rms, "standard_error_m": list(found.errors)}


def tolerance(given):
    fields = {
        "roll_centre_height_m": "roll_centre_height",
        "toe_in_rate_deg_per_m": "toe_in_rate",
        "camber_rate_deg_per_m": "camber_rate",
    }

    def outputs(linkage):
        corner = Corner(linkage)
        row = reading(corner, corner.state())
        return [shown(getattr(row, field), name) for name, field in fields.items()]

    found = spread.effects(linkage_of(given["linkage"]), given["points"], outputs)
    return {
        "columns": list(fields),
        "partials_per_m": {f"{each.point}_{each.axis}": list(each.per_metre) for each in found},
        "rss_for_1_mm": list(spread.root_sum(found, given["sigma_m"])),
    }


ADAPTERS = {
    "ackermann": ackermann,
    "bump": bump,
    "changes": changes,
    "anti": anti_effects,
    "rod": rod_pickup,
    "arm": arm_pivot,
    "loads": loads,
    "parallel": parallel,
    "planar": plane,
    "ideal_book": ideal_book,
    "ideal": ideal,
    "toe": toe_units,
    "caster": caster,
    "semi": semi,
    "leaf": leaf,
    "panhard": panhard,
    "lockout": lockout,
    "locate": locate,
    "tolerance": tolerance,
}

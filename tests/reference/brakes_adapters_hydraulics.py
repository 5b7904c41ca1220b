"""Adapters for pedal, bar, cylinders, booster, calipers, discs, drums, travel and choice: see ``brakes_case`` for their shape."""

from calc.brakes.bar import balance_bar
from calc.brakes.booster import Booster, brake_booster
from calc.brakes.button_pads import button_pads
from calc.brakes.calipers import Piston, caliper_clamp
from calc.brakes.choice import Bore as BoreRow
from calc.brakes.choice import BoxRatio, cylinder_choice
from calc.brakes.circuit import circuit_travel
from calc.brakes.cylinders import bore_area
from calc.brakes.discs import effective_radius, pad_pressure, uniform_pressure, uniform_wear
from calc.brakes.drum_factor import drum_factor
from calc.brakes.drums import drum_shoes
from calc.brakes.friction import FrictionPoint, pad_friction_over_temperature
from calc.brakes.hoses import hose_expansion
from calc.brakes.lever import pedal_ratio
from calc.brakes.parking import hand_lever
from calc.brakes.pedal import pedal_effort
from tests.reference.brakes_case import Given


def pedal_to_torque(given: Given) -> dict[str, float]:
    """The source counts one rubbing face with both pistons: two faces with one piston area each."""
    pistons = given["pistons"] / 2 * bore_area(given["piston_bore"])
    found = pedal_effort(
        torque=given["brake_torque"],
        disc_radius=given["effective_radius"],
        friction=given["pad_friction"],
        pistons=pistons,
        bore=given["master_bore"],
        pedal_ratio=given["pedal_ratio"],
    )
    return {
        "friction_force": found.friction_force,
        "normal_force": 2 * found.clamp,
        "line_pressure": found.line_pressure,
        "master_force": found.master_force,
        "pedal_force": found.pedal_force,
    }


def balance(given: Given) -> dict[str, float]:
    """A case gives the arms of pedal and bar, or force, offset and tilt or strokes."""
    spacing = given["clevis_spacing"]
    if "pedal_arm" in given:
        ratio = pedal_ratio(pad_arm=given["pedal_arm"], rod_arm=given["pushrod_arm"], pedal_travel=1e-6).rest_ratio
        force = given["pedal_force"] * ratio
        ends = [
            balance_bar(
                rod_force=force, spacing=spacing, trunnion_offset=given[f"trunnion_to_rear_clevis_{end}"] - spacing / 2
            )
            for end in ("min", "max")
        ]
        return {
            "pedal_ratio": ratio,
            "front_share_min": ends[0].front_share,
            "front_share_max": ends[1].front_share,
            "pushrod_total_force": force,
        }
    strokes = (given["front_stroke"], given["rear_stroke"]) if "front_stroke" in given else (None, None)
    found = balance_bar(
        rod_force=given["total_pushrod_force"],
        spacing=spacing,
        trunnion_offset=given["trunnion_offset_to_front"],
        pin_offset=given.get("pivot_offset_normal_to_pin_line", 0.0),
        tilt=given.get("bar_tilt", None),
        front_stroke=strokes[0],
        rear_stroke=strokes[1],
    )
    square = found.square_share * given["total_pushrod_force"]
    return {
        "front_force": found.front_force,
        "rear_force": found.rear_force,
        "front_share": found.front_share,
        "bar_tilt": found.tilt,
        "front_force_square": square,
        "rear_force_square": given["total_pushrod_force"] - square,
        "front_force_tilted": found.front_force,
        "share_shift_points": found.front_share - found.square_share,
    }


def booster(given: Given) -> dict[str, float]:
    """One case states the booster by its parts, the other by force in and out."""
    if "booster_output" in given:
        taken, gives = given["pedal_pushrod_force"], given["booster_output"]
        pressure = gives / given["master_area"]
        return {
            "booster_force": gives - taken,
            "boost_characteristic": gives / taken,
            "line_pressure": pressure,
            "wheel_cylinder_force": pressure * given["wheel_cylinder_area"],
        }

    def ask(force: float, vacuum: float):
        return brake_booster(
            pushrod_force=force,
            boost_ratio=given["boost_ratio"],
            diaphragm_area=given["effective_diaphragm_area"],
            vacuum=vacuum,
        )

    full, reduced = given["vacuum"], given["reduced_vacuum"]
    low, high = given["pushrod_in_1"], given["pushrod_in_2"]
    return {
        "knee_input": ask(low, full).knee,
        "output_1": ask(low, full).output,
        "output_2": ask(high, full).output,
        "output_2_reduced_vacuum": ask(high, reduced).output,
        "output_2_no_vacuum": ask(high, 0.0).output,
        "knee_input_reduced": Booster(given["boost_ratio"], given["effective_diaphragm_area"], reduced).knee,
    }


def disc_wear(given: Given) -> dict[str, float]:
    """Sector pads from a highest pressure or from a torque."""
    inner = given["inner_radius"] if "inner_radius" in given else given["inner_diameter"] / 2
    outer = given["outer_radius"] if "outer_radius" in given else given["outer_diameter"] / 2
    known = (
        {"given": "torque", "value_torque": given["torque_two_pads"]}
        if "torque_two_pads" in given
        else {"given": "pressure", "value_pressure": given["max_pressure"]}
    )
    found = pad_pressure(
        **known,
        inner_radius=inner,
        outer_radius=outer,
        pad_angle=given["pad_angle"],
        friction=given["friction"],
        piston_area=bore_area(given["cylinder_bore"]) if "cylinder_bore" in given else None,
    )
    radii = effective_radius(inner_radius=inner, outer_radius=outer, pad_angle=given["pad_angle"])
    return {
        "actuating_force_per_pad": found.clamp,
        "actuating_force": found.clamp,
        "torque_per_pad": found.face_torque,
        "max_pressure": found.max_pressure,
        "effective_radius": found.effective_radius,
        "hydraulic_pressure": found.line_pressure,
        "resultant_force_radius": radii.piston_radius,
    }


def disc_button(given: Given) -> dict[str, float]:
    """All pads of all calipers share the torque."""
    found = button_pads(
        torque=given["torque"],
        pads=int(given["calipers"] * given["pads_per_caliper"]),
        friction=given["friction"],
        mean_pressure=given["average_pressure"],
        size=given["pad_radius_over_offset"],
    )
    return {"pad_radius": found.pad_radius}


def radius(given: Given) -> dict[str, float]:
    """Both friction radii."""
    inner, outer = given["inner_radius"], given["outer_radius"]
    return {"uniform_pressure": uniform_pressure(inner, outer), "uniform_wear": uniform_wear(inner, outer)}


def caliper(given: Given) -> dict[str, float]:
    """An opposed and a sliding caliper on the same disc."""
    common = {
        "line_pressure": given["line_pressure"],
        "friction": given["friction"],
        "disc_radius": given["effective_radius"],
        "wheel_radius": given["wheel_radius"],
    }
    opposed = caliper_clamp(
        kind="opposed", pistons=tuple(Piston(d) for d in given["opposed_bores_each_side"]), **common
    )
    sliding = caliper_clamp(kind="sliding", pistons=(Piston(given["sliding_bore"]),), **common)
    return {
        "area_one_side_opposed": opposed.one_side_area,
        "clamp_opposed": opposed.clamp,
        "torque_opposed": opposed.torque,
        "clamp_sliding": sliding.clamp,
        "torque_sliding": sliding.torque,
        "tyre_force_opposed": opposed.tyre_force,
    }


def drum_shoe(given: Given) -> dict[str, float]:
    """The force on the shoe is given, or the pressure of the leading lining that it makes."""
    radius = given["drum_radius"] if "drum_radius" in given else given["drum_diameter"] / 2
    arm = given["force_arm"] if "force_arm" in given else given["force_arm_about_pivot"]

    def ask(force: float):
        return drum_shoes(
            force=force,
            drum_radius=radius,
            pivot_radius=given["pivot_radius"],
            width=given["face_width"],
            friction=given["friction"],
            start_angle=given["theta1"],
            end_angle=given["theta2"],
            force_arm=arm,
        )

    if "actuating_force_each" in given:
        force = given["actuating_force_each"]
    else:
        force = given["max_pressure_leading"] / ask(1.0).leading_pressure
    found = ask(force)
    return {
        "max_pressure_leading": found.leading_pressure,
        "max_pressure_trailing": found.trailing_pressure,
        "torque_leading": found.leading_torque,
        "torque_trailing": found.trailing_torque,
        "torque_total": found.torque,
        "moment_friction": found.friction_moment,
        "moment_normal": found.normal_moment,
        "actuating_force": force,
    }


def drum_shoe_factor(given: Given) -> dict[str, float]:
    """All kinds on one geometry."""
    same = {
        "friction": given["lining_friction"],
        "drum_radius": given["drum_radius"],
        "force_height": given["actuation_height"],
        "anchor_height": given["anchor_or_link_height"],
    }
    plain, two, duo = (drum_factor(kind=kind, **same) for kind in ("leading and trailing", "two leading", "duo-servo"))
    return {
        "leading_shoe_factor": plain.leading_factor,
        "trailing_shoe_factor": plain.trailing_factor,
        "brake_factor_leading_trailing": plain.brake_factor,
        "brake_factor_two_leading": two.brake_factor,
        "duo_servo_link_force_ratio": duo.link_ratio,
        "brake_factor_duo_servo": duo.brake_factor,
        "self_lock_friction": plain.self_lock,
    }


def pad_table(given: Given) -> dict[str, object]:
    """Both ways of reading the table."""
    rows = tuple(FrictionPoint(t, mu) for t, mu in zip(given["temperature"], given["friction"], strict=True))

    def ask(way: str) -> list[float]:
        return [pad_friction_over_temperature(points=rows, way=way, at_temperature=t).friction for t in given["query"]]

    dense = [rows[0].temperature + (rows[-1].temperature - rows[0].temperature) * i / 500 for i in range(501)]
    highest = max(
        pad_friction_over_temperature(points=rows, way="monotone cubic", at_temperature=t).friction for t in dense
    )
    return {
        "monotone_cubic": ask("monotone cubic"),
        "linear": ask("linear"),
        "peak_is_table_peak": highest <= max(row.friction for row in rows) + 1e-12,
    }


def displacement(given: Given) -> dict[str, float]:
    """One circuit."""
    found = circuit_travel(
        calipers=int(given["calipers_on_circuit"]),
        one_side_area=given["one_side_piston_area"],
        clearance=given["clearance_each_pad"],
        knock_back=given["knockback_each_pad"],
        line_pressure=given["line_pressure"],
        caliper_give=given["caliper_compliance_each"],
        hose_length=given["hose_length_total"],
        hose_give=given["hose_expansion_coefficient"],
        fluid=given["fluid_volume"],
        bulk_modulus=given["fluid_bulk_modulus"],
        bore=given["master_bore"],
        cut_off=given["cut_off_travel"],
        available_stroke=given["available_stroke"],
        pedal_ratio=given["pedal_ratio"],
    )
    return {
        "volume_clearance": found.clearance_volume,
        "volume_caliper": found.caliper_volume,
        "volume_hose": found.hose_volume,
        "volume_fluid": found.fluid_volume,
        "volume_total": found.total_volume,
        "master_stroke": found.master_stroke,
        "pedal_travel": found.pedal_travel,
        "stroke_reserve": found.stroke_reserve,
    }


def hose(given: Given) -> dict[str, float]:
    """Expansion for each foot at one pressure becomes a coefficient."""
    regular, low = (given[f"expansion_{kind}"] / given["pressure"] for kind in ("regular", "low"))
    found = hose_expansion(
        length=given["free_length"],
        hose_give=regular,
        other_give=low,
        line_pressure=given["pressure"],
        bore=given["master_bore"],
    )
    return {
        "volume_regular": found.volume,
        "volume_low": found.volume_other,
        "extra_master_stroke": found.stroke_saved,
        "coefficient_regular": regular,
    }


def handbrake(given: Given) -> dict[str, object]:
    """The lever in series with the foot."""
    found = hand_lever(
        hand_force=given["hand_force"],
        lever_ratio=given["lever_ratio"],
        bore=given["cylinder_bore"],
        foot_pressure=given["foot_rear_pressure"],
        rear_per_pressure=given["rear_force_per_pressure"],
        adhesion=given["adhesion"],
        rear_load=given["rear_axle_load"],
    )
    return {
        "hand_pressure": found.hand_pressure,
        "rear_pressure": found.rear_pressure,
        "rear_force_demand": found.rear_force,
        "locks_rear": found.locks == "yes",
    }


def selection(given: Given) -> dict[str, object]:
    """Every pair of the list, bar in the middle."""
    found = cylinder_choice(
        total_force=given["total_tyre_force_target"],
        share=given["front_share_target"],
        share_tolerance=given["share_tolerance"],
        pedal_force_min=given["pedal_force_min"],
        pedal_force_max=given["pedal_force_max"],
        front_per_pressure=given["front_axle_force_per_pressure"],
        rear_per_pressure=given["rear_axle_force_per_pressure"],
        front_volume=given["front_circuit_volume"],
        rear_volume=given["rear_circuit_volume"],
        max_stroke=given["max_master_stroke"],
        reserve=0.0,
        bores=tuple(BoreRow(d) for d in given["bores"]),
        ratios=(BoxRatio(given["pedal_ratio"]),),
        bar="centred",
    )
    return {
        "feasible_pairs_front_rear_mm": [list(pair) for pair in zip(found.front_bores, found.rear_bores, strict=True)],
        "front_share": list(found.front_shares),
        "pedal_force": list(found.pedal_forces),
        "pedal_travel_mean": list(found.pedal_travels),
    }


ADAPTERS = {
    "pedal_to_torque": pedal_to_torque,
    "balance_bar": balance,
    "vacuum_booster": booster,
    "disc_uniform_wear": disc_wear,
    "disc_button_pad": disc_button,
    "effective_radius": radius,
    "caliper_clamp": caliper,
    "drum_long_shoe": drum_shoe,
    "drum_shoe_factor": drum_shoe_factor,
    "pad_friction_table": pad_table,
    "fluid_displacement": displacement,
    "hose_expansion": hose,
    "hydraulic_handbrake": handbrake,
    "master_cylinder_selection": selection,
}

_PAIR = {"pad_arm": 0.26, "rod_arm": 0.05}
_ROWS = (FrictionPoint(323.15, 0.34), FrictionPoint(573.15, 0.47), FrictionPoint(773.15, 0.44))
_BOOSTER = {"pushrod_force": 500.0, "diaphragm_area": 0.04}
_CIRCUIT = {
    "one_side_area": 0.0025,
    "clearance": 0.0005,
    "line_pressure": 7e6,
    "caliper_give": 6e-14,
    "hose_length": 0.6,
    "hose_give": 1e-13,
    "fluid": 4.5e-5,
    "bore": 0.01588,
    "available_stroke": 0.02,
    "pedal_ratio": 5.2,
}
_CHOICE = {
    "total_force": 9500.0,
    "share": 0.64,
    "pedal_force_min": 10.0,
    "pedal_force_max": 12.0,
    "front_per_pressure": 0.00175,
    "rear_per_pressure": 0.00095,
    "front_volume": 4.3e-6,
    "rear_volume": 3e-6,
    "max_stroke": 0.022,
    "ratios": (BoxRatio(5.2),),
}


def _effort(ratio: float):
    return pedal_effort(torque=100.0, disc_radius=0.13, friction=0.4, pistons=0.002, bore=0.02, pedal_ratio=ratio)


# (topic, field): the input the refusal must name, and the calls that must be refused; or what a flag or an answer must say.
BAD = {
    ("pedal_to_torque", "pedal_ratio"): ("pedal_ratio", [lambda: _effort(0.0), lambda: _effort(-5.0)]),
    ("balance_bar", "trunnion_offset"): (
        "trunnion_offset",
        [lambda o=o: balance_bar(rod_force=1000.0, spacing=0.06, trunnion_offset=o) for o in (0.03, -0.03, 0.05)],
    ),
    ("vacuum_booster", "boost_ratio"): (
        "boost_ratio",
        [lambda r=r: brake_booster(boost_ratio=r, vacuum=7e4, **_BOOSTER) for r in (1.0, 0.5)],
    ),
    ("vacuum_booster", "vacuum"): ("vacuum", [lambda: brake_booster(boost_ratio=4.0, vacuum=1.2e5, **_BOOSTER)]),
    ("effective_radius", "inner_radius"): (
        "inner_radius",
        [lambda r=r: effective_radius(inner_radius=r, outer_radius=0.15) for r in (0.15, 0.2)],
    ),
    ("pad_friction_table", "query"): (
        "at_temperature",
        [lambda t=t: pad_friction_over_temperature(points=_ROWS, at_temperature=t) for t in (300.0, 800.0)],
    ),
    ("pad_friction_table", "temperature"): (
        "points[2].temperature",
        [lambda: pad_friction_over_temperature(points=_ROWS[:1] + _ROWS[:1] + _ROWS[1:], at_temperature=400.0)],
    ),
}
FLAGGED = {("fluid_displacement", "stroke"): (lambda: circuit_travel(**_CIRCUIT).flags, "bottoms")}
ANSWERED = {("master_cylinder_selection", "result"): lambda: cylinder_choice(**_CHOICE)}

"""Which functions are calculators, and in which chapter of the book each has its home.

Only names stand here: a room is imported when one of its calculators is first asked for, which keeps a phone's start short.
"""

from collections.abc import Callable
from difflib import get_close_matches
from functools import cache
from importlib import import_module
from typing import Any, NamedTuple

from calc.refusal import Refused


class Entry(NamedTuple):
    """A calculator's name, the module that holds it and its chapter."""

    name: str
    module: str
    chapter: str


_ROOMS: dict[str, tuple[tuple[str, str], ...]] = {
    # chapter: (module, calculators in reading order)
    "loads": (
        ("calc.loads.corner_weights", "corner_weights"),
        ("calc.loads.cg_height", "cg_height_lift"),
        ("calc.loads.cg_tilt", "cg_height_tilt"),
        ("calc.loads.masses", "sprung_mass_split"),
        ("calc.loads.changes", "mass_change fuel_burn"),
        ("calc.loads.ballast", "ballast_for_share"),
        ("calc.loads.perches", "perch_adjustment"),
        ("calc.loads.perch_target", "perch_turns_for_cross"),
        ("calc.loads.pads", "uneven_pads"),
        ("calc.loads.longitudinal", "longitudinal_load_transfer"),
        ("calc.loads.straight", "straight_line_loads"),
        ("calc.loads.lateral", "lateral_load_transfer"),
        ("calc.loads.chassis", "chassis_twist"),
        ("calc.loads.cornering", "cornering_loads"),
        ("calc.loads.banking", "banked_corner"),
        ("calc.loads.track", "track_and_wheelbase"),
    ),
    "aero": (
        ("calc.loads.air", "air_density"),
        ("calc.loads.aero", "aero_loads aero_from_axle_loads"),
        ("calc.loads.aero_heights", "aero_ride_heights"),
        ("calc.loads.aero_springs", "spring_for_aero_height heave_spring"),
        ("calc.loads.aero_frequency", "frequency_under_downforce"),
    ),
    "tyres": (
        ("calc.loads.pressure", "hot_pressure cold_pressure"),
        ("calc.loads.temperatures", "tyre_temperatures"),
        ("calc.loads.axle_grip", "axle_grip grip_fit"),
        ("calc.loads.understeer", "understeer_gradient"),
        ("calc.loads.understeer_transfer", "understeer_with_transfer"),
        ("calc.loads.limit", "limit_balance"),
    ),
    "springs": (
        ("calc.springs.wheel_rate", "wheel_rate"),
        ("calc.springs.ride", "ride_frequency"),
        ("calc.springs.choice", "spring_for_frequency spring_for_ride_rate"),
        ("calc.springs.coil", "coil_spring"),
        ("calc.springs.coil_design", "coil_for_load coils_for_rate rescaled_spring"),
        ("calc.springs.press", "press_rate"),
        ("calc.springs.preload", "preload"),
        ("calc.springs.stack", "series_springs"),
        ("calc.springs.nested", "nested_springs"),
        ("calc.springs.rubber", "bump_rubber"),
        ("calc.springs.torsion_bar", "torsion_bar_spring"),
        ("calc.springs.budget", "travel_budget"),
    ),
    "bars": (
        ("calc.springs.bars.bar", "anti_roll_bar"),
        ("calc.springs.bars.blade", "bar_blade"),
        ("calc.springs.bars.rate", "bar_rates"),
        ("calc.springs.bars.roll", "roll_stiffness"),
    ),
    "ride": (
        ("calc.springs.road.pitch", "pitch_bounce flat_ride"),
        ("calc.springs.road.modes", "quarter_car_modes"),
        ("calc.springs.road.wave", "transmissibility quarter_car_waves"),
        ("calc.springs.road.bump", "step_response quarter_car_bump"),
        ("calc.springs.road.half_car", "half_car"),
        ("calc.springs.road.roughness", "road_roughness"),
        ("calc.springs.road.random_road", "road_response"),
        ("calc.springs.road.bounce", "bounce_test"),
    ),
    "dampers": (
        ("calc.springs.dampers.ratio", "damping_ratio damper_for_ratio damping_after_spring_change"),
        ("calc.springs.dampers.car", "car_damping_ratios"),
        ("calc.springs.dampers.dyno", "damper_curve"),
        ("calc.springs.dampers.clicks", "damper_clicks"),
        ("calc.springs.dampers.energy", "damper_energy"),
        ("calc.springs.dampers.gas", "damper_gas"),
        ("calc.springs.dampers.target", "damper_target"),
    ),
    "geometry": (
        ("calc.geometry.forms.fronts", "front_view_arms lock_out"),
        ("calc.geometry.forms.position", "wheel_position"),
        ("calc.geometry.forms.sweep", "travel_curves"),
        ("calc.geometry.forms.curve", "linkage_curve"),
        ("calc.geometry.forms.changes", "moved_point ball_joint_spacer"),
        ("calc.geometry.forms.changes_height", "raised_hub_change lowered_on_springs"),
        ("calc.geometry.forms.changes_wheel", "wheel_change top_plate_change adjusted_link"),
        ("calc.geometry.forms.rolling", "wheels_in_roll"),
        ("calc.geometry.side_view", "side_view_anti"),
        ("calc.geometry.forms.anti_effects", "anti_effects"),
        ("calc.geometry.forms.bump", "bump_steer"),
        ("calc.geometry.forms.steer", "steering_geometry"),
        ("calc.geometry.forms.steer_angles", "ideal_steer_angles steering_ratio"),
        ("calc.geometry.forms.axle", "live_axle"),
        ("calc.geometry.forms.axle_parts", "panhard_rod watt_linkage leaf_spring_axle"),
        ("calc.geometry.forms.beam", "torsion_beam"),
        ("calc.geometry.forms.align", "toe_units string_alignment thrust_line"),
        ("calc.geometry.forms.align_steer", "caster_by_sweep camber_shim thread_turns"),
        ("calc.geometry.forms.link_loads", "link_loads"),
        ("calc.geometry.forms.brackets", "bolt_in_bracket rod_end link_buckling"),
        ("calc.geometry.forms.measuring", "point_from_distances point_errors"),
        ("calc.geometry.forms.measuring_sides", "both_sides"),
    ),
    "brakes": (
        ("calc.brakes.pedal", "brake_forces pedal_effort"),
        ("calc.brakes.lever", "pedal_ratio"),
        ("calc.brakes.bar", "balance_bar"),
        ("calc.brakes.bar_failure", "bar_circuit_lost"),
        ("calc.brakes.cylinders", "cylinder_pressures bore_change"),
        ("calc.brakes.booster", "brake_booster booster_removed"),
        ("calc.brakes.valves", "brake_valve"),
        ("calc.brakes.calipers", "caliper_clamp"),
        ("calc.brakes.discs", "effective_radius pad_pressure"),
        ("calc.brakes.button_pads", "button_pads"),
        ("calc.brakes.drums", "drum_shoes"),
        ("calc.brakes.drum_factor", "drum_factor"),
        ("calc.brakes.friction", "pad_friction_over_temperature pad_balance"),
        ("calc.brakes.balance", "brake_balance"),
        ("calc.brakes.distribution", "brake_distribution axle_stop"),
        ("calc.brakes.aero", "aero_braking brake_migration"),
        ("calc.brakes.load_sensitivity", "load_sensitive_balance"),
        ("calc.brakes.fuel", "fuel_balance"),
        ("calc.brakes.engine", "engine_braking"),
        ("calc.brakes.grade", "grade_stop"),
        ("calc.brakes.band", "balance_band"),
        ("calc.brakes.choice", "cylinder_choice"),
        ("calc.brakes.circuit", "circuit_travel"),
        ("calc.brakes.hoses", "hose_expansion"),
        ("calc.brakes.travel", "pedal_travel"),
        ("calc.brakes.long_pedal", "long_pedal"),
        ("calc.brakes.stopping", "stopping_distance braking_efficiency"),
        ("calc.brakes.aero_stop", "aero_stop"),
        ("calc.brakes.wheel_lock", "first_wheel_lock kerb_lock"),
        ("calc.brakes.pull", "brake_pull braking_tyre_load"),
        ("calc.brakes.one_side", "one_side_locks"),
        ("calc.brakes.heat.stops", "stop_heat braking_power"),
        ("calc.brakes.heat.surface", "surface_temperature heat_partition"),
        ("calc.brakes.heat.repeats", "repeated_stops"),
        ("calc.brakes.heat.cooling", "disc_cooling"),
        ("calc.brakes.heat.convection", "disc_convection"),
        ("calc.brakes.heat.lap", "lap_heat"),
        ("calc.brakes.heat.disc", "disc_size disc_expansion"),
        ("calc.brakes.heat.upkeep", "cooling_duct pad_wear"),
        ("calc.brakes.fluid", "brake_fluid fluid_moisture"),
        ("calc.brakes.lines", "line_rating"),
        ("calc.brakes.parking", "parking_hold hand_lever"),
        ("calc.brakes.legal", "legal_curves stopping_limits mean_deceleration"),
    ),
}

CATALOGUE: dict[str, Entry] = {
    name: Entry(name, module, chapter)
    for chapter, rooms in _ROOMS.items()
    for module, listed in rooms
    for name in listed.split()
}


def names() -> tuple[str, ...]:
    """Return the names of all calculators in reading order."""
    return tuple(CATALOGUE)


def entry(name: str) -> Entry:
    """Return where a calculator lives; an unknown name is refused with the nearest known one."""
    try:
        return CATALOGUE[name]
    except KeyError:
        close = get_close_matches(str(name), CATALOGUE, n=1, cutoff=0.4)
        hint = f"Did you mean {close[0]}?" if close else ""
        raise Refused("name", "is not a calculator of this book", repr(name), hint=hint) from None


@cache
def load(name: str) -> Callable[..., Any]:
    """Return the calculator called ``name``.

    >>> load("ride_frequency").__name__
    'ride_frequency'
    """
    place = entry(name)
    function: Callable[..., Any] = getattr(import_module(place.module), name)
    return function

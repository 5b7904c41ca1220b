"""Adapters for heat, cooling, fluid, expansion, sizing and wear: see ``brakes_case`` for their shape."""

import math

from calc.brakes.fluid import WaterPoint, brake_fluid, fluid_moisture
from calc.brakes.heat.convection import disc_convection
from calc.brakes.heat.cooling import Moment, disc_cooling
from calc.brakes.heat.disc import disc_expansion, disc_size
from calc.brakes.heat.lap import lap_heat
from calc.brakes.heat.repeats import repeated_stops
from calc.brakes.heat.stops import braking_power, stop_heat, temperature_rise
from calc.brakes.heat.surface import heat_partition, surface_temperature
from calc.brakes.heat.upkeep import cooling_duct, pad_wear
from calc.brakes.heat.zones import Zone
from calc.brakes.table import read_between
from calc.numeric.least_squares import line
from tests.reference.brakes_case import Given


def single_stop(given: Given) -> dict[str, float]:
    """A car stopped by all its brakes, a snub by one axle, or a flywheel."""
    if "radius_of_gyration" in given:
        energy = given["mass"] * (given["radius_of_gyration"] * given["speed"]) ** 2 / 2
        return {
            "energy": energy,
            "temperature_rise": temperature_rise(energy, given["drum_mass"], given["specific_heat"]),
        }
    if "speed_1" in given:
        found = stop_heat(
            mass=given["mass"],
            start_speed=given["speed_1"],
            end_speed=given["speed_2"],
            mass_factor=given["mass_factor"],
            axle_share=given["axle_energy_share"],
            disc_share=given["disc_heat_share"],
            disc_mass=given["disc_mass"],
            specific_heat=given["specific_heat"],
            discs=int(given["discs_on_axle"]),
            start_temperature=given["start_temperature"],
        )
        return {
            "energy_total": found.energy,
            "energy_per_disc": found.disc_energy,
            "temperature_rise": found.rise,
            "end_temperature": found.end_temperature,
        }
    brakes = int(given.get("brakes", 1))
    factor = 1 + given.get("rotating_mass_fraction", 0.0)
    body = given["brake_mass"] if "brake_mass" in given else given["brake_mass_total"]
    heat = stop_heat(
        mass=given["mass"],
        start_speed=given["speed"],
        mass_factor=factor,
        axle_share=1.0,
        disc_share=1.0,
        discs=brakes,
        disc_mass=body,
        specific_heat=given["specific_heat"],
    )
    found = {"energy": heat.energy, "energy_per_brake": heat.brake_energy, "temperature_rise": heat.rise}
    if "stop_time" in given:
        power = braking_power(
            mass=given["mass"],
            start_speed=given["speed"],
            deceleration=given["speed"] / given["stop_time"],
            mass_factor=factor,
            brakes=brakes,
            wheel_radius=given["wheel_radius"],
        )
        found |= {"stop_distance": power.distance, "torque_per_brake": power.torque}
    return found


def power(given: Given) -> dict[str, float]:
    """A stop at a part of gravity."""
    found = braking_power(
        mass=given["mass"], start_speed=given["speed"], deceleration=given["deceleration_g"] * given["g"]
    )
    return {
        "energy": found.energy,
        "time": found.time,
        "mean_power": found.mean_power,
        "peak_power": found.peak_power,
    }


def partition(given: Given) -> dict[str, float]:
    """The names say disc and pad."""
    found = heat_partition(
        density=given["disc_density"],
        conductivity=given["disc_conductivity"],
        specific_heat=given["disc_specific_heat"],
        pad_density=given["pad_density"],
        pad_conductivity=given["pad_conductivity"],
        pad_heat=given["pad_specific_heat"],
        swept_area=given["disc_swept_area_one_face"],
        pad_area=given["pad_area"],
    )
    return {"disc_share": found.disc_share, "disc_share_equal_areas": found.equal_area_share}


def surface(given: Given) -> dict[str, float]:
    """A thick body."""
    found = surface_temperature(
        flux=given["initial_flux"],
        conductivity=given["conductivity"],
        density=given["density"],
        specific_heat=given["specific_heat"],
        stop_time=given["stop_time"],
    )
    return {
        "time_of_peak": found.time_of_peak,
        "peak_rise": found.peak_rise,
        "rise_at_end": found.end_rise,
        "peak_factor": found.effusivity_factor,
    }


def repeats(given: Given) -> dict[str, object]:
    """Each number of stops on its own."""
    found = [
        repeated_stops(
            rise=given["rise_per_stop"],
            cooling_time=1 / given["cooling_constant"],
            interval=given["time_between_stops"],
            stops=int(n),
            ambient=given["ambient"],
        )
        for n in given["stop_numbers"]
    ]
    return {
        "peak_after_n": [each.peak for each in found],
        "steady_peak": found[0].steady_peak,
        "steady_before_stop": found[0].steady_before,
    }


def cooling(given: Given) -> dict[str, object]:
    """A lumped disc."""
    found = disc_cooling(
        disc_mass=given["mass"],
        specific_heat=given["specific_heat"],
        heat_transfer=given["convection"],
        area=given["area"],
        emissivity=given["emissivity"],
        ambient=given["ambient"],
        start_temperature=given["start_temperature"],
        times=tuple(Moment(t) for t in given["times"]),
    )
    return {"temperature": list(found.temperatures), "initial_radiation_share": found.radiation_share}


def convection(given: Given) -> dict[str, object]:
    """The correlations, or three measured points read as a line, a power and between."""
    if "h_measured" in given:
        speeds, h = given["speed"], given["h_measured"]
        return {
            "slope_linear_fit": line(speeds, h).slope,
            "exponent_end_points": math.log(h[-1] / h[0]) / math.log(speeds[-1] / speeds[0]),
            "h_at_500_linear": read_between(speeds, h, 500 * 2 * math.pi / 60),
        }
    found = disc_convection(
        speed=given["vehicle_speed"],
        diameter=given["disc_diameter"],
        vent_speed=given["vent_air_speed"],
        vent_diameter=given["vent_hydraulic_diameter"],
        vent_length=given["vent_length"],
        viscosity=given["kinematic_viscosity"],
        air_conductivity=given["air_conductivity"],
        prandtl=given["prandtl"],
    )
    return {
        "reynolds_face": found.face_reynolds,
        "h_face": found.face,
        "regime_face": found.face_regime,
        "reynolds_vent": found.vent_reynolds,
        "h_vent": found.vent,
        "regime_vent": found.vent_regime,
    }


def lap(given: Given) -> dict[str, object]:
    """One corner; the share of the case holds the mass factor already."""
    disc, pads, caliper = given["start_disc_pad_caliper"]
    found = lap_heat(
        zones=tuple(Zone(*row) for row in given["zones_v1_v2_decel_timetonext"]),
        laps=int(given["laps"]),
        mass=given["mass"],
        corner_share=given["corner_energy_share_times_mass_factor"],
        mass_factor=1.0,
        rolling_speed=given["speed_between_zones"],
        disc_capacity=given["disc_heat_capacity"],
        pad_capacity=given["pad_heat_capacity_two_pads"],
        caliper_capacity=given["caliper_heat_capacity"],
        disc_share=given["disc_heat_share"],
        area=given["cooling_area"],
        emissivity=given["emissivity"],
        h_still=given["h_constant"],
        h_per_speed=given["h_per_speed"],
        pad_to_air=given["pad_to_air"],
        pad_to_caliper=given["pad_to_caliper"],
        caliper_to_air=given["caliper_to_air"],
        ambient=given["ambient"],
        start_disc=disc,
        start_pads=pads,
        start_caliper=caliper,
    )
    return {
        "disc_peak_last_lap": list(found.disc_peaks),
        "pad_end_of_zones_last_lap": list(found.pad_ends),
        "caliper_end": found.caliper_end,
        "disc_end": found.disc_end,
    }


def fluid(given: Given) -> dict[str, object]:
    """Classes by name."""
    found = [brake_fluid(grade=grade) for grade in given["grades"]]
    dry, wet = [each.dry for each in found], [each.wet for each in found]
    return {
        "dry_min": dry,
        "wet_min": wet,
        "dry_min_F": dry,
        "wet_min_F": wet,
        "viscosity_max_minus_40": [each.viscosity for each in found],
    }


def moisture(given: Given) -> dict[str, object]:
    """Read between the points."""
    rows = tuple(WaterPoint(w, t) for w, t in zip(given["water"], given["boiling_point"], strict=True))
    found = [fluid_moisture(points=rows, water=w).boiling for w in given["query"]]
    return {"linear": found, "linear_C": found}


def expansion(given: Given) -> dict[str, float]:
    """Disc and hat at the pins."""
    found = disc_expansion(
        pin_radius=given["drive_pin_circle_radius"],
        disc_expansion=given["disc_expansion"],
        disc_rise=given["disc_rise"],
        hat_expansion=given["hat_expansion"],
        hat_rise=given["hat_rise"],
        outer_diameter=given["disc_outer_diameter"],
        surface_difference=given["surface_to_bulk_difference"],
        modulus=given["modulus"],
        poisson=given["poisson"],
    )
    return {
        "disc_radial_growth": found.disc_growth,
        "hat_radial_growth": found.hat_growth,
        "relative_radial_growth": found.relative_growth,
        "outer_diameter_growth": found.diameter_growth,
        "biaxial_surface_stress": found.stress,
    }


def duct(given: Given) -> dict[str, float]:
    """All the heat in the duct's air."""
    found = cooling_duct(
        heat=given["mean_heat"],
        air_rise=given["air_rise"],
        speed=given["car_speed"],
        velocity_ratio=given["duct_velocity_ratio"],
        air_density=given["air_density"],
        air_heat=given["air_cp"],
    )
    return {
        "mass_flow": found.mass_flow,
        "volume_flow": found.volume_flow,
        "area": found.area,
        "round_diameter": found.round_diameter,
    }


def wear(given: Given) -> dict[str, float]:
    """Volume in proportion to energy."""
    found = pad_wear(
        energy=given["energy_per_pad"],
        specific_wear=given["specific_wear"],
        pad_area=given["pad_area"],
        usable_thickness=given["usable_thickness"],
    )
    return {
        "thickness_lost": found.thickness_lost,
        "fraction_used": found.fraction_used,
        "energy_to_worn_out": found.energy_to_worn,
    }


def sizing(given: Given) -> dict[str, float]:
    """A vented ring."""
    found = disc_size(
        outer_radius=given["outer_radius"],
        inner_radius=given["inner_radius"],
        thickness=given["thickness"],
        void=given["void_fraction"],
        density=given["density"],
        specific_heat=given["specific_heat"],
        wheel_radius=given["wheel_radius"],
    )
    return {
        "ring_mass": found.ring_mass,
        "heat_capacity": found.heat_capacity,
        "polar_inertia": found.inertia,
        "equivalent_mass": found.equivalent_mass,
    }


ADAPTERS = {
    "single_stop": single_stop,
    "braking_power": power,
    "heat_partition": partition,
    "surface_temperature": surface,
    "repeated_stops": repeats,
    "cooling_radiation": cooling,
    "convection": convection,
    "lap_thermal": lap,
    "brake_fluid": fluid,
    "fluid_moisture": moisture,
    "thermal_expansion": expansion,
    "cooling_duct": duct,
    "pad_wear": wear,
    "disc_sizing": sizing,
}

_STOP = {"mass": 1000.0, "axle_share": 0.7, "disc_mass": 7.0, "specific_heat": 500.0}
_GOOD = Zone(60.0, 20.0, 10.0, 12.0)
_CORNER = {
    "laps": 1,
    "mass": 1000.0,
    "corner_share": 0.35,
    "disc_capacity": 3000.0,
    "pad_capacity": 900.0,
    "caliper_capacity": 2000.0,
    "area": 0.2,
}
_DISC = {"disc_mass": 8.0, "specific_heat": 500.0, "heat_transfer": 60.0, "area": 0.16, "times": (Moment(10.0),)}


def _second(zone: Zone):
    return lap_heat(zones=(_GOOD, zone), **_CORNER)


BAD = {
    ("single_stop", "speed_2"): ("end_speed", [lambda: stop_heat(start_speed=20.0, end_speed=30.0, **_STOP)]),
    ("cooling_radiation", "temperature"): (
        "start_temperature",
        [lambda: disc_cooling(start_temperature=-1.0, ambient=293.15, **_DISC)],
    ),
    ("lap_thermal", "zone"): (
        "zones[2].",
        [
            lambda: _second(Zone(50.0, 50.0, 10.0, 5.0)),
            lambda: _second(Zone(50.0, 20.0, 0.0, 5.0)),
            lambda: _second(Zone(50.0, 20.0, 10.0, -1.0)),
        ],
    ),
    ("lap_thermal", "zones"): ("zones", [lambda: lap_heat(zones=(), **_CORNER)]),
    ("brake_fluid", "mix"): ("mixed_with", [lambda: brake_fluid(grade="DOT 4", mixed_with="DOT 5")]),
}
ANSWERED = {("convection", "speed"): lambda: disc_convection(speed=0.0, diameter=0.3)}

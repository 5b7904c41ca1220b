"""Adapters for the topics of springs, ride, bars and dampers: see ``springs_case`` for their shape."""

from collections.abc import Mapping
from typing import Any

from calc import load
from calc.rates import rate_for_frequency
from calc.springs.press import Reading
from calc.springs.rubber import Pressed
from calc.springs.stack import InSeries, Stack
from tests.reference.springs_adapters_coils import BAD_COILS, COILS
from tests.reference.springs_adapters_dampers import BAD_DAMPERS, DAMPERS
from tests.reference.springs_adapters_ride import RIDE
from tests.reference.springs_case import Adapter, Bad, Given, in_unit


def wheel_rates(given: Given) -> Mapping[str, Any]:
    if "ride_frequency" in given:
        return _rate_chain(given)
    turned = given.si("angle_from_travel_direction") if "angle_from_travel_direction" in given else 0.0
    lever = given["lever_ratio_mount_to_wheel" if turned else "motion_ratio_spring_per_wheel"]
    answer = load("wheel_rate")(
        spring_rate=given.si("spring_rate"),
        lever_ratio=lever,
        spring_angle=turned,
        tyre_rate=200e3,
        spring_force=given.si("spring_force") if "spring_force" in given else 0.0,
        motion_ratio_gradient=given.si("dMR_dz") if "dMR_dz" in given else 0.0,
    )
    return {
        "wheel_rate": answer.wheel_rate,
        "wheel_rate_without_derivative_term": answer.wheel_rate - answer.gradient_part,
        "motion_ratio": answer.motion_ratio,
        "wheel_rate_constant_MR": answer.wheel_rate,
    }


def _rate_chain(given: Given) -> Mapping[str, Any]:
    mass = given.si("sprung_weight_per_corner") / (given["g"] * 0.0254)
    ride_rate = rate_for_frequency(given.si("ride_frequency"), mass)
    answer = load("spring_for_ride_rate")(
        ride_rate=ride_rate, tyre_rate=given.si("tyre_rate"), motion_ratio=given["motion_ratio_spring_per_wheel"]
    )
    found = {"ride_rate": ride_rate, "wheel_rate": answer.wheel_rate, "spring_rate": answer.spring_rate}
    return {name: in_unit(value, "lbf/in") for name, value in found.items()}


def frequencies(given: Given) -> Mapping[str, Any]:
    plain = "stiffness" in given
    answer = load("ride_frequency")(
        sprung_mass=given.si("mass" if plain else "sprung_mass_corner"),
        wheel_rate=given.si("stiffness" if plain else "wheel_rate"),
        tyre_rate=200e3 if plain else given.si("tyre_rate"),
        unsprung_mass=given.si("unsprung_mass") if "unsprung_mass" in given else None,
        amplitude=given.si("amplitude") if "amplitude" in given else None,
    )
    return {
        "frequency": answer.body_frequency,
        "period": answer.period,
        "v_max": answer.peak_speed,
        "f_no_tyre": answer.body_frequency,
        "ride_rate": answer.ride_rate,
        "f_with_tyre": answer.ride_frequency,
        "f_hop_approx": answer.hop_frequency,
    }


def series(given: Given) -> Mapping[str, Any]:
    stack = (InSeries(given.si("main_rate")), InSeries(given.si("tender_rate"), given.si("tender_block_travel")))
    answer = load("series_springs")(springs=stack, static_force=0.0)
    return {
        "rate_before_block": in_unit(answer.rate_before, "N/mm"),
        "block_force": answer.block_force,
        "travel_at_block": in_unit(answer.block_travel, "mm"),
        "rate_after_block": in_unit(answer.rate_after, "N/mm"),
        **{f"travel_at_{force}_N": in_unit(Stack(stack).travel(force), "mm") for force in range(200, 5000, 100)},
    }


def preloaded(given: Given) -> Mapping[str, Any]:
    answer = load("preload")(
        spring_rate=given.si("spring_rate"),
        preload=given.si("preload_compression_at_full_droop"),
        static_force=given.si("static_spring_force"),
    )
    return {
        "force_to_start_moving": answer.starting_force,
        "compression_from_droop_at_static": in_unit(answer.compression, "mm"),
        "droop_travel_at_spring": in_unit(answer.droop_spring, "mm"),
    }


def rubber(given: Given) -> Mapping[str, Any]:
    """A law F = a x + b x^2 + c x^3 in N and mm, read as a table of nine readings."""
    law = str(given["force_law"]).split("=")[1].split("(")[0].replace("^", "**")
    x = given["compression"]
    rows = tuple(Pressed(at / 1000, eval(law, {"x": at})) for at in (1.25 * x * i / 8 for i in range(9)))
    answer = load("bump_rubber")(readings=rows, compression=given.si("compression"))
    return {"force": answer.force, "tangent_rate": in_unit(answer.rate, "N/mm"), "energy": answer.energy}


def torsion_bar(given: Given) -> Mapping[str, Any]:
    plain = "d" in given
    answer = load("torsion_bar_spring")(
        outer_diameter=given.si("d" if plain else "outer_d"),
        inner_diameter=0.0 if plain else given.si("inner_d"),
        twisted_length=given.si("bar_length" if plain else "length"),
        lever=given.si("lever"),
        torque=given.si("torque") if "torque" in given else 0.0,
        shear_modulus=given.si("G_implied" if plain else "G"),
    )
    return {
        "rate_at_lever_end": in_unit(answer.lever_rate, "lbf/in"),
        "torsional_rate": answer.torsional_rate,
        "lever_end_rate": answer.lever_rate,
        "shear_stress": in_unit(answer.shear_stress, "MPa"),
    }


def press(given: Given) -> Mapping[str, Any]:
    x, y = given.si("compression"), given.si("force")
    rows = tuple(Reading(s, F) for s, F in zip(x, y, strict=True))
    first, last = (int(part) for part in str(given["usable_window_points"]).split(".."))
    answer = load("press_rate")(readings=rows, leave_out_first=first - 1, leave_out_last=len(rows) - last)
    return {
        "rate_window": in_unit(answer.rate, "N/mm"),
        "intercept_window": answer.intercept,
        "rate_all": in_unit(answer.rate_all, "N/mm"),
    }


def budget(given: Given) -> Mapping[str, Any]:
    """The case gives travels, not rates: any rate with a spring that has the stated travel left at ride height will do."""
    rate, force, ratio = 50e3, 2500.0, given["motion_ratio"]
    answer = load("travel_budget")(
        springs=(InSeries(rate, force / rate + given.si("spring_travel_static_to_solid")),),
        static_force=force,
        motion_ratio=ratio,
        damper_open=given.si("damper_open_length"),
        damper_closed=given.si("damper_closed_length"),
        damper_static=given.si("damper_length_static"),
        rubber_free=given.si("bump_rubber_block_height"),
        rubber_block=given.si("bump_rubber_block_height"),
    )
    found = {
        "damper_bump_travel": answer.damper_bump,
        "damper_droop_travel": answer.damper_droop,
        "limiting_bump_travel": answer.bump_at_spring,
        "wheel_bump_travel": answer.wheel_bump,
        "wheel_droop_travel": answer.wheel_droop,
    }
    return {name: in_unit(value, "mm") for name, value in found.items()}


def blade(given: Given) -> Mapping[str, Any]:
    sizes = {"thickness": "thickness", "height": "height", "length": "free_length", "youngs_modulus": "E"}
    answer = load("bar_blade")(**{name: given.si(stated) for name, stated in sizes.items()})
    return {"k_soft": answer.soft_rate, "k_hard": answer.hard_rate, "ratio": answer.ratio}


def roll(given: Given) -> Mapping[str, Any]:
    one = {
        "rate": given.si("wheel_rate_each"),
        "bar": given.si("bar_rate_force_per_wheel_difference"),
        "tyre": given.si("tyre_rate_each"),
        "track": given.si("track"),
    }
    both = {f"{end}_{name}": value for end in ("front", "rear") for name, value in one.items()}
    answer = load("roll_stiffness")(**both)
    return {
        "K_suspension": answer.front_springs + answer.front_bar,
        "K_tyre": answer.front_tyres,
        "K_total": answer.front,
        "K_total_per_deg": in_unit(answer.front, "N·m/deg"),
    }


def _bar(**changed: Any) -> Any:
    bar = {"outer_diameter": 0.018, "twisted_length": 0.9, "lever": 0.2, "motion_ratio": 0.6, "track": 1.5}
    return load("anti_roll_bar")(**{**bar, **changed})


ADAPTERS: dict[str, Adapter] = {
    "wheel_rate": wheel_rates,
    "natural_frequency": frequencies,
    "series_springs": series,
    "preload": preloaded,
    "bump_stop": rubber,
    "torsion_bar": torsion_bar,
    "spring_rating": press,
    "travel_budget": budget,
    "arb_blade": blade,
    "roll_stiffness": roll,
    **COILS,
    **RIDE,
    **DAMPERS,
}
BAD: dict[str, Bad] = {
    "wheel_rate:motion_ratio": (
        "lever_ratio",
        lambda: load("wheel_rate")(spring_rate=50e3, lever_ratio=0.0, tyre_rate=200e3),
    ),
    "natural_frequency:mass": (
        "sprung_mass",
        lambda: load("ride_frequency")(sprung_mass=0.0, wheel_rate=25e3, tyre_rate=200e3),
    ),
    "natural_frequency:wanted_ride_rate": (
        "ride_rate",
        lambda: load("spring_for_ride_rate")(ride_rate=210e3, tyre_rate=200e3, motion_ratio=1.0),
    ),
    "anti_roll_bar:inner_d": ("inner_diameter", lambda: _bar(inner_diameter=0.020)),
    **BAD_COILS,
    **BAD_DAMPERS,
}

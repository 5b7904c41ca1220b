"""Adapters for the topics of dampers."""

import math
from collections.abc import Mapping
from typing import Any

from calc import load
from calc.springs.dampers.clicks import Measured
from calc.springs.road.bounce import Peak
from tests.reference.springs_case import Adapter, Bad, Given


def ratio(given: Given) -> Mapping[str, Any]:
    if "damped_period" in given:
        return _decay(given)
    car = {
        "sprung_mass": given.si("sprung_mass_corner"),
        "wheel_rate": given.si("wheel_rate"),
        "damper_ratio": given["damper_motion_ratio"],
    }
    answer = load("damper_for_ratio")(**car, wanted_ratio=given["target_zeta"])
    return {
        "c_critical_wheel": answer.critical_wheel,
        "c_wheel": answer.wheel_damping,
        "c_damper": answer.damper_damping,
    }


def _decay(given: Given) -> Mapping[str, Any]:
    half = given.si("damped_period") / 2
    peaks = (Peak(0.0, 1.0), Peak(half, given["half_cycle_amplitude_ratio"]))
    answer = load("bounce_test")(peaks=peaks, mass=given.si("mass"))
    return {
        "damping_ratio": answer.damping_ratio,
        "omega_n": 2 * math.pi * answer.frequency,
        "stiffness": answer.stiffness,
        "critical_damping": answer.critical,
        "damping": answer.damping,
    }


def energy(given: Given) -> Mapping[str, Any]:
    answer = load("damper_energy")(damping=given["c"], frequency=given.si("frequency"), amplitude=given.si("amplitude"))
    return {"energy_per_cycle": answer.energy, "mean_power": answer.power}


def table(given: Given) -> Mapping[str, Any]:
    speeds = given.si("speeds")
    rows = tuple(
        Measured(click, v, F)
        for click in (8, 16)
        for v, F in zip(speeds, given.si(f"force_click_{click}"), strict=True)
    )
    answer = load("damper_clicks")(readings=rows, speed=given.si("speed"), click=given["click"], counted="open")
    return {"force": answer.force}


def _beyond() -> Any:
    rows = (Measured(8, 0.05, 200.0), Measured(8, 0.2, 460.0), Measured(16, 0.05, 330.0), Measured(16, 0.2, 700.0))
    return load("damper_clicks")(readings=rows, speed=0.25, click=11)


DAMPERS: dict[str, Adapter] = {"damping_ratio": ratio, "damper_energy": energy, "damper_table": table}
BAD_DAMPERS: dict[str, Bad] = {"damper_table:speed": ("speed", _beyond)}

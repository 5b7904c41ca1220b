"""Adapters for the topics of helical springs: see ``springs_case`` for their shape."""

from collections.abc import Mapping
from typing import Any

from calc import load
from calc.springs.coil import coil_spring
from calc.springs.wire import Coil, buckling, curvature_factor
from tests.reference.springs_case import Adapter, Bad, Given, in_unit, to_si

FREE = 0.3  # m: a free length, where a case gives none and asks for nothing that depends on it


def helical(given: Given) -> Mapping[str, Any]:
    if "index_C" in given and "force" not in given:
        return {"wahl_factor": [curvature_factor(C, "wahl") for C in given["index_C"]]}
    if "rate_before" in given:
        return _scaled(given)
    if "total_coils" in given:
        return _squared(given)
    if "index_C" in given:
        return _designed(given)
    if "rate" in given:
        answer = load("coils_for_rate")(
            wire_diameter=given.si("d"),
            mean_diameter=given.si("D"),
            spring_rate=given.si("rate"),
            shear_modulus=given.si("G"),
        )
        return {"active_coils": answer.coils}
    answer = coil_spring(
        wire_diameter=given.si("d"),
        coil_diameter=given.si("D"),
        active_coils=given["active_coils"],
        free_length=FREE,
        shear_modulus=given.si("G"),
    )
    return {"rate": in_unit(answer.rate, "N/mm"), "total_coils_square_ground": answer.total_coils}


def _scaled(given: Given) -> Mapping[str, Any]:
    spring = {"spring_rate": given.si("rate_before"), "active_before": given["active_before"]}
    cut = load("rescaled_spring")(**spring, active_after=given["active_after"])
    thick = load("rescaled_spring")(**spring, active_after=given["active_before"], wire_scale=given["wire_scale"])
    return {"rate_after_cut": in_unit(cut.rate, "N/mm"), "rate_wire_scaled_same_D": in_unit(thick.rate, "N/mm")}


def _squared(given: Given) -> Mapping[str, Any]:
    """A spring whose strength is stated as A / d^m in inches and a share of it in shear yield."""
    strength = given["A_tensile"] / given["d"] ** given["m_exponent"] * 1000
    answer = coil_spring(
        wire_diameter=given.si("d"),
        coil_diameter=given.si("outside_diameter"),
        measured="outside",
        active_coils=given["total_coils"] - given["dead_coils"],
        free_length=FREE,
        ends="closed",
        duty="cyclic",
        tensile_strength=to_si(strength, "psi"),
        allowable_share=given["shear_yield_fraction"],
        shear_modulus=given.si("G"),
    )
    return {
        "rate": in_unit(answer.rate, "lbf/in"),
        "force_at_yield": in_unit(answer.allowed_force, "lbf"),
        "deflection_at_yield": in_unit(answer.allowed_force / answer.rate, "in"),
        "solid_length": in_unit(answer.solid_length, "in"),
    }


def _designed(given: Given) -> Mapping[str, Any]:
    answer = load("coil_for_load")(
        load=given.si("force"),
        deflection=given.si("deflection"),
        index=given["index_C"],
        allowed_shear=given.si("allowable_shear"),
        shear_modulus=given.si("G"),
        gap=given.si("gap_between_coils_at_max_load"),
    )
    return {
        "d_min": in_unit(answer.least_wire, "mm"),
        "active_coils": answer.coils,
        "total_coils": answer.total_coils,
        "actual_deflection_plus_solid_plus_gaps": in_unit(answer.free_length, "mm"),
        "wahl_factor": answer.factor,
    }


def buckles(given: Given) -> Mapping[str, Any]:
    found = buckling(given.si("E"), given.si("G"))
    return {
        "C1": found.c1,
        "C2": found.c2,
        "stable_limit_L0_over_D_pivoted_ends": found.slenderness / 1.0,
        "stable_limit_L0_over_D_parallel_plates": found.slenderness / 0.5,
    }


def nested(given: Given) -> Mapping[str, Any]:
    coils = [Coil(given.si(f"d_{w}"), given.si(f"D_{w}"), given[f"n_{w}"], given.si("G")) for w in ("outer", "inner")]
    answer = load("nested_springs")(first_rate=coils[0].rate, second_rate=coils[1].rate, force=given.si("force"))
    shears = [
        coil.shear(force) * curvature_factor(coil.spring_index, "wahl")
        for coil, force in zip(coils, (answer.first_force, answer.second_force), strict=True)
    ]
    return {
        "force_outer": answer.first_force,
        "force_inner": answer.second_force,
        "deflection": in_unit(answer.deflection, "mm"),
        "shear_outer_wahl": in_unit(shears[0], "MPa"),
        "shear_inner_wahl": in_unit(shears[1], "MPa"),
    }


def _coil(**changed: Any) -> Any:
    spring = {"wire_diameter": 0.012, "coil_diameter": 0.072, "active_coils": 6.0, "free_length": 0.2}
    return load("coil_spring")(**{**spring, **changed})


COILS: dict[str, Adapter] = {"helical_spring": helical, "spring_buckling": buckles, "nested_springs": nested}
BAD_COILS: dict[str, Bad] = {
    "helical_spring:d": ("coil_diameter", lambda: _coil(wire_diameter=0.012, coil_diameter=0.012)),
    "helical_spring:active_coils": ("active_coils", lambda: _coil(active_coils=0.0)),
    "helical_spring:deflection": ("", lambda: _coil(load=1e6)),
}

"""From a wanted force and travel to a spring, from a rate to its coils, and from one spring to another by scaling."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.springs.wire import CURVATURE_WORDS, Coil, Curvature, active_coils, curvature_factor
from calc.springs.words import STEEL_SHEAR, MeanDiameter, ShearModulus, WireDiameter
from calc.terms import SpringRate
from calc.units import Metres, Newtons, NewtonsPerMetre, Pascals, Ratio

_ALMOST = 1e-9  # a wire or coil count this close to a whole step is on it


class CoilForLoad(NamedTuple):
    """The least wire, and a spring that can be wound. Closed and ground ends."""

    wire: Annotated[Metres, Output("Wire to take", "d", "mm")]
    mean_diameter: Annotated[Metres, Output("Mean coil diameter", "D", "mm")]
    coils: Annotated[float, Output("Active coils to wind", "n")]
    total_coils: Annotated[float, Output("Total coils", "n_t")]
    free_length: Annotated[Metres, Output("Free length", "L_0", "mm")]
    rate: Annotated[NewtonsPerMetre, Output("Spring rate it then has", "R", "N/mm")]
    deflection: Annotated[Metres, Output("Compression at the load", "s", "mm")]
    shear: Annotated[Pascals, Output("Corrected shear stress at the load", r"\tau", "MPa", 3)]
    least_wire: Annotated[Metres, Output("Least wire for the stress", "d_{min}", "mm", detail=True)]
    coils_wanted: Annotated[float, Output("Active coils for exactly the rate wanted", "n_w", detail=True)]
    factor: Annotated[Ratio, Output("Curvature factor", "k", detail=True)]


def _load_remarks(result: CoilForLoad, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    off = result.rate / (inputs["load"] / inputs["deflection"]) - 1
    return (
        Remark(f"Whole coils leave the rate {100 * off:+.1f} % from the one asked.", about="rate"),
        Remark(
            "Now put these numbers into the spring from its wire: stress at solid, buckling and surge.", about="wire"
        ),
    )


def _load_figures(result: CoilForLoad, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    indexes = [3 + 0.5 * i for i in range(23)]
    least = [
        math.sqrt(
            8 * curvature_factor(C, inputs["curvature"]) * inputs["load"] * C / (math.pi * inputs["allowed_shear"])
        )
        for C in indexes
    ]
    text = "A wider coil needs a thicker wire: the least wire grows about with the root of the index."
    series = (Series("Least wire", indexes, least), Series("Wire taken", [inputs["index"]], [result.wire], points=True))
    return (Chart("Least wire against index", text, Axis("Index", ""), Axis("Wire diameter", "mm"), series),)


@calculator(
    title="Spring for a load and a travel",
    question="What wire and how many coils carry this force over this travel?",
    example={"load": "3000 N", "deflection": "60 mm", "index": "6.5", "allowed_shear": "700 MPa", "gap": "1 mm"},
    working=(
        Step(r"d_{min} = \sqrt{\frac{8 \, k \, F \, C}{\pi \, \tau_{zul}}}", "least_wire"),
        Step(r"D = C \, d", "mean_diameter"),
        Step(r"n_w = \frac{G \, d^4 \, s}{8 \, D^3 \, F}", "coils_wanted"),
        Step(r"R = \frac{G \, d^4}{8 \, D^3 \, n}", "rate"),
        Step(r"L_0 = n_t \, d + s + (n_t - 1) \, a", "free_length"),
    ),
    remarks=_load_remarks,
    figures=_load_figures,
)
def coil_for_load(
    *,
    load: Annotated[Newtons, Input("Greatest load", "F", "N", above=0, typical=(500, 15000))],
    deflection: Annotated[Metres, Input("Compression at that load", "s_w", "mm", above=0, typical=(0.02, 0.2))],
    index: Annotated[Ratio, Input("Index: coil diameter over wire", "C", "", above=1, typical=(4, 12))],
    allowed_shear: Annotated[
        Pascals,
        Input("Corrected shear stress allowed at the load", r"\tau_{zul}", "MPa", above=0, typical=(300e6, 1100e6)),
    ],
    shear_modulus: ShearModulus = STEEL_SHEAR,
    gap: Annotated[Metres, Input("Gap between coils at the load", "a", "mm", at_least=0, typical=(0, 0.003))] = 0.001,
    wire_step: Annotated[Metres, Input("Wire comes in steps of", "", "mm", above=0, typical=(1e-4, 1e-3))] = 0.0005,
    curvature: Annotated[Curvature, Choice("Curvature factor", CURVATURE_WORDS)] = "wahl",
) -> CoilForLoad:
    """Return the wire, coils and free length of a spring for a load and a travel, with closed ground ends.

    Equation: d = sqrt(8 k F C / (pi tau)), rounded up to a wire that is sold; n = G d^4 s / (8 D^3 F), rounded up to whole coils.
    Valid for: round wire, index 4 to 12, cold wound; the stress allowed is compared with the corrected stress at the load, not at solid.
    Source: EN 13906-1 (from memory); the procedure is that of any machine-design text.

    >>> spring = coil_for_load(load=1250, deflection=0.030, index=6, allowed_shear=545e6, shear_modulus=81.37e9)
    >>> round(spring.least_wire * 1000, 3), spring.coils, round(spring.free_length * 1000, 2)
    (6.625, 8.0, 109.34)
    """
    factor = curvature_factor(index, curvature)
    least = math.sqrt(8 * factor * load * index / (math.pi * allowed_shear))
    wire = math.ceil(least / wire_step - _ALMOST) * wire_step
    wanted = active_coils(wire, index * wire, load / deflection, shear_modulus)
    coil = Coil(wire, index * wire, float(max(1, math.ceil(wanted - _ALMOST))), shear_modulus)
    return CoilForLoad(
        wire=wire,
        mean_diameter=coil.D,
        coils=coil.n,
        total_coils=coil.total_coils,
        free_length=coil.solid_length + load / coil.rate + (coil.total_coils - 1) * gap,
        rate=coil.rate,
        deflection=load / coil.rate,
        shear=factor * coil.shear(load),
        least_wire=least,
        coils_wanted=wanted,
        factor=factor,
    )


class CoilsForRate(NamedTuple):
    """How many coils are at work."""

    coils: Annotated[float, Output("Active coils", "n")]
    spring_index: Annotated[Ratio, Output("Index", "C", detail=True)]


def _count_remarks(result: CoilsForRate, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            f"With closed ends expect about {result.coils + 2:.1f} turns in all, counted from tip to tip.",
            about="coils",
        ),
    )


def _count_figures(result: CoilsForRate, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    wire = inputs["wire_diameter"]
    wires = [wire * (0.97 + 0.003 * i) for i in range(21)]
    coils = [active_coils(d, inputs["mean_diameter"], inputs["spring_rate"], inputs["shear_modulus"]) for d in wires]
    text = "Three per cent of error on the wire, paint for instance, is twelve per cent on the coils."
    series = (Series("Active coils", wires, coils), Series("Here", [wire], [result.coils], points=True))
    return (
        Chart(
            "Coils found against the wire measured", text, Axis("Wire diameter", "mm"), Axis("Active coils", ""), series
        ),
    )


@calculator(
    title="Active coils from a measured rate",
    question="How many coils of this spring are really at work?",
    example={"wire_diameter": "11.5 mm", "mean_diameter": "71.5 mm", "spring_rate": "73 N/mm"},
    working=(Step(r"n = \frac{G \, d^4}{8 \, D^3 \, R}", "coils"),),
    remarks=_count_remarks,
    figures=_count_figures,
)
def coils_for_rate(
    *,
    wire_diameter: WireDiameter,
    mean_diameter: MeanDiameter,
    spring_rate: SpringRate,
    shear_modulus: ShearModulus = STEEL_SHEAR,
) -> CoilsForRate:
    """Return the active coils of a spring whose rate is known.

    Equation: n = G d^4 / (8 D^3 R).
    Valid for: round wire. The wire counts in the fourth power: half a per cent on it is two per cent on the coils, so measure bare wire with a micrometer.
    Source: EN 13906-1 (from memory).

    >>> round(coils_for_rate(wire_diameter=0.021, mean_diameter=0.150, spring_rate=75e3, shear_modulus=81.37e9).coils, 6)
    7.814775
    """
    require_winding(mean_diameter, wire_diameter)
    return CoilsForRate(
        active_coils(wire_diameter, mean_diameter, spring_rate, shear_modulus), mean_diameter / wire_diameter
    )


def require_winding(mean_diameter: float, wire_diameter: float) -> None:
    """Refuse a coil no wider than its wire."""
    if mean_diameter <= wire_diameter:
        raise Refused("mean_diameter", "must be greater than the wire diameter", quantity(mean_diameter, "mm"))


class RescaledSpring(NamedTuple):
    """What becomes of a spring whose coils, wire or diameter change."""

    rate: Annotated[NewtonsPerMetre, Output("Rate after", "R_2", "N/mm")]
    change: Annotated[Ratio, Output("Change of the rate", "", "%", 3)]
    stress_ratio: Annotated[Ratio, Output("Stress at the same force, after over before", "", "", 3)]
    travel_ratio: Annotated[Ratio, Output("Travel to solid at the same gaps, after over before", "", "", 3)]


def _scale_remarks(result: RescaledSpring, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark("The rate goes with the active coils, not with the free length: the dead coils stay.", about="rate")
    ]
    if inputs["active_after"] < inputs["active_before"]:
        remarks.append(
            Remark(
                "A cut spring has lost its closed end: it needs a new one or a seat that fits. Many rules and road inspections forbid cut springs; never cut with heat.",
                "caution",
                "active_after",
            )
        )
    return tuple(remarks)


def _scale_figures(result: RescaledSpring, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    before, after = inputs["active_before"], inputs["active_after"]
    high = max(before, after) * 1.2
    low = min(before, after) * 0.6
    coils = [low + (high - low) * i / 20 for i in range(21)]
    at_after = result.rate * after
    return (
        Chart(
            "Rate against active coils",
            "The rate rises as coils are taken away, faster and faster.",
            Axis("Active coils", ""),
            Axis("Rate", "N/mm"),
            (
                Series("Rate", coils, [at_after / n for n in coils]),
                Series("After", [after], [result.rate], points=True),
            ),
        ),
    )


@calculator(
    title="A spring cut or scaled",
    question="What rate has this spring with fewer coils, or its sister from thicker wire?",
    example={"spring_rate": "60 N/mm", "active_before": "8", "active_after": "7"},
    working=(Step(r"R_2 = R_1 \, \frac{n_1}{n_2} \, \frac{q_d^4}{q_D^3}", "rate"),),
    remarks=_scale_remarks,
    figures=_scale_figures,
)
def rescaled_spring(
    *,
    spring_rate: Annotated[NewtonsPerMetre, Input("Rate before", "R_1", "N/mm", above=0, typical=(15e3, 250e3))],
    active_before: Annotated[float, Input("Active coils before", "n_1", "", above=0, typical=(3, 15))],
    active_after: Annotated[float, Input("Active coils after", "n_2", "", above=0, typical=(3, 15))],
    wire_scale: Annotated[
        Ratio, Input("Wire diameter, after over before", "q_d", "", above=0, typical=(0.8, 1.25))
    ] = 1.0,
    diameter_scale: Annotated[
        Ratio, Input("Mean coil diameter, after over before", "q_D", "", above=0, typical=(0.8, 1.25))
    ] = 1.0,
) -> RescaledSpring:
    """Return the rate of a spring after its active coils, wire or coil diameter have changed.

    Equation: R2 = R1 (n1 / n2) q_d^4 / q_D^3.
    Valid for: the same material; round wire; fractions of a coil count.
    Caution: the spring gets stiffer and its travel to solid shorter at the same time; look at the travel budget before driving.
    Source: follows from the rate of EN 13906-1 (from memory).

    >>> round(rescaled_spring(spring_rate=40e3, active_before=8, active_after=7).rate, 1)
    45714.3
    """
    rate = spring_rate * active_before / active_after * wire_scale**4 / diameter_scale**3
    return RescaledSpring(rate, rate / spring_rate - 1, diameter_scale / wire_scale**3, active_after / active_before)

"""A helical compression spring from its wire: rate, stress, solid length, buckling, surge, mass."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.display import quantity
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.springs.coil_figures import figures
from calc.springs.wire import CURVATURE_WORDS, END_WORDS, Coil, Curvature, Ends, buckling, curvature_factor
from calc.springs.words import (
    STEEL_DENSITY,
    STEEL_SHEAR,
    STEEL_YOUNG,
    ActiveCoils,
    Density,
    ShearModulus,
    WireDiameter,
    YoungsModulus,
)
from calc.units import Hertz, Kilograms, Metres, Newtons, NewtonsPerMetre, Pascals, Ratio

Measured = Annotated[
    Literal["mean", "inside", "outside"],
    Choice("The coil diameter given is", {"mean": "the mean of the wire", "inside": "inside", "outside": "outside"}),
]
Seating = Annotated[
    Literal["plates", "one_pivot", "pivots", "free"],
    Choice(
        "How the ends are held",
        {
            "plates": "square between parallel plates (ν = 0.5)",
            "one_pivot": "one end square, one on a pivot (ν = 0.707)",
            "pivots": "both ends on pivots (ν = 1)",
            "free": "one end square, the other free to move aside (ν = 2)",
        },
    ),
]
_SEATING = {"plates": 0.5, "one_pivot": 0.707, "pivots": 1.0, "free": 2.0}


class CoilSpring(NamedTuple):
    """Everything the wire says about a spring. Stresses at solid are there because a spring must survive being blocked."""

    rate: Annotated[NewtonsPerMetre, Output("Spring rate", "R", "N/mm")]
    solid_length: Annotated[Metres, Output("Solid length", "L_c", "mm")]
    travel_to_solid: Annotated[Metres, Output("Travel from free to solid", "s_c", "mm")]
    deflection: Annotated[Metres, Output("Compression at the load", "s", "mm")]
    shear_solid: Annotated[Pascals, Output("Shear stress at solid, uncorrected", r"\tau_c", "MPa", 3)]
    shear_load: Annotated[Pascals, Output("Shear stress at the load, corrected for curvature", r"\tau_k", "MPa", 3)]
    allowed_shear: Annotated[Pascals | None, Output("Shear stress allowed", r"\tau_{zul}", "MPa", 3)]
    allowed_force: Annotated[Newtons | None, Output("Force at the stress allowed", "F_{zul}", "N")]
    buckling_travel: Annotated[Metres | None, Output("Compression at which it bows out", "s_k", "mm", 3)]
    surge: Annotated[Hertz, Output("Surge frequency of the coils", "f_e", "Hz", 3)]
    mass: Annotated[Kilograms, Output("Mass", "m", "kg", 3)]
    growth: Annotated[Metres, Output("Growth of the outside diameter, free to solid", r"\Delta D_e", "mm", 2)]
    spring_index: Annotated[Ratio, Output("Index", "C", detail=True)]
    factor: Annotated[Ratio, Output("Curvature factor", "k", detail=True)]
    mean_diameter: Annotated[Metres, Output("Mean coil diameter", "D", "mm", detail=True)]
    total_coils: Annotated[float, Output("Total coils", "n_t", detail=True)]
    force_solid: Annotated[Newtons, Output("Force at solid", "F_c", "N", detail=True)]
    reserve: Annotated[Metres, Output("Least sum of gaps between coils at the load", "S_a", "mm", 3, detail=True)]
    flags: tuple[str, ...]


def _remarks(result: CoilSpring, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = []
    if not 4 <= result.spring_index <= 12:
        remarks.append(
            Remark(
                "The index D/d is usually 4 to 12: below, the wire is hard to coil; above, the spring is limp and tangles.",
                "caution",
                "spring_index",
            )
        )
    if inputs["active_coils"] < 3:
        remarks.append(
            Remark(
                "With fewer than three active coils the ends are too large a part of the spring for this formula.",
                "caution",
                "active_coils",
            )
        )
    if result.allowed_shear is None:
        remarks.append(
            Remark(
                "No strength check: give the tensile strength of this wire at this diameter, from its certificate or the wire standard.",
                about="allowed_shear",
            )
        )
    else:
        share = result.shear_solid / result.allowed_shear
        remarks.append(
            Remark(
                f"At solid the wire carries {100 * share:.0f} % of what is allowed, which is {100 * inputs['allowable_share']:.0f} % of the tensile strength you gave.",
                about="allowed_shear",
            )
        )
    remarks.append(
        Remark(
            "Springs for motor sport run at 900 to 1200 MPa uncorrected at solid (common practice, no source).",
            about="shear_solid",
        )
    )
    remarks.append(Remark("About a third of its mass moves with the wheel and counts as unsprung.", about="mass"))
    if result.buckling_travel is None:
        remarks.append(Remark("Seated like this the spring is stable at any compression.", about="buckling_travel"))
    return tuple(remarks)


@calculator(
    title="Helical spring from its wire",
    question="What rate, stress and solid length does this coil spring have?",
    example={
        "wire_diameter": "11.5 mm",
        "coil_diameter": "60 mm",
        "measured": "inside",
        "active_coils": "6.5",
        "free_length": "200 mm",
        "load": "2800 N",
        "tensile_strength": "1900 MPa",
    },
    working=(
        Step(r"C = \frac{D}{d}", "spring_index"),
        Step(r"R = \frac{G \, d^4}{8 \, D^3 \, n}", "rate"),
        Step(r"L_c = n_t \, d", "solid_length"),
        Step(r"F_c = R \, (L_0 - L_c)", "force_solid"),
        Step(r"\tau_c = \frac{8 \, F_c \, D}{\pi \, d^3}", "shear_solid"),
        Step(r"\tau_k = k \, \frac{8 \, F \, D}{\pi \, d^3}", "shear_load"),
        Step(r"f_e = \frac{d}{2 \pi \, n \, D^2} \sqrt{\frac{G}{2 \rho}}", "surge"),
    ),
    remarks=_remarks,
    figures=figures,
)
def coil_spring(
    *,
    wire_diameter: WireDiameter,
    coil_diameter: Annotated[Metres, Input("Coil diameter", "D", "mm", above=0, typical=(0.04, 0.16))],
    measured: Measured = "mean",
    active_coils: ActiveCoils,
    free_length: Annotated[Metres, Input("Free length", "L_0", "mm", above=0, typical=(0.05, 0.5))],
    load: Annotated[Newtons, Input("Greatest working load", "F", "N", at_least=0, typical=(0, 15000))] = 0.0,
    ends: Annotated[Ends, Choice("Ends", END_WORDS)] = "closed_ground",
    forming: Annotated[Literal["cold", "hot"], Choice("Wound", {"cold": "cold", "hot": "hot"})] = "cold",
    duty: Annotated[
        Literal["static", "cyclic"],
        Choice(
            "Stress that is compared",
            {"static": "uncorrected, for rest and few blocks", "cyclic": "corrected for curvature, for many cycles"},
        ),
    ] = "static",
    tensile_strength: Annotated[
        Pascals | None,
        Input(
            "Tensile strength of the wire",
            "R_m",
            "MPa",
            above=0,
            typical=(1000e6, 2300e6),
            help="At this diameter, from its certificate or the wire standard.",
        ),
    ] = None,
    allowable_share: Annotated[
        Ratio,
        Input(
            "Share of the tensile strength allowed in shear",
            "s_t",
            "%",
            above=0,
            at_most=1,
            typical=(0.4, 0.65),
            help="56 % at solid for cold-wound springs not set: EN 13906-1 (from memory).",
        ),
    ] = 0.56,
    curvature: Annotated[Curvature, Choice("Curvature factor", CURVATURE_WORDS)] = "bergstrasser",
    seating: Seating = "plates",
    shear_modulus: ShearModulus = STEEL_SHEAR,
    youngs_modulus: YoungsModulus = STEEL_YOUNG,
    density: Density = STEEL_DENSITY,
) -> CoilSpring:
    """Return rate, stresses, lengths, stability, surge and mass of a helical compression spring of round wire.

    Equation: R = G d^4 / (8 D^3 n);  tau = 8 F D / (pi d^3);  L_c = n_t d, one d more where the ends are not ground;
    s_k = L_0 C1 (1 - sqrt(1 - C2 / (nu L_0 / D)^2)), C1 = E / (2 (E - G)), C2 = 2 pi^2 (E - G) / (2 G + E).
    Valid for: round wire, index 4 to 20, at least two active coils, pitch angle below 8 degrees, 30 to 70 % of the travel; end coils stiffen above.
    Caution: a static check only: a spring that works many millions of times needs the fatigue diagram of its wire. A spring under load can kill: use a compressor made for it.
    Source: EN 13906-1 for rate, stress, reserve, growth and the 56 % (from memory); buckling after Wahl, Mechanical Springs (from memory); Shigley for the ends (from memory).

    >>> spring = coil_spring(wire_diameter=0.011, coil_diameter=0.055, active_coils=5, free_length=0.15, shear_modulus=81.37e9)
    >>> round(spring.rate / 1000, 3), spring.total_coils
    (179.014, 7.0)
    """
    mean = coil_diameter + {"mean": 0.0, "inside": wire_diameter, "outside": -wire_diameter}[measured]
    coil = Coil(wire_diameter, mean, active_coils, shear_modulus, ends, 1.5 if forming == "hot" else 2.0)
    _check(coil, coil_diameter, free_length, youngs_modulus)
    to_solid = free_length - coil.solid_length
    force_solid = coil.rate * to_solid
    factor = curvature_factor(coil.spring_index, curvature)
    compared = factor if duty == "cyclic" else 1.0
    allowed = None if tensile_strength is None else allowable_share * tensile_strength
    buckles = buckling(youngs_modulus, shear_modulus).travel(free_length, mean, _SEATING[seating])
    result = CoilSpring(
        rate=coil.rate,
        solid_length=coil.solid_length,
        travel_to_solid=to_solid,
        deflection=min(load / coil.rate, to_solid),
        shear_solid=coil.shear(force_solid),
        shear_load=factor * coil.shear(load),
        allowed_shear=allowed,
        allowed_force=None if allowed is None else coil.force_at(allowed / compared),
        buckling_travel=buckles,
        surge=coil.surge(density),
        mass=coil.mass(free_length, density),
        growth=coil.growth(free_length),
        spring_index=coil.spring_index,
        factor=factor,
        mean_diameter=mean,
        total_coils=coil.total_coils,
        force_solid=force_solid,
        reserve=coil.reserve(cyclic=duty == "cyclic", hot=forming == "hot"),
        flags=(),
    )
    return result._replace(flags=_flags(result, load, compared))


def _check(coil: Coil, given: float, free_length: float, youngs_modulus: float) -> None:
    if coil.spring_index <= 1:
        raise Refused(
            "coil_diameter",
            "must leave a mean diameter greater than the wire",
            quantity(given, "mm"),
            hint="The index D/d is 4 to 12 on usual springs.",
        )
    if free_length <= coil.solid_length:
        raise Refused(
            "free_length",
            f"must be greater than the solid length, {quantity(coil.solid_length, 'mm')}",
            quantity(free_length, "mm"),
        )
    if youngs_modulus <= coil.G:
        raise Refused("youngs_modulus", "must be greater than the shear modulus", quantity(youngs_modulus, "GPa"))


def _flags(result: CoilSpring, load: float, compared: float) -> tuple[str, ...]:
    flags = []
    if load > result.force_solid:
        flags.append(
            f"Coil bind: the load is above the {quantity(result.force_solid, 'N')} at which all coils touch; no spring rate holds there."
        )
    elif result.travel_to_solid - result.deflection < result.reserve:
        flags.append(
            f"At the load less than {quantity(result.reserve, 'mm', 3)} is left between the coils, the reserve of EN 13906-1: they may touch."
        )
    if result.allowed_shear is not None and compared * result.shear_solid > result.allowed_shear:
        flags.append("At solid the stress is above what is allowed: blocked once, the spring may take a set or break.")
    if result.buckling_travel is not None and result.buckling_travel < result.travel_to_solid:
        flags.append(
            f"It bows out at {quantity(result.buckling_travel, 'mm', 3)} of compression, before it is solid: guide it, seat it square or take it shorter."
        )
    return tuple(flags)

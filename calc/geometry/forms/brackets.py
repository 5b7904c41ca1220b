"""A bolt in a bracket, a rod end, a link in compression: is it strong enough?"""

from collections.abc import Mapping
from math import pi
from typing import Annotated, Any, Literal, NamedTuple

from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.geometry.fasteners import bolt_stress, buckling_load, equivalent_stress, tube_area, tube_inertia
from calc.refusal import Refused
from calc.units import Metres, Newtons, Pascals, Radians, Ratio

Force = Annotated[
    Newtons, Input("Force, worst case with its impact", "F", "N", above=0, at_most=1e6, typical=(500, 30000))
]
Yield = Annotated[
    Pascals,
    Input(
        "Yield strength of the bolt",
        "R_e",
        "MPa",
        above=0,
        at_most=3e9,
        typical=(240e6, 1100e6),
        help="640 MPa for strength class 8.8, 940 for 10.9, from the class's own numbers.",
    ),
]


class Bolt(NamedTuple):
    """Stresses and reserve of a bolt in a bracket."""

    reserve: Annotated[Ratio, Output("Reserve of the bolt against yield, bending included", "n", "", 3)]
    shear: Annotated[Pascals, Output("Shear in the bolt", r"\tau", "MPa", 3)]
    bending: Annotated[Pascals, Output("Bending in the bolt", r"\sigma_b", "MPa", 3)]
    bearing: Annotated[Pascals, Output("Bearing pressure in the plate", r"\sigma_l", "MPa", 3)]
    tear_out: Annotated[Pascals, Output("Shear in the plate towards its edge", r"\tau_p", "MPa", 3)]


def _bolt_remarks(result: Bolt, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    said = []
    if result.reserve < 2:
        said.append(
            Remark(
                "Less than 2 in reserve: not enough for a suspension bolt, which sees impacts and fatigue. Thicker, shorter, or in double shear.",
                "caution",
                "reserve",
            )
        )
    if inputs["shear"] == "single":
        said.append(
            Remark(
                "In single shear the bracket twists and the bolt bends: a plate on the other side carries several times more for little weight.",
                "caution",
                "shear",
            )
        )
    return tuple(said)


@calculator(
    title="A bolt in a bracket: single and double shear",
    question="Is this bolt strong enough in its bracket?",
    example={
        "force": "9000 N",
        "diameter": "12 mm",
        "shear": "double",
        "plate": "4 mm",
        "edge": "20 mm",
        "gap": "18 mm",
        "yield_strength": "640 MPa",
    },
    working=(
        Step(r"\tau = \frac{F}{n\,A}", "shear"),
        Step(r"\sigma_b = \frac{32\,M}{\pi d^3},\quad M = F g \ \text{or}\ \tfrac{F g}{4}", "bending"),
        Step(r"n = \frac{R_e}{\sqrt{\sigma_b^2 + 3\tau^2}}", "reserve"),
    ),
    remarks=_bolt_remarks,
)
def bolt_in_bracket(
    *,
    force: Force,
    diameter: Annotated[
        Metres,
        Input("Bolt diameter (shank in the shear plane)", "d", "mm", above=0, at_most=0.1, typical=(0.006, 0.016)),
    ],
    shear: Annotated[
        Literal["single", "double"],
        Choice("Held", {"single": "on one side (single shear)", "double": "on both sides (double shear)"}),
    ] = "double",
    plate: Annotated[Metres, Input("Thickness of each plate", "t", "mm", above=0, at_most=0.1, typical=(0.002, 0.01))],
    edge: Annotated[
        Metres, Input("Hole centre to the plate's edge", "e", "mm", above=0, at_most=0.5, typical=(0.012, 0.04))
    ],
    gap: Annotated[
        Metres,
        Input(
            "Single: force stands off the plate by. Double: plates apart by",
            "g",
            "mm",
            at_least=0,
            at_most=0.5,
            typical=(0, 0.06),
        ),
    ] = 0.0,
    yield_strength: Yield,
) -> Bolt:
    """Return shear, bending, bearing and tear-out of a bolt in a bracket, and its reserve against yield.

    Equation: shear = F / (n A); bending = 32 M / (pi d^3) with M = F g (one side) or F g / 4 (both sides, force in the middle);
    bearing = F / (n d t); tear-out = F / (2 n t (e - d/2)); reserve = R_e / sqrt(bending^2 + 3 shear^2).
    Valid for: steady force across the bolt, shank in the shear plane, no help from clamping friction: the careful side.
    Caution: threads in the shear plane, fatigue and welds are not in this. Suspension bolts want a reserve of 2 or more on the worst impact.
    Source: elementary strength of materials, von Mises; factors are common practice, no source.

    >>> answer = bolt_in_bracket(force=9000, diameter=0.012, plate=0.004, edge=0.02, yield_strength=640e6)
    >>> round(answer.shear / 1e6, 2), round(answer.bearing / 1e6, 2)
    (39.79, 93.75)
    """
    if edge <= diameter:
        raise Refused(
            "edge",
            "must be greater than the bolt's diameter",
            f"{1000 * edge:g} mm",
            label="Hole centre to the plate's edge",
        )
    found = bolt_stress(force, diameter, 1 if shear == "single" else 2, plate, edge, gap)
    return Bolt(
        yield_strength / equivalent_stress(found.shear, found.bending),
        found.shear,
        found.bending,
        found.bearing,
        found.tear_out,
    )


class RodEnd(NamedTuple):
    """Reserve of a rod end against its static rating, and the bending it must not have."""

    reserve: Annotated[Ratio, Output("Reserve against the static radial rating", "n", "", 3)]
    shank_bending: Annotated[Pascals, Output("Bending in its shank", r"\sigma_b", "MPa", 3)]
    angle_left: Annotated[Ratio, Output("Share of its misalignment angle used", "", "%", 3)]


def _rod_remarks(result: RodEnd, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    said = []
    if result.reserve < 2:
        said.append(
            Remark("Less than 2 in reserve: impacts will knock the race out of the housing.", "caution", "reserve")
        )
    if inputs["offset"] > 0:
        said.append(
            Remark(
                "A rod end in bending breaks at the first thread, without warning. Do not load it across its shank: redesign.",
                "caution",
                "shank_bending",
            )
        )
    if result.angle_left > 0.9:
        said.append(
            Remark(
                "It is close to its misalignment limit: at the stop it becomes a lever and breaks its shank.",
                "caution",
                "angle_left",
            )
        )
    return tuple(said)


@calculator(
    title="Rod end: radial load, bending, angle",
    question="Is this rod end big enough, and is it loaded the way it likes?",
    example={
        "force": "9000 N",
        "rating": "24000 N",
        "shank": "12 mm",
        "offset": "0 mm",
        "angle": "9 deg",
        "allowed": "13 deg",
    },
    working=(Step(r"n = \frac{C_0}{F}", "reserve"), Step(r"\sigma_b = \frac{32\,F\,o}{\pi d^3}", "shank_bending")),
    remarks=_rod_remarks,
)
def rod_end(
    *,
    force: Force,
    rating: Annotated[
        Newtons,
        Input("Static radial rating from its data sheet", "C_0", "N", above=0, at_most=1e7, typical=(8000, 120000)),
    ],
    shank: Annotated[
        Metres, Input("Core diameter of its thread", "d", "mm", above=0, at_most=0.1, typical=(0.005, 0.018))
    ],
    offset: Annotated[
        Metres,
        Input(
            "Force acts beside the shank's axis by",
            "o",
            "mm",
            at_least=0,
            at_most=0.5,
            typical=(0, 0),
            help="0 where the link pulls straight through it, as it should.",
        ),
    ] = 0.0,
    angle: Annotated[
        Radians,
        Input("Angle it swings to in travel and lock", r"\alpha", "°", at_least=0, at_most=1, typical=(0, 0.25)),
    ] = 0.0,
    allowed: Annotated[
        Radians, Input("Misalignment it allows", r"\alpha_0", "°", above=0, at_most=1, typical=(0.1, 0.4))
    ] = 0.2,
) -> RodEnd:
    """Return the reserve of a rod end, the bending of its shank and how much of its angle is used.

    Equation: reserve = C_0 / F; bending = 32 F o / (pi d^3); share of angle = angle / allowed angle.
    Valid for: radial load along the link; axial load on the ball is allowed to about a tenth of the radial rating, common practice, no source.
    Caution: never in bending, retained by a washer wider than the housing's bore, checked for play at every event.
    Source: elementary strength of materials; a factor of 2 or more for impact is common practice, no source.

    >>> round(rod_end(force=9000, rating=24000, shank=0.0102).reserve, 3)
    2.667
    """
    return RodEnd(rating / force, 32 * force * offset / (pi * shank**3), angle / allowed)


class Buckling(NamedTuple):
    """Reserve of a link in compression against buckling and yield."""

    reserve: Annotated[Ratio, Output("Reserve against buckling", "n_k", "", 3)]
    buckling: Annotated[Newtons, Output("Buckling load", "F_k", "N", 4)]
    stress: Annotated[Pascals, Output("Compression stress", r"\sigma", "MPa", 3)]


def _buckling_remarks(result: Buckling, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    if result.reserve < 2.5:
        return (
            Remark(
                "A reserve of 2 to 3 is usual for a straight link; a bent one, or one with its joints off its axis, has no such load at all.",
                "caution",
                "reserve",
            ),
        )
    return ()


@calculator(
    title="A link in compression: buckling",
    question="Does this link buckle?",
    example={"force": "6000 N", "length": "480 mm", "outer": "22 mm", "wall": "1.6 mm", "modulus": "205 GPa"},
    working=(Step(r"F_k = \frac{\pi^2 E I}{L^2}", "buckling"), Step(r"n_k = \frac{F_k}{F}", "reserve")),
    remarks=_buckling_remarks,
)
def link_buckling(
    *,
    force: Force,
    length: Annotated[Metres, Input("Length, joint to joint", "L", "mm", above=0, at_most=5, typical=(0.15, 0.8))],
    outer: Annotated[Metres, Input("Outer diameter", "d", "mm", above=0, at_most=0.3, typical=(0.012, 0.04))],
    wall: Annotated[
        Metres,
        Input(
            "Wall thickness",
            "t",
            "mm",
            above=0,
            at_most=0.15,
            typical=(0.001, 0.004),
            help="Half the diameter for a solid bar.",
        ),
    ],
    modulus: Annotated[
        Pascals, Input("Modulus of elasticity", "E", "GPa", above=0, at_most=1e12, typical=(69e9, 210e9))
    ] = 205e9,
) -> Buckling:
    """Return the buckling load of a straight tube with a joint at each end.

    Equation: F_k = pi^2 E I / L^2, I = pi/64 (d^4 - (d - 2t)^4).
    Valid for: slender straight links loaded through their axis; short ones yield first: look at the stress as well.
    Caution: a reserve of 2 to 3 on the worst impact; heat from welding softens tube beside the weld.
    Source: Euler's column, elementary strength of materials; factors are common practice, no source.

    >>> round(link_buckling(force=6000, length=0.5, outer=0.02, wall=0.01).buckling)
    63563
    """
    if 2 * wall > outer:
        raise Refused("wall", "must be at most half the outer diameter", f"{1000 * wall:g} mm", label="Wall thickness")
    most = buckling_load(modulus, tube_inertia(outer, wall), length)
    return Buckling(most / force, most, force / tube_area(outer, wall))

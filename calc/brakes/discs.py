"""Discs and pads: where the friction acts, where the piston belongs, and the pressure on a pad."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.brakes.care import with_care
from calc.brakes.terms import PadFriction
from calc.figures.spec import Drawing, Figure, Shape
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.units import Metres, NewtonMetres, Newtons, Pascals, Radians, Ratio, SquareMetres

InnerRadius = Annotated[
    Metres, Input("Inner radius of the pad track", "r_i", "mm", above=0, at_most=0.5, typical=(0.06, 0.14))
]
OuterRadius = Annotated[
    Metres, Input("Outer radius of the pad track", "r_o", "mm", above=0, at_most=0.5, typical=(0.1, 0.2))
]
PadAngle = Annotated[
    Radians,
    Input("Angle of the pad, seen from the axle", r"\theta", "°", above=0, at_most=2 * math.pi, typical=(0.6, 2.0)),
]


def uniform_wear(inner: float, outer: float) -> float:
    """Return the friction radius of a bedded pad: the mean radius.

    >>> round(uniform_wear(0.105, 0.16), 6)
    0.1325
    """
    return (inner + outer) / 2


def uniform_pressure(inner: float, outer: float) -> float:
    """Return the friction radius under even pressure, written so that thin tracks lose no digits.

    >>> round(uniform_pressure(0.105, 0.16), 10)
    0.1344025157
    """
    return 2 / 3 * (inner**2 + inner * outer + outer**2) / (inner + outer)


def chord_ratio(angle: float) -> float:
    """Return sin(theta/2)/(theta/2): how far inside its radius the resultant of a sector lies."""
    return math.sin(angle / 2) / (angle / 2)


def require_track(inner: float, outer: float) -> None:
    """Refuse an inner radius that is not inside the outer one."""
    if inner >= outer:
        raise Refused(
            "inner_radius",
            f"must be less than the outer radius of {1e3 * outer:g} mm",
            f"{1e3 * inner:g} mm",
            label="Inner radius of the pad track",
        )


class EffectiveRadius(NamedTuple):
    """The radius of the friction both ways, and the radius where the pistons belong."""

    effective_radius: Annotated[Metres, Output("Effective radius of a bedded pad (uniform wear)", "r_e", "mm")]
    new_radius: Annotated[Metres, Output("Effective radius under uniform pressure", "r_p", "mm")]
    difference: Annotated[Ratio, Output("Uniform pressure above uniform wear", "", "%", 3)]
    piston_radius: Annotated[Metres, Output("Radius for the centre line of the pistons", "r_n", "mm")]
    friction_at_piston: Annotated[
        Metres | None, Output("Friction radius of a new pad with the pistons where they are", "r_x", "mm")
    ]
    of_diameter: Annotated[Ratio, Output("Effective radius over the diameter of the track", "", "", 3, detail=True)]


def _remarks(result: EffectiveRadius, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark("Use uniform wear once pads are bedded; a new pad may start a little higher.", about="effective_radius"),
        Remark(
            "The pistons belong at the resultant of the pressure, which lies inside the friction radius: there the pad wears square.",
            about="piston_radius",
        ),
    )


def _figures(result: EffectiveRadius, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    inner, outer, half = inputs["inner_radius"], inputs["outer_radius"], inputs["pad_angle"] / 2

    def arc(radius: float, steps: int = 16) -> list[tuple[float, float]]:
        angles = [math.pi / 2 + half * (1 - 2 * i / steps) for i in range(steps + 1)]
        return [(radius * math.cos(a), radius * math.sin(a)) for a in angles]

    return (
        Drawing(
            "Pad on its disc",
            "The pad as a sector of the disc, the circle of the friction radius, and the place of the pistons.",
            ("along the pad", "out from the axle"),
            (
                Shape("circle", ((0.0, 0.0),), "body", radius=outer),
                Shape("polygon", (*arc(outer), *reversed(arc(inner))), "wheel"),
                Shape("line", tuple(arc(result.effective_radius)), "construction"),
                Shape("point", ((0.0, result.effective_radius),), "result", "friction"),
                Shape("point", ((0.0, result.piston_radius),), "force", "pistons"),
            ),
        ),
    )


@calculator(
    title="Effective radius of a disc",
    question="At what radius does the friction act, and where do the pistons belong?",
    example={"inner_radius": "105 mm", "outer_radius": "151 mm", "pad_angle": "55 deg"},
    working=(
        Step(r"r_e = \frac{r_i + r_o}{2}", "effective_radius"),
        Step(r"r_p = \frac{2}{3} \, \frac{{r_o}^3 - {r_i}^3}{{r_o}^2 - {r_i}^2}", "new_radius"),
        Step(r"r_n = r_e \, \frac{\sin(\theta/2)}{\theta/2}", "piston_radius"),
    ),
    remarks=with_care(_remarks),
    figures=_figures,
)
def effective_radius(
    *,
    inner_radius: InnerRadius,
    outer_radius: OuterRadius,
    pad_angle: PadAngle = math.pi / 3,
    piston_radius: Annotated[
        Metres | None, Input("Radius of the piston centre line, as built", "r_c", "mm", above=0, at_most=0.5)
    ] = None,
) -> EffectiveRadius:
    """Return the friction radius of a pad both ways, and the radius where its pistons belong.

    Equation: uniform wear r_e = (r_i + r_o)/2;  uniform pressure r_p = (2/3)(r_o^3 - r_i^3)/(r_o^2 - r_i^2);
    normal force at r_n = r_e sin(theta/2)/(theta/2), so pistons at r_c make a new pad rub at r_c / (sin(theta/2)/(theta/2)).
    Valid for: pads shaped as a sector of a ring. The two radii differ by less than 2 % for r_i/r_o of 0.61 and more.
    Source: J. E. Shigley, Mechanical Engineering Design, disc brakes (from memory); derived.

    >>> round(effective_radius(inner_radius=0.1, outer_radius=0.14, pad_angle=1.919862).piston_radius, 5)
    0.1024
    """
    require_track(inner_radius, outer_radius)
    wear, even, chord = (
        uniform_wear(inner_radius, outer_radius),
        uniform_pressure(inner_radius, outer_radius),
        chord_ratio(pad_angle),
    )
    at_piston = None if piston_radius is None or chord < 1e-3 else piston_radius / chord
    return EffectiveRadius(wear, even, even / wear - 1, wear * chord, at_piston, wear / (2 * outer_radius))


class PadPressure(NamedTuple):
    """Force on a pad, its highest pressure, its torque, and the line pressure."""

    max_pressure: Annotated[Pascals, Output("Highest pressure on the pad", "p_{max}", "MPa")]
    mean_pressure: Annotated[Pascals, Output("Mean pressure on the pad", "p_m", "MPa")]
    clamp: Annotated[Newtons, Output("Force on one pad", "F", "N")]
    torque: Annotated[NewtonMetres, Output("Torque of two pads", "T", "N·m")]
    face_torque: Annotated[NewtonMetres, Output("Torque of one pad", "T_1", "N·m")]
    line_pressure: Annotated[Pascals | None, Output("Line pressure", "p", "bar")]
    effective_radius: Annotated[Metres, Output("Effective radius", "r_e", "mm", detail=True)]
    resultant_radius: Annotated[Metres, Output("Radius of the resultant normal force", "r_n", "mm", detail=True)]
    pad_area: Annotated[SquareMetres, Output("Area of one pad", "A_p", "cm²", detail=True)]


def _pad_remarks(result: PadPressure, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    if result.mean_pressure > 8e6:
        return (
            Remark(
                "More than 8 MPa on a pad is beyond common practice (3 to 8 MPa): use a larger pad.",
                "caution",
                "mean_pressure",
            ),
        )
    return ()


@calculator(
    title="Pressure on a pad",
    question="What pressure does a pad see for a torque, a force or a pressure limit?",
    example={
        "given": "torque",
        "value_torque": "1250 N·m",
        "inner_radius": "105 mm",
        "outer_radius": "151 mm",
        "pad_angle": "55 deg",
        "friction": "0.45",
        "piston_area": "22.8 cm²",
    },
    working=(
        Step(r"r_e = \frac{r_i + r_o}{2}", "effective_radius"),
        Step(r"F = \theta \, p_{max} \, r_i \, (r_o - r_i)", "clamp"),
        Step(r"T_1 = \mu \, F \, r_e", "face_torque"),
        Step(r"T = 2 \, T_1", "torque"),
        Step(r"p = \frac{F}{a}", "line_pressure"),
    ),
    remarks=with_care(_pad_remarks),
)
def pad_pressure(
    *,
    given: Annotated[
        Literal["torque", "clamp", "pressure"],
        Choice(
            "What is known",
            {"torque": "torque of two pads", "clamp": "force on one pad", "pressure": "highest pressure on the pad"},
        ),
    ],
    value_torque: Annotated[NewtonMetres | None, Input("Torque of two pads", "T", "N·m", above=0, at_most=1e5)] = None,
    value_clamp: Annotated[Newtons | None, Input("Force on one pad", "F", "N", above=0, at_most=1e6)] = None,
    value_pressure: Annotated[
        Pascals | None, Input("Highest pressure on the pad", "p_{max}", "MPa", above=0, at_most=1e8)
    ] = None,
    inner_radius: InnerRadius,
    outer_radius: OuterRadius,
    pad_angle: PadAngle,
    friction: PadFriction,
    piston_area: Annotated[
        SquareMetres | None, Input("Piston area on one side of the caliper", "a", "cm²", above=0, at_most=0.02)
    ] = None,
) -> PadPressure:
    """Return force, pressure and torque of sector pads under uniform wear, from any one of them.

    Equation: F = theta p_max r_i (r_o - r_i), one pad;  T_1 = mu F r_e;  two pads T = 2 T_1;  line pressure F / a.
    Valid for: bedded pads (uniform wear: pressure falls with radius, highest at the inner edge).
    Caution: torque of one pad and of the pair are easily confused; both are given.
    Source: J. E. Shigley, Mechanical Engineering Design, example 16-3 (from memory); A. C. Ugural, Mechanical Engineering Design, example 13.6.

    >>> round(pad_pressure(given="clamp", value_clamp=5e3, inner_radius=0.1, outer_radius=0.14, pad_angle=1.0, friction=0.4).torque, 3)
    480.0
    """
    require_track(inner_radius, outer_radius)
    radius = uniform_wear(inner_radius, outer_radius)
    spread = pad_angle * inner_radius * (outer_radius - inner_radius)
    values = {"torque": value_torque, "clamp": value_clamp, "pressure": value_pressure}
    known = values[given]
    if known is None:
        raise Refused(f"value_{given}", "is needed")
    clamp = {"torque": known / (2 * friction * radius), "clamp": known, "pressure": known * spread}[given]
    area = pad_angle * (outer_radius**2 - inner_radius**2) / 2
    face = friction * clamp * radius
    return PadPressure(
        max_pressure=clamp / spread,
        mean_pressure=clamp / area,
        clamp=clamp,
        torque=2 * face,
        face_torque=face,
        line_pressure=None if piston_area is None else clamp / piston_area,
        effective_radius=radius,
        resultant_radius=radius * chord_ratio(pad_angle),
        pad_area=area,
    )

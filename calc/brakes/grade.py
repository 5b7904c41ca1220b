"""Stopping on a grade."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.brakes.axles import Axles
from calc.brakes.care import with_care
from calc.brakes.terms import Gravity, Speed
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.terms import CgHeight, FrontShare, TyreAdhesion, Wheelbase
from calc.units import (
    STANDARD_GRAVITY,
    Metres,
    MetresPerSecondSquared,
    Radians,
    Ratio,
    Seconds,
)


class GradeStop(NamedTuple):
    """Stop at the limit of grip on a slope."""

    deceleration: Annotated[MetresPerSecondSquared, Output("Deceleration at the limit of grip", "d", "g", 4)]
    distance: Annotated[Metres, Output("Braking distance", "s", "m")]
    time: Annotated[Seconds, Output("Braking time", "t", "s", 3)]
    ideal_share: Annotated[Ratio, Output("Ideal front share at the limit", r"\varphi_i", "%")]
    level_distance: Annotated[Metres, Output("Distance on the level", "s_0", "m")]
    flags: tuple[str, ...]


def _grade_remarks(result: GradeStop, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            "The ideal share at the limit does not depend on the slope: the balance set on the level holds on the hill.",
            about="ideal_share",
        ),
    )


def _figures(result: GradeStop, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    steepest = 0.6 * math.atan(inputs["adhesion"])
    angles = [steepest * (i / 10 - 1) for i in range(21)]
    rates = [inputs["gravity"] * (inputs["adhesion"] * math.cos(a) + math.sin(a)) for a in angles]
    return (
        Chart(
            "Braking distance over the slope",
            "Uphill to the right. Downhill the distance grows ever faster until grip no longer holds the car.",
            Axis("Angle of the road", "°"),
            Axis("Braking distance", "m"),
            (
                Series("Distance", angles, [inputs["speed"] ** 2 / (2 * d) for d in rates]),
                Series("Here", [inputs["angle"]], [result.distance], points=True),
            ),
        ),
    )


@calculator(
    title="Stopping on a grade",
    question="How does a hill lengthen or shorten a stop?",
    example={
        "angle": "-7 deg",
        "speed": "80 km/h",
        "adhesion": "1.0",
        "wheelbase": "2560 mm",
        "front_share": "52.6 %",
        "cg_height": "480 mm",
    },
    working=(
        Step(r"d = g \, (\mu_t \cos\theta + \sin\theta)", "deceleration"),
        Step(r"s = \frac{v^2}{2 \, d}", "distance"),
        Step(r"\varphi_i = \frac{b + \mu_t \, h}{L}", "ideal_share"),
    ),
    remarks=with_care(_grade_remarks),
    figures=_figures,
)
def grade_stop(
    *,
    angle: Annotated[
        Radians,
        Input(
            "Angle of the road, uphill positive",
            r"\theta",
            "°",
            above=-1.4,
            below=1.4,
            typical=(-0.25, 0.25),
            help="10 % is 5.7°.",
        ),
    ],
    speed: Speed,
    adhesion: TyreAdhesion,
    wheelbase: Wheelbase,
    front_share: FrontShare,
    cg_height: CgHeight,
    gravity: Gravity = STANDARD_GRAVITY,
) -> GradeStop:
    """Return deceleration and distance at the limit of grip on a slope.

    Equation: z = mu cos(theta) + sin(theta);  s = v^2 / (2 g z);  ideal share (b + mu h)/L.
    Valid for: steady slope, straight line, no aerodynamic load, distance measured along the road.
    Signs: uphill positive; deceleration along the road.
    Caution: downhill with mu cos(theta) at or below the sine the car cannot stop at all.
    Source: statics, derived.

    >>> round(grade_stop(angle=0.2617994, speed=12.5, adhesion=0.6, wheelbase=2.5, front_share=0.5, cg_height=0.5, gravity=9.81).distance, 2)
    9.5
    """
    grip, slope = adhesion * math.cos(angle), math.sin(angle)
    if grip + slope <= 0:
        raise Refused(
            "angle",
            f"must leave grip to stop: this grip holds {math.degrees(math.atan(adhesion)):.1f}° at most",
            f"{math.degrees(angle):.4g}°",
        )
    rate = grip + slope
    axles = Axles(front_share, cg_height / wheelbase)
    ideal = axles.ideal_share(adhesion)
    flags = ("The rear axle lifts at this grip: the formula ends there.",) if ideal >= 1 else ()
    return GradeStop(
        rate * gravity,
        speed**2 / (2 * gravity * rate),
        speed / (gravity * rate),
        min(1.0, ideal),
        speed**2 / (2 * gravity * adhesion),
        flags,
    )

"""Wheel rate: what a spring is worth at the wheel."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.rates import in_series
from calc.refusal import Refused
from calc.terms import LeverRatio, SpringAngle, SpringRate, TyreRate
from calc.units import Newtons, NewtonsPerMetre, PerMetre, Ratio


class WheelRates(NamedTuple):
    """Rates at one wheel. ``motion_ratio`` is spring travel for each unit of wheel travel, the angle included."""

    wheel_rate: Annotated[NewtonsPerMetre, Output("Wheel rate", "k_w", "N/mm")]
    ride_rate: Annotated[NewtonsPerMetre, Output("Ride rate, with the tyre in series", "k_r", "N/mm")]
    motion_ratio: Annotated[Ratio, Output("Motion ratio with the angle", "MR")]
    gradient_part: Annotated[
        NewtonsPerMetre, Output("Part of the wheel rate from the changing motion ratio", "k_g", "N/mm", detail=True)
    ]


def _remarks(result: WheelRates, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    share = result.wheel_rate / inputs["spring_rate"]
    remarks = [
        Remark(
            f"The wheel feels {100 * share:.0f} % of the spring's rate, because the motion ratio counts twice: once for force, once for travel.",
            about="wheel_rate",
        )
    ]
    if result.gradient_part < 0:
        remarks.append(
            Remark("The motion ratio falls in bump: the wheel rate falls with it.", "caution", "motion_ratio_gradient")
        )
    return tuple(remarks)


def _figures(result: WheelRates, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    ratios = [0.3 + 0.04 * i for i in range(21)]
    rate = inputs["spring_rate"]
    here = result.motion_ratio
    return (
        Chart(
            "Wheel rate against motion ratio",
            "The wheel rate grows with the square of the motion ratio; the ride rate stays below it because the tyre gives too.",
            Axis("Motion ratio", ""),
            Axis("Rate at the wheel", "N/mm"),
            (
                Series("Wheel rate", ratios, [rate * r * r for r in ratios]),
                Series("With the tyre", ratios, [in_series(rate * r * r, inputs["tyre_rate"]) for r in ratios]),
                Series("Here", [here], [rate * here**2], points=True),
            ),
        ),
    )


@calculator(
    title="Wheel rate",
    question="How stiff is this spring at the wheel?",
    example={"spring_rate": "60 N/mm", "lever_ratio": "0.96", "spring_angle": "12 deg", "tyre_rate": "210 N/mm"},
    working=(
        Step(r"MR = r \cos \alpha", "motion_ratio"),
        Step(r"k_g = F_s \, r'", "gradient_part"),
        Step(r"k_w = k_s \, {MR}^2 + k_g + k_b", "wheel_rate"),
        Step(r"k_r = \frac{k_w \, k_t}{k_w + k_t}", "ride_rate"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def wheel_rate(
    *,
    spring_rate: SpringRate,
    lever_ratio: LeverRatio,
    spring_angle: SpringAngle = 0.0,
    tyre_rate: TyreRate,
    spring_force: Annotated[
        Newtons,
        Input(
            "Force in the spring now",
            "F_s",
            "N",
            at_least=0,
            typical=(0, 8000),
            help="Only matters where the motion ratio changes.",
        ),
    ] = 0.0,
    motion_ratio_gradient: Annotated[
        PerMetre,
        Input(
            "Change of the motion ratio for each metre of bump",
            "r'",
            "1/m",
            typical=(-3, 3),
            help="0 if unknown. Positive: the ratio rises in bump.",
        ),
    ] = 0.0,
    bush_rate: Annotated[
        NewtonsPerMetre,
        Input(
            "Rate of the bushes at the wheel",
            "k_b",
            "N/mm",
            at_least=0,
            typical=(0, 10e3),
            help="0 for spherical joints. With the spring out, the force that moves the wheel.",
        ),
    ] = 0.0,
) -> WheelRates:
    """Return the wheel rate of one spring, and the ride rate with the tyre in series.

    Equation: MR = r cos(alpha);  k_w = k_s MR^2 + F_s dMR/dz + k_bushes;  k_r = k_w k_t / (k_w + k_t).
    Signs: the motion ratio is spring travel for each unit of wheel travel, below 1 on most cars; bump is positive.
    Valid for: one wheel moving alone, at the position the ratio was measured; rubber bushes give 5 to 20 % of the wheel rate on road cars.
    Caution: a ratio measured on the car already holds the angle; do not count the cosine again.
    Source: virtual work; Milliken and Milliken, Race Car Vehicle Dynamics, 1995, chapter 16 (from memory).

    >>> answer = wheel_rate(spring_rate=60000, lever_ratio=0.611416, tyre_rate=200000, spring_force=3200, motion_ratio_gradient=0.43997)
    >>> round(answer.wheel_rate)
    23838
    """
    ratio = lever_ratio * math.cos(spring_angle)
    gradient_part = spring_force * motion_ratio_gradient
    at_wheel = spring_rate * ratio**2 + gradient_part + bush_rate
    if at_wheel <= 0:
        raise Refused(
            "motion_ratio_gradient",
            "must leave a wheel rate above 0",
            f"{motion_ratio_gradient:g} 1/m",
            hint="The falling ratio outweighs the spring.",
        )
    return WheelRates(at_wheel, in_series(at_wheel, tyre_rate), ratio, gradient_part)

"""Valves in the rear line: proportioning, limiting and load-sensing, and what they do to the use of grip."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.brakes.axles import Axles
from calc.brakes.care import with_care
from calc.brakes.terms import FrontPerPressure, RearPerPressure, pressure
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.terms import CarMass, CgHeight, FrontShare, Wheelbase
from calc.units import STANDARD_GRAVITY, MetresPerSecondSquared, Newtons, Pascals, Ratio


def valve_pressure(line: float, knee: float, slope: float) -> float:
    """Return the pressure behind a two-slope valve: the line's own up to the knee, then only a part of what is added.

    >>> valve_pressure(4e6, 3e6, 0.3)
    3300000.0
    """
    return line if line <= knee else knee + slope * (line - knee)


class ValveEffect(NamedTuple):
    """Pressures, braking and grip use with the valve."""

    rear_pressure: Annotated[Pascals, Output("Rear line pressure", "p_r", "bar")]
    deceleration: Annotated[MetresPerSecondSquared, Output("Deceleration", "d", "g", 4)]
    front_share: Annotated[Ratio, Output("Front share of the brake force", r"\varphi", "%")]
    front_use: Annotated[Ratio, Output("Grip the front axle uses", "f_f", "")]
    rear_use: Annotated[Ratio | None, Output("Grip the rear axle uses", "f_r", "")]
    knee: Annotated[Pascals, Output("Pressure at the knee", "p_k", "bar")]
    knee_deceleration: Annotated[MetresPerSecondSquared, Output("Deceleration at the knee", "d_k", "g", 3)]
    front_force: Annotated[Newtons, Output("Front axle brake force", "F_f", "N", detail=True)]
    rear_force: Annotated[Newtons, Output("Rear axle brake force", "F_r", "N", detail=True)]
    flags: tuple[str, ...]


def _at(inputs: Mapping[str, Any], knee: float, front: float) -> tuple[float, float, float]:
    """Return front force, rear force and rear pressure at a front pressure."""
    rear = front if inputs["kind"] == "none" else valve_pressure(front, knee, _slope(inputs))
    return inputs["front_per_pressure"] * front, inputs["rear_per_pressure"] * rear, rear


def _slope(inputs: Mapping[str, Any]) -> float:
    return 0.0 if inputs["kind"] == "limiting" else float(inputs["slope"])


def _remarks(result: ValveEffect, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark(
            "A valve does nothing below its knee: with a balance bar the bar sets the low-pressure share alone. Check both sides of the knee.",
            about="knee",
        )
    ]
    if result.rear_use is not None and result.rear_use > result.front_use:
        remarks.append(
            Remark("The rear axle uses more grip than the front here: it would lock first.", "caution", "rear_use")
        )
    return tuple(remarks)


def _figures(result: ValveEffect, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    axles = Axles(inputs["front_share_static"], inputs["cg_height"] / inputs["wheelbase"])
    weight = inputs["mass"] * STANDARD_GRAVITY
    top = max(1.5 * inputs["front_pressure"], 2 * result.knee, 1e5)
    points = []
    for at in sorted({*(top * i / 30 for i in range(1, 31)), result.knee}):
        front, rear, behind = _at(inputs, result.knee, at)
        rate = (front + rear) / weight
        if 0 < rate < 0.98 * axles.lift:
            share = front / (front + rear)
            points.append((at, behind, rate, axles.front_use(share, rate), axles.rear_use(share, rate)))
    if not points:
        return ()
    lines, behinds, rates, fronts, rears = (list(column) for column in zip(*points, strict=True))
    return (
        Chart(
            "Grip used by each axle",
            "Where the rear curve lies above the front curve the rear locks first; the valve puts a kink in both.",
            Axis("Braking rate, deceleration over g"),
            Axis("Grip used"),
            (Series("Front axle", rates, fronts), Series("Rear axle", rates, rears), Series("Equal use", rates, rates)),
        ),
        Chart(
            "Rear against front line pressure",
            "Equal up to the knee, then on the valve's flatter slope.",
            Axis("Front line pressure", "bar"),
            Axis("Rear line pressure", "bar"),
            (Series("With the valve", lines, behinds), Series("Without", lines, lines)),
        ),
    )


@calculator(
    title="Valve in the rear line",
    question="What does a proportioning or limiting valve do to rear pressure, braking and lock order?",
    example={
        "kind": "proportioning",
        "front_pressure": "60 bar",
        "knee_pressure": "30 bar",
        "slope": "0.3",
        "front_per_pressure": "86 N/bar",
        "rear_per_pressure": "52 N/bar",
        "mass": "1060 kg",
        "wheelbase": "2510 mm",
        "front_share_static": "61 %",
        "cg_height": "520 mm",
    },
    working=(
        Step(r"p_r = p_k + s \, (p_f - p_k)", "rear_pressure"),
        Step(r"F_f = C_f \, p_f", "front_force"),
        Step(r"F_r = C_r \, p_r", "rear_force"),
        Step(r"\varphi = \frac{F_f}{F_f + F_r}", "front_share"),
        Step(r"d = \frac{F_f + F_r}{m}", "deceleration"),
        Step(r"f_f = \frac{\varphi \, z \, L}{b + z \, h}", "front_use"),
        Step(r"f_r = \frac{(1 - \varphi) \, z \, L}{a - z \, h}", "rear_use"),
    ),
    remarks=with_care(_remarks),
    figures=_figures,
)
def brake_valve(
    *,
    kind: Annotated[
        Literal["proportioning", "limiting", "none"],
        Choice(
            "Valve",
            {
                "proportioning": "proportioning: a slope above the knee",
                "limiting": "limiting: flat above the knee",
                "none": "none",
            },
        ),
    ],
    front_pressure: Annotated[Pascals, pressure("Front line pressure", "p_f")],
    knee_pressure: Annotated[Pascals, Input("Pressure at the knee", "p_k", "bar", above=0, at_most=1e8)] = 3e6,
    slope: Annotated[Ratio, Input("Slope above the knee", "s", "", at_least=0, at_most=1, typical=(0.2, 0.45))] = 0.3,
    knee_rise: Annotated[
        Pascals,
        Input(
            "Rise of the knee at this rear compression, load-sensing valve",
            r"\Delta p_k",
            "bar",
            at_least=0,
            at_most=1e8,
        ),
    ] = 0.0,
    front_per_pressure: FrontPerPressure,
    rear_per_pressure: RearPerPressure,
    mass: CarMass,
    wheelbase: Wheelbase,
    front_share_static: FrontShare,
    cg_height: CgHeight,
) -> ValveEffect:
    """Return rear pressure, deceleration, brake balance and grip use with a valve in the rear line.

    Equation: p_r = p up to the knee p_k, then p_k + s (p - p_k), s = 0 for a limiter;  F = C p;  f_f = phi z L/(b + z h), f_r = (1 - phi) z L/(a - z h).
    Valid for: equal pressure before the valve, level road, no aerodynamic load, both axles loaded.
    Caution: a valve that sticks open locks the rear. Do not add one to a balance-bar car without checking both together.
    Source: valve characteristic and moment balance, derived.

    >>> answer = brake_valve(kind="limiting", front_pressure=6e6, knee_pressure=3e6, front_per_pressure=1e-3, rear_per_pressure=8e-4,
    ...     mass=1200, wheelbase=2.5, front_share_static=0.55, cg_height=0.5)
    >>> round(answer.rear_pressure / 1e5, 1)
    30.0
    """
    given = {
        "kind": kind,
        "slope": slope,
        "front_per_pressure": front_per_pressure,
        "rear_per_pressure": rear_per_pressure,
    }
    knee = knee_pressure + knee_rise
    front, rear, behind = _at(given, knee, front_pressure)
    if front_pressure <= 0:
        raise Refused("front_pressure", "must be greater than 0 bar", "0 bar", label="Front line pressure")
    axles, weight = Axles(front_share_static, cg_height / wheelbase), mass * STANDARD_GRAVITY
    rate, share = (front + rear) / weight, front / (front + rear)
    lifted = rate >= axles.lift
    flags = ["The rear axle lifts at this braking rate: its grip use has no meaning."] if lifted else []
    if rate > 1.8:
        flags.append("This deceleration is more than road tyres can hold: the wheels lock before it.")
    return ValveEffect(
        rear_pressure=behind,
        deceleration=rate * STANDARD_GRAVITY,
        front_share=share,
        front_use=share * rate if lifted else axles.front_use(share, rate),
        rear_use=None if lifted else axles.rear_use(share, rate),
        knee=knee,
        knee_deceleration=(front_per_pressure + rear_per_pressure) * knee / mass,
        front_force=front,
        rear_force=rear,
        flags=tuple(flags),
    )

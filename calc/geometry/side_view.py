"""Anti-dive, anti-lift and anti-squat from the side view, in two dimensions: for learning, and for a first look."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.figures.spec import Drawing, Figure, Shape
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.terms import BrakeFrontShare, CgHeight, Wheelbase
from calc.units import Metres, Radians, Ratio

_PARALLEL = 1e-9  # difference of slopes below which the arms meet nowhere
_FARTHEST_DRAWN = 3.0  # m

ArmAngle = Radians


def _angle(which: str, symbol: str) -> Input:
    return Input(
        f"Slope of the {which} arm's pivot line, front end higher is positive",
        symbol,
        "°",
        above=-math.pi / 3,
        below=math.pi / 3,
        typical=(math.radians(-12), math.radians(12)),
    )


class SideViewAnti(NamedTuple):
    """Percent of the load transfer that the linkage holds, and where the side-view instant centre lies.

    ``instant_x`` is measured forward from the contact point, ``instant_z`` up from the ground; both are none when the arms are parallel.
    """

    anti_braking: Annotated[Ratio, Output("Anti-dive (front) or anti-lift (rear) under braking", "A_b", "%", 3)]
    anti_drive: Annotated[
        Ratio, Output("Anti-squat (driven rear) or anti-lift (driven front) under power", "A_d", "%", 3)
    ]
    contact_slope: Annotated[Ratio, Output("Forward motion of the contact point for each unit of bump", "b_C", "", 3)]
    wheel_slope: Annotated[
        Ratio, Output("Forward motion of the wheel centre for each unit of bump", "b_W", "", 3, detail=True)
    ]
    lower_slope: Annotated[
        Ratio, Output("Forward motion of the lower joint for each unit of bump", "b_l", "", 3, detail=True)
    ]
    upper_slope: Annotated[
        Ratio, Output("Forward motion of the upper joint for each unit of bump", "b_u", "", 3, detail=True)
    ]
    swing_arm: Annotated[
        Metres | None,
        Output("Side-view swing arm length, signed: positive when the centre is ahead of the wheel", "x_{ic}", "mm", 4),
    ]
    instant_height: Annotated[Metres | None, Output("Height of the side-view instant centre", "z_{ic}", "mm", 4)]
    brake_part: Annotated[
        Ratio, Output("Brake share of this axle, negative at the rear, where braking lifts", "p", "%", 3, detail=True)
    ]
    brake_slope: Annotated[
        Ratio,
        Output(
            "Slope that the brake acts on: at the contact point, or at the wheel centre if inboard",
            "b",
            "",
            3,
            detail=True,
        ),
    ]
    flags: tuple[str, ...]


def _remarks(result: SideViewAnti, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    what = "anti-dive" if inputs["axle"] == "front" else "anti-lift"
    value = result.anti_braking
    if value < 0:
        return (
            Remark(
                f"Negative {what}: braking works against the springs and the car pitches more than its springs alone would let it.",
                "caution",
                "anti_braking",
            ),
        )
    if value > 0.4:
        return (
            Remark(
                f"Much {what}: the wheel has to move into the bump, ride over kerbs turns harsh and the tyre may chatter under braking.",
                "caution",
                "anti_braking",
            ),
        )
    return (
        Remark(
            f"Within what is usual for {what}, 0 to 40 %. The load transfer itself stays the same; only the pitch is smaller.",
            about="anti_braking",
        ),
    )


def _figures(result: SideViewAnti, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    low, high, radius = inputs["lower_joint_height"], inputs["upper_joint_height"], inputs["wheel_radius"]
    cg = inputs["cg_height"]
    ahead = -1 if inputs["axle"] == "front" else 1  # the other axle lies behind a front wheel, ahead of a rear one
    reach = ahead * min(_FARTHEST_DRAWN, inputs["wheelbase"])
    far = reach if result.swing_arm is None else max(-_FARTHEST_DRAWN, min(_FARTHEST_DRAWN, result.swing_arm))

    def along(height: float, slope: float, x: float) -> tuple[float, float]:
        return x, height - slope * x

    shapes = [
        Shape(
            "line", ((-0.45 if reach > 0 else reach - 0.1, 0.0), (reach + 0.1 if reach > 0 else 0.45, 0.0)), "ground"
        ),
        Shape("circle", ((0.0, radius),), "wheel", radius=radius),
        Shape("line", (along(low, result.lower_slope, -0.3), along(low, result.lower_slope, far)), "construction"),
        Shape("line", (along(high, result.upper_slope, -0.3), along(high, result.upper_slope, far)), "construction"),
        Shape(
            "line", (along(low, result.lower_slope, -0.18), along(low, result.lower_slope, 0.18)), "link", "lower arm"
        ),
        Shape(
            "line", (along(high, result.upper_slope, -0.15), along(high, result.upper_slope, 0.15)), "link", "upper arm"
        ),
        Shape("line", ((0.0, 0.0), (far, -result.contact_slope * far)), "result"),
        Shape("line", ((reach - ahead * 0.05, cg), (reach * 0.75, cg)), "note", "height of the centre of gravity"),
    ]
    if result.swing_arm is not None and abs(result.swing_arm) <= _FARTHEST_DRAWN and result.instant_height is not None:
        shapes.append(Shape("point", ((result.swing_arm, result.instant_height),), "result", "instant centre"))
    text = "Side view: the two arm lines meet at the instant centre; the steeper the line from the contact point to it, the more the arms hold back."
    return (
        Drawing(f"Side view of the {inputs['axle']} wheel", text, ("x forward", "z up"), tuple(shapes), x_to_left=True),
    )


@calculator(
    title="Anti-dive, anti-lift and anti-squat from the side view",
    question="How much of the dive, lift or squat do the arms hold back?",
    example={
        "axle": "front",
        "brakes": "outboard",
        "lower_joint_height": "190 mm",
        "lower_arm_angle": "-1.5 deg",
        "upper_joint_height": "480 mm",
        "upper_arm_angle": "3.5 deg",
        "wheel_radius": "305 mm",
        "wheelbase": "2560 mm",
        "cg_height": "480 mm",
        "front_brake_share": "68 %",
    },
    working=(
        Step(r"b_C = b_l + (b_l - b_u)\,\frac{z_l}{z_u - z_l}", "contact_slope"),
        Step(r"b_W = b_l + (b_l - b_u)\,\frac{z_l - R}{z_u - z_l}", "wheel_slope"),
        Step(r"A_b = \frac{p\,b\,L}{h}", "anti_braking"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def side_view_anti(
    *,
    axle: Annotated[Literal["front", "rear"], Choice("Axle", {"front": "front", "rear": "rear"})],
    brakes: Annotated[
        Literal["outboard", "inboard"], Choice("Brakes", {"outboard": "at the wheel", "inboard": "on the chassis side"})
    ] = "outboard",
    lower_joint_height: Annotated[
        Metres, Input("Height of the lower joint above the ground", "z_l", "mm", above=0, typical=(0.1, 0.35))
    ],
    lower_arm_angle: Annotated[ArmAngle, _angle("lower", r"\beta_l")],
    upper_joint_height: Annotated[
        Metres, Input("Height of the upper joint above the ground", "z_u", "mm", above=0, typical=(0.3, 0.9))
    ],
    upper_arm_angle: Annotated[ArmAngle, _angle("upper", r"\beta_u")],
    wheel_radius: Annotated[Metres, Input("Loaded radius of the wheel", "R", "mm", above=0, typical=(0.25, 0.36))],
    wheelbase: Wheelbase,
    cg_height: CgHeight,
    front_brake_share: BrakeFrontShare,
) -> SideViewAnti:
    """Return the anti-dive or anti-lift of one axle from the side-view slopes of its two arms.

    Equation: b_l = -tan(beta_l), b_u = -tan(beta_u);  b_C = b_l + (b_l - b_u) z_l / (z_u - z_l);  front anti-dive = phi b_C L / h;
    rear anti-lift = -(1 - phi) b_C L / h;  an axle that takes all the drive, its final drive on the
    chassis: anti-squat = -b_W L / h at the rear, anti-lift = b_W L / h at the front.
    Signs: x forward, z up (ISO 8855). An arm's slope is positive when its front pivot is the higher one. b is positive when the point moves forward in bump.
    Valid for: two arms whose joints lie nearly above each other, small travel, torque paths as named; inboard brakes use the wheel centre instead of the contact point.
    Caution: 100 % holds the axle's height only; the load transfer itself is unchanged. Much anti-dive makes the wheel meet bumps harshly.
    Source: virtual work; the same result as Milliken and Milliken, Race Car Vehicle Dynamics, 1995, chapter 17 (from memory).

    >>> answer = side_view_anti(axle="front", lower_joint_height=0.2, lower_arm_angle=0.0, upper_joint_height=0.5, upper_arm_angle=0.05,
    ...     wheel_radius=0.3, wheelbase=2.5, cg_height=0.5, front_brake_share=0.6)
    >>> round(answer.anti_braking, 4), round(answer.swing_arm, 2)
    (0.1001, -5.99)
    """
    spacing = upper_joint_height - lower_joint_height
    if spacing <= 0:
        raise Refused(
            "upper_joint_height",
            "must be greater than the height of the lower joint",
            f"{1000 * upper_joint_height:g} mm",
            label="Height of the upper joint",
        )
    lower, upper = -math.tan(lower_arm_angle), -math.tan(upper_arm_angle)
    contact = _slope_at(0.0, lower, upper, lower_joint_height, spacing)
    centre = _slope_at(wheel_radius, lower, upper, lower_joint_height, spacing)
    braking = contact if brakes == "outboard" else centre
    lever = wheelbase / cg_height
    front = axle == "front"
    part = front_brake_share if front else front_brake_share - 1
    swing = spacing / (upper - lower) if abs(upper - lower) > _PARALLEL else None
    return SideViewAnti(
        anti_braking=part * braking * lever,
        anti_drive=centre * lever if front else -centre * lever,
        contact_slope=contact,
        wheel_slope=centre,
        lower_slope=lower,
        upper_slope=upper,
        swing_arm=swing,
        instant_height=None if swing is None else lower_joint_height - lower * swing,
        brake_part=part,
        brake_slope=braking,
        flags=()
        if swing is not None
        else (
            "The arms are parallel in the side view: their instant centre is at infinity, and the slope alone decides.",
        ),
    )


def _slope_at(height: float, lower: float, upper: float, lower_height: float, spacing: float) -> float:
    """Return the forward motion for each unit of bump of the carrier point at ``height``."""
    return lower + (lower - upper) * (lower_height - height) / spacing

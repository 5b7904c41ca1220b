"""Two wheels of an axle in body roll: camber to the road, roll centre by motion and by force, jacking."""

from collections.abc import Mapping
from math import degrees, radians
from typing import Annotated, Any, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.geometry.forms.examples import DOUBLE_WISHBONE
from calc.geometry.forms.inputs import LinkageKind, LoadedRadius, Points, StaticCamber, StaticToe, corner_of, rows_named
from calc.geometry.motion import Corner
from calc.geometry.roll import RollPair, roll_pair
from calc.units import Metres, Radians, Ratio

BodyRoll = Annotated[
    Radians,
    Input(
        "Body roll, left side up is positive",
        r"\varphi",
        "°",
        at_least=radians(-15),
        at_most=radians(15),
        typical=(radians(-5), radians(5)),
    ),
]
LeftShare = Annotated[
    Ratio,
    Input(
        "Share of the lateral force on the left wheel",
        "k",
        "%",
        at_least=0,
        at_most=1,
        typical=(0.2, 0.8),
        help="In a left turn the right wheel carries more: below 50 %.",
    ),
]


class InRoll(NamedTuple):
    """Both wheels on level ground under a rolled body. Heights above ground; forces for a lateral force to the left."""

    left_camber: Annotated[Radians, Output("Left camber to the road", r"\gamma_l", "°", 4)]
    right_camber: Annotated[Radians, Output("Right camber to the road", r"\gamma_r", "°", 4)]
    force_height: Annotated[Metres, Output("Roll centre height by force", "h_F", "mm", 4)]
    jacking: Annotated[Ratio, Output("Jacking: lift for each unit of lateral force to the left", "j", "%", 3)]
    centre_z: Annotated[Metres | None, Output("Height of the kinematic roll centre", "z_{RC}", "mm", 4)]
    centre_y: Annotated[
        Metres | None, Output("Kinematic roll centre to the left of the centre-line", "y_{RC}", "mm", 4)
    ]
    left_travel: Annotated[Metres, Output("Left wheel travel", "z_l", "mm", 4)]
    right_travel: Annotated[Metres, Output("Right wheel travel", "z_r", "mm", 4)]
    left_toe_in: Annotated[Radians, Output("Left toe-in", r"\tau_l", "°", 4)]
    right_toe_in: Annotated[Radians, Output("Right toe-in", r"\tau_r", "°", 4)]
    roll_steer: Annotated[Radians, Output("Axle steers to the left by", r"\delta_\varphi", "°", 3)]
    track: Annotated[Metres, Output("Track", "t", "mm", 5)]
    left_slope: Annotated[
        Ratio, Output("Outboard motion of the left contact for each unit of rise", "m_l", "", 4, detail=True)
    ]
    right_slope: Annotated[
        Ratio, Output("Outboard motion of the right contact for each unit of rise", "m_r", "", 4, detail=True)
    ]
    flags: tuple[str, ...]


def _pair(inputs: Mapping[str, Any], roll: float) -> RollPair:
    corner = corner_of(
        *(inputs[name] for name in ("linkage", "points", "loaded_radius", "static_camber", "static_toe_in"))
    )
    return roll_pair(corner, corner, roll, inputs["left_share"], inputs["heave"])


def _remarks(result: InRoll, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark(
            "Use the height by force and the jacking for load transfer. The kinematic centre may wander sideways by metres and says nothing about force.",
            about="force_height",
        )
    ]
    outside = result.right_camber if inputs["roll"] > 0 else result.left_camber
    if inputs["roll"] and degrees(outside) > 0:
        side = "left" if inputs["roll"] < 0 else "right"
        remarks.append(
            Remark(
                f"The {side} wheel, on the side the body leans to, stands on its outer edge: more static camber, less roll, or more camber gain.",
                "caution",
                f"{side}_camber",
            )
        )
    return tuple(remarks)


def _figures(result: InRoll, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    most = max(abs(inputs["roll"]), radians(1))
    rolls = [most * i / 6 for i in range(-6, 7)]
    pairs = [_pair(inputs, roll) for roll in rolls]
    axis = Axis("Body roll, left side up", "°")
    return (
        Chart(
            "Camber to the road in roll",
            "Camber of both wheels against the road over body roll.",
            axis,
            Axis("Camber to the road", "°"),
            (
                Series("Left", rolls, [p.left.camber_to_ground for p in pairs]),
                Series("Right", rolls, [p.right.camber_to_ground for p in pairs]),
            ),
        ),
        Chart(
            "Roll centre by force in roll",
            "Height of the force-based roll centre over body roll, with the given share of lateral force on the left wheel.",
            axis,
            Axis("Height", "mm"),
            (Series("Height by force", rolls, [p.force_height for p in pairs]),),
        ),
    )


@calculator(
    title="Both wheels in body roll",
    question="What do camber, roll centre and jacking do when the body rolls?",
    example={
        "linkage": "double_wishbone",
        "points": DOUBLE_WISHBONE,
        "loaded_radius": "282 mm",
        "static_camber": "-1.5 deg",
        "static_toe_in": "0.05 deg",
        "roll": "2 deg",
        "left_share": "35 %",
        "heave": "0 mm",
    },
    working=(
        Step(r"h_F = k\,m_l\,y_l + (1-k)\,m_r\,y_r", "force_height"),
        Step(r"j = -k\,m_l + (1-k)\,m_r", "jacking"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def wheels_in_roll(
    *,
    linkage: LinkageKind,
    points: Points,
    loaded_radius: LoadedRadius,
    static_camber: StaticCamber = 0.0,
    static_toe_in: StaticToe = 0.0,
    roll: BodyRoll,
    left_share: LeftShare = 0.5,
    heave: Annotated[
        Metres, Input("Body risen as well by", "h", "mm", at_least=-0.2, at_most=0.2, typical=(-0.05, 0.05))
    ] = 0.0,
) -> InRoll:
    """Return both wheels of an axle on level ground under a rolled body, the roll centre by motion and by force, and jacking.

    Equation: each wheel's travel puts its contact point on the ground, whose normal in chassis axes is (0, sin r, cos r);
    kinematic centre = cut of z = -m_l (y - y_l) and z = m_r (y + y_r); h_F = k m_l y_l + (1 - k) m_r y_r; jacking = -k m_l + (1 - k) m_r.
    Signs: roll positive with the left side up; lateral force positive to the left, jacking positive upward on the body; camber to the road, top outboard positive on both sides.
    Valid for: both sides mirror images, the body turned about the ground centre-line and lifted by the given heave. A real car also heaves: add it.
    Caution: a kinematic centre at infinity is said as none; it is not a large number.
    Source: Dixon, The roll-centre concept, 1987, and Mitchell, Asymmetric Roll Centers, SAE 983085, 1998 (both by title); kinematics derived and checked independently.

    >>> from calc.ask.evaluate import evaluate
    >>> from calc.form import about
    >>> evaluate("wheels_in_roll", about(wheels_in_roll).example, figures=False)["outputs"][2]["unit"]
    'mm'
    """
    corner: Corner = corner_of(linkage, points, loaded_radius, static_camber, static_toe_in)
    with rows_named(points, travel="roll"):
        pair = roll_pair(corner, corner, roll, left_share, heave)
    left, right = pair.left, pair.right
    lost = "In this attitude the two lines that meet at the kinematic roll centre are parallel: it lies at infinity to the side."
    return InRoll(
        left.camber_to_ground,
        right.camber_to_ground,
        pair.force_height,
        pair.jacking,
        pair.centre_z,
        pair.centre_y,
        left.travel,
        right.travel,
        left.toe_in,
        right.toe_in,
        (right.toe_in - left.toe_in) / 2,
        left.contact_y + right.contact_y,
        left.lateral_slope,
        right.lateral_slope,
        (lost,) if pair.centre_y is None else (),
    )

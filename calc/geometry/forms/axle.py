"""A rigid axle on its links: path, pinion angle, roll centre, roll steer, anti effects."""

from collections.abc import Iterator, Mapping, Sequence
from math import degrees
from typing import Annotated, Any, Literal, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.geometry import anti
from calc.geometry.axle import Axle
from calc.geometry.forms.anti_effects import DriveShare, WhichAxle
from calc.geometry.forms.examples import AXLE_PANHARD
from calc.geometry.forms.inputs import Hardpoint, LoadedRadius, placed_points, rows_named, spaced
from calc.geometry.linkages.live_axle import AXLES
from calc.geometry.scene import axle_drawings
from calc.terms import BrakeFrontShare, CgHeight, Wheelbase
from calc.units import Metres, Radians, Ratio

AxleKind = Annotated[
    Literal["four_link", "three_link_panhard", "four_link_panhard", "watt", "watt_on_chassis", "trailing_arms"],
    Choice("Axle located by", {name: kind.words for name, kind in AXLES.items()}),
]
AxlePoints = Annotated[
    tuple[Hardpoint, ...],
    Input(
        "Hard points of the axle",
        help="x forward, y left of the centre-line (right side negative), z up from the ground or any level.",
    ),
]
_WheelTravel = Input("Left wheel travel, bump positive", "z_l", "mm", at_least=-0.5, at_most=0.5, typical=(-0.1, 0.1))
_SHOWN = 0.06  # m


class AxleAnswer(NamedTuple):
    """A rigid axle with its wheels at two travels. None: at infinity."""

    roll_centre_height: Annotated[Metres, Output("Roll centre above ground, at the axle", "h_{RC}", "mm", 4)]
    roll_steer: Annotated[
        Ratio,
        Output(
            "Roll steer: yaw for each degree of roll; positive at a rear axle is roll oversteer",
            r"\varepsilon",
            "%",
            3,
        ),
    ]
    anti_drive: Annotated[Ratio, Output("Power: anti-squat (rear) or anti-lift (front)", "A_d", "%", 3)]
    anti_braking: Annotated[
        Ratio, Output("Braking, calipers on the axle: anti-lift (rear) or anti-dive (front)", "A_b", "%", 3)
    ]
    dx: Annotated[Metres, Output("Axle moved forward", r"\Delta x", "mm", 4)]
    dy: Annotated[Metres, Output("Axle moved to the left", r"\Delta y", "mm", 4)]
    yaw: Annotated[Radians, Output("Axle steers to the left by", r"\psi", "°", 3)]
    pinion: Annotated[Radians, Output("Pinion nose up by", r"\theta", "°", 4)]
    side_centre_x: Annotated[Metres | None, Output("Side-view instant centre, along", "x_{ic}", "mm", 4)]
    side_centre_height: Annotated[Metres | None, Output("Side-view instant centre above ground", "z_{ic}", "mm", 4)]
    contact_slope: Annotated[
        Ratio, Output("Forward motion at the ground for each unit of bump", "b_C", "", 4, detail=True)
    ]
    wheel_slope: Annotated[
        Ratio, Output("Forward motion at the axle's height for each unit of bump", "b_W", "", 4, detail=True)
    ]
    lateral_slope: Annotated[Ratio, Output("Motion to the left for each unit of bump", "m_y", "", 4, detail=True)]
    roll: Annotated[Radians, Output("Axle roll to the body, left wheel up", r"\varphi", "°", 4, detail=True)]


def axle_of(kind: str, points: Sequence[Hardpoint], loaded_radius: float) -> Axle:
    """Return the axle a reader's table describes; every problem names its row."""
    with rows_named(points):
        return Axle(AXLES[kind].build(placed_points(points, AXLES[kind].points, {}), loaded_radius))


def _remarks(result: AxleAnswer, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    said = []
    if inputs["axle"] == "rear" and result.roll_steer > 0.05:
        said.append(
            Remark(
                "Roll oversteer: the axle steers the car further into the turn as it rolls. The links rise towards the front too steeply.",
                "caution",
                "roll_steer",
            )
        )
    if abs(degrees(result.pinion)) > 3:
        said.append(
            Remark(
                "The pinion turns by more than 3° with travel: check the angles of the propshaft joints.",
                "caution",
                "pinion",
            )
        )
    if inputs["linkage"] == "trailing_arms":
        said.append(
            Remark(
                "Arms rigid with the axle roll only by the give of their bushes: stiff arms make the axle an anti-roll bar of their own.",
                about="linkage",
            )
        )
    if inputs["linkage"] == "four_link_panhard":
        said.append(
            Remark(
                "Four parallel links and a rod hold the axle in one way too many; the upper pair is taken as one link between them.",
                about="linkage",
            )
        )
    return tuple(said)


def _figures(result: AxleAnswer, inputs: Mapping[str, Any]) -> Iterator[Figure]:
    axle = axle_of(inputs["linkage"], inputs["points"], inputs["loaded_radius"])
    yield from axle_drawings(axle, axle.state(inputs["left"], inputs["right"]), AXLES[inputs["linkage"]].points)
    z = spaced(-_SHOWN, _SHOWN, 13)
    heave = axle.sweep([(value, value) for value in z])
    roll = axle.sweep([(value, -value) for value in z])
    travel, turned = Axis("Travel of both wheels", "mm"), Axis("Travel of the left wheel, the right one opposite", "mm")
    yield from (
        Chart(
            "Axle path in heave",
            "How far the axle moves forward and to the left when both wheels rise.",
            travel,
            Axis("Shift", "mm"),
            (Series("Forward", z, [r.dx for r in heave]), Series("To the left", z, [r.dy for r in heave])),
        ),
        Chart(
            "Roll centre and heave",
            "Height of the roll centre as the axle rises.",
            travel,
            Axis("Height", "mm"),
            (Series("Roll centre", z, [r.roll_centre_height for r in heave]),),
        ),
        Chart(
            "Axle steer in roll",
            "How far the axle steers to the left when the left wheel rises and the right one falls.",
            turned,
            Axis("Yaw to the left", "°"),
            (Series("Axle yaw", z, [r.yaw for r in roll]),),
        ),
    )


@calculator(
    title="A live axle on its links",
    question="Where is the axle's roll centre, does it steer itself in roll, and how much squat does it hold?",
    example={
        "linkage": "three_link_panhard",
        "points": AXLE_PANHARD,
        "loaded_radius": "318 mm",
        "axle": "rear",
        "left": "0 mm",
        "right": "0 mm",
        "wheelbase": "2450 mm",
        "cg_height": "510 mm",
        "front_brake_share": "68 %",
    },
    working=(
        Step(r"h_{RC} = \frac{V_y}{\omega_x} + R", "roll_centre_height"),
        Step(r"\varepsilon = \frac{\omega_z}{\omega_x}", "roll_steer"),
        Step(r"A_d = \mp f\,b_C\,\frac{L}{h}", "anti_drive"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def live_axle(
    *,
    linkage: AxleKind,
    points: AxlePoints,
    loaded_radius: LoadedRadius,
    axle: WhichAxle = "rear",
    left: Annotated[Metres, _WheelTravel] = 0.0,
    right: Annotated[
        Metres, Input("Right wheel travel, bump positive", "z_r", "mm", at_least=-0.5, at_most=0.5, typical=(-0.1, 0.1))
    ] = 0.0,
    wheelbase: Wheelbase,
    cg_height: CgHeight,
    front_brake_share: BrakeFrontShare,
    drive_share: DriveShare = 1.0,
) -> AxleAnswer:
    """Return path, attitude, roll centre, roll steer and anti effects of a rigid axle with its wheels at two travels.

    Equation: links keep their lengths; roll centre = V_y / w_x + R in roll at fixed mean height (V at the axle's middle), roll steer = w_z / w_x;
    rear anti-squat = -f b_C L / h and anti-lift = -(1 - p) b_C L / h with b_C of the axle-fixed point at the ground: the housing takes drive and brake torque.
    Signs: x forward, y left, z up; yaw positive to the left, roll positive with the left wheel up; positive roll steer at the rear is roll oversteer.
    Valid for: rigid links and joints. Four parallel links with a Panhard rod and truck arms live by the give of rubber: approximations, as the remark says.
    Caution: the roll couple of the propshaft's torque is left out. A Panhard rod makes left and right turns jack differently.
    Source: kinematics of rigid bodies, derived; checked against an independent numerical solution; torque paths as Milliken and Milliken, 1995, chapter 17 (from memory).

    >>> from calc.ask.evaluate import evaluate
    >>> from calc.form import about
    >>> evaluate("live_axle", about(live_axle).example, figures=False)["outputs"][0]["unit"]
    'mm'
    """
    body = axle_of(linkage, points, loaded_radius)
    with rows_named(points, travel="left"):
        row = body.reading(left, right)
    lever = wheelbase / cg_height
    if axle == "front":
        found = anti.front(row.contact_slope, row.wheel_slope, lever, front_brake_share, drive_share)
    else:
        found = anti.rear(row.contact_slope, row.wheel_slope, lever, 1 - front_brake_share, drive_share)
    return AxleAnswer(
        row.roll_centre_height,
        row.roll_steer,
        found.drive_on_carrier,
        found.braking_outboard,
        row.dx,
        row.dy,
        row.yaw,
        row.pinion,
        row.side_centre_x,
        row.side_centre_height,
        row.contact_slope,
        row.wheel_slope,
        row.lateral_slope,
        row.roll,
    )

"""Turning spring perches: what it does to the four scales, the cross weight and the ride heights."""

from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Output, Remark, Step, calculator
from calc.loads.support import CORNERS, Settled, settle
from calc.loads.support_terms import (
    CARE,
    EXAMPLE,
    BarsConnected,
    FrontBar,
    FrontBase,
    FrontLeft,
    FrontPitch,
    FrontRate,
    FrontRatio,
    FrontRight,
    HeightFrontLeft,
    HeightFrontRight,
    HeightRearLeft,
    HeightRearRight,
    RearBar,
    RearBase,
    RearLeft,
    RearPitch,
    RearRate,
    RearRatio,
    RearRight,
    TurnsFrontLeft,
    TurnsFrontRight,
    TurnsRearLeft,
    TurnsRearRight,
    cross,
    loads_of,
    rise_of_turn,
    support_of,
)
from calc.loads.terms import ChassisStiffness, FrontTyreRate, RearTyreRate
from calc.terms import FrontTrack, RearTrack
from calc.units import STANDARD_GRAVITY, Kilograms, Metres, Radians, Ratio


class PerchAdjustment(NamedTuple):
    """Scales and ride heights after the perches have been turned."""

    cross_after: Annotated[Ratio, Output("Cross weight after (right front and left rear)", "c'", "%")]
    cross_before: Annotated[Ratio, Output("Cross weight before", "c", "%")]
    front_left_after: Annotated[Kilograms, Output("Left front scale after", "m_{fl}'", "kg")]
    front_right_after: Annotated[Kilograms, Output("Right front scale after", "m_{fr}'", "kg")]
    rear_left_after: Annotated[Kilograms, Output("Left rear scale after", "m_{rl}'", "kg")]
    rear_right_after: Annotated[Kilograms, Output("Right rear scale after", "m_{rr}'", "kg")]
    front_left_height: Annotated[Metres, Output("Change of ride height, left front", "z_{fl}", "mm", 3)]
    front_right_height: Annotated[Metres, Output("Change of ride height, right front", "z_{fr}", "mm", 3)]
    rear_left_height: Annotated[Metres, Output("Change of ride height, left rear", "z_{rl}", "mm", 3)]
    rear_right_height: Annotated[Metres, Output("Change of ride height, right rear", "z_{rr}", "mm", 3)]
    front_left_height_after: Annotated[
        Metres | None, Output("Ride height after, left front", "z_{fl}'", "mm", 4, detail=True)
    ]
    front_right_height_after: Annotated[
        Metres | None, Output("Ride height after, right front", "z_{fr}'", "mm", 4, detail=True)
    ]
    rear_left_height_after: Annotated[
        Metres | None, Output("Ride height after, left rear", "z_{rl}'", "mm", 4, detail=True)
    ]
    rear_right_height_after: Annotated[
        Metres | None, Output("Ride height after, right rear", "z_{rr}'", "mm", 4, detail=True)
    ]
    left_change: Annotated[Kilograms, Output("Change of the left side", r"\Delta m_l", "kg", 3, detail=True)]
    changes: Annotated[
        tuple[Kilograms, ...],
        Output("Change of each scale, in the order of the answers", r"\Delta m_i", "kg", 3, detail=True),
    ]
    twist: Annotated[Radians, Output("Change of the chassis twist, rear against front", r"\theta", "°", 2, detail=True)]
    flags: tuple[str, ...]


def _remarks(result: PerchAdjustment, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [*CARE]
    if inputs["bars_connected"] and inputs["front_bar"] + inputs["rear_bar"] > 0:
        remarks.append(
            Remark(
                "With the bars connected part of the change sits in them and goes when a wheel moves: undo a link of each bar for this work.",
                "caution",
                "bars_connected",
            )
        )
    if inputs["chassis_stiffness"] == 0:
        remarks.append(
            Remark(
                "A chassis without torsional stiffness cannot hold cross weight: no perch changes it.",
                "caution",
                "chassis_stiffness",
            )
        )
    remarks.append(
        Remark(
            "Perches move the diagonal only. The front share and, with equal tracks, the left share stay: for those, move mass.",
            about="cross_after",
        )
    )
    return tuple(remarks)


def _settled(inputs: Mapping[str, Any], part: float = 1.0, loads: tuple[float, ...] | None = None) -> Settled:
    turns = [inputs[f"turns_{corner}"] * part for corner in CORNERS]
    rises = [n * rise for n, rise in zip(turns, rise_of_turn(inputs), strict=True)]
    most = max(range(4), key=lambda i: abs(turns[i]))
    return settle(support_of(inputs), rises, loads=loads, blame=f"turns_{CORNERS[most]}")


def _figures(result: PerchAdjustment, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    loads = loads_of(inputs)
    whole = _settled(inputs).loads
    parts = [i / 10 for i in range(-10, 21)]
    points = [tuple(n + part * d for n, d in zip(loads, whole, strict=True)) for part in parts]
    shares = [cross(point) if min(point) >= 0 else float("nan") for point in points]
    return (
        Chart(
            "Cross weight against the adjustment",
            "The cross weight changes in a straight line with the turns, until a wheel leaves its scale.",
            Axis("Part of the adjustment made", "%"),
            Axis("Cross weight", "%"),
            (
                Series("Cross weight", parts, shares),
                Series("Before and after", [0.0, 1.0], [result.cross_before, result.cross_after], points=True),
            ),
        ),
    )


@calculator(
    title="What turning a perch does",
    question="I turn a spring perch: where does the weight go, and what happens to the ride heights?",
    example={
        **EXAMPLE,
        "turns_front_right": "2",
        "height_front_left": "121 mm",
        "height_front_right": "119 mm",
        "height_rear_left": "128 mm",
        "height_rear_right": "128 mm",
    },
    working=(
        Step(r"\Delta m = w \, (1,\ -1,\ -t_f/t_r,\ t_f/t_r)", "changes"),
        Step(r"c' = \frac{m_{fr}' + m_{rl}'}{m}", "cross_after"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def perch_adjustment(
    *,
    front_left: FrontLeft,
    front_right: FrontRight,
    rear_left: RearLeft,
    rear_right: RearRight,
    front_track: FrontTrack,
    rear_track: RearTrack,
    front_rate: FrontRate,
    rear_rate: RearRate,
    front_ratio: FrontRatio,
    rear_ratio: RearRatio,
    front_pitch: FrontPitch,
    rear_pitch: RearPitch,
    front_tyre: FrontTyreRate,
    rear_tyre: RearTyreRate,
    bars_connected: BarsConnected = False,
    front_bar: FrontBar = 0.0,
    rear_bar: RearBar = 0.0,
    chassis_stiffness: ChassisStiffness = None,
    front_spring_base: FrontBase = None,
    rear_spring_base: RearBase = None,
    turns_front_left: TurnsFrontLeft = 0.0,
    turns_front_right: TurnsFrontRight = 0.0,
    turns_rear_left: TurnsRearLeft = 0.0,
    turns_rear_right: TurnsRearRight = 0.0,
    height_front_left: HeightFrontLeft = None,
    height_front_right: HeightFrontRight = None,
    height_rear_left: HeightRearLeft = None,
    height_rear_right: HeightRearRight = None,
) -> PerchAdjustment:
    """Return the scale readings, cross weight and ride heights after spring perches have been turned.

    Equation: a perch rise p = n P counts s = p/MR at the wheel; without bars and with a rigid chassis
    w = s/[1/k_FL + 1/k_FR + (t_f/t_r)^2 (1/k_RL + 1/k_RR)], each k with its tyre in series; here the eight equations of rest are solved.
    Signs: positive turns raise the car; heights are of the body at the wheel; the cross weight counts right front and left rear.
    Valid for: linear springs and tyres, small angles, a floor level to a millimetre; the shift of the centre of gravity by the tilt is left out.
    Caution: springs under load and a car on jacks can injure: follow the usual care, one corner at a time.
    Source: statics of four supports, once indeterminate; compare D. Alexander, Understanding corner weights, 2022.

    >>> car = dict(front_left=250, front_right=250, rear_left=250, rear_right=250, front_track=1.4, rear_track=1.4, front_rate=30e3,
    ...     rear_rate=30e3, front_ratio=1, rear_ratio=1, front_pitch=0.002, rear_pitch=0.002, front_tyre=1e12, rear_tyre=1e12)
    >>> found = perch_adjustment(**car, turns_front_left=1)
    >>> [round(change * 9.80665, 3) for change in found.changes]
    [15.0, -15.0, -15.0, 15.0]
    """
    inputs = locals()
    before = loads_of(inputs)
    found = _settled(inputs, loads=before)
    after = tuple(0.0 if i in found.lifted else n + d for i, (n, d) in enumerate(zip(before, found.loads, strict=True)))
    changes = tuple(d / STANDARD_GRAVITY for d in found.loads)
    lifted = tuple(
        f"The {CORNERS[i].replace('_', ' ')} wheel lifts off its scale: the car stands on the other three."
        for i in sorted(found.lifted)
    )
    left_front, right_front, left_rear, right_rear = (n / STANDARD_GRAVITY for n in after)
    known = (inputs[f"height_{corner}"] for corner in CORNERS)
    heights = [None if z is None else z + rise for z, rise in zip(known, found.heights, strict=True)]
    z_left_front, z_right_front, z_left_rear, z_right_rear = found.heights
    return PerchAdjustment(
        cross_after=cross(after),
        cross_before=cross(before),
        front_left_after=left_front,
        front_right_after=right_front,
        rear_left_after=left_rear,
        rear_right_after=right_rear,
        front_left_height=z_left_front,
        front_right_height=z_right_front,
        rear_left_height=z_left_rear,
        rear_right_height=z_right_rear,
        front_left_height_after=heights[0],
        front_right_height_after=heights[1],
        rear_left_height_after=heights[2],
        rear_right_height_after=heights[3],
        left_change=changes[0] + changes[2],
        changes=changes,
        twist=found.twist,
        flags=lifted,
    )

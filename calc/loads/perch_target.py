"""From a wanted cross weight back to the turns that bring it."""

from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.loads.support import perches_for_diagonal, settle
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
    RearBar,
    RearBase,
    RearLeft,
    RearPitch,
    RearRate,
    RearRatio,
    RearRight,
    cross,
    loads_of,
    rise_of_turn,
    support_of,
)
from calc.loads.terms import ChassisStiffness, FrontTyreRate, RearTyreRate
from calc.refusal import Refused
from calc.terms import FrontTrack, RearTrack
from calc.units import STANDARD_GRAVITY, Kilograms, Metres, Ratio

MANY_TURNS = 10.0


class PerchTurns(NamedTuple):
    """Turns at the four perches, positive raises the car there; the ride heights stay."""

    front_left_turns: Annotated[Ratio, Output("Turn the left front perch by", "n_{fl}", "", 3)]
    front_right_turns: Annotated[Ratio, Output("Turn the right front perch by", "n_{fr}", "", 3)]
    rear_left_turns: Annotated[Ratio, Output("Turn the left rear perch by", "n_{rl}", "", 3)]
    rear_right_turns: Annotated[Ratio, Output("Turn the right rear perch by", "n_{rr}", "", 3)]
    front_left_after: Annotated[Kilograms, Output("Left front scale after", "m_{fl}'", "kg")]
    front_right_after: Annotated[Kilograms, Output("Right front scale after", "m_{fr}'", "kg")]
    rear_left_after: Annotated[Kilograms, Output("Left rear scale after", "m_{rl}'", "kg")]
    rear_right_after: Annotated[Kilograms, Output("Right rear scale after", "m_{rr}'", "kg")]
    cross_before: Annotated[Ratio, Output("Cross weight now", "c", "%")]
    diagonal: Annotated[Kilograms, Output("Load to move onto the left front wheel", "w", "kg", 3, detail=True)]
    single_turns: Annotated[
        Ratio | None,
        Output("Turns that would do it at the left front alone, heights moving", "n_1", "", 3, detail=True),
    ]
    largest_height_change: Annotated[
        Metres, Output("Largest change of a ride height left over", "z_{max}", "mm", 2, detail=True)
    ]
    flags: tuple[str, ...]


def _remarks(result: PerchTurns, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    rows = ("front_left", "front_right", "rear_left", "rear_right")
    words = [
        f"{corner.replace('_', ' ')} {'up' if (n := getattr(result, f'{corner}_turns')) > 0 else 'down'} {abs(n):.2f}"
        for corner in rows
    ]
    remarks = [
        Remark(
            f"Turns: {'; '.join(words)}. Round each to what the perch can hold, then weigh again.",
            about="front_left_turns",
        ),
        *CARE,
    ]
    if inputs["bars_connected"] and inputs["front_bar"] + inputs["rear_bar"] > 0:
        remarks.append(
            Remark(
                "Undo a link of each bar first: with the bars connected the numbers hold until the next bump only.",
                "caution",
                "bars_connected",
            )
        )
    return tuple(remarks)


def _figures(result: PerchTurns, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    parts = [i / 10 for i in range(11)]
    corners = ("front_left", "front_right", "rear_left", "rear_right")
    return (
        Chart(
            "The four scales on the way to the target",
            "One diagonal gains what the other loses, in a straight line; the axle loads do not change.",
            Axis("Part of the adjustment made", "%"),
            Axis("Scale", "kg"),
            tuple(
                Series(
                    corner.replace("_", " "),
                    parts,
                    [inputs[corner] + p * (getattr(result, f"{corner}_after") - inputs[corner]) for p in parts],
                )
                for corner in corners
            ),
        ),
    )


@calculator(
    title="Turns for a wanted cross weight",
    question="Which perches do I turn, and how far, to bring the cross weight to its target and keep the ride heights?",
    example={**EXAMPLE, "wanted_cross": "50 %"},
    working=(
        Step(r"w = -\frac{(c' - c) \, m}{1 + t_f/t_r}", "diagonal"),
        Step(
            r"n_{fl} = \frac{w}{k} \, \frac{MR_f}{P_f}, \quad \frac{1}{k} = \frac{1}{k_f} + \frac{1}{k_{tf}}",
            "front_left_turns",
        ),
    ),
    remarks=_remarks,
    figures=_figures,
)
def perch_turns_for_cross(
    *,
    front_left: FrontLeft,
    front_right: FrontRight,
    rear_left: RearLeft,
    rear_right: RearRight,
    wanted_cross: Annotated[
        Ratio,
        Input("Wanted cross weight (right front and left rear)", "c'", "%", above=0, below=1, typical=(0.48, 0.52)),
    ] = 0.5,
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
) -> PerchTurns:
    """Return the turns of the four perches that bring a wanted cross weight and leave the ride heights alone.

    Equation: w = -(c' - c) m/(1 + t_f/t_r) onto the left front; bars off s_f = w (1/k_f + 1/k_tf), s_r = s_f k_f t_f/(k_r t_r) with tyres in series,
    up at the corner that gains, down at the one that loses; n = s MR/P.
    Signs: positive turns raise the car; the cross weight counts right front and left rear.
    Valid for: linear springs and tyres, small changes. A chassis that twists leaves half its twist at each end; see the detail.
    Caution: springs under load and a car on jacks can injure: follow the usual care, one corner at a time.
    Source: statics of four supports, solved backwards with the body held still.

    >>> car = dict(front_left=250, front_right=250, rear_left=250, rear_right=250, front_track=1.4, rear_track=1.4, front_rate=30e3,
    ...     rear_rate=30e3, front_ratio=1, rear_ratio=1, front_pitch=0.002, rear_pitch=0.002, front_tyre=1e12, rear_tyre=1e12)
    >>> round(perch_turns_for_cross(**car, wanted_cross=0.494).front_left_turns, 4)
    0.4903
    """
    inputs = locals()
    before, support, rise = loads_of(inputs), support_of(inputs), rise_of_turn(inputs)
    if chassis_stiffness == 0:
        raise Refused(
            "chassis_stiffness", "must be above 0: a chassis without it cannot hold cross weight", "0 N·m/deg"
        )
    ratio = front_track / rear_track
    change = -(wanted_cross - cross(before)) * sum(before) / (1 + ratio)
    after = tuple(n + change * part for n, part in zip(before, (1.0, -1.0, -ratio, ratio), strict=True))
    if min(after) < 0:
        low = -min(before[0], before[3] / ratio) * (1 + ratio) / sum(before)
        high = min(before[1], before[2] / ratio) * (1 + ratio) / sum(before)
        reach = f"{quantity(cross(before) - high, '%')} to {quantity(cross(before) - low, '%')}"
        raise Refused(
            "wanted_cross", f"must lie within {reach}, where all four wheels still touch", quantity(wanted_cross, "%")
        )
    rises = perches_for_diagonal(support, change)
    turns = tuple(s / one for s, one in zip(rises, rise, strict=True))
    twist = 0.0 if chassis_stiffness is None else change * front_track / chassis_stiffness
    alone = settle(support, (rise[0], 0.0, 0.0, 0.0)).loads[0]
    flags = (
        f"More than {MANY_TURNS:.0f} turns: look first for a bent part, a wrong spring or a bar that is preloaded.",
    )
    left_front, right_front, left_rear, right_rear = (n / STANDARD_GRAVITY for n in after)
    return PerchTurns(
        front_left_turns=turns[0],
        front_right_turns=turns[1],
        rear_left_turns=turns[2],
        rear_right_turns=turns[3],
        front_left_after=left_front,
        front_right_after=right_front,
        rear_left_after=left_rear,
        rear_right_after=right_rear,
        cross_before=cross(before),
        diagonal=change / STANDARD_GRAVITY,
        single_turns=change / alone if alone > 0 else None,
        largest_height_change=abs(twist) * max(front_track, rear_track) / 4,
        flags=flags if max(abs(n) for n in turns) > MANY_TURNS else (),
    )

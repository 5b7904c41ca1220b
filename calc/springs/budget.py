"""The travel budget of one corner: droop, bump, what stops the wheel, and its force and rate along the way."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.display import quantity
from calc.figures.spec import Figure
from calc.form import Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.springs.budget_figures import figures
from calc.springs.rubber import Pressed, rubber_curve
from calc.springs.stack import InSeries, Stack
from calc.springs.travel import Corner
from calc.springs.words import MotionRatio, StaticSpringForce
from calc.units import Metres, Newtons, NewtonsPerMetre, Ratio

_NAMES = (
    "static_force",
    "spring_ratio",
    "open",
    "closed",
    "static",
    "rubber_free",
    "rubber_block",
    "bind_margin",
    "tyre_to_body",
    "floor_clearance",
)
_INPUTS = (
    "static_force",
    "motion_ratio",
    "damper_open",
    "damper_closed",
    "damper_static",
    "rubber_free",
    "rubber_block",
    "bind_margin",
    "tyre_to_body",
    "floor_clearance",
)


class TravelBudget(NamedTuple):
    """Travels from ride height, bump upwards. Wheel travels unless said otherwise."""

    wheel_bump: Annotated[Metres, Output("Bump travel at the wheel", "z_b", "mm", 3)]
    bump_stop: Annotated[str, Output("What stops it in bump")]
    wheel_droop: Annotated[Metres, Output("Droop travel at the wheel", "z_d", "mm", 3)]
    rubber_touch: Annotated[Metres | None, Output("Bump at the wheel where the rubber touches", "z_r", "mm", 3)]
    static_rate: Annotated[NewtonsPerMetre | None, Output("Wheel rate at ride height", "k_w", "N/mm")]
    bump_rate: Annotated[NewtonsPerMetre | None, Output("Wheel rate at the end of bump", "k_b", "N/mm", 3)]
    bump_force: Annotated[Newtons | None, Output("Wheel force at the end of bump", "F_b", "N", 3)]
    droop_share: Annotated[Ratio | None, Output("Droop as a share of bump", "", "%", 3)]
    damper_bump: Annotated[Metres, Output("Damper travel to the end of bump", "s_b", "mm", detail=True)]
    damper_droop: Annotated[Metres, Output("Damper travel to full droop", "s_d", "mm", detail=True)]
    spring_to_bind: Annotated[Metres | None, Output("Spring travel to coil bind less margin", "s_c", "mm", detail=True)]
    bump_at_spring: Annotated[Metres, Output("Bump travel at the spring", "s_z", "mm", detail=True)]
    preload: Annotated[Metres, Output("Compression of the springs at full droop", "x_0", "mm", 3, detail=True)]
    events: Annotated[tuple[str, ...], Output("Along the axis", detail=True)]
    positions: Annotated[tuple[Metres, ...], Output("At wheel travel", "z", "mm", 3, detail=True)]
    flags: tuple[str, ...]


def _corner(inputs: Mapping[str, Any]) -> Corner:
    """Return the corner of a set of inputs."""
    known = None if inputs["rubber"] is None else rubber_curve(inputs["rubber"], "rubber")
    numbers = {name: inputs[given] for name, given in zip(_NAMES, _INPUTS, strict=True)}
    ratio = inputs["damper_ratio"]
    return Corner(
        stack=Stack(inputs["springs"]),
        damper_ratio=inputs["motion_ratio"] if ratio is None else ratio,
        rubber=known,
        **numbers,
    )


def _remarks(result: TravelBudget, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark(
            "The shortest of all these is the travel you have: lengthening any other part changes nothing.",
            about="bump_stop",
        )
    ]
    if result.wheel_bump < 0.030:
        remarks.append(
            Remark("Less than 30 mm of bump at the wheel: only for a smooth track.", "caution", "wheel_bump")
        )
    if result.droop_share is not None and not 1 / 3 <= result.droop_share <= 1:
        remarks.append(
            Remark(
                "Droop of about a third to a half of the bump travel, and tyre droop besides, is usual (common practice, no source).",
                about="droop_share",
            )
        )
    return tuple(remarks)


def _figures(result: TravelBudget, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    return figures(_corner(inputs))


@calculator(
    title="Travel budget of a corner",
    question="How far can this wheel move, what stops it first, and how stiff is it on the way?",
    example={
        "springs": [["60 N/mm", "130 mm"]],
        "static_force": "2790 N",
        "motion_ratio": "0.94",
        "damper_open": "485 mm",
        "damper_closed": "365 mm",
        "damper_static": "443 mm",
        "rubber_free": "60 mm",
        "rubber_block": "26 mm",
        "rubber": [
            ["5 mm", "55 N"],
            ["10 mm", "140 N"],
            ["15 mm", "280 N"],
            ["20 mm", "520 N"],
            ["25 mm", "980 N"],
            ["30 mm", "1950 N"],
            ["34 mm", "3600 N"],
        ],
        "tyre_to_body": "95 mm",
    },
    working=(
        Step(r"s_b = l_s - l_c - h_b", "damper_bump"),
        Step(r"s_d = l_o - l_s", "damper_droop"),
        Step(r"z_d = \frac{s_d}{MR_d}", "wheel_droop"),
        Step(r"s_z = MR \, z_b", "bump_at_spring"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def travel_budget(
    *,
    springs: Annotated[
        tuple[InSeries, ...],
        Input("Springs on the perch", help="Main first, then tender or helper; travel of each from free to solid."),
    ],
    static_force: StaticSpringForce,
    motion_ratio: MotionRatio,
    damper_ratio: Annotated[
        Ratio | None,
        Input("Motion ratio of the damper", "MR_d", "", above=0, at_most=3, help="Empty for a coilover: the spring's."),
    ] = None,
    damper_open: Annotated[Metres, Input("Length of the damper, topped out", "l_o", "mm", above=0, typical=(0.2, 0.8))],
    damper_closed: Annotated[
        Metres, Input("Length of the damper, metal to metal", "l_c", "mm", above=0, typical=(0.15, 0.6))
    ],
    damper_static: Annotated[
        Metres, Input("Length of the damper at ride height", "l_s", "mm", above=0, typical=(0.18, 0.75))
    ],
    rubber_free: Annotated[
        Metres, Input("Free height of the bump rubber and its packers", "h_f", "mm", at_least=0, typical=(0, 0.1))
    ] = 0.0,
    rubber_block: Annotated[
        Metres, Input("Height of the bump rubber when blocked", "h_b", "mm", at_least=0, typical=(0, 0.05))
    ] = 0.0,
    rubber: Annotated[
        tuple[Pressed, ...] | None,
        Input("Readings on the rubber", help="Empty: the rubber limits the travel but adds no force."),
    ] = None,
    bind_margin: Annotated[
        Metres, Input("Margin before coil bind", "", "mm", at_least=0, typical=(0.005, 0.01))
    ] = 0.005,
    tyre_to_body: Annotated[
        Metres | None, Input("Bump at which the tyre meets the body", "", "mm", above=0, help="Empty if it never does.")
    ] = None,
    floor_clearance: Annotated[
        Metres | None,
        Input("Bump at which the floor meets the ground", "", "mm", above=0, help="Empty if it never does."),
    ] = None,
) -> TravelBudget:
    """Return bump and droop travel of one corner, what ends them, and force and rate at the wheel between.

    Equation: damper bump l_s - l_c - h_b; damper droop l_o - l_s; at the wheel each divided by its motion ratio; the smallest bump counts.
    Wheel force F = F_s MR + F_r MR_d; wheel rate k_s MR^2 + k_r MR_d^2.
    Signs: wheel travel from ride height, bump positive; compression of spring and rubber positive.
    Valid for: constant motion ratios, linear springs each up to its block, slow movement; tyres and gas force not counted.
    Caution: check it on the car with the spring out, through the whole travel and lock to lock, before trusting numbers.
    Source: geometry and statics; travels to keep are common practice, no source.

    >>> answer = travel_budget(springs=(InSeries(50e3, 0.127),), static_force=2600, motion_ratio=0.7, damper_open=0.360, damper_closed=0.270,
    ...     damper_static=0.320, rubber_free=0.040, rubber_block=0.025)
    >>> round(answer.wheel_bump * 1000, 4), answer.bump_stop
    (35.7143, 'rubber blocked')
    """
    corner = _corner(locals())  # the inputs by their names, as the figures get them
    _check(corner)
    stop = corner.bump_stop()
    if stop.at < 0:
        raise Refused(
            "damper_static",
            f"must leave bump travel: {stop.name} lies below ride height",
            quantity(stop.at, "mm"),
            hint="Or the spring at ride height is past its own travel.",
        )
    touch = -corner.rubber_compression(0.0) / corner.damper_ratio
    events = corner.events()
    near_end = corner.rate(stop.at * (1 - 1e-9))
    at_end = corner.force(stop.at)
    return TravelBudget(
        wheel_bump=stop.at,
        bump_stop=stop.name,
        wheel_droop=corner.droop,
        rubber_touch=touch if corner.rubber_free > corner.rubber_block else None,
        static_rate=_known(corner.rate(0.0)),
        bump_rate=_known(near_end),
        bump_force=_known(at_end),
        droop_share=corner.droop / stop.at if stop.at > 0 else None,
        damper_bump=corner.damper_bump,
        damper_droop=corner.damper_droop,
        spring_to_bind=corner.to_bind,
        bump_at_spring=stop.at * corner.spring_ratio,
        preload=corner.preload,
        events=tuple(event.name for event in events),
        positions=tuple(event.at for event in events),
        flags=_flags(corner, stop.at),
    )


def _known(value: float) -> float | None:
    return None if math.isnan(value) else value


def _check(corner: Corner) -> None:
    if not corner.closed < corner.open:
        raise Refused(
            "damper_closed",
            f"must be less than the open length, {quantity(corner.open, 'mm')}",
            quantity(corner.closed, "mm"),
        )
    if not corner.closed <= corner.static <= corner.open:
        rule = f"must lie between closed and open, {quantity(corner.closed, 'mm')} to {quantity(corner.open, 'mm')}"
        raise Refused("damper_static", rule, quantity(corner.static, "mm"))
    if corner.rubber_block > corner.rubber_free:
        raise Refused(
            "rubber_block",
            f"must be at most the free height, {quantity(corner.rubber_free, 'mm')}",
            quantity(corner.rubber_block, "mm"),
            hint="A rubber of no free height has no blocked height either.",
        )
    blocks = corner.stack.block_forces()
    if corner.stack.solid_travel() is not None and corner.static_force >= blocks[-1]:
        raise Refused(
            "static_force",
            f"must be below the {quantity(blocks[-1], 'N')} at which the spring is solid",
            quantity(corner.static_force, "N"),
        )


def _flags(corner: Corner, bump: float) -> tuple[str, ...]:
    flags = []
    if corner.rubber_free > corner.rubber_block and corner.rubber_compression(0.0) >= 0:
        flags.append(
            "The bump rubber touches at ride height: it carries load there, and the wheel rate is that of spring and rubber together."
        )
    if corner.preload < 0:
        flags.append(
            f"At full droop the spring is loose by {quantity(-corner.preload, 'mm', 3)}: it needs a helper, or it may come off its seat."
        )
    pressed = corner.rubber_compression(bump)
    if corner.rubber is not None and pressed > corner.rubber.x[-1] * (1 + 1e-9):
        flags.append(
            f"The rubber was measured to {quantity(corner.rubber.x[-1], 'mm')} but is pressed {quantity(pressed, 'mm', 3)} at the end: force and rate there are not known."
        )
    if corner.stack.rate(0.0) is not None and corner.bump_stop().name == "coil bind less margin":
        flags.append(
            "The spring binds before the rubber or the damper stops the wheel: a bound spring is a rigid link and breaks parts."
        )
    return tuple(flags)

"""Alignment by arithmetic: caster by sweep, camber shims, turns of a thread."""

from collections.abc import Mapping
from math import degrees, radians, sin
from typing import Annotated, Any, Literal, NamedTuple

from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.geometry.alignment import caster_from_sweep, caster_sweep
from calc.refusal import Refused
from calc.units import Metres, Radians, RadiansPerMetre, Ratio

_Camber = (radians(-8), radians(8))
_USUAL_TURN, _USUAL_INCLINATION = radians(20), radians(12)


class CasterReading(NamedTuple):
    """Caster by the workshop's sweep, and how far the rule is off for such a steering axis."""

    caster: Annotated[Radians, Output("Caster", r"\nu", "°", 4)]
    factor: Annotated[Ratio, Output("Factor on the difference of the readings", "f", "", 4)]
    error: Annotated[
        Radians, Output("The rule reads high by, for this inclination and static camber", r"\Delta\nu", "°", 2)
    ]


@calculator(
    title="Caster by sweep",
    question="What caster do two camber readings with the wheel turned out and in mean?",
    example={
        "turned_out": "2.3 deg",
        "turned_in": "-1.82 deg",
        "wheel_turn": "20 deg",
        "inclination": "12 deg",
        "static_camber": "-0.5 deg",
    },
    working=(Step(r"f = \frac{1}{2\sin d}", "factor"), Step(r"\nu = f\,(\gamma_{out} - \gamma_{in})", "caster")),
)
def caster_by_sweep(
    *,
    turned_out: Annotated[
        Radians,
        Input(
            "Camber with the front of the wheel turned outboard",
            r"\gamma_{out}",
            "°",
            at_least=-0.7,
            at_most=0.7,
            typical=_Camber,
        ),
    ],
    turned_in: Annotated[
        Radians,
        Input(
            "Camber with the front of the wheel turned inboard",
            r"\gamma_{in}",
            "°",
            at_least=-0.7,
            at_most=0.7,
            typical=_Camber,
        ),
    ],
    wheel_turn: Annotated[
        Radians,
        Input(
            "Wheel turned each way by",
            "d",
            "°",
            at_least=radians(3),
            at_most=radians(45),
            typical=(radians(10), radians(20)),
        ),
    ] = _USUAL_TURN,
    inclination: Annotated[
        Radians,
        Input(
            "Steering-axis inclination, for the error of the rule",
            r"\sigma",
            "°",
            at_least=radians(-10),
            at_most=radians(30),
            typical=(radians(4), radians(16)),
        ),
    ] = _USUAL_INCLINATION,
    static_camber: Annotated[
        Radians,
        Input(
            "Static camber, for the error of the rule",
            r"\gamma_0",
            "°",
            at_least=radians(-10),
            at_most=radians(10),
            typical=(radians(-4), radians(1)),
        ),
    ] = 0.0,
) -> CasterReading:
    """Return caster from a sweep, and how far the workshop rule is off.

    Equation: caster = (camber turned out - camber turned in) / (2 sin d): a factor of 1.462 at 20 degrees ("1.5"), 1.93 at 15, 2.88 at 10.
    Signs: camber positive with the top outboard; turned in = front of the wheel towards the centre-line.
    Valid for: wheels turned by plates, not by the hand wheel's angle; the error shown is that of an exact rigid turn with this caster, inclination and camber.
    Caution: brakes held with a pedal jack, or the gauge reads the wheel rolling.
    Source: alignment practice, from memory; the error by exact rotation about the steering axis.

    >>> answer = caster_by_sweep(turned_out=radians(2.30184844666), turned_in=radians(-1.81915332243), inclination=radians(12), static_camber=radians(-0.5))
    >>> round(degrees(answer.caster), 3), round(answer.factor, 4)
    (6.025, 1.4619)
    """
    caster = caster_from_sweep(turned_out, turned_in, wheel_turn)
    if abs(caster) > radians(30):
        raise Refused(
            "turned_out",
            "must make a caster below 30° with the other reading",
            f"{degrees(caster):.1f}°",
            label="Camber turned out",
        )
    exact = caster_sweep(caster, inclination, static_camber, wheel_turn)
    return CasterReading(caster, 1 / (2 * sin(wheel_turn)), exact.estimate - caster)


class Shim(NamedTuple):
    """The shim that changes camber, and the camber it gives."""

    thickness: Annotated[Metres, Output("Shim to add behind the upper mount, or offset of the bolt", "s", "mm", 3)]
    gain: Annotated[RadiansPerMetre, Output("Camber for each millimetre of shim", "", "deg/mm", 3)]


def _shim_remarks(result: Shim, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (Remark("Toe moves with camber: set camber first, then toe, then read camber again.", about="thickness"),)


@calculator(
    title="Camber by shim",
    question="Which shim gives the camber I want?",
    example={"now": "-1.0 deg", "wanted": "-2.0 deg", "distance": "280 mm"},
    working=(Step(r"s = (\gamma_{now} - \gamma_{wanted})\,a", "thickness"),),
    remarks=_shim_remarks,
)
def camber_shim(
    *,
    now: Annotated[Radians, Input("Camber now", r"\gamma_{now}", "°", at_least=-0.3, at_most=0.3, typical=_Camber)],
    wanted: Annotated[
        Radians, Input("Camber wanted", r"\gamma_{wanted}", "°", at_least=-0.3, at_most=0.3, typical=_Camber)
    ],
    distance: Annotated[
        Metres,
        Input("Vertical distance between the two joints or bolts", "a", "mm", above=0, at_most=2, typical=(0.05, 0.4)),
    ],
) -> Shim:
    """Return the shim at the upper mount that changes camber; positive moves the upper joint inboard.

    Equation: change of camber (rad) = shim / vertical distance between the two joints; slotted strut bolts likewise.
    Signs: camber positive with the top outboard; a positive shim pulls the top inboard and makes camber more negative.
    Valid for: small angles; the upper arm's mount moved as a whole, or one bolt of a strut clamp.
    Caution: leave enough thread and never stack loose washers: use plate shims, and torque the bolts as the maker says.
    Source: small-angle geometry, derived.

    >>> round(1000 * camber_shim(now=radians(-1), wanted=radians(-2), distance=0.28).thickness, 3)
    4.887
    """
    return Shim((now - wanted) * distance, 1 / distance)


class Turns(NamedTuple):
    """Turns of a tie rod or sleeve for a change of toe."""

    turns: Annotated[Ratio, Output("Turns to make the rod longer by", "n", "", 3)]
    length: Annotated[Metres, Output("Change of length", r"\Delta l", "mm", 3)]
    for_one_turn: Annotated[Radians, Output("Toe of this wheel for one turn", "", "°", 3)]


@calculator(
    title="Toe by turns of a thread",
    question="How many turns of the tie rod make this change of toe?",
    example={"toe_change": "0.15 deg", "steering_arm": "115 mm", "pitch": "1.5 mm", "thread": "rod", "rod": "behind"},
    working=(Step(r"\Delta l = \pm a\,\Delta\tau", "length"), Step(r"n = \frac{\Delta l}{k\,p}", "turns")),
)
def thread_turns(
    *,
    toe_change: Annotated[
        Radians,
        Input(
            "Toe-in to add at this wheel",
            r"\Delta\tau",
            "°",
            at_least=radians(-10),
            at_most=radians(10),
            typical=(radians(-1), radians(1)),
        ),
    ],
    steering_arm: Annotated[
        Metres,
        Input(
            "Steering arm: from the steering axis square to the tie rod",
            "a",
            "mm",
            above=0,
            at_most=1,
            typical=(0.08, 0.2),
        ),
    ],
    pitch: Annotated[Metres, Input("Pitch of the thread", "p", "mm", above=0, at_most=0.02, typical=(0.001, 0.002))],
    thread: Annotated[
        Literal["rod", "sleeve"],
        Choice(
            "Thread", {"rod": "one thread: the rod turns in its end", "sleeve": "left and right hand: both ends move"}
        ),
    ] = "rod",
    rod: Annotated[
        Literal["behind", "ahead"], Choice("Tie rod", {"behind": "behind the axle", "ahead": "ahead of the axle"})
    ] = "behind",
) -> Turns:
    """Return the turns of a tie rod that add this much toe-in to one wheel.

    Equation: dl = a dt for a rod behind the axle (longer = toe-in), -a dt for one ahead of it; turns = dl / p, or dl / (2 p) for a sleeve with both hands of thread.
    Signs: toe-in positive; positive turns make the rod longer.
    Valid for: tie rod roughly square to its arm, small changes.
    Caution: count turns from a mark, keep one and a half diameters of thread engaged, and tighten the lock nuts; steering joints are safety parts.
    Source: lever arithmetic, derived.

    >>> round(thread_turns(toe_change=radians(0.15), steering_arm=0.115, pitch=0.0015).turns, 3)
    0.201
    """
    step = pitch * (2 if thread == "sleeve" else 1)
    length = steering_arm * toe_change * (1 if rod == "behind" else -1)
    return Turns(length / step, length, step / steering_arm)

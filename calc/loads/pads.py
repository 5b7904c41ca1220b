"""Scales that do not stand level: how far the readings are off, and how much cross weight is only the floor."""

from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.loads.support import CORNERS, Settled, settle
from calc.loads.support_terms import (
    BarsConnected,
    FrontBar,
    FrontBase,
    FrontLeft,
    FrontRate,
    FrontRight,
    RearBar,
    RearBase,
    RearLeft,
    RearRate,
    RearRight,
    cross,
    loads_of,
    support_of,
)
from calc.loads.terms import ChassisStiffness, FrontTyreRate, RearTyreRate
from calc.terms import FrontTrack, RearTrack
from calc.units import STANDARD_GRAVITY, Kilograms, Metres, Ratio


def _pad(corner: str, symbol: str) -> Input:
    return Input(
        f"Pad under the {corner} wheel too high by",
        symbol,
        "mm",
        typical=(-0.01, 0.01),
        help="Negative if it lies low.",
    )


class UnevenPads(NamedTuple):
    """The readings as they would be on level pads."""

    cross_level: Annotated[Ratio, Output("Cross weight on level pads", "c_0", "%")]
    cross_error: Annotated[Ratio, Output("Part of the cross weight that is only the floor", r"\Delta c", "%", 3)]
    front_left_level: Annotated[Kilograms, Output("Left front scale on level pads", "m_{fl}'", "kg")]
    front_right_level: Annotated[Kilograms, Output("Right front scale on level pads", "m_{fr}'", "kg")]
    rear_left_level: Annotated[Kilograms, Output("Left rear scale on level pads", "m_{rl}'", "kg")]
    rear_right_level: Annotated[Kilograms, Output("Right rear scale on level pads", "m_{rr}'", "kg")]
    warp: Annotated[Metres, Output("Warp of the four pads", "q", "mm", 3, detail=True)]
    flags: tuple[str, ...]


def _remarks(result: UnevenPads, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            "A tilted but flat floor changes little; a warp, one corner out of the plane of the other three, shifts the diagonal.",
            about="cross_error",
        ),
        Remark(
            "Shim the pads until they lie in one plane to a millimetre, and mark the floor, rather than correct the numbers.",
            about="warp",
        ),
    )


def _level(inputs: Mapping[str, Any], part: float = 1.0) -> tuple[tuple[float, ...], Settled]:
    """Return the loads with a part of the pads' errors taken out, and how the car settles for it."""
    read, pads = loads_of(inputs), [inputs[f"pad_{corner}"] * part for corner in CORNERS]
    most = max(range(4), key=lambda i: abs(pads[i]))
    found = settle(support_of(inputs), (0.0,) * 4, tuple(-q for q in pads), read, f"pad_{CORNERS[most]}")
    level = (0.0 if i in found.lifted else n + d for i, (n, d) in enumerate(zip(read, found.loads, strict=True)))
    return tuple(level), found


def _figures(result: UnevenPads, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    parts = [i / 10 for i in range(11)]
    return (
        Chart(
            "Cross weight as the pads are levelled",
            "The cross weight moves in a straight line as the error of the pads is shimmed out.",
            Axis("Part of the error shimmed out", "%"),
            Axis("Cross weight", "%"),
            (
                Series("Cross weight", parts, [cross(_level(inputs, part)[0]) for part in parts]),
                Series("Level", [1.0], [result.cross_level], points=True),
            ),
        ),
    )


@calculator(
    title="Scales on an uneven floor",
    question="One pad lies high or low: how wrong are the readings?",
    example={  # the Moor GT, live axle behind
        "front_left": "331 kg",
        "front_right": "322 kg",
        "rear_left": "287 kg",
        "rear_right": "300 kg",
        "front_track": "1470 mm",
        "rear_track": "1450 mm",
        "front_rate": "38 N/mm",
        "rear_rate": "42 N/mm",
        "front_tyre": "215 N/mm",
        "rear_tyre": "215 N/mm",
        "rear_spring_base": "980 mm",
        "pad_front_left": "3 mm",
    },
    working=(
        Step(r"q = (q_{fl} - q_{fr}) - (q_{rl} - q_{rr}) \frac{t_f}{t_r}", "warp"),
        Step(r"\Delta c = c - c_0", "cross_error"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def uneven_pads(
    *,
    front_left: FrontLeft,
    front_right: FrontRight,
    rear_left: RearLeft,
    rear_right: RearRight,
    front_track: FrontTrack,
    rear_track: RearTrack,
    front_rate: FrontRate,
    rear_rate: RearRate,
    front_tyre: FrontTyreRate,
    rear_tyre: RearTyreRate,
    pad_front_left: Annotated[Metres, _pad("left front", "q_{fl}")] = 0.0,
    pad_front_right: Annotated[Metres, _pad("right front", "q_{fr}")] = 0.0,
    pad_rear_left: Annotated[Metres, _pad("left rear", "q_{rl}")] = 0.0,
    pad_rear_right: Annotated[Metres, _pad("right rear", "q_{rr}")] = 0.0,
    bars_connected: BarsConnected = False,
    front_bar: FrontBar = 0.0,
    rear_bar: RearBar = 0.0,
    chassis_stiffness: ChassisStiffness = None,
    front_spring_base: FrontBase = None,
    rear_spring_base: RearBase = None,
) -> UnevenPads:
    """Return what the four scales would read on level pads, from the readings on pads that are not.

    Equation: the eight equations of rest of a car on springs and tyres, with the pad heights as given displacements; warp
    q = (q_fl - q_fr) - (q_rl - q_rr) t_f/t_r.
    Signs: a pad that lies high is positive; the cross weight counts right front and left rear.
    Valid for: linear springs and tyres, pads out by millimetres; the load shift of a tilted floor itself is left out.
    Source: statics of four supports, once indeterminate.

    >>> car = dict(front_left=250, front_right=250, rear_left=250, rear_right=250, front_track=1.4, rear_track=1.4, front_rate=30e3,
    ...     rear_rate=30e3, front_tyre=1e12, rear_tyre=1e12)
    >>> round((250 - uneven_pads(**car, pad_front_left=0.002).front_left_level) * 9.80665, 3)
    15.0
    """
    inputs = locals()
    read, pads = loads_of(inputs), [inputs[f"pad_{corner}"] for corner in CORNERS]
    level, found = _level(inputs)
    left_front, right_front, left_rear, right_rear = (n / STANDARD_GRAVITY for n in level)
    lifted = tuple(
        f"On level pads the {CORNERS[i].replace('_', ' ')} wheel would carry nothing." for i in sorted(found.lifted)
    )
    return UnevenPads(
        cross_level=cross(level),
        cross_error=cross(read) - cross(level),
        front_left_level=left_front,
        front_right_level=right_front,
        rear_left_level=left_rear,
        rear_right_level=right_rear,
        warp=(pads[0] - pads[1]) - (pads[2] - pads[3]) * front_track / rear_track,
        flags=lifted,
    )

"""Alignment by arithmetic: toe in millimetres and degrees, strings, thrust angle."""

from collections.abc import Mapping
from math import degrees, radians
from typing import Annotated, Any, NamedTuple

from calc.form import Input, Output, Remark, Step, calculator
from calc.geometry.alignment import string_angle, thrust_angle, toe_angle, toe_from_string, toe_length
from calc.refusal import Refused
from calc.terms import FrontTrack, RearTrack, Wheelbase
from calc.units import Metres, Radians, Ratio

Rim = Annotated[
    Metres, Input("Diameter at which toe is measured (rim edge)", "D", "mm", above=0, at_most=2, typical=(0.33, 0.5))
]


class Toe(NamedTuple):
    """Toe of a wheel and of the axle, as angles and as lengths."""

    angle: Annotated[Radians, Output("Toe-in of this wheel as an angle", r"\tau", "°", 4)]
    length: Annotated[Metres, Output("Toe-in of this wheel as a length", "e", "mm", 4)]
    total_angle: Annotated[Radians, Output("Total toe of the axle, both wheels alike", r"2\tau", "°", 4)]
    total_length: Annotated[Metres, Output("Total toe of the axle as a length", "2e", "mm", 4)]


@calculator(
    title="Toe: millimetres and degrees",
    question="How many degrees are my millimetres of toe, and the other way round?",
    example={"diameter": "381 mm", "length": "1 mm"},
    working=(Step(r"\sin\tau = \frac{e}{D}", "angle"), Step(r"e = D\,\sin\tau", "length")),
)
def toe_units(
    *,
    diameter: Rim,
    length: Annotated[
        Metres | None,
        Input("Toe-in of one wheel as a length", "e", "mm", at_least=-0.2, at_most=0.2, typical=(-0.005, 0.005)),
    ] = None,
    angle: Annotated[
        Radians | None,
        Input(
            "Toe-in of one wheel as an angle",
            r"\tau",
            "°",
            at_least=radians(-20),
            at_most=radians(20),
            typical=(radians(-0.6), radians(0.6)),
        ),
    ] = None,
) -> Toe:
    """Return toe of one wheel as an angle and as a length at a stated diameter. Give one of the two.

    Equation: sin t = e / D; the total of an axle is the sum of both wheels.
    Signs: toe-in positive with the front of the wheel inboard.
    Valid for: readings across the rim at hub height. Millimetres without their diameter say nothing: state it with every reading.
    Source: right triangle, closed form.

    >>> round(degrees(toe_units(diameter=0.381, length=0.003).angle), 4)
    0.4512
    """
    if (length is None) == (angle is None):
        raise Refused("length", "must be given, or the angle instead: one of the two", label="Toe-in of one wheel")
    if length is not None:
        if abs(length) >= diameter:
            raise Refused(
                "length", "must be less than the diameter", f"{1000 * length:g} mm", label="Toe-in of one wheel"
            )
        angle = toe_angle(length, diameter)
    known = angle or 0.0
    size = toe_length(known, diameter)
    return Toe(known, size, 2 * known, 2 * size)


class Strings(NamedTuple):
    """Toe of all four wheels from two strings, the thrust angle, and how far the strings are off parallel."""

    front_left: Annotated[Radians, Output("Toe-in front left", r"\tau_{fl}", "°", 3)]
    front_right: Annotated[Radians, Output("Toe-in front right", r"\tau_{fr}", "°", 3)]
    rear_left: Annotated[Radians, Output("Toe-in rear left", r"\tau_{rl}", "°", 3)]
    rear_right: Annotated[Radians, Output("Toe-in rear right", r"\tau_{rr}", "°", 3)]
    front_total: Annotated[Radians, Output("Total toe front", r"\tau_f", "°", 3)]
    rear_total: Annotated[Radians, Output("Total toe rear", r"\tau_r", "°", 3)]
    thrust: Annotated[Radians, Output("Thrust angle, rear wheels pointing left is positive", r"\psi_t", "°", 3)]
    left_string: Annotated[Radians, Output("Left string off parallel, front end out", "", "°", 3, detail=True)]
    right_string: Annotated[Radians, Output("Right string off parallel, front end out", "", "°", 3, detail=True)]


class StringReading(NamedTuple):
    """The gaps from a string to one wheel."""

    wheel: Annotated[str, Input("Wheel", help="front left, front right, rear left or rear right")]
    front_edge: Annotated[Metres, Input("String to front edge of the rim", "a", "mm", above=0, at_most=1)]
    rear_edge: Annotated[Metres, Input("String to rear edge of the rim", "b", "mm", above=0, at_most=1)]
    hub: Annotated[Metres, Input("String to hub centre", "c", "mm", above=0, at_most=1)]


_WHEELS = ("front left", "front right", "rear left", "rear right")


def _string_remarks(result: Strings, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    said = []
    if abs(degrees(result.thrust)) > 0.1:
        said.append(
            Remark(
                "The rear wheels steer the car to one side: set the rear toe evenly before the front, or the hand wheel will stand askew.",
                "caution",
                "thrust",
            )
        )
    worst = max(abs(result.left_string), abs(result.right_string))
    if degrees(worst) > 0.3:
        said.append(
            Remark(
                "A string is far off parallel. The answer allows for it, but setting it better makes reading errors smaller.",
                about="left_string",
            )
        )
    return tuple(said)


@calculator(
    title="Alignment with strings",
    question="What toe do all four wheels have, from the gaps to two strings?",
    example={
        "readings": [
            ["front left", "61.2 mm", "60.4 mm", "76 mm"],
            ["front right", "60.9 mm", "60.6 mm", "76 mm"],
            ["rear left", "56.8 mm", "55.0 mm", "71 mm"],
            ["rear right", "56.4 mm", "55.0 mm", "71 mm"],
        ],
        "diameter": "432 mm",
        "front_track": "1510 mm",
        "rear_track": "1520 mm",
        "wheelbase": "2560 mm",
    },
    working=(
        Step(r"\tau = \arcsin\frac{a - b}{D} - \varepsilon", "front_left"),
        Step(r"\psi_t = \frac{\tau_{rr} - \tau_{rl}}{2}", "thrust"),
    ),
    remarks=_string_remarks,
)
def string_alignment(
    *,
    readings: Annotated[
        tuple[StringReading, ...],
        Input(
            "Gaps to the strings, one row a wheel", help="Strings outside the wheels at hub height, one on each side."
        ),
    ],
    diameter: Rim,
    front_track: FrontTrack,
    rear_track: RearTrack,
    wheelbase: Wheelbase,
) -> Strings:
    """Return toe of all four wheels from the gaps to a string on each side, allowing for unequal tracks and strings off parallel.

    Equation: toe-in = asin((front gap - rear gap) / D) - e, e = ((g_f + t_f / 2) - (g_r + t_r / 2)) / L from the gaps at the hubs;
    thrust angle = (right - left) / 2 of the rear wheels.
    Signs: toe-in positive with the front inboard; thrust angle positive when the rear wheels point to the left.
    Valid for: level floor, hubs as wide apart as the tracks given, both readings of a wheel at hub height on the same diameter.
    Caution: settle the car by rolling it, not by jacking; never lie under it for a reading.
    Source: right triangles, derived; the method is common practice, no source.

    >>> rows = tuple(StringReading(name, 0.0605, 0.0600, 0.075) for name in ("front left", "front right", "rear left", "rear right"))
    >>> round(degrees(string_alignment(readings=rows, diameter=0.4, front_track=1.5, rear_track=1.5, wheelbase=2.5).front_total), 4)
    0.1432
    """
    found = _by_wheel(readings)
    strings, toes = {}, {}
    for side in ("left", "right"):
        front, rear = found[f"front {side}"], found[f"rear {side}"]
        strings[side] = string_angle(front.hub, rear.hub, front_track, rear_track, wheelbase)
        for name, row in ((f"front {side}", front), (f"rear {side}", rear)):
            if abs(row.front_edge - row.rear_edge) >= 0.5 * diameter:
                raise Refused(
                    "readings",
                    "must differ by less than half the diameter on each wheel",
                    name,
                    label="Gaps to the strings",
                )
            toes[name] = toe_from_string(row.front_edge, row.rear_edge, diameter, strings[side])
    fl, fr, rl, rr = (toes[name] for name in _WHEELS)
    return Strings(fl, fr, rl, rr, fl + fr, rl + rr, thrust_angle(rl, rr), strings["left"], strings["right"])


def _by_wheel(readings: tuple[StringReading, ...]) -> dict[str, StringReading]:
    found: dict[str, StringReading] = {}
    for number, row in enumerate(readings, start=1):
        name = " ".join(row.wheel.lower().split())
        if name not in _WHEELS or name in found:
            raise Refused(
                f"readings[{number}].wheel",
                f"must be one of {', '.join(_WHEELS)}, each once",
                repr(row.wheel[:30]),
                label="Wheel",
            )
        found[name] = row
    missing = [name for name in _WHEELS if name not in found]
    if missing:
        raise Refused("readings", f"must have a row for {', '.join(missing)}", label="Gaps to the strings")
    return found


class Thrust(NamedTuple):
    """The thrust angle of the rear wheels and how far the hand wheel stands askew for it."""

    thrust: Annotated[Radians, Output("Thrust angle, to the left positive", r"\psi_t", "°", 3)]
    total: Annotated[Radians, Output("Total toe of the rear axle", r"\tau_r", "°", 3)]
    hand_wheel: Annotated[Radians, Output("Hand wheel askew when driving straight", r"\delta_H", "°", 3)]


@calculator(
    title="Thrust angle",
    question="Where do the rear wheels push the car, and how askew does the hand wheel stand?",
    example={"left_toe_in": "0.05 deg", "right_toe_in": "0.20 deg", "ratio": 16},
    working=(Step(r"\psi_t = \frac{\tau_r - \tau_l}{2}", "thrust"), Step(r"\delta_H = i_S\,\psi_t", "hand_wheel")),
)
def thrust_line(
    *,
    left_toe_in: Annotated[
        Radians,
        Input("Toe-in of the left rear wheel", r"\tau_l", "°", at_least=-0.2, at_most=0.2, typical=(-0.005, 0.009)),
    ],
    right_toe_in: Annotated[
        Radians,
        Input("Toe-in of the right rear wheel", r"\tau_r", "°", at_least=-0.2, at_most=0.2, typical=(-0.005, 0.009)),
    ],
    ratio: Annotated[Ratio, Input("Steering ratio", "i_S", "", above=0, at_most=60, typical=(10, 20))] = 15.0,
) -> Thrust:
    """Return the thrust angle of the rear wheels.

    Equation: thrust = (right toe-in - left toe-in) / 2; the hand wheel stands askew by the steering ratio times it.
    Signs: positive when the rear wheels point to the left.
    Valid for: small angles, even grip left and right.
    Source: derived; common practice, no source.

    >>> round(degrees(thrust_line(left_toe_in=radians(0.05), right_toe_in=radians(0.2)).thrust), 4)
    0.075
    """
    thrust = thrust_angle(left_toe_in, right_toe_in)
    return Thrust(thrust, left_toe_in + right_toe_in, ratio * thrust)

"""The ideal pair of steer angles and the steering ratio, by arithmetic."""

from collections.abc import Mapping
from math import degrees, hypot, pi, radians
from typing import Annotated, Any, NamedTuple

from calc.form import Input, Output, Remark, Step, calculator
from calc.geometry.forms.steer import SteerTrack
from calc.geometry.steering import ackermann_share, ideal_inner, kerb_circle, mean_angle, turn_radius
from calc.refusal import Refused
from calc.terms import Wheelbase
from calc.units import Metres, Radians, Ratio


class IdealPair(NamedTuple):
    """The ideal pair of angles, the turning circle, and how near an actual pair comes to it."""

    inner: Annotated[Radians, Output("Ideal inner angle", r"\delta_i^*", "°", 4)]
    toe_out: Annotated[Radians, Output("Ideal toe-out on turns", r"\delta_i^* - \delta_o", "°", 4)]
    mean: Annotated[Radians, Output("Angle of one wheel in the middle", r"\delta_m", "°", 4)]
    turning_circle: Annotated[Metres, Output("Turning circle of the outer wheel, no slip", "D", "m", 4)]
    radius: Annotated[Metres, Output("Radius of the middle of the rear axle", "R", "m", 4)]
    wall_circle: Annotated[Metres | None, Output("Wall circle: the outer front corner of the body", "D_w", "m", 4)]
    ackermann: Annotated[Ratio | None, Output("Ackermann of the measured pair", "A", "%", 3)]


def _pair_remarks(result: IdealPair, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (Remark("Tyres that slip want less toe-out than this: the ideal is for walking pace.", about="inner"),)


@calculator(
    title="The ideal pair of steer angles",
    question="How far should the inner wheel turn for this outer angle, and how near is mine?",
    example={
        "wheelbase": "2310 mm",
        "track": "1300 mm",
        "outer": "20 deg",
        "scrub_radius": "40 mm",
        "measured_inner": "22.5 deg",
        "front_overhang": "620 mm",
        "body_width": "1580 mm",
    },
    working=(
        Step(r"\cot\delta_o - \cot\delta_i^* = \frac{t}{L}", "inner"),
        Step(r"D = 2\left(\frac{L}{\sin\delta_o} + r_s\right)", "turning_circle"),
        Step(r"R = L\cot\delta_o - \frac{t}{2}", "radius"),
        Step(r"A = \frac{\delta_i - \delta_o}{\delta_i^* - \delta_o}", "ackermann"),
    ),
    remarks=_pair_remarks,
)
def ideal_steer_angles(
    *,
    wheelbase: Wheelbase,
    track: SteerTrack,
    outer: Annotated[
        Radians,
        Input(
            "Outer wheel's steer angle",
            r"\delta_o",
            "°",
            at_least=radians(0.5),
            at_most=radians(60),
            typical=(radians(2), radians(40)),
        ),
    ],
    scrub_radius: Annotated[
        Metres, Input("Scrub radius", "r_s", "mm", at_least=-0.3, at_most=0.3, typical=(-0.03, 0.08))
    ] = 0.0,
    measured_inner: Annotated[
        Radians | None,
        Input(
            "Inner wheel's angle as measured",
            r"\delta_i",
            "°",
            above=0,
            below=radians(90),
            help="On turn plates, static toe subtracted from both readings.",
        ),
    ] = None,
    front_overhang: Annotated[
        Metres | None,
        Input("Body ahead of the front axle", "o", "mm", at_least=0, at_most=3, typical=(0.4, 1.1)),
    ] = None,
    body_width: Annotated[
        Metres | None, Input("Width of the body at its front corner", "b", "mm", above=0, at_most=4, typical=(1.3, 1.9))
    ] = None,
) -> IdealPair:
    """Return the inner angle at which both front wheels roll about one point, and the turning circle.

    Equation: cot d_o - cot d_i = t/L; D = 2 (L / sin d_o + scrub); R = L cot d_o - t/2; D_w = 2 sqrt((L + o)^2 + (R + b/2)^2); A = (d_i - d_o) / (d_i* - d_o).
    Signs: both angles positive into the turn; scrub radius positive with the axis inboard.
    Valid for: no tyre slip, level ground, steering axes near upright. Static toe is not in these angles: subtract it from readings.
    Caution: turn on plates, car chocked; never reach behind a wheel while somebody else holds the hand wheel.
    Source: Jazar, Vehicle Dynamics: Theory and Application, 2008, chapter 7 (from memory).

    >>> answer = ideal_steer_angles(wheelbase=2.6, track=1.5, outer=radians(20), scrub_radius=0.03)
    >>> round(degrees(answer.inner), 3), round(answer.turning_circle, 3)
    (24.736, 15.264)
    """
    inner = ideal_inner(outer, wheelbase, track)
    if inner >= radians(90):
        raise Refused(
            "outer", "must leave the inner wheel below 90°", f"{degrees(outer):g}°", label="Outer wheel's steer angle"
        )
    if (front_overhang is None) != (body_width is None):
        missing = "front_overhang" if front_overhang is None else "body_width"
        raise Refused(missing, "is needed as well, for the wall circle", label="Body ahead of the axle, or its width")
    measured = None if measured_inner is None else ackermann_share(measured_inner, outer, wheelbase, track)
    radius = turn_radius(outer, wheelbase, track)
    wall = None
    if front_overhang is not None and body_width is not None:
        wall = 2 * hypot(wheelbase + front_overhang, radius + body_width / 2)
    circle = kerb_circle(outer, wheelbase, scrub_radius)
    return IdealPair(inner, inner - outer, mean_angle(inner, outer), circle, radius, wall, measured)


class SteerRatio(NamedTuple):
    """Steering ratio from rack and steering arm, or from a measurement on turn plates."""

    ratio: Annotated[Ratio, Output("Steering ratio", "i_S", "", 4)]
    turns: Annotated[Ratio, Output("Turns of the hand wheel from lock to lock", "n", "", 3)]
    mean_lock: Annotated[
        Radians, Output("Mean steer angle at full lock, small-angle estimate", r"\delta_{max}", "°", 3)
    ]


@calculator(
    title="Steering ratio from rack and steering arm",
    question="How far do I turn the hand wheel for each degree of the road wheels?",
    example={"rack_per_turn": "45 mm", "steering_arm": "112 mm", "lock": "55 mm"},
    working=(Step(r"i_S = \frac{2\pi\,a}{c}", "ratio"), Step(r"n = \frac{2\,u_{max}}{c}", "turns")),
)
def steering_ratio(
    *,
    rack_per_turn: Annotated[
        Metres,
        Input("Rack travel for one turn of the hand wheel", "c", "mm", above=0, at_most=1, typical=(0.035, 0.08)),
    ],
    steering_arm: Annotated[
        Metres,
        Input(
            "Steering arm: from the steering axis to the tie rod's line, square to it",
            "a",
            "mm",
            above=0,
            at_most=1,
            typical=(0.09, 0.18),
        ),
    ],
    lock: Annotated[
        Metres, Input("Rack travel to full lock", "u_{max}", "mm", above=0, at_most=0.5, typical=(0.04, 0.09))
    ],
) -> SteerRatio:
    """Return the steering ratio near straight ahead.

    Equation: i = (2 pi / c) / (1 / a) = 2 pi a / c; turns lock to lock = 2 u / c; mean lock about u / a.
    Valid for: rack steering near straight ahead, tie rod square to the arm. A box: use the rack travel its drop arm gives.
    Source: lever arithmetic, derived.

    >>> round(steering_ratio(rack_per_turn=0.045, steering_arm=0.112, lock=0.055).ratio, 2)
    15.64
    """
    return SteerRatio(2 * pi * steering_arm / rack_per_turn, 2 * lock / rack_per_turn, lock / steering_arm)

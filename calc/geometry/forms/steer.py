"""Steering: both front wheels over the rack's travel, the ideal pair of angles, and the ratio of the steering."""

from collections.abc import Mapping
from math import degrees, pi, radians
from typing import Annotated, Any, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.geometry.centres import drawn_axis
from calc.geometry.forms.examples import DOUBLE_WISHBONE
from calc.geometry.forms.inputs import (
    LinkageKind,
    LoadedRadius,
    Points,
    StaticCamber,
    StaticToe,
    corner_of,
    rows_named,
    spaced,
)
from calc.geometry.motion import Corner
from calc.geometry.moves import moved
from calc.geometry.steering import (
    ideal_inner,
    kerb_circle,
    steer_pair,
    tie_rod_angle,
)
from calc.geometry.wheel import toe_in_rate
from calc.refusal import Refused
from calc.terms import Wheelbase
from calc.units import Metres, Radians, Ratio

_COUNT = 17
_SMALLEST = radians(2)
_TOGGLE = (radians(25), radians(155))

SteerTrack = Annotated[
    Metres,
    Input(
        "Distance of the two steering axes at the ground",
        "t",
        "mm",
        above=0,
        typical=(1.1, 1.7),
        help="The contact track instead if tyre slip is what you are after. Say which when you compare.",
    ),
]


class SteeringSweep(NamedTuple):
    """The front wheels at full lock to the left, and over the rack's travel. Angles positive to the left; static toe is in them."""

    inner: Annotated[Radians, Output("Inner wheel at full lock", r"\delta_i", "°", 4)]
    outer: Annotated[Radians, Output("Outer wheel at full lock", r"\delta_o", "°", 4)]
    ackermann: Annotated[Ratio | None, Output("Ackermann at full lock", "A", "%", 3)]
    toe_out: Annotated[Radians, Output("Toe-out on turns there", r"\delta_i - \delta_o", "°", 4)]
    turning_circle: Annotated[Metres, Output("Turning circle between kerbs, no slip", "D", "m", 4)]
    ratio: Annotated[Ratio, Output("Steering ratio straight ahead: hand wheel over road wheel", "i_S", "", 4)]
    least_angle: Annotated[
        Radians | None,
        Output("Smallest angle between tie rod and steering arm in plan, 90° is best", r"\theta_{min}", "°", 3),
    ]
    rack: Annotated[tuple[Metres, ...], Output("Rack travel to the left", "u", "mm", 4, detail=True)]
    left: Annotated[tuple[Radians, ...], Output("Left wheel", r"\delta_l", "°", 4, detail=True)]
    right: Annotated[tuple[Radians, ...], Output("Right wheel", r"\delta_r", "°", 4, detail=True)]
    ideal: Annotated[
        tuple[Radians, ...],
        Output("Ideal inner wheel for the outer angle, left turn", r"\delta_i^*", "°", 4, detail=True),
    ]
    flags: tuple[str, ...]


def _remarks(result: SteeringSweep, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark(
            "Percent here = (inner − outer) / (ideal inner for this outer − outer). Others divide by something else: compare like with like.",
            about="ackermann",
        )
    ]
    if result.ackermann is not None and result.ackermann < 0:
        remarks.append(
            Remark(
                "The outer wheel turns more than the inner: quick circuits and stiff slicks may like it, car parks and hairpins do not.",
                about="ackermann",
            )
        )
    return tuple(remarks)


def _figures(result: SteeringSweep, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    rows = zip(result.rack, result.left, result.right, result.ideal, strict=True)
    turns = sorted(
        (abs(u), a, b, c) for u, a, b, c in rows if a > 0 and b > 0
    )  # a left turn, whichever way the rack goes
    return (
        Chart(
            "Inner and outer wheel in a left turn",
            "Steer angle of both wheels over rack travel, and the inner angle that would let both roll about one point.",
            Axis("Rack travel", "mm"),
            Axis("Steer angle", "°"),
            (
                Series("Inner", [t[0] for t in turns], [t[1] for t in turns]),
                Series("Outer", [t[0] for t in turns], [t[2] for t in turns]),
                Series("Ideal inner", [t[0] for t in turns], [t[3] for t in turns]),
            ),
        ),
    )


@calculator(
    title="Steering over the rack's travel: Ackermann, turning circle, ratio",
    question="How do the two front wheels steer, and what does moving the rack do to it?",
    example={
        "linkage": "double_wishbone",
        "points": DOUBLE_WISHBONE,
        "loaded_radius": "282 mm",
        "static_camber": "-1.5 deg",
        "static_toe_in": "0.05 deg",
        "lock": "55 mm",
        "rack_per_turn": "45 mm",
        "wheelbase": "2310 mm",
        "track": "1300 mm",
        "rack_forward": "0 mm",
        "rack_up": "0 mm",
    },
    working=(
        Step(r"\cot\delta_o - \cot\delta_i^* = \frac{t}{L}", "ideal"),
        Step(r"A = \frac{\delta_i - \delta_o}{\delta_i^* - \delta_o}", "ackermann"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def steering_geometry(
    *,
    linkage: LinkageKind,
    points: Points,
    loaded_radius: LoadedRadius,
    static_camber: StaticCamber = 0.0,
    static_toe_in: StaticToe = 0.0,
    lock: Annotated[
        Metres, Input("Rack travel to full lock", "u_{max}", "mm", above=0, at_most=0.3, typical=(0.04, 0.09))
    ],
    rack_per_turn: Annotated[
        Metres,
        Input(
            "Rack (or drop-arm end) travel for one turn of the hand wheel",
            "c",
            "mm",
            above=0,
            at_most=1,
            typical=(0.035, 0.08),
        ),
    ],
    wheelbase: Wheelbase,
    track: SteerTrack,
    rack_forward: Annotated[
        Metres,
        Input(
            "Rack moved forward",
            r"\Delta x",
            "mm",
            at_least=-0.2,
            at_most=0.2,
            typical=(-0.03, 0.03),
            help="The tie rods are cut to keep static toe.",
        ),
    ] = 0.0,
    rack_up: Annotated[
        Metres, Input("Rack moved up", r"\Delta z", "mm", at_least=-0.2, at_most=0.2, typical=(-0.02, 0.02))
    ] = 0.0,
) -> SteeringSweep:
    """Return both steer angles over the rack's travel at ride height, Ackermann percentage, turning circle and ratio.

    Equation: cot d_o - cot d_i* = t/L; A = (d_i - d_o) / (d_i* - d_o); D = 2 (L / sin d_o + scrub); ratio = (2 pi / c) / (d delta/d u).
    Signs: steer angles positive to the left, static toe included; rack positive to the left; the rack moved rearward raises Ackermann.
    Valid for: level ground, no tyre slip, ride height; the right side is the mirror image. Undefined at straight ahead: read it at 2 degrees or more.
    Caution: keep the tie rod between 25 and 155 degrees to the steering arm at full lock: at 0 or 180 it toggles and will not come back.
    Source: cotangent rule: Jazar, Vehicle Dynamics, 2008, chapter 7 (from memory); linkage by rigid-body kinematics, checked independently.

    >>> from calc.ask.evaluate import evaluate
    >>> from calc.form import about
    >>> evaluate("steering_geometry", about(steering_geometry).example, figures=False)["outputs"][2]["unit"]
    '%'
    """
    kept = corner_of(linkage, points, loaded_radius, static_camber, static_toe_in)
    rod = kept.linkage.tie_rod
    if rod is None:
        raise Refused("linkage", "must have a tie rod", linkage, label="Linkage")
    with rows_named(points, rack="lock"):
        corner = Corner(moved(kept.linkage, {rod[0]: (rack_forward, 0.0, rack_up)}))
        pairs = [steer_pair(corner, u, wheelbase, track) for u in spaced(-lock, lock, _COUNT)]
        angles = [angle for u in (-lock, lock) if (angle := tie_rod_angle(corner, u)) is not None]
    turn = max(pairs, key=lambda pair: pair.left)
    if turn.right <= 0:
        raise Refused(
            "lock", "must turn both wheels the same way", f"{1000 * lock:g} mm", label="Rack travel to full lock"
        )
    gain = abs(toe_in_rate(corner.spin, corner.state().per_rack.turning))
    axis = drawn_axis(corner, corner.state())
    return SteeringSweep(
        turn.left,
        turn.right,
        turn.ackermann if turn.right >= _SMALLEST else None,
        turn.left - turn.right,
        kerb_circle(turn.right, wheelbase, axis.scrub if axis else 0.0),
        2 * pi / rack_per_turn / gain,
        min((min(a, pi - a) for a in angles), default=None),
        tuple(pair.rack for pair in pairs),
        tuple(pair.left for pair in pairs),
        tuple(pair.right for pair in pairs),
        tuple(ideal_inner(pair.right, wheelbase, track) if pair.right > 0 else pair.left for pair in pairs),
        _warnings(angles),
    )


def _warnings(angles: list[float]) -> tuple[str, ...]:
    bad = [angle for angle in angles if not _TOGGLE[0] <= angle <= _TOGGLE[1]]
    return tuple(
        f"At full lock the tie rod stands at only {degrees(min(a, pi - a)):.0f}° to the steering arm: near 0° the steering toggles and jams."
        for a in bad
    )

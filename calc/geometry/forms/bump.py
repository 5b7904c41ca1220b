"""Bump steer: the toe curve and the shim that flattens it."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.geometry.bump_steer import ToeCurve, best_shim, toe_curve
from calc.geometry.forms.examples import STRUT
from calc.geometry.forms.inputs import (
    Bump,
    Droop,
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
from calc.refusal import Refused
from calc.units import Metres, Radians, RadiansPerMetre, Ratio

_COUNT = 21
_USUAL = 0.035  # rad/m: 0.02 degrees for each 10 mm, common practice

End = Annotated[
    Literal["outer", "inner"],
    Choice("Shim at the tie rod's", {"outer": "wheel end (steering arm)", "inner": "chassis end (rack or box)"}),
]


class BumpSteer(NamedTuple):
    """Toe over travel with the shim that is fitted, and the shim that would make the change least."""

    slope: Annotated[
        RadiansPerMetre, Output("Bump steer at ride height: toe-in for each unit of bump", "a_1", "deg/m", 4)
    ]
    change: Annotated[Radians, Output("Toe change over the travel, rms", r"\tau_{rms}", "°", 3)]
    best_shim: Annotated[Metres, Output("Shim that makes it least, raising that end is positive", "e^*", "mm", 3)]
    best_slope: Annotated[RadiansPerMetre, Output("Bump steer with that shim", "a_1^*", "deg/m", 3)]
    best_change: Annotated[Radians, Output("Toe change with that shim, rms", r"\tau^*_{rms}", "°", 3)]
    off_line: Annotated[Radians, Output("Off a straight line, rms", r"\delta_{rms}", "°", 3)]
    roll_steer: Annotated[Ratio, Output("Roll steer of this wheel: toe-in for each degree of roll, in bump", "", "", 3)]
    curved: Annotated[Radians, Output("Second-order part at full bump", r"a_2 z_{max}^2", "°", 3, detail=True)]
    s_shaped: Annotated[Radians, Output("Third-order part at full bump", r"a_3 z_{max}^3", "°", 3, detail=True)]
    travel: Annotated[tuple[Metres, ...], Output("Wheel travel", "z", "mm", 4, detail=True)]
    toe_in: Annotated[tuple[Radians, ...], Output("Toe-in", r"\tau", "°", 4, detail=True)]
    best_toe_in: Annotated[tuple[Radians, ...], Output("Toe-in with the best shim", r"\tau^*", "°", 4, detail=True)]


def _remarks(result: BumpSteer, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = []
    if abs(result.slope) > _USUAL:
        remarks.append(
            Remark(
                "More than 0.02° for each 10 mm of travel: the car will wander over bumps. Set the shim before changing static toe.",
                "caution",
                "slope",
            )
        )
    if abs(result.best_shim) > 0.03:
        remarks.append(
            Remark(
                "A shim this thick bends a tapered stud or bolt: move the rack or use a proper bump-steer stud in double shear.",
                "caution",
                "best_shim",
            )
        )
    if result.off_line > 0.3 * (result.change + 1e-12) and abs(result.slope) < _USUAL:
        remarks.append(
            Remark(
                "What is left is curved, not sloped: the tie rod has the wrong length for these arms, and no shim mends that.",
                about="off_line",
            )
        )
    return tuple(remarks)


def _figures(result: BumpSteer, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    z = result.travel
    return (
        Chart(
            "Toe-in over travel",
            "Toe-in of the left wheel as it is, and with the shim that makes the change least.",
            Axis("Wheel travel, bump positive", "mm"),
            Axis("Toe-in", "°"),
            (Series("As it is", z, result.toe_in), Series("With the best shim", z, result.best_toe_in)),
        ),
    )


@calculator(
    title="Bump steer and the shim that makes it least",
    question="How much does the wheel steer itself over bumps, and which shim cures it?",
    example={
        "linkage": "strut",
        "points": STRUT,
        "loaded_radius": "300 mm",
        "static_camber": "-1.5 deg",
        "static_toe_in": "0.05 deg",
        "bump": "50 mm",
        "droop": "50 mm",
        "end": "outer",
        "shim": "0 mm",
    },
    working=(
        Step(r"\tau(z) \approx a_0 + a_1 z + a_2 z^2 + a_3 z^3", "slope"),
        Step(r"e^* = \arg\min_e \sum_z (\tau(z) - \tau_0)^2", "best_shim"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def bump_steer(
    *,
    linkage: LinkageKind,
    points: Points,
    loaded_radius: LoadedRadius,
    static_camber: StaticCamber = 0.0,
    static_toe_in: StaticToe = 0.0,
    bump: Bump,
    droop: Droop,
    end: End = "outer",
    shim: Annotated[
        Metres,
        Input(
            "Shim fitted there now, raising that end is positive",
            "e",
            "mm",
            at_least=-0.15,
            at_most=0.15,
            typical=(-0.02, 0.02),
        ),
    ] = 0.0,
) -> BumpSteer:
    """Return the toe curve of the left wheel, its coefficients, and the shim at one end of the tie rod that makes the change least.

    Equation: toe(z) = a0 + a1 z + a2 z^2 + a3 z^3 by least squares, a1 at ride height from the velocity equations; the best shim has the least
    sum of squares of toe(z) - toe(0) over the travel, static toe reset by the tie rod. Roll steer = a1 x half track (one side, no heave).
    Signs: toe-in positive with the front inboard; bump positive; a shim is positive when it raises that end (rod end up, or rack up).
    Valid for: rigid links; the tie rod is cut to keep static toe. Tie rod behind the axle: outer end raised adds toe-out in bump; ahead: toe-in.
    Caution: a shim at a ball joint lengthens the lever on its stud: use parts made for it and follow the scrutineer. Steering parts are safety parts.
    Source: derived; checked against an independent numerical solution. The straightness rule is common practice, no source.

    >>> from calc.ask.evaluate import evaluate
    >>> from calc.form import about
    >>> evaluate("bump_steer", about(bump_steer).example, figures=False)["outputs"][2]["text"]
    '2.62'
    """
    kept = corner_of(linkage, points, loaded_radius, static_camber, static_toe_in)
    rod = kept.linkage.tie_rod
    if rod is None:
        raise Refused(
            "linkage",
            "must have a tie rod or toe link: an arm without one has no shim to set",
            linkage,
            label="Linkage",
        )
    point = rod[1 if end == "outer" else 0]
    travels = spaced(-droop, bump, _COUNT)
    with rows_named(points, travel="bump"):
        fitted = moved(kept.linkage, {point: (0.0, 0.0, shim)})
        curve = toe_curve(Corner(fitted), travels)
        best = best_shim(fitted, point, travels)
        half_track = kept.drawn_contact[1]
    return _answer(curve, best.curve, shim + best.height, half_track)


def _answer(curve: ToeCurve, best: ToeCurve, height: float, half_track: float) -> BumpSteer:
    return BumpSteer(
        curve.slope,
        curve.change,
        height,
        best.slope,
        best.change,
        curve.off_line,
        curve.slope * half_track,
        curve.coefficients[2] * curve.travels[-1] ** 2,
        curve.coefficients[3] * curve.travels[-1] ** 3,
        curve.travels,
        curve.toe,
        best.toe,
    )

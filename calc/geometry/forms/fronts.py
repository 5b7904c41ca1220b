"""A double wishbone in the plane of the front view: instant centre, roll centre, camber gain, and where it locks."""

from collections.abc import Mapping
from math import radians, sin
from typing import Annotated, Any, NamedTuple

from calc.figures.spec import Drawing, Figure, Shape
from calc.form import Input, Output, Remark, Step, calculator
from calc.geometry.planar import front_view, lock_angles
from calc.geometry.solve_errors import Unreachable
from calc.refusal import Refused
from calc.units import Metres, Radians, RadiansPerMetre, Ratio

_FARTHEST = 1.7  # m


def _across(what: str, symbol: str) -> Input:
    return Input(f"{what}, from the centre-line", symbol, "mm", at_least=-2, at_most=3, typical=(0.2, 0.8))


def _height(what: str, symbol: str) -> Input:
    return Input(f"{what}, above ground", symbol, "mm", at_least=-1, at_most=2, typical=(0.1, 0.6))


class FrontView(NamedTuple):
    """What two arms in front view do to the wheel. None when the arms are parallel: the centre is then at infinity."""

    roll_centre: Annotated[Metres, Output("Roll centre above ground", "h_{RC}", "mm", 4)]
    camber_rate: Annotated[RadiansPerMetre, Output("Camber change with travel", r"d\gamma/dz", "deg/m", 4)]
    swing_arm: Annotated[Metres | None, Output("Swing arm, centre inboard positive", "s", "mm", 4)]
    centre_y: Annotated[Metres | None, Output("Instant centre from the centre-line", "y_{ic}", "mm", 4)]
    centre_z: Annotated[Metres | None, Output("Instant centre above ground", "z_{ic}", "mm", 4)]
    slope: Annotated[Ratio, Output("Outboard motion of the contact point for each unit of bump", "m", "", 4)]
    outside_camber: Annotated[
        Ratio, Output("Camber the outer wheel loses to the road for each degree of roll", "", "", 3)
    ]
    flags: tuple[str, ...]


def _front_figures(result: FrontView, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    lower, upper, contact = _arms(inputs)
    shapes = [
        Shape("line", ((0.0, 0.0), (contact[0] + 0.2, 0.0)), "ground"),
        Shape("line", ((0.0, 0.0), (0.0, 0.6)), "construction", "centre-line"),
        Shape("line", lower, "link", "lower arm"),
        Shape("line", upper, "link", "upper arm"),
        Shape("line", (lower[1], upper[1]), "body"),
        Shape("line", (contact, (contact[0], contact[1] + 0.6)), "wheel"),
        Shape("point", ((0.0, result.roll_centre),), "result", "roll centre"),
    ]
    if (
        result.centre_y is not None
        and result.centre_z is not None
        and abs(result.centre_y) < _FARTHEST
        and abs(result.centre_z) < _FARTHEST
    ):
        centre = (result.centre_y, result.centre_z)
        shapes += [Shape("line", (lower[0], centre), "construction"), Shape("line", (upper[0], centre), "construction")]
        shapes += [Shape("line", (contact, centre), "result"), Shape("point", (centre,), "result", "instant centre")]
    else:
        shapes.append(Shape("line", (contact, (0.0, result.roll_centre)), "result"))
    text = "Front view: the arm lines meet at the instant centre; the line from the contact point to it crosses the centre-line at the roll centre."
    return (Drawing("Front view of two arms", text, ("y left", "z up"), tuple(shapes)),)


def _arms(
    inputs: Mapping[str, Any],
) -> tuple[
    tuple[tuple[float, float], tuple[float, float]],
    tuple[tuple[float, float], tuple[float, float]],
    tuple[float, float],
]:
    lower = ((inputs["lower_inner_y"], inputs["lower_inner_z"]), (inputs["lower_outer_y"], inputs["lower_outer_z"]))
    upper = ((inputs["upper_inner_y"], inputs["upper_inner_z"]), (inputs["upper_outer_y"], inputs["upper_outer_z"]))
    return lower, upper, (inputs["half_track"], 0.0)


def _front_remarks(result: FrontView, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            "A plane picture: arms whose pivots slope in side view, and the wheel's steer, need the points in three dimensions.",
            about="roll_centre",
        ),
    )


@calculator(
    title="Instant centre and roll centre from two arms in front view",
    question="Where do my arms put the roll centre, and how much camber do they gain?",
    example={
        "lower_inner_y": "350 mm",
        "lower_inner_z": "180 mm",
        "lower_outer_y": "700 mm",
        "lower_outer_z": "160 mm",
        "upper_inner_y": "420 mm",
        "upper_inner_z": "440 mm",
        "upper_outer_y": "660 mm",
        "upper_outer_z": "480 mm",
        "half_track": "750 mm",
    },
    working=(
        Step(r"m = \frac{z_{ic}}{y_C - y_{ic}}", "slope"),
        Step(r"h_{RC} = y_C\,m", "roll_centre"),
        Step(r"\frac{d\gamma}{dz} = -\frac{1}{y_C - y_{ic}}", "camber_rate"),
    ),
    remarks=_front_remarks,
    figures=_front_figures,
)
def front_view_arms(
    *,
    lower_inner_y: Annotated[Metres, _across("Lower arm, inner pivot", "y_1")],
    lower_inner_z: Annotated[Metres, _height("Lower arm, inner pivot", "z_1")],
    lower_outer_y: Annotated[Metres, _across("Lower arm, outer joint", "y_2")],
    lower_outer_z: Annotated[Metres, _height("Lower arm, outer joint", "z_2")],
    upper_inner_y: Annotated[Metres, _across("Upper arm, inner pivot", "y_3")],
    upper_inner_z: Annotated[Metres, _height("Upper arm, inner pivot", "z_3")],
    upper_outer_y: Annotated[Metres, _across("Upper arm, outer joint", "y_4")],
    upper_outer_z: Annotated[Metres, _height("Upper arm, outer joint", "z_4")],
    half_track: Annotated[Metres, Input("Half the track", "y_C", "mm", above=0, at_most=3, typical=(0.6, 0.9))],
) -> FrontView:
    """Return instant centre, roll centre and camber change of a double wishbone in the plane of the front view.

    Equation: the arm lines meet at I; m = z_I / (y_C - y_I); roll centre height = y_C m; camber rate = -1 / (y_C - y_I);
    the outer wheel's camber to the road changes by roll x (1 - half track / swing arm).
    Signs: y outboard, z up; swing arm positive when the centre is inboard of the contact point; camber positive with the top outboard.
    Valid for: small travel, pivot axes along the car. Parallel arms: the centre is at infinity and only their slope counts.
    Source: plane kinematics, closed form (from memory).

    >>> answer = front_view_arms(lower_inner_y=0.35, lower_inner_z=0.18, lower_outer_y=0.7, lower_outer_z=0.16, upper_inner_y=0.42, upper_inner_z=0.44,
    ...     upper_outer_y=0.66, upper_outer_z=0.48, half_track=0.75)
    >>> round(answer.roll_centre, 6), round(answer.swing_arm, 6)
    (0.12093, 1.509574)
    """
    for one, other, name in (
        ((lower_inner_y, lower_inner_z), (lower_outer_y, lower_outer_z), "lower"),
        ((upper_inner_y, upper_inner_z), (upper_outer_y, upper_outer_z), "upper"),
    ):
        if abs(one[0] - other[0]) < 1e-3:
            raise Refused(
                f"{name}_outer_y",
                "must differ from the inner pivot's: the arm would stand upright",
                f"{1000 * other[0]:g} mm",
                label=f"{name.capitalize()} arm, outer joint",
            )
    lower, upper = (
        ((lower_inner_y, lower_inner_z), (lower_outer_y, lower_outer_z)),
        ((upper_inner_y, upper_inner_z), (upper_outer_y, upper_outer_z)),
    )
    try:
        seen = front_view(lower, upper, (half_track, 0.0))
    except Unreachable:
        raise Refused(
            "half_track",
            "must not put the contact point straight below the instant centre",
            f"{1000 * half_track:g} mm",
            label="Half the track",
        ) from None
    flag = f"The arms are parallel: the instant centre is at infinity, along a line that rises {1000 * seen.slope:.1f} mm for each metre inboard."
    y, z = seen.centre or (None, None)
    loss = 1.0 if seen.swing_arm is None else 1.0 - half_track / seen.swing_arm
    return FrontView(
        seen.roll_centre_height,
        seen.camber_rate,
        seen.swing_arm,
        y,
        z,
        seen.slope,
        loss,
        () if seen.centre else (flag,),
    )


class Locks(NamedTuple):
    """Lower-arm angles from horizontal at which the linkage locks, outer end up positive; none: no such lock within 86 degrees."""

    droop: Annotated[Radians | None, Output("Locks in droop at a lower-arm angle of", r"\theta_-", "°", 4)]
    bump: Annotated[Radians | None, Output("Locks in bump, stretched, at", r"\theta_+", "°", 4)]
    folded: Annotated[Radians | None, Output("Upper arm folds onto the knuckle at", r"\theta_f", "°", 4)]
    droop_travel: Annotated[Metres | None, Output("Outer joint drops until then by", "z_-", "mm", 3)]
    flags: tuple[str, ...]


@calculator(
    title="Where a double wishbone locks",
    question="At which arm angle does the linkage lock?",
    example={
        "lower_arm": "340 mm",
        "upper_arm": "220 mm",
        "knuckle": "300 mm",
        "pivot_outboard": "80 mm",
        "pivot_up": "270 mm",
    },
    working=(Step(r"|B(\theta) - P| = b + k \ \text{(stretched)},\quad |b - k|\ \text{(folded)}", "droop"),),
)
def lock_out(
    *,
    lower_arm: Annotated[Metres, Input("Lower arm", "a", "mm", above=0, at_most=2, typical=(0.25, 0.45))],
    upper_arm: Annotated[Metres, Input("Upper arm", "b", "mm", above=0, at_most=2, typical=(0.15, 0.35))],
    knuckle: Annotated[Metres, Input("Knuckle, joint to joint", "k", "mm", above=0, at_most=2, typical=(0.2, 0.45))],
    pivot_outboard: Annotated[
        Metres, Input("Upper pivot outboard of the lower one", "p_y", "mm", at_least=-1, at_most=1, typical=(0, 0.15))
    ],
    pivot_up: Annotated[
        Metres, Input("Upper pivot above the lower one", "p_z", "mm", above=0, at_most=2, typical=(0.2, 0.4))
    ],
) -> Locks:
    """Return the lower-arm angles at which a plane double wishbone locks.

    Equation: with B the outer end of the lower arm and P the upper pivot, |B - P| = b + k (arm and knuckle in line) or |b - k| (folded).
    Signs: angle from horizontal, outer end up positive.
    Valid for: the plane of the front view, within 86 degrees. In three dimensions steering moves the limit.
    Caution: stops, not the linkage, must end the travel, well short of a lock.
    Source: triangle inequality, closed form (from memory).

    >>> from math import degrees
    >>> round(degrees(lock_out(lower_arm=0.34, upper_arm=0.22, knuckle=0.3, pivot_outboard=0.08, pivot_up=0.27).droop), 4)
    -39.7253
    """
    found = lock_angles(lower_arm, upper_arm, knuckle, (pivot_outboard, pivot_up))
    near = [angle for angle in found if angle is not None and abs(angle) < radians(15)]
    flags = ("The linkage locks within 15° of level: that is within the travel of most cars.",) if near else ()
    return Locks(*found, None if found.droop is None else -lower_arm * sin(found.droop), flags)

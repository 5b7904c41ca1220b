"""Rigid axles and beams by closed form: Panhard rod, Watt linkage, leaf springs, torsion beam."""

from collections.abc import Mapping
from math import asin
from typing import Annotated, Any, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.geometry.forms.inputs import spaced
from calc.geometry.planar import leaf_path, panhard_shift
from calc.geometry.solve_errors import Unreachable
from calc.refusal import Refused
from calc.units import Metres, Radians, Ratio

_Rise = Input("Axle rises by", "z", "mm", at_least=-0.5, at_most=0.5, typical=(-0.1, 0.1))


def _beyond(rise: float) -> Refused:
    return Refused("rise", "must be within reach of the links", f"{1000 * rise:g} mm", label="Axle rises by")


class Panhard(NamedTuple):
    """How far a Panhard rod pulls the axle sideways, and where it puts the roll centre."""

    shift: Annotated[Metres, Output("Axle moves towards the rod's chassis end", r"\Delta y", "mm", 3)]
    crossing_height: Annotated[
        Metres, Output("Roll centre: height of the rod where it crosses the car's centre-line", "h", "mm", 4)
    ]
    slope: Annotated[Ratio, Output("Slope of the rod", "", "", 3)]


def _panhard_remarks(result: Panhard, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    if abs(result.shift) > 0.006:
        return (
            Remark(
                "More than 6 mm sideways: the car steps sideways over bumps. A longer and, at ride height, level rod is calmer; a Watt linkage has next to none.",
                "caution",
                "shift",
            ),
        )
    return (Remark("Mount the rod level at ride height, and as long as the car allows.", about="shift"),)


def _panhard_figures(result: Panhard, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    z = spaced(-0.08, 0.08, 17)
    try:
        y = [panhard_shift(inputs["run"], inputs["below"], value) for value in z]
    except Unreachable:
        return ()
    return (
        Chart(
            "Sideways shift over travel",
            "How far the axle moves towards the chassis end of the rod.",
            Axis("Axle travel", "mm"),
            Axis("Shift", "mm"),
            (Series("Panhard rod", z, y),),
        ),
    )


@calculator(
    title="Panhard rod: sideways shift and roll centre",
    question="How far does the rod pull the axle sideways over a bump?",
    example={
        "run": "950 mm",
        "below": "30 mm",
        "rise": "60 mm",
        "chassis_height": "336 mm",
        "chassis_offset": "485 mm",
    },
    working=(
        Step(r"\Delta y = y - \sqrt{y^2 + d^2 - (z - d)^2}", "shift"),
        Step(r"h = z_c - d\,\frac{y_c}{y}", "crossing_height"),
    ),
    remarks=_panhard_remarks,
    figures=_panhard_figures,
)
def panhard_rod(
    *,
    run: Annotated[
        Metres, Input("Length of the rod across the car", "y", "mm", above=0, at_most=3, typical=(0.6, 1.1))
    ],
    below: Annotated[
        Metres, Input("Axle end below the chassis end", "d", "mm", at_least=-1, at_most=1, typical=(-0.05, 0.06))
    ] = 0.0,
    rise: Annotated[Metres, _Rise],
    chassis_height: Annotated[
        Metres, Input("Chassis end above the ground", "z_c", "mm", above=0, at_most=2, typical=(0.2, 0.5))
    ],
    chassis_offset: Annotated[
        Metres, Input("Chassis end from the centre-line", "y_c", "mm", at_least=0, at_most=2, typical=(0.35, 0.6))
    ],
) -> Panhard:
    """Return the sideways shift of an axle on a Panhard rod in heave, and the height at which the rod crosses the centre-line.

    Equation: shift = y - sqrt(y^2 + d^2 - (z - d)^2); crossing height = z_c - d y_c / y in the rod's own transverse plane.
    Signs: shift positive towards the chassis end; d positive with the axle end lower; z positive in bump.
    Valid for: heave without roll. A rod behind the axle: carry the crossing point along the roll axis to the axle's plane.
    Caution: the axle shifts left in one turn's bump and right in the other's: left and right turns jack differently.
    Source: right triangle, closed form.

    >>> round(panhard_rod(run=0.94, below=0.02, rise=0.08, chassis_height=0.33, chassis_offset=0.48).shift, 6)
    0.001704
    """
    try:
        shift = panhard_shift(run, below, rise)
    except Unreachable:
        raise _beyond(rise) from None
    return Panhard(shift, chassis_height - below * chassis_offset / run, below / run)


class Watt(NamedTuple):
    """How far from straight a Watt linkage lets the axle run."""

    shift: Annotated[Metres, Output("Sideways shift of the axle, about", r"\Delta y", "mm", 2)]
    rod_angle: Annotated[Radians, Output("Rods turn by", r"\alpha", "°", 3)]


@calculator(
    title="Watt linkage: how straight it runs",
    question="How far does a Watt linkage let the axle shift sideways?",
    example={"rod": "500 mm", "half_crank": "75 mm", "rise": "80 mm"},
    working=(Step(r"\Delta y \approx \frac{z^5}{8\,c\,l^3}", "shift"),),
)
def watt_linkage(
    *,
    rod: Annotated[Metres, Input("Length of each rod", "l", "mm", above=0, at_most=2, typical=(0.3, 0.7))],
    half_crank: Annotated[
        Metres, Input("Half the crank: pivot to one end", "c", "mm", above=0, at_most=1, typical=(0.05, 0.12))
    ],
    rise: Annotated[Metres, _Rise],
) -> Watt:
    """Return about how far a Watt linkage with equal arms lets the axle shift in heave.

    Equation: shift about z^5 / (8 c l^3): fifth order and odd in z; the rods turn by asin(z / l).
    Signs: z positive in bump; the size is what matters, the side follows the mounting.
    Valid for: crank upright, arms equal and rods level at ride height, travel well below the rod's length. A real axle's fore-aft travel adds a small second-order part.
    Source: series of the plane linkage, derived; checked against the full linkage in the tests.

    >>> round(1000 * watt_linkage(rod=0.5, half_crank=0.075, rise=0.08).shift, 4)
    0.0437
    """
    if abs(rise) >= 0.5 * rod:
        raise Refused(
            "rise",
            "must stay below half the rod's length: the formula is for small angles",
            f"{1000 * rise:g} mm",
            label="Axle rises by",
        )
    return Watt(rise**5 / (8 * half_crank * rod**3), asin(rise / rod))


class Leaf(NamedTuple):
    """The path of a leaf-sprung axle on its equivalent arm."""

    dx: Annotated[Metres, Output("Axle moves forward", r"\Delta x", "mm", 3)]
    slope: Annotated[Ratio, Output("Forward motion for each unit of bump at ride height", "b", "", 3)]
    arm: Annotated[Metres, Output("Equivalent arm", "l_e", "mm", 4)]
    roll_steer: Annotated[
        Ratio, Output("Roll steer at ride height, rear axle: positive is oversteer", r"\varepsilon", "%", 3)
    ]
    roll_centre: Annotated[Metres, Output("Roll centre, about", "h_{RC}", "mm", 3)]


@calculator(
    title="Leaf springs: path of the axle",
    question="How does a leaf-sprung axle move and steer over bumps?",
    example={
        "front_half": "620 mm",
        "eye_height": "300 mm",
        "seat_height": "280 mm",
        "rear_eye_height": "320 mm",
        "rise": "50 mm",
    },
    working=(Step(r"l_e = 0.75\,l_f", "arm"),),
)
def leaf_spring_axle(
    *,
    front_half: Annotated[
        Metres,
        Input("Front half of the spring: eye to axle seat", "l_f", "mm", above=0, at_most=2, typical=(0.45, 0.75)),
    ],
    eye_height: Annotated[Metres, Input("Front eye above ground", "z_e", "mm", above=0, at_most=2, typical=(0.2, 0.5))],
    seat_height: Annotated[
        Metres, Input("Spring seat on the axle above ground", "z_s", "mm", above=0, at_most=2, typical=(0.2, 0.5))
    ],
    rear_eye_height: Annotated[
        Metres, Input("Rear eye above ground", "z_r", "mm", above=0, at_most=2, typical=(0.2, 0.5))
    ],
    rise: Annotated[Metres, _Rise],
) -> Leaf:
    """Return the path of an axle on leaf springs by the three-quarter rule. An approximation, good to 10 %.

    Equation: an arm of 0.75 of the front half, hinged at the height of the front eye; dx = x_p - sqrt(l_e^2 - (z - d)^2), d = eye above seat;
    roll steer = -dx/dz of that arm; roll centre about the mean height of the eyes at the axle.
    Signs: x forward, z up; positive roll steer at the rear axle is roll oversteer.
    Valid for: springs of nearly even strength along their length, eyes ahead of and behind the axle, shackle at the rear.
    Caution: never loosen a leaf spring's clamp or shackle under load.
    Source: three-quarter rule of a half leaf of uniform strength, from memory (tradition of the SAE leaf spring manual).

    >>> round(leaf_spring_axle(front_half=0.62, eye_height=0.3, seat_height=0.3, rear_eye_height=0.3, rise=0.06).dx, 6)
    0.003887
    """
    try:
        dx, slope = leaf_path(front_half, eye_height, seat_height, rise)
    except Unreachable:
        raise _beyond(rise) from None
    return Leaf(dx, slope, 0.75 * front_half, -slope, (eye_height + rear_eye_height) / 2)

"""Axle loads in a straight line: accelerating or braking, up or down a hill, with the air pushing."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.terms import CarMass, CgHeight, FrontShare, Wheelbase
from calc.units import STANDARD_GRAVITY, MetresPerSecondSquared, Newtons, Radians, Ratio

SignedAcceleration = Annotated[
    MetresPerSecondSquared,
    Input(
        "Acceleration along the car",
        "a_x",
        "g",
        typical=(-2 * STANDARD_GRAVITY, 1.2 * STANDARD_GRAVITY),
        help="Negative while braking.",
    ),
]
Grade = Annotated[
    Ratio,
    Input(
        "Grade of the road, rise over run",
        "i",
        "%",
        typical=(-0.25, 0.25),
        help="Positive with the nose uphill. 12 % is 6.84°.",
    ),
]
FrontAero = Annotated[
    Newtons,
    Input(
        "Aerodynamic load on the front axle",
        "F_{af}",
        "N",
        typical=(-500, 5000),
        help="The drag moment included, as axle scales in a wind tunnel read it.",
    ),
]
RearAero = Annotated[
    Newtons,
    Input("Aerodynamic load on the rear axle", "F_{ar}", "N", typical=(-500, 8000), help="The drag moment included."),
]


class StraightLoads(NamedTuple):
    """Axle loads square to the road."""

    front_load: Annotated[Newtons, Output("Front axle load", "F_f", "N")]
    rear_load: Annotated[Newtons, Output("Rear axle load", "F_r", "N")]
    front_share: Annotated[Ratio | None, Output("Front share of the load", "w_f'", "%")]
    acceleration_transfer: Annotated[Newtons, Output("Load moved to the rear by the acceleration", r"\Delta F_x", "N")]
    grade_transfer: Annotated[Newtons, Output("Load moved to the rear by the grade", r"\Delta F_i", "N")]
    road_force: Annotated[Newtons, Output("Force the tyres need along the road, drag apart", "F_x", "N")]
    grade_angle: Annotated[Radians, Output("Angle of the grade", r"\theta", "°", 3, detail=True)]
    front_lift: Annotated[
        MetresPerSecondSquared, Output("Acceleration at which the front axle lifts", "a_{lf}", "g", 3, detail=True)
    ]
    rear_lift: Annotated[
        MetresPerSecondSquared,
        Output("Braking, as a negative acceleration, at which the rear axle lifts", "a_{lr}", "g", 3, detail=True),
    ]
    flags: tuple[str, ...]


def _remarks(result: StraightLoads, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark(
            "Springs, dampers and anti-dive set how fast and how far the car pitches, not how much load moves.",
            about="acceleration_transfer",
        )
    ]
    if abs(inputs["grade"]) >= 1:
        remarks.append(
            Remark("A grade of 100 % is 45°: check that the grade was not given as an angle.", "caution", "grade")
        )
    return tuple(remarks)


def _figures(result: StraightLoads, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    low, high = result.rear_lift, result.front_lift
    low, high = max(low, -2 * STANDARD_GRAVITY), min(high, 1.5 * STANDARD_GRAVITY)
    here = inputs["acceleration"]
    low, high = min(low, here), max(high, here)
    steps = [low + (high - low) * i / 20 for i in range(21)]
    slope = inputs["mass"] * inputs["cg_height"] / inputs["wheelbase"]
    free_front, free_rear = result.front_load + slope * here, result.rear_load - slope * here
    total = free_front + free_rear
    if result.flags:
        free_front, free_rear = _at_rest(inputs)
        total = free_front + free_rear
    return (
        Chart(
            "Axle loads against acceleration",
            "Braking loads the front, accelerating the rear, each newton from one going to the other, until an axle lifts.",
            Axis("Acceleration", "g"),
            Axis("Axle load", "N"),
            (
                Series("Front axle", steps, [min(total, max(0.0, free_front - slope * a)) for a in steps]),
                Series("Rear axle", steps, [min(total, max(0.0, free_rear + slope * a)) for a in steps]),
                Series("Here", [here, here], [result.front_load, result.rear_load], points=True),
            ),
        ),
    )


def _at_rest(inputs: Mapping[str, Any]) -> tuple[float, float]:
    """Return the axle loads at steady speed on the grade, the air included."""
    angle, length, weight = math.atan(inputs["grade"]), inputs["wheelbase"], inputs["mass"] * STANDARD_GRAVITY
    lean = weight * inputs["cg_height"] * math.sin(angle) / length
    front = weight * inputs["front_share"] * math.cos(angle) - lean + inputs["front_aero"]
    rear = weight * (1 - inputs["front_share"]) * math.cos(angle) + lean + inputs["rear_aero"]
    return front, rear


@calculator(
    title="Axle loads: acceleration, grade and air",
    question="What does each axle carry while the car brakes or accelerates, on a hill, at speed?",
    example={
        "mass": "1160 kg",
        "wheelbase": "2560 mm",
        "front_share": "52.6 %",
        "cg_height": "480 mm",
        "acceleration": "-1 g",
        "grade": "-8 %",
        "front_aero": "250 N",
        "rear_aero": "620 N",
    },
    working=(
        Step(r"\theta = \arctan i", "grade_angle"),
        Step(r"\Delta F_x = \frac{m \, a_x \, h}{L}", "acceleration_transfer"),
        Step(r"\Delta F_i = \frac{m \, g \, h \sin \theta}{L}", "grade_transfer"),
        Step(r"F_f = m \, g \, w_f \cos \theta - \Delta F_x - \Delta F_i + F_{af}", "front_load"),
        Step(r"F_r = m \, g \, (1 - w_f) \cos \theta + \Delta F_x + \Delta F_i + F_{ar}", "rear_load"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def straight_line_loads(
    *,
    mass: CarMass,
    wheelbase: Wheelbase,
    front_share: FrontShare,
    cg_height: CgHeight,
    acceleration: SignedAcceleration = 0.0,
    grade: Grade = 0.0,
    front_aero: FrontAero = 0.0,
    rear_aero: RearAero = 0.0,
) -> StraightLoads:
    """Return both axle loads in a straight line with acceleration, grade and aerodynamic load together.

    Equation: front W (b cos(theta) - h sin(theta))/L - m a_x h/L, rear W (a cos(theta) + h sin(theta))/L + m a_x h/L, theta = atan(grade).
    Signs: acceleration is positive forward, so braking is negative and loads the front; a nose uphill is a positive grade.
    Valid for: steady state, all wheels on the ground. The aerodynamic axle loads hold the moment of the drag already: do not add it again.
    Caution: springs and anti-dive do not change these loads.
    Source: moment balance about the contact lines.

    >>> found = straight_line_loads(mass=1000, wheelbase=2.5, front_share=0.5, cg_height=0.5, acceleration=-9.80665)
    >>> round(found.front_load, 3), round(found.rear_load, 3)
    (6864.655, 2941.995)
    """
    angle, slope = math.atan(grade), mass * cg_height / wheelbase
    front_free, rear_free = _at_rest(locals())
    moved = slope * acceleration
    total = front_free + rear_free
    front, rear = front_free - moved, rear_free + moved
    flags: tuple[str, ...] = ()
    if front < 0 or rear < 0:
        name, other = ("front", "rear") if front < 0 else ("rear", "front")
        flags = (f"The {name} axle lifts: the {other} wheels carry all there is, and the formula ends here.",)
        front, rear = (0.0, max(total, 0.0)) if front < 0 else (max(total, 0.0), 0.0)
    if total <= 0:
        flags = ("The air lifts the whole car: neither axle carries anything.",)
    return StraightLoads(
        front_load=front,
        rear_load=rear,
        front_share=front / total if total > 0 else None,
        acceleration_transfer=moved,
        grade_transfer=mass * STANDARD_GRAVITY * math.sin(angle) * cg_height / wheelbase,
        road_force=mass * (acceleration + STANDARD_GRAVITY * math.sin(angle)),
        grade_angle=angle,
        front_lift=front_free / slope,
        rear_lift=-rear_free / slope,
        flags=flags,
    )

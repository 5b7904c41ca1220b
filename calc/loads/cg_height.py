"""Height of the centre of gravity, from lifting one axle or from tilting the car to one side."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Drawing, Figure, Series, Shape
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.loads.tilt_fit import Fit, fit
from calc.refusal import Refused
from calc.terms import CarMass, Wheelbase
from calc.units import Kilograms, Metres, Radians

SMALLEST_ANGLE = math.radians(10.0)  # below it a kilogram on the scales is worth too many millimetres


class Lift(NamedTuple):
    """One lift: how far the hub went up, and what the axle that stayed down weighed then."""

    lift: Annotated[Metres, Input("Lift of the raised hubs", "H", "mm", above=0, typical=(0.3, 1.0))]
    reading: Annotated[Kilograms, Input("Scales under the standing axle, car lifted", "m_i'", "kg", above=0)]


class LiftedHeight(NamedTuple):
    """Height of the centre of gravity from the lifts, and how sure it is."""

    cg_height: Annotated[Metres, Output("Height of the centre of gravity", "h", "mm")]
    uncertainty: Annotated[Metres, Output("Uncertainty of the height from the scales", r"\delta h", "mm", 2)]
    scatter: Annotated[
        Metres | None, Output("Standard error of the height from the scatter of the lifts", "s_h", "mm", 2)
    ]
    per_kilogram: Annotated[
        Metres,
        Output("Error of the height for 1 kg of error in the change, at the largest lift", r"\delta h_1", "mm", 3),
    ]
    above_hubs: Annotated[Metres, Output("Height above the line of the hubs", r"\Delta h", "mm", detail=True)]
    hub_height: Annotated[Metres, Output("Height of the line of the hubs under it", "r_m", "mm", detail=True)]
    angles: Annotated[tuple[Radians, ...], Output("Angle of each lift", r"\alpha_i", "°", detail=True)]
    heights: Annotated[tuple[Metres, ...], Output("Height from each lift alone", "h_i", "mm", detail=True)]
    worst_residual: Annotated[Kilograms, Output("Largest distance of a reading from the line", "r_{max}", "kg", 2)]
    flags: tuple[str, ...]


class LiftedCar(NamedTuple):
    """Geometry of a car on its wheels, seen from the axle that stays down: hubs at ``standing`` and ``raised`` height."""

    wheelbase: float
    standing: float
    raised: float

    def angle(self, lift: float) -> float:
        """Return the angle of a lift: L sin(alpha) + e cos(alpha) = e + H for hubs that differ in height by e."""
        step = self.raised - self.standing
        sine = (step + lift) / math.hypot(self.wheelbase, step)
        if lift >= self.wheelbase or not sine < 1:
            limit = min(self.wheelbase, math.hypot(self.wheelbase, step) - step)
            raise Refused(
                "lift",
                f"must be less than {quantity(limit, 'mm')}, where the car would stand on end",
                quantity(lift, "mm"),
            )
        return math.asin(sine) - math.atan2(step, self.wheelbase)

    def arm(self, angle: float) -> float:
        """Return the load moved to the standing axle, as a share of the weight, for each metre above the hubs."""
        return 1.0 / (self.wheelbase / math.tan(angle) - (self.raised - self.standing))


def _remarks(result: LiftedHeight, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark(
            "Chock the standing wheels, lift by strong points, use rated stands, and keep everyone clear of the raised end and out from under it.",
            "caution",
        ),
        Remark(
            "Suspension locked at ride height, tyres hard, brakes off, wheels free to roll, driver or equal ballast strapped in.",
            about="cg_height",
        ),
    ]
    if len(inputs["lifts"]) == 1:
        remarks.append(
            Remark(
                "One lift cannot show whether something moved. Take two or three more, at other heights.",
                about="scatter",
            )
        )
    if not 0.1 <= result.cg_height <= 1.5:
        remarks.append(
            Remark(
                "Outside 100 to 1500 mm: check which axle was lifted, the units, and that the suspension was locked.",
                "caution",
                "cg_height",
            )
        )
    if result.above_hubs < 0:
        remarks.append(
            Remark(
                "The standing axle lost load: the centre of gravity lies below the hubs, which is possible on a very low car.",
                about="cg_height",
            )
        )
    return tuple(remarks)


def _figures(result: LiftedHeight, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    tangents = [math.tan(angle) for angle in result.angles]
    level = inputs["level_reading"]
    car = _car(inputs)
    top = max(result.angles)
    sweep = [top * i / 20 for i in range(1, 21)]
    line = [inputs["mass"] * result.above_hubs * car.arm(angle) for angle in sweep]
    chart = Chart(
        "Load moved against the slope of the car",
        "The readings should lie on one straight line from zero; a curve means that springs, tyres, fuel or the driver moved.",
        Axis("Tangent of the lift angle"),
        Axis("Load moved to the standing axle", "kg"),
        (
            Series("Line through the readings", [0.0, *(math.tan(a) for a in sweep)], [0.0, *line]),
            Series("Readings", tangents, [row.reading - level for row in inputs["lifts"]], points=True),
        ),
    )
    return (chart, _drawing(result, inputs, car))


def _drawing(result: LiftedHeight, inputs: Mapping[str, Any], car: LiftedCar) -> Drawing:
    angle, share = max(result.angles), inputs["level_reading"] / inputs["mass"]
    behind = car.wheelbase * (1 - share)

    def turned(x: float, z: float) -> tuple[float, float]:
        up = z - car.standing
        return x * math.cos(angle) - up * math.sin(angle), car.standing + x * math.sin(angle) + up * math.cos(angle)

    hub, point = turned(car.wheelbase, car.raised), turned(behind, result.cg_height)
    return Drawing(
        "The car at its largest lift",
        f"Side view: the standing wheel on the scales, the other hub lifted by {math.degrees(angle):.1f} degrees, the centre of gravity between.",
        ("along", "z up"),
        (
            Shape("line", ((-0.5, 0.0), (car.wheelbase + 0.5, 0.0)), "ground"),
            Shape("circle", ((0.0, car.standing),), "wheel", "standing axle", car.standing),
            Shape("circle", (hub,), "wheel", "raised axle", car.raised),
            Shape("line", ((0.0, car.standing), hub), "construction"),
            Shape("point", (point,), "result", "centre of gravity"),
            Shape("arrow", (point, (point[0], 0.02)), "force"),
        ),
    )


def _car(inputs: Mapping[str, Any]) -> LiftedCar:
    radii = inputs["front_radius"], inputs["rear_radius"]
    return LiftedCar(inputs["wheelbase"], *(radii if inputs["raised"] == "rear" else reversed(radii)))


@calculator(
    title="Height of the centre of gravity by lifting an axle",
    question="How high is the centre of gravity, and how well do I know it?",
    example={
        "mass": "1160 kg",
        "wheelbase": "2560 mm",
        "level_reading": "610 kg",
        "front_radius": "305 mm",
        "rear_radius": "305 mm",
        "lifts": [["450 mm", "624.3 kg"], ["600 mm", "629 kg"], ["750 mm", "634.6 kg"]],
        "scale_error": "0.5 kg",
    },
    working=(
        Step(r"L \sin \alpha_i + (r_r - r_f) \cos \alpha_i = (r_r - r_f) + H_i", "angles"),
        Step(r"m_i' - m_a = m \, \Delta h \, \frac{1}{L / \tan \alpha_i - (r_r - r_f)}", "above_hubs"),
        Step(r"h = r_m + \Delta h", "cg_height"),
        Step(
            r"\delta h_1 = \frac{1\,\mathrm{kg}}{m} \left( \frac{L}{\tan \alpha} - (r_r - r_f) \right)", "per_kilogram"
        ),
    ),
    remarks=_remarks,
    figures=_figures,
)
def cg_height_lift(
    *,
    mass: CarMass,
    wheelbase: Wheelbase,
    raised: Annotated[
        Literal["rear", "front"],
        Choice(
            "The axle that is lifted",
            {"rear": "the rear axle; read the front scales", "front": "the front axle; read the rear scales"},
        ),
    ] = "rear",
    level_reading: Annotated[Kilograms, Input("Scales under the standing axle, car level", "m_a", "kg", above=0)],
    front_radius: Annotated[
        Metres, Input("Loaded radius of the front tyres", "r_f", "mm", above=0, typical=(0.22, 0.36))
    ],
    rear_radius: Annotated[
        Metres, Input("Loaded radius of the rear tyres", "r_r", "mm", above=0, typical=(0.22, 0.36))
    ],
    lifts: Annotated[tuple[Lift, ...], Input("Lifts", help="The rise of the hub, not of the body and not of the pad.")],
    scale_error: Annotated[
        Kilograms, Input("How far one axle reading may be off", r"\delta m", "kg", at_least=0, typical=(0.1, 2))
    ] = 0.5,
) -> LiftedHeight:
    """Return the height of the centre of gravity from one or more lifts of one axle, with its uncertainty.

    Equation: L sin(alpha) + e cos(alpha) = e + H with e = r_r - r_f;  h = r_f b/L + r_r a/L + (dm/m) (L/tan(alpha) - e).
    Several lifts: the straight line of least squares through all readings, the level one included.
    Signs: dm is the gain of the axle that stays down; a loss means a centre of gravity below the hubs. Lifting the front mirrors the formula.
    Valid for: a rigid car: suspension locked with solid links, tyres at high pressure, wheels free to roll, fluids and driver fixed; 10° or more.
    Caution: a car on one axle can roll off or fall: chocks, rated stands, level hard ground, nobody under or behind it.
    Source: moment balance of a rigid body turned about the standing hub, exact for unequal radii; compare R. Gray, Finding the height of the
    center of gravity, 1997, and Winkler, Campbell and Mink, UMTRI-91-4, 1991, for how far laboratories differ.

    >>> found = cg_height_lift(mass=9000 / 9.80665, wheelbase=2.5, level_reading=4140 / 9.80665, front_radius=0.29, rear_radius=0.29,
    ...     lifts=(Lift(0.6, 4309.1024 / 9.80665),))
    >>> round(found.cg_height, 4)
    0.48
    """
    car = _car(locals())
    if level_reading >= mass:
        raise Refused(
            "level_reading",
            f"must be less than the mass of the car, {quantity(mass, 'kg')}",
            quantity(level_reading, "kg"),
        )
    angles = tuple(_angle(car, row, n, mass) for n, row in enumerate(lifts, start=1))
    arms = [mass * car.arm(angle) for angle in angles]
    found = fit((1.0,) * (len(arms) + 1), (0.0, *arms), (level_reading, *(row.reading for row in lifts)))
    share = level_reading / mass
    hubs = car.standing * share + car.raised * (1 - share)
    return LiftedHeight(
        cg_height=hubs + found.slope,
        uncertainty=scale_error * found.slope_per_error,
        scatter=found.slope_scatter,
        per_kilogram=1.0 / max(arms),
        above_hubs=found.slope,
        hub_height=hubs,
        angles=angles,
        heights=tuple(hubs + (row.reading - level_reading) / arm for row, arm in zip(lifts, arms, strict=True)),
        worst_residual=found.worst_residual,
        flags=flags(found, max(angles), scale_error, hubs + found.slope),
    )


def _angle(car: LiftedCar, row: Lift, number: int, mass: float) -> float:
    if row.reading >= mass:
        raise Refused(
            f"lifts[{number}].reading",
            f"must be less than the mass of the car, {quantity(mass, 'kg')}",
            quantity(row.reading, "kg"),
        )
    try:
        return car.angle(row.lift)
    except Refused as problem:
        raise Refused(f"lifts[{number}].lift", problem.rule, problem.value, label="Lift of the raised hubs") from None


def flags(found: Fit, largest: float, scale_error: float, height: float) -> tuple[str, ...]:
    """Return the cautions that a set of tilts deserves."""
    said = []
    if largest < SMALLEST_ANGLE:
        said.append(
            "The largest angle is below 10°: a small error of the scales is a large error of the height. Go higher, safely."
        )
    if found.freedom > 0 and found.worst_residual > 3 * scale_error > 0:
        said.append(
            "The readings do not lie on one line within the accuracy of the scales: something moved (springs, tyres, fuel, driver)."
        )
    if height <= 0:
        said.append("The height came out below the ground: the readings cannot be right.")
    return tuple(said)

"""Height of the centre of gravity from tilting the car to one side."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.loads.cg_height import flags
from calc.loads.tilt_fit import fit
from calc.refusal import Refused
from calc.terms import CarMass
from calc.units import Kilograms, Metres, Radians


class Tilt(NamedTuple):
    """One tilt: the angle of the platform and what the two low wheels weighed."""

    angle: Annotated[Radians, Input("Angle of the tilt", r"\varphi", "°", above=0, below=math.pi / 3)]
    reading: Annotated[Kilograms, Input("Scales under the two low wheels, tilted", "m_i'", "kg", above=0)]


class TiltedHeight(NamedTuple):
    """Height of the centre of gravity from the tilts, and how sure it is."""

    cg_height: Annotated[Metres, Output("Height of the centre of gravity", "h", "mm")]
    uncertainty: Annotated[Metres, Output("Uncertainty of the height from the scales", r"\delta h", "mm", 2)]
    scatter: Annotated[
        Metres | None, Output("Standard error of the height from the scatter of the tilts", "s_h", "mm", 2)
    ]
    offset: Annotated[Metres, Output("Centre of gravity towards the low side, level", "y", "mm", 3)]
    worst_residual: Annotated[Kilograms, Output("Largest distance of a reading from the line", "r_{max}", "kg", 2)]
    flags: tuple[str, ...]


def _remarks(result: TiltedHeight, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            "A tilted car can slide or roll over: strap it to the platform without preloading the scales, and keep clear of the low side.",
            "caution",
        ),
        Remark(
            "Springs and tyres give sideways as well: lock the suspension and blow the tyres hard, or the height comes out too large.",
            about="cg_height",
        ),
    )


def _columns(scales: str, mass: float, track: float, angles: list[float]) -> tuple[list[float], list[float]]:
    """Return what each reading counts of the level reading, and of the height."""
    if scales == "vertical":
        return [1.0] * len(angles), [mass * math.tan(angle) / track for angle in angles]
    return [math.cos(angle) for angle in angles], [mass * math.sin(angle) / track for angle in angles]


def _figures(result: TiltedHeight, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    tilts, level = inputs["tilts"], inputs["mass"] * (0.5 + result.offset / inputs["track"])
    sweep = [max(row.angle for row in tilts) * i / 20 for i in range(21)]
    p, q = _columns(inputs["scales"], inputs["mass"], inputs["track"], sweep)
    return (
        Chart(
            "Reading of the low side against the tilt",
            "The readings should lie on the line; a growing distance from it means that the suspension or the tyres gave way.",
            Axis("Angle of the tilt", "°"),
            Axis("Low side", "kg"),
            (
                Series("Rigid car", sweep, [level * a + result.cg_height * b for a, b in zip(p, q, strict=True)]),
                Series("Readings", [row.angle for row in tilts], [row.reading for row in tilts], points=True),
            ),
        ),
    )


@calculator(
    title="Height of the centre of gravity by tilting the car",
    question="What height of the centre of gravity does a side tilt give?",
    example={
        "mass": "630 kg",
        "track": "1380 mm",
        "level_reading": "319 kg",
        "scales": "vertical",
        "tilts": [["12 deg", "357.3 kg"], ["16 deg", "370.9 kg"], ["20 deg", "384.6 kg"]],
        "scale_error": "0.5 kg",
    },
    working=(
        Step(
            r"m_i' = m_a + \frac{m \, h \tan \varphi_i}{t} \quad \mathrm{or} \quad m_i' = m_a \cos \varphi_i + \frac{m \, h \sin \varphi_i}{t}",
            "cg_height",
        ),
        Step(r"y = t \left( \frac{m_a}{m} - \frac{1}{2} \right)", "offset"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def cg_height_tilt(
    *,
    mass: CarMass,
    track: Annotated[
        Metres,
        Input(
            "Track between the tyre contacts",
            "t",
            "mm",
            above=0,
            typical=(1.2, 1.8),
            help="Mean of the axles if they differ little.",
        ),
    ],
    level_reading: Annotated[Kilograms, Input("Scales under the same two wheels, car level", "m_a", "kg", above=0)],
    scales: Annotated[
        Literal["vertical", "normal"],
        Choice(
            "The scales read",
            {
                "vertical": "the vertical force, standing level on steps",
                "normal": "the force square to a platform they are fixed to",
            },
        ),
    ] = "vertical",
    tilts: Annotated[tuple[Tilt, ...], Input("Tilts")],
    scale_error: Annotated[
        Kilograms, Input("How far one side reading may be off", r"\delta m", "kg", at_least=0, typical=(0.1, 2))
    ] = 0.5,
) -> TiltedHeight:
    """Return the height of the centre of gravity from one or more side tilts.

    Equation: scales reading vertical force h = t dm/(m tan(phi));  scales fixed to the platform h = t (m' - m_a cos(phi))/(m sin(phi)).
    Several tilts: least squares through all readings, the level one included.
    Signs: the offset is positive towards the side that went down.
    Valid for: a rigid car with equal tracks whose contacts stay in the plane of tilt, side force carried without loading the scales.
    Caution: never tilt near the angle where the upper wheels unload; strap the car, and let nobody stand on the low side.
    Source: moment balance about the upper contacts; first principles.

    >>> found = cg_height_tilt(mass=1000, track=1.5, level_reading=500, tilts=(Tilt(0.2, 500 + 1000 * 0.45 * 0.2027100355 / 1.5),))
    >>> round(found.cg_height, 4)
    0.45
    """
    if level_reading >= mass:
        raise Refused(
            "level_reading",
            f"must be less than the mass of the car, {quantity(mass, 'kg')}",
            quantity(level_reading, "kg"),
        )
    for number, row in enumerate(tilts, start=1):
        if row.reading >= mass:
            where = f"tilts[{number}].reading"
            raise Refused(
                where, f"must be less than the mass of the car, {quantity(mass, 'kg')}", quantity(row.reading, "kg")
            )
    p, q = _columns(scales, mass, track, [0.0, *(row.angle for row in tilts)])
    found = fit(p, q, (level_reading, *(row.reading for row in tilts)))
    return TiltedHeight(
        cg_height=found.slope,
        uncertainty=scale_error * found.slope_per_error,
        scatter=found.slope_scatter,
        offset=track * (found.level / mass - 0.5),
        worst_residual=found.worst_residual,
        flags=flags(found, max(row.angle for row in tilts), scale_error, found.slope),
    )

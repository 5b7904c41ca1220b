"""A bump rubber from its measured table: force, tangent rate and energy."""

from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.numeric.monotone import Curve
from calc.springs.tables import curve, require_within
from calc.units import Joules, Metres, Newtons, NewtonsPerMetre, Ratio


class Pressed(NamedTuple):
    """One reading on the rubber."""

    compression: Annotated[Metres, Input("Compression", "x", "mm", at_least=0)]
    force: Annotated[Newtons, Input("Force", "F", "N", at_least=0)]


Readings = Annotated[
    tuple[Pressed, ...],
    Input("Readings on the rubber", help="Compression and force, both rising; it starts from 0 N at 0 mm."),
]


class BumpRubber(NamedTuple):
    """What the rubber does at one compression."""

    force: Annotated[Newtons, Output("Force", "F", "N")]
    rate: Annotated[NewtonsPerMetre, Output("Tangent rate", "R", "N/mm")]
    energy: Annotated[Joules, Output("Energy taken up", "E", "J")]
    mean_rate: Annotated[NewtonsPerMetre | None, Output("Force over compression", "R_m", "N/mm", detail=True)]
    used_share: Annotated[Ratio, Output("Share of the measured travel used", "", "%", 3, detail=True)]


def rubber_curve(rows: tuple[Pressed, ...], name: str) -> Curve:
    """Return force against compression as a curve; rows that do not rise are refused by cell."""
    pairs = ([row.compression for row in rows], [row.force for row in rows])
    return curve(*pairs, name, ("compression", "force"), ("mm", "N"))


def _remarks(result: BumpRubber, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark(
            "Rubber and foam are stiffer when pressed fast, when cold, and softer after a few strokes; foam blocks at about 40 to 50 % of its free height.",
            about="rate",
        )
    ]
    if result.mean_rate and result.rate > 2 * result.mean_rate:
        remarks.append(
            Remark("The rubber is now rising steeply: at this point it is the spring of the car.", "caution", "rate")
        )
    return tuple(remarks)


def _figures(result: BumpRubber, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    rows = inputs["readings"]
    known = rubber_curve(rows, "readings")
    x = [known.x[-1] * i / 40 for i in range(41)]
    force = Chart(
        "Force against compression",
        "A smooth curve through the readings that rises wherever they rise.",
        Axis("Compression", "mm"),
        Axis("Force", "N"),
        (
            Series("Curve", x, [known.value(at) for at in x]),
            Series("Readings", [row.compression for row in rows], [row.force for row in rows], points=True),
        ),
    )
    rate = Chart(
        "Tangent rate against compression",
        "The rate is the slope of the force curve: low at first touch, and rising steeply as the rubber fills its space.",
        Axis("Compression", "mm"),
        Axis("Tangent rate", "N/mm"),
        (
            Series("Rate", x, [known.slope(at) for at in x]),
            Series("Here", [inputs["compression"]], [result.rate], points=True),
        ),
    )
    return force, rate


@calculator(
    title="Bump rubber",
    question="What force, rate and energy has this bump rubber at this compression?",
    example={
        "readings": [
            ["5 mm", "55 N"],
            ["10 mm", "140 N"],
            ["15 mm", "280 N"],
            ["20 mm", "520 N"],
            ["25 mm", "980 N"],
            ["30 mm", "1950 N"],
            ["34 mm", "3600 N"],
        ],
        "compression": "22 mm",
    },
    working=(
        Step(r"R = \frac{dF}{dx}", "rate"),
        Step(r"E = \int_0^x F \, dx", "energy"),
        Step(r"R_m = \frac{F}{x}", "mean_rate"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def bump_rubber(
    *,
    readings: Readings,
    compression: Annotated[Metres, Input("Compression asked", "x", "mm", at_least=0, typical=(0, 0.06))],
) -> BumpRubber:
    """Return force, tangent rate and stored energy of a bump rubber by a monotone curve through its readings.

    Equation: F(x) by cubic pieces, rate dF/dx, energy the integral of F dx from 0.
    Valid for: slow pressing at the temperature of the readings; nothing is read beyond the last reading.
    Caution: what rubber gives back is less than the energy it took; some of it becomes heat and damping.
    Source: monotone interpolation after Fritsch and Carlson, 1980 (from memory).

    >>> law = tuple(Pressed(x / 1000, 8 * x + 0.35 * x**2 + 0.02 * x**3) for x in (5, 10, 20, 30, 40, 50))
    >>> answer = bump_rubber(readings=law, compression=0.040)
    >>> round(answer.force), round(answer.rate), round(answer.energy, 4)
    (2160, 132000, 26.6667)
    """
    known = rubber_curve(readings, "readings")
    require_within(known, compression, "compression", "mm", "the rubber")
    force = known.value(compression)
    return BumpRubber(
        force=force,
        rate=known.slope(compression),
        energy=known.area(compression),
        mean_rate=force / compression if compression > 0 else None,
        used_share=compression / known.x[-1],
    )

"""Brake fluid: the boiling points of its classes, what water and height take from them, and what must not be mixed."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.brakes.care import with_care
from calc.brakes.table import Way, read_between, require_growing
from calc.brakes.terms import CELSIUS_ZERO, temperature
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.units import Kelvins, Metres, Ratio, SquareMetresPerSecond

GradeName = Literal["DOT 3", "DOT 4", "DOT 5", "DOT 5.1"]
WET_WATER = 0.037  # water of the wet test (trade, looked up)
MARGIN = 20.0  # K to stay below the wet point


class Grade(NamedTuple):
    """Least boiling points of a class in kelvin, most viscosity at -40 °C, and its base."""

    dry: float
    wet: float
    viscosity: float
    base: Literal["glycol", "glycol and borate", "silicone"]


# FMVSS 116, S5.1.1 to S5.1.3, through secondary copies (looked up). They are minima: a can may promise more.
GRADES: dict[GradeName, Grade] = {
    "DOT 3": Grade(205 + CELSIUS_ZERO, 140 + CELSIUS_ZERO, 1500e-6, "glycol"),
    "DOT 4": Grade(230 + CELSIUS_ZERO, 155 + CELSIUS_ZERO, 1800e-6, "glycol and borate"),
    "DOT 5": Grade(260 + CELSIUS_ZERO, 180 + CELSIUS_ZERO, 900e-6, "silicone"),
    "DOT 5.1": Grade(260 + CELSIUS_ZERO, 180 + CELSIUS_ZERO, 900e-6, "glycol and borate"),
}
_WORDS = {
    "DOT 3": "DOT 3, glycol",
    "DOT 4": "DOT 4, glycol and borate",
    "DOT 5": "DOT 5, silicone",
    "DOT 5.1": "DOT 5.1, glycol and borate",
}


class BrakeFluid(NamedTuple):
    """Boiling points of the fluid as it is, and the margin to its temperature."""

    boiling: Annotated[Kelvins, Output("Boiling point as it is now", "T_b", "°C")]
    margin: Annotated[Kelvins | None, Output("Margin to boiling", r"\Delta T", "K", 3)]
    wet_margin: Annotated[Kelvins | None, Output("Margin to the wet boiling point", r"\Delta T_w", "K", 3)]
    dry: Annotated[Kelvins, Output("Dry boiling point", "T_d", "°C")]
    wet: Annotated[Kelvins, Output("Wet boiling point", "T_w", "°C")]
    water: Annotated[Ratio, Output("Water in it", "w", "%", 3)]
    viscosity: Annotated[SquareMetresPerSecond, Output("Most viscosity at -40 °C", r"\nu", "mm²/s")]
    base: Annotated[str, Output("Base", "")]
    flags: tuple[str, ...]


def _remarks(result: BrakeFluid, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark(
            "The line between dry and wet point is optimistic by up to 10 K: keep 20 to 30 K in hand. Change the fluid before the wet point "
            "is what counts: it takes 1 to 2 % of water a year.",
            about="boiling",
        )
    ]
    if result.wet_margin is not None and result.wet_margin < MARGIN:
        remarks.append(
            Remark(
                "Hotter than the wet boiling point less 20 K: fresh fluid only, more cooling, or another class.",
                "caution",
                "wet_margin",
            )
        )
    if inputs["mixed_with"] is not None and inputs["mixed_with"] != inputs["grade"]:
        remarks.append(
            Remark(
                "A mix is as good as its worse part: count the lower class, and flush at the next service.", about="dry"
            )
        )
    return tuple(remarks)


def _figures(result: BrakeFluid, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    waters = [0.0, WET_WATER]
    top = max(WET_WATER, result.water)
    series = [
        Series("Boiling point", waters, [result.dry, result.wet]),
        Series("Here", [result.water], [result.boiling], points=True),
    ]
    if inputs["fluid_temperature"] is not None:
        series.append(Series("Fluid", [0.0, top], [inputs["fluid_temperature"]] * 2))
    return (
        Chart(
            "Boiling point over water",
            "From dry to the wet test the boiling point falls by about a third of what is above the air.",
            Axis("Water", "%"),
            Axis("Temperature", "°C"),
            tuple(series),
        ),
    )


@calculator(
    title="Brake fluid and boiling",
    question="When does this fluid boil, and how far away is that?",
    example={"grade": "DOT 4", "years": "1", "fluid_temperature": "118 °C"},
    working=(
        Step(r"w = w_0 + 1.5\,\% \cdot years", "water"),
        Step(r"T_b = T_d - (T_d - T_w) \, \frac{w}{3.7\,\%} - 4 \, \frac{K}{km} \, h", "boiling"),
    ),
    remarks=with_care(_remarks),
    figures=_figures,
)
def brake_fluid(
    *,
    grade: Annotated[GradeName, Choice("Class of the fluid", _WORDS)],
    dry_point: Annotated[
        Kelvins | None, temperature("Dry boiling point on the can", "T_d", "Empty: the least of the class.")
    ] = None,
    wet_point: Annotated[
        Kelvins | None, temperature("Wet boiling point on the can", "T_w", "Empty: the least of the class.")
    ] = None,
    water: Annotated[
        Ratio, Input("Water measured in it", "w_0", "%", at_least=0, at_most=0.1, typical=(0, 0.037))
    ] = 0.0,
    years: Annotated[Ratio, Input("Years since it was measured or changed", "", "", at_least=0, at_most=30)] = 0.0,
    height: Annotated[Metres, Input("Height above the sea", "h", "m", at_least=-500, at_most=6000)] = 0.0,
    fluid_temperature: Annotated[Kelvins | None, temperature("Hottest fluid temperature", "T_f")] = None,
    mixed_with: Annotated[GradeName | None, Choice("Topped up with", _WORDS)] = None,
) -> BrakeFluid:
    """Return the boiling point of a brake fluid as it is, and the margin to its temperature.

    Equation: straight line from the dry point at no water to the wet point at 3.7 %;  1.5 % of water a year;  4 K less for each 1000 m.
    Valid for: water up to the wet test; beyond it the wet point less the same slope.
    Caution: silicone (DOT 5) never mixes with the others. Fluid is poison to paint, skin and eyes. Limits of the class are minima.
    Source: FMVSS 116, S5.1.1 to S5.1.3 (looked up through copies); uptake and slope are trade figures; height derived (3 to 5 K).

    >>> answer = brake_fluid(grade="DOT 4", water=0.037)
    >>> round(answer.dry - 273.15), round(answer.boiling - 273.15)
    (230, 155)
    """
    own = GRADES[grade]
    if mixed_with is not None:
        _require_miscible(grade, mixed_with)
        other = GRADES[mixed_with]
        own = own._replace(dry=min(own.dry, other.dry), wet=min(own.wet, other.wet))
    dry, wet = dry_point if dry_point is not None else own.dry, wet_point if wet_point is not None else own.wet
    if wet >= dry:
        raise Refused(
            "wet_point",
            f"must be less than the dry boiling point, {dry - CELSIUS_ZERO:g} °C",
            f"{wet - CELSIUS_ZERO:g} °C",
        )
    held = water + 0.015 * years
    boiling = dry - (dry - wet) * held / WET_WATER - 0.004 * height
    flags = []
    if held > WET_WATER:
        flags.append("More water than in the wet test: change it now, whatever the computed figure says.")
    if fluid_temperature is not None and fluid_temperature >= boiling:
        flags.append("The fluid boils: the pedal goes to the floor.")
    if boiling < 373.15:
        boiling = 373.15
        flags.append("The line would fall below 100 °C: water boils there, and so does the brake.")
    return BrakeFluid(
        boiling,
        None if fluid_temperature is None else boiling - fluid_temperature,
        None if fluid_temperature is None else wet - fluid_temperature,
        dry,
        wet,
        held,
        own.viscosity,
        own.base,
        tuple(flags),
    )


def _require_miscible(grade: GradeName, other: GradeName) -> None:
    if (GRADES[grade].base == "silicone") != (GRADES[other].base == "silicone"):
        raise Refused(
            "mixed_with",
            f"must not be mixed with {grade}: silicone and glycol fluids do not mix",
            other,
            hint="Flush the whole system.",
        )


class WaterPoint(NamedTuple):
    """One measured boiling point."""

    water: Annotated[Ratio, Input("Water", "w", "%", at_least=0, at_most=0.2)]
    boiling: Annotated[Kelvins, temperature("Boiling point", "T_b")]


class FluidMoisture(NamedTuple):
    """The boiling point at a water content."""

    boiling: Annotated[Kelvins, Output("Boiling point at this water content", "T_b", "°C")]
    lost: Annotated[Kelvins, Output("Lost against the first point", r"\Delta T", "K", 3)]


def _moisture_figures(result: FluidMoisture, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    rows = inputs["points"]
    return (
        Chart(
            "Boiling point over water",
            "A few percent of water take a third of the margin.",
            Axis("Water", "%"),
            Axis("Boiling point", "°C"),
            (
                Series("Measured", [r.water for r in rows], [r.boiling for r in rows]),
                Series("Here", [inputs["water"]], [result.boiling], points=True),
            ),
        ),
    )


@calculator(
    title="Boiling point over water content",
    question="What boiling point does a measured water content leave?",
    example={"points": [["0 %", "205 °C"], ["1 %", "187 °C"], ["2 %", "160 °C"], ["3 %", "145 °C"]], "water": "1.5 %"},
    working=(Step(r"T_b = T_i + (T_{i+1} - T_i) \, \frac{w - w_i}{w_{i+1} - w_i}", "boiling"),),
    remarks=with_care(),
    figures=_moisture_figures,
)
def fluid_moisture(
    *,
    points: Annotated[tuple[WaterPoint, ...], Input("Boiling point over water", help="Water growing from row to row.")],
    water: Annotated[Ratio, Input("Water content", "w", "%", at_least=0, at_most=0.2)],
    way: Annotated[
        Way, Choice("Read between points", {"linear": "straight lines", "monotone cubic": "a smooth curve"})
    ] = "linear",
) -> FluidMoisture:
    """Return the boiling point at a water content, read from measured points.

    Equation: straight lines, or a monotone cubic, between the points; outside them the question is refused.
    Valid for: points of one fluid; figures joined from several sources do not make one curve.
    Source: trade figures for DOT 3: 187, 160 and 145 °C at 1, 2 and 3 % (looked up).

    >>> round(fluid_moisture(points=(WaterPoint(0.0, 478.15), WaterPoint(0.02, 433.15)), water=0.01).boiling - 273.15, 1)
    182.5
    """
    waters, boiling = [row.water for row in points], [row.boiling for row in points]
    require_growing(waters, "points.water")
    if not waters[0] <= water <= waters[-1]:
        raise Refused(
            "water",
            f"must lie on the table, {100 * waters[0]:g} to {100 * waters[-1]:g} %: nothing is extrapolated",
            f"{100 * water:g} %",
        )
    here = read_between(waters, boiling, water, way)
    return FluidMoisture(here, boiling[0] - here)

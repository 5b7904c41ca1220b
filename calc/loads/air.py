"""Density of the air on the day."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.loads.terms import ATMOSPHERE
from calc.refusal import Refused
from calc.units import Kelvins, KilogramsPerCubicMetre, Pascals, Ratio

GAS_CONSTANT = 287.05  # J/(kg·K), dry air
VAPOUR_SHARE = 0.622  # molar mass of water over that of dry air
STANDARD_DENSITY = 1.225  # kg/m3, 15 °C and 101 325 Pa
FREEZING = 273.15  # K


class AirDensity(NamedTuple):
    """The density, and what it means against the standard day."""

    density: Annotated[KilogramsPerCubicMetre, Output("Air density", r"\rho", "kg/m³", 4)]
    against_standard: Annotated[Ratio, Output("Downforce and drag against a standard day", "q", "%", 4)]
    vapour_pressure: Annotated[Pascals, Output("Pressure of the water vapour in it", "p_v", "bar", 3, detail=True)]


def density(pressure: float, temperature: float, vapour: float = 0.0) -> float:
    """Return the density of air in kg/m3 from pressure, temperature and the pressure of its water vapour.

    Equation: rho = (p - (1 - 0.622) p_v)/(287.05 T).

    >>> round(density(101325, 288.15), 4)
    1.225
    """
    return (pressure - (1 - VAPOUR_SHARE) * vapour) / (GAS_CONSTANT * temperature)


def saturation(temperature: float) -> float:
    """Return the pressure of saturated water vapour, Pa.

    Equation: p = 611.2 exp(17.62 t/(243.12 + t)), t in °C (Magnus form, coefficients from memory).
    """
    celsius = temperature - FREEZING
    return 611.2 * math.exp(17.62 * celsius / (243.12 + celsius))


def _remarks(result: AirDensity, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    change = 100 * (result.against_standard - 1)
    return (
        Remark(
            f"Aerodynamic loads are {abs(change):.1f} % {'above' if change >= 0 else 'below'} those of a standard day at the same speed.",
            about="against_standard",
        ),
        Remark(
            "Use the pressure at the circuit, not the one reduced to sea level that a weather report gives: 100 m of height are about 12 hPa.",
            about="density",
        ),
    )


def _figures(result: AirDensity, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    temperatures = [FREEZING - 5 + 2.5 * i for i in range(21)]
    return (
        Chart(
            "Air density against temperature",
            "Warm air is thinner: 20 °C more take about 6.5 % of downforce and drag.",
            Axis("Air temperature", "°C"),
            Axis("Density", "kg/m³"),
            (
                Series(
                    "At this pressure",
                    temperatures,
                    [density(inputs["pressure"], t, inputs["humidity"] * saturation(t)) for t in temperatures],
                ),
                Series("Today", [inputs["temperature"]], [result.density], points=True),
            ),
        ),
    )


@calculator(
    title="Air density",
    question="How thick is the air today, and what is it worth in downforce?",
    example={"pressure": "0.995 bar", "temperature": "24 °C", "humidity": "55 %"},
    working=(
        Step(r"\rho = \frac{p - 0.378 \, p_v}{287.05 \, T}", "density"),
        Step(r"q = \frac{\rho}{1.225}", "against_standard"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def air_density(
    *,
    pressure: Annotated[
        Pascals, Input("Air pressure at the circuit", "p", "bar", above=0, typical=(0.7e5, 1.06e5))
    ] = ATMOSPHERE,
    temperature: Annotated[
        Kelvins, Input("Air temperature", "T", "°C", at_least=223.15, at_most=343.15, typical=(268.15, 313.15))
    ],
    humidity: Annotated[Ratio, Input("Relative humidity", "RH", "%", at_least=0, at_most=1, typical=(0, 1))] = 0.0,
) -> AirDensity:
    """Return the density of the air.

    Equation: rho = (p - 0.378 p_v)/(287.05 T), p_v = RH 611.2 exp(17.62 t/(243.12 + t)) with t in °C.
    Valid for: -50 to 70 °C; the pressure is that of the place, not reduced to sea level.
    Source: ideal gas law; 1.225 kg/m3 of the standard atmosphere (ISO 2533, from memory); Magnus form of vapour pressure (from memory).

    >>> round(air_density(temperature=288.15).density, 3)
    1.225
    """
    vapour = humidity * saturation(temperature)
    if vapour >= pressure:
        raise Refused(
            "pressure",
            f"must exceed the pressure of the water vapour, {quantity(vapour, 'bar')}",
            quantity(pressure, "bar"),
        )
    found = density(pressure, temperature, vapour)
    return AirDensity(found, found / STANDARD_DENSITY, vapour)

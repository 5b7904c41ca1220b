"""A disc that cools: air and radiation."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.brakes.care import with_care
from calc.brakes.heat.terms import RADIATION, CoolingArea, DiscMass, Emissivity, HeatTransfer
from calc.brakes.table import require_growing
from calc.brakes.terms import Ambient, SpecificHeat, StartTemperature
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, calculator
from calc.refusal import Refused
from calc.units import Kelvins, Ratio, Seconds, WattsPerSquareMetreKelvin


class DiscCooling(NamedTuple):
    """Temperatures of a cooling disc."""

    temperatures: Annotated[tuple[Kelvins, ...], Output("Temperature at those times", "T", "°C")]
    radiation_share: Annotated[Ratio | None, Output("Share of radiation in the first moment", "", "%")]
    radiation_coefficient: Annotated[
        WattsPerSquareMetreKelvin, Output("Radiation as a coefficient in the first moment", "h_r", "W/(m²·K)", 3)
    ]
    cooling_time: Annotated[Seconds | None, Output("Time constant without radiation", r"\tau", "s", 3)]
    flags: tuple[str, ...]


def radiated(temperature: float, ambient: float, emissivity: float) -> float:
    """Return the radiated flux, W/m², temperatures in kelvin.

    >>> round(radiated(873.15, 298.15, 0.55) / 575)
    31
    """
    return float(emissivity * RADIATION * (temperature**4 - ambient**4))


_COLD = 60.0  # time constants after which nothing is left
_MOST_STEPS = 100_000


def cool(
    temperature: float, capacity: float, area: float, h: float, emissivity: float, ambient: float, time: float
) -> float:
    """Return the temperature after a time, by Runge and Kutta's fourth-order steps well below the time constant."""

    def slope(at: float) -> float:
        return -area * (h * (at - ambient) + radiated(at, ambient, emissivity)) / capacity

    def rate(at: float) -> float:
        return area * (h + 4 * emissivity * RADIATION * at**3) / capacity

    if rate(min(temperature, ambient)) * time > _COLD:
        return ambient
    steps = max(1, math.ceil(time * rate(max(temperature, ambient)) / 0.1))
    if steps > _MOST_STEPS:
        raise Refused(
            "specific_heat",
            "must, with the mass, hold enough heat for these times: the disc follows at once",
            f"{capacity:g} J/K together",
        )
    width = time / steps
    for _ in range(steps):
        k1 = slope(temperature)
        k2 = slope(temperature + width / 2 * k1)
        k3 = slope(temperature + width / 2 * k2)
        k4 = slope(temperature + width * k3)
        temperature += width / 6 * (k1 + 2 * k2 + 2 * k3 + k4)
        if abs(temperature - ambient) < 1e-9:
            return ambient
    return temperature


class Moment(NamedTuple):
    """A time asked for."""

    time: Annotated[Seconds, Input("Time", "t", "s", above=0, at_most=1e5)]


def _cooling_figures(result: DiscCooling, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    times = [row.time for row in inputs["times"]]
    return (
        Chart(
            "A disc that cools",
            "Fast while hot, when it radiates, then ever more slowly towards the air.",
            Axis("Time", "s"),
            Axis("Disc temperature", "°C"),
            (Series("Disc", [0.0, *times], [inputs["start_temperature"], *result.temperatures]),),
        ),
    )


@calculator(
    title="A disc cooling down",
    question="How fast does a hot disc cool by air and by radiation?",
    example={
        "disc_mass": "8 kg",
        "specific_heat": "500 J/(kg·K)",
        "heat_transfer": "60 W/(m²·K)",
        "area": "0.16 m²",
        "emissivity": "0.55",
        "ambient": "25 °C",
        "start_temperature": "620 °C",
        "times": [["10 s"], ["30 s"], ["60 s"], ["120 s"]],
    },
    remarks=with_care(),
    figures=_cooling_figures,
)
def disc_cooling(
    *,
    disc_mass: DiscMass,
    specific_heat: SpecificHeat,
    heat_transfer: HeatTransfer,
    area: CoolingArea,
    emissivity: Emissivity = 0.55,
    ambient: Ambient = 293.15,
    start_temperature: StartTemperature,
    times: Annotated[tuple[Moment, ...], Input("Times", help="Growing from row to row.")],
) -> DiscCooling:
    """Return the temperatures of a disc that cools by convection and radiation.

    Equation: m c dT/dt = -h A (T - T_inf) - eps sigma A (T^4 - T_inf^4), T in kelvin; integrated numerically.
    Valid for: one even temperature, constant coefficient, surroundings at the temperature of the air.
    Caution: a disc that looks cold still burns: measure, never touch.
    Source: energy balance, derived; compared with scipy in the tests.

    >>> answer = disc_cooling(disc_mass=8, specific_heat=500, heat_transfer=60, area=0.16, ambient=298.15, start_temperature=893.15, times=(Moment(60),))
    >>> round(answer.temperatures[0] - 273.15, 2)
    506.99
    """
    moments = [row.time for row in times]
    if len(moments) > 1:
        require_growing(moments, "times.time", " s")
    temperatures, at, before = [], start_temperature, 0.0
    for moment in moments:
        at = cool(at, disc_mass * specific_heat, area, heat_transfer, emissivity, ambient, moment - before)
        before = moment
        temperatures.append(at)
    glow, step = radiated(start_temperature, ambient, emissivity), start_temperature - ambient
    total = glow + heat_transfer * step
    return DiscCooling(
        tuple(temperatures),
        glow / total if total != 0 else None,
        glow / step if step != 0 else 0.0,
        disc_mass * specific_heat / (heat_transfer * area) if heat_transfer > 0 else None,
        ("The disc starts colder than the air: it warms up.",) if step < 0 else (),
    )

"""Equal stops one after another."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.brakes.care import with_care
from calc.brakes.terms import CELSIUS_ZERO, Ambient
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.units import Kelvins, Ratio, Seconds


class RepeatedStops(NamedTuple):
    """Peaks of a series of equal stops."""

    peak: Annotated[Kelvins, Output("Temperature after the last stop", "T_n", "°C")]
    steady_peak: Annotated[Kelvins, Output("Peak after very many stops", r"T_\infty^+", "°C")]
    steady_before: Annotated[Kelvins, Output("Temperature before each of those", r"T_\infty^-", "°C")]
    stops_to_settle: Annotated[int, Output("Stops until within 5 % of that rise", "", "", 1)]
    cooled_each: Annotated[Ratio, Output("Share of the heat lost between stops", "", "%", 3)]
    flags: tuple[str, ...]


def repeated_peak(rise: float, cooling: float, n: int, ambient: float, start: float) -> float:
    """Return the peak after stop n; ``cooling`` is beta times the time between stops.

    >>> round(repeated_peak(62.0, 0.18, 5, 25.0, 25.0), 4)
    248.3517
    """
    built = n if cooling < 1e-9 else math.expm1(-n * cooling) / math.expm1(-cooling)
    return ambient + rise * built + (start - ambient) * math.exp(-(n - 1) * cooling)


def _figures(result: RepeatedStops, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    beta, gap = 1 / inputs["cooling_time"], inputs["interval"]
    start = inputs["ambient"] if inputs["start_temperature"] is None else inputs["start_temperature"]
    shown = range(1, min(inputs["stops"], 60) + 1)
    times, temperatures = [0.0], [start]
    for n in shown:
        peak = repeated_peak(inputs["rise"], beta * gap, n, inputs["ambient"], start)
        times.append((n - 1) * gap)
        temperatures.append(peak)
        for part in (0.25, 0.5, 0.75, 0.999):
            times.append((n - 1 + part) * gap)
            temperatures.append(inputs["ambient"] + (peak - inputs["ambient"]) * math.exp(-beta * part * gap))
    return (
        Chart(
            "Disc temperature over the stops",
            "Each stop adds the same rise; between stops the disc cools towards the air.",
            Axis("Time", "s"),
            Axis("Disc temperature", "°C"),
            (Series("Disc", times, temperatures),),
        ),
    )


def _remarks(result: RepeatedStops, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            "Radiation is left out: above about 400 °C the disc stays cooler than this. Use the lap calculation there.",
            about="peak",
        ),
    )


@calculator(
    title="Repeated stops",
    question="How hot do the discs get after many equal stops?",
    example={"rise": "62 K", "cooling_time": "220 s", "interval": "40 s", "stops": "10", "ambient": "25 °C"},
    working=(
        Step(
            r"T_n = T_\infty + \Delta T \, \frac{1 - e^{-n t_c/\tau}}{1 - e^{-t_c/\tau}} + (T_0 - T_\infty) \, e^{-(n-1) t_c/\tau}",
            "peak",
        ),
        Step(r"T_\infty^+ = T_\infty + \frac{\Delta T}{1 - e^{-t_c/\tau}}", "steady_peak"),
    ),
    remarks=with_care(_remarks),
    figures=_figures,
)
def repeated_stops(
    *,
    rise: Annotated[Kelvins, Input("Rise of one stop", r"\Delta T", "K", above=0, at_most=3000, typical=(10, 400))],
    cooling_time: Annotated[
        Seconds,
        Input("Cooling time constant of the disc, m c/(h A)", r"\tau", "s", above=0, at_most=1e6, typical=(30, 600)),
    ],
    interval: Annotated[Seconds, Input("Time between stops", "t_c", "s", above=0, at_most=1e5, typical=(5, 300))],
    stops: Annotated[int, Input("Number of stops", "n", at_least=1, at_most=100_000)],
    ambient: Ambient = 293.15,
    start_temperature: Annotated[
        Kelvins | None, Input("Temperature at the first stop", "T_0", "°C", at_least=0, at_most=2500)
    ] = None,
) -> RepeatedStops:
    """Return the disc temperature after n equal stops, with cooling between them.

    Equation: T_n = T_inf + dT (1 - exp(-n t_c/tau))/(1 - exp(-t_c/tau)) + (T_0 - T_inf) exp(-(n-1) t_c/tau), tau = m c/(h A).
    Valid for: instant heating, constant coefficient, no radiation.
    Source: geometric series, derived; the form is in Limpert and in Shigley (from memory).

    >>> round(repeated_stops(rise=62, cooling_time=1 / 0.0045, interval=40, stops=10, ambient=298.15).peak - 273.15, 3)
    339.16
    """
    cooling = interval / cooling_time
    lost = -math.expm1(-cooling)
    start = ambient if start_temperature is None else start_temperature
    steady = ambient + rise / lost
    peak = repeated_peak(rise, cooling, stops, ambient, start)
    settled = max(1, math.ceil(math.log(20) / cooling))
    flags = (
        ("More than 750 °C: the discs would not last, and radiation would hold them below this.",)
        if peak > 750 + CELSIUS_ZERO
        else ()
    )
    return RepeatedStops(peak, steady, steady - rise, settled, lost, flags)

"""Tyre pressure, cold and hot: the gas law with absolute pressure and absolute temperature."""

from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.loads.terms import ATMOSPHERE, AmbientPressure
from calc.refusal import Refused
from calc.units import Kelvins, Pascals

Cold = Annotated[
    Kelvins,
    Input(
        "Temperature of the tyre when it is set", "T_c", "°C", at_least=223.15, at_most=423.15, typical=(273.15, 318.15)
    ),
]
Hot = Annotated[
    Kelvins,
    Input(
        "Temperature of the air in the tyre when hot",
        "T_h",
        "°C",
        at_least=223.15,
        at_most=523.15,
        typical=(313.15, 393.15),
    ),
]
CARE = Remark(
    "Air that was not dry rises more than this: measure your own tyres once, hot, and correct the cold pressure by what was missed."
)


class HotPressure(NamedTuple):
    """The pressure of a set tyre once it is hot."""

    hot: Annotated[Pascals, Output("Hot pressure on the gauge", "p_h", "bar", 3)]
    rise: Annotated[Pascals, Output("Rise", r"\Delta p", "bar", 3)]
    each_ten: Annotated[Pascals, Output("Rise for each 10 °C", r"\Delta p_{10}", "bar", 3)]
    wrong: Annotated[Pascals, Output("What the gauge pressure and °C would wrongly give", "p_x", "bar", 3, detail=True)]


def heated(gauge: float, ambient: float, cold: float, hot: float) -> float:
    """Return the gauge pressure after heating at constant volume.

    Equation: p_h = (p_c + p_a) T_h/T_c - p_a, temperatures in kelvin.

    >>> round(heated(1.5e5, 1e5, 300.0, 360.0))
    200000
    """
    return gauge * (hot / cold) + ambient * ((hot - cold) / cold)


def _remarks(result: HotPressure, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        CARE,
        Remark(
            "Gauge pressure does not scale with °C: add the pressure of the air outside and count from absolute zero.",
            about="hot",
        ),
    ]
    if inputs["hot_temperature"] < inputs["cold_temperature"]:
        remarks.append(
            Remark("The tyre gets colder than it was when set: the pressure falls.", "caution", "hot_temperature")
        )
    return tuple(remarks)


def _figures(result: HotPressure, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    low, high = sorted((inputs["cold_temperature"], inputs["hot_temperature"]))
    steps = [low + (max(high - low, 40.0) * 1.2) * i / 20 for i in range(21)]
    pressures = [heated(inputs["cold_pressure"], inputs["ambient"], inputs["cold_temperature"], t) for t in steps]
    return (
        Chart(
            "Gauge pressure against temperature",
            "The pressure rises in a straight line with temperature, about a hundredth of a bar for each degree at usual pressures.",
            Axis("Temperature of the air in the tyre", "°C"),
            Axis("Gauge pressure", "bar"),
            (
                Series("Gauge pressure", steps, pressures),
                Series("Hot", [inputs["hot_temperature"]], [result.hot], points=True),
            ),
        ),
    )


@calculator(
    title="Hot pressure from cold",
    question="I set this pressure cold: what will the gauge show when the tyre is hot?",
    example={"cold_pressure": "1.45 bar", "cold_temperature": "15 °C", "hot_temperature": "75 °C"},
    working=(
        Step(r"p_h = (p_c + p_a) \frac{T_h}{T_c} - p_a", "hot"),
        Step(r"\Delta p_{10} = 10 \, \frac{p_c + p_a}{T_c}", "each_ten"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def hot_pressure(
    *,
    cold_pressure: Annotated[Pascals, Input("Cold pressure on the gauge", "p_c", "bar", above=0, typical=(0.7e5, 3e5))],
    cold_temperature: Cold,
    hot_temperature: Hot,
    ambient: AmbientPressure = ATMOSPHERE,
) -> HotPressure:
    """Return the hot gauge pressure of a tyre that was set cold.

    Equation: p_h = (p_c + p_a) T_h/T_c - p_a, pressures on the gauge with p_a the air outside, temperatures in kelvin.
    Valid for: dry air, the tyre keeping its volume (it grows a little, which takes a few hundredths of a bar off).
    Caution: a hot tyre's pressure and surface can burn and burst: never above the maker's limit, never bleed while leaning over it.
    Source: gas law at constant volume.

    >>> found = hot_pressure(cold_pressure=1.5e5, cold_temperature=300, hot_temperature=360, ambient=1e5)
    >>> round(found.hot), round(found.each_ten)
    (200000, 8333)
    """
    hot = heated(cold_pressure, ambient, cold_temperature, hot_temperature)
    celsius = cold_temperature - 273.15, hot_temperature - 273.15
    return HotPressure(
        hot=hot,
        rise=hot - cold_pressure,
        each_ten=10 * (cold_pressure + ambient) / cold_temperature,
        wrong=cold_pressure * celsius[1] / celsius[0] if abs(celsius[0]) >= 1 else cold_pressure,
    )


class ColdPressure(NamedTuple):
    """The pressure to set."""

    cold: Annotated[Pascals, Output("Set this pressure cold", "p_c", "bar", 3)]
    rise: Annotated[Pascals, Output("Rise to expect", r"\Delta p", "bar", 3)]
    each_ten: Annotated[
        Pascals, Output("Change of the cold setting for 10 °C of hot temperature", r"\Delta p_{10}", "bar", 3)
    ]


def _cold_figures(result: ColdPressure, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    steps = [inputs["cold_temperature"] - 15 + 1.5 * i for i in range(21)]
    pressures = [heated(inputs["wanted_hot"], inputs["ambient"], inputs["hot_temperature"], t) for t in steps]
    return (
        Chart(
            "Cold pressure to set against the temperature when it is set",
            "A tyre set in the cool of the morning needs less on the gauge than one set in the sun, for the same hot pressure.",
            Axis("Temperature when set", "°C"),
            Axis("Cold pressure to set", "bar"),
            (
                Series("Cold pressure", steps, pressures),
                Series("Now", [inputs["cold_temperature"]], [result.cold], points=True),
            ),
        ),
    )


@calculator(
    title="Cold pressure for a hot target",
    question="Which cold pressure gives me the hot pressure I want?",
    example={"wanted_hot": "1.85 bar", "cold_temperature": "12 °C", "hot_temperature": "70 °C"},
    working=(Step(r"p_c = (p_h + p_a) \frac{T_c}{T_h} - p_a", "cold"), Step(r"\Delta p = p_h - p_c", "rise")),
    remarks=lambda result, inputs: (
        CARE,
        Remark("Set all tyres at the same temperature, out of the sun and before the car is driven.", about="cold"),
    ),
    figures=_cold_figures,
)
def cold_pressure(
    *,
    wanted_hot: Annotated[
        Pascals, Input("Wanted hot pressure on the gauge", "p_h", "bar", above=0, typical=(1e5, 3.2e5))
    ],
    cold_temperature: Cold,
    hot_temperature: Hot,
    ambient: AmbientPressure = ATMOSPHERE,
) -> ColdPressure:
    """Return the cold pressure that becomes a wanted hot pressure.

    Equation: p_c = (p_h + p_a) T_c/T_h - p_a, pressures on the gauge, temperatures in kelvin.
    Valid for: dry air, the tyre keeping its volume.
    Caution: never run below the pressure the tyre's maker allows: a soft tyre can leave the rim.
    Source: gas law at constant volume, inverted.

    >>> round(cold_pressure(wanted_hot=2e5, cold_temperature=300, hot_temperature=360, ambient=1e5).cold)
    150000
    """
    cold = heated(wanted_hot, ambient, hot_temperature, cold_temperature)
    if cold <= 0:
        lowest = heated(0.0, ambient, cold_temperature, hot_temperature)
        raise Refused(
            "wanted_hot",
            f"must exceed {quantity(lowest, 'bar')}, which this warming alone brings",
            quantity(wanted_hot, "bar"),
        )
    return ColdPressure(cold, wanted_hot - cold, 10 * (cold + ambient) / hot_temperature)

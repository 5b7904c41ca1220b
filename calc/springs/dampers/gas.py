"""The gas in a damper: the force on its rod, how it grows, and what it does to ride height."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.springs.words import DamperRatio
from calc.terms import WheelRate
from calc.units import CubicMetres, Kelvins, Metres, Newtons, NewtonsPerMetre, Pascals, Ratio, SquareMetres

ATMOSPHERE = 101325.0  # Pa
_ROOM = 293.15  # K


class GasForce(NamedTuple):
    """Gas force and what it is worth at the wheel."""

    force: Annotated[Newtons, Output("Gas force at ride height", "F_g", "N", 3)]
    extended_force: Annotated[Newtons, Output("Gas force, extended", "F_0", "N", 3)]
    rate: Annotated[NewtonsPerMetre, Output("Rate of the gas at the damper", "k_g", "N/mm", 3)]
    wheel_rate: Annotated[NewtonsPerMetre, Output("Rate of the gas at the wheel", "k_{gw}", "N/mm", 3)]
    ride_height: Annotated[Metres, Output("Rise of the body from the gas", r"\Delta z", "mm", 3)]
    pressure: Annotated[Pascals, Output("Gas pressure at ride height, gauge", "p", "bar", 3)]
    rod_area: Annotated[SquareMetres, Output("Area of the rod", "A", "mm²", detail=True)]


def _remarks(result: GasForce, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            "Gas lifts the car a little and adds a little rate; it damps nothing. Take its force off before reading damping from a dyno.",
            about="force",
        ),
        Remark(
            "Gas at pressure: only someone trained and equipped for it should fill or open a damper.",
            "caution",
            "pressure",
        ),
    )


def _figures(result: GasForce, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    gas = _gas(inputs)
    reach = min(2 * inputs["insertion"] or 0.1, 0.95 * gas.volume / gas.area)
    at = [reach * i / 30 for i in range(31)]
    text = "The force rises as the rod goes in, because it takes room from the gas."
    series = (
        Series("Gas force", at, [gas.force(x) for x in at]),
        Series("Ride height", [inputs["insertion"]], [result.force], points=True),
    )
    return (
        Chart(
            "Gas force against rod travel", text, Axis("Rod in from full extension", "mm"), Axis("Force", "N"), series
        ),
    )


class _Gas(NamedTuple):
    """A charge of gas behind a rod: absolute pressure when extended, volume, rod area, exponent."""

    pressure: float
    volume: float
    area: float
    exponent: float

    def absolute(self, x: float) -> float:
        squeezed: float = (self.volume / (self.volume - self.area * x)) ** self.exponent
        return self.pressure * squeezed

    def force(self, x: float) -> float:
        return (self.absolute(x) - ATMOSPHERE) * self.area

    def rate(self, x: float) -> float:
        return self.exponent * self.absolute(x) * self.area**2 / (self.volume - self.area * x)


def _gas(inputs: Mapping[str, Any]) -> _Gas:
    absolute = (inputs["charge_pressure"] + ATMOSPHERE) * inputs["temperature"] / inputs["charge_temperature"]
    return _Gas(absolute, inputs["gas_volume"], math.pi * inputs["rod_diameter"] ** 2 / 4, inputs["exponent"])


@calculator(
    title="Gas force of a damper",
    question="How hard does the gas push the rod out, and what does that do to ride height?",
    example={
        "charge_pressure": "12 bar",
        "rod_diameter": "14 mm",
        "gas_volume": "60 cm³",
        "insertion": "42 mm",
        "damper_ratio": "0.94",
        "wheel_rate": "52.9 N/mm",
        "temperature": "60 °C",
    },
    working=(
        Step(r"A = \frac{\pi \, d^2}{4}", "rod_area"),
        Step(r"p + p_a = (p_0 + p_a) \frac{T}{T_0} \left(\frac{V_0}{V_0 - A \, x}\right)^n", "pressure"),
        Step(r"F_g = p \, A", "force"),
        Step(r"k_g = \frac{n \, (p + p_a) \, A^2}{V_0 - A \, x}", "rate"),
        Step(r"k_{gw} = k_g \, {MR_d}^2", "wheel_rate"),
        Step(r"\Delta z = \frac{F_g \, MR_d}{k_w}", "ride_height"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def damper_gas(
    *,
    charge_pressure: Annotated[
        Pascals, Input("Charge pressure, gauge, rod extended", "p_0", "bar", at_least=0, typical=(2e5, 25e5))
    ],
    rod_diameter: Annotated[Metres, Input("Rod diameter", "d", "mm", above=0, typical=(0.010, 0.022))],
    gas_volume: Annotated[
        CubicMetres, Input("Gas volume, rod extended", "V_0", "cm³", above=0, typical=(20e-6, 300e-6))
    ],
    insertion: Annotated[
        Metres, Input("Rod travel in from full extension, at ride height", "x", "mm", at_least=0, typical=(0.01, 0.1))
    ],
    exponent: Annotated[
        Ratio, Input("Exponent of the gas", "n", "", at_least=1, at_most=1.5, help="1 for slow movement, 1.4 for fast.")
    ] = 1.0,
    charge_temperature: Annotated[
        Kelvins, Input("Temperature at charging", "T_0", "°C", above=200, typical=(278, 313))
    ] = _ROOM,
    temperature: Annotated[
        Kelvins, Input("Temperature now", "T", "°C", above=200, at_most=500, typical=(273, 393))
    ] = _ROOM,
    damper_ratio: DamperRatio = 1.0,
    wheel_rate: WheelRate,
) -> GasForce:
    """Return the force of a damper's gas on its rod, its rate, and the ride height it lifts.

    Equation: F_g = p A, p gauge; (p + p_a) (V_0 - A x)^n / T constant; k_g = n (p + p_a) A^2 / (V_0 - A x); rise F_g MR_d / k_w.
    Signs: the force pushes wheel and body apart.
    Valid for: a rod that enters on one side only, an ideal gas, oil that does not give; the ambient pressure is 1013 hPa.
    Source: ideal gas law and equilibrium of the rod.

    >>> answer = damper_gas(charge_pressure=10e5, rod_diameter=0.014, gas_volume=60e-6, insertion=0.0, wheel_rate=50e3)
    >>> round(answer.force, 1)
    153.9
    """
    gas = _gas(locals())
    if gas.area * insertion >= gas.volume:
        raise Refused(
            "gas_volume",
            f"must be greater than what the rod takes, {quantity(gas.area * insertion, 'cm³', 3)}",
            quantity(gas_volume, "cm³"),
        )
    force, rate = gas.force(insertion), gas.rate(insertion)
    return GasForce(
        force=force,
        extended_force=gas.force(0.0),
        rate=rate,
        wheel_rate=rate * damper_ratio**2,
        ride_height=force * damper_ratio / wheel_rate,
        pressure=gas.absolute(insertion) - ATMOSPHERE,
        rod_area=gas.area,
    )

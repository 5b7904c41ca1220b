"""One stop: its energy, its power and the temperature it leaves in the disc."""

from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.brakes.care import with_care
from calc.brakes.heat.terms import DiscMass, DiscShare, EndSpeed, MassFactor, StartSpeed
from calc.brakes.terms import CELSIUS_ZERO, SpecificHeat, StartTemperature
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.terms import CarMass
from calc.units import (
    Joules,
    Kelvins,
    Metres,
    MetresPerSecondSquared,
    NewtonMetres,
    Ratio,
    Seconds,
    Watts,
)

HOT_IRON = 750 + CELSIUS_ZERO  # K, above which an iron disc lives short (common practice, no source)


def braking_energy(mass: float, start: float, end: float = 0.0, factor: float = 1.0) -> float:
    """Return the energy of braking from one speed to another.

    >>> braking_energy(1200, 30)
    540000.0
    """
    return factor * mass / 2 * (start**2 - end**2)


def temperature_rise(energy: float, mass: float, specific_heat: float) -> float:
    """Return the even temperature rise of a body that keeps the energy.

    >>> temperature_rise(540e3, 4.0, 500.0)
    270.0
    """
    return energy / (mass * specific_heat)


def require_slowing(start: float, end: float, name: str = "end_speed") -> None:
    """Refuse a stop that does not slow the car."""
    if end >= start:
        raise Refused(
            name, f"must be less than the speed at the start, {3.6 * start:.4g} km/h", f"{3.6 * end:.4g} km/h"
        )


class StopHeat(NamedTuple):
    """Energy of one stop and the rise of each disc."""

    rise: Annotated[Kelvins, Output("Rise of the disc", r"\Delta T", "K")]
    end_temperature: Annotated[Kelvins, Output("Temperature of the disc after the stop", "T", "°C")]
    energy: Annotated[Joules, Output("Energy of the stop", "E", "kJ")]
    disc_energy: Annotated[Joules, Output("Energy into one disc", "E_d", "kJ")]
    brake_energy: Annotated[Joules, Output("Energy of one brake, disc and pads", "E_b", "kJ", detail=True)]


def _remarks(result: StopHeat, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark(
            "This is the even temperature of the ring. In a stop shorter than the time heat takes through it (about 3 s for a 7 mm cheek, "
            "13 s for 14 mm) the surface is clearly hotter.",
            about="rise",
        )
    ]
    if result.end_temperature > HOT_IRON:
        remarks.append(
            Remark("Above about 750 °C an iron disc does not last: it cracks and scales.", "caution", "end_temperature")
        )
    return tuple(remarks)


@calculator(
    title="Heat of one stop",
    question="How hot does one stop make the discs?",
    example={
        "mass": "1160 kg",
        "start_speed": "215 km/h",
        "end_speed": "75 km/h",
        "mass_factor": "1.05",
        "axle_share": "70 %",
        "disc_share": "95 %",
        "discs": "2",
        "disc_mass": "6.8 kg",
        "specific_heat": "520 J/(kg·K)",
        "start_temperature": "180 °C",
    },
    working=(
        Step(r"E = \frac{k_m \, m}{2} \, ({v_1}^2 - {v_2}^2) - E_0", "energy"),
        Step(r"E_b = \frac{x \, E}{n}", "brake_energy"),
        Step(r"E_d = \gamma \, E_b", "disc_energy"),
        Step(r"\Delta T = \frac{E_d}{m_d \, c}", "rise"),
        Step(r"T = T_0 + \Delta T", "end_temperature"),
    ),
    remarks=with_care(_remarks),
)
def stop_heat(
    *,
    mass: CarMass,
    start_speed: StartSpeed,
    end_speed: EndSpeed = 0.0,
    mass_factor: MassFactor = 1.05,
    other_energy: Annotated[
        Joules, Input("Energy that drag, tyres and engine take", "E_0", "kJ", at_least=0, at_most=1e9)
    ] = 0.0,
    axle_share: Annotated[
        Ratio,
        Input(
            "Share of the friction brake force on this axle",
            "x",
            "%",
            above=0,
            at_most=1,
            typical=(0.2, 0.85),
            help="Of the brakes at this deceleration, not of the static load.",
        ),
    ],
    disc_share: DiscShare = 0.95,
    discs: Annotated[int, Input("Discs on this axle", "n", at_least=1, at_most=4)] = 2,
    disc_mass: DiscMass,
    specific_heat: SpecificHeat,
    start_temperature: StartTemperature = 293.15,
) -> StopHeat:
    """Return the energy of one stop and the temperature it gives each disc.

    Equation: E = (k_m m/2)(v_1^2 - v_2^2) - E_0;  dT = x gamma E/(n m_d c).
    Valid for: stops short against the cooling time, one even temperature of the rubbing ring.
    Caution: hot discs burn skin and boil fluid: cool down on the move, and never stand on the brake with hot pads.
    Source: energy balance; J. E. Shigley, Mechanical Engineering Design, and R. Limpert, Brake Design and Safety, 1999 (from memory).

    >>> round(stop_heat(mass=1250, start_speed=61, end_speed=22, axle_share=0.68, disc_mass=7.8, specific_heat=500, start_temperature=393.15).rise, 3)
    175.934
    """
    require_slowing(start_speed, end_speed)
    energy = braking_energy(mass, start_speed, end_speed, mass_factor) - other_energy
    if energy < 0:
        raise Refused("other_energy", "must be less than the energy of the stop", f"{other_energy / 1e3:g} kJ")
    brake = axle_share * energy / discs
    rise = temperature_rise(disc_share * brake, disc_mass, specific_heat)
    return StopHeat(rise, start_temperature + rise, energy, disc_share * brake, brake)


class BrakingPower(NamedTuple):
    """Energy, time, distance and power of one stop, and the torque of each brake."""

    peak_power: Annotated[Watts, Output("Power at the start of braking", "P_1", "kW")]
    mean_power: Annotated[Watts, Output("Mean power", "P_m", "kW")]
    energy: Annotated[Joules, Output("Energy", "E", "kJ")]
    time: Annotated[Seconds, Output("Time", "t", "s")]
    distance: Annotated[Metres, Output("Distance", "s", "m")]
    peak_over_mean: Annotated[Ratio, Output("Peak over mean power", "P_1/P_m", "", 3)]
    torque: Annotated[NewtonMetres | None, Output("Mean torque of each brake", "T", "N·m")]


def _power_figures(result: BrakingPower, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    times = [result.time * i / 10 for i in range(11)]
    start, slow = inputs["start_speed"], inputs["deceleration"]
    scale = result.peak_power / start
    return (
        Chart(
            "Braking power through the stop",
            "Power falls with speed: the first moment is the hottest for the surface.",
            Axis("Time", "s"),
            Axis("Power of all brakes", "kW"),
            (Series("Power", times, [scale * (start - slow * t) for t in times]),),
        ),
    )


@calculator(
    title="Braking power",
    question="What power do the brakes turn into heat, and when?",
    example={
        "mass": "1160 kg",
        "start_speed": "215 km/h",
        "end_speed": "75 km/h",
        "deceleration": "1.05 g",
        "mass_factor": "1.05",
        "brakes": "4",
        "wheel_radius": "305 mm",
    },
    working=(
        Step(r"P_1 = k_m \, m \, d \, v_1", "peak_power"),
        Step(r"P_m = k_m \, m \, d \, \frac{v_1 + v_2}{2}", "mean_power"),
        Step(r"t = \frac{v_1 - v_2}{d}", "time"),
    ),
    remarks=with_care(),
    figures=_power_figures,
)
def braking_power(
    *,
    mass: CarMass,
    start_speed: StartSpeed,
    end_speed: EndSpeed = 0.0,
    deceleration: Annotated[
        MetresPerSecondSquared, Input("Deceleration", "d", "g", above=0, at_most=200, typical=(2, 25))
    ],
    mass_factor: MassFactor = 1.0,
    brakes: Annotated[int, Input("Brakes that share it", "n", at_least=1, at_most=8)] = 4,
    wheel_radius: Annotated[Metres | None, Input("Radius of the wheel", "R", "mm", above=0, at_most=0.8)] = None,
) -> BrakingPower:
    """Return energy, power, time and distance of a stop at constant deceleration.

    Equation: P = k_m m d v, at its peak in the first moment;  mean = peak (v_1 + v_2)/(2 v_1): to rest, half the peak.
    Valid for: constant deceleration by the brakes alone, evenly shared brakes for the torque.
    Source: energy balance, derived.

    >>> answer = braking_power(mass=1500, start_speed=120 / 3.6, deceleration=4.905)
    >>> round(answer.peak_power), round(answer.peak_over_mean, 6)
    (245250, 2.0)
    """
    require_slowing(start_speed, end_speed)
    energy = braking_energy(mass, start_speed, end_speed, mass_factor)
    time, distance = (start_speed - end_speed) / deceleration, (start_speed**2 - end_speed**2) / (2 * deceleration)
    peak = mass_factor * mass * deceleration * start_speed
    torque = None if wheel_radius is None else energy / brakes / (distance / wheel_radius)
    return BrakingPower(peak, energy / time, energy, time, distance, peak * time / energy, torque)

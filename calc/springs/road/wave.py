"""A wavy road of one wavelength: one mass on its spring, and the quarter car."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.rates import natural_frequency
from calc.springs.road.quarter import Quarter, corner_of
from calc.springs.road.words import Damping, DampingRatio, RoadAmplitude, Speed, Wavelength
from calc.springs.words import UnsprungMass
from calc.terms import SprungCornerMass, TyreRate, WheelRate
from calc.units import (
    Hertz,
    Kilograms,
    Metres,
    MetresPerSecond,
    MetresPerSecondSquared,
    Newtons,
    NewtonsPerMetre,
    Ratio,
)

_STEPS = 60


def transmissibility_at(ratio: float, damping: float) -> float:
    """Return body over road amplitude of one mass at a frequency ratio r, for a damping ratio.

    >>> round(transmissibility_at(math.sqrt(2), 0.1), 9), round(transmissibility_at(math.sqrt(2), 0.9), 9)
    (1.0, 1.0)
    """
    push = (2 * damping * ratio) ** 2
    return math.sqrt((1 + push) / ((1 - ratio**2) ** 2 + push))


class Waves(NamedTuple):
    """One mass carried over waves."""

    road_frequency: Annotated[Hertz, Output("Frequency of the road under the car", "f", "Hz", 3)]
    natural_frequency: Annotated[Hertz, Output("Natural frequency of the mass", "f_n", "Hz", 3)]
    transmissibility: Annotated[Ratio, Output("Body amplitude over road amplitude", "T", "", 4)]
    amplitude: Annotated[Metres, Output("Amplitude of the body", "X", "mm", 4)]
    acceleration: Annotated[MetresPerSecondSquared, Output("Greatest acceleration of the body", r"\ddot{z}", "m/s²", 3)]
    frequency_ratio: Annotated[Ratio, Output("Frequency ratio", "r", "", 4, detail=True)]
    resonant_speed: Annotated[
        MetresPerSecond, Output("Speed at which these waves meet the natural frequency", "V_n", "km/h", 3)
    ]


def _wave_remarks(result: Waves, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    if result.frequency_ratio < math.sqrt(2):
        return (
            Remark(
                "Below 1.414 times the natural frequency the body moves more than the road, and more damping helps.",
                about="transmissibility",
            ),
        )
    return (
        Remark(
            "Above 1.414 times the natural frequency the body moves less than the road, and more damping makes it move more.",
            about="transmissibility",
        ),
    )


def _wave_figures(result: Waves, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    ratios = [0.05 * i for i in range(81)]
    series = [
        Series(f"ζ = {zeta:g}", ratios, [transmissibility_at(r, zeta) for r in ratios]) for zeta in (0.2, 0.4, 0.7)
    ]
    if result.frequency_ratio <= 4 and result.transmissibility < 6:
        series.append(Series("Here", [result.frequency_ratio], [result.transmissibility], points=True))
    text = "All curves cross 1 at 1.414 times the natural frequency, whatever the damping."
    return (
        Chart(
            "Transmissibility",
            text,
            Axis("Frequency over natural frequency", ""),
            Axis("Body over road", ""),
            tuple(series),
        ),
    )


@calculator(
    title="One mass over waves: transmissibility",
    question="How much of a wavy road reaches the body at this speed?",
    example={
        "mass": "265 kg",
        "stiffness": "52.9 N/mm",
        "damping_ratio": "0.5",
        "speed": "100 km/h",
        "wavelength": "12 m",
        "amplitude": "15 mm",
    },
    working=(
        Step(r"f = \frac{V}{\lambda}", "road_frequency"),
        Step(r"r = \frac{f}{f_n}", "frequency_ratio"),
        Step(r"T = \sqrt{\frac{1 + (2 \zeta r)^2}{(1 - r^2)^2 + (2 \zeta r)^2}}", "transmissibility"),
        Step(r"X = T \, Y", "amplitude"),
    ),
    remarks=_wave_remarks,
    figures=_wave_figures,
)
def transmissibility(
    *,
    mass: Annotated[Kilograms, Input("Mass on the spring", "m", "kg", above=0, typical=(100, 2000))],
    stiffness: Annotated[NewtonsPerMetre, Input("Rate under it", "k", "N/mm", above=0, typical=(10e3, 500e3))],
    damping_ratio: DampingRatio,
    speed: Speed,
    wavelength: Wavelength,
    amplitude: RoadAmplitude,
) -> Waves:
    """Return how far one mass on a spring and damper moves over a sinusoidal road.

    Equation: r = (V / lambda) / f_n;  T = sqrt((1 + (2 zeta r)^2) / ((1 - r^2)^2 + (2 zeta r)^2));  X = T Y.
    Valid for: a steady wavy road, one mass, linear spring and damper, the tyre left out.
    Caution: without damping the amplitude at r = 1 grows without limit.
    Source: base excitation of the simple oscillator; Rao, Mechanical Vibrations (from memory).

    >>> answer = transmissibility(mass=1200, stiffness=400e3, damping_ratio=0.5, speed=20 / 3.6, wavelength=6, amplitude=0.05)
    >>> round(answer.amplitude, 5)
    0.05505
    """
    own = natural_frequency(stiffness, mass)
    here = speed / wavelength
    carried = transmissibility_at(here / own, damping_ratio)
    body = carried * amplitude
    return Waves(here, own, carried, body, body * (2 * math.pi * here) ** 2, here / own, own * wavelength)


class QuarterOverWaves(NamedTuple):
    """The quarter car over waves. Amplitudes are half of what goes from top to bottom."""

    road_frequency: Annotated[Hertz, Output("Frequency of the road under the car", "f", "Hz", 3)]
    body: Annotated[Metres, Output("Amplitude of the body", "X_s", "mm", 3)]
    wheel: Annotated[Metres, Output("Amplitude of the wheel", "X_u", "mm", 3)]
    travel: Annotated[Metres, Output("Amplitude of the suspension travel", "X_{su}", "mm", 3)]
    acceleration: Annotated[MetresPerSecondSquared, Output("Greatest acceleration of the body", r"\ddot{z}", "m/s²", 3)]
    tyre_force: Annotated[Newtons, Output("Amplitude of the tyre load", r"\Delta N", "N", 3)]
    least_load: Annotated[Newtons, Output("Least tyre load", "N_{min}", "N", 3)]
    damper_speed: Annotated[MetresPerSecond, Output("Greatest speed of the suspension", "v", "mm/s", 3)]
    flags: tuple[str, ...]


def _quarter_remarks(result: QuarterOverWaves, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    share = result.tyre_force / corner_of(inputs).weight
    return (
        Remark(
            f"The tyre load varies by {100 * share:.0f} % of its value at rest; grip follows it down more than up.",
            about="tyre_force",
        ),
    )


def _quarter_figures(result: QuarterOverWaves, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    car, amplitude = corner_of(inputs), inputs["amplitude"]
    frequencies = [0.2 * 125 ** (i / _STEPS) for i in range(_STEPS + 1)]
    moved = [car.transfer(f) for f in frequencies]
    here = [result.road_frequency]
    if max(abs(each.wheel) for each in moved) > 100:
        return ()
    movement = Chart(
        "Movement against frequency",
        "Amplitudes for this height of road at every frequency.",
        Axis("Frequency of the road", "Hz"),
        Axis("Amplitude", "mm"),
        (
            Series("Body", frequencies, [abs(each.body) * amplitude for each in moved]),
            Series("Wheel", frequencies, [abs(each.wheel) * amplitude for each in moved]),
            Series("Travel", frequencies, [abs(each.travel) * amplitude for each in moved]),
        ),
    )
    load = Chart(
        "Tyre load variation against frequency",
        "The tyre load changes most near wheel hop; above the resting load the wheel leaves the ground.",
        Axis("Frequency of the road", "Hz"),
        Axis("Amplitude of the tyre load", "N"),
        (
            Series("Tyre load", frequencies, [abs(each.tyre) * amplitude for each in moved]),
            Series("Load at rest", [frequencies[0], frequencies[-1]], [car.weight, car.weight]),
            Series("Here", here, [result.tyre_force], points=True),
        ),
    )
    return movement, load


@calculator(
    title="Quarter car over waves",
    question="What do body, wheel and tyre load do on a wavy road at this speed?",
    example={
        "sprung_mass": "265 kg",
        "unsprung_mass": "38 kg",
        "wheel_rate": "52.9 N/mm",
        "tyre_rate": "210 N/mm",
        "damping": "3800 N·s/m",
        "speed": "100 km/h",
        "wavelength": "5 m",
        "amplitude": "5 mm",
    },
    working=(
        Step(r"f = \frac{V}{\lambda}", "road_frequency"),
        Step(r"N_{min} = (m_s + m_u) \, g - \Delta N", "least_load"),
    ),
    figures=_quarter_figures,
    remarks=_quarter_remarks,
)
def quarter_car_waves(
    *,
    sprung_mass: SprungCornerMass,
    unsprung_mass: UnsprungMass,
    wheel_rate: WheelRate,
    tyre_rate: TyreRate,
    damping: Damping,
    speed: Speed,
    wavelength: Wavelength,
    amplitude: RoadAmplitude,
) -> QuarterOverWaves:
    """Return amplitudes of body, wheel, travel and tyre load of one corner over a sinusoidal road.

    Equation: the complex two by two equations of the quarter car at s = j 2 pi f, f = V / lambda.
    Valid for: a steady wavy road, linear springs, damper and tyre, the wheel on the ground, a wave much longer than the contact patch.
    Source: rigid-body mechanics; checked against an independent frequency response in the tests.

    >>> answer = quarter_car_waves(sprung_mass=250, unsprung_mass=35, wheel_rate=25e3, tyre_rate=200e3, damping=1500, speed=20, wavelength=200, amplitude=0.01)
    >>> round(answer.body, 5)
    0.0100
    """
    car = Quarter(sprung_mass, unsprung_mass, wheel_rate, tyre_rate, damping)
    here = speed / wavelength
    omega = 2 * math.pi * here
    moved = car.transfer(here)
    force = abs(moved.tyre) * amplitude
    flags: tuple[str, ...] = ()
    if force > car.weight:
        flags = (
            f"The tyre load would fall below nothing: it varies by {quantity(force, 'N', 3)} about {quantity(car.weight, 'N', 3)}. The wheel leaves the ground and these numbers end there.",
        )
    return QuarterOverWaves(
        road_frequency=here,
        body=abs(moved.body) * amplitude,
        wheel=abs(moved.wheel) * amplitude,
        travel=abs(moved.travel) * amplitude,
        acceleration=abs(moved.body) * amplitude * omega**2,
        tyre_force=force,
        least_load=max(0.0, car.weight - force),
        damper_speed=abs(moved.travel) * amplitude * omega,
        flags=flags,
    )

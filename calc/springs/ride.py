"""Ride frequency and static deflection of one corner."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.figures.spec import Axis, Band, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.rates import in_series, natural_frequency
from calc.terms import SprungCornerMass, TyreRate, WheelRate
from calc.units import STANDARD_GRAVITY, Hertz, Kilograms, Metres, MetresPerSecond, NewtonsPerMetre, Seconds

# Common practice, no source: body on its wheels, tyre left out.
FREQUENCY_BANDS = (
    (0.0, 1.0, "a very soft road car"),
    (1.0, 1.5, "a road car"),
    (1.5, 1.8, "a sporting road car"),
    (1.8, 2.6, "a club racing car without downforce"),
    (2.6, 3.0, "a stiff car without downforce, or one with a little"),
    (3.0, 5.0, "a car with downforce"),
    (5.0, 20.0, "a car with much downforce on a smooth track"),
)


class RideFrequency(NamedTuple):
    """Frequencies of one corner, and how far its spring is compressed at rest, at the wheel."""

    body_frequency: Annotated[Hertz, Output("Ride frequency, body on the wheels", "f_b", "Hz", 3)]
    ride_frequency: Annotated[Hertz, Output("Ride frequency with the tyre", "f_r", "Hz", 3)]
    static_deflection: Annotated[Metres, Output("Static deflection at the wheel", "s", "mm", 3)]
    ride_rate: Annotated[NewtonsPerMetre, Output("Ride rate", "k_r", "N/mm", detail=True)]
    period: Annotated[Seconds, Output("Period of the body on the wheels", "T", "s", 3, detail=True)]
    hop_frequency: Annotated[Hertz | None, Output("Wheel hop frequency", "f_h", "Hz", 3)]
    peak_speed: Annotated[MetresPerSecond | None, Output("Greatest speed of the body", "v", "mm/s", 3)]


def usual_for(frequency: float) -> str:
    """Return what kind of car a body frequency in Hz is usual for.

    >>> usual_for(2.0)
    'a club racing car without downforce'
    """
    return next((words for low, high, words in FREQUENCY_BANDS if low <= frequency < high), "no car on springs")


def _remarks(result: RideFrequency, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (Remark(f"Usual for {usual_for(result.body_frequency)}.", about="body_frequency"),)


def _figures(result: RideFrequency, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    mass, tyre, here = inputs["sprung_mass"], inputs["tyre_rate"], inputs["wheel_rate"]
    rates = [here * (0.3 + 0.07 * i) for i in range(21)]
    return (
        Chart(
            "Ride frequency against wheel rate",
            "Frequency grows with the square root of the wheel rate; with the tyre in series it grows more slowly still.",
            Axis("Wheel rate", "N/mm"),
            Axis("Frequency", "Hz"),
            (
                Series("Body on the wheels", rates, [natural_frequency(k, mass) for k in rates]),
                Series("With the tyre", rates, [natural_frequency(in_series(k, tyre), mass) for k in rates]),
                Series("Here", [here, here], [result.body_frequency, result.ride_frequency], points=True),
            ),
            (Band("Usual for a club racing car without downforce", [rates[0], rates[-1]], [1.8, 1.8], [2.6, 2.6]),),
        ),
    )


@calculator(
    title="Ride frequency and static deflection",
    question="How fast does this corner bounce, and how far does its spring sit down?",
    example={"sprung_mass": "265 kg", "wheel_rate": "52 N/mm", "tyre_rate": "210 N/mm", "unsprung_mass": "38 kg"},
    working=(
        Step(r"k_r = \frac{k_w \, k_t}{k_w + k_t}", "ride_rate"),
        Step(r"f_b = \frac{1}{2 \pi} \sqrt{\frac{k_w}{m_s}}", "body_frequency"),
        Step(r"f_r = \frac{1}{2 \pi} \sqrt{\frac{k_r}{m_s}}", "ride_frequency"),
        Step(r"s = \frac{m_s \, g}{k_w}", "static_deflection"),
        Step(r"f_h = \frac{1}{2 \pi} \sqrt{\frac{k_w + k_t}{m_u}}", "hop_frequency"),
        Step(r"v = 2 \pi \, f_b \, X", "peak_speed"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def ride_frequency(
    *,
    sprung_mass: SprungCornerMass,
    wheel_rate: WheelRate,
    tyre_rate: TyreRate,
    unsprung_mass: Annotated[
        Kilograms | None,
        Input("Unsprung mass on this corner", "m_u", "kg", above=0, typical=(15, 60), help="Only for the wheel hop."),
    ] = None,
    amplitude: Annotated[
        Metres | None, Input("Amplitude of the body", "X", "mm", above=0, help="Only for the speed the damper meets.")
    ] = None,
) -> RideFrequency:
    """Return the undamped natural frequency of one corner with and without its tyre, and the static deflection.

    Equation: f = sqrt(k / m_s) / (2 pi), k the wheel rate or the ride rate;  s = m_s g / k_w;  wheel hop about sqrt((k_w + k_t) / m_u) / (2 pi).
    Valid for: a linear spring without preload; small damping (the damped frequency is a little lower).
    Caution: with preload, a tender spring or a bump rubber in touch, use the rate at the ride height, and read s from the force curve.
    Source: simple oscillator; Gillespie, Fundamentals of Vehicle Dynamics, 1992, chapter 5 (from memory).

    >>> answer = ride_frequency(sprung_mass=250, wheel_rate=25000, tyre_rate=200000)
    >>> round(answer.body_frequency, 3), round(answer.ride_frequency, 3)
    (1.592, 1.501)
    """
    ride_rate = in_series(wheel_rate, tyre_rate)
    body = natural_frequency(wheel_rate, sprung_mass)
    return RideFrequency(
        body_frequency=body,
        ride_frequency=natural_frequency(ride_rate, sprung_mass),
        static_deflection=sprung_mass * STANDARD_GRAVITY / wheel_rate,
        ride_rate=ride_rate,
        period=1 / body,
        hop_frequency=None if unsprung_mass is None else natural_frequency(wheel_rate + tyre_rate, unsprung_mass),
        peak_speed=None if amplitude is None else 2 * math.pi * body * amplitude,
    )

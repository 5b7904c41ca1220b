"""From a wanted ride frequency to the spring to order."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.rates import before_series, in_series, natural_frequency, rate_for_frequency
from calc.refusal import Refused
from calc.springs.ride import usual_for
from calc.springs.words import MotionRatio
from calc.terms import SprungCornerMass, TyreRate
from calc.units import STANDARD_GRAVITY, Hertz, Metres, NewtonsPerMetre

Meaning = Annotated[
    Literal["body", "with_tyre"],
    Choice(
        "The wanted frequency is that of",
        {"body": "the body on its wheels, tyre left out", "with_tyre": "the car as it rides, tyre in series"},
    ),
]


class SpringForFrequency(NamedTuple):
    """The spring that gives a corner its wanted frequency."""

    spring_rate: Annotated[NewtonsPerMetre, Output("Spring rate to order", "k_s", "N/mm", 3)]
    wheel_rate: Annotated[NewtonsPerMetre, Output("Wheel rate", "k_w", "N/mm")]
    spring_deflection: Annotated[Metres, Output("Static compression of the spring", "s_s", "mm", 3)]
    wanted_rate: Annotated[NewtonsPerMetre, Output("Rate that the wanted frequency asks for", "k", "N/mm", detail=True)]
    ride_rate: Annotated[NewtonsPerMetre, Output("Ride rate with the tyre", "k_r", "N/mm", detail=True)]


def _remarks(result: SpringForFrequency, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    body = natural_frequency(result.wheel_rate, inputs["sprung_mass"])  # the bands leave the tyre out
    return (
        Remark(f"With the tyre left out, this is usual for {usual_for(body)}.", about="spring_rate"),
        Remark(
            "Springs are sold in steps and to a few per cent: order the nearest, then ask what it gives.",
            about="spring_rate",
        ),
    )


def _wheel_rate(frequency: float, mass: float, tyre: float, meaning: str) -> float | None:
    wanted = rate_for_frequency(frequency, mass)
    if meaning == "body":
        return wanted
    return before_series(wanted, tyre) if wanted < tyre else None


def _figures(result: SpringForFrequency, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    here, ratio = inputs["frequency"], inputs["motion_ratio"]
    steps = [here * (0.5 + 0.05 * i) for i in range(21)]
    rates = [_wheel_rate(f, inputs["sprung_mass"], inputs["tyre_rate"], inputs["meaning"]) for f in steps]
    springs = [float("nan") if k is None or k > 6 * result.wheel_rate else k / ratio**2 for k in rates]
    return (
        Chart(
            "Spring rate against wanted frequency",
            "The spring rate grows with the square of the frequency: twice the frequency takes four times the rate or more.",
            Axis("Frequency", "Hz"),
            Axis("Spring rate", "N/mm"),
            (Series("Spring rate", steps, springs), Series("Wanted", [here], [result.spring_rate], points=True)),
        ),
    )


@calculator(
    title="Spring for a wanted frequency",
    question="Which spring gives this corner the frequency I want?",
    example={
        "sprung_mass": "265 kg",
        "frequency": "2.2 Hz",
        "meaning": "body",
        "tyre_rate": "210 N/mm",
        "motion_ratio": "0.94",
    },
    working=(
        Step(r"k = m_s \, (2 \pi f)^2", "wanted_rate"),
        Step(r"k_w = \frac{k_r \, k_t}{k_t - k_r}", "wheel_rate"),
        Step(r"k_s = \frac{k_w}{{MR}^2}", "spring_rate"),
        Step(r"s_s = \frac{m_s \, g}{k_w} \, MR", "spring_deflection"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def spring_for_frequency(
    *,
    sprung_mass: SprungCornerMass,
    frequency: Annotated[Hertz, Input("Wanted ride frequency", "f", "Hz", above=0, typical=(1.0, 5.0))],
    meaning: Meaning = "body",
    tyre_rate: TyreRate,
    motion_ratio: MotionRatio,
) -> SpringForFrequency:
    """Return the spring rate that gives one corner a wanted frequency.

    Equation: k = m_s (2 pi f)^2;  with the tyre in series k_w = k_r k_t / (k_t - k_r);  k_s = k_w / MR^2.
    Valid for: a linear spring, a motion ratio that is constant near the ride height, wheels moving together so that the bar does nothing.
    Caution: a stiffer spring moves the travel, damping and roll balance with it; look at those before ordering.
    Source: simple oscillator and springs in series, inverted; the chain follows Milliken and Milliken, Race Car Vehicle Dynamics, 1995 (from memory).

    >>> answer = spring_for_frequency(sprung_mass=250, frequency=1.5915494, tyre_rate=200000, motion_ratio=1.0)
    >>> round(answer.spring_rate)
    25000
    """
    at_wheel = _wheel_rate(frequency, sprung_mass, tyre_rate, meaning)
    if at_wheel is None:
        limit = quantity(natural_frequency(tyre_rate, sprung_mass), "Hz", 3)
        raise Refused(
            "frequency",
            f"must be below {limit}, the frequency of this mass on the tyre alone",
            quantity(frequency, "Hz"),
        )
    return SpringForFrequency(
        spring_rate=at_wheel / motion_ratio**2,
        wheel_rate=at_wheel,
        spring_deflection=sprung_mass * STANDARD_GRAVITY / at_wheel * motion_ratio,
        wanted_rate=rate_for_frequency(frequency, sprung_mass),
        ride_rate=in_series(at_wheel, tyre_rate),
    )


class SpringForRideRate(NamedTuple):
    """The wheel rate and spring that leave a wanted rate once the tyre gives too."""

    wheel_rate: Annotated[NewtonsPerMetre, Output("Wheel rate", "k_w", "N/mm")]
    spring_rate: Annotated[NewtonsPerMetre, Output("Spring rate", "k_s", "N/mm", 3)]


def _ride_rate_remarks(result: SpringForRideRate, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    share = inputs["ride_rate"] / inputs["tyre_rate"]
    if share > 0.5:
        return (
            Remark(
                "More than half of the tyre's own rate: the tyre is becoming the spring, and nothing damps it.",
                "caution",
                "wheel_rate",
            ),
        )
    return (
        Remark(
            f"The wheel rate is {100 * (result.wheel_rate / inputs['ride_rate'] - 1):.0f} % above the ride rate, because the tyre gives too.",
            about="wheel_rate",
        ),
    )


def _ride_rate_figures(result: SpringForRideRate, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    tyre = inputs["tyre_rate"]
    top = min(0.9 * tyre, max(0.6 * tyre, 1.2 * inputs["ride_rate"]))
    wanted = [top * i / 20 for i in range(1, 21)]
    series = [Series("Wheel rate", wanted, [before_series(k, tyre) for k in wanted])]
    if inputs["ride_rate"] <= top:
        series.append(Series("Here", [inputs["ride_rate"]], [result.wheel_rate], points=True))
    text = "The wheel rate needed climbs without limit as the ride rate nears that of the tyre."
    return (
        Chart(
            "Wheel rate against wanted ride rate",
            text,
            Axis("Ride rate", "N/mm"),
            Axis("Wheel rate", "N/mm"),
            tuple(series),
        ),
    )


@calculator(
    title="Spring for a wanted ride rate",
    question="Which wheel rate and spring leave this ride rate on this tyre?",
    example={"ride_rate": "42 N/mm", "tyre_rate": "210 N/mm", "motion_ratio": "0.94"},
    working=(
        Step(r"k_w = \frac{k_r \, k_t}{k_t - k_r}", "wheel_rate"),
        Step(r"k_s = \frac{k_w}{{MR}^2}", "spring_rate"),
    ),
    remarks=_ride_rate_remarks,
    figures=_ride_rate_figures,
)
def spring_for_ride_rate(
    *,
    ride_rate: Annotated[
        NewtonsPerMetre, Input("Wanted ride rate, with the tyre", "k_r", "N/mm", above=0, typical=(10e3, 150e3))
    ],
    tyre_rate: TyreRate,
    motion_ratio: MotionRatio,
) -> SpringForRideRate:
    """Return the wheel rate, and the spring, that give a wanted rate in series with the tyre.

    Equation: k_w = k_r k_t / (k_t - k_r);  k_s = k_w / MR^2.
    Valid for: a tyre rate measured about the working load; a constant motion ratio.
    Source: springs in series, inverted.

    >>> round(spring_for_ride_rate(ride_rate=22222.22, tyre_rate=200e3, motion_ratio=1.0).wheel_rate)
    25000
    """
    if ride_rate >= tyre_rate:
        raise Refused(
            "ride_rate",
            f"must be below the rate of the tyre, {quantity(tyre_rate, 'N/mm')}",
            quantity(ride_rate, "N/mm"),
        )
    at_wheel = before_series(ride_rate, tyre_rate)
    return SpringForRideRate(at_wheel, at_wheel / motion_ratio**2)

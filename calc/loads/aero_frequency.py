"""Frequency and damping of the body under downforce, and the speed at which the air wins over the springs."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.loads.aero_heights import divergence_speed
from calc.loads.terms import SprungMass
from calc.rates import natural_frequency
from calc.units import Hertz, MetresPerSecond, NewtonSecondsPerMetre, NewtonsPerMetre, Ratio


class FrequencyUnderDownforce(NamedTuple):
    """Heave at speed; none where the car would diverge."""

    frequency: Annotated[Hertz | None, Output("Heave frequency at this speed", "f", "Hz", 4)]
    frequency_at_rest: Annotated[Hertz, Output("Heave frequency without the air", "f_0", "Hz", 4)]
    damping_ratio: Annotated[Ratio | None, Output("Damping ratio at this speed", r"\zeta", "", 3)]
    damping_ratio_at_rest: Annotated[Ratio, Output("Damping ratio without the air", r"\zeta_0", "", 3)]
    net_rate: Annotated[NewtonsPerMetre, Output("Stiffness left", "k_n", "N/mm")]
    divergence_speed: Annotated[
        MetresPerSecond | None, Output("Speed at which the car would diverge", "V_d", "km/h", 3)
    ]
    flags: tuple[str, ...]


def ratio(damping: float, rate: float, mass: float) -> float:
    """Return the damping ratio c/(2 sqrt(k m)).

    >>> ratio(2000.0, 1000.0, 1000.0)
    1.0
    """
    return damping / (2 * math.sqrt(rate) * math.sqrt(mass))


def _remarks(result: FrequencyUnderDownforce, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            "A steady downforce changes nothing here: the mass is the same and linear springs have the same rate. Never add downforce to the mass.",
            about="frequency",
        ),
        Remark(
            "Rising rates, bump rubbers and tyres get stiffer under load: put in the rate at the height the car reaches at this speed.",
            about="net_rate",
        ),
    )


def _figures(result: FrequencyUnderDownforce, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    top = 1.5 * inputs["speed"]
    speeds = [top * i / 40 for i in range(41)]
    left = [inputs["ride_rate"] - inputs["height_gradient"] * (v / inputs["speed"]) ** 2 for v in speeds]
    lines = [natural_frequency(k, inputs["sprung_mass"]) if k > 0 else float("nan") for k in left]
    here = () if result.frequency is None else (Series("Here", [inputs["speed"]], [result.frequency], points=True),)
    return (
        Chart(
            "Heave frequency against speed",
            "The growing height gradient takes stiffness away with the square of speed; where none is left the car sinks without end.",
            Axis("Speed", "km/h"),
            Axis("Frequency", "Hz"),
            (Series("Heave frequency", speeds, lines), *here),
        ),
    )


@calculator(
    title="Frequency and damping under downforce",
    question="What does ground-effect downforce do to the frequency and damping of the body, and at what speed does it win?",
    example={
        "sprung_mass": "1012 kg",
        "ride_rate": "163 N/mm",
        "height_gradient": "24 N/mm",
        "speed": "190 km/h",
        "damping": "13200 N·s/m",
    },
    working=(
        Step(r"k_n = k - g_h", "net_rate"),
        Step(r"f = \frac{1}{2 \pi} \sqrt{\frac{k - g_h}{m_s}}", "frequency"),
        Step(r"\zeta = \frac{c}{2 \sqrt{(k - g_h) \, m_s}}", "damping_ratio"),
        Step(r"V_d = V \sqrt{\frac{k}{g_h}}", "divergence_speed"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def frequency_under_downforce(
    *,
    sprung_mass: SprungMass,
    ride_rate: Annotated[
        NewtonsPerMetre,
        Input("Ride rate of all four wheels together, at this speed", "k", "N/mm", above=0, typical=(60e3, 800e3)),
    ],
    height_gradient: Annotated[
        NewtonsPerMetre,
        Input(
            "Height gradient of the downforce at this speed",
            "g_h",
            "N/mm",
            at_least=0,
            typical=(0, 300e3),
            help="Newtons gained for each unit the car sinks.",
        ),
    ],
    speed: Annotated[MetresPerSecond, Input("Speed", "V", "km/h", above=0, typical=(20, 90))],
    damping: Annotated[
        NewtonSecondsPerMetre,
        Input("Damping of all four wheels together, at the wheels", "c", "N·s/m", at_least=0, typical=(2000, 40000)),
    ] = 0.0,
) -> FrequencyUnderDownforce:
    """Return frequency and damping ratio of the body in heave under downforce that grows as the car sinks.

    Equation: f = sqrt((k - g_h)/m_s)/(2 pi);  zeta = c/(2 sqrt((k - g_h) m_s));  divergence where g_h (V_d/V)^2 = k.
    Signs: the gradient is positive when downforce grows as the car sinks; it acts as a negative stiffness.
    Valid for: heave alone, small motions, no lag of the air. Lag and pitch coupling make a car porpoise before it diverges.
    Caution: stay well below the divergence speed; a car that bottoms at speed loses steering and may lose the downforce at once.
    Source: simple oscillator with a negative stiffness.

    >>> found = frequency_under_downforce(sprung_mass=700, ride_rate=420e3, height_gradient=90e3, speed=50)
    >>> round(found.frequency_at_rest, 5), round(found.frequency, 5)
    (3.89848, 3.45564)
    """
    left = ride_rate - height_gradient
    flags = ("The downforce grows faster than the springs push back: the car sinks onto its stops (heave divergence).",)
    return FrequencyUnderDownforce(
        frequency=natural_frequency(left, sprung_mass) if left > 0 else None,
        frequency_at_rest=natural_frequency(ride_rate, sprung_mass),
        damping_ratio=ratio(damping, left, sprung_mass) if left > 0 else None,
        damping_ratio_at_rest=ratio(damping, ride_rate, sprung_mass),
        net_rate=left,
        divergence_speed=divergence_speed(ride_rate, height_gradient, speed),
        flags=() if left > 0 else flags,
    )

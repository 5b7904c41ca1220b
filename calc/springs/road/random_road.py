"""One corner on a road of a class: tyre load variation, travel, body acceleration and how it feels."""

from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.springs.road.comfort import feel
from calc.springs.road.noise import closed_form, comfort_damping, contact_damping, within_band
from calc.springs.road.quarter import Quarter, corner_of
from calc.springs.road.roughness import GRADE_WORDS, Grade, roughness, velocity_density
from calc.springs.road.words import Speed
from calc.springs.words import UnsprungMass
from calc.terms import SprungCornerMass, TyreRate, WheelRate
from calc.units import (
    CubicMetres,
    Metres,
    MetresPerSecondSquared,
    Newtons,
    NewtonSecondsPerMetre,
    Ratio,
    SquareMetresPerSecond,
)


class RoadResponse(NamedTuple):
    """RMS values. The first three hold for an infinite band of frequencies, those of the band from 0.1 to 50 Hz."""

    tyre_load: Annotated[Newtons, Output("RMS variation of the tyre load", r"\sigma_F", "N", 4)]
    load_coefficient: Annotated[Ratio, Output("Dynamic load coefficient", "DLC", "", 3)]
    acceleration: Annotated[MetresPerSecondSquared, Output("RMS acceleration of the body", r"\sigma_a", "m/s²", 4)]
    travel: Annotated[Metres, Output("RMS suspension travel", r"\sigma_z", "mm", 4)]
    comfort_damping: Annotated[NewtonSecondsPerMetre, Output("Damping for the least acceleration", "c_a", "N·s/m", 4)]
    contact_damping: Annotated[NewtonSecondsPerMetre, Output("Damping for the steadiest tyre load", "c_F", "N·s/m", 4)]
    weighted: Annotated[MetresPerSecondSquared, Output("RMS acceleration as felt (weighting Wk)", "a_w", "m/s²", 3)]
    feel: Annotated[str, Output("Feels")]
    band_tyre_load: Annotated[Newtons, Output("RMS tyre load within 0.1 to 50 Hz", "", "N", 4, detail=True)]
    band_acceleration: Annotated[
        MetresPerSecondSquared, Output("RMS acceleration within 0.1 to 50 Hz", "", "m/s²", 4, detail=True)
    ]
    band_travel: Annotated[Metres, Output("RMS travel within 0.1 to 50 Hz", "", "mm", 4, detail=True)]
    density: Annotated[
        CubicMetres, Output("Displacement density of the road at 0.1 cycles/m", "G_d", "cm³", detail=True)
    ]
    velocity_density: Annotated[
        SquareMetresPerSecond, Output("Density of the road's vertical speed", "S_v", "m²/s", 4, detail=True)
    ]
    flags: tuple[str, ...]


def _remarks(result: RoadResponse, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = []
    if result.load_coefficient < 0.1:
        remarks.append(Remark("Below 0.1 the tyre is pressed evenly.", about="load_coefficient"))
    damping = inputs["damping"]
    if damping < min(result.comfort_damping, result.contact_damping):
        remarks.append(
            Remark("More damping would help both the ride and the grip on this model.", about="comfort_damping")
        )
    elif damping > max(result.comfort_damping, result.contact_damping):
        remarks.append(
            Remark(
                "Less damping would help both the ride and the grip on this model; cornering and pitch may still ask for it.",
                about="contact_damping",
            )
        )
    else:
        remarks.append(
            Remark(
                "Between the softest ride and the best grip: more damping trades one for the other.",
                about="contact_damping",
            )
        )
    return tuple(remarks)


def _figures(result: RoadResponse, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    car = corner_of(inputs)
    top = 1.6 * max(inputs["damping"], result.comfort_damping, result.contact_damping)
    dampings = [top * (0.06 + 0.94 * i / 30) for i in range(31)]
    noises = [closed_form(car._replace(c=c), result.velocity_density) for c in dampings]
    load = Chart(
        "Tyre load variation against damping",
        "Too little damping lets the wheel bounce, too much ties it to the body: between them the tyre load is steadiest.",
        Axis("Damping at the wheel", "N·s/m"),
        Axis("RMS tyre load", "N"),
        (
            Series("Tyre load", dampings, [n.tyre for n in noises]),
            Series("Here", [inputs["damping"]], [result.tyre_load], points=True),
        ),
    )
    ride = Chart(
        "Body acceleration against damping",
        "The softest ride asks for less damping than the steadiest tyre load.",
        Axis("Damping at the wheel", "N·s/m"),
        Axis("RMS acceleration", "m/s²"),
        (
            Series("Acceleration", dampings, [n.acceleration for n in noises]),
            Series("Here", [inputs["damping"]], [result.acceleration], points=True),
        ),
    )
    return load, ride


@calculator(
    title="Ride and grip on a rough road",
    question="How much do tyre load and body move on a road of this class, and what damping suits it?",
    example={
        "sprung_mass": "265 kg",
        "unsprung_mass": "38 kg",
        "wheel_rate": "52.9 N/mm",
        "tyre_rate": "210 N/mm",
        "damping": "3800 N·s/m",
        "grade": "B",
        "speed": "100 km/h",
    },
    working=(
        Step(r"S_v = 4 \pi^2 \, G_d \, n_0^2 \, V", "velocity_density"),
        Step(
            r"\sigma_a^2 = \frac{S_v}{4} \left(\frac{c \, k_t}{m_s^2} + \frac{k^2 \, M}{c \, m_s^2}\right)",
            "acceleration",
        ),
        Step(r"\sigma_z^2 = \frac{S_v}{4} \, \frac{M}{c}", "travel"),
        Step(
            r"\sigma_F^2 = \frac{S_v}{4} \left(\frac{k_t \, c \, M^2}{m_s^2} + \frac{M^3 k^2 / m_s^2 - 2 \, k_t \, k \, m_u M / m_s + k_t^2 \, m_u}{c}\right)",
            "tyre_load",
        ),
        Step(r"DLC = \frac{\sigma_F}{M \, g}", "load_coefficient"),
        Step(r"c_a = k \sqrt{M / k_t}", "comfort_damping"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def road_response(
    *,
    sprung_mass: SprungCornerMass,
    unsprung_mass: UnsprungMass,
    wheel_rate: WheelRate,
    tyre_rate: TyreRate,
    damping: Annotated[
        NewtonSecondsPerMetre,
        Input(
            "Damping at the wheel, mean of bump and rebound",
            "c",
            "N·s/m",
            above=0,
            typical=(500, 12000),
            help="Above 0: without damping the movement grows without limit.",
        ),
    ],
    grade: Annotated[Grade, Choice("Class of the road (ISO 8608)", GRADE_WORDS)],
    roughness_given: Annotated[
        CubicMetres | None,
        Input(
            "Measured displacement density at 0.1 cycles/m",
            "G_d",
            "cm³",
            above=0,
            help="Takes the place of the class, if given.",
        ),
    ] = None,
    speed: Speed,
) -> RoadResponse:
    """Return the RMS tyre load, body acceleration and suspension travel of one corner on a random road.

    Equation: with M = m_s + m_u and a white density S_v of the road's vertical speed, the closed forms of the working; within 0.1 to 50 Hz
    the same by integrating |H|^2 S_v / omega^2 numerically, and once more with the weighting Wk of ISO 2631-1.
    Valid for: linear springs, damper and tyre, a damping above 0, roads that fall with the square of the wave number, no stops, the wheel on the ground.
    Caution: a real damper is not linear and a seat changes what is felt; compare set-ups with it, do not judge a car by it.
    Source: closed forms after Gobbi and Mastinu, 2001 (from memory), checked against the Lyapunov equation in the tests; ISO 8608 and ISO 2631-1 (from memory).

    >>> answer = road_response(sprung_mass=250, unsprung_mass=35, wheel_rate=25e3, tyre_rate=200e3, damping=1500, grade="C", speed=20)
    >>> round(answer.acceleration, 3), round(answer.tyre_load, 1), round(answer.band_tyre_load, 1)
    (1.840, 782.4, 754.7)
    """
    car = Quarter(sprung_mass, unsprung_mass, wheel_rate, tyre_rate, damping)
    density = roughness(grade) if roughness_given is None else roughness_given
    white = velocity_density(density, speed)
    noise, band = closed_form(car, white), within_band(car, white)
    share = noise.tyre / car.weight
    weighted = band.weighted or 0.0
    return RoadResponse(
        tyre_load=noise.tyre,
        load_coefficient=share,
        acceleration=noise.acceleration,
        travel=noise.travel,
        comfort_damping=comfort_damping(car),
        contact_damping=contact_damping(car),
        weighted=weighted,
        feel=feel(weighted),
        band_tyre_load=band.tyre,
        band_acceleration=band.acceleration,
        band_travel=band.travel,
        density=density,
        velocity_density=white,
        flags=(
            "The tyre load varies by more than a third of itself: at three times the RMS the wheel leaves the ground.",
        )
        if share > 1 / 3
        else (),
    )

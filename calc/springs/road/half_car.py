"""The half car with wheels: four modes, and a bump taken by the front wheels and then by the rear."""

import math
from collections.abc import Mapping
from functools import lru_cache
from typing import Annotated, Any, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.springs.road.half import End, Half
from calc.springs.road.words import FrontAxleRate, PitchRadius, RearAxleRate, Speed, SprungMass, ToFront, ToRear
from calc.units import (
    STANDARD_GRAVITY,
    Hertz,
    Kilograms,
    Metres,
    MetresPerSecondSquared,
    NewtonSecondsPerMetre,
    NewtonsPerMetre,
    Radians,
    Ratio,
    Seconds,
)

_STEPS = 150
_DRAWN = 75
_MOST_STEPS = 3000
_END = "Of both wheels together."


class HalfCar(NamedTuple):
    """Modes by rising frequency: two of the body, two of the axles; and what a bump does."""

    first_frequency: Annotated[Hertz, Output("Slower body mode, undamped", "f_1", "Hz", 3)]
    second_frequency: Annotated[Hertz, Output("Faster body mode, undamped", "f_2", "Hz", 3)]
    third_frequency: Annotated[Hertz, Output("Slower axle hop, undamped", "f_3", "Hz", 3)]
    fourth_frequency: Annotated[Hertz, Output("Faster axle hop, undamped", "f_4", "Hz", 3)]
    damping_ratios: Annotated[tuple[Ratio, ...], Output("Damping ratios of the four, slowest first", r"\zeta", "", 3)]
    pitch_peak: Annotated[Radians, Output("Greatest pitch after the bump", r"\theta", "°", 3)]
    heave_peak: Annotated[Metres, Output("Greatest heave after the bump", "z", "mm", 3)]
    acceleration: Annotated[
        MetresPerSecondSquared, Output("Greatest acceleration of the centre of gravity", r"\ddot{z}", "m/s²", 3)
    ]
    delay: Annotated[Seconds, Output("Time from front to rear wheel", r"\Delta t", "s", 3, detail=True)]
    dynamic_index: Annotated[Ratio, Output("Dynamic index", "DI", "", 3, detail=True)]
    flags: tuple[str, ...]


class _Story(NamedTuple):
    """The motion after a bump, at equal steps of time."""

    times: tuple[float, ...]
    heave: tuple[float, ...]
    pitch: tuple[float, ...]
    acceleration: tuple[float, ...]
    light: bool  # a wheel left the ground


def _half(inputs: Mapping[str, Any]) -> Half:
    ends = [
        End(
            inputs[f"{end}_axle_rate"],
            inputs[f"{end}_axle_damping"],
            inputs[f"{end}_unsprung"],
            inputs[f"{end}_axle_tyre"],
        )
        for end in ("front", "rear")
    ]
    return Half(inputs["sprung_mass"], inputs["pitch_radius"], inputs["to_front"], inputs["to_rear"], *ends)


@lru_cache(maxsize=1)  # the answer and its figures show the same motion
def _story(car: Half, height: float, length: float, speed: float) -> _Story:
    frequencies = car.undamped()
    crossing, delay = length / speed, (car.a + car.b) / speed
    duration = delay + crossing + 1.8 / frequencies[0]
    steps = max(_STEPS, math.ceil(duration * frequencies[-1] * 10), math.ceil(16 * duration / crossing))
    if steps > _MOST_STEPS:
        raise Refused(
            "bump_length",
            "must not be so short or long that the movement cannot be followed in steps",
            quantity(length, "m"),
        )
    step = duration / steps
    at = [n * step for n in range(steps + 1)]

    def road(t: float) -> float:
        return height * math.sin(math.pi * t / crossing) if 0 < t < crossing else 0.0

    front, rear = [road(t) for t in at], [road(t - delay) for t in at]
    states = car.over(front, rear, step)
    row = car.state()[4]
    pulls = [sum(a * b for a, b in zip(row, x, strict=False)) for x in states]
    return _Story(
        tuple(at), tuple(x[0] for x in states), tuple(x[1] for x in states), tuple(pulls), _light(car, states)
    )


def _light(car: Half, states: list[list[float]]) -> bool:
    """Return whether a tyre load falls below nothing."""
    g, length = STANDARD_GRAVITY, car.a + car.b
    loads = ((car.ms * car.b / length + car.front.mass) * g, (car.ms * car.a / length + car.rear.mass) * g)
    return any(car.front.tyre * (x[2] - x[8]) > loads[0] or car.rear.tyre * (x[3] - x[9]) > loads[1] for x in states)


def _remarks(result: HalfCar, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    if min(result.damping_ratios) < 0.1:
        return (Remark("One of the modes is hardly damped.", "caution", "damping_ratios"),)
    return ()


def _figures(result: HalfCar, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    story = _story(_half(inputs), inputs["bump_height"], inputs["bump_length"], inputs["speed"])
    every = max(1, len(story.times) // _DRAWN)
    t = story.times[::every]
    pitch = Chart(
        "Pitch after the bump",
        "The nose is thrown up by the front wheels; the rear wheels follow and lift the tail.",
        Axis("Time after the front wheel", "s"),
        Axis("Pitch, nose up", "°"),
        (Series("Pitch", t, [-angle for angle in story.pitch[::every]]),),
    )
    heave = Chart(
        "Heave of the centre of gravity",
        "The body as a whole, lifted by both axles in turn.",
        Axis("Time after the front wheel", "s"),
        Axis("Heave", "mm"),
        (Series("Heave", t, story.heave[::every]),),
    )
    return pitch, heave


def _end_damping(which: str, symbol: str) -> Input:
    return Input(f"{which} damping at the wheels", symbol, "N·s/m", at_least=0, typical=(1000, 24000), help=_END)


def _end_mass(which: str, symbol: str) -> Input:
    return Input(f"{which} unsprung mass", symbol, "kg", above=0, typical=(30, 160), help=_END)


def _end_tyre(which: str, symbol: str) -> Input:
    return Input(f"{which} vertical tyre rate", symbol, "N/mm", above=0, typical=(240e3, 800e3), help=_END)


@calculator(
    title="Half car over a bump",
    question="How do body and axles swing together, and what does a bump do to pitch and heave?",
    example={
        "sprung_mass": "1012 kg",
        "pitch_radius": "1.22 m",
        "to_front": "1.21 m",
        "to_rear": "1.35 m",
        "front_axle_rate": "105.8 N/mm",
        "rear_axle_rate": "96 N/mm",
        "front_axle_damping": "7600 N·s/m",
        "rear_axle_damping": "6800 N·s/m",
        "front_unsprung": "76 kg",
        "rear_unsprung": "72 kg",
        "front_axle_tyre": "420 N/mm",
        "rear_axle_tyre": "440 N/mm",
        "speed": "90 km/h",
        "bump_height": "30 mm",
        "bump_length": "3 m",
    },
    working=(Step(r"\Delta t = \frac{a + b}{V}", "delay"), Step(r"DI = \frac{\rho^2}{a \, b}", "dynamic_index")),
    remarks=_remarks,
    figures=_figures,
)
def half_car(
    *,
    sprung_mass: SprungMass,
    pitch_radius: PitchRadius,
    to_front: ToFront,
    to_rear: ToRear,
    front_axle_rate: FrontAxleRate,
    rear_axle_rate: RearAxleRate,
    front_axle_damping: Annotated[NewtonSecondsPerMetre, _end_damping("Front", "c_f")],
    rear_axle_damping: Annotated[NewtonSecondsPerMetre, _end_damping("Rear", "c_r")],
    front_unsprung: Annotated[Kilograms, _end_mass("Front", "m_{uf}")],
    rear_unsprung: Annotated[Kilograms, _end_mass("Rear", "m_{ur}")],
    front_axle_tyre: Annotated[NewtonsPerMetre, _end_tyre("Front", "k_{tf}")],
    rear_axle_tyre: Annotated[NewtonsPerMetre, _end_tyre("Rear", "k_{tr}")],
    speed: Speed,
    bump_height: Annotated[Metres, Input("Height of the bump", "H", "mm", above=0, typical=(0.005, 0.1))] = 0.03,
    bump_length: Annotated[Metres, Input("Length of the bump", "l", "m", above=0, typical=(0.3, 20))] = 3.0,
) -> HalfCar:
    """Return the four modes of body and axles, and pitch and heave over a half-sine bump that the rear meets later.

    Equation: M x'' + C x' + K x = K_t z_r for heave, pitch and two axles; undamped modes from M and K, damping ratios from the state matrix;
    the rear road is the front road L / V later.
    Signs: rates and damping of both wheels of an axle, at the wheels, tyres given apart; the figure shows nose up positive.
    Valid for: a stiff body, linear springs, dampers and tyres, both wheels of an axle over the same bump, no stops reached.
    Source: rigid-body mechanics; with rho^2 = a b it falls apart into two quarter cars, which is one of its tests.

    >>> answer = half_car(sprung_mass=900, pitch_radius=1.25 ** 0.5 * 1.15 ** 0.5, to_front=1.25, to_rear=1.15, front_axle_rate=44e3,
    ...     rear_axle_rate=52e3, front_axle_damping=3000, rear_axle_damping=3000, front_unsprung=70, rear_unsprung=78, front_axle_tyre=400e3,
    ...     rear_axle_tyre=420e3, speed=25)
    >>> round(answer.first_frequency, 6), round(answer.fourth_frequency, 6)
    (1.524648, 12.685674)
    """
    inputs = locals()
    car = _half(inputs)
    story = _story(car, bump_height, bump_length, speed)
    flags = ("A wheel leaves the ground: from there on the linear model no longer holds.",) if story.light else ()
    first, second, third, fourth = car.undamped()
    return HalfCar(
        first_frequency=first,
        second_frequency=second,
        third_frequency=third,
        fourth_frequency=fourth,
        damping_ratios=tuple(mode.ratio for mode in car.damped()),
        pitch_peak=max(abs(angle) for angle in story.pitch),
        heave_peak=max(abs(z) for z in story.heave),
        acceleration=max(abs(a) for a in story.acceleration),
        delay=(to_front + to_rear) / speed,
        dynamic_index=pitch_radius**2 / (to_front * to_rear),
        flags=flags,
    )

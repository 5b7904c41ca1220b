"""Stopping from speed with downforce and drag, all tyres at the limit."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.brakes.care import with_care
from calc.brakes.terms import AirDensity, DragArea, Gravity, speed
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.terms import CarMass, TyreAdhesion
from calc.units import STANDARD_GRAVITY, Metres, MetresPerSecond, MetresPerSecondSquared, Ratio, Seconds, SquareMetres


def aero_distance(mass: float, limit: float, k: float, speed: float) -> float:
    """Return the distance from ``speed`` to rest under m dv/dt = -(limit + k v^2): (m/2k) ln(1 + k v^2/limit).

    >>> round(aero_distance(1000, 10000, 0.0, 20.0), 3)
    20.0
    """
    x = k * speed**2 / limit
    grown = math.log1p(x) / x if abs(x) > 1e-9 else 1 - x / 2
    return mass * speed**2 / (2 * limit) * grown


def aero_time(mass: float, limit: float, k: float, speed: float) -> float:
    """Return the time for the same.

    >>> round(aero_time(1000, 10000, 0.0, 20.0), 3)
    2.0
    """
    x = speed * math.sqrt(abs(k) / limit)
    if x < 1e-5:
        return mass * speed / limit
    return mass * speed / limit * (math.atan(x) if k > 0 else math.atanh(x)) / x


class AeroStop(NamedTuple):
    """Distance and time of a stop with aero, and the deceleration at parts of the speed."""

    distance: Annotated[Metres, Output("Braking distance", "s", "m")]
    time: Annotated[Seconds, Output("Braking time", "t", "s")]
    start_deceleration: Annotated[MetresPerSecondSquared, Output("Deceleration at the start", "d_1", "g", 4)]
    end_deceleration: Annotated[MetresPerSecondSquared, Output("Deceleration at the end", "d_2", "g", 4)]
    distance_without: Annotated[Metres, Output("Distance without downforce and drag", "s_0", "m")]
    saved: Annotated[Ratio, Output("Distance saved", "", "%", 3)]


def _figures(result: AeroStop, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    start, end = inputs["start_speed"], inputs["end_speed"]
    speeds = [end + (start - end) * i / 24 for i in range(25)]
    return (
        Chart(
            "Deceleration over speed",
            "Downforce and drag grow with the square of speed: the brakes are strongest at the start, when the driver presses hardest.",
            Axis("Speed", "km/h"),
            Axis("Deceleration", "g"),
            (Series("Deceleration at the limit", speeds, [_deceleration(inputs, v) for v in speeds]),),
        ),
    )


def _drag_factor(inputs: Mapping[str, Any]) -> float:
    """Return K = rho (mu A_L + A_D)/2, N s²/m²."""
    return float(inputs["air_density"] * (inputs["adhesion"] * inputs["downforce_area"] + inputs["drag_area"]) / 2)


def _deceleration(inputs: Mapping[str, Any], at: float) -> float:
    """Return the deceleration at the limit of grip, m/s²."""
    return float(inputs["adhesion"] * inputs["gravity"] + _drag_factor(inputs) * at**2 / inputs["mass"])


def _remarks(result: AeroStop, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    if result.start_deceleration > 1.15 * result.end_deceleration:
        return (
            Remark(
                "Ease the pedal as the car slows: the grip that downforce gave goes before the corner does.",
                about="end_deceleration",
            ),
        )
    return ()


@calculator(
    title="Stopping with downforce",
    question="How far does the car go from this speed when downforce and drag help the brakes?",
    example={
        "mass": "1160 kg",
        "adhesion": "1.15",
        "start_speed": "215 km/h",
        "end_speed": "75 km/h",
        "downforce_area": "1.0 m²",
        "drag_area": "0.85 m²",
    },
    working=(
        Step(
            r"s = \frac{m}{2K} \ln\frac{\mu m g + K v_1^2}{\mu m g + K v_2^2}, \quad K = \frac{\rho \, (\mu A_L + A_D)}{2}",
            "distance",
        ),
        Step(r"d(v) = \mu_t \, g + \frac{K v^2}{m}", "start_deceleration"),
    ),
    remarks=with_care(_remarks),
    figures=_figures,
)
def aero_stop(
    *,
    mass: CarMass,
    adhesion: TyreAdhesion,
    start_speed: Annotated[MetresPerSecond, speed("Speed at the start of braking", "v_1")],
    end_speed: Annotated[
        MetresPerSecond, Input("Speed at the end of braking", "v_2", "km/h", at_least=0, at_most=200)
    ] = 0.0,
    downforce_area: Annotated[
        SquareMetres,
        Input(
            "Downforce area of the whole car",
            "A_L",
            "m²",
            at_least=-20,
            at_most=20,
            typical=(-0.3, 5),
            help="Negative: lift.",
        ),
    ],
    drag_area: DragArea,
    air_density: AirDensity = 1.2,
    gravity: Gravity = STANDARD_GRAVITY,
) -> AeroStop:
    """Return distance and time of a stop with all tyres at the limit, downforce and drag counted.

    Equation: m dv/dt = -(mu m g + K v^2), K = rho (mu A_L + A_D)/2;  s = (m/2K) ln(1 + K v^2/(mu m g));
    t = m/sqrt(K mu m g) atan(v sqrt(K/(mu m g))), each taken from v_1 less v_2.
    Valid for: constant grip, level road, an ideal balance at every speed, rolling tyres.
    Source: integration of the equation of motion, derived.

    >>> round(aero_stop(mass=750, adhesion=1.4, start_speed=80, downforce_area=2.6, drag_area=1.1).distance, 3)
    134.23
    """
    if end_speed >= start_speed:
        raise Refused(
            "end_speed",
            f"must be less than the speed at the start, {3.6 * start_speed:.4g} km/h",
            f"{3.6 * end_speed:.4g} km/h",
        )
    inputs = {
        "mass": mass,
        "adhesion": adhesion,
        "downforce_area": downforce_area,
        "drag_area": drag_area,
        "air_density": air_density,
        "gravity": gravity,
    }
    limit, k = adhesion * mass * gravity, _drag_factor(inputs)
    if limit + k * start_speed**2 <= 0.01 * limit:
        raise Refused("downforce_area", "must leave weight on the tyres at the start", f"{downforce_area:g} m²")
    distance = aero_distance(mass, limit, k, start_speed) - aero_distance(mass, limit, k, end_speed)
    without = (start_speed**2 - end_speed**2) / (2 * adhesion * gravity)
    return AeroStop(
        distance,
        aero_time(mass, limit, k, start_speed) - aero_time(mass, limit, k, end_speed),
        _deceleration(inputs, start_speed),
        _deceleration(inputs, end_speed),
        without,
        1 - distance / without,
    )

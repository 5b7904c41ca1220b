"""Stopping: distance and time with reaction and build-up, the efficiency a skid proves, and the rounded forms of the highway tables."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.brakes.care import with_care
from calc.brakes.terms import BuildUpTime, Gravity, ReactionTime, Speed, speed
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Step, calculator
from calc.refusal import Refused
from calc.terms import TyreAdhesion
from calc.units import STANDARD_GRAVITY, Metres, MetresPerSecond, MetresPerSecondSquared, Radians, Ratio, Seconds


class StoppingDistance(NamedTuple):
    """Distance and time of a stop, piece by piece."""

    distance: Annotated[Metres, Output("Distance to rest", "s", "m")]
    time: Annotated[Seconds, Output("Time to rest", "t", "s")]
    reaction_distance: Annotated[Metres, Output("Distance while reacting", "s_r", "m")]
    braking_distance: Annotated[Metres, Output("Distance while braking, build-up counted", "s_b", "m")]
    build_up_cost: Annotated[Metres, Output("Distance the build-up costs", "", "m", 3)]
    flags: tuple[str, ...]


def _speed_at(time: float, v: float, d: float, t_r: float, t_b: float) -> float:
    """Return the speed at a moment of the stop."""
    braking = time - t_r
    if braking <= 0:
        return v
    lost = d * braking**2 / (2 * t_b) if braking < t_b else d * (braking - t_b / 2)
    return max(0.0, v - lost)


def _figures(result: StoppingDistance, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    v, d, t_r, t_b = (inputs[n] for n in ("speed", "deceleration", "reaction_time", "build_up_time"))
    times = sorted({*(result.time * i / 40 for i in range(41)), min(t_r, result.time), min(t_r + t_b, result.time)})
    return (
        Chart(
            "Speed through the stop",
            "Flat while reacting, bending while the brakes build up, then straight to rest.",
            Axis("Time", "s"),
            Axis("Speed", "km/h"),
            (Series("Speed", times, [_speed_at(t, v, d, t_r, t_b) for t in times]),),
        ),
    )


@calculator(
    title="Stopping distance",
    question="How far and how long does the car go until it stands, reaction and build-up counted?",
    example={"speed": "100 km/h", "deceleration": "0.95 g", "reaction_time": "0.9 s", "build_up_time": "0.25 s"},
    working=(
        Step(r"s_r = v \, t_r", "reaction_distance"),
        Step(r"s_b = \frac{v \, t_b}{2} + \frac{v^2}{2 \, d} - \frac{d \, {t_b}^2}{24}", "braking_distance"),
        Step(r"s = s_r + s_b", "distance"),
        Step(r"t = t_r + \frac{t_b}{2} + \frac{v}{d}", "time"),
    ),
    remarks=with_care(),
    figures=_figures,
)
def stopping_distance(
    *,
    speed: Speed,
    deceleration: Annotated[
        MetresPerSecondSquared, Input("Full deceleration", "d", "g", above=0, at_most=200, typical=(2, 25))
    ],
    reaction_time: ReactionTime = 0.0,
    build_up_time: BuildUpTime = 0.0,
) -> StoppingDistance:
    """Return stopping distance and time with reaction and a linear build-up of the brakes.

    Equation: s = v (t_r + t_b/2) + v^2/(2 d) - d t_b^2/24;  t = t_r + t_b/2 + v/d.  A car slower than d t_b/2 stops inside the build-up:
    t = sqrt(2 v t_b/d), s = v t - d t^3/(6 t_b).
    Valid for: constant deceleration after the build-up, level road, no aerodynamic drag.
    Caution: measured reaction of a surprised driver is 0.7 to 1.5 s; road design uses 2.5 s.
    Source: kinematics, derived.

    >>> round(stopping_distance(speed=100 / 3.6, deceleration=8.5, reaction_time=0.9, build_up_time=0.3).distance, 3)
    74.523
    """
    reacting = speed * reaction_time
    bare = speed**2 / (2 * deceleration)
    if speed <= deceleration * build_up_time / 2:
        time = math.sqrt(2 * speed * build_up_time / deceleration)
        braking = speed * time - deceleration * time**3 / (6 * build_up_time)
        flags: tuple[str, ...] = ("The car stops before the brakes are fully built up.",)
    else:
        time = build_up_time / 2 + speed / deceleration
        braking = speed * build_up_time / 2 + bare - deceleration * build_up_time**2 / 24
        flags = ()
    return StoppingDistance(reacting + braking, reaction_time + time, reacting, braking, braking - bare, flags)


class BrakingEfficiency(NamedTuple):
    """The share of grip that a measured stop needed."""

    efficiency: Annotated[Ratio, Output("Share of the grip the brakes must have used", r"\eta_b", "%")]
    grip_used: Annotated[Ratio, Output("Grip used", r"\eta_b \mu", "", 4)]
    deceleration: Annotated[MetresPerSecondSquared, Output("Mean deceleration along the road", "d", "g", 4)]
    flags: tuple[str, ...]


@calculator(
    title="Braking efficiency from a measured stop",
    question="How much of the tyres' grip did this stop use?",
    example={
        "start_speed": "100 km/h",
        "end_speed": "20 km/h",
        "distance": "42 m",
        "adhesion": "1.0",
        "rolling": "0.015",
        "mass_factor": "1.04",
    },
    working=(
        Step(r"\eta_b \, \mu = \frac{\gamma_b \, (v_1^2 - v_2^2)}{2 \, g \, s} - f_r - \sin\theta", "grip_used"),
        Step(r"\eta_b = \frac{\eta_b \, \mu}{\mu}", "efficiency"),
    ),
    remarks=with_care(),
)
def braking_efficiency(
    *,
    start_speed: Annotated[MetresPerSecond, speed("Speed at the start", "v_1")],
    end_speed: Annotated[MetresPerSecond, Input("Speed at the end", "v_2", "km/h", at_least=0, at_most=200)] = 0.0,
    distance: Annotated[Metres, Input("Distance between them", "s", "m", above=0, at_most=1e5)],
    adhesion: TyreAdhesion,
    rolling: Annotated[
        Ratio, Input("Rolling resistance coefficient", "f_r", "", at_least=0, at_most=0.5, typical=(0.008, 0.03))
    ] = 0.015,
    angle: Annotated[Radians, Input("Angle of the road, uphill positive", r"\theta", "°", above=-1.4, below=1.4)] = 0.0,
    mass_factor: Annotated[
        Ratio, Input("Mass factor of the rotating parts", r"\gamma_b", "", at_least=1, at_most=3, typical=(1.02, 1.12))
    ] = 1.04,
    gravity: Gravity = STANDARD_GRAVITY,
) -> BrakingEfficiency:
    """Return the share of the grip that a measured stop used.

    Equation: s = gamma_b (v1^2 - v2^2) / (2 g (eta_b mu + f_r + sin(theta))), solved for eta_b.
    Valid for: steady braking on an even slope, drag left out.
    Caution: an efficiency above 100 % says that the data cannot all be true; it is reported, not cut off.
    Source: F. L. Mannering, Principles of Highway Engineering and Traffic Analysis (looked up).

    >>> round(braking_efficiency(start_speed=30, distance=60, adhesion=0.9, rolling=0.0, mass_factor=1.0).efficiency, 4)
    0.8497
    """
    if end_speed >= start_speed:
        raise Refused(
            "end_speed",
            f"must be less than the speed at the start, {3.6 * start_speed:.4g} km/h",
            f"{3.6 * end_speed:.4g} km/h",
        )
    mean = (start_speed**2 - end_speed**2) / (2 * distance)
    used = mass_factor * mean / gravity - rolling - math.sin(angle)
    flags = []
    if used > adhesion:
        flags.append("More than all the grip: speed, distance, slope and grip cannot all be true.")
    if used < 0:
        flags.append("Slope and rolling resistance alone would slow the car more than this.")
    return BrakingEfficiency(used / adhesion, used, mean, tuple(flags))


def rolling_resistance(mean_speed: float) -> float:
    """Return the rolling resistance coefficient 0.01 (1 + V/147), V in ft/s, for a mean speed in m/s (Mannering, looked up).

    >>> round(rolling_resistance(25.0), 5)
    0.01558
    """
    return 0.01 * (1 + mean_speed / 0.3048 / 147)


def highway_distance(speed_mph: float, friction: float, grade: float = 0.0) -> float:
    """Return the braking distance in feet as highway tables have it: V^2 / (30 (f + G)), V in mph; the 30 is a rounded 29.9.

    >>> round(highway_distance(40, 0.35, -0.02), 1)
    161.6
    """
    return speed_mph**2 / (30 * (friction + grade))


class RoadStop(NamedTuple):
    """Sight distance of a road table."""

    total: float
    reaction: float
    braking: float


def sight_distance_metric(speed_kmh: float, reaction_time: float, deceleration: float) -> RoadStop:
    """Return the sight distance in metres, 0.278 V t + 0.039 V^2 / a, V in km/h: rounded constants, about 1 % off.

    >>> round(sight_distance_metric(100, 2.5, 3.4).total, 1)
    184.2
    """
    reaction, braking = 0.278 * speed_kmh * reaction_time, 0.039 * speed_kmh**2 / deceleration
    return RoadStop(reaction + braking, reaction, braking)


def sight_distance_imperial(speed_mph: float, reaction_time: float, deceleration: float) -> RoadStop:
    """Return the sight distance in feet, 1.47 V t + 1.075 V^2 / a, V in mph, a in ft/s2.

    >>> round(sight_distance_imperial(60, 2.5, 11.2).total, 1)
    566.0
    """
    reaction, braking = 1.47 * speed_mph * reaction_time, 1.075 * speed_mph**2 / deceleration
    return RoadStop(reaction + braking, reaction, braking)

"""Steady-state steering: understeer gradient, characteristic or critical speed, and what load transfer does to them."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.loads.terms import Speed
from calc.terms import CarMass, FrontShare, Wheelbase
from calc.units import (
    STANDARD_GRAVITY,
    Metres,
    MetresPerSecond,
    MetresPerSecondSquared,
    NewtonsPerRadian,
    Radians,
    RadiansPerAcceleration,
    RadiansPerSecond,
)

NEUTRAL = math.radians(0.05) / STANDARD_GRAVITY  # a gradient this small cannot be told from none on a car
Character = Literal["understeer", "oversteer", "neutral"]


class Understeer(NamedTuple):
    """How the car steers in steady state."""

    gradient: Annotated[RadiansPerAcceleration, Output("Understeer gradient", "K", "deg/g", 3)]
    character: Annotated[Character, Output("The car is said to", "")]
    characteristic_speed: Annotated[MetresPerSecond | None, Output("Characteristic speed", "V_{ch}", "km/h", 3)]
    critical_speed: Annotated[MetresPerSecond | None, Output("Critical speed", "V_{cr}", "km/h", 3)]
    steer_angle: Annotated[Radians, Output("Angle of the front wheels needed", r"\delta", "°", 3)]
    yaw_of_one_degree: Annotated[
        RadiansPerSecond | None, Output("Yaw rate that one degree of the front wheels gives", "r_1", "deg/s", 3)
    ]
    front_slip: Annotated[Radians, Output("Slip angle of the front tyres", r"\alpha_f", "°", 3)]
    rear_slip: Annotated[Radians, Output("Slip angle of the rear tyres", r"\alpha_r", "°", 3)]
    lateral_acceleration: Annotated[MetresPerSecondSquared, Output("Lateral acceleration", "a_y", "g", 3, detail=True)]
    rolling_steer: Annotated[
        Radians, Output("Angle of the front wheels at walking pace", r"\delta_0", "°", 3, detail=True)
    ]
    flags: tuple[str, ...]


def characteristic(gradient: float, wheelbase: float) -> float | None:
    """Return the characteristic speed sqrt(L/K), none unless the car understeers.

    >>> round(characteristic(0.0159762693 / 9.80665, 2.8), 2)
    41.46
    """
    return math.sqrt(wheelbase / gradient) if gradient > 0 else None


def critical(gradient: float, wheelbase: float) -> float | None:
    """Return the critical speed sqrt(-L/K), none unless the car oversteers."""
    return math.sqrt(-wheelbase / gradient) if gradient < 0 else None


def character(gradient: float) -> Character:
    """Return the word for an understeer gradient."""
    return "neutral" if abs(gradient) < NEUTRAL else "understeer" if gradient > 0 else "oversteer"


def yaw_of_one_degree(speed: float, gradient: float, wheelbase: float) -> float | None:
    """Return the yaw rate that one degree of steer gives, none at and beyond the critical speed.

    Equation: r = V delta/(L + K V^2), delta one degree.
    """
    length = wheelbase + gradient * speed**2
    return math.radians(1.0) * speed / length if length > 0 else None


def _remarks(result: Understeer, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [Remark("Road cars show 1 to 4 deg/g of understeer, race cars about 0 to 1.", about="gradient")]
    if result.critical_speed is not None:
        remarks.append(
            Remark(
                "Above the critical speed the car diverges with the wheel held still; a driver has to catch it all the time.",
                "caution",
                "critical_speed",
            )
        )
    remarks.append(
        Remark(
            "This is the car in gentle cornering. At the limit the tyres' friction decides: see the limit balance.",
            about="character",
        )
    )
    return tuple(remarks)


def _figures(result: Understeer, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    length = inputs["wheelbase"]
    top = max(1.3 * inputs["speed"], 60.0)
    speeds = [top * i / 40 for i in range(41)]
    straight = [math.radians(1.0) * v / length for v in speeds]
    limit = max(straight[-1], 4 * (result.yaw_of_one_degree or 0.0))
    gains = [yaw_of_one_degree(v, result.gradient, length) for v in speeds]
    here = (
        ()
        if result.yaw_of_one_degree is None
        else (Series("Here", [inputs["speed"]], [result.yaw_of_one_degree], points=True),)
    )
    return (
        Chart(
            "Yaw rate that one degree of steer gives",
            "A neutral car's gain grows in a straight line; understeer bends it down with a peak at the characteristic speed, oversteer bends it up without limit.",
            Axis("Speed", "km/h"),
            Axis("Yaw rate", "deg/s"),
            (
                Series("This car", speeds, [float("nan") if g is None or g > limit else g for g in gains]),
                Series("Neutral", speeds, straight),
                *here,
            ),
        ),
    )


def _stiffness(axle: str, symbol: str) -> Input:
    degree = 180 / math.pi
    return Input(
        f"Cornering stiffness of one {axle} tyre",
        symbol,
        "N/deg",
        above=0,
        typical=(300 * degree, 3000 * degree),
        help="At its load on the car. One tyre, not the axle.",
    )


@calculator(
    title="Understeer gradient",
    question="Does the car understeer, and at what speed does that matter?",
    example={  # the Fell 16
        "mass": "1010 kg",
        "wheelbase": "2480 mm",
        "front_share": "62 %",
        "front_stiffness": "980 N/deg",
        "rear_stiffness": "760 N/deg",
        "speed": "100 km/h",
        "radius": "120 m",
    },
    working=(
        Step(r"K = \frac{m \, w_f}{2 \, C_f} - \frac{m \, (1 - w_f)}{2 \, C_r}", "gradient"),
        Step(r"\delta = \frac{L}{R} + K \, a_y", "steer_angle"),
        Step(r"V_{ch} = \sqrt{\frac{L}{K}}", "characteristic_speed"),
        Step(r"r_1 = \frac{V \cdot 1°}{L + K V^2}", "yaw_of_one_degree"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def understeer_gradient(
    *,
    mass: CarMass,
    wheelbase: Wheelbase,
    front_share: FrontShare,
    front_stiffness: Annotated[NewtonsPerRadian, _stiffness("front", "C_f")],
    rear_stiffness: Annotated[NewtonsPerRadian, _stiffness("rear", "C_r")],
    speed: Speed,
    radius: Annotated[Metres, Input("Radius of the corner", "R", "m", above=0, typical=(15, 400))],
) -> Understeer:
    """Return understeer gradient, characteristic or critical speed, and the steering a corner needs.

    Equation: K = (W_f/C_f - W_r/C_r)/g with axle stiffness C (both tyres);  delta = L/R + K a_y;  V_ch = sqrt(L/K), V_cr = sqrt(-L/K);
    yaw rate V delta/(L + K V^2).
    Signs: K is positive for understeer: more steering as the corner gets faster.
    Valid for: gentle cornering, where side force grows in proportion to slip angle; load transfer, roll steer and camber left out.
    Source: J. Y. Wong, Theory of Ground Vehicles, 2001, example 5.1, and T. D. Gillespie, Fundamentals of Vehicle Dynamics, 1992, chapter 6 (from memory).

    >>> found = understeer_gradient(mass=20105 / 9.80665, wheelbase=2.8, front_share=0.535, front_stiffness=38920, rear_stiffness=38250, speed=20, radius=100)
    >>> round(found.gradient * 9.80665, 4), round(found.characteristic_speed, 1), found.critical_speed
    (0.016, 41.5, None)
    """
    front, rear = mass * front_share / (2 * front_stiffness), mass * (1 - front_share) / (2 * rear_stiffness)
    gradient, lateral = front - rear, speed**2 / radius
    yaw = yaw_of_one_degree(speed, gradient, wheelbase)
    flags = (
        "At or above the critical speed: the car is unstable with the steering held still, and the gains have no meaning.",
    )
    return Understeer(
        gradient=gradient,
        character=character(gradient),
        characteristic_speed=characteristic(gradient, wheelbase),
        critical_speed=critical(gradient, wheelbase),
        steer_angle=wheelbase / radius + gradient * lateral,
        yaw_of_one_degree=yaw,
        front_slip=front * lateral,
        rear_slip=rear * lateral,
        lateral_acceleration=lateral,
        rolling_steer=wheelbase / radius,
        flags=() if yaw is not None else flags,
    )

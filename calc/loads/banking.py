"""A banked corner: what the banking takes off the tyres and adds to the load on them."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.loads.terms import Speed
from calc.terms import CarMass, CgHeight, TyreAdhesion
from calc.units import STANDARD_GRAVITY, Metres, MetresPerSecond, MetresPerSecondSquared, Newtons, Radians, Ratio


class BankedCorner(NamedTuple):
    """Accelerations in the axes of the car, loads, and the speeds that matter."""

    neutral_speed: Annotated[
        MetresPerSecond | None, Output("Neutral speed, no side force and no lateral transfer", "V_n", "km/h")
    ]
    limit_speed: Annotated[MetresPerSecond | None, Output("Highest speed the grip holds", "V_{max}", "km/h")]
    flat_limit_speed: Annotated[
        MetresPerSecond, Output("Highest speed of the same corner without banking", "V_0", "km/h")
    ]
    car_lateral: Annotated[MetresPerSecondSquared, Output("Lateral acceleration across the car", "A_y", "g", 3)]
    load_ratio: Annotated[Ratio, Output("Load on the tyres over the weight of the car", "q", "", 4)]
    normal_load: Annotated[Newtons, Output("Load square to the road, all four wheels", "F_n", "N")]
    side_force: Annotated[Newtons, Output("Side force the tyres must hold", "F_y", "N")]
    transfer: Annotated[Newtons, Output("Load moved across both axles", r"\Delta F", "N")]
    grip_used: Annotated[Ratio | None, Output("Share of the grip in use", "u", "%", 3)]
    path_acceleration: Annotated[
        MetresPerSecondSquared, Output("Acceleration towards the centre, level", "A", "g", 3, detail=True)
    ]
    flags: tuple[str, ...]


def held_speed(radius: float, bank: float, grip: float) -> float | None:
    """Return the highest speed a grip holds on a banking, none where no speed is too high, 0 where the car slides down at rest.

    Equation: V^2 = g R (tan(theta) + mu)/(1 - mu tan(theta)).

    >>> round(held_speed(100, 0.0, 1.0), 4), held_speed(100, 0.8, 1.0)
    (31.3156, None)
    """
    slope = math.tan(bank)
    spare = 1 - grip * slope
    return math.sqrt(max(0.0, STANDARD_GRAVITY * radius * (slope + grip) / spare)) if spare > 0 else None


def _remarks(result: BankedCorner, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    if inputs["bank"] < 0:
        return (
            Remark(
                "Off-camber: the road leans away from the corner and takes grip and load off the tyres.",
                "caution",
                "bank",
            ),
        )
    return (
        Remark(
            "The banking loads springs and tyres more than a flat corner: check ride height and travel at this load.",
            about="load_ratio",
        ),
    )


def _figures(result: BankedCorner, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    top = max(1.2 * inputs["speed"], 1.2 * result.flat_limit_speed)
    speeds = [top * i / 30 for i in range(31)]
    both = [_across(inputs, v) for v in speeds]
    return (
        Chart(
            "Across the car and square to the road",
            "The lateral acceleration felt by the car starts negative at rest, is zero at the neutral speed and grows with the square of speed.",
            Axis("Speed", "km/h"),
            Axis("Acceleration", "g"),
            (
                Series("Across the car", speeds, [side for side, _ in both]),
                Series("Square to the road", speeds, [normal for _, normal in both]),
                Series("Here", [inputs["speed"]], [result.car_lateral], points=True),
            ),
        ),
    )


def _across(inputs: Mapping[str, Any], speed: float) -> tuple[float, float]:
    """Return the acceleration across the car and square to the road."""
    path, bank = speed**2 / inputs["radius"], inputs["bank"]
    return (
        path * math.cos(bank) - STANDARD_GRAVITY * math.sin(bank),
        STANDARD_GRAVITY * math.cos(bank) + path * math.sin(bank),
    )


@calculator(
    title="Banked corner",
    question="How fast does banking let me go, and what do the tyres then carry?",
    example={
        "mass": "1160 kg",
        "cg_height": "480 mm",
        "track": "1515 mm",
        "speed": "110 km/h",
        "radius": "80 m",
        "bank": "6 deg",
        "adhesion": "1.15",
    },
    working=(
        Step(r"A = \frac{V^2}{R}", "path_acceleration"),
        Step(r"A_y = A \cos \theta - g \sin \theta", "car_lateral"),
        Step(r"F_n = m \, (g \cos \theta + A \sin \theta)", "normal_load"),
        Step(r"V_n = \sqrt{g \, R \tan \theta}", "neutral_speed"),
        Step(r"V_{max} = \sqrt{g \, R \, \frac{\tan \theta + \mu_t}{1 - \mu_t \tan \theta}}", "limit_speed"),
        Step(r"\Delta F = \frac{m \, A_y \, h}{t}", "transfer"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def banked_corner(
    *,
    mass: CarMass,
    cg_height: CgHeight,
    track: Annotated[Metres, Input("Mean track", "t", "mm", above=0, typical=(1.2, 1.8))],
    speed: Speed,
    radius: Annotated[Metres, Input("Radius of the corner, level", "R", "m", above=0, typical=(8, 400))],
    bank: Annotated[
        Radians,
        Input(
            "Banking",
            r"\theta",
            "°",
            above=-math.pi / 3,
            below=math.pi / 2,
            typical=(-math.radians(6), math.radians(20)),
            help="Positive leans into the corner, negative is off-camber.",
        ),
    ],
    adhesion: TyreAdhesion,
) -> BankedCorner:
    """Return loads, side force and speeds of a car in a banked corner.

    Equation: A = V^2/R level;  across the car A cos(theta) - g sin(theta), square to the road g cos(theta) + A sin(theta);  neutral V^2 = g R tan(theta).
    Signs: banking that leans into the corner is positive; lateral acceleration across the car is positive when the outside wheels gain.
    Valid for: a steady circle on a conical road, no aerodynamic load, one friction coefficient for all tyres.
    Source: balance of forces in axes along and square to the road.

    >>> found = banked_corner(mass=1000, cg_height=0.5, track=1.5, speed=22.9245892, radius=200, bank=0.2617993878, adhesion=1.0)
    >>> round(found.neutral_speed, 5), round(found.load_ratio, 6)
    (22.92459, 1.035276)
    """
    side, normal = _across(locals(), speed)
    limit = held_speed(radius, bank, adhesion)
    used = abs(side) / (normal * adhesion) if normal > 0 else None
    flags: tuple[str, ...] = ()
    transfer = mass * side * cg_height / track
    if used is None:
        flags = ("The car would leave this off-camber road: nothing presses it down.",)
    elif used > 1:
        flags = (
            "The tyres cannot hold this side force: the car slides "
            + ("outward." if side > 0 else "down the banking."),
        )
    if used is not None and abs(transfer) > mass * normal / 2:
        flags += ("More load would move than the inside wheels carry: the car would roll over if the grip held.",)
    return BankedCorner(
        neutral_speed=math.sqrt(STANDARD_GRAVITY * radius * math.tan(bank)) if bank >= 0 else None,
        limit_speed=limit,
        flat_limit_speed=math.sqrt(STANDARD_GRAVITY * radius * adhesion),
        car_lateral=side,
        load_ratio=max(0.0, normal) / STANDARD_GRAVITY,
        normal_load=mass * max(0.0, normal),
        side_force=mass * side,
        transfer=transfer,
        grip_used=used,
        path_acceleration=speed**2 / radius,
        flags=flags,
    )

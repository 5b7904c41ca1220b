"""Inputs that several calculators of loads share, named once. Typical ranges are common practice, no source."""

from typing import Annotated, Literal

from calc.form import Choice, Input
from calc.units import (
    STANDARD_GRAVITY,
    Kilograms,
    KilogramsPerCubicMetre,
    Metres,
    MetresPerSecond,
    MetresPerSecondSquared,
    NewtonMetresPerRadian,
    Newtons,
    NewtonsPerMetre,
    Pascals,
    PerNewton,
    Ratio,
)

_DEGREES = 57.29577951308232  # N·m/rad for each N·m/deg

SprungMass = Annotated[
    Kilograms,
    Input("Sprung mass of the car", "m_s", "kg", above=0, typical=(300, 1800), help="All that the springs carry."),
]
SprungFrontShare = Annotated[
    Ratio, Input("Share of the sprung mass on the front springs", "s_f", "%", above=0, below=1, typical=(0.35, 0.66))
]
SprungHeight = Annotated[
    Metres, Input("Height of the sprung centre of gravity", "h_s", "mm", above=0, typical=(0.25, 0.75))
]
UnsprungFront = Annotated[
    Kilograms,
    Input(
        "Unsprung mass of the front axle, both wheels",
        "m_{uf}",
        "kg",
        at_least=0,
        typical=(25, 100),
        help="Wheels, tyres, hubs, brakes, and half of the links, springs and dampers.",
    ),
]
UnsprungRear = Annotated[
    Kilograms,
    Input(
        "Unsprung mass of the rear axle, both wheels",
        "m_{ur}",
        "kg",
        at_least=0,
        typical=(25, 160),
        help="Wheels, tyres, hubs, brakes, and half of the links, springs and dampers; a live axle counts whole.",
    ),
]
UnsprungFrontHeight = Annotated[
    Metres,
    Input(
        "Height of the front unsprung centre of gravity",
        "h_{uf}",
        "mm",
        above=0,
        typical=(0.2, 0.36),
        help="About hub height.",
    ),
]
UnsprungRearHeight = Annotated[
    Metres,
    Input(
        "Height of the rear unsprung centre of gravity",
        "h_{ur}",
        "mm",
        above=0,
        typical=(0.2, 0.36),
        help="About hub height.",
    ),
]
FrontRollCentre = Annotated[
    Metres,
    Input("Height of the front roll centre", "z_f", "mm", typical=(-0.05, 0.15), help="Negative below the ground."),
]
RearRollCentre = Annotated[
    Metres,
    Input("Height of the rear roll centre", "z_r", "mm", typical=(-0.05, 0.4), help="Negative below the ground."),
]


def _roll_stiffness(axle: str, symbol: str) -> Input:
    return Input(
        f"Roll stiffness of the {axle} axle",
        symbol,
        "N·m/deg",
        above=0,
        typical=(200 * _DEGREES, 3000 * _DEGREES),
        help="Springs and bar together; put the tyres in series for what the whole car does.",
    )


FrontRollStiffness = Annotated[NewtonMetresPerRadian, _roll_stiffness("front", "K_f")]
RearRollStiffness = Annotated[NewtonMetresPerRadian, _roll_stiffness("rear", "K_r")]
ChassisStiffness = Annotated[
    NewtonMetresPerRadian | None,
    Input(
        "Torsional stiffness of the chassis between the axles",
        "K_c",
        "N·m/deg",
        at_least=0,
        typical=(1000 * _DEGREES, 40000 * _DEGREES),
        help="Empty: rigid. Measured between the suspension pick-ups, not the bulkheads.",
    ),
]
LateralAcceleration = Annotated[
    MetresPerSecondSquared,
    Input("Lateral acceleration", "a_y", "g", at_least=0, typical=(0.3 * STANDARD_GRAVITY, 2.5 * STANDARD_GRAVITY)),
]


def wheel_rate(axle: str, symbol: str) -> Input:
    """Return the input for the wheel rate of an axle."""
    return Input(f"Wheel rate of one {axle} wheel", symbol, "N/mm", above=0, typical=(10e3, 200e3))


def tyre_rate(axle: str, symbol: str) -> Input:
    """Return the input for the tyre rate of an axle."""
    return Input(f"Vertical rate of one {axle} tyre", symbol, "N/mm", above=0, typical=(120e3, 400e3))


FrontWheelRate = Annotated[NewtonsPerMetre, wheel_rate("front", "k_{wf}")]
RearWheelRate = Annotated[NewtonsPerMetre, wheel_rate("rear", "k_{wr}")]
FrontTyreRate = Annotated[NewtonsPerMetre, tyre_rate("front", "k_{tf}")]
RearTyreRate = Annotated[NewtonsPerMetre, tyre_rate("rear", "k_{tr}")]

AirDensity = Annotated[
    KilogramsPerCubicMetre,
    Input("Air density", r"\rho", "kg/m³", above=0, typical=(0.9, 1.35), help="1.225 at 15 °C and sea level."),
]
Speed = Annotated[MetresPerSecond, Input("Speed", "V", "km/h", at_least=0, typical=(10, 90))]
Turn = Annotated[Literal["left", "right"], Choice("The corner turns", {"left": "to the left", "right": "to the right"})]
AmbientPressure = Annotated[
    Pascals,
    Input("Air pressure of the day", "p_a", "bar", above=0, typical=(0.7e5, 1.06e5), help="1.013 bar at sea level."),
]
TyreLoad = Annotated[
    Newtons, Input("Load on each tyre of the axle in a straight line", "F", "N", above=0, typical=(800, 6000))
]
LoadSensitivity = Annotated[
    PerNewton,
    Input(
        "Fall of the friction coefficient for each unit of load", "s", "1/kN", at_least=0, typical=(0.01e-3, 0.15e-3)
    ),
]
ATMOSPHERE = 101325.0  # Pa, standard atmosphere

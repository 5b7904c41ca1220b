"""Inputs that several brake calculators share. Typical ranges are common practice, no source; they are remarks, never limits."""

from typing import Annotated

from calc.form import Input
from calc.units import (
    CubicMetres,
    JoulesPerKilogramKelvin,
    Kelvins,
    KilogramsPerCubicMetre,
    KilogramSquareMetres,
    Metres,
    MetresPerSecond,
    MetresPerSecondSquared,
    Newtons,
    NewtonsPerPascal,
    Pascals,
    Ratio,
    Seconds,
    SquareMetres,
)

CELSIUS_ZERO = 273.15  # K


def bore(label: str, symbol: str) -> Input:
    """Return the input for the bore of a master cylinder."""
    return Input(label, symbol, "mm", above=0, at_most=0.1, typical=(0.0127, 0.0286))


def pistons(label: str, symbol: str) -> Input:
    """Return the input for the clamping piston area of a caliper."""
    return Input(
        label,
        symbol,
        "cm²",
        above=0,
        at_most=0.02,
        typical=(5e-4, 40e-4),
        help="Opposed pistons: count one side only. Sliding caliper: all its pistons.",
    )


def pad_friction(label: str, symbol: str) -> Input:
    """Return the input for the friction of a pad on its disc."""
    return Input(label, symbol, "", above=0, at_most=1.5, typical=(0.25, 0.65))


def disc_radius(label: str, symbol: str) -> Input:
    """Return the input for the radius at which the pads act."""
    return Input(
        label,
        symbol,
        "mm",
        above=0,
        at_most=0.4,
        typical=(0.08, 0.18),
        help="Middle of the pad track for bedded pads.",
    )


def wheel_radius(label: str, symbol: str) -> Input:
    """Return the input for the radius that turns torque into force at the tyre."""
    return Input(
        label,
        symbol,
        "mm",
        above=0,
        at_most=0.8,
        typical=(0.25, 0.36),
        help="Loaded radius for force; the rolling radius, 2 to 4 % larger, for speed.",
    )


def pressure(label: str, symbol: str, help: str = "") -> Input:
    """Return the input for a line pressure; zero is allowed."""
    return Input(label, symbol, "bar", at_least=0, at_most=1e8, help=help)


def speed(label: str, symbol: str, help: str = "") -> Input:
    """Return the input for a road speed above zero."""
    return Input(label, symbol, "km/h", above=0, at_most=200, help=help)


def temperature(label: str, symbol: str, help: str = "") -> Input:
    """Return the input for a temperature, at or above absolute zero."""
    return Input(label, symbol, "°C", at_least=0, at_most=2500, help=help)


def force_per_pressure(axle: str, symbol: str) -> Input:
    """Return the input for the brake force of an axle for each unit of line pressure."""
    return Input(
        f"{axle} axle brake force for each bar of line pressure",
        symbol,
        "N/bar",
        above=0,
        at_most=1,
        typical=(2e-4, 4e-3),
        help="Both wheels at the tyres: 4 times pad friction, piston area of one side and disc radius, over the wheel radius.",
    )


PedalForce = Annotated[Newtons, Input("Force on the pedal", "F_p", "N", above=0, at_most=1e5, typical=(50, 900))]
PedalRatio = Annotated[
    Ratio,
    Input(
        "Pedal ratio",
        "i",
        "",
        above=0,
        at_most=50,
        typical=(2.5, 8),
        help="Foot lever over pushrod lever, each square to its force. A value below 1 is usually the ratio upside down.",
    ),
]
PedalEfficiency = Annotated[
    Ratio, Input("Efficiency of the pedal box", r"\eta", "%", above=0, at_most=1, typical=(0.85, 1))
]
BarSpacing = Annotated[
    Metres, Input("Distance between the clevises of the bar", "s", "mm", above=0, at_most=0.5, typical=(0.045, 0.09))
]
WheelRadius = Annotated[Metres, wheel_radius("Loaded radius of the wheel", "R")]
LinePressure = Annotated[Pascals, pressure("Line pressure", "p", "40 to 80 bar at the limit of grip is usual.")]
PistonArea = Annotated[SquareMetres, pistons("Piston area on one side of a caliper", "a")]
PadFriction = Annotated[Ratio, pad_friction("Pad friction", r"\mu")]
DiscRadius = Annotated[Metres, disc_radius("Effective radius of the disc", "r_e")]
FrontPerPressure = Annotated[NewtonsPerPascal, force_per_pressure("Front", "C_f")]
RearPerPressure = Annotated[NewtonsPerPascal, force_per_pressure("Rear", "C_r")]
Gravity = Annotated[
    MetresPerSecondSquared,
    Input(
        "Gravity",
        "g",
        "m/s²",
        above=0,
        at_most=30,
        typical=(9.78, 10.0),
        help="Standard 9.80665; old examples use 9.8, 9.81, 10 or 32.2 ft/s².",
    ),
]
Speed = Annotated[MetresPerSecond, speed("Speed", "v")]
Ambient = Annotated[Kelvins, Input("Temperature of the air", r"T_\infty", "°C", at_least=0, at_most=2500)]
StartTemperature = Annotated[Kelvins, temperature("Temperature at the start", "T_0")]
SpecificHeat = Annotated[
    JoulesPerKilogramKelvin,
    Input(
        "Specific heat of the disc",
        "c",
        "J/(kg·K)",
        above=0,
        at_most=1e4,
        typical=(400, 1000),
        help="Grey iron 450 to 500 at 20 °C, about 600 at 500 °C: use the mean over the rise.",
    ),
]
AirDensity = Annotated[
    KilogramsPerCubicMetre,
    Input("Density of the air", r"\rho", "kg/m³", at_least=0, at_most=10, typical=(0.9, 1.35)),
]
DragArea = Annotated[
    SquareMetres,
    Input(
        "Drag area C_D·A", "A_D", "m²", at_least=0, at_most=20, typical=(0.4, 1.5), help="Drag over dynamic pressure."
    ),
]
ReactionTime = Annotated[
    Seconds,
    Input(
        "Reaction time",
        "t_r",
        "s",
        at_least=0,
        at_most=60,
        typical=(0, 2.5),
        help="0.7 to 1.5 s is usual, 2.5 s is used for road design.",
    ),
]
BuildUpTime = Annotated[
    Seconds, Input("Time for the brakes to build up", "t_b", "s", at_least=0, at_most=60, typical=(0, 0.5))
]
CircuitVolume = Annotated[CubicMetres, Input("Fluid taken at that pressure", "V", "cm³", above=0, at_most=1e-3)]
WheelInertia = Annotated[
    KilogramSquareMetres,
    Input("Moment of inertia of the wheel, tyre and disc", "I_w", "kg·m²", above=0, at_most=100, typical=(0.5, 2)),
]

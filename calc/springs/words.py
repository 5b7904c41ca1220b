"""Inputs that several calculators of this room share. Typical ranges are common practice, no source; remarks, never limits."""

from typing import Annotated

from calc.form import Input
from calc.units import (
    Kilograms,
    KilogramsPerCubicMetre,
    Metres,
    Newtons,
    NewtonSecondsPerMetre,
    NewtonsPerMetre,
    Pascals,
    Ratio,
)

ShearModulus = Annotated[
    Pascals,
    Input(
        "Shear modulus",
        "G",
        "GPa",
        above=0,
        typical=(38e9, 82e9),
        help="Spring steel 79 to 81.5, stainless about 70, titanium 41 to 44.",
    ),
]
YoungsModulus = Annotated[
    Pascals, Input("Modulus of elasticity", "E", "GPa", above=0, typical=(100e9, 215e9), help="Spring steel 206.")
]
Density = Annotated[
    KilogramsPerCubicMetre,
    Input("Density of the wire", r"\rho", "kg/m³", above=0, typical=(4400, 8000), help="Steel 7850, titanium 4800."),
]
STEEL_SHEAR = 79.5e9  # Pa, oil-tempered silicon-chromium wire, EN 10270-2 (from memory)
STEEL_YOUNG = 206e9  # Pa, EN 13906-1 (from memory)
STEEL_DENSITY = 7850.0  # kg/m3

WireDiameter = Annotated[Metres, Input("Wire diameter", "d", "mm", above=0, typical=(5e-3, 20e-3))]
MeanDiameter = Annotated[
    Metres,
    Input(
        "Mean coil diameter", "D", "mm", above=0, typical=(0.04, 0.16), help="Inside diameter plus one wire diameter."
    ),
]
ActiveCoils = Annotated[
    float,
    Input("Active coils", "n", "", above=0, typical=(3, 15), help="Coils that are free to twist; fractions count."),
]
UnsprungMass = Annotated[
    Kilograms,
    Input(
        "Unsprung mass on this corner",
        "m_u",
        "kg",
        above=0,
        typical=(15, 60),
        help="Wheel, tyre, hub, upright, brake and about half of each arm, link, spring, damper and driveshaft.",
    ),
]
WheelDamping = Annotated[
    NewtonSecondsPerMetre,
    Input("Damping at the wheel", "c_w", "N·s/m", at_least=0, typical=(500, 12000), help="Mean of bump and rebound."),
]
DamperRatio = Annotated[
    Ratio,
    Input(
        "Motion ratio of the damper: damper travel for each unit of wheel travel",
        "MR_d",
        "",
        above=0,
        at_most=3,
        typical=(0.4, 1.05),
    ),
]
MotionRatio = Annotated[
    Ratio,
    Input(
        "Motion ratio: spring travel for each unit of wheel travel", "MR", "", above=0, at_most=3, typical=(0.4, 1.05)
    ),
]
StaticSpringForce = Annotated[
    Newtons,
    Input(
        "Force in the spring at ride height",
        "F_s",
        "N",
        at_least=0,
        typical=(500, 8000),
        help="Sprung corner weight divided by the motion ratio.",
    ),
]
BarRate = Annotated[NewtonsPerMetre, Input("Rate of the bar", "k_b", "N/mm", at_least=0, typical=(0, 100e3))]
Preload = Annotated[
    Metres,
    Input("Preload: compression of the spring at full droop", "x_0", "mm", at_least=0, typical=(0, 0.03)),
]

"""Inputs that several heat calculators share. Typical ranges are common practice, no source."""

from typing import Annotated

from calc.form import Input
from calc.units import (
    JoulesPerKilogramKelvin,
    Kilograms,
    KilogramsPerCubicMetre,
    Metres,
    MetresPerSecond,
    Ratio,
    SquareMetres,
    WattsPerMetreKelvin,
    WattsPerSquareMetreKelvin,
)

RADIATION = 5.670374e-8  # W/(m2 K4), Stefan and Boltzmann's constant
STILL_AIR = 4.0  # W/(m2 K), natural convection of a standing disc: 3 to 5 measured (Topouris et al. 2020, looked up)

MassFactor = Annotated[
    Ratio,
    Input(
        "Mass factor of the rotating parts",
        "k_m",
        "",
        at_least=1,
        at_most=3,
        typical=(1.0, 1.12),
        help="1.03 to 1.10; higher in a low gear.",
    ),
]
StartSpeed = Annotated[MetresPerSecond, Input("Speed at the start of braking", "v_1", "km/h", above=0, at_most=200)]
EndSpeed = Annotated[MetresPerSecond, Input("Speed at the end of braking", "v_2", "km/h", at_least=0, at_most=200)]
DiscShare = Annotated[
    Ratio,
    Input(
        "Share of the heat that goes into the disc",
        r"\gamma",
        "%",
        above=0,
        at_most=1,
        typical=(0.85, 1.0),
        help="0.93 to 0.97 is usual.",
    ),
]
DiscMass = Annotated[
    Kilograms,
    Input(
        "Mass of the rubbing ring of one disc",
        "m_d",
        "kg",
        above=0,
        at_most=100,
        typical=(2, 14),
        help="The ring only, not the hat.",
    ),
]
Emissivity = Annotated[
    Ratio,
    Input(
        "Emissivity of the disc",
        r"\varepsilon",
        "",
        at_least=0,
        at_most=1,
        typical=(0.2, 0.8),
        help="0.2 to 0.3 bright, 0.5 to 0.8 oxidised.",
    ),
]
CoolingArea = Annotated[
    SquareMetres,
    Input(
        "Cooling surface of one disc",
        "A",
        "m²",
        above=0,
        at_most=5,
        typical=(0.08, 0.5),
        help="Both faces, vents, edge.",
    ),
]
HeatTransfer = Annotated[
    WattsPerSquareMetreKelvin,
    Input("Heat transfer coefficient", "h", "W/(m²·K)", at_least=0, at_most=5000, typical=(3, 250)),
]
Conductivity = Annotated[
    WattsPerMetreKelvin, Input("Heat conductivity of the disc", "k", "W/(m·K)", above=0, at_most=1000, typical=(10, 60))
]
Density = Annotated[
    KilogramsPerCubicMetre, Input("Density of the disc", r"\rho_d", "kg/m³", above=0, at_most=3e4, typical=(2000, 7900))
]
PadDensity = Annotated[
    KilogramsPerCubicMetre, Input("Density of the pad", r"\rho_p", "kg/m³", above=0, at_most=3e4, typical=(1500, 5500))
]
PadConductivity = Annotated[
    WattsPerMetreKelvin,
    Input("Heat conductivity of the pad", "k_p", "W/(m·K)", above=0, at_most=1000, typical=(0.5, 30)),
]
PadHeat = Annotated[
    JoulesPerKilogramKelvin,
    Input("Specific heat of the pad", "c_p", "J/(kg·K)", above=0, at_most=1e4, typical=(600, 1300)),
]
Thickness = Annotated[Metres, Input("Thickness", "b", "mm", above=0, at_most=0.2, typical=(0.005, 0.04))]

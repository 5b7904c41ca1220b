"""Inputs of the lap calculation. Typical ranges are common practice, no source."""

from typing import Annotated, Any

from calc.brakes.terms import temperature
from calc.form import Input
from calc.units import (
    JoulesPerCubicMetreKelvin,
    JoulesPerKelvin,
    Kelvins,
    MetresPerSecond,
    Newtons,
    Ratio,
    Seconds,
    WattsPerKelvin,
    WattsPerSquareMetreKelvin,
)


def _conductance(label: str, symbol: str, typical: tuple[float, float], help: str = "") -> Input:
    return Input(label, symbol, "W/K", at_least=0, at_most=1e4, typical=typical, help=help)


def _capacity(label: str, symbol: str, typical: tuple[float, float], help: str) -> Input:
    return Input(label, symbol, "J/K", above=0, at_most=1e6, typical=typical, help=help)


CornerShare = Annotated[
    Ratio,
    Input(
        "Share of the car's friction braking on this corner",
        "x",
        "%",
        above=0,
        at_most=1,
        typical=(0.1, 0.45),
        help="Half the axle's share of the brake force.",
    ),
]
EngineForce = Annotated[Newtons, Input("Engine braking at the tyres", "F_e", "N", at_least=0, at_most=1e5)]
RollingSpeed = Annotated[
    MetresPerSecond | None,
    Input(
        "Speed between zones, for cooling",
        "v_m",
        "km/h",
        at_least=0,
        at_most=200,
        help="Empty: the mean of leaving one and reaching the next.",
    ),
]
DiscCapacity = Annotated[
    JoulesPerKelvin,
    _capacity("Heat capacity of the disc", "C_d", (1000, 8000), "Rubbing ring: mass times specific heat."),
]
PadCapacity = Annotated[
    JoulesPerKelvin, _capacity("Heat capacity of the two pads", "C_p", (200, 2500), "With backing plates.")
]
CaliperCapacity = Annotated[
    JoulesPerKelvin,
    _capacity("Heat capacity of the caliper", "C_c", (500, 6000), "About 900 J/K for each kilogram of aluminium."),
]
FluidCapacity = Annotated[
    JoulesPerKelvin | None,
    Input(
        "Heat capacity of the fluid in the caliper",
        "C_f",
        "J/K",
        above=0,
        at_most=1e5,
        typical=(15, 200),
        help="Empty: the fluid is as hot as the caliper. About 2.4 J/K for each cm³.",
    ),
]
HStill = Annotated[
    WattsPerSquareMetreKelvin,
    Input(
        "Cooling coefficient of the disc at a standstill", "h_0", "W/(m²·K)", at_least=0, at_most=5000, typical=(4, 40)
    ),
]
HPerSpeed = Annotated[
    JoulesPerCubicMetreKelvin,
    Input(
        "its growth for each m/s",
        "h_1",
        "J/(m³·K)",
        at_least=0,
        at_most=200,
        typical=(0.5, 5),
        help="W/(m²·K) for each m/s.",
    ),
]
PadToAir = Annotated[WattsPerKelvin, _conductance("Pads to air", "G_{pa}", (0.3, 5))]
PadToCaliper = Annotated[
    WattsPerKelvin, _conductance("Pads to caliper, through backing and pistons", "G_{pc}", (0.2, 5))
]
CaliperToAir = Annotated[WattsPerKelvin, _conductance("Caliper to air", "G_{ca}", (0.5, 12))]
CaliperToFluid = Annotated[
    WattsPerKelvin,
    _conductance("Caliper to fluid", "G_{cf}", (1, 20), "Not used when the fluid's heat capacity is empty."),
]
DiscToPad = Annotated[WattsPerKelvin, _conductance("Disc to pads, by touch and radiation", "G_{dp}", (0, 3))]
StillAir = Annotated[
    Ratio,
    Input("Air cooling of pads and caliper left when standing", "", "%", at_least=0, at_most=1, typical=(0.1, 0.5)),
]
StandTime = Annotated[
    Seconds, Input("Time the car is watched standing", "t_w", "min", above=0, at_most=14400, typical=(300, 3600))
]
StartPads = Annotated[Kelvins, temperature("Pads at the start", "T_{p0}")]
StartCaliper = Annotated[Kelvins, temperature("Caliper and fluid at the start", "T_{c0}")]
WindowLow = Annotated[Kelvins | None, temperature("Lower end of the pad's window", "T_1")]
WindowHigh = Annotated[Kelvins | None, temperature("Upper end of the pad's window", "T_2")]

# A front corner of the Tarn 20 at Scarhill, both invented: the zones are those of scenarios/circuits/scarhill.toml.
EXAMPLE: dict[str, Any] = {
    "zones": [
        ["188 km/h", "79 km/h", "1.05 g", "14.2 s"],
        ["139 km/h", "92 km/h", "0.95 g", "9.3 s"],
        ["152 km/h", "68 km/h", "1.03 g", "12.1 s"],
        ["131 km/h", "104 km/h", "0.70 g", "8.0 s"],
        ["160 km/h", "63 km/h", "1.05 g", "14.4 s"],
        ["127 km/h", "88 km/h", "0.92 g", "20.1 s"],
    ],
    "laps": "15",
    "mass": "1160 kg",
    "corner_share": "36 %",
    "mass_factor": "1.04",
    "drag_area": "0.85 m²",
    "disc_capacity": "3400 J/K",
    "pad_capacity": "950 J/K",
    "caliper_capacity": "2300 J/K",
    "fluid_capacity": "60 J/K",
    "disc_share": "96 %",
    "area": "0.24 m²",
    "pad_to_air": "2 W/K",
    "pad_to_caliper": "1.2 W/K",
    "caliper_to_air": "4 W/K",
    "disc_to_pad": "1 W/K",
    "ambient": "22 °C",
    "start_disc": "60 °C",
    "start_pads": "50 °C",
    "start_caliper": "40 °C",
    "fluid": "DOT 4",
    "window_low": "200 °C",
    "window_high": "600 °C",
}

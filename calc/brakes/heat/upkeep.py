"""Air to the brakes, and how long pads last."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.brakes.care import with_care
from calc.form import Input, Output, Remark, Step, calculator
from calc.units import (
    CubicMetres,
    CubicMetresPerJoule,
    CubicMetresPerSecond,
    Joules,
    JoulesPerKilogramKelvin,
    Kelvins,
    KilogramsPerCubicMetre,
    KilogramsPerSecond,
    Metres,
    MetresPerSecond,
    Ratio,
    SquareMetres,
    Watts,
)


class CoolingDuct(NamedTuple):
    """Air and duct for a heat flow."""

    area: Annotated[SquareMetres, Output("Area of the duct", "A", "cm²")]
    round_diameter: Annotated[Metres, Output("Diameter of a round duct", "D", "mm")]
    mass_flow: Annotated[KilogramsPerSecond, Output("Air", r"\dot m", "kg/s")]
    volume_flow: Annotated[CubicMetresPerSecond, Output("Air by volume", r"\dot V", "l/s")]


def _duct_remarks(result: CoolingDuct, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            "A first-order bound: all the heat is taken to leave with this air; a real duct does well under that.",
            about="area",
        ),
        Remark(
            "Feed the eye of the disc, into the vents, not one face: a disc cooled on one side warps. Too much air cracks discs and glazes pads.",
            about="area",
        ),
    )


@calculator(
    title="Cooling duct, first order",
    question="How large a duct does the brake's mean heat need?",
    example={"heat": "9 kW", "air_rise": "90 K", "speed": "120 km/h", "velocity_ratio": "0.45"},
    working=(
        Step(r"\dot m = \frac{P}{c_p \, \Delta T}", "mass_flow"),
        Step(r"\dot V = \frac{\dot m}{\rho}", "volume_flow"),
        Step(r"A = \frac{\dot m}{\rho \, v \, C}", "area"),
    ),
    remarks=with_care(_duct_remarks),
)
def cooling_duct(
    *,
    heat: Annotated[Watts, Input("Mean heat of this brake", "P", "kW", above=0, at_most=1e6, typical=(1e3, 4e4))],
    air_rise: Annotated[
        Kelvins, Input("Rise of the air through the brake", r"\Delta T", "K", above=0, at_most=1500, typical=(40, 200))
    ],
    speed: Annotated[MetresPerSecond, Input("Mean speed of the car", "v", "km/h", above=0, at_most=200)],
    velocity_ratio: Annotated[
        Ratio, Input("Air speed in the duct over car speed", "C", "", above=0, at_most=1, typical=(0.3, 0.6))
    ] = 0.45,
    air_density: Annotated[
        KilogramsPerCubicMetre, Input("Density of the air", r"\rho", "kg/m³", above=0, at_most=10, typical=(0.9, 1.35))
    ] = 1.15,
    air_heat: Annotated[
        JoulesPerKilogramKelvin, Input("Specific heat of the air", "c_p", "J/(kg·K)", above=0, at_most=1e4)
    ] = 1007.0,
) -> CoolingDuct:
    """Return the air and the duct area that a mean heat flow needs, to first order.

    Equation: m_dot = P/(c_p dT);  A = m_dot/(rho v C).
    Valid for: all heat leaving with the duct's air: a lower bound for the duct.
    Source: energy balance, derived; C 0.3 to 0.6 is common practice, no source.

    >>> round(cooling_duct(heat=9000, air_rise=90, speed=40).round_diameter * 1e3, 2)
    78.15
    """
    mass_flow = heat / (air_heat * air_rise)
    area = mass_flow / (air_density * speed * velocity_ratio)
    return CoolingDuct(area, math.sqrt(4 * area / math.pi), mass_flow, mass_flow / air_density)


class PadWear(NamedTuple):
    """What an energy takes off a pad, and how long the rest lasts."""

    thickness_lost: Annotated[Metres, Output("Thickness lost", "s", "mm", 3)]
    fraction_used: Annotated[Ratio, Output("of what may be worn", "", "%", 3)]
    energy_to_worn: Annotated[Joules, Output("Energy until worn out", "E_w", "MJ", 4)]
    laps_left: Annotated[Ratio | None, Output("Laps until worn out", "n", "", 3)]
    laps_to_seal: Annotated[Ratio | None, Output("Laps until a piston leaves its seal", "n_s", "", 3)]
    fluid_drop: Annotated[CubicMetres | None, Output("Fluid that follows each pad when worn out", "", "cm³", 3)]
    flags: tuple[str, ...]


def _wear_remarks(result: PadWear, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            "Wear grows 5 to 10 times above fade: this holds below it only. Thin pads also let more heat to the fluid.",
            about="laps_left",
        ),
        Remark(
            "Bed new pads with medium stops of rising severity, then cool down on the move. Dust harms: wet it, never blow it out."
        ),
    )


@calculator(
    title="Pad wear from energy",
    question="How many laps does a pad last?",
    example={
        "energy": "16 MJ",
        "energy_per_lap": "0.72 MJ",
        "specific_wear": "25 mm³/MJ",
        "pad_area": "55 cm²",
        "usable_thickness": "9 mm",
        "seal_travel": "11 mm",
        "piston_area": "22.8 cm²",
    },
    working=(
        Step(r"s = \frac{w \, E}{A_p}", "thickness_lost"),
        Step(r"E_w = \frac{A_p \, s_u}{w}", "energy_to_worn"),
        Step(r"n = \frac{E_w - E}{E_l}", "laps_left"),
    ),
    remarks=with_care(_wear_remarks),
)
def pad_wear(
    *,
    energy: Annotated[Joules, Input("Energy this pad has taken", "E", "MJ", at_least=0, at_most=1e13)],
    energy_per_lap: Annotated[Joules | None, Input("Energy of each lap", "E_l", "MJ", above=0, at_most=1e10)] = None,
    specific_wear: Annotated[
        CubicMetresPerJoule,
        Input(
            "Wear for each unit of energy",
            "w",
            "mm³/MJ",
            above=0,
            at_most=1e-9,
            typical=(1e-14, 5e-14),
            help="10 to 50 mm³/MJ below fade.",
        ),
    ],
    pad_area: Annotated[
        SquareMetres, Input("Area of the pad", "A_p", "cm²", above=0, at_most=0.5, typical=(0.002, 0.015))
    ],
    usable_thickness: Annotated[
        Metres, Input("Thickness that may be worn", "s_u", "mm", above=0, at_most=0.1, typical=(0.004, 0.02))
    ],
    seal_travel: Annotated[
        Metres | None, Input("Travel of the piston before it leaves its seal", "s_s", "mm", above=0, at_most=0.2)
    ] = None,
    piston_area: Annotated[
        SquareMetres | None, Input("Piston area behind the pad", "A_1", "cm²", above=0, at_most=0.02)
    ] = None,
) -> PadWear:
    """Return the thickness a pad loses for an energy, and how many laps it lasts.

    Equation: s = w E/A_p;  E_worn = A_p s_u/w;  laps = (E_worn - E)/E_lap;  the seal is reached at A_p s_seal/w.
    Valid for: temperatures below fade; even wear.
    Caution: change pads at the maker's limit, all of an axle together, and check the level afterwards.
    Source: wear in proportion to energy; 1e-14 to 5e-14 m³/J (from memory).

    >>> round(pad_wear(energy=240e6, specific_wear=1.6e-14, pad_area=0.0055, usable_thickness=0.009).fraction_used, 5)
    0.07758
    """
    lost, worn = specific_wear * energy / pad_area, pad_area * usable_thickness / specific_wear
    laps = None if energy_per_lap is None else max(0.0, worn - energy) / energy_per_lap
    seal = None
    if energy_per_lap is not None and seal_travel is not None:
        seal = max(0.0, pad_area * seal_travel / specific_wear - energy) / energy_per_lap
    flags = []
    if lost >= usable_thickness:
        flags.append("The pad is worn out.")
    if seal is not None and laps is not None and seal < laps:
        flags.append("The piston would leave its seal before the pad is worn out: fluid and brakes would be lost.")
    return PadWear(
        lost,
        lost / usable_thickness,
        worn,
        laps,
        seal,
        None if piston_area is None else piston_area * usable_thickness,
        tuple(flags),
    )

"""Inputs that several calculators share, named once: the label, symbol, unit, limits and typical range are the same everywhere.

Typical ranges are common practice, no source; they are remarks, never limits.
"""

import math
from typing import Annotated

from calc.form import Input
from calc.units import STANDARD_GRAVITY, Kilograms, Metres, MetresPerSecondSquared, NewtonsPerMetre, Radians, Ratio

CarMass = Annotated[Kilograms, Input("Mass of the car with driver", "m", "kg", above=0, typical=(400, 2000))]
Wheelbase = Annotated[Metres, Input("Wheelbase", "L", "mm", above=0, typical=(2.0, 3.2))]
FrontTrack = Annotated[Metres, Input("Front track", "t_f", "mm", above=0, typical=(1.2, 1.8))]
RearTrack = Annotated[Metres, Input("Rear track", "t_r", "mm", above=0, typical=(1.2, 1.8))]
CgHeight = Annotated[Metres, Input("Height of the centre of gravity", "h", "mm", above=0, typical=(0.25, 0.7))]
FrontShare = Annotated[
    Ratio,
    Input("Share of the weight on the front axle, at rest", "w_f", "%", above=0, below=1, typical=(0.38, 0.66)),
]
BrakeFrontShare = Annotated[
    Ratio,
    Input(
        "Front share of the brake force",
        r"\varphi",
        "%",
        at_least=0,
        at_most=1,
        typical=(0.5, 0.85),
        help="Share of the force at the tyres, not of the line pressure.",
    ),
]
SprungCornerMass = Annotated[
    Kilograms,
    Input(
        "Sprung mass on this corner",
        "m_s",
        "kg",
        above=0,
        typical=(100, 500),
        help="What the spring carries: corner load less wheel, upright, brake and half the links.",
    ),
]
SpringRate = Annotated[NewtonsPerMetre, Input("Spring rate", "k_s", "N/mm", above=0, typical=(15e3, 250e3))]
WheelRate = Annotated[NewtonsPerMetre, Input("Wheel rate", "k_w", "N/mm", above=0, typical=(10e3, 200e3))]
TyreRate = Annotated[
    NewtonsPerMetre,
    Input(
        "Vertical rate of the tyre",
        "k_t",
        "N/mm",
        above=0,
        typical=(120e3, 400e3),
        help="Rises with pressure, by roughly 5 to 8 N/mm for each 0.1 bar.",
    ),
]
LeverRatio = Annotated[
    Ratio,
    Input(
        "Motion ratio: spring travel for each unit of wheel travel",
        "r",
        "",
        above=0,
        at_most=3,
        typical=(0.4, 1.05),
        help="Below 1 on most cars. Some books use the reciprocal.",
    ),
]
SpringAngle = Annotated[
    Radians,
    Input(
        "Angle between the spring and the path of its foot",
        r"\alpha",
        "°",
        at_least=0,
        below=math.pi / 2,
        typical=(0, math.radians(40)),
        help="0 if the motion ratio was measured on the car: then the angle is already in it.",
    ),
]
Deceleration = Annotated[
    MetresPerSecondSquared,
    Input("Deceleration", "d", "g", above=0, typical=(0.3 * STANDARD_GRAVITY, 2.5 * STANDARD_GRAVITY)),
]
TyreAdhesion = Annotated[
    Ratio,
    Input(
        "Grip of the tyres (friction coefficient)",
        r"\mu_t",
        "",
        above=0,
        typical=(0.3, 2.2),
        help="0.8 to 1.1 road tyre on dry tarmac, 1.2 to 1.6 slick.",
    ),
]

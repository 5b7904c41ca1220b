"""Inputs that the calculators of ride share."""

from typing import Annotated

from calc.form import Input
from calc.units import Kilograms, Metres, MetresPerSecond, NewtonSecondsPerMetre, NewtonsPerMetre, Ratio

AxleHelp = "Of both wheels together: twice the rate of one wheel. With the tyre in series if that is what is asked."
FrontAxleRate = Annotated[
    NewtonsPerMetre, Input("Front axle rate, both wheels", "k_f", "N/mm", above=0, typical=(20e3, 400e3), help=AxleHelp)
]
RearAxleRate = Annotated[
    NewtonsPerMetre, Input("Rear axle rate, both wheels", "k_r", "N/mm", above=0, typical=(20e3, 400e3), help=AxleHelp)
]
SprungMass = Annotated[Kilograms, Input("Sprung mass of the car", "m_s", "kg", above=0, typical=(300, 1800))]
PitchRadius = Annotated[
    Metres,
    Input(
        "Radius of gyration in pitch",
        r"\rho",
        "mm",
        above=0,
        typical=(0.8, 1.6),
        help="Often 0.85 to 1.0 times the square root of a times b.",
    ),
]
ToFront = Annotated[
    Metres, Input("Sprung centre of gravity behind the front axle", "a", "mm", above=0, typical=(0.8, 2.0))
]
ToRear = Annotated[
    Metres, Input("Sprung centre of gravity ahead of the rear axle", "b", "mm", above=0, typical=(0.8, 2.0))
]
Speed = Annotated[MetresPerSecond, Input("Speed", "V", "km/h", above=0, typical=(5, 80))]
Damping = Annotated[
    NewtonSecondsPerMetre,
    Input("Damping at the wheel, mean of bump and rebound", "c", "N·s/m", at_least=0, typical=(500, 12000)),
]
DampingRatio = Annotated[Ratio, Input("Damping ratio", r"\zeta", "", at_least=0, at_most=10, typical=(0.1, 1.0))]
Wavelength = Annotated[Metres, Input("Wavelength of the road", r"\lambda", "m", above=0, typical=(0.5, 60))]
RoadAmplitude = Annotated[
    Metres, Input("Amplitude of the road, half its height", "Y", "mm", at_least=0, typical=(0.001, 0.05))
]

"""Inputs of the calculators for a car on its four scales: readings, rates, perches and how they make a ``Support``."""

from collections.abc import Mapping
from typing import Annotated, Any

from calc.form import Input, Remark
from calc.loads.support import Axle, Support
from calc.refusal import Refused
from calc.units import STANDARD_GRAVITY, Kilograms, Metres, NewtonsPerMetre, Ratio


def _scale(corner: str, symbol: str) -> Input:
    return Input(f"Scale under the {corner} wheel", symbol, "kg", at_least=0, typical=(80, 600))


FrontLeft = Annotated[Kilograms, _scale("left front", "m_{fl}")]
FrontRight = Annotated[Kilograms, _scale("right front", "m_{fr}")]
RearLeft = Annotated[Kilograms, _scale("left rear", "m_{rl}")]
RearRight = Annotated[Kilograms, _scale("right rear", "m_{rr}")]


def _spring(axle: str, symbol: str) -> Input:
    help = "At the wheel; on a live or beam axle the rate of one spring, at the axle."
    return Input(f"Wheel rate of one {axle} wheel", symbol, "N/mm", above=0, typical=(10e3, 200e3), help=help)


FrontRate = Annotated[NewtonsPerMetre, _spring("front", "k_f")]
RearRate = Annotated[NewtonsPerMetre, _spring("rear", "k_r")]


def _ratio(axle: str, symbol: str) -> Input:
    help = "Spring travel for each unit of wheel travel; on a live axle, of axle travel at the spring."
    return Input(f"Motion ratio of the {axle} springs", symbol, "", above=0, at_most=3, typical=(0.4, 1.05), help=help)


FrontRatio = Annotated[Ratio, _ratio("front", "MR_f")]
RearRatio = Annotated[Ratio, _ratio("rear", "MR_r")]


def _pitch(axle: str, symbol: str) -> Input:
    return Input(
        f"Thread pitch of the {axle} perches", symbol, "mm", above=0, typical=(1e-3, 3e-3), help="Rise for each turn."
    )


FrontPitch = Annotated[Metres, _pitch("front", "P_f")]
RearPitch = Annotated[Metres, _pitch("rear", "P_r")]


def _bar(axle: str, symbol: str) -> Input:
    help = "Force at one wheel for each unit of difference between the two wheels' travel. 0 without a bar."
    return Input(f"Rate of the {axle} bar at the wheels", symbol, "N/mm", at_least=0, typical=(0, 60e3), help=help)


FrontBar = Annotated[NewtonsPerMetre, _bar("front", "k_{af}")]
RearBar = Annotated[NewtonsPerMetre, _bar("rear", "k_{ar}")]


def _base(axle: str, symbol: str) -> Input:
    help = "Only for a live or beam axle: the distance between its springs. Empty: independent."
    return Input(f"Spring base of a {axle} live axle", symbol, "mm", above=0, typical=(0.7, 1.3), help=help)


FrontBase = Annotated[Metres | None, _base("front", "b_f")]
RearBase = Annotated[Metres | None, _base("rear", "b_r")]
BarsConnected = Annotated[
    bool, Input("Bars connected", help="Weigh with a link of each bar undone; a loaded bar hides cross weight.")
]


def _turns(corner: str, symbol: str) -> Input:
    return Input(
        f"Turns of the {corner} perch", symbol, "", typical=(-6, 6), help="Positive raises the car at that corner."
    )


TurnsFrontLeft = Annotated[Ratio, _turns("left front", "n_{fl}")]
TurnsFrontRight = Annotated[Ratio, _turns("right front", "n_{fr}")]
TurnsRearLeft = Annotated[Ratio, _turns("left rear", "n_{rl}")]
TurnsRearRight = Annotated[Ratio, _turns("right rear", "n_{rr}")]


def _height(corner: str, symbol: str) -> Input:
    return Input(
        f"Ride height before, {corner}",
        symbol,
        "mm",
        above=0,
        typical=(0.03, 0.25),
        help="Empty: only its change is shown.",
    )


HeightFrontLeft = Annotated[Metres | None, _height("left front", "z_{fl0}")]
HeightFrontRight = Annotated[Metres | None, _height("right front", "z_{fr0}")]
HeightRearLeft = Annotated[Metres | None, _height("left rear", "z_{rl0}")]
HeightRearRight = Annotated[Metres | None, _height("right rear", "z_{rr0}")]

EXAMPLE = {
    "front_left": "312 kg",
    "front_right": "298 kg",
    "rear_left": "268 kg",
    "rear_right": "282 kg",
    "front_track": "1510 mm",
    "rear_track": "1520 mm",
    "front_rate": "52.9 N/mm",
    "rear_rate": "48 N/mm",
    "front_ratio": "0.94",
    "rear_ratio": "0.8",
    "front_pitch": "2 mm",
    "rear_pitch": "2 mm",
    "front_tyre": "210 N/mm",
    "rear_tyre": "220 N/mm",
}
CARE = (
    Remark(
        "Take the load off the spring before turning a perch that binds, jack only on strong points, and never reach under a car on a jack.",
        "caution",
    ),
    Remark(
        "Tyre pressures first, driver in, floor level; after each change roll the car and bounce it, then read again."
    ),
)


def loads_of(inputs: Mapping[str, Any]) -> tuple[float, ...]:
    """Return the four readings in newtons."""
    readings = tuple(
        inputs[corner] * STANDARD_GRAVITY for corner in ("front_left", "front_right", "rear_left", "rear_right")
    )
    if sum(readings) <= 0:
        raise Refused("front_left", "and the other three scales must carry some mass", "0 kg on all four")
    return readings


def support_of(inputs: Mapping[str, Any]) -> Support:
    """Return the car on its springs, bars and tyres."""

    def axle(name: str) -> Axle:
        rate, tyre = inputs[f"{name}_rate"], inputs[f"{name}_tyre"]
        bar = inputs[f"{name}_bar"] if inputs["bars_connected"] else 0.0
        return Axle(inputs[f"{name}_track"], (rate, rate), (tyre, tyre), bar, inputs[f"{name}_spring_base"])

    return Support(axle("front"), axle("rear"), inputs["chassis_stiffness"])


def rise_of_turn(inputs: Mapping[str, Any]) -> tuple[float, ...]:
    """Return what one turn of each perch is worth where the spring's rate is counted: pitch over motion ratio, s = P/MR."""
    front, rear = inputs["front_pitch"] / inputs["front_ratio"], inputs["rear_pitch"] / inputs["rear_ratio"]
    return front, front, rear, rear


def cross(loads: tuple[float, ...]) -> float:
    """Return the share of the right front and left rear wheels."""
    return (loads[1] + loads[2]) / sum(loads)

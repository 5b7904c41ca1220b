"""Understeer with load transfer: cornering stiffness that grows less than the load makes the gradient depend on the roll stiffness split."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.loads.terms import LateralAcceleration
from calc.loads.understeer import Character, character, characteristic, critical
from calc.refusal import Refused
from calc.terms import CarMass, CgHeight, FrontShare, FrontTrack, RearTrack, Wheelbase
from calc.units import (
    STANDARD_GRAVITY,
    MetresPerSecond,
    Newtons,
    NewtonsPerRadian,
    PerNewtonRadian,
    PerRadian,
    RadiansPerAcceleration,
    Ratio,
)

_DEGREE = 180 / math.pi


class UndersteerWithTransfer(NamedTuple):
    """The gradient with and without load transfer, and what each axle's stiffness lost."""

    gradient: Annotated[RadiansPerAcceleration, Output("Understeer gradient with load transfer", "K", "deg/g", 3)]
    gradient_without: Annotated[
        RadiansPerAcceleration, Output("Understeer gradient without load transfer", "K_0", "deg/g", 3)
    ]
    character: Annotated[Character, Output("The car is said to", "")]
    characteristic_speed: Annotated[MetresPerSecond | None, Output("Characteristic speed", "V_{ch}", "km/h", 3)]
    critical_speed: Annotated[MetresPerSecond | None, Output("Critical speed", "V_{cr}", "km/h", 3)]
    front_stiffness: Annotated[NewtonsPerRadian, Output("Cornering stiffness of the front axle", "C_f", "N/deg")]
    rear_stiffness: Annotated[NewtonsPerRadian, Output("Cornering stiffness of the rear axle", "C_r", "N/deg")]
    front_loss: Annotated[Ratio, Output("Front stiffness lost by load transfer", "q_f", "%", 3)]
    rear_loss: Annotated[Ratio, Output("Rear stiffness lost by load transfer", "q_r", "%", 3)]
    front_transfer: Annotated[Newtons, Output("Load moved across the front axle", r"\Delta F_f", "N", detail=True)]
    rear_transfer: Annotated[Newtons, Output("Load moved across the rear axle", r"\Delta F_r", "N", detail=True)]
    flags: tuple[str, ...]


class Corner(NamedTuple):
    """One tyre's cornering stiffness c_1 F - c_2 F^2."""

    first: float
    second: float

    def axle(self, load: float, transfer: float) -> float:
        """Return the stiffness of both tyres of an axle: 2 (c_1 F - c_2 F^2) - 2 c_2 dF^2.

        >>> Corner(20.0, 0.001).axle(3000.0, 1000.0)
        100000.0
        """
        return 2 * (self.first * load - self.second * load**2) - 2 * self.second * transfer**2


def _gradient(inputs: Mapping[str, Any], share: float) -> tuple[float, tuple[float, float], tuple[float, float]]:
    """Return the gradient, the axle stiffnesses and the transfers for a front share of the load transfer."""
    weight = inputs["mass"] * STANDARD_GRAVITY
    loads = weight * inputs["front_share"] / 2, weight * (1 - inputs["front_share"]) / 2
    moment = inputs["mass"] * inputs["lateral_acceleration"] * inputs["cg_height"]
    both = moment / math.fsum((share * inputs["front_track"], (1 - share) * inputs["rear_track"]))
    moved = min(share * both, loads[0]), min((1 - share) * both, loads[1])
    tyres = Corner(inputs["front_first"], inputs["front_second"]), Corner(inputs["rear_first"], inputs["rear_second"])
    front, rear = (tyre.axle(load, transfer) for tyre, load, transfer in zip(tyres, loads, moved, strict=True))
    masses = inputs["mass"] * inputs["front_share"], inputs["mass"] * (1 - inputs["front_share"])
    return masses[0] / front - masses[1] / rear if front > 0 and rear > 0 else math.nan, (front, rear), moved


def _remarks(result: UndersteerWithTransfer, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            "A stiffer front bar moves transfer to the front, takes stiffness off the front axle and adds understeer; a stiffer rear bar does the opposite.",
            about="gradient",
        ),
        Remark("Only a tendency: camber, roll steer, traction and temperature add to it.", about="character"),
    )


def _figures(result: UndersteerWithTransfer, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    shares = [0.2 + 0.02 * i for i in range(31)]
    return (
        Chart(
            "Understeer gradient against the front share of the load transfer",
            "The more of the transfer the front axle takes, the more the car understeers.",
            Axis("Front share of the load transfer", "%"),
            Axis("Understeer gradient", "deg/g"),
            (
                Series("Gradient", shares, [_gradient(inputs, share)[0] for share in shares]),
                Series("Here", [inputs["front_transfer_share"]], [result.gradient], points=True),
            ),
        ),
    )


def _first(axle: str, symbol: str) -> Input:
    return Input(
        f"Cornering stiffness for each unit of load, {axle} tyre, light load",
        symbol,
        "1/deg",
        above=0,
        typical=(0.1 * _DEGREE, 0.6 * _DEGREE),
    )


def _second(axle: str, symbol: str) -> Input:
    return Input(
        f"Fall of it with load, {axle} tyre", symbol, "1/(kN·deg)", at_least=0, typical=(0.0, 0.06e-3 * _DEGREE)
    )


@calculator(
    title="Understeer gradient with load transfer",
    question="How do springs and bars, by sharing the load transfer, change the understeer?",
    example={
        "mass": "1160 kg",
        "wheelbase": "2560 mm",
        "front_track": "1510 mm",
        "rear_track": "1520 mm",
        "front_share": "52.6 %",
        "cg_height": "480 mm",
        "front_transfer_share": "55.4 %",
        "lateral_acceleration": "0.6 g",
        "front_first": "0.45 1/deg",
        "front_second": "0.03 1/(kN·deg)",
        "rear_first": "0.45 1/deg",
        "rear_second": "0.03 1/(kN·deg)",
    },
    working=(
        Step(r"C_f = 2 \, (c_{1f} F - c_{2f} F^2) - 2 \, c_{2f} \, \Delta F_f^2", "front_stiffness"),
        Step(r"K = \frac{m \, w_f}{C_f} - \frac{m \, (1 - w_f)}{C_r}", "gradient"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def understeer_with_transfer(
    *,
    mass: CarMass,
    wheelbase: Wheelbase,
    front_track: FrontTrack,
    rear_track: RearTrack,
    front_share: FrontShare,
    cg_height: CgHeight,
    front_transfer_share: Annotated[
        Ratio,
        Input("Front share of the lateral load transfer", r"\lambda", "%", at_least=0, at_most=1, typical=(0.35, 0.75)),
    ],
    lateral_acceleration: LateralAcceleration,
    front_first: Annotated[PerRadian, _first("front", "c_{1f}")],
    front_second: Annotated[PerNewtonRadian, _second("front", "c_{2f}")],
    rear_first: Annotated[PerRadian, _first("rear", "c_{1r}")],
    rear_second: Annotated[PerNewtonRadian, _second("rear", "c_{2r}")],
) -> UndersteerWithTransfer:
    """Return the understeer gradient of a car whose tyres lose cornering stiffness to load transfer.

    Equation: one tyre c_1 F - c_2 F^2;  an axle 2 (c_1 F - c_2 F^2) - 2 c_2 dF^2;  K = (W_f/C_f - W_r/C_r)/g.
    Signs: K is positive for understeer.
    Valid for: gentle cornering, transfer up to the load of the inside tyre, loads below c_1/(2 c_2).
    Source: sum of two tyres; Gillespie, Fundamentals of Vehicle Dynamics, 1992, chapter 6 (from memory).

    >>> car = dict(mass=1000, wheelbase=2.5, front_track=1.5, rear_track=1.5, front_share=0.5, cg_height=0.5, lateral_acceleration=5,
    ...     front_first=25, front_second=0.002, rear_first=25, rear_second=0.002)
    >>> understeer_with_transfer(**car, front_transfer_share=0.5).gradient, understeer_with_transfer(**car, front_transfer_share=0.6).gradient > 0
    (0.0, True)
    """
    inputs = locals()
    gradient, (front, rear), moved = _gradient(inputs, front_transfer_share)
    for name, value in (("front_second", front), ("rear_second", rear)):
        if value <= 0:
            raise Refused(
                name,
                "must leave the axle some cornering stiffness at these loads",
                quantity(inputs[name], "1/(kN·deg)"),
            )
    without, (front_still, rear_still), _ = _gradient({**inputs, "lateral_acceleration": 0.0}, front_transfer_share)
    return UndersteerWithTransfer(
        gradient=gradient,
        gradient_without=without,
        character=character(gradient),
        characteristic_speed=characteristic(gradient, wheelbase),
        critical_speed=critical(gradient, wheelbase),
        front_stiffness=front,
        rear_stiffness=rear,
        front_loss=1 - front / front_still,
        rear_loss=1 - rear / rear_still,
        front_transfer=moved[0],
        rear_transfer=moved[1],
        flags=_flags(inputs, moved),
    )


def _flags(inputs: Mapping[str, Any], moved: tuple[float, float]) -> tuple[str, ...]:
    half = inputs["mass"] * STANDARD_GRAVITY / 2
    shares = inputs["front_share"], 1 - inputs["front_share"]
    return tuple(
        f"The inside {name} wheel lifts at this lateral acceleration: the numbers hold it at nothing and leave the rest out."
        for name, transfer, share in zip(("front", "rear"), moved, shares, strict=True)
        if transfer >= half * share
    )

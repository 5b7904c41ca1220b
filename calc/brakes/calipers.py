"""Calipers: the area that clamps, the area that moves fluid, and the torque on the disc."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.brakes.care import with_care
from calc.brakes.cylinders import bore_area
from calc.brakes.terms import DiscRadius, LinePressure, PadFriction, WheelRadius
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.units import (
    KilogramSquareMetres,
    Metres,
    MetresPerSecondSquared,
    NewtonMetres,
    Newtons,
    NewtonsPerPascal,
    Pascals,
    Ratio,
    SquareMetres,
)


def clamp_force(pressure: float, one_side_area: float, push_out: float = 0.0, efficiency: float = 1.0) -> float:
    """Return the force of one pad on the disc; below the push-out pressure there is none.

    >>> round(clamp_force(6e6, 0.0025), 6)
    15000.0
    """
    return max(0.0, pressure - push_out) * one_side_area * efficiency


def disc_torque(clamp: float, friction: float, radius: float) -> float:
    """Return the torque of one disc, rubbed on both faces.

    >>> round(disc_torque(15000, 0.4, 0.13), 6)
    1560.0
    """
    return 2 * friction * clamp * radius


def axle_force_per_pressure(one_side_area: float, friction: float, radius: float, wheel_radius: float) -> float:
    """Return the brake force of both wheels of an axle for each unit of line pressure, N/Pa.

    >>> round(axle_force_per_pressure(0.002, 0.4, 0.12, 0.3) * 5e6)
    6400
    """
    return 2 * disc_torque(clamp_force(1.0, one_side_area), friction, radius) / wheel_radius


class Piston(NamedTuple):
    """One piston of one side, the leading one (where the disc enters) first."""

    bore: Annotated[Metres, Input("Bore of the piston", "d", "mm", above=0, at_most=0.12, typical=(0.025, 0.065))]
    position: Annotated[
        Metres | None,
        Input("Place along the pad, in the direction of rotation", "x", "mm", at_least=-1, at_most=1),
    ] = None


class CaliperClamp(NamedTuple):
    """Clamp, torque and tyre force of one wheel; the area for clamp and the area for fluid are kept apart."""

    clamp: Annotated[Newtons, Output("Clamp: force of one pad on the disc", "F_c", "N")]
    torque: Annotated[NewtonMetres, Output("Torque of the brake", "T", "N·m")]
    tyre_force: Annotated[Newtons, Output("Brake force at the tyre", "F_x", "N")]
    one_side_area: Annotated[SquareMetres, Output("Area that clamps: pistons of one side", "A_1", "cm²")]
    fluid_area: Annotated[SquareMetres, Output("Area that moves fluid: all pistons", "A_V", "cm²")]
    force_per_pressure: Annotated[
        NewtonsPerPascal, Output("Brake force of an axle of two such wheels for each bar", "C", "N/bar")
    ]
    pressure_centre: Annotated[
        Metres | None, Output("Centre of the piston force along the pad", "x_c", "mm", detail=True)
    ]
    brake_factor: Annotated[Ratio, Output("Brake factor of the disc", "C^*", "", detail=True)]


def _remarks(result: CaliperClamp, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    if inputs["kind"] == "opposed":
        says = "Only one side of an opposed caliper clamps: the other side is the reaction. All its pistons take fluid, though."
    else:
        says = "A sliding caliper pushes with all its pistons; its slide supplies the other pad, as long as it slides freely."
    return (Remark(says, about="clamp"),)


@calculator(
    title="Caliper clamp and torque",
    question="What clamp, torque and tyre force does this caliper make at a line pressure?",
    example={
        "kind": "opposed",
        "pistons": [["38 mm", "-24 mm"], ["41.3 mm", "20 mm"]],
        "line_pressure": "60 bar",
        "friction": "0.42",
        "disc_radius": "132 mm",
        "wheel_radius": "310 mm",
    },
    working=(
        Step(r"A_1 = \frac{\pi}{4} \sum d^2", "one_side_area"),
        Step(r"F_c = (p - p_0) \, A_1 \, \eta_c", "clamp"),
        Step(r"T = 2 \, \mu \, F_c \, r_e", "torque"),
        Step(r"F_x = \frac{T - I_w \, d / R}{R}", "tyre_force"),
    ),
    remarks=with_care(_remarks),
)
def caliper_clamp(
    *,
    kind: Annotated[
        Literal["opposed", "sliding"],
        Choice("Caliper", {"opposed": "pistons on both sides, fixed", "sliding": "pistons on one side, sliding"}),
    ],
    pistons: Annotated[
        tuple[Piston, ...], Input("Pistons of one side", help="Leading piston first. One side only, also when opposed.")
    ],
    line_pressure: LinePressure,
    friction: PadFriction,
    disc_radius: DiscRadius,
    wheel_radius: WheelRadius,
    push_out: Annotated[
        Pascals, Input("Push-out pressure", "p_0", "bar", at_least=0, at_most=1e6, help="0.3 to 1 bar (from memory).")
    ] = 0.0,
    efficiency: Annotated[
        Ratio, Input("Efficiency of the caliper", r"\eta_c", "%", above=0, at_most=1, typical=(0.9, 1))
    ] = 1.0,
    wheel_inertia: Annotated[
        KilogramSquareMetres,
        Input(
            "Inertia of the wheel that is slowed as well",
            "I_w",
            "kg·m²",
            at_least=0,
            at_most=100,
            help="0: steady rolling.",
        ),
    ] = 0.0,
    car_deceleration: Annotated[
        MetresPerSecondSquared, Input("Deceleration of the car meanwhile", "d", "g", at_least=0, at_most=100)
    ] = 0.0,
) -> CaliperClamp:
    """Return the clamp, torque and tyre force of one wheel, with clamp area and fluid area kept apart.

    Equation: F_c = (p - p_0) A_1 eta_c;  T = 2 mu F_c r_e;  F_x = (T - I_w d/R)/R;  fluid area: 2 A_1 opposed, A_1 sliding, over a
    doubled travel, so both take the same fluid for the same clearance at each pad.
    Valid for: even pad contact; leave the inertia out for steady rolling.
    Caution: count the pistons of ONE side of an opposed caliper for clamp; counting both is the commonest error.
    Source: statics and hydraulics; Limpert, Brake Design and Safety, 1999 (from memory) for push-out and efficiency.

    >>> answer = caliper_clamp(kind="sliding", pistons=(Piston(0.054),), line_pressure=6e6, friction=0.42, disc_radius=0.132, wheel_radius=0.31)
    >>> round(answer.clamp, 1), round(answer.torque, 1)
    (13741.3, 1523.6)
    """
    area = math.fsum(bore_area(each.bore) for each in pistons)
    clamp = clamp_force(line_pressure, area, push_out, efficiency)
    torque = disc_torque(clamp, friction, disc_radius)
    placed = [(bore_area(each.bore), each.position) for each in pistons if each.position is not None]
    centre = (
        math.fsum(a * x for a, x in placed) / math.fsum(a for a, _ in placed) if len(placed) == len(pistons) else None
    )
    return CaliperClamp(
        clamp=clamp,
        torque=torque,
        tyre_force=max(0.0, torque - wheel_inertia * car_deceleration / wheel_radius) / wheel_radius,
        one_side_area=area,
        fluid_area=2 * area if kind == "opposed" else area,
        force_per_pressure=axle_force_per_pressure(area, friction, disc_radius, wheel_radius) * efficiency,
        pressure_centre=centre,
        brake_factor=2 * friction,
    )

"""From the foot to the tyres: pedal, balance bar, two cylinders, discs."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.units import Metres, Newtons, Pascals, Ratio, SquareMetres

HIGH_PRESSURE = 20e6  # Pa, above which a road-based brake line is worth a second look (common practice, no source)


def _bore(axle: str, symbol: str) -> Input:
    return Input(f"Bore of the {axle} master cylinder", symbol, "mm", above=0, at_most=0.1, typical=(0.0127, 0.0286))


def _pistons(axle: str, symbol: str) -> Input:
    return Input(
        f"Piston area on one side of a {axle} caliper",
        symbol,
        "cm²",
        above=0,
        at_most=0.02,
        typical=(5e-4, 40e-4),
        help="Opposed pistons: count one side only. Sliding caliper: all its pistons.",
    )


def _friction(axle: str, symbol: str) -> Input:
    return Input(f"Pad friction, {axle}", symbol, "", above=0, at_most=1.5, typical=(0.25, 0.65))


def _disc(axle: str, symbol: str) -> Input:
    return Input(
        f"Effective radius of the {axle} disc",
        symbol,
        "mm",
        above=0,
        at_most=0.4,
        typical=(0.08, 0.18),
        help="Middle of the pad track for bedded pads.",
    )


def _wheel(axle: str, symbol: str) -> Input:
    return Input(f"Loaded radius of the {axle} wheel", symbol, "mm", above=0, at_most=0.6, typical=(0.25, 0.36))


class BrakeForces(NamedTuple):
    """Line pressures, and forces of both wheels of an axle at the tyres. No grip limit is applied."""

    front_share: Annotated[Ratio, Output("Front share of the brake force at the tyres", r"\varphi", "%")]
    total_force: Annotated[Newtons, Output("Brake force of all four wheels", "F", "N")]
    front_pressure: Annotated[Pascals, Output("Front line pressure", "p_f", "bar")]
    rear_pressure: Annotated[Pascals, Output("Rear line pressure", "p_r", "bar")]
    front_force: Annotated[Newtons, Output("Front axle brake force", "F_f", "N")]
    rear_force: Annotated[Newtons, Output("Rear axle brake force", "F_r", "N")]
    rod_force: Annotated[Newtons, Output("Force on the balance bar", "F_b", "N", detail=True)]
    front_area: Annotated[SquareMetres, Output("Area of the front cylinder", "A_f", "cm²", detail=True)]
    rear_area: Annotated[SquareMetres, Output("Area of the rear cylinder", "A_r", "cm²", detail=True)]


def _remarks(result: BrakeForces, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    pressure_share = result.front_pressure / (result.front_pressure + result.rear_pressure)
    remarks = [
        Remark(
            f"The front has {100 * pressure_share:.0f} % of the line pressure but {100 * result.front_share:.0f} % of the brake force: "
            "pressure share is not brake balance.",
            about="front_share",
        )
    ]
    if max(result.front_pressure, result.rear_pressure) > HIGH_PRESSURE:
        remarks.append(
            Remark(
                "A line pressure above 200 bar is beyond what hoses and seals of this kind usually see.",
                "caution",
                "front_pressure",
            )
        )
    return tuple(remarks)


def _figures(result: BrakeForces, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    forces = [inputs["pedal_force"] * i / 10 for i in range(16)]
    scale = [f / inputs["pedal_force"] for f in forces]
    return (
        Chart(
            "Brake force against pedal force",
            "Front and rear brake force grow in straight lines with the force of the foot.",
            Axis("Pedal force", "N"),
            Axis("Brake force at the tyres", "N"),
            (
                Series("Front axle", forces, [s * result.front_force for s in scale]),
                Series("Rear axle", forces, [s * result.rear_force for s in scale]),
                Series("Here", [inputs["pedal_force"]] * 2, [result.front_force, result.rear_force], points=True),
            ),
        ),
    )


@calculator(
    title="From the pedal to the tyres",
    question="How hard does each axle brake for a push on the pedal, and how is it shared?",
    example={
        "pedal_force": "400 N",
        "pedal_ratio": "5.2",
        "bar_front_share": "50 %",
        "front_bore": "19.05 mm",
        "rear_bore": "20.64 mm",
        "front_pistons": "22.8 cm2",
        "rear_pistons": "11.4 cm2",
        "front_friction": "0.45",
        "rear_friction": "0.42",
        "front_disc_radius": "128 mm",
        "rear_disc_radius": "118 mm",
        "front_wheel_radius": "305 mm",
        "rear_wheel_radius": "305 mm",
    },
    working=(
        Step(r"F_b = F_p \, i \, \eta", "rod_force"),
        Step(r"A_f = \frac{\pi}{4} \, {d_f}^2", "front_area"),
        Step(r"p_f = \frac{s \, F_b}{A_f}", "front_pressure"),
        Step(r"F_f = 2 \cdot 2 \, \mu_f \, p_f \, a_f \, \frac{r_f}{R_f}", "front_force"),
        Step(r"p_r = \frac{(1 - s) \, F_b}{A_r}", "rear_pressure"),
        Step(r"F_r = 2 \cdot 2 \, \mu_r \, p_r \, a_r \, \frac{r_r}{R_r}", "rear_force"),
        Step(r"\varphi = \frac{F_f}{F_f + F_r}", "front_share"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def brake_forces(
    *,
    pedal_force: Annotated[Newtons, Input("Force on the pedal", "F_p", "N", above=0, typical=(50, 900))],
    pedal_ratio: Annotated[
        Ratio,
        Input(
            "Pedal ratio",
            "i",
            "",
            above=0,
            typical=(2.5, 8),
            help="Foot lever over pushrod lever, each square to its force.",
        ),
    ],
    pedal_efficiency: Annotated[
        Ratio, Input("Efficiency of the pedal box", r"\eta", "%", above=0, at_most=1, typical=(0.85, 1))
    ] = 1.0,
    bar_front_share: Annotated[
        Ratio,
        Input(
            "Share of the bar force on the front cylinder",
            "s",
            "%",
            above=0,
            below=1,
            typical=(0.33, 0.67),
            help="50 % with the bar centred.",
        ),
    ] = 0.5,
    front_bore: Annotated[Metres, _bore("front", "d_f")],
    rear_bore: Annotated[Metres, _bore("rear", "d_r")],
    front_pistons: Annotated[SquareMetres, _pistons("front", "a_f")],
    rear_pistons: Annotated[SquareMetres, _pistons("rear", "a_r")],
    front_friction: Annotated[Ratio, _friction("front", r"\mu_f")],
    rear_friction: Annotated[Ratio, _friction("rear", r"\mu_r")],
    front_disc_radius: Annotated[Metres, _disc("front", "r_f")],
    rear_disc_radius: Annotated[Metres, _disc("rear", "r_r")],
    front_wheel_radius: Annotated[Metres, _wheel("front", "R_f")],
    rear_wheel_radius: Annotated[Metres, _wheel("rear", "R_r")],
) -> BrakeForces:
    """Return line pressures and axle brake forces of twin cylinders on a balance bar, two disc brakes on each axle.

    Equation: F_b = F_p i eta;  p = share F_b / A;  wheel torque = 2 mu p a r_e;  axle force = 2 torque / R.
    Valid for: unboosted, linear hydraulics, discs on all wheels, steady rolling; push-out pressure and seal friction left out (0.3 to 1 bar).
    Caution: piston area counts one side of the caliper. The forces are what the brakes could make, not what the tyres can hold.
    Source: statics and hydraulics; Limpert, Brake Design and Safety, 1999 (from memory).

    >>> answer = brake_forces(pedal_force=400, pedal_ratio=5, front_bore=0.019, rear_bore=0.019, front_pistons=0.002, rear_pistons=0.001,
    ...     front_friction=0.4, rear_friction=0.4, front_disc_radius=0.12, rear_disc_radius=0.12, front_wheel_radius=0.3, rear_wheel_radius=0.3)
    >>> round(answer.front_share, 4)
    0.6667
    """
    rod = pedal_force * pedal_ratio * pedal_efficiency
    front_area, rear_area = math.pi * front_bore**2 / 4, math.pi * rear_bore**2 / 4
    front_pressure, rear_pressure = bar_front_share * rod / front_area, (1 - bar_front_share) * rod / rear_area
    front = axle_force(front_pressure, front_pistons, front_friction, front_disc_radius, front_wheel_radius)
    rear = axle_force(rear_pressure, rear_pistons, rear_friction, rear_disc_radius, rear_wheel_radius)
    return BrakeForces(
        front / (front + rear), front + rear, front_pressure, rear_pressure, front, rear, rod, front_area, rear_area
    )


def axle_force(pressure: float, piston_area: float, friction: float, disc_radius: float, wheel_radius: float) -> float:
    """Return the brake force of both wheels of an axle, N: two rubbing faces on each disc, two discs.

    >>> round(axle_force(5e6, 0.002, 0.4, 0.12, 0.3))
    6400
    """
    return 2 * 2 * friction * pressure * piston_area * disc_radius / wheel_radius

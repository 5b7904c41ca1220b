"""Lateral load transfer: unsprung, geometric and elastic, at each axle, and the roll that goes with it."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.loads.roll import RollAxle, Rolled, roll
from calc.loads.terms import (
    ChassisStiffness,
    FrontRollCentre,
    FrontRollStiffness,
    LateralAcceleration,
    RearRollCentre,
    RearRollStiffness,
    SprungFrontShare,
    SprungHeight,
    SprungMass,
    UnsprungFront,
    UnsprungFrontHeight,
    UnsprungRear,
    UnsprungRearHeight,
)
from calc.terms import FrontTrack, RearTrack
from calc.units import STANDARD_GRAVITY, Metres, NewtonMetres, Newtons, Radians, RadiansPerAcceleration, Ratio

LARGE_ROLL = math.radians(8.0)


class LateralTransfer(NamedTuple):
    """Load that leaves the inside wheel of each axle and lands on the outside one, in its three parts, and the roll."""

    front_transfer: Annotated[Newtons, Output("Load moved across the front axle", r"\Delta F_f", "N")]
    rear_transfer: Annotated[Newtons, Output("Load moved across the rear axle", r"\Delta F_r", "N")]
    front_transfer_share: Annotated[Ratio | None, Output("Front share of the load transfer", r"\lambda", "%", 3)]
    roll_angle: Annotated[Radians | None, Output("Roll angle, front", r"\varphi", "°", 3)]
    roll_gradient: Annotated[RadiansPerAcceleration | None, Output("Roll gradient", r"\varphi'", "deg/g", 3)]
    roll_gradient_without_gravity: Annotated[
        RadiansPerAcceleration,
        Output("Roll gradient as texts without the gravity term give it", r"\varphi'_0", "deg/g", 3),
    ]
    front_unsprung: Annotated[Newtons, Output("Front: unsprung part", r"\Delta F_{uf}", "N")]
    front_geometric: Annotated[Newtons, Output("Front: geometric part, through the links", r"\Delta F_{gf}", "N")]
    front_elastic: Annotated[Newtons, Output("Front: elastic part, through springs and bar", r"\Delta F_{ef}", "N")]
    rear_unsprung: Annotated[Newtons, Output("Rear: unsprung part", r"\Delta F_{ur}", "N")]
    rear_geometric: Annotated[Newtons, Output("Rear: geometric part, through the links", r"\Delta F_{gr}", "N")]
    rear_elastic: Annotated[Newtons, Output("Rear: elastic part, through springs and bar", r"\Delta F_{er}", "N")]
    roll_arm: Annotated[Metres, Output("Sprung centre of gravity above the roll axis", "d", "mm", detail=True)]
    stiffness_share: Annotated[Ratio, Output("Front share of the roll stiffness", r"\kappa", "%", 3, detail=True)]
    chassis_twist: Annotated[
        Radians | None, Output("Twist of the chassis, rear against front", r"\theta", "°", 3, detail=True)
    ]
    moment: Annotated[NewtonMetres, Output("Overturning moment carried by both axles", "M", "N·m", detail=True)]
    flags: tuple[str, ...]


def axles_of(inputs: Mapping[str, Any]) -> tuple[RollAxle, RollAxle]:
    """Return both axles in roll from the inputs of a calculator."""
    share = {"front": inputs["sprung_front_share"], "rear": 1 - inputs["sprung_front_share"]}

    def axle(name: str) -> RollAxle:
        centre = inputs[f"{name}_roll_centre"]
        return RollAxle(
            inputs[f"{name}_track"],
            inputs[f"{name}_roll_stiffness"],
            inputs["sprung_mass"] * share[name],
            inputs["sprung_height"] - centre,
            centre,
            inputs[f"unsprung_{name}"],
            inputs[f"unsprung_{name}_height"],
        )

    return axle("front"), axle("rear")


def lift_flags(found: Rolled) -> tuple[str, ...]:
    """Return what wheel lift and a large roll mean for the numbers."""
    if all(found.lifted):
        return (
            "Both inside wheels lift: the car would roll over. The loads shown are those at the lift of the second wheel.",
        )
    said = tuple(
        f"The inside {name} wheel lifts: all further load moves across the {other} axle, and the car rolls on the {other} springs alone."
        for name, other, up in (("front", "rear", found.lifted[0]), ("rear", "front", found.lifted[1]))
        if up
    )
    if found.rolls and max(abs(phi) for phi in found.rolls) > LARGE_ROLL:
        said += ("More than 8° of roll: the small-angle model, and roll centres that stay put, no longer hold.",)
    return said


def _remarks(result: LateralTransfer, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark(
            "Springs and bars share the load between the axles and set the roll; the total is mass, height and track alone, but for the gravity of the rolled body."
        )
    ]
    share = _front_mass_share(inputs)
    if result.front_transfer_share is not None and result.roll_angle is not None:
        points = f"{100 * (result.front_transfer_share - share):+.1f}".replace("-", "−")
        remarks.append(
            Remark(
                f"The front share of the transfer is {points} points from the front mass share; about 5 points above it is a common starting place.",
                about="front_transfer_share",
            )
        )
    if result.roll_gradient is not None:
        remarks.append(
            Remark(
                "Usual roll gradients: 0.2 to 1 deg/g for single-seaters, 1 to 2.5 for club cars, 4 to 8 for road cars.",
                about="roll_gradient",
            )
        )
    if result.front_geometric < 0 or result.rear_geometric < 0:
        remarks.append(
            Remark(
                "A roll centre below the ground gives a negative geometric part: the springs carry more instead.",
                about="front_geometric",
            )
        )
    return tuple(remarks)


def _front_mass_share(inputs: Mapping[str, Any]) -> float:
    front = inputs["sprung_mass"] * inputs["sprung_front_share"] + inputs["unsprung_front"]
    return float(front / (inputs["sprung_mass"] + inputs["unsprung_front"] + inputs["unsprung_rear"]))


def _figures(result: LateralTransfer, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    axles, here = axles_of(inputs), inputs["lateral_acceleration"]
    top = max(1.5 * here, STANDARD_GRAVITY)
    steps = [top * i / 30 for i in range(31)]
    found = [
        roll(axles, inputs["chassis_stiffness"], a, gravity=inputs["gravity_term"]).totals(axles, a) for a in steps
    ]
    return (
        Chart(
            "Load transfer against lateral acceleration",
            "Each axle's transfer grows in a straight line until an inside wheel lifts; then the other axle takes all that follows.",
            Axis("Lateral acceleration", "g"),
            Axis("Load moved", "N"),
            (
                Series("Front axle", steps, [front for front, _ in found]),
                Series("Rear axle", steps, [rear for _, rear in found]),
                Series("Here", [here, here], [result.front_transfer, result.rear_transfer], points=True),
            ),
        ),
    )


EXAMPLE = {
    "sprung_mass": "1012 kg",
    "sprung_front_share": "52.8 %",
    "sprung_height": "506 mm",
    "unsprung_front": "76 kg",
    "unsprung_rear": "72 kg",
    "unsprung_front_height": "305 mm",
    "unsprung_rear_height": "305 mm",
    "front_roll_centre": "45 mm",
    "rear_roll_centre": "95 mm",
    "front_track": "1510 mm",
    "rear_track": "1520 mm",
    "front_roll_stiffness": "1350 N·m/deg",
    "rear_roll_stiffness": "950 N·m/deg",
    "lateral_acceleration": "1.1 g",
}


@calculator(
    title="Lateral load transfer and roll",
    question="How much load crosses each axle in a corner, by which path, and how far does the car roll?",
    example=EXAMPLE,
    working=(
        Step(r"d = h_s - s_f \, z_f - (1 - s_f) \, z_r", "roll_arm"),
        Step(r"\varphi = \frac{m_s \, a_y \, d}{K_f + K_r - m_s \, g \, d}", "roll_angle"),
        Step(r"\Delta F_{uf} = \frac{a_y \, m_{uf} \, h_{uf}}{t_f}", "front_unsprung"),
        Step(r"\Delta F_{gf} = \frac{a_y \, m_s \, s_f \, z_f}{t_f}", "front_geometric"),
        Step(r"\Delta F_{ef} = \frac{K_f \, \varphi}{t_f}", "front_elastic"),
        Step(r"\Delta F_f = \Delta F_{uf} + \Delta F_{gf} + \Delta F_{ef}", "front_transfer"),
        Step(r"\lambda = \frac{\Delta F_f}{\Delta F_f + \Delta F_r}", "front_transfer_share"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def lateral_load_transfer(
    *,
    sprung_mass: SprungMass,
    sprung_front_share: SprungFrontShare,
    sprung_height: SprungHeight,
    unsprung_front: UnsprungFront,
    unsprung_rear: UnsprungRear,
    unsprung_front_height: UnsprungFrontHeight,
    unsprung_rear_height: UnsprungRearHeight,
    front_roll_centre: FrontRollCentre,
    rear_roll_centre: RearRollCentre,
    front_track: FrontTrack,
    rear_track: RearTrack,
    front_roll_stiffness: FrontRollStiffness,
    rear_roll_stiffness: RearRollStiffness,
    lateral_acceleration: LateralAcceleration,
    chassis_stiffness: ChassisStiffness = None,
    gravity_term: Annotated[
        bool, Input("Count the gravity of the rolled body", help="Some texts leave it out; it adds 3 to 20 %.")
    ] = True,
) -> LateralTransfer:
    """Return the load that crosses each axle in steady cornering, split in three parts, and the roll.

    Equation: phi = m_s a_y d/(K_f + K_r - m_s g d);  dF_f = [a_y (m_uf h_uf + m_sf z_f) + K_f phi]/t_f, the rear alike; with a chassis that
    twists, [[K_f + K_c - G_f, -K_c], [-K_c, K_r + K_c - G_r]] phi = M. Sum of dF t = m a_y h + m_s g d phi.
    Signs: the transfer is the gain of the outside wheel, equal to the loss of the inside one; roll is positive towards the outside.
    Valid for: steady state, small angles, roll centres that stay put, jacking left out, linear springs. After a wheel lifts its axle carries no more.
    Source: moment balance; D. C. Barton and J. D. Fieldhouse, Automotive Chassis Engineering, 2018, p. 174; Milliken and Milliken, Race Car
    Vehicle Dynamics, 1995, chapters 16 and 18 (from memory).

    >>> car = dict(sprung_mass=700, sprung_front_share=0.47, sprung_height=0.42, unsprung_front=60, unsprung_rear=70, unsprung_front_height=0.28,
    ...     unsprung_rear_height=0.29, front_roll_centre=0.05, rear_roll_centre=0.09, front_track=1.5, rear_track=1.44,
    ...     front_roll_stiffness=38000, rear_roll_stiffness=30000, lateral_acceleration=12)
    >>> found = lateral_load_transfer(**car)
    >>> round(found.front_transfer, 3), round(found.rear_transfer, 3)
    (1397.376, 1377.825)
    """
    axles = axles_of(locals())
    found = roll(axles, chassis_stiffness, lateral_acceleration, gravity=gravity_term)
    front, rear = found.totals(axles, lateral_acceleration)
    total = front_roll_stiffness + rear_roll_stiffness
    arm = math.fsum(axle.sprung * axle.arm for axle in axles) / sprung_mass
    return LateralTransfer(
        front_transfer=front,
        rear_transfer=rear,
        front_transfer_share=front / (front + rear) if front + rear > 0 else None,
        roll_angle=found.rolls[0] if found.rolls else None,
        roll_gradient=found.rolls[0] / lateral_acceleration if found.rolls and lateral_acceleration > 0 else None,
        roll_gradient_without_gravity=sprung_mass * arm / total,
        front_unsprung=axles[0].unsprung_part(lateral_acceleration),
        front_geometric=axles[0].geometric_part(lateral_acceleration),
        front_elastic=found.elastic[0],
        rear_unsprung=axles[1].unsprung_part(lateral_acceleration),
        rear_geometric=axles[1].geometric_part(lateral_acceleration),
        rear_elastic=found.elastic[1],
        roll_arm=arm,
        stiffness_share=front_roll_stiffness / total,
        chassis_twist=found.rolls[1] - found.rolls[0] if found.rolls else None,
        moment=front * front_track + rear * rear_track,
        flags=(*lift_flags(found), *_pushed(axles, (front, rear))),
    )


def _pushed(axles: tuple[RollAxle, RollAxle], totals: tuple[float, float]) -> tuple[str, ...]:
    """Return a caution for an axle whose load moves to the inside so far that its outside wheel would lift."""
    return tuple(
        f"The {name} roll centre lies so far below the ground that the outside {name} wheel would lift: the linear split ends there."
        for name, axle, total in zip(("front", "rear"), axles, totals, strict=True)
        if total < -axle.half_load
    )

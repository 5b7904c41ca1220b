"""What a chassis that twists does to the share of the roll moment that each axle carries."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.figures.spec import Axis, Band, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.loads.terms import FrontRollStiffness, LateralAcceleration, RearRollStiffness, SprungFrontShare, SprungMass
from calc.units import Metres, NewtonMetres, NewtonMetresPerRadian, Radians, Ratio


class ChassisTwist(NamedTuple):
    """How the roll moments of both ends are shared by the axles, with the chassis as it is and with a rigid one."""

    front_share: Annotated[Ratio, Output("Front share of the roll moment, chassis as it is", r"\kappa_c", "%")]
    rigid_share: Annotated[Ratio, Output("Front share with a rigid chassis", r"\kappa", "%")]
    bar_effect: Annotated[
        Ratio, Output("Part of a change of roll stiffness that still reaches the balance", "E", "%", 3)
    ]
    twist: Annotated[Radians, Output("Twist of the chassis, rear against front", r"\theta", "°", 3)]
    front_roll: Annotated[Radians, Output("Roll at the front axle", r"\varphi_f", "°", 3)]
    rear_roll: Annotated[Radians, Output("Roll at the rear axle", r"\varphi_r", "°", 3)]
    front_of_front: Annotated[
        Ratio, Output("Part of the front end's moment that the front axle carries", "p_f", "%", detail=True)
    ]
    front_of_rear: Annotated[
        Ratio, Output("Part of the rear end's moment that the front axle carries", "p_r", "%", detail=True)
    ]
    relative_stiffness: Annotated[Ratio, Output("Chassis over both axles together", r"\mu", "", 3, detail=True)]
    torque: Annotated[NewtonMetres, Output("Torque in the chassis", "T", "N·m", detail=True)]


def shares(front: float, rear: float, chassis: float) -> tuple[float, float]:
    """Return the parts of the front and of the rear end's roll moment that the front axle carries.

    Equation: with l = K_f/(K_f + K_r) and mu = K_c/(K_f + K_r): (l^2 - (mu + 1) l)/(l^2 - l - mu) and -mu l/(l^2 - l - mu).

    >>> [round(share, 6) for share in shares(0.55, 0.45, 2.0)]
    [0.599555, 0.489433]
    """
    both = front * rear + chassis * (front + rear)
    return front * (rear + chassis) / both, front * chassis / both


def _at(inputs: Mapping[str, Any], chassis: float) -> float:
    """Return the front share of the whole roll moment for a chassis stiffness."""
    ends = _moments({**inputs, "lateral_acceleration": 1.0})
    parts = shares(inputs["front_roll_stiffness"], inputs["rear_roll_stiffness"], chassis)
    return math.fsum(p * m for p, m in zip(parts, ends, strict=True)) / math.fsum(ends)


def _moments(inputs: Mapping[str, Any]) -> tuple[float, float]:
    force, share = inputs["sprung_mass"] * inputs["lateral_acceleration"], inputs["sprung_front_share"]
    return force * share * inputs["front_arm"], force * (1 - share) * inputs["rear_arm"]


def _remarks(result: ChassisTwist, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    larger = max(inputs["front_roll_stiffness"], inputs["rear_roll_stiffness"])
    apart = abs(inputs["front_roll_stiffness"] - inputs["rear_roll_stiffness"])
    enough = inputs["chassis_stiffness"] >= min(3 * larger, 10 * apart) if apart > 0 else True
    remarks = [
        Remark(
            "Stiff enough by the usual rule: 3 to 5 times the larger axle, or 10 times the difference of the axles."
            if enough
            else "Softer than the usual rule of 3 to 5 times the larger axle, or 10 times the difference of the axles: bars and springs act weakly.",
            about="relative_stiffness",
        ),
        Remark(
            "Usual: 1 to 4 kN·m/deg for a light space frame, 4 to 15 for a saloon with a cage, above 20 for a moulded tub.",
            about="twist",
        ),
    ]
    if inputs["chassis_stiffness"] == 0:
        remarks.append(
            Remark(
                "Without torsional stiffness each axle carries the roll moment of its own end, whatever the springs.",
                "caution",
                "chassis_stiffness",
            )
        )
    return tuple(remarks)


def _figures(result: ChassisTwist, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    total = inputs["front_roll_stiffness"] + inputs["rear_roll_stiffness"]
    here = inputs["chassis_stiffness"]
    top = max(8 * total, 1.2 * here)
    steps = [top * (i / 40) ** 2 for i in range(41)]
    larger = max(inputs["front_roll_stiffness"], inputs["rear_roll_stiffness"])
    low, high = sorted((_at(inputs, 0.0), result.rigid_share))
    return (
        Chart(
            "Front share of the roll moment against chassis stiffness",
            "A soft chassis leaves each axle its own end's moment; a stiff one lets the springs and bars decide.",
            Axis("Torsional stiffness of the chassis", "N·m/deg"),
            Axis("Front share", "%"),
            (
                Series("Chassis that twists", steps, [_at(inputs, k) for k in steps]),
                Series("Rigid", [0.0, top], [result.rigid_share] * 2),
                Series("Here", [here], [result.front_share], points=True),
            ),
            (Band("3 to 5 times the larger axle", [3 * larger, 5 * larger], [low] * 2, [high] * 2),)
            if high > low and 5 * larger < top
            else (),
        ),
    )


@calculator(
    title="What chassis twist does to the balance",
    question="Is the chassis stiff enough for springs and bars to do their work?",
    example={
        "front_roll_stiffness": "1350 N·m/deg",
        "rear_roll_stiffness": "950 N·m/deg",
        "chassis_stiffness": "6500 N·m/deg",
        "sprung_mass": "1012 kg",
        "sprung_front_share": "52.8 %",
        "front_arm": "461 mm",
        "rear_arm": "411 mm",
        "lateral_acceleration": "1.1 g",
    },
    working=(
        Step(r"\mu = \frac{K_c}{K_f + K_r}", "relative_stiffness"),
        Step(r"p_f = \frac{K_f (K_r + K_c)}{K_f K_r + K_c (K_f + K_r)}", "front_of_front"),
        Step(r"p_r = \frac{K_f K_c}{K_f K_r + K_c (K_f + K_r)}", "front_of_rear"),
        Step(r"\kappa_c = \frac{p_f M_f + p_r M_r}{M_f + M_r}", "front_share"),
        Step(r"\theta = \varphi_r - \varphi_f", "twist"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def chassis_twist(
    *,
    front_roll_stiffness: FrontRollStiffness,
    rear_roll_stiffness: RearRollStiffness,
    chassis_stiffness: Annotated[
        NewtonMetresPerRadian,
        Input(
            "Torsional stiffness of the chassis between the axles",
            "K_c",
            "N·m/deg",
            at_least=0,
            typical=(1000 * 180 / math.pi, 40000 * 180 / math.pi),
            help="Measured between the suspension pick-ups, not the bulkheads.",
        ),
    ],
    sprung_mass: SprungMass,
    sprung_front_share: SprungFrontShare,
    front_arm: Annotated[
        Metres, Input("Sprung centre of gravity above the front roll centre", "d_f", "mm", above=0, typical=(0.2, 0.7))
    ],
    rear_arm: Annotated[
        Metres, Input("Sprung centre of gravity above the rear roll centre", "d_r", "mm", above=0, typical=(0.2, 0.7))
    ],
    lateral_acceleration: LateralAcceleration,
) -> ChassisTwist:
    """Return how a twisting chassis shares the roll moment between the axles, and how far it twists.

    Equation: [[K_f + K_c, -K_c], [-K_c, K_r + K_c]] [phi_f, phi_r] = [M_f, M_r], M_i = m_si a_y d_i; the front axle carries K_f phi_f.
    Signs: roll positive towards the outside; twist is rear roll less front roll.
    Valid for: small angles, linear springs, all twist between the axles; the gravity of the rolled body is left out here.
    Source: two springs joined by a third; closed form of E. Sampo, thesis, University of Surrey, 2011; A. Deakin and others, SAE 2000-01-3554.

    >>> found = chassis_twist(front_roll_stiffness=55e3, rear_roll_stiffness=45e3, chassis_stiffness=200e3, sprung_mass=1000,
    ...     sprung_front_share=0.5, front_arm=0.4, rear_arm=0.4, lateral_acceleration=10)
    >>> round(found.front_of_front, 6), round(found.front_of_rear, 6)
    (0.599555, 0.489433)
    """
    inputs = locals()
    front, rear, chassis = front_roll_stiffness, rear_roll_stiffness, chassis_stiffness
    ends = _moments(inputs)
    both = front * rear + chassis * (front + rear)
    front_roll = ((rear + chassis) * ends[0] + chassis * ends[1]) / both
    rear_roll = ((front + chassis) * ends[1] + chassis * ends[0]) / both
    twist = (front * ends[1] - rear * ends[0]) / both
    parts = shares(front, rear, chassis)
    rigid = front / (front + rear)
    return ChassisTwist(
        front_share=_at(inputs, chassis),
        rigid_share=rigid,
        bar_effect=_slope(inputs, chassis) / (rear / (front + rear) ** 2),
        twist=twist,
        front_roll=front_roll,
        rear_roll=rear_roll,
        front_of_front=parts[0],
        front_of_rear=parts[1],
        relative_stiffness=chassis / (front + rear),
        torque=chassis * twist,
    )


def _slope(inputs: Mapping[str, Any], chassis: float) -> float:
    """Return how fast the front share grows with the front roll stiffness.

    With both = K_f (K_r + K_c) + K_c K_r, the derivative of K_f x/both is x K_c K_r/both^2.
    """
    front, rear, ends = (
        inputs["front_roll_stiffness"],
        inputs["rear_roll_stiffness"],
        _moments({**inputs, "lateral_acceleration": 1.0}),
    )
    both = front * rear + chassis * (front + rear)
    carried = math.fsum(((rear + chassis) * ends[0], chassis * ends[1]))
    return float(carried / both * (chassis * rear / both) / math.fsum(ends))

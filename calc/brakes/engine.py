"""What engine braking adds at the driven axle."""

from typing import Annotated, Literal, NamedTuple

from calc.brakes.axles import Axles
from calc.brakes.care import with_care
from calc.brakes.terms import WheelRadius
from calc.form import Choice, Input, Output, Step, calculator
from calc.refusal import Refused
from calc.terms import CarMass, CgHeight, FrontShare, Wheelbase
from calc.units import (
    STANDARD_GRAVITY,
    KilogramSquareMetres,
    MetresPerSecondSquared,
    NewtonMetres,
    Newtons,
    Ratio,
)


class EngineBraking(NamedTuple):
    """What the engine adds at its axle, and the balance with and without it."""

    engine_force: Annotated[Newtons, Output("Brake force of the engine at the tyres", "F_e", "N")]
    deceleration: Annotated[MetresPerSecondSquared, Output("Deceleration with engine braking", "d", "g", 4)]
    effective_share: Annotated[Ratio, Output("Front share with engine braking", r"\varphi_e", "%")]
    friction_share: Annotated[Ratio, Output("Front share with the clutch in", r"\varphi", "%")]
    front_use: Annotated[Ratio, Output("Grip the front axle uses", "f_f", "", 4)]
    rear_use: Annotated[Ratio | None, Output("Grip the rear axle uses", "f_r", "", 4)]
    flags: tuple[str, ...]


@calculator(
    title="Engine braking and balance",
    question="How much does engine braking move the balance to the driven axle?",
    example={
        "driven": "rear",
        "front_force": "6200 N",
        "rear_force": "2500 N",
        "drag_torque": "45 N·m",
        "overall_ratio": "8.2",
        "efficiency": "92 %",
        "wheel_radius": "305 mm",
        "mass": "1160 kg",
        "wheelbase": "2560 mm",
        "front_share": "52.6 %",
        "cg_height": "480 mm",
    },
    working=(
        Step(r"F_e = \frac{i \, (T - I_e \, i \, d / R)}{\eta \, R}", "engine_force"),
        Step(r"d = \frac{F_f + F_r + F_e}{m}", "deceleration"),
        Step(r"\varphi_e = \frac{F_f}{F_f + F_r + F_e}", "effective_share"),
    ),
    remarks=with_care(),
)
def engine_braking(
    *,
    driven: Annotated[Literal["front", "rear"], Choice("Driven axle", {"front": "front", "rear": "rear"})],
    front_force: Annotated[
        Newtons, Input("Friction brake force of the front axle", "F_f", "N", at_least=0, at_most=1e6)
    ],
    rear_force: Annotated[Newtons, Input("Friction brake force of the rear axle", "F_r", "N", at_least=0, at_most=1e6)],
    drag_torque: Annotated[
        NewtonMetres, Input("Drag torque of the engine", "T", "N·m", at_least=0, at_most=1e4, typical=(15, 120))
    ],
    overall_ratio: Annotated[
        Ratio, Input("Engine turns for each wheel turn", "i", "", above=0, at_most=100, typical=(3, 18))
    ],
    efficiency: Annotated[
        Ratio, Input("Efficiency of the driveline", r"\eta", "%", above=0, at_most=1, typical=(0.85, 0.98))
    ] = 1.0,
    engine_inertia: Annotated[
        KilogramSquareMetres,
        Input("Inertia of engine and flywheel", "I_e", "kg·m²", at_least=0, at_most=10, typical=(0, 0.4)),
    ] = 0.0,
    wheel_radius: WheelRadius,
    mass: CarMass,
    wheelbase: Wheelbase,
    front_share: FrontShare,
    cg_height: CgHeight,
) -> EngineBraking:
    """Return what engine braking adds at the driven axle, and the balance with it.

    Equation: F_e = i (T - I_e i d/R)/(eta R) while the bracket is positive (losses add on overrun: divide by eta);
    below zero the engine pushes and eta multiplies;  m d = F_f + F_r + F_e.
    Valid for: open differential, clutch engaged, level road, wheels rolling. A locked differential or four-wheel drive couples the wheels:
    the lock order then no longer follows these formulas.
    Caution: clutch in takes all of it away in one moment: check the balance both ways.
    Source: statics and power balance, derived.

    >>> round(engine_braking(driven="rear", front_force=5200, rear_force=2600, drag_torque=45, overall_ratio=8.2, efficiency=0.92,
    ...     wheel_radius=0.305, mass=1121.69, wheelbase=2.5, front_share=0.5, cg_height=0.48).engine_force, 3)
    1315.039
    """
    friction = front_force + rear_force
    if friction <= 0:
        raise Refused("front_force", "must, with the rear force, be more than nothing", "0 N")
    spin = engine_inertia * (overall_ratio / wheel_radius) ** 2  # kg at the tyres
    force = (overall_ratio * drag_torque / wheel_radius - spin * friction / mass) / (efficiency + spin / mass)
    if force < 0:  # the engine pushes: losses now take from it
        force = (
            (overall_ratio * drag_torque / wheel_radius - spin * friction / mass)
            * efficiency
            / (1 + spin * efficiency / mass)
        )
    total = friction + force
    if total <= 0:
        raise Refused(
            "engine_inertia",
            "is too large for this brake force: the engine would drive the car on",
            f"{engine_inertia:g} kg·m²",
        )
    front = front_force + (force if driven == "front" else 0.0)
    axles, rate = Axles(front_share, cg_height / wheelbase), total / (mass * STANDARD_GRAVITY)
    share = front / total
    lifted = rate >= axles.lift
    flags = ["The rear axle lifts at this deceleration."] if lifted else []
    if share > 1:
        flags.append("The spinning engine pushes harder than the brakes of its axle hold it.")
    if not lifted and axles.rear_use(share, rate) > axles.front_use(share, rate):
        flags.append("With engine braking the rear axle uses more grip than the front: it locks first.")
    return EngineBraking(
        force,
        total / mass,
        share,
        front_force / friction,
        share * rate if lifted else axles.front_use(share, rate),
        None if lifted else axles.rear_use(share, rate),
        tuple(flags),
    )

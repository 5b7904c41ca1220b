"""Damping ratios of the whole body: heave, pitch and roll, and each corner alone."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.springs.dampers.ratio import critical_damping
from calc.springs.road.words import PitchRadius, SprungMass, ToFront, ToRear
from calc.terms import FrontTrack, RearTrack
from calc.units import (
    STANDARD_GRAVITY,
    Hertz,
    KilogramSquareMetres,
    Metres,
    NewtonMetresPerRadian,
    NewtonSecondsPerMetre,
    NewtonsPerMetre,
    Ratio,
)


class CarDamping(NamedTuple):
    """Damping ratios of the modes of the body, each taken alone, the tyres left out."""

    heave: Annotated[Ratio, Output("Heave", r"\zeta_z", "", 3)]
    pitch: Annotated[Ratio, Output("Pitch", r"\zeta_\theta", "", 3)]
    roll: Annotated[Ratio, Output("Roll", r"\zeta_\varphi", "", 3)]
    front: Annotated[Ratio, Output("One front wheel", r"\zeta_f", "", 3)]
    rear: Annotated[Ratio, Output("One rear wheel", r"\zeta_r", "", 3)]
    heave_frequency: Annotated[Hertz, Output("Heave frequency", "f_z", "Hz", 3, detail=True)]
    pitch_frequency: Annotated[Hertz, Output("Pitch frequency", r"f_\theta", "Hz", 3, detail=True)]
    roll_frequency: Annotated[Hertz, Output("Roll frequency", r"f_\varphi", "Hz", 3, detail=True)]
    roll_stiffness: Annotated[
        NewtonMetresPerRadian, Output("Roll stiffness used", r"K_\varphi", "N·m/deg", detail=True)
    ]


def _remarks(result: CarDamping, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = []
    if result.roll < result.heave:
        remarks.append(Remark("Roll is damped less than heave: the bars add stiffness and no damping.", about="roll"))
    used = (
        "The roll stiffness used is net of the overturning of the sprung mass."
        if inputs["cg_above_roll_axis"]
        else "The roll stiffness used leaves the overturning of the sprung mass out."
    )
    return (*remarks, Remark(used, about="roll"))


def _figures(result: CarDamping, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    shares = [0.5 + 0.05 * i for i in range(21)]
    modes = (("Heave", result.heave), ("Pitch", result.pitch), ("Roll", result.roll))
    series = tuple(Series(name, shares, [ratio * share for share in shares]) for name, ratio in modes)
    text = "All three ratios grow with the damping; the gap between them stays in proportion, and only bars or inertia change it."
    return (
        Chart(
            "Ratios against damping, all four alike",
            text,
            Axis("Damping over that of now", "%"),
            Axis("Damping ratio", ""),
            series,
        ),
    )


def _wheel_rate(which: str, symbol: str) -> Input:
    return Input(f"{which} wheel rate", symbol, "N/mm", above=0, typical=(10e3, 200e3), help="Of one wheel.")


def _wheel_damping(which: str, symbol: str) -> Input:
    return Input(
        f"{which} damping at one wheel",
        symbol,
        "N·s/m",
        at_least=0,
        typical=(500, 12000),
        help="Mean of bump and rebound.",
    )


@calculator(
    title="Damping ratios of the car",
    question="How well are heave, pitch and roll damped, and each wheel alone?",
    example={
        "sprung_mass": "1012 kg",
        "pitch_radius": "1.22 m",
        "to_front": "1.21 m",
        "to_rear": "1.35 m",
        "front_track": "1510 mm",
        "rear_track": "1520 mm",
        "front_rate": "52.9 N/mm",
        "rear_rate": "48 N/mm",
        "front_damping": "3800 N·s/m",
        "rear_damping": "3400 N·s/m",
        "front_bar": "9 N/mm",
        "rear_bar": "3 N/mm",
        "roll_inertia": "430 kg·m²",
        "cg_above_roll_axis": "390 mm",
    },
    working=(
        Step(r"\zeta_z = \frac{2 c_f + 2 c_r}{2 \sqrt{(2 k_f + 2 k_r) \, m_s}}", "heave"),
        Step(
            r"\zeta_\theta = \frac{2 c_f \, a^2 + 2 c_r \, b^2}{2 \sqrt{(2 k_f \, a^2 + 2 k_r \, b^2) \, m_s \rho^2}}",
            "pitch",
        ),
        Step(
            r"K_\varphi = \frac{k_f t_f^2 + k_r t_r^2}{2} + k_{bf} t_f^2 + k_{br} t_r^2 - m_s \, g \, d",
            "roll_stiffness",
        ),
        Step(r"\zeta_\varphi = \frac{(c_f t_f^2 + c_r t_r^2) / 2}{2 \sqrt{K_\varphi \, I_x}}", "roll"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def car_damping_ratios(
    *,
    sprung_mass: SprungMass,
    pitch_radius: PitchRadius,
    to_front: ToFront,
    to_rear: ToRear,
    front_track: FrontTrack,
    rear_track: RearTrack,
    front_rate: Annotated[NewtonsPerMetre, _wheel_rate("Front", "k_f")],
    rear_rate: Annotated[NewtonsPerMetre, _wheel_rate("Rear", "k_r")],
    front_damping: Annotated[NewtonSecondsPerMetre, _wheel_damping("Front", "c_f")],
    rear_damping: Annotated[NewtonSecondsPerMetre, _wheel_damping("Rear", "c_r")],
    front_bar: Annotated[
        NewtonsPerMetre, Input("Front bar, one wheel moved", "k_{bf}", "N/mm", at_least=0, typical=(0, 100e3))
    ] = 0.0,
    rear_bar: Annotated[
        NewtonsPerMetre, Input("Rear bar, one wheel moved", "k_{br}", "N/mm", at_least=0, typical=(0, 100e3))
    ] = 0.0,
    roll_inertia: Annotated[
        KilogramSquareMetres,
        Input("Moment of inertia of the sprung mass about the roll axis", "I_x", "kg·m²", above=0, typical=(100, 900)),
    ],
    cg_above_roll_axis: Annotated[
        Metres,
        Input(
            "Height of the sprung centre of gravity above the roll axis",
            "d",
            "mm",
            typical=(0.1, 0.6),
            help="0 leaves the overturning out.",
        ),
    ] = 0.0,
) -> CarDamping:
    """Return the damping ratios of the body in heave, pitch and roll, and of a front and a rear wheel alone.

    Equation: heave sum c / (2 sqrt(sum k m_s)); pitch (c_f a^2 + c_r b^2) / (2 sqrt(K_theta J)) with c of both wheels; roll sum c t^2 / 2 / (2 sqrt(K_phi I_x)).
    Signs: rates and damping of one wheel, at the wheel; bars by their rate with one wheel moved and the other held; d positive where the mass stands above the axis.
    Valid for: each mode on its own, small movements, linear dampers or one damper speed, the tyres left out.
    Source: simple oscillator for each mode; guide values are common practice, no source.

    >>> answer = car_damping_ratios(sprung_mass=1000, pitch_radius=1.2, to_front=1.2, to_rear=1.2, front_track=1.5, rear_track=1.5, front_rate=25e3,
    ...     rear_rate=25e3, front_damping=2500, rear_damping=2500, roll_inertia=1000 * 0.75**2)
    >>> round(answer.heave, 6), round(answer.pitch, 6), round(answer.roll, 6), round(answer.front, 6)
    (0.5, 0.5, 0.5, 0.5)
    """
    length = to_front + to_rear
    heave_rate, heave_c = 2 * (front_rate + rear_rate), 2 * (front_damping + rear_damping)
    pitch_rate, pitch_c = (
        2 * (front_rate * to_front**2 + rear_rate * to_rear**2),
        2 * (front_damping * to_front**2 + rear_damping * to_rear**2),
    )
    roll_rate = (
        (front_rate / 2 + front_bar) * front_track**2
        + (rear_rate / 2 + rear_bar) * rear_track**2
        - sprung_mass * STANDARD_GRAVITY * cg_above_roll_axis
    )
    roll_c = (front_damping * front_track**2 + rear_damping * rear_track**2) / 2
    if roll_rate <= 0:
        raise Refused(
            "cg_above_roll_axis",
            "must leave the roll stiffness above the overturning of the sprung mass",
            quantity(cg_above_roll_axis, "mm"),
            hint="This car would fall over at rest.",
        )
    inertia = sprung_mass * pitch_radius**2
    corner_front, corner_rear = sprung_mass * to_rear / length / 2, sprung_mass * to_front / length / 2
    turn = 2 * math.pi
    return CarDamping(
        heave=heave_c / critical_damping(heave_rate, sprung_mass),
        pitch=pitch_c / critical_damping(pitch_rate, inertia),
        roll=roll_c / critical_damping(roll_rate, roll_inertia),
        front=front_damping / critical_damping(front_rate, corner_front),
        rear=rear_damping / critical_damping(rear_rate, corner_rear),
        heave_frequency=math.sqrt(heave_rate / sprung_mass) / turn,
        pitch_frequency=math.sqrt(pitch_rate / inertia) / turn,
        roll_frequency=math.sqrt(roll_rate / roll_inertia) / turn,
        roll_stiffness=roll_rate,
    )

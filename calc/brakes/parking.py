"""Holding the car: the parking brake on a slope, and a hydraulic hand lever in the rear circuit."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.brakes.axles import Axles
from calc.brakes.care import with_care
from calc.brakes.cylinders import bore_area
from calc.brakes.terms import Gravity, RearPerPressure, WheelRadius, bore, pressure
from calc.figures.spec import Drawing, Figure, Shape
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.terms import CarMass, CgHeight, FrontShare, TyreAdhesion, Wheelbase
from calc.units import STANDARD_GRAVITY, Metres, NewtonMetres, Newtons, Pascals, Radians, Ratio

APPROVAL_GRADE = 0.2  # both ways (from memory)


class ParkingHold(NamedTuple):
    """The steepest slopes the parked car holds, its loads on the slope given, and the torque that takes."""

    grade_nose_up: Annotated[Ratio, Output("Steepest slope held, nose up", r"\tan\theta_u", "%")]
    grade_nose_down: Annotated[Ratio, Output("Steepest slope held, nose down", r"\tan\theta_d", "%")]
    all_wheels: Annotated[Ratio, Output("Steepest slope with all wheels held", r"\tan\theta", "%")]
    holds_both_ways: Annotated[Literal["yes", "no"], Output("Holds 20 % both ways, by grip", "")]
    torque_needed: Annotated[NewtonMetres, Output("Torque for each held wheel on this slope", "T", "N·m")]
    torque_margin: Annotated[Ratio | None, Output("Torque in hand", "", "", 3)]
    slide_angle: Annotated[Radians, Output("Angle at which all wheels slide", r"\theta_s", "°", 4, detail=True)]
    tip_angle: Annotated[
        Radians, Output("Angle at which it would tip over backwards, nose up", r"\theta_t", "°", 4, detail=True)
    ]
    front_load: Annotated[Newtons, Output("Front load on this slope, nose up", "N_f", "N", detail=True)]
    rear_load: Annotated[Newtons, Output("Rear load on this slope, nose up", "N_r", "N", detail=True)]
    flags: tuple[str, ...]


def _remarks(result: ParkingHold, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            "Hot discs shrink as they cool and let the clamp go: check again after cooling, and chock the wheels.",
            "caution",
            "torque_needed",
        ),
    )


def _figures(result: ParkingHold, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    base, radius, slope = inputs["wheelbase"], inputs["wheel_radius"], inputs["slope"]
    back, height = inputs["front_share"] * base, inputs["cg_height"]

    def turned(along: float, up: float) -> tuple[float, float]:
        return along * math.cos(slope) - up * math.sin(slope), along * math.sin(slope) + up * math.cos(slope)

    middle = turned(back, height)
    return (
        Drawing(
            "Nose up on the slope",
            "Rear wheel at the lower end; the weight acts straight down from the centre of gravity and moves load to the rear.",
            ("up the road", "up"),
            (
                Shape("line", (turned(-0.25 * base, 0.0), turned(1.25 * base, 0.0)), "ground"),
                Shape("circle", (turned(0.0, radius),), "wheel", "", radius),
                Shape("circle", (turned(base, radius),), "wheel", "", radius),
                Shape("point", (middle,), "body", "centre of gravity"),
                Shape("arrow", (middle, (middle[0], middle[1] - 0.3 * base)), "force", "weight"),
            ),
        ),
    )


@calculator(
    title="Parking on a slope",
    question="How steep a slope does the parking brake hold, and with what torque?",
    example={
        "held": "rear",
        "mass": "1160 kg",
        "wheelbase": "2560 mm",
        "front_share": "52.6 %",
        "cg_height": "480 mm",
        "adhesion": "0.8",
        "slope": "11.3 deg",
        "wheel_radius": "305 mm",
        "torque": "420 N·m",
    },
    working=(
        Step(r"\tan\theta_u = \frac{\mu_t \, a}{L - \mu_t \, h}", "grade_nose_up"),
        Step(r"\tan\theta_d = \frac{\mu_t \, a}{L + \mu_t \, h}", "grade_nose_down"),
        Step(r"T = \frac{W \sin\theta \, R}{n}", "torque_needed"),
    ),
    remarks=with_care(_remarks),
    figures=_figures,
)
def parking_hold(
    *,
    held: Annotated[
        Literal["rear", "front", "all"], Choice("Wheels held", {"rear": "rear", "front": "front", "all": "all four"})
    ] = "rear",
    mass: CarMass,
    wheelbase: Wheelbase,
    front_share: FrontShare,
    cg_height: CgHeight,
    adhesion: TyreAdhesion,
    slope: Annotated[
        Radians, Input("Slope", r"\theta", "°", at_least=0, below=1.4, typical=(0, 0.35), help="20 % is 11.3°.")
    ],
    wheel_radius: WheelRadius,
    torque: Annotated[
        NewtonMetres | None, Input("Torque the brake holds at each wheel", "T_b", "N·m", above=0, at_most=1e5)
    ] = None,
    gravity: Gravity = STANDARD_GRAVITY,
) -> ParkingHold:
    """Return the steepest slopes a parked car holds, and the torque that a slope takes.

    Equation: rear held: nose up tan = mu a/(L - mu h), nose down mu a/(L + mu h);  front held: nose up mu b/(L + mu h), nose down mu b/(L - mu h);
    all held: tan = mu;  torque W sin(theta) R over the wheels held.
    Valid for: a standing car with its free wheels rolling freely, straight up or down the slope.
    Caution: approval asks for 20 % both ways with 400 N by hand or 500 N by foot (from memory); local codes decide.
    Source: statics, derived.

    >>> answer = parking_hold(mass=1200, wheelbase=2.6, front_share=0.5, cg_height=0.5, adhesion=0.8, slope=0.2, wheel_radius=0.3)
    >>> round(answer.grade_nose_up, 4), round(answer.grade_nose_down, 4)
    (0.4727, 0.3467)
    """
    axles, weight = Axles(front_share, cg_height / wheelbase), mass * gravity
    up, down = _slopes(axles, held, adhesion)
    needed = weight * math.sin(slope) * wheel_radius / (4 if held == "all" else 2)
    flags = []
    if min(up, down) < math.tan(slope):
        flags.append("On this slope the held wheels slide, nose " + ("up." if up < down else "down."))
    if torque is not None and torque < needed:
        flags.append("The brake has not the torque for this slope: the car rolls.")
    lift = weight * math.sin(slope) * axles.height
    if lift >= weight * front_share * math.cos(slope):
        flags.append("Nose up on this slope the car tips over backwards.")
    return ParkingHold(
        up,
        down,
        adhesion,
        "yes" if min(up, down) >= APPROVAL_GRADE else "no",
        needed,
        torque / needed if torque is not None and needed > 0 else None,
        math.atan(adhesion),
        math.atan(front_share / axles.height),
        max(0.0, weight * front_share * math.cos(slope) - lift),
        weight * (1 - front_share) * math.cos(slope) + lift,
        tuple(flags),
    )


_UPRIGHT = 1e6  # slope written where grip would hold the car at any angle


def _slopes(axles: Axles, held: str, grip: float) -> tuple[float, float]:
    """Return the tangent of the steepest slope, nose up and nose down."""
    if held == "all":
        return grip, grip
    own = (1 - axles.front) if held == "rear" else axles.front
    helped, hurt = 1 - grip * axles.height, 1 + grip * axles.height
    with_load = grip * own / helped if helped > 0 else _UPRIGHT
    against = grip * own / hurt
    return (with_load, against) if held == "rear" else (against, with_load)


class HandLever(NamedTuple):
    """Rear pressure of hand and foot, and whether the rear wheels lock."""

    rear_pressure: Annotated[Pascals, Output("Rear line pressure", "p_r", "bar")]
    hand_pressure: Annotated[Pascals, Output("Pressure the lever makes", "p_h", "bar")]
    rear_force: Annotated[Newtons, Output("Brake force the rear axle is asked for", "F_r", "N")]
    locks: Annotated[Literal["yes", "no"], Output("Do the rear wheels lock", "")]
    hand_force_to_lock: Annotated[Newtons, Output("Hand force that just locks them", "F_l", "N")]


def _lever_remarks(result: HandLever, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            "In series the higher pressure counts, they do not add. A lever that does not return fully makes the foot pedal long.",
            about="rear_pressure",
        ),
        Remark("Hydraulic pressure decays: this lever must not be the parking brake.", "caution", "hand_pressure"),
    )


@calculator(
    title="Hydraulic hand lever",
    question="Does the hand lever lock the rear wheels, and with what pull?",
    example={
        "circuit": "rear",
        "hand_force": "250 N",
        "lever_ratio": "7",
        "bore": "17.78 mm",
        "foot_pressure": "12 bar",
        "rear_per_pressure": "80 N/bar",
        "adhesion": "0.9",
        "rear_load": "4300 N",
    },
    working=(
        Step(r"p_h = \frac{F_h \, i}{A}", "hand_pressure"),
        Step(r"p_r = \max(p_h, \; p_{foot})", "rear_pressure"),
        Step(r"F_r = C_r \, p_r", "rear_force"),
        Step(r"F_l = \frac{\mu \, N_r \, A}{C_r \, i}", "hand_force_to_lock"),
    ),
    remarks=with_care(_lever_remarks),
)
def hand_lever(
    *,
    circuit: Annotated[
        Literal["rear", "front"], Choice("Circuit it is in", {"rear": "rear", "front": "front"})
    ] = "rear",
    hand_force: Annotated[Newtons, Input("Pull of the hand", "F_h", "N", at_least=0, at_most=1e4, typical=(50, 400))],
    lever_ratio: Annotated[Ratio, Input("Ratio of the lever", "i", "", above=0, at_most=50, typical=(4, 10))],
    bore: Annotated[Metres, bore("Bore of its cylinder", "d")],
    foot_pressure: Annotated[Pascals, pressure("Rear line pressure from the foot", "p_{foot}")] = 0.0,
    rear_per_pressure: RearPerPressure,
    adhesion: TyreAdhesion,
    rear_load: Annotated[Newtons, Input("Load of the rear axle", "N_r", "N", above=0, at_most=1e6)],
) -> HandLever:
    """Return the rear pressure of a hand lever in series with the foot, and whether it locks the rear wheels.

    Equation: p_h = F_h i/A;  p_r = max(p_h, p_foot);  locks when C_r p_r > mu N_r.
    Valid for: a flow-through cylinder in the rear line.
    Caution: refused for the front circuit. Check where rules and codes allow it at all.
    Source: statics and hydrostatics, derived.

    >>> answer = hand_lever(hand_force=250, lever_ratio=7, bore=0.0178, rear_per_pressure=0.0008, adhesion=0.9, rear_load=4300)
    >>> answer.locks, round(answer.hand_pressure / 1e5, 1)
    ('yes', 70.3)
    """
    if circuit == "front":
        raise Refused(
            "circuit", "must be the rear circuit: a lever in the front one would lock the wheels that steer", circuit
        )
    hand = hand_force * lever_ratio / bore_area(bore)
    rear = max(hand, foot_pressure)
    force, hold = rear_per_pressure * rear, adhesion * rear_load
    return HandLever(
        rear, hand, force, "yes" if force > hold else "no", hold / rear_per_pressure * bore_area(bore) / lever_ratio
    )

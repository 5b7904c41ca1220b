"""When a wheel locks: which one first at given torques, and how long a wheel takes to lock when a kerb unloads it."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.brakes.care import with_care
from calc.brakes.terms import Speed, WheelInertia, WheelRadius
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.terms import TyreAdhesion
from calc.units import NewtonMetres, Newtons, RadiansPerSecondSquared, Ratio, Seconds


class Wheel(NamedTuple):
    """One wheel at the moment of braking."""

    load: Annotated[Newtons, Input("Load", "N", "N", at_least=0, at_most=1e6)]
    torque: Annotated[NewtonMetres, Input("Brake torque", "T", "N·m", at_least=0, at_most=1e5)]
    adhesion: Annotated[Ratio | None, Input("Grip, if not the same as the others", r"\mu", "", above=0, at_most=10)] = (
        None
    )


class FirstWheelLock(NamedTuple):
    """The wheel that locks first and the margin of each: multiply all torques by it to lock that wheel."""

    first_wheel: Annotated[
        Literal["left front", "right front", "left rear", "right rear", "none"], Output("Wheel that locks first", "")
    ]
    margins: Annotated[tuple[Ratio, ...], Output("Margin of LF, RF, LR, RR", "m", "", 4)]
    smallest: Annotated[Ratio, Output("Smallest margin", "", "", 4)]
    front_axle_force: Annotated[Newtons, Output("Most force of the front axle at equal torques", "F_f", "N")]
    front_lost: Annotated[Newtons, Output("Front axle force lost to unequal loads", "", "N")]
    flags: tuple[str, ...]


_NAMES: tuple[Literal["left front", "right front", "left rear", "right rear"], ...] = (
    "left front",
    "right front",
    "left rear",
    "right rear",
)
_NEVER = 1e6  # margin written for a wheel without brake torque


def _first_remarks(result: FirstWheelLock, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    if result.smallest < 1:
        return (Remark(f"The {result.first_wheel} wheel is locked already at these torques.", "caution", "smallest"),)
    return (
        Remark(
            f"The torques can grow by {100 * (result.smallest - 1):.0f} % before the {result.first_wheel} wheel locks.",
            about="smallest",
        ),
    )


@calculator(
    title="Which wheel locks first",
    question="Which of the four wheels locks first, and how much torque is in hand at each?",
    example={
        "wheels": [
            ["3450 N", "1080 N·m", ""],
            ["3150 N", "1080 N·m", ""],
            ["1700 N", "430 N·m", ""],
            ["1950 N", "430 N·m", ""],
        ],
        "adhesion": "1.05",
        "wheel_radius": "315 mm",
    },
    working=(Step(r"m_i = \frac{\mu_i \, N_i \, R}{T_i}", "smallest"),),
    remarks=with_care(_first_remarks),
)
def first_wheel_lock(
    *,
    wheels: Annotated[
        tuple[Wheel, ...],
        Input(
            "Wheels: left front, right front, left rear, right rear",
            help="Loads while braking: scale reading and transfer.",
        ),
    ],
    adhesion: TyreAdhesion,
    wheel_radius: WheelRadius,
) -> FirstWheelLock:
    """Return which wheel locks first at given torques and loads.

    Equation: m_i = mu_i N_i R / T_i; the smallest locks first.  Equal torques, unequal loads: usable axle force 2 mu N_light, not mu (N_1 + N_2).
    Valid for: steady braking, open differentials; for a split surface give each wheel its grip.
    Source: statics, derived.

    >>> rows = (Wheel(3450, 1080), Wheel(3150, 1080), Wheel(1700, 430), Wheel(1950, 430))
    >>> first_wheel_lock(wheels=rows, adhesion=1.05, wheel_radius=0.315).first_wheel
    'right front'
    """
    _require_four(wheels)
    holds = [(wheel.adhesion if wheel.adhesion is not None else adhesion) * wheel.load for wheel in wheels]
    margins = tuple(
        hold * wheel_radius / w.torque if w.torque > 0 else _NEVER for hold, w in zip(holds, wheels, strict=True)
    )
    smallest = min(margins)
    flags = tuple(
        f"The {name} wheel carries no load." for name, wheel in zip(_NAMES, wheels, strict=True) if wheel.load == 0
    )
    usable = 2 * min(holds[:2])
    return FirstWheelLock(
        "none" if smallest >= _NEVER else _NAMES[margins.index(smallest)],
        margins,
        smallest,
        usable,
        sum(holds[:2]) - usable,
        flags,
    )


def _require_four(wheels: tuple[Wheel, ...]) -> None:
    if len(wheels) != 4:
        raise Refused(
            "wheels", "must have four rows: left front, right front, left rear, right rear", f"{len(wheels)} rows"
        )


class KerbLock(NamedTuple):
    """How a wheel slows when its load falls away under braking."""

    time_to_lock: Annotated[Seconds | None, Output("Time until the wheel stands", "t", "s", 3)]
    wheel_deceleration: Annotated[RadiansPerSecondSquared, Output("Deceleration of the wheel", r"\alpha", "rad/s²")]
    holding_torque: Annotated[NewtonMetres, Output("Torque the tyre can answer", "T_t", "N·m")]
    locks: Annotated[Literal["yes", "no"], Output("Does it lock while unloaded", "")]


def _kerb_remarks(result: KerbLock, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    if result.locks == "yes":
        return (
            Remark(
                "Ease the brakes over this kerb, soften what makes the wheel hop, or accept a flat spot.", about="locks"
            ),
        )
    return ()


def _kerb_figures(result: KerbLock, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    if result.time_to_lock is None:
        return ()
    shown = [0.0, result.time_to_lock]
    return (
        Chart(
            "Wheel speed while unloaded",
            "The tread slows in a straight line while the car rolls on; at nothing the wheel stands.",
            Axis("Time", "s"),
            Axis("Speed", "km/h"),
            (Series("Tread of the wheel", shown, [inputs["speed"], 0.0]), Series("Car", shown, [inputs["speed"]] * 2)),
        ),
    )


@calculator(
    title="Wheel lock over a kerb",
    question="How soon does a braked wheel lock when a kerb or a bump unloads it?",
    example={
        "torque": "1050 N·m",
        "load": "1200 N",
        "adhesion": "1.1",
        "wheel_radius": "310 mm",
        "inertia": "1.1 kg·m²",
        "speed": "144 km/h",
        "unloaded_time": "0.25 s",
    },
    working=(
        Step(r"T_t = \mu_t \, N \, R", "holding_torque"),
        Step(r"\alpha = \frac{T - T_t}{I_w}", "wheel_deceleration"),
        Step(r"t = \frac{v/R}{\alpha}", "time_to_lock"),
    ),
    remarks=with_care(_kerb_remarks),
    figures=_kerb_figures,
)
def kerb_lock(
    *,
    torque: Annotated[NewtonMetres, Input("Brake torque of the wheel", "T", "N·m", above=0, at_most=1e5)],
    load: Annotated[Newtons, Input("Load left on the wheel", "N", "N", at_least=0, at_most=1e6)],
    adhesion: TyreAdhesion,
    wheel_radius: WheelRadius,
    inertia: WheelInertia,
    speed: Speed,
    unloaded_time: Annotated[
        Seconds | None, Input("Time the wheel stays unloaded", "t_u", "s", above=0, at_most=60, typical=(0.02, 0.5))
    ] = None,
) -> KerbLock:
    """Return how long a braked wheel takes to lock when its load drops.

    Equation: alpha = (T - mu N R)/I_w;  t = (v/R)/alpha.  With no load at all t = I_w v/(R T).
    Valid for: constant torque; the tyre holds its peak while it slips, which is optimistic.
    Source: rotation of the wheel, derived; I_w 0.7 to 1.3 kg m2 and lock in 0.1 to 0.3 s are usual (common practice, no source).

    >>> round(kerb_lock(torque=1050, load=1200, adhesion=1.1, wheel_radius=0.31, inertia=1.1, speed=40.0).time_to_lock, 4)
    0.2215
    """
    held = adhesion * load * wheel_radius
    slowing = (torque - held) / inertia
    time = speed / wheel_radius / slowing if slowing > 0 else None
    locks = time is not None and (unloaded_time is None or time <= unloaded_time)
    return KerbLock(time, slowing, held, "yes" if locks else "no")

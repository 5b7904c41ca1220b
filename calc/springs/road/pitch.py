"""Pitch and bounce of the body on two axles, and flat ride."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Drawing, Figure, Series, Shape
from calc.form import Input, Output, Remark, Step, calculator
from calc.numeric.eigen import symmetric
from calc.rates import natural_frequency
from calc.refusal import Refused
from calc.springs.road.words import FrontAxleRate, PitchRadius, RearAxleRate, Speed, SprungMass, ToFront, ToRear
from calc.terms import Wheelbase
from calc.units import Hertz, Metres, MetresPerSecond, Ratio, Seconds

_NO_COUPLING = 1e-12  # of the larger diagonal term: rounding, not a node far away


class Swing(NamedTuple):
    """One mode: frequency in Hz, and heave over pitch in m/rad, none where there is no pitch in it."""

    frequency: float
    node: float | None


def swings(ms: float, rho: float, a: float, b: float, kf: float, kr: float) -> tuple[Swing, Swing]:
    """Return bounce (more heave than pitch) and pitch of a body on two axle rates.

    The node lies ``node`` metres ahead of the centre of gravity: heave z over pitch theta, front height z - a theta.

    >>> bounce, pitch = swings(1000, 0.9, 1.0, 1.5, 18e3, 22e3)
    >>> round(bounce.node, 4), round(pitch.node, 4)
    (-2.6461, 0.3061)
    """
    heave, turn, both = (kf + kr) / ms, (kf * a * a + kr * b * b) / (ms * rho * rho), (kr * b - kf * a) / (ms * rho)
    if abs(both) <= _NO_COUPLING * max(heave, turn):
        return Swing(math.sqrt(heave) / (2 * math.pi), None), Swing(math.sqrt(turn) / (2 * math.pi), 0.0)
    values, vectors = symmetric([[heave, both], [both, turn]])
    found = [
        Swing(math.sqrt(max(value, 0.0)) / (2 * math.pi), rho * z / theta)
        for value, (z, theta) in zip(values, vectors, strict=True)
    ]
    first, second = sorted(found, key=lambda swing: -abs(swing.node or 0.0))
    return first, second


class PitchBounce(NamedTuple):
    """The two modes of the body. A node is ahead of the centre of gravity where positive; none is infinitely far away."""

    bounce_frequency: Annotated[Hertz, Output("Bounce frequency", "f_b", "Hz", 3)]
    pitch_frequency: Annotated[Hertz, Output("Pitch frequency", "f_p", "Hz", 3)]
    bounce_node: Annotated[Metres | None, Output("Node of bounce, ahead of the centre of gravity", "x_b", "m", 3)]
    pitch_node: Annotated[Metres | None, Output("Node of pitch, ahead of the centre of gravity", "x_p", "m", 3)]
    dynamic_index: Annotated[Ratio, Output("Dynamic index", "DI", "", 3)]
    front_frequency: Annotated[Hertz, Output("Front frequency on its own", "f_f", "Hz", 3)]
    rear_frequency: Annotated[Hertz, Output("Rear frequency on its own", "f_r", "Hz", 3)]
    rear_over_front: Annotated[Ratio, Output("Rear over front frequency", "", "", 3)]


def _remarks(result: PitchBounce, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = []
    over = result.rear_over_front - 1
    if 0.05 <= over <= 0.25:
        remarks.append(
            Remark(
                f"The rear is {100 * over:.0f} % above the front: near the 10 to 20 % of a flat ride (Olley, from memory).",
                about="rear_over_front",
            )
        )
    elif over < 0:
        remarks.append(
            Remark(
                "The front is faster than the rear: usual on race cars, which accept pitching for a steady nose; on a road car it bucks.",
                about="rear_over_front",
            )
        )
    if abs(result.dynamic_index - 1) < 0.02:
        remarks.append(
            Remark(
                "Dynamic index one: the axles move independently, each node is at the other axle.",
                about="dynamic_index",
            )
        )
    if result.bounce_node is None:
        remarks.append(
            Remark(
                "The rates balance about the centre of gravity: pure bounce, its node infinitely far away, and pure pitch.",
                about="bounce_node",
            )
        )
    return tuple(remarks)


def _figures(result: PitchBounce, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    a, b = inputs["to_front"], inputs["to_rear"]
    reach = 1.5 * (a + b)
    shapes = [
        Shape("line", ((a, 0.0), (-b, 0.0)), "body"),
        Shape("point", ((0.0, 0.0),), "body"),
        Shape("label", ((0.0, -0.2),), "note", "centre of gravity"),
    ]
    shapes += [Shape("circle", ((x, -0.35),), "wheel", radius=0.3) for x in (a, -b)]
    nodes = [("bounce", result.bounce_node), ("pitch", result.pitch_node)]
    words = []
    for n, (name, node) in enumerate(nodes):
        if node is not None and abs(node) < reach:
            shapes.append(Shape("point", ((node, 0.0),), "result"))
            shapes.append(Shape("label", ((node, 0.08 + 0.16 * n),), "note", f"node of {name}"))
            words.append(f"the node of {name} {quantity(abs(node), 'm', 3)} {'ahead of' if node > 0 else 'behind'} it")
    text = (
        "The car from the side with its centre of gravity; "
        + (", ".join(words) or "both nodes lie beyond the drawing")
        + "."
    )
    return (Drawing("Where the body turns about", text, ("x forward", "z up"), tuple(shapes), x_to_left=True),)


@calculator(
    title="Pitch and bounce",
    question="How does the body pitch and bounce, and about which points?",
    example={
        "sprung_mass": "1012 kg",
        "pitch_radius": "1.22 m",
        "to_front": "1.21 m",
        "to_rear": "1.35 m",
        "front_axle_rate": "84.5 N/mm",
        "rear_axle_rate": "78.8 N/mm",
    },
    working=(
        Step(r"DI = \frac{\rho^2}{a \, b}", "dynamic_index"),
        Step(r"f_f = \frac{1}{2 \pi} \sqrt{\frac{k_f \, (a + b)}{m_s \, b}}", "front_frequency"),
        Step(r"f_r = \frac{1}{2 \pi} \sqrt{\frac{k_r \, (a + b)}{m_s \, a}}", "rear_frequency"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def pitch_bounce(
    *,
    sprung_mass: SprungMass,
    pitch_radius: PitchRadius,
    to_front: ToFront,
    to_rear: ToRear,
    front_axle_rate: FrontAxleRate,
    rear_axle_rate: RearAxleRate,
) -> PitchBounce:
    """Return the two modes of the body on its axles: bounce, whose node is the farther, and pitch.

    Equation: M = diag(m_s, m_s rho^2), K = [[k_f + k_r, k_r b - k_f a], [k_r b - k_f a, k_f a^2 + k_r b^2]]; the node lies at z / theta.
    Signs: a node is positive ahead of the centre of gravity; theta turns the nose down for z up.
    Valid for: a stiff body, linear rates, no damping, wheels that follow the road; use ride rates to let the tyres count.
    Source: two-degree vibration; Rao, Mechanical Vibrations, and Gillespie, Fundamentals of Vehicle Dynamics, 1992, chapter 5 (from memory).

    >>> answer = pitch_bounce(sprung_mass=1000, pitch_radius=0.9, to_front=1.0, to_rear=1.5, front_axle_rate=18e3, rear_axle_rate=22e3)
    >>> round(2 * math.pi * answer.bounce_frequency, 3), round(2 * math.pi * answer.pitch_frequency, 3)
    (5.859, 9.434)
    """
    bounce, pitch = swings(sprung_mass, pitch_radius, to_front, to_rear, front_axle_rate, rear_axle_rate)
    length = to_front + to_rear
    front = natural_frequency(front_axle_rate, sprung_mass * to_rear / length)
    rear = natural_frequency(rear_axle_rate, sprung_mass * to_front / length)
    return PitchBounce(
        bounce_frequency=bounce.frequency,
        pitch_frequency=pitch.frequency,
        bounce_node=bounce.node,
        pitch_node=pitch.node,
        dynamic_index=pitch_radius**2 / (to_front * to_rear),
        front_frequency=front,
        rear_frequency=rear,
        rear_over_front=rear / front,
    )


class FlatRide(NamedTuple):
    """The rear frequency that brings the body level again."""

    rear_frequency: Annotated[Hertz, Output("Rear ride frequency", "f_r", "Hz", 3)]
    rear_over_front: Annotated[Ratio, Output("Rear over front", "", "", 3)]
    delay: Annotated[Seconds, Output("Time from front to rear wheel", r"\Delta t", "s", 3)]
    least_speed: Annotated[MetresPerSecond, Output("Speed below which no rear frequency does it", "V_0", "km/h", 3)]


def _flat_remarks(result: FlatRide, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark(
            "Exact for one speed only, and without damping; faster or slower the body pitches a little.",
            about="rear_frequency",
        )
    ]
    if result.rear_over_front > 1.3:
        remarks.append(
            Remark(
                "More than 30 % above the front: at this speed a flat ride asks for a rear few would drive.",
                "caution",
                "rear_over_front",
            )
        )
    return tuple(remarks)


def _flat_figures(result: FlatRide, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    end = 2.5 * inputs["cycles"] / inputs["front_frequency"]
    times = [end * i / 120 for i in range(121)]
    rear = [
        float("nan") if t < result.delay else math.sin(2 * math.pi * result.rear_frequency * (t - result.delay))
        for t in times
    ]
    front = [math.sin(2 * math.pi * inputs["front_frequency"] * t) for t in times]
    text = "The rear starts later and swings faster, and catches the front up after the chosen number of cycles."
    series = (Series("Front", times, front), Series("Rear", times, rear))
    return (
        Chart(
            "Front and rear of the body after a bump",
            text,
            Axis("Time after the front wheel", "s"),
            Axis("Height, undamped", ""),
            series,
        ),
    )


@calculator(
    title="Flat ride",
    question="Which rear frequency lets the body come level after a bump?",
    example={"wheelbase": "2560 mm", "speed": "110 km/h", "front_frequency": "2.0 Hz", "cycles": "1.5"},
    working=(Step(r"\Delta t = \frac{L}{V}", "delay"), Step(r"f_r = \frac{n}{n / f_f - L / V}", "rear_frequency")),
    remarks=_flat_remarks,
    figures=_flat_figures,
)
def flat_ride(
    *,
    wheelbase: Wheelbase,
    speed: Speed,
    front_frequency: Annotated[Hertz, Input("Front ride frequency", "f_f", "Hz", above=0, typical=(1, 5))],
    cycles: Annotated[Ratio, Input("Front cycles until the body is level", "n", "", above=0, typical=(0.5, 3))] = 1.5,
) -> FlatRide:
    """Return the rear ride frequency that is in step with the front a number of cycles after a bump.

    Equation: f_r = n / (n / f_f - L / V).
    Valid for: one speed, a single bump, no damping, dynamic index near one so that the ends move on their own.
    Source: the equal-phase condition; the idea is Olley's, 1930s, and in Gillespie, 1992, chapter 5 (from memory).

    >>> round(flat_ride(wheelbase=2.4, speed=30, front_frequency=1.2, cycles=1.5).rear_frequency, 6)
    1.282051
    """
    delay = wheelbase / speed
    front = cycles / front_frequency
    least = wheelbase / front
    if front <= delay * (1 + 1e-12):
        raise Refused(
            "speed",
            f"must be above {quantity(least, 'km/h')}, at which the rear meets the bump after these cycles are over",
            quantity(speed, "km/h"),
            hint="Or choose more cycles.",
        )
    rear = cycles / (front - delay)
    return FlatRide(rear, rear / front_frequency, delay, least)

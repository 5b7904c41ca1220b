"""All four wheel loads in a corner while the car also brakes or accelerates."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.figures.spec import Axis, Chart, Drawing, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.loads.plan import plan
from calc.loads.straight import FrontAero, RearAero, SignedAcceleration
from calc.loads.terms import LateralAcceleration, Turn
from calc.terms import CarMass, CgHeight, FrontShare, FrontTrack, RearTrack, Wheelbase
from calc.units import STANDARD_GRAVITY, MetresPerSecondSquared, Newtons, Ratio

CORNERS = ("front_left", "front_right", "rear_left", "rear_right")


class CornerLoads(NamedTuple):
    """The load on each wheel; a wheel that has lifted carries nothing."""

    front_left: Annotated[Newtons, Output("Left front wheel", "F_{fl}", "N")]
    front_right: Annotated[Newtons, Output("Right front wheel", "F_{fr}", "N")]
    rear_left: Annotated[Newtons, Output("Left rear wheel", "F_{rl}", "N")]
    rear_right: Annotated[Newtons, Output("Right rear wheel", "F_{rr}", "N")]
    front_transfer: Annotated[Newtons, Output("Load moved across the front axle", r"\Delta F_f", "N")]
    rear_transfer: Annotated[Newtons, Output("Load moved across the rear axle", r"\Delta F_r", "N")]
    longitudinal_transfer: Annotated[Newtons, Output("Load moved to the rear axle", r"\Delta F_x", "N")]
    lift_acceleration: Annotated[
        MetresPerSecondSquared | None, Output("Lateral acceleration at which the first wheel lifts", "a_{lift}", "g", 3)
    ]
    first_to_lift: Annotated[Literal["front", "rear", "none"], Output("Axle whose inside wheel lifts first", "")]
    roll_over: Annotated[
        MetresPerSecondSquared,
        Output("Lateral acceleration at which the car would roll over", "a_{over}", "g", 3, detail=True),
    ]
    flags: tuple[str, ...]


class Split(NamedTuple):
    """How lateral transfer is split: tracks, axle loads, and the front share while all wheels touch."""

    tracks: tuple[float, float]
    axles: tuple[float, float]
    share: float

    def transfers(self, moment: float) -> tuple[float, float, tuple[bool, bool]]:
        """Return the transfer at each axle for an overturning moment, and which inside wheels have lifted.

        What an axle cannot move any more, because its inside wheel is off the ground, the other one has to.
        """
        front, rear = self.share * self.unit(moment), (1 - self.share) * self.unit(moment)
        limits = self.axles[0] / 2, self.axles[1] / 2
        if front > limits[0]:
            front, rear = limits[0], (moment - limits[0] * self.tracks[0]) / self.tracks[1]
        elif rear > limits[1]:
            front, rear = (moment - limits[1] * self.tracks[1]) / self.tracks[0], limits[1]
        over = (
            front >= limits[0] and limits[0] * self.tracks[0] < moment,
            rear >= limits[1] and limits[1] * self.tracks[1] < moment,
        )
        return min(front, limits[0]), min(rear, limits[1]), over

    def unit(self, moment: float) -> float:
        """Return both transfers together while all wheels touch: S of share S t_f + (1 - share) S t_r = M."""
        return moment / math.fsum((self.share * self.tracks[0], (1 - self.share) * self.tracks[1]))

    def lift_moments(self) -> tuple[float, float]:
        """Return the moments at which the front and the rear inside wheel would lift, infinite where the axle moves nothing."""
        one = self.unit(1.0)
        parts = self.share * one, (1 - self.share) * one
        front, rear = (load / 2 / part if part > 0 else math.inf for load, part in zip(self.axles, parts, strict=True))
        return front, rear


def _split(inputs: Mapping[str, Any]) -> tuple[Split, float]:
    """Return the split of lateral transfer, and the load the acceleration moves rearward."""
    weight = inputs["mass"] * STANDARD_GRAVITY
    moved = inputs["mass"] * inputs["acceleration"] * inputs["cg_height"] / inputs["wheelbase"]
    front = weight * inputs["front_share"] + inputs["front_aero"] - moved
    rear = weight * (1 - inputs["front_share"]) + inputs["rear_aero"] + moved
    total = max(front + rear, 0.0)
    axles = (min(max(front, 0.0), total), min(max(rear, 0.0), total))
    return Split((inputs["front_track"], inputs["rear_track"]), axles, inputs["front_transfer_share"]), moved


def _flags(inputs: Mapping[str, Any], split: Split, over: tuple[bool, bool]) -> tuple[str, ...]:
    said = []
    if min(split.axles) == 0:
        name = "front" if split.axles[0] == 0 else "rear"
        said.append(f"The {name} axle carries nothing: the acceleration or the air has lifted it.")
    if all(over):
        said.append(
            "Both inside wheels lift: the car would roll over. The loads shown are those at the lift of the second wheel."
        )
    elif any(over):
        name, other = ("front", "rear") if over[0] else ("rear", "front")
        said.append(f"The inside {name} wheel has lifted: what more the corner moves, the {other} axle moves alone.")
    return tuple(said)


def _remarks(result: CornerLoads, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark(
            "The total across both axles is set by mass, height, track and cornering; springs and bars only share it out.",
            about="front_transfer",
        )
    ]
    if result.first_to_lift == "rear" and any(result.flags):
        remarks.append(
            Remark(
                "A lifted inside rear is common on front-driven cars; on a rear-driven one it spins without a limited slip.",
                about="first_to_lift",
            )
        )
    return tuple(remarks)


def _figures(result: CornerLoads, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    split, _ = _split(inputs)
    here, lever = inputs["lateral_acceleration"], inputs["mass"] * inputs["cg_height"]
    top = max(1.3 * here, 0.8 * STANDARD_GRAVITY)
    steps = [top * i / 30 for i in range(31)]
    found = [split.transfers(lever * a) for a in steps]
    rows = (
        ("Outside front", [split.axles[0] / 2 + f for f, _, _ in found]),
        ("Inside front", [split.axles[0] / 2 - f for f, _, _ in found]),
        ("Outside rear", [split.axles[1] / 2 + r for _, r, _ in found]),
        ("Inside rear", [split.axles[1] / 2 - r for _, r, _ in found]),
    )
    chart = Chart(
        "Wheel loads against lateral acceleration",
        "Outside wheels gain what inside wheels lose; where an inside load reaches zero, the other axle takes over.",
        Axis("Lateral acceleration", "g"),
        Axis("Wheel load", "N"),
        tuple(Series(name, steps, loads) for name, loads in rows),
    )
    return (chart, _plan(result, inputs))


def _plan(result: CornerLoads, inputs: Mapping[str, Any]) -> Drawing:
    labels = tuple(f"{getattr(result, corner):.0f} N" for corner in CORNERS)
    return plan(
        "Wheel loads from above",
        f"Plan view of a corner to the {inputs['turn']}: the load on each of the four wheels.",
        (inputs["wheelbase"], inputs["front_track"], inputs["rear_track"]),
        labels,
    )


@calculator(
    title="Wheel loads in a corner",
    question="What does each tyre carry while the car corners and brakes or accelerates, and which wheel lifts first?",
    example={
        "mass": "1160 kg",
        "wheelbase": "2560 mm",
        "front_track": "1510 mm",
        "rear_track": "1520 mm",
        "front_share": "52.6 %",
        "cg_height": "480 mm",
        "front_transfer_share": "55.4 %",
        "lateral_acceleration": "1 g",
        "acceleration": "-0.4 g",
        "turn": "left",
    },
    working=(
        Step(r"\Delta F_x = \frac{m \, a_x \, h}{L}", "longitudinal_transfer"),
        Step(r"\Delta F_f = \frac{\lambda \, m \, a_y \, h}{\lambda \, t_f + (1 - \lambda) \, t_r}", "front_transfer"),
        Step(r"F_{fr} = \frac{m \, g \, w_f + F_{af} - \Delta F_x}{2} + \Delta F_f", "front_right"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def cornering_loads(
    *,
    mass: CarMass,
    wheelbase: Wheelbase,
    front_track: FrontTrack,
    rear_track: RearTrack,
    front_share: FrontShare,
    cg_height: CgHeight,
    front_transfer_share: Annotated[
        Ratio,
        Input(
            "Front share of the lateral load transfer",
            r"\lambda",
            "%",
            at_least=0,
            at_most=1,
            typical=(0.35, 0.75),
            help="All three parts together, not the share of the roll stiffness.",
        ),
    ],
    lateral_acceleration: LateralAcceleration,
    acceleration: SignedAcceleration = 0.0,
    front_aero: FrontAero = 0.0,
    rear_aero: RearAero = 0.0,
    turn: Turn = "left",
) -> CornerLoads:
    """Return the load on each wheel in a steady corner, with braking or acceleration at the same time.

    Equation: axle load shared in half, -+ m a_x h/(2 L) for the acceleration, +- dF for the corner, dF_f t_f + dF_r t_r = m a_y h.
    Signs: the acceleration is negative while braking; in a corner to the left the right wheels are outside.
    Valid for: steady state, level road, a centre of gravity on the centre-line; the tilt of the rolled body is left out. A lifted wheel carries
    nothing and the other axle takes the rest.
    Source: moment balances along and across the car.

    >>> found = cornering_loads(mass=1000, wheelbase=2.5, front_track=1.5, rear_track=1.5, front_share=0.5, cg_height=0.5,
    ...     front_transfer_share=0.5, lateral_acceleration=9.80665)
    >>> round(found.front_right - found.front_left, 3)
    3268.883
    """
    inputs = locals()
    split, moved = _split(inputs)
    moment = mass * lateral_acceleration * cg_height
    front, rear, over = split.transfers(moment)
    sides = (-1.0, 1.0) if turn == "left" else (1.0, -1.0)
    lifts = tuple(m / (mass * cg_height) for m in split.lift_moments())
    first = min(lifts)
    roll_over = math.fsum(load / 2 * t for load, t in zip(split.axles, split.tracks, strict=True)) / (mass * cg_height)
    left_front, right_front = (split.axles[0] / 2 + side * front for side in sides)
    left_rear, right_rear = (split.axles[1] / 2 + side * rear for side in sides)
    return CornerLoads(
        front_left=left_front,
        front_right=right_front,
        rear_left=left_rear,
        rear_right=right_rear,
        front_transfer=front,
        rear_transfer=rear,
        longitudinal_transfer=moved,
        lift_acceleration=first if math.isfinite(first) else None,
        first_to_lift="none" if not math.isfinite(first) else "front" if lifts[0] < lifts[1] else "rear",
        roll_over=roll_over,
        flags=_flags(inputs, split, over),
    )

"""Unequal braking left and right: the yaw moment, the steering pull, and the load sensitivity of a tyre."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.brakes.care import with_care
from calc.brakes.table import read_between, require_growing
from calc.figures.spec import Axis, Chart, Drawing, Figure, Series, Shape
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.terms import FrontTrack, RearTrack, Wheelbase
from calc.units import Metres, NewtonMetres, Newtons, Ratio


def yaw_moment(left: float, right: float, track: float) -> float:
    """Return the yaw moment of unequal brake forces on one axle; positive pulls left.

    >>> yaw_moment(2600, 2150, 1.52)
    342.0
    """
    return (left - right) * track / 2


def force(label: str, symbol: str) -> Input:
    """Return the input for a brake force at one tyre."""
    return Input(label, symbol, "N", at_least=0, at_most=1e6)


ScrubRadius = Annotated[
    Metres,
    Input(
        "Scrub radius at the ground",
        "r_s",
        "mm",
        above=-0.5,
        below=0.5,
        typical=(-0.03, 0.08),
        help="Positive: the steering axis meets the ground inboard of the wheel's middle. Inboard brakes: take the arm at the hub instead.",
    ),
]


class BrakePull(NamedTuple):
    """Yaw moment, the side forces that hold it, and the moment at the steering axes."""

    yaw_moment: Annotated[NewtonMetres, Output("Yaw moment, positive pulls left", "M_z", "N·m")]
    pulls: Annotated[Literal["left", "right", "straight"], Output("The car pulls", "")]
    lateral_force: Annotated[Newtons, Output("Side force of each axle that holds it", "F_y", "N")]
    steering_moment: Annotated[
        NewtonMetres, Output("Moment at the steering axes, positive steers into the pull", r"\Delta M", "N·m")
    ]
    front_imbalance: Annotated[Ratio, Output("Front difference, of the larger force", "", "%")]
    front_moment: Annotated[NewtonMetres, Output("Yaw moment of the front axle", "M_f", "N·m", detail=True)]
    rear_moment: Annotated[NewtonMetres, Output("Yaw moment of the rear axle", "M_r", "N·m", detail=True)]


def _remarks(result: BrakePull, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    if result.pulls == "straight":
        return (Remark("No difference, no pull.", about="yaw_moment"),)
    remarks = []
    if inputs["scrub_radius"] < 0:
        remarks.append(
            Remark(
                "Negative scrub steers against the pull: it helps the driver hold the car straight.",
                about="steering_moment",
            )
        )
    elif inputs["scrub_radius"] > 0:
        remarks.append(
            Remark(
                "Positive scrub steers into the pull: the wheel tugs the same way the car goes.",
                about="steering_moment",
            )
        )
    if result.front_imbalance > 0.2:
        remarks.append(
            Remark(
                "More than a fifth of difference on the front: find the cause before driving on.",
                "caution",
                "front_imbalance",
            )
        )
    return tuple(remarks)


def _figures(result: BrakePull, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    base, f, r = inputs["wheelbase"], inputs["front_track"] / 2, inputs["rear_track"] / 2
    forces = [inputs[n] for n in ("front_left", "front_right", "rear_left", "rear_right")]
    places = [(base, f), (base, -f), (0.0, r), (0.0, -r)]
    scale = 0.4 * base / max(*forces, 1.0)
    return (
        Drawing(
            "Brake forces seen from above",
            "Front at the top. The longer arrows pull the car round to their side.",
            ("left", "forward"),
            (
                Shape("polygon", tuple((y, x) for x, y in (places[0], places[1], places[3], places[2])), "body"),
                *(
                    Shape("arrow", ((y, x), (y, x - size * scale)), "force", f"{size:.0f} N")
                    for (x, y), size in zip(places, forces, strict=True)
                ),
            ),
            x_to_left=True,
        ),
    )


@calculator(
    title="Pull under braking",
    question="How hard does the car turn and the wheel tug when one side brakes more?",
    example={
        "front_left": "2600 N",
        "front_right": "2150 N",
        "rear_left": "1200 N",
        "rear_right": "1150 N",
        "front_track": "1510 mm",
        "rear_track": "1520 mm",
        "wheelbase": "2560 mm",
        "scrub_radius": "12 mm",
    },
    working=(
        Step(r"M_f = (F_{fl} - F_{fr}) \, \frac{t_f}{2}", "front_moment"),
        Step(r"M_r = (F_{rl} - F_{rr}) \, \frac{t_r}{2}", "rear_moment"),
        Step(r"M_z = M_f + M_r", "yaw_moment"),
        Step(r"F_y = \frac{M_z}{L}", "lateral_force"),
        Step(r"\Delta M = (F_{fl} - F_{fr}) \, r_s", "steering_moment"),
    ),
    remarks=with_care(_remarks),
    figures=_figures,
)
def brake_pull(
    *,
    front_left: Annotated[Newtons, force("Brake force, left front", "F_{fl}")],
    front_right: Annotated[Newtons, force("Brake force, right front", "F_{fr}")],
    rear_left: Annotated[Newtons, force("Brake force, left rear", "F_{rl}")],
    rear_right: Annotated[Newtons, force("Brake force, right rear", "F_{rr}")],
    front_track: FrontTrack,
    rear_track: RearTrack,
    wheelbase: Wheelbase,
    scrub_radius: ScrubRadius = 0.0,
) -> BrakePull:
    """Return yaw moment and steering pull of unequal brake forces.

    Equation: M_z = sum (F_left - F_right) t/2;  held by side forces M_z/L, front against rear;  steering dM = (F_fl - F_fr) r_s.
    Valid for: outboard brakes, small steering angle; camber and caster change the scrub radius: take it at braking ride height.
    Signs: positive yaw moment pulls left; positive scrub: axis inboard of the wheel's middle.
    Source: statics, derived.

    >>> answer = brake_pull(front_left=2600, front_right=2150, rear_left=1200, rear_right=1150, front_track=1.52, rear_track=1.5,
    ...     wheelbase=2.6, scrub_radius=0.012)
    >>> round(answer.yaw_moment, 3), round(answer.steering_moment, 3)
    (379.5, 5.4)
    """
    front, rear = yaw_moment(front_left, front_right, front_track), yaw_moment(rear_left, rear_right, rear_track)
    moment, larger = front + rear, max(front_left, front_right)
    return BrakePull(
        moment,
        "left" if moment > 0 else "right" if moment < 0 else "straight",
        moment / wheelbase,
        (front_left - front_right) * scrub_radius,
        abs(front_left - front_right) / larger if larger > 0 else 0.0,
        front,
        rear,
    )


class TyrePoint(NamedTuple):
    """One measured load and the grip there."""

    load: Annotated[Newtons, Input("Load", "N", "N", above=0, at_most=1e5)]
    grip: Annotated[Ratio, Input("Friction coefficient", r"\mu", "", above=0, at_most=10)]


class TyreLoad(NamedTuple):
    """Grip at a load, and how fast it falls with load."""

    grip: Annotated[Ratio, Output("Friction coefficient at this load", r"\mu", "", 4)]
    force: Annotated[Newtons, Output("Largest force at this load", "F", "N")]
    exponent: Annotated[Ratio, Output("Exponent n of F = C N^n between the ends", "n", "", 3)]
    sensitivity: Annotated[Ratio, Output("Grip lost when the load doubles, by that exponent", "", "%", 3)]
    peak_forces: Annotated[tuple[Newtons, ...], Output("Largest force at each measured load", "F_i", "N", detail=True)]


def _tyre_figures(result: TyreLoad, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    loads = [row.load for row in inputs["points"]]
    return (
        Chart(
            "Grip force over load",
            "The curve bends below a straight line: two unequal loads hold less than two equal ones.",
            Axis("Load", "N"),
            Axis("Largest force", "N"),
            (
                Series("Measured", loads, result.peak_forces, points=True),
                Series(
                    "Straight line from the first point", loads, [result.peak_forces[0] * n / loads[0] for n in loads]
                ),
                Series("Here", [inputs["load"]], [result.force], points=True),
            ),
        ),
    )


@calculator(
    title="Tyre grip over load, for braking",
    question="How much grip does a tyre lose as braking loads it?",
    example={"points": [["2000 N", "1.22"], ["3500 N", "1.15"], ["5000 N", "1.06"]], "load": "4300 N"},
    working=(Step(r"F = \mu(N) \, N", "force"), Step(r"n = \frac{\ln(F_2/F_1)}{\ln(N_2/N_1)}", "exponent")),
    figures=_tyre_figures,
    remarks=with_care(),
)
def braking_tyre_load(
    *,
    points: Annotated[tuple[TyrePoint, ...], Input("Measured loads and grip", help="Load growing from row to row.")],
    load: Annotated[Newtons, Input("Load asked for", "N", "N", above=0, at_most=1e5)],
    way: Annotated[
        Literal["linear", "monotone cubic"],
        Choice("Read between points", {"linear": "straight lines", "monotone cubic": "a smooth curve"}),
    ] = "linear",
) -> TyreLoad:
    """Return the grip of a tyre at a load from measured points, and the exponent of its load sensitivity.

    Equation: mu read between the points;  F = mu N;  n = ln(F_2/F_1)/ln(N_2/N_1) over the end points.
    Valid for: loads inside the measured range; side-force data used for braking is an analogy.
    Source: common practice, n 0.7 to 0.9 (looked up).

    >>> rows = (TyrePoint(4003.4, 1.10), TyrePoint(6005.1, 1.08), TyrePoint(8006.8, 0.97))
    >>> round(braking_tyre_load(points=rows, load=7005.95).grip, 4)
    1.025
    """
    loads, grips = [row.load for row in points], [row.grip for row in points]
    require_growing(loads, "points.load", " N")
    if not loads[0] <= load <= loads[-1]:
        raise Refused(
            "load", f"must lie on the table, {loads[0]:g} to {loads[-1]:g} N: nothing is extrapolated", f"{load:g} N"
        )
    grip = read_between(loads, grips, load, way)
    forces = tuple(n * mu for n, mu in zip(loads, grips, strict=True))
    exponent = math.log(forces[-1] / forces[0]) / math.log(loads[-1] / loads[0])
    return TyreLoad(grip, grip * load, exponent, 1 - 2 ** (exponent - 1), forces)

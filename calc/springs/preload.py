"""Preload: what it does to droop and ride height, and what it does not do to the rate."""

from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.springs.words import MotionRatio, Preload, StaticSpringForce
from calc.terms import SpringRate
from calc.units import Metres, Newtons, Ratio


class Preloaded(NamedTuple):
    """Forces and travels of a preloaded spring."""

    starting_force: Annotated[Newtons, Output("Force at which it starts to move", "F_0", "N")]
    compression: Annotated[Metres, Output("Compression from full droop at ride height", "s", "mm")]
    droop_spring: Annotated[Metres, Output("Droop travel at the spring", "s_d", "mm")]
    droop_wheel: Annotated[Metres, Output("Droop travel at the wheel", "z_d", "mm")]
    body_rise: Annotated[Metres, Output("Rise of the body over the wheel from the perch turns", r"\Delta z", "mm", 3)]
    preload_after: Annotated[Metres, Output("Preload after the perch turns", "x_1", "mm", 3)]
    flags: tuple[str, ...]


def _remarks(result: Preloaded, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark(
            "Preload moves the ride height and the droop. It does not make the spring stiffer.", about="starting_force"
        )
    ]
    share = result.droop_spring / result.compression if result.compression > 0 else 0
    if share and result.droop_spring < 0.010:
        remarks.append(
            Remark(
                "Less than 10 mm of droop at the spring: the inside wheel comes light early.", "caution", "droop_spring"
            )
        )
    return tuple(remarks)


def _figures(result: Preloaded, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    rate, preload = inputs["spring_rate"], result.preload_after
    travel = [1.6 * max(result.droop_spring, 0.02) * i / 10 for i in range(11)]
    here = max(result.droop_spring, 0.0)
    series = [
        Series("With this preload", [0.0, *travel], [0.0, *(rate * (x + preload) for x in travel)]),
        Series("Without", travel, [rate * x for x in travel]),
    ]
    if inputs["static_force"] >= result.starting_force:
        series.append(Series("Ride height", [here], [inputs["static_force"]], points=True))
    text = "Two parallel lines: the preloaded spring starts at a force and rises at the same rate."
    return (
        Chart(
            "Force against travel from full droop",
            text,
            Axis("Travel from full droop", "mm"),
            Axis("Force in the spring", "N"),
            tuple(series),
        ),
    )


@calculator(
    title="Preload",
    question="What does preload on this spring do to droop and ride height?",
    example={
        "spring_rate": "60 N/mm",
        "preload": "5 mm",
        "static_force": "2790 N",
        "motion_ratio": "0.94",
        "turns": "2",
        "pitch": "2 mm",
    },
    working=(
        Step(r"x_1 = x_0 + N \, P", "preload_after"),
        Step(r"F_0 = k_s \, x_1", "starting_force"),
        Step(r"s_d = \frac{F_s}{k_s} - x_1", "droop_spring"),
        Step(r"z_d = \frac{s_d}{MR}", "droop_wheel"),
        Step(r"\Delta z = \frac{N \, P}{MR}", "body_rise"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def preload(
    *,
    spring_rate: SpringRate,
    preload: Preload,
    static_force: StaticSpringForce,
    motion_ratio: MotionRatio = 1.0,
    turns: Annotated[Ratio, Input("Turns of the perch, up is positive", "N", "", typical=(-10, 10))] = 0.0,
    pitch: Annotated[Metres, Input("Thread pitch of the perch", "P", "mm", above=0, typical=(1e-3, 4e-3))] = 0.002,
) -> Preloaded:
    """Return the force that starts a preloaded spring moving, its droop, and what turning the perch does.

    Equation: F = k_s (x + x_1);  droop s_d = F_s / k_s - x_1, at the wheel s_d / MR;  perch turns raise the body by N P / MR.
    Signs: x is measured from full droop, compression positive; turns are positive where they compress the spring at full droop.
    Valid for: a linear spring over a damper that sets full droop, a constant motion ratio.
    Caution: support the car on stands and unload the spring before turning a perch.
    Source: statics of a linear spring.

    >>> answer = preload(spring_rate=50e3, preload=0.012, static_force=2600)
    >>> round(answer.starting_force), round(answer.droop_spring, 6)
    (600, 0.04)
    """
    after = preload + turns * pitch
    loose = after < 0
    droop = static_force / spring_rate - after
    flags = []
    if loose:
        flags.append(
            f"The spring is loose by {quantity(-after, 'mm', 3)} at full droop: it needs a helper, or the perch a few turns up."
        )
    if droop < 0:
        flags.append(
            "The preload is above the force at ride height: the damper is topped out, there is no droop, and a ride frequency means nothing."
        )
    return Preloaded(
        starting_force=spring_rate * max(after, 0.0),
        compression=droop,
        droop_spring=droop,
        droop_wheel=droop / motion_ratio,
        body_rise=turns * pitch / motion_ratio,
        preload_after=after,
        flags=tuple(flags),
    )

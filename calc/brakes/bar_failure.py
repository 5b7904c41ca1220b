"""The balance bar when one circuit is lost: what it finds to push against, and how far the pedal goes until then."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.brakes.bar import Offset, require_inside, rod_share
from calc.brakes.care import with_care
from calc.brakes.terms import BarSpacing, PedalRatio
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.units import Metres, Radians, Ratio


class BarCircuitLost(NamedTuple):
    """Which stop the bar finds when one circuit has no pressure, and how far the pedal goes until then."""

    case: Annotated[
        Literal["failed cylinder bottoms", "bar reaches its tilt stop"], Output("What stops the bar first", "")
    ]
    good_share: Annotated[Ratio, Output("Largest share of the pedal's force on the good cylinder", "s_g", "%")]
    pedal_travel: Annotated[Metres, Output("Pedal travel when the good circuit works", "x_p", "mm")]
    reserve: Annotated[Ratio, Output("Pedal travel left, of the free travel", "", "%", 3)]
    lost_stroke: Annotated[Metres, Output("Stroke of the failed cylinder then", "x_l", "mm", detail=True)]
    trunnion_travel: Annotated[Metres, Output("Travel of the trunnion then", "x_t", "mm", detail=True)]
    flags: tuple[str, ...]


def _lost_remarks(result: BarCircuitLost, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    until = "Until a stop is met the good circuit carries nothing: a free bar with no reaction on one side cannot push the other."
    if result.case == "failed cylinder bottoms":
        says = "The failed cylinder bottoms first: the bar balances on it and the good circuit gets only its own share."
    else:
        says = "The bar reaches its tilt stop first: bar and pedal act as one piece and the good circuit can get all the force."
    return (Remark(says, about="case"), Remark(until, about="pedal_travel"))


@calculator(
    title="Balance bar with one circuit lost",
    question="Does the bar still brake the good axle when the other circuit fails, and with what pedal?",
    example={
        "lost": "front",
        "spacing": "64 mm",
        "trunnion_offset": "1.5 mm",
        "tilt_limit": "12 deg",
        "good_stroke": "11 mm",
        "bottom_stroke": "30 mm",
        "pedal_ratio": "5.2",
        "free_travel": "150 mm",
    },
    working=(
        Step(r"x_l = \min(x_b, \; x_g + s \tan\theta_{max})", "lost_stroke"),
        Step(r"x_t = s_l \, x_l + (1 - s_l) \, x_g", "trunnion_travel"),
        Step(r"x_p = i \, x_t", "pedal_travel"),
    ),
    remarks=with_care(_lost_remarks),
)
def bar_circuit_lost(
    *,
    lost: Annotated[Literal["front", "rear"], Choice("Circuit that is lost", {"front": "front", "rear": "rear"})],
    spacing: BarSpacing,
    trunnion_offset: Offset = 0.0,
    tilt_limit: Annotated[
        Radians, Input("Largest tilt the bar can take", r"\theta_{max}", "°", above=0, below=1.2, typical=(0.08, 0.4))
    ],
    good_stroke: Annotated[
        Metres, Input("Stroke of the good cylinder at the pressure needed", "x_g", "mm", at_least=0, at_most=0.2)
    ],
    bottom_stroke: Annotated[Metres, Input("Full stroke of the failed cylinder", "x_b", "mm", above=0, at_most=0.2)],
    pedal_ratio: PedalRatio,
    free_travel: Annotated[Metres, Input("Free travel of the pedal to its stop", "x_{max}", "mm", above=0, at_most=1)],
) -> BarCircuitLost:
    """Return which stop a balance bar finds with one circuit lost, and the pedal travel at that moment.

    Equation: x_l = min(x_bottom, x_g + s tan(theta_max));  pedal x_p = i (s_l x_l + (1 - s_l) x_g), s_l the bar share of the lost side.
    Valid for: pins in one line, rigid pedal and bar; the good cylinder already at its working stroke.
    Caution: try it for real, standing still: open one bleed nipple and see that the other circuit still makes pressure before the pedal
    meets the floor. A car that does not pass must not move.
    Source: statics, derived.

    >>> answer = bar_circuit_lost(lost="front", spacing=0.06, tilt_limit=0.2, good_stroke=0.01, bottom_stroke=0.03, pedal_ratio=5, free_travel=0.15)
    >>> answer.case, round(answer.lost_stroke * 1e3, 2)
    ('bar reaches its tilt stop', 22.16)
    """
    require_inside(spacing, trunnion_offset)
    share = rod_share(spacing, trunnion_offset)
    lost_share = share if lost == "front" else 1 - share
    tilted = good_stroke + spacing * math.tan(tilt_limit)
    bottoms = bottom_stroke < tilted
    stroke = min(bottom_stroke, tilted)
    trunnion = lost_share * stroke + (1 - lost_share) * good_stroke
    reserve = 1 - trunnion * pedal_ratio / free_travel
    flags = ("The pedal meets its stop before the good circuit works: no brakes at all.",) if reserve < 0 else ()
    return BarCircuitLost(
        "failed cylinder bottoms" if bottoms else "bar reaches its tilt stop",
        1 - lost_share if bottoms else 1.0,
        trunnion * pedal_ratio,
        reserve,
        stroke,
        trunnion,
        flags,
    )

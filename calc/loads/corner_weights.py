"""Corner weights: what four scales say about the centre of gravity."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.figures.spec import Figure
from calc.form import Output, Remark, Step, calculator
from calc.loads.plan import plan
from calc.loads.support_terms import FrontLeft, FrontRight, RearLeft, RearRight
from calc.refusal import Refused
from calc.terms import FrontTrack, RearTrack, Wheelbase
from calc.units import Kilograms, Metres, Ratio


class CornerWeights(NamedTuple):
    """What the four scales say. ``cg_left`` is positive when the centre of gravity lies left of the centre-line."""

    cross_share: Annotated[Ratio, Output("Cross weight (right front and left rear)", "c", "%")]
    front_share: Annotated[Ratio, Output("Front share", "w_f", "%")]
    left_share: Annotated[Ratio, Output("Left share", "w_l", "%")]
    total: Annotated[Kilograms, Output("Total mass", "m", "kg")]
    cg_to_front: Annotated[Metres, Output("Centre of gravity behind the front axle", "a", "mm")]
    cg_to_rear: Annotated[Metres, Output("Centre of gravity ahead of the rear axle", "b", "mm")]
    cg_left: Annotated[Metres, Output("Centre of gravity left of the centre-line", "y", "mm")]


def _remarks(result: CornerWeights, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = []
    if not 0.40 <= result.left_share <= 0.60:
        remarks.append(
            Remark(
                "One side carries more than 60 %: check the floor, the scales and that the driver is in.",
                "caution",
                "left_share",
            )
        )
    if not 0.30 <= result.front_share <= 0.70:
        remarks.append(
            Remark("Front share outside 30 to 70 %: check that no scale was read twice.", "caution", "front_share")
        )
    off = result.cross_share - 0.5
    if abs(off) <= 0.005:
        remarks.append(Remark("Within half a point of 50 %: what most road-course cars aim for.", about="cross_share"))
    else:
        raise_which = "left front or right rear" if off > 0 else "right front or left rear"
        remarks.append(
            Remark(
                f"To bring the cross weight towards 50 %, raise the perch at the {raise_which}, or lower its neighbours.",
                about="cross_share",
            )
        )
    return tuple(remarks)


def _figures(result: CornerWeights, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    labels = tuple(f"{inputs[corner]:.0f} kg" for corner in ("front_left", "front_right", "rear_left", "rear_right"))
    text = f"Plan view of the four wheels with the mass on each; the centre of gravity lies {result.cg_to_front:.2f} m behind the front axle."
    sizes = inputs["wheelbase"], inputs["front_track"], inputs["rear_track"]
    return (plan("The car from above", text, sizes, labels, (result.cg_left, result.cg_to_front)),)


@calculator(
    title="Corner weights and centre of gravity",
    question="Where is the weight, and is the car sitting square on its four wheels?",
    example={
        "front_left": "312 kg",
        "front_right": "298 kg",
        "rear_left": "268 kg",
        "rear_right": "282 kg",
        "wheelbase": "2560 mm",
        "front_track": "1510 mm",
        "rear_track": "1520 mm",
    },
    working=(
        Step(r"m = m_{fl} + m_{fr} + m_{rl} + m_{rr}", "total"),
        Step(r"c = \frac{m_{fr} + m_{rl}}{m}", "cross_share"),
        Step(r"a = \frac{L\,(m_{rl} + m_{rr})}{m}", "cg_to_front"),
        Step(r"y = \frac{(m_{fl} - m_{fr})\,t_f/2 + (m_{rl} - m_{rr})\,t_r/2}{m}", "cg_left"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def corner_weights(
    *,
    front_left: FrontLeft,
    front_right: FrontRight,
    rear_left: RearLeft,
    rear_right: RearRight,
    wheelbase: Wheelbase,
    front_track: FrontTrack,
    rear_track: RearTrack,
) -> CornerWeights:
    """Return total, shares and position of the centre of gravity from four scale readings.

    Equation: a = L (m_rl + m_rr) / m;  y = ((m_fl - m_fr) t_f/2 + (m_rl - m_rr) t_r/2) / m;  cross = (m_fr + m_rl) / m.
    Signs: y is positive to the left (ISO 8855). The cross weight counts right front and left rear; the other diagonal is its complement to 100 %.
    Valid for: scales level to a millimetre or two, tyres rolled free of side force, bars disconnected, driver or equal ballast aboard, fuel noted.
    Source: moment balance about the front axle and the centre-line; Milliken and Milliken, Race Car Vehicle Dynamics, 1995 (from memory).

    >>> round(corner_weights(front_left=312, front_right=298, rear_left=268, rear_right=282,
    ...       wheelbase=2.56, front_track=1.51, rear_track=1.52).cross_share, 4)
    0.4879
    """
    total = math.fsum((front_left, front_right, rear_left, rear_right))
    if total <= 0:
        raise Refused("front_left", "and the other three scales must carry some mass", "0 kg on all four")
    rear = rear_left + rear_right
    to_front = wheelbase * rear / total
    left = ((front_left - front_right) * front_track / 2 + (rear_left - rear_right) * rear_track / 2) / total
    return CornerWeights(
        cross_share=(front_right + rear_left) / total,
        front_share=(front_left + front_right) / total,
        left_share=(front_left + rear_left) / total,
        total=total,
        cg_to_front=to_front,
        cg_to_rear=wheelbase - to_front,
        cg_left=left,
    )

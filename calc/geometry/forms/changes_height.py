"""Changes of height: a hub raised on its knuckle, a car lowered on its springs."""

from collections.abc import Mapping
from typing import Annotated, Any

from calc.form import Input, calculator
from calc.geometry.forms.change import Both, Change, answer, base_corner, both, figures_of, remarks
from calc.geometry.forms.changes import Realign
from calc.geometry.forms.examples import STRUT
from calc.geometry.forms.inputs import LinkageKind, LoadedRadius, Member, Points, StaticCamber, StaticToe, rows_named
from calc.geometry.moves import raised_hub
from calc.units import Metres


def _raised(inputs: Mapping[str, Any]) -> Both:
    before = base_corner(inputs)
    with rows_named(inputs["points"]):
        changed = raised_hub(before.linkage, inputs["raised"])
    return both(before, changed, inputs["linkage"], 0.0, inputs["points"], realign=False)


def _lowered(inputs: Mapping[str, Any]) -> Both:
    before = base_corner(inputs)
    return both(
        before, before.linkage, inputs["linkage"], inputs["lowered"], inputs["points"], realign=inputs["realign"]
    )


@calculator(
    title="A hub raised on the knuckle",
    question="How low does a raised hub bring the car, and what does it cost?",
    example={
        "linkage": "strut",
        "points": STRUT,
        "loaded_radius": "300 mm",
        "static_camber": "-1.5 deg",
        "static_toe_in": "0.05 deg",
        "raised": "30 mm",
    },
    remarks=remarks,
    figures=lambda result, inputs: figures_of(_raised(inputs)),
)
def raised_hub_change(
    *,
    linkage: LinkageKind,
    points: Points,
    loaded_radius: LoadedRadius,
    static_camber: StaticCamber = 0.0,
    static_toe_in: StaticToe = 0.0,
    spring_on: Member = "carrier",
    raised: Annotated[
        Metres, Input("Hub raised on the knuckle by", "h", "mm", at_least=-0.15, at_most=0.15, typical=(0, 0.06))
    ],
) -> Change:
    """Return the wheel before and after its hub is raised on an unmoved knuckle.

    Equation: W moves up by h on the carrier, the carrier stays: the body comes down by h at the same arm angles. Scrub grows by h tan(KPI), trail falls by h tan(caster).
    Signs: h positive upwards; scrub positive with the axis inboard, trail positive with the axis ahead.
    Valid for: the knuckle itself unchanged; heights are above the ground, so the roll centre falls only by h times half track over swing arm.
    Caution: a modified knuckle is a safety part: leave cutting and welding to licensed specialists. Mind the rim against the strut or upper joint.
    Source: rigid-body kinematics of the changed points, nothing corrected by a rule; checked against an independent numerical solution.

    >>> from calc.ask.evaluate import evaluate
    >>> from calc.form import about
    >>> said = evaluate("raised_hub_change", about(raised_hub_change).example, figures=False)
    >>> said["outputs"][2]["name"], said["outputs"][2]["unit"]
    ('roll_centre_height', 'mm')
    """
    inputs = {
        "linkage": linkage,
        "points": points,
        "loaded_radius": loaded_radius,
        "static_camber": static_camber,
        "static_toe_in": static_toe_in,
        "spring_on": spring_on,
    }
    return answer(_raised({**inputs, "raised": raised}), points, raised)


@calculator(
    title="A car lowered on its springs",
    question="What does lowering the car do to camber, toe and roll centre?",
    example={
        "linkage": "strut",
        "points": STRUT,
        "loaded_radius": "300 mm",
        "static_camber": "-1.5 deg",
        "static_toe_in": "0.05 deg",
        "lowered": "30 mm",
        "realign": False,
    },
    remarks=remarks,
    figures=lambda result, inputs: figures_of(_lowered(inputs)),
)
def lowered_on_springs(
    *,
    linkage: LinkageKind,
    points: Points,
    loaded_radius: LoadedRadius,
    static_camber: StaticCamber = 0.0,
    static_toe_in: StaticToe = 0.0,
    spring_on: Member = "carrier",
    lowered: Annotated[Metres, Input("Car lowered by", "h", "mm", at_least=-0.2, at_most=0.2, typical=(0, 0.06))],
    realign: Realign = False,
) -> Change:
    """Return the wheel before and after the body is lowered: every output at that much bump travel.

    Equation: travel z = h; nothing is drawn anew. On struts the roll centre falls faster than the body.
    Signs: h positive when the body comes down.
    Valid for: shorter springs or lower perches on an unchanged linkage; both sides alike.
    Caution: lowering uses up bump travel: check the bump stop, the tyre in its arch at full bump and lock, and ground clearance. Springs under load can maim: use proper compressors.
    Source: rigid-body kinematics of the changed points, nothing corrected by a rule; checked against an independent numerical solution.

    >>> from calc.ask.evaluate import evaluate
    >>> from calc.form import about
    >>> said = evaluate("lowered_on_springs", about(lowered_on_springs).example, figures=False)
    >>> said["outputs"][2]["name"], said["outputs"][2]["unit"]
    ('roll_centre_height', 'mm')
    """
    inputs = {
        "linkage": linkage,
        "points": points,
        "loaded_radius": loaded_radius,
        "static_camber": static_camber,
        "static_toe_in": static_toe_in,
        "spring_on": spring_on,
    }
    return answer(_lowered({**inputs, "lowered": lowered, "realign": realign}), points, lowered)

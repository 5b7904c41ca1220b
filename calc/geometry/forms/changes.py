"""Changes at the points: a moved pickup, a spacer at a ball joint, a raised hub, a car lowered on its springs."""

from collections.abc import Mapping
from typing import Annotated, Any

from calc.form import Input, calculator
from calc.geometry.forms.change import Both, Change, answer, base_corner, both, figures_of, remarks
from calc.geometry.forms.examples import STRUT, STRUT_WITH_ROD
from calc.geometry.forms.inputs import LinkageKind, LoadedRadius, Member, Points, StaticCamber, StaticToe, rows_named
from calc.geometry.moves import moved
from calc.refusal import Refused
from calc.units import Metres

Realign = Annotated[
    bool,
    Input(
        "Set toe and camber back to what they were",
        help="By the toe link and the camber adjuster, as on the alignment rack.",
    ),
]
Lowered = Annotated[
    Metres, Input("Car lowered on its springs as well by", "h", "mm", at_least=-0.2, at_most=0.2, typical=(0, 0.05))
]


def _shift(way: str, symbol: str) -> Input:
    return Input(f"Moved {way}", symbol, "mm", at_least=-0.3, at_most=0.3, typical=(-0.04, 0.04))


def _moved(inputs: Mapping[str, Any]) -> Both:
    before = base_corner(inputs)
    name = inputs["point"].strip().lower().replace(" ", "_")
    if name not in before.linkage.points:
        raise Refused(
            "point", "must be one of the points in the table", repr(inputs["point"][:40]), label="Point that is moved"
        )
    with rows_named(inputs["points"]):
        changed = moved(
            before.linkage,
            {name: (inputs["forward"], inputs["outboard"], inputs["up"])},
            lengths_kept=inputs["lengths_kept"],
        )
    return both(before, changed, inputs["linkage"], inputs["lowered"], inputs["points"], realign=inputs["realign"])


def _spaced(inputs: Mapping[str, Any]) -> Both:
    before = base_corner(inputs)
    if "lower_ball_joint" not in before.linkage.points:
        raise Refused("linkage", "must have a lower ball joint", inputs["linkage"], label="Linkage")
    drops = {"lower_ball_joint": (0.0, 0.0, -inputs["at_ball_joint"])}
    if before.linkage.tie_rod and inputs["at_tie_rod"]:
        drops[before.linkage.tie_rod[1]] = (0.0, 0.0, -inputs["at_tie_rod"])
    with rows_named(inputs["points"]):
        changed = moved(before.linkage, drops, lengths_kept=True)
    return both(before, changed, inputs["linkage"], inputs["lowered"], inputs["points"], realign=inputs["realign"])


@calculator(
    title="A pickup point moved",
    question="What happens when I move this pickup point?",
    example={
        "linkage": "strut_with_rod",
        "points": STRUT_WITH_ROD,
        "loaded_radius": "305 mm",
        "static_camber": "-2.2 deg",
        "static_toe_in": "0.05 deg",
        "point": "rod_inner",
        "up": "10 mm",
    },
    remarks=remarks,
    figures=lambda result, inputs: figures_of(_moved(inputs)),
)
def moved_point(
    *,
    linkage: LinkageKind,
    points: Points,
    loaded_radius: LoadedRadius,
    static_camber: StaticCamber = 0.0,
    static_toe_in: StaticToe = 0.0,
    spring_on: Member = "carrier",
    point: Annotated[str, Input("Point that is moved", help="Its name in the table, such as rod_inner.")],
    forward: Annotated[Metres, _shift("forward", r"\Delta x")] = 0.0,
    outboard: Annotated[Metres, _shift("outboard", r"\Delta y")] = 0.0,
    up: Annotated[Metres, _shift("up", r"\Delta z")] = 0.0,
    lengths_kept: Annotated[
        bool,
        Input(
            "Keep every link at its old length",
            help="Off: links are made to fit the new point with the wheel where it was. On: nothing is readjusted and the wheel moves.",
        ),
    ] = False,
    realign: Realign = False,
    lowered: Lowered = 0.0,
) -> Change:
    """Return the wheel before and after one point is moved.

    Equation: the linkage is solved anew with the point at its new place; lengths are taken there (wheel unmoved), or all kept (wheel moves).
    Signs: x forward, y outboard, z up; slopes positive when the point moves forward in bump.
    Valid for: a chassis or a carrier point of the linkage; rigid members. Front pivots up: lower arm loses front anti-dive, upper arm gains it; a rod ahead of the axle raised loses it.
    Caution: pickups are load paths: weld and bracket work belongs to a licensed fabricator and must pass the scrutineer. Check clearance through travel and lock.
    Source: rigid-body kinematics of the changed points, nothing corrected by a rule; checked against an independent numerical solution.

    >>> from calc.ask.evaluate import evaluate
    >>> from calc.form import about
    >>> said = evaluate("moved_point", about(moved_point).example, figures=False)
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
    return answer(
        _moved(
            {
                **inputs,
                "point": point,
                "forward": forward,
                "outboard": outboard,
                "up": up,
                "lengths_kept": lengths_kept,
                "realign": realign,
                "lowered": lowered,
            }
        ),
        points,
        lowered,
    )


@calculator(
    title="A spacer at the lower ball joint",
    question="What does a spacer under the knuckle do to roll centre and bump steer?",
    example={
        "linkage": "strut",
        "points": STRUT,
        "loaded_radius": "300 mm",
        "static_camber": "-1.5 deg",
        "static_toe_in": "0.05 deg",
        "at_ball_joint": "25 mm",
        "at_tie_rod": "25 mm",
        "lowered": "30 mm",
    },
    remarks=remarks,
    figures=lambda result, inputs: figures_of(_spaced(inputs)),
)
def ball_joint_spacer(
    *,
    linkage: LinkageKind,
    points: Points,
    loaded_radius: LoadedRadius,
    static_camber: StaticCamber = 0.0,
    static_toe_in: StaticToe = 0.0,
    spring_on: Member = "carrier",
    at_ball_joint: Annotated[
        Metres, Input("Spacer at the lower ball joint", "e", "mm", at_least=-0.1, at_most=0.1, typical=(0, 0.035))
    ],
    at_tie_rod: Annotated[
        Metres,
        Input(
            "Spacer at the tie rod's outer joint",
            "e_t",
            "mm",
            at_least=-0.1,
            at_most=0.1,
            typical=(0, 0.035),
            help="Without the same drop there, bump steer is spoilt.",
        ),
    ] = 0.0,
    lowered: Lowered = 0.0,
    realign: Realign = False,
) -> Change:
    """Return the wheel before and after a spacer between lower ball joint and knuckle.

    Equation: the joint moves down by e on the carrier, all link lengths kept, and the wheel finds its place; the arm's outer end comes lower and the roll centre higher.
    Signs: z up; a positive spacer puts the joint lower on the carrier; lowering is positive down.
    Valid for: rigid members; both sides alike. A spacer without the same drop at the tie rod's outer joint spoils bump steer: look at the pair.
    Caution: a spacer lengthens the lever on the ball joint's pin and its bolts: only parts made for it, checked by a scrutineer. Mind rim clearance and joint angle in droop.
    Source: rigid-body kinematics of the changed points, nothing corrected by a rule; checked against an independent numerical solution.

    >>> from calc.ask.evaluate import evaluate
    >>> from calc.form import about
    >>> said = evaluate("ball_joint_spacer", about(ball_joint_spacer).example, figures=False)
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
    return answer(
        _spaced(
            {**inputs, "at_ball_joint": at_ball_joint, "at_tie_rod": at_tie_rod, "lowered": lowered, "realign": realign}
        ),
        points,
        lowered,
    )

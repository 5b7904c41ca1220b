"""Changes at wheel, top mount and links: another wheel, a camber or caster plate, an adjusted link."""

from collections.abc import Mapping
from typing import Annotated, Any

from calc.form import Input, calculator
from calc.geometry.forms.change import Both, Change, answer, base_corner, both, figures_of, remarks
from calc.geometry.forms.examples import DOUBLE_WISHBONE, STRUT
from calc.geometry.forms.inputs import LinkageKind, LoadedRadius, Member, Points, StaticCamber, StaticToe, rows_named
from calc.geometry.moves import longer_link, other_wheel, top_plate
from calc.refusal import Refused
from calc.units import Metres


def _wheel(inputs: Mapping[str, Any]) -> Both:
    before = base_corner(inputs)
    with rows_named(inputs["points"]):
        changed = other_wheel(before.linkage, inputs["outward"], inputs["larger"])
        return both(before, changed, inputs["linkage"], 0.0, inputs["points"], realign=False)


def _plate(inputs: Mapping[str, Any]) -> Both:
    before = base_corner(inputs)
    with rows_named(inputs["points"]):
        changed = top_plate(before.linkage, (-inputs["rearward"], -inputs["inboard"], inputs["up"]))
    return both(before, changed, inputs["linkage"], 0.0, inputs["points"], realign=False)


def _longer(inputs: Mapping[str, Any]) -> Both:
    before = base_corner(inputs)
    name = inputs["link"].strip().lower().replace(" ", "_")
    links = [link for link in before.linkage.links if name in link]
    if len(links) != 1:
        known = ", ".join(inner for inner, _ in before.linkage.links)
        raise Refused(
            "link", f"must be one end of a single link, such as {known}", repr(inputs["link"][:40]), label="Link"
        )
    with rows_named(inputs["points"]):
        changed = longer_link(before.linkage, links[0], inputs["longer"])
    return both(before, changed, inputs["linkage"], 0.0, inputs["points"], realign=False)


@calculator(
    title="Another wheel: offset, spacer, tyre radius",
    question="What do another offset, a spacer or another tyre do to the steering axis and the roll centre?",
    example={
        "linkage": "strut",
        "points": STRUT,
        "loaded_radius": "300 mm",
        "static_camber": "-1.5 deg",
        "static_toe_in": "0.05 deg",
        "outward": "20 mm",
        "larger": "0 mm",
    },
    remarks=remarks,
    figures=lambda result, inputs: figures_of(_wheel(inputs)),
)
def wheel_change(
    *,
    linkage: LinkageKind,
    points: Points,
    loaded_radius: LoadedRadius,
    static_camber: StaticCamber = 0.0,
    static_toe_in: StaticToe = 0.0,
    spring_on: Member = "carrier",
    outward: Annotated[
        Metres,
        Input(
            "Wheel moved outboard (spacer, or less offset)",
            r"\Delta y",
            "mm",
            at_least=-0.2,
            at_most=0.2,
            typical=(-0.03, 0.04),
        ),
    ] = 0.0,
    larger: Annotated[
        Metres, Input("Loaded radius larger by", r"\Delta R", "mm", at_least=-0.15, at_most=0.15, typical=(-0.03, 0.03))
    ] = 0.0,
) -> Change:
    """Return the wheel before and after another rim, spacer or tyre.

    Equation: W moves outboard and R grows on an unmoved carrier; scrub radius, trail, track and the motion ratio at the contact path follow.
    Signs: outboard positive; a larger radius adds dR tan(caster) of trail and takes dR tan(KPI) off the scrub radius.
    Valid for: the same carrier and arms; the car stands higher by the growth of the radius, which the body height shows as negative lowering.
    Caution: longer studs for spacers, full thread engagement, hub-centred seats; check clearances at full lock and bump; follow the rules of your series.
    Source: rigid-body kinematics of the changed points, nothing corrected by a rule; checked against an independent numerical solution.

    >>> from calc.ask.evaluate import evaluate
    >>> from calc.form import about
    >>> said = evaluate("wheel_change", about(wheel_change).example, figures=False)
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
    return answer(_wheel({**inputs, "outward": outward, "larger": larger}), points, -larger)


@calculator(
    title="A camber or caster plate at the strut top",
    question="What does sliding the strut top do to camber, caster and toe?",
    example={
        "linkage": "strut",
        "points": STRUT,
        "loaded_radius": "300 mm",
        "static_camber": "-1.5 deg",
        "static_toe_in": "0.05 deg",
        "inboard": "10 mm",
    },
    remarks=remarks,
    figures=lambda result, inputs: figures_of(_plate(inputs)),
)
def top_plate_change(
    *,
    linkage: LinkageKind,
    points: Points,
    loaded_radius: LoadedRadius,
    static_camber: StaticCamber = 0.0,
    static_toe_in: StaticToe = 0.0,
    spring_on: Member = "carrier",
    inboard: Annotated[
        Metres, Input("Top mount moved inboard", r"\Delta y", "mm", at_least=-0.1, at_most=0.1, typical=(-0.02, 0.03))
    ] = 0.0,
    rearward: Annotated[
        Metres, Input("Top mount moved rearward", r"\Delta x", "mm", at_least=-0.1, at_most=0.1, typical=(-0.02, 0.03))
    ] = 0.0,
    up: Annotated[
        Metres, Input("Top mount moved up", r"\Delta z", "mm", at_least=-0.1, at_most=0.1, typical=(-0.01, 0.03))
    ] = 0.0,
) -> Change:
    """Return the wheel before and after the strut's top mount is slid.

    Equation: T moves on the chassis; strut, knuckle and every link keep their lengths, and the wheel finds its place.
    Signs: inboard gives camber towards negative, rearward gives caster towards positive.
    Valid for: struts. Toe changes with it: set it again afterwards; the answer shows toe before it is reset.
    Caution: support the car on stands, never on a jack alone, and take the load off the strut before loosening its top.
    Source: rigid-body kinematics of the changed points, nothing corrected by a rule; checked against an independent numerical solution.

    >>> from calc.ask.evaluate import evaluate
    >>> from calc.form import about
    >>> said = evaluate("top_plate_change", about(top_plate_change).example, figures=False)
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
    return answer(_plate({**inputs, "inboard": inboard, "rearward": rearward, "up": up}), points)


@calculator(
    title="A link made longer or shorter",
    question="What does an adjustable link change besides what I wanted?",
    example={
        "linkage": "double_wishbone",
        "points": DOUBLE_WISHBONE,
        "loaded_radius": "282 mm",
        "static_camber": "-1.5 deg",
        "static_toe_in": "0.05 deg",
        "spring_on": "lower_arm",
        "link": "tie_rod_inner",
        "longer": "2 mm",
    },
    remarks=remarks,
    figures=lambda result, inputs: figures_of(_longer(inputs)),
)
def adjusted_link(
    *,
    linkage: LinkageKind,
    points: Points,
    loaded_radius: LoadedRadius,
    static_camber: StaticCamber = 0.0,
    static_toe_in: StaticToe = 0.0,
    spring_on: Member = "carrier",
    link: Annotated[str, Input("Link", help="The name of one of its ends, such as tie_rod_inner.")],
    longer: Annotated[
        Metres, Input("Link made longer by", r"\Delta l", "mm", at_least=-0.1, at_most=0.1, typical=(-0.01, 0.01))
    ],
) -> Change:
    """Return the wheel before and after one link is made longer, all others kept.

    Equation: its length grows by dl, the wheel finds its place at the same height.
    Signs: longer is positive.
    Valid for: two-joint links and single legs of wishbones. One turn of a thread moves its pitch, of a sleeve with both hands of thread twice its pitch.
    Caution: leave threads engaged for at least one and a half diameters and lock them; rod ends must not sit in bending.
    Source: rigid-body kinematics of the changed points, nothing corrected by a rule; checked against an independent numerical solution.

    >>> from calc.ask.evaluate import evaluate
    >>> from calc.form import about
    >>> said = evaluate("adjusted_link", about(adjusted_link).example, figures=False)
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
    return answer(_longer({**inputs, "link": link, "longer": longer}), points)

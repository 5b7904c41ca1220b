"""One wheel at one position: everything its linkage makes of it, drawn from three sides."""

from collections.abc import Mapping
from math import degrees
from typing import Annotated, Any, NamedTuple

from calc.figures.spec import Figure
from calc.form import Output, Remark, calculator
from calc.geometry.checks import NEAR_LOCK, nearness, plain
from calc.geometry.forms.examples import DOUBLE_WISHBONE
from calc.geometry.forms.inputs import (
    BarMember,
    LinkageKind,
    LoadedRadius,
    Member,
    Points,
    Rack,
    StaticCamber,
    StaticToe,
    Travel,
    corner_of,
    rows_named,
)
from calc.geometry.motion import Corner, State
from calc.geometry.readings import Reading, reading
from calc.geometry.scene import drawings
from calc.units import Metres, Radians, RadiansPerMetre, Ratio

CORNER = ("linkage", "points", "loaded_radius", "static_camber", "static_toe_in", "spring_on", "bar_on")


class Position(NamedTuple):
    """One wheel at one position. None where a thing does not exist for the linkage, or lies at infinity (then a flag says which way)."""

    camber: Annotated[Radians, Output("Camber", r"\gamma", "°", 4)]
    toe_in: Annotated[Radians, Output("Toe-in", r"\tau", "°", 4)]
    half_track_change: Annotated[Metres, Output("Half-track change, outboard positive", r"\Delta y_C", "mm", 4)]
    wheel_dx: Annotated[Metres, Output("Wheel centre moved forward", r"\Delta x_W", "mm", 4)]
    roll_centre_height: Annotated[
        Metres, Output("Roll centre above ground, both wheels at this travel", "h_{RC}", "mm", 4)
    ]
    camber_rate: Annotated[RadiansPerMetre, Output("Camber change with travel", r"d\gamma/dz", "deg/m", 4)]
    toe_in_rate: Annotated[RadiansPerMetre, Output("Toe-in change with travel (bump steer)", r"d\tau/dz", "deg/m", 4)]
    spring_ratio: Annotated[Ratio | None, Output("Motion ratio of the spring", "MR_s", "", 4)]
    damper_ratio: Annotated[Ratio | None, Output("Motion ratio of the damper", "MR_d", "", 4)]
    bar_rate: Annotated[RadiansPerMetre | None, Output("Turn of the bar's arm with travel", r"d\beta/dz", "deg/m", 4)]
    caster: Annotated[Radians | None, Output("Caster", r"\nu", "°", 4)]
    inclination: Annotated[Radians | None, Output("Steering-axis inclination", r"\sigma", "°", 4)]
    trail: Annotated[Metres | None, Output("Mechanical trail", "n", "mm", 4)]
    scrub: Annotated[Metres | None, Output("Scrub radius, axis inboard positive", "r_s", "mm", 4)]
    virtual_caster: Annotated[
        Radians | None, Output("Caster of the axis it really turns about", r"\nu_v", "°", 4, detail=True)
    ]
    virtual_inclination: Annotated[Radians | None, Output("Inclination of that axis", r"\sigma_v", "°", 4, detail=True)]
    virtual_trail: Annotated[Metres | None, Output("Trail of that axis", "n_v", "mm", 4, detail=True)]
    virtual_scrub: Annotated[Metres | None, Output("Scrub radius of that axis", "r_{s,v}", "mm", 4, detail=True)]
    front_swing_arm: Annotated[Metres | None, Output("Front-view swing arm, centre inboard positive", "s_f", "mm", 4)]
    side_swing_arm: Annotated[Metres | None, Output("Side-view swing arm, centre ahead positive", "s_s", "mm", 4)]
    front_centre_y: Annotated[
        Metres | None, Output("Front-view instant centre, across", "y_{ic}", "mm", 4, detail=True)
    ]
    front_centre_above: Annotated[
        Metres | None, Output("Front-view instant centre above the contact point", "z_{ic}", "mm", 4, detail=True)
    ]
    side_centre_x: Annotated[Metres | None, Output("Side-view instant centre, along", "x_{ic}", "mm", 4, detail=True)]
    side_centre_above: Annotated[
        Metres | None, Output("Side-view instant centre above the contact point", "z_{sc}", "mm", 4, detail=True)
    ]
    lateral_slope: Annotated[
        Ratio, Output("Outboard motion of the contact point for each unit of bump", "m", "", 4, detail=True)
    ]
    contact_slope: Annotated[
        Ratio, Output("Forward motion of the contact point for each unit of bump", "b_C", "", 4, detail=True)
    ]
    wheel_slope: Annotated[
        Ratio, Output("Forward motion of the wheel centre for each unit of bump", "b_W", "", 4, detail=True)
    ]
    wheel_dy: Annotated[Metres, Output("Wheel centre moved outboard", r"\Delta y_W", "mm", 4, detail=True)]
    spring_length: Annotated[Metres | None, Output("Length of the spring", "l_s", "mm", 5, detail=True)]
    damper_length: Annotated[Metres | None, Output("Length of the damper", "l_d", "mm", 5, detail=True)]
    bar_turn: Annotated[Radians | None, Output("Turn of the bar's arm", r"\beta", "°", 4, detail=True)]
    rocker_turn: Annotated[Radians | None, Output("Turn of the rocker", r"\rho", "°", 4, detail=True)]
    rocker_rate: Annotated[
        RadiansPerMetre | None, Output("Turn of the rocker with travel", r"d\rho/dz", "deg/m", 4, detail=True)
    ]
    flags: tuple[str, ...]


def corner_from(inputs: Mapping[str, Any]) -> Corner:
    """Return the corner that a calculator's inputs describe."""
    return corner_of(*(inputs[name] for name in CORNER))


def flags_of(corner: Corner, state: State, row: Reading) -> tuple[str, ...]:
    """Return what a reader must know of a position: a near lock, an instant centre at infinity and the direction to it."""
    said = []
    if nearness(corner.mechanism, state.pose, state.rack) < NEAR_LOCK:
        said.append("The linkage is close to a lock here: small errors of the points move the wheel much.")
    if row.front_centre_y is None:
        said.append(
            f"The front-view instant centre lies at infinity, along a line that rises {1000 * row.lateral_slope:.1f} mm for each metre inboard."
        )
    if row.side_centre_x is None:
        said.append(
            f"The side-view instant centre lies at infinity, along a line that falls {1000 * row.contact_slope:.1f} mm for each metre forward."
        )
    linkage = corner.linkage
    said += [
        f"The wheel end of {plain(inner)} lies inboard of its chassis end: are the two swapped?"
        for inner, outer in linkage.links
        if linkage.points[outer][1] < linkage.points[inner][1]
    ]
    return tuple(said)


def _remarks(result: Position, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = []
    height = result.roll_centre_height
    if height < 0:
        remarks.append(
            Remark(
                "The roll centre is below the ground: the body rolls more, and lateral force pulls it down on its springs.",
                "caution",
                "roll_centre_height",
            )
        )
    elif height > 0.15:
        remarks.append(
            Remark(
                "A roll centre this high lets lateral force lift the body (jacking) and moves the contact point much over bumps.",
                "caution",
                "roll_centre_height",
            )
        )
    if abs(degrees(result.toe_in_rate)) > 4:
        remarks.append(
            Remark(
                "More than 0.04° of toe for each 10 mm of travel is felt as nervousness over bumps.",
                "caution",
                "toe_in_rate",
            )
        )
    ratio = result.spring_ratio
    if ratio is not None and ratio < 0.4:
        remarks.append(
            Remark(
                "A motion ratio this small makes the spring stiff, its mounts heavily loaded and friction large.",
                "caution",
                "spring_ratio",
            )
        )
    return tuple(remarks)


def _figures(result: Position, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    corner = corner_from(inputs)
    return drawings(corner, corner.state(inputs["travel"], inputs["rack"]))


@calculator(
    title="One wheel on its linkage, in three dimensions",
    question="What do these points make of the wheel at this travel and steering?",
    example={
        "linkage": "double_wishbone",
        "points": DOUBLE_WISHBONE,
        "loaded_radius": "282 mm",
        "static_camber": "-1.5 deg",
        "static_toe_in": "0.05 deg",
        "travel": "20 mm",
        "rack": "0 mm",
        "spring_on": "lower_arm",
        "bar_on": "lower_arm",
    },
    remarks=_remarks,
    figures=_figures,
)
def wheel_position(
    *,
    linkage: LinkageKind,
    points: Points,
    loaded_radius: LoadedRadius,
    static_camber: StaticCamber = 0.0,
    static_toe_in: StaticToe = 0.0,
    travel: Travel = 0.0,
    rack: Rack = 0.0,
    spring_on: Member = "carrier",
    bar_on: BarMember = "lower_arm",
) -> Position:
    """Return attitude, rates, centres, steering axis and motion ratios of the left wheel at one travel and rack travel.

    Equation: every member keeps its length (abs(P_o - P_i) = L; a strut keeps its line through the top mount) while the wheel centre rises by z;
    rates from n.V + ((O - W) x n).w = n.V_I; roll centre height = y_C V_Cy / V_Cz with V_C the carrier's velocity at the contact point.
    Signs: x forward, y left, z up (ISO 8855), chassis held; camber positive with the top outboard, toe-in with the front inboard, caster with the
    top rearward, inclination with the top inboard, trail with the axis ahead of the contact point, scrub with the axis inboard of it.
    Valid for: rigid members and joints, thin disc wheel on level ground, travel short of a lock. Bushes give: real curves bend a little more.
    Caution: measure with the car on stands that cannot tip. A motion ratio here is spring travel for each unit of wheel travel.
    Source: kinematics of rigid bodies, derived; checked against an independent numerical solution of the same constraints.

    >>> from calc.ask.evaluate import evaluate
    >>> from calc.form import about
    >>> [each["text"] for each in evaluate("wheel_position", about(wheel_position).example)["outputs"][:2]]
    ['−2.162', '0.045']
    """
    corner = corner_of(linkage, points, loaded_radius, static_camber, static_toe_in, spring_on, bar_on)
    with rows_named(points):
        state = corner.state(travel, rack)
        row = reading(corner, state)
        flags = flags_of(corner, state, row)
    fields = {name: getattr(row, name) for name in Position._fields if name != "flags"}
    return Position(**fields, flags=flags)

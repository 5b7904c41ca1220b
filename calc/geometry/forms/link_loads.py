"""Forces in links and joints for a force at the tyre."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.display import quantity
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.geometry.checks import plain
from calc.geometry.forms.examples import DOUBLE_WISHBONE
from calc.geometry.forms.inputs import (
    LinkageKind,
    LoadedRadius,
    Member,
    Points,
    StaticCamber,
    StaticToe,
    Travel,
    corner_of,
    rows_named,
)
from calc.geometry.loads import ILL_CONDITIONED, Loads, member_loads
from calc.geometry.motion import State
from calc.geometry.vectors import norm
from calc.units import Newtons, Ratio

Torque = Annotated[
    Literal["carrier", "body"],
    Choice(
        "Brake or drive torque is taken by",
        {
            "carrier": "the wheel carrier (brakes at the wheel)",
            "body": "a shaft to the body (inboard brake, driven wheel)",
        },
    ),
]


def _force(what: str, symbol: str) -> Input:
    return Input(what, symbol, "N", at_least=-2e5, at_most=2e5, typical=(-8000, 8000))


class LinkLoads(NamedTuple):
    """Forces in every member. Links: tension positive. Joints: size of the force they pass; its parts are in the working."""

    spring: Annotated[Newtons | None, Output("Spring, compression positive", "F_s", "N", 4)]
    largest: Annotated[Newtons, Output("Largest of all", "F_{max}", "N", 4)]
    largest_in: Annotated[str, Output("in")]
    links: Annotated[tuple[str, ...], Output("Links, named by their chassis end, tension positive")]
    tensions: Annotated[tuple[Newtons, ...], Output("Tension in them, in this order", "T", "N", 4)]
    joints: Annotated[tuple[str, ...], Output("Joints that carry more than one direction")]
    joint_forces: Annotated[tuple[Newtons, ...], Output("Force through them, in this order", "F_j", "N", 4)]
    power_check: Annotated[
        Ratio | None,
        Output("Virtual work: spring force x ratio over contact power (1 = balanced)", "", "", 6, detail=True),
    ]
    flags: tuple[str, ...]


def _remarks(result: LinkLoads, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            "Static forces, no friction. A kerb strike, a 3 g bump or hard braking multiply them: size parts on such cases, which are practice, not a standard.",
            "caution",
            "largest",
        ),
        Remark(
            "Rod ends and ball joints must never sit in bending, and must not run out of angle anywhere in travel and lock.",
            "caution",
            "links",
        ),
    )


@calculator(
    title="Forces in links and joints",
    question="What force does each link, joint and spring take for this force at the tyre?",
    example={
        "linkage": "double_wishbone",
        "points": DOUBLE_WISHBONE,
        "loaded_radius": "282 mm",
        "static_camber": "-1.5 deg",
        "static_toe_in": "0.05 deg",
        "longitudinal": "-1500 N",
        "lateral": "-2600 N",
        "vertical": "3200 N",
        "torque": "carrier",
        "spring_on": "lower_arm",
    },
    working=(Step(r"\sum T_i\,n_i + F = 0,\qquad \sum T_i\,(p_i \times n_i) + M = 0", "largest"),),
    remarks=_remarks,
)
def link_loads(
    *,
    linkage: LinkageKind,
    points: Points,
    loaded_radius: LoadedRadius,
    static_camber: StaticCamber = 0.0,
    static_toe_in: StaticToe = 0.0,
    travel: Travel = 0.0,
    longitudinal: Annotated[Newtons, _force("Force on the tyre forward (braking negative)", "F_x")],
    lateral: Annotated[Newtons, _force("Force on the tyre to the left", "F_y")],
    vertical: Annotated[Newtons, _force("Force on the tyre upward", "F_z")],
    torque: Torque = "carrier",
    spring_on: Member = "carrier",
) -> LinkLoads:
    """Return the force in every link, joint and spring of the left wheel for a force at the contact point.

    Equation: six equations of equilibrium of the carrier, sum T n + F = 0 and sum T (p x n) + M = 0; one more, the moment about its hinge, for an arm that carries the
    spring or pushrod. Torque on the carrier: the force acts at the contact point; torque on the body: at the wheel centre with the couple (C - W) x (0, F_y, F_z).
    Signs: x forward, y left, z up; tension positive in links; spring compression positive.
    Valid for: steady forces, rigid parts, no friction and no bush stiffness; the two inner pivots of an arm share their axial force in a way statics cannot tell.
    Caution: bumps, kerbs and impacts multiply these. Size suspension parts with a licensed engineer; series rules and scrutineers decide what may be changed.
    Source: statics, derived; checked by virtual work (spring force x motion ratio = contact force x its velocity) and against an independent solution.

    >>> from calc.ask.evaluate import evaluate
    >>> from calc.form import about
    >>> said = {each["name"]: each["value"] for each in evaluate("link_loads", about(link_loads).example)["outputs"]}
    >>> round(said["power_check"], 9)
    1.0
    """
    corner = corner_of(linkage, points, loaded_radius, static_camber, static_toe_in, spring_on)
    force = (longitudinal, lateral, vertical)
    with rows_named(points):
        state = corner.state(travel)
        loads = member_loads(corner, state, force, torque_on_body=torque == "body")
        spring = corner.linkage.springs.get("spring")
        ratio = corner.parts.length(spring, state.pose, state.per_travel).ratio if spring else None
    sizes = {name: abs(value) for name, value in loads.links.items()} | {
        name: norm(value) for name, value in loads.joints.items()
    }
    if loads.spring is not None:
        sizes["spring"] = abs(loads.spring)
    most = max(sizes, key=lambda name: sizes[name])
    return LinkLoads(
        loads.spring,
        sizes[most],
        plain(most),
        tuple(plain(name) for name in loads.links),
        tuple(loads.links.values()),
        tuple(plain(name) for name in loads.joints),
        tuple(norm(value) for value in loads.joints.values()),
        _balance(loads, state, force, ratio, torque),
        _flags(loads),
    )


def _balance(
    loads: Loads, state: State, force: tuple[float, float, float], ratio: float | None, torque: str
) -> float | None:
    """Return spring power over contact power; none without a spring or where the contact does no work."""
    if loads.spring is None or ratio is None:
        return None
    at_contact = state.per_travel.at(state.pose.centre, state.contact)
    velocity = (state.per_travel.velocity[0] if torque == "body" else at_contact[0], at_contact[1], at_contact[2])
    power = sum(f * v for f, v in zip(force, velocity, strict=True))
    return loads.spring * ratio / power if abs(power) > 1e-9 else None


def _flags(loads: Loads) -> tuple[str, ...]:
    said = []
    if loads.spring is not None and loads.spring < 0:
        said.append(
            f"The spring would have to pull with {quantity(-loads.spring, 'N', 3)}: in truth the wheel lifts off its stop here."
        )
    if loads.condition > ILL_CONDITIONED:
        said.append(
            "The forces hang on small differences of the points: the linkage is near a lock or two links are nearly in line."
        )
    return tuple(said)

"""Anti-dive, anti-lift and anti-squat from the points of one wheel, for every place where the torque can be reacted."""

from collections.abc import Iterator, Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.figures.spec import Figure, Shape
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.geometry import anti
from calc.geometry.centres import side_view, slopes
from calc.geometry.forms.examples import MULTI_LINK
from calc.geometry.forms.inputs import (
    LinkageKind,
    LoadedRadius,
    Points,
    StaticCamber,
    StaticToe,
    Travel,
    corner_of,
    rows_named,
)
from calc.geometry.scene import drawings
from calc.geometry.vectors import Vector
from calc.terms import BrakeFrontShare, CgHeight, Wheelbase
from calc.units import Metres, Ratio

DriveShare = Annotated[
    Ratio,
    Input(
        "Share of the drive force on this axle",
        "f",
        "%",
        at_least=0,
        at_most=1,
        typical=(0, 1),
        help="100 % for the driven axle of a two-wheel-drive car, 0 for the other.",
    ),
]
WhichAxle = Annotated[Literal["front", "rear"], Choice("Axle", {"front": "front", "rear": "rear"})]

_LINE = 0.8  # m, length of the 100 % line


class AntiEffects(NamedTuple):
    """Shares of the load transfer that the linkage holds, for both places of brake and drive torque."""

    braking_outboard: Annotated[
        Ratio, Output("Braking, brakes at the wheel: anti-dive (front) or anti-lift (rear)", "A_{b,o}", "%", 3)
    ]
    braking_inboard: Annotated[Ratio, Output("Braking, brakes on the body's side of a shaft", "A_{b,i}", "%", 3)]
    drive_on_body: Annotated[
        Ratio, Output("Power, final drive on the body: anti-squat (rear) or anti-lift (front)", "A_{d,b}", "%", 3)
    ]
    drive_on_carrier: Annotated[Ratio, Output("Power, motor on the wheel carrier", "A_{d,c}", "%", 3)]
    contact_slope: Annotated[Ratio, Output("Forward motion of the contact point for each unit of bump", "b_C", "", 4)]
    wheel_slope: Annotated[Ratio, Output("Forward motion of the wheel centre for each unit of bump", "b_W", "", 4)]
    side_centre_x: Annotated[Metres | None, Output("Side-view instant centre, along", "x_{ic}", "mm", 4, detail=True)]
    side_centre_above: Annotated[
        Metres | None, Output("Side-view instant centre above the contact point", "z_{ic}", "mm", 4, detail=True)
    ]


def _remarks(result: AntiEffects, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark(
            "100 % holds this axle's height only; the load transfer itself stays what it is.", about="braking_outboard"
        )
    ]
    if inputs["axle"] == "front" and result.braking_outboard > 0.4:
        remarks.append(
            Remark(
                "Much anti-dive: the wheel moves into the bump, kerbs turn harsh, the tyre may chatter, caster changes with travel.",
                "caution",
                "braking_outboard",
            )
        )
    if result.braking_outboard < 0:
        remarks.append(
            Remark(
                "Negative: braking works with the springs and the car pitches more than its springs alone would let it.",
                "caution",
                "braking_outboard",
            )
        )
    if inputs["axle"] == "front":
        remarks.append(
            Remark(
                "Anti-dive is proportional to the front brake share: moving the brake bias moves it too.",
                about="front_brake_share",
            )
        )
    return tuple(remarks)


def _figures(result: AntiEffects, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    corner = corner_of(
        *(inputs[name] for name in ("linkage", "points", "loaded_radius", "static_camber", "static_toe_in"))
    )
    state = corner.state(inputs["travel"])
    view = drawings(corner, state)[1]
    return (view._replace(shapes=(*view.shapes, *_full_line(inputs, state.contact))),)


def _full_line(inputs: Mapping[str, Any], contact: Vector) -> Iterator[Shape]:
    """Yield the line on which the side-view centre would hold all of the load transfer under braking, brakes at the wheel."""
    front = inputs["axle"] == "front"
    share = inputs["front_brake_share"] if front else 1 - inputs["front_brake_share"]
    if share > 0.05:
        rise = inputs["cg_height"] / (share * inputs["wheelbase"])
        end = (contact[0] + _LINE * (-1 if front else 1), contact[2] + _LINE * rise)
        yield Shape("line", ((contact[0], contact[2]), end), "construction", "100 % under braking")


@calculator(
    title="Anti-dive, anti-lift and anti-squat from the points",
    question="How much of the dive, lift and squat do these points hold, wherever the torque goes?",
    example={
        "axle": "rear",
        "linkage": "multi_link",
        "points": MULTI_LINK,
        "loaded_radius": "305 mm",
        "static_camber": "-1.8 deg",
        "static_toe_in": "0.1 deg",
        "wheelbase": "2560 mm",
        "cg_height": "480 mm",
        "front_brake_share": "66 %",
        "drive_share": "100 %",
    },
    working=(
        Step(r"b_C = V_{Cx}/V_{Cz},\quad b_W = V_{Wx}/V_{Wz}", "contact_slope"),
        Step(r"A_{b,o} = \pm\,\varphi\,b_C\,\frac{L}{h}", "braking_outboard"),
        Step(r"A_{d,b} = \pm\,f\,b_W\,\frac{L}{h}", "drive_on_body"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def anti_effects(
    *,
    axle: WhichAxle,
    linkage: LinkageKind,
    points: Points,
    loaded_radius: LoadedRadius,
    static_camber: StaticCamber = 0.0,
    static_toe_in: StaticToe = 0.0,
    travel: Travel = 0.0,
    wheelbase: Wheelbase,
    cg_height: CgHeight,
    front_brake_share: BrakeFrontShare,
    drive_share: DriveShare = 1.0,
) -> AntiEffects:
    """Return the share of dive, lift and squat that the linkage of one wheel holds, for every torque path.

    Equation: front: anti-dive = p b L / h, anti-lift under power = f b L / h; rear: anti-lift = -(1 - p) b L / h, anti-squat = -f b L / h, with b = b_C where
    the torque is reacted on the carrier (outboard brakes, hub motors) and b = b_W where it is reacted on the body (inboard brakes, final drive on the chassis).
    Signs: b positive when the point moves forward in bump; p front share of brake force, f this axle's share of the drive force.
    Valid for: small pitch, steady braking or power, one wheel's linkage the same as the other's. A live axle has a calculator of its own.
    Caution: 100 % holds the axle's height only. Much anti makes the wheel meet bumps harshly and may hop under braking.
    Source: virtual work, derived; the same result as Milliken and Milliken, Race Car Vehicle Dynamics, 1995, chapter 17 (from memory).

    >>> from calc.ask.evaluate import evaluate
    >>> from calc.form import about
    >>> [each["unit"] for each in evaluate("anti_effects", about(anti_effects).example, figures=False)["outputs"][:2]]
    ['%', '%']
    """
    corner = corner_of(linkage, points, loaded_radius, static_camber, static_toe_in)
    with rows_named(points):
        state = corner.state(travel)
    slope, view = slopes(state), side_view(state)
    lever = wheelbase / cg_height
    if axle == "front":
        found = anti.front(slope.contact, slope.wheel, lever, front_brake_share, drive_share)
    else:
        found = anti.rear(slope.contact, slope.wheel, lever, 1 - front_brake_share, drive_share)
    return AntiEffects(*found, slope.contact, slope.wheel, view.across, view.above)

"""The balance bar: how it shares the pedal's force, and what a turn of its screw does."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.brakes.care import with_care
from calc.brakes.terms import BarSpacing
from calc.figures.spec import Axis, Band, Chart, Drawing, Figure, Series, Shape
from calc.form import Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.units import Metres, Newtons, Radians, Ratio

USABLE_SHARE = (1 / 3, 2 / 3)  # about 2 to 1 at full adjustment (trade guide)
_STEEP = math.radians(5)  # common practice, no source

Offset = Annotated[
    Metres,
    Input(
        "Trunnion off the middle, towards the front clevis",
        "o",
        "mm",
        above=-0.25,
        below=0.25,
        help="Negative towards the rear clevis. The cylinder the trunnion is nearer to gets more force.",
    ),
]


def rod_share(spacing: float, offset: float, pin_offset: float = 0.0, tilt: float = 0.0) -> float:
    """Return the front share of a bar: 1/2 + o/s - (e/s) tan(tilt).

    >>> rod_share(0.064, 0.006)
    0.59375
    """
    return 0.5 + offset / spacing - pin_offset / spacing * math.tan(tilt)


def require_inside(spacing: float, offset: float) -> None:
    """Refuse a trunnion outside the clevises."""
    if abs(offset) >= spacing / 2:
        raise Refused(
            "trunnion_offset",
            f"must stay inside the clevises, less than {500 * spacing:g} mm from the middle",
            f"{1e3 * offset:g} mm",
            label="Trunnion off the middle",
        )


class BalanceBar(NamedTuple):
    """How the bar shares the force, now and after some turns of the screw."""

    front_share: Annotated[Ratio, Output("Share of the force on the front cylinder", "s_f", "%")]
    front_force: Annotated[Newtons, Output("Force on the front cylinder", "F_f", "N")]
    rear_force: Annotated[Newtons, Output("Force on the rear cylinder", "F_r", "N")]
    tilt: Annotated[Radians, Output("Tilt of the bar, front clevis ahead", r"\theta", "°", 3)]
    share_per_turn: Annotated[Ratio | None, Output("Share moved by one turn of the screw", r"\Delta s", "%", 3)]
    share_after: Annotated[Ratio | None, Output("Front share after the turns", "s_n", "%")]
    square_share: Annotated[Ratio, Output("Front share with the bar square", "s_0", "%", detail=True)]
    flags: tuple[str, ...]


def _remarks(result: BalanceBar, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    low, high = USABLE_SHARE
    remarks = [
        Remark(
            "A share of the bar is not a share of the braking: bores, calipers, pads and discs come after it.",
            about="front_share",
        )
    ]
    if not low <= result.front_share <= high:
        remarks.append(
            Remark(
                "Beyond about 2 to 1 a bar has little travel left: choose other bores and bring it near its middle.",
                "caution",
                "front_share",
            )
        )
    if abs(result.tilt) > _STEEP:
        remarks.append(
            Remark(
                "More than 5° of tilt: set the rods so that the bar is square at working pressure, not at rest.",
                "caution",
                "tilt",
            )
        )
    return tuple(remarks)


def _figures(result: BalanceBar, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    s, o, e, tilt = inputs["spacing"], inputs["trunnion_offset"], inputs["pin_offset"], result.tilt
    offsets = [s * (i / 20 - 0.5) * 0.98 for i in range(21)]
    along, ahead = math.cos(tilt), math.sin(tilt)
    # The front clevis is drawn at the top; the push goes to the right.
    front, rear, trunnion = (s / 2 * ahead, s / 2 * along), (-s / 2 * ahead, -s / 2 * along), (o * ahead - e, o * along)
    return (
        Chart(
            "Front share over the place of the trunnion",
            "A straight line: each millimetre of the trunnion moves the same share. Outside the shaded range a bar has little travel left.",
            Axis("Trunnion towards the front clevis", "mm"),
            Axis("Front share of the force", "%"),
            (
                Series("Front share", offsets, [rod_share(s, x, e, tilt) for x in offsets]),
                Series("Here", [o], [result.front_share], points=True),
            ),
            (Band("Usable range", [offsets[0], offsets[-1]], [USABLE_SHARE[0]] * 2, [USABLE_SHARE[1]] * 2),),
        ),
        Drawing(
            "The bar seen from above",
            "The two clevises, the trunnion between them and the forces on the cylinders.",
            ("push", "front circuit"),
            (
                Shape("line", (front, rear), "link"),
                Shape("arrow", (front, (front[0] + s * result.front_share, front[1])), "force", "front"),
                Shape("arrow", (rear, (rear[0] + s * (1 - result.front_share), rear[1])), "force", "rear"),
                Shape("point", (trunnion,), "result", "trunnion"),
            ),
        ),
    )


@calculator(
    title="Balance bar",
    question="How does the bar share the pedal's force, and what does one turn of the screw do?",
    example={
        "rod_force": "2000 N",
        "spacing": "64 mm",
        "trunnion_offset": "1.5 mm",
        "front_stroke": "13 mm",
        "rear_stroke": "11 mm",
        "screw_pitch": "1.27 mm",
        "turns": "2",
    },
    working=(
        Step(r"s_0 = \frac{1}{2} + \frac{o}{s}", "square_share"),
        Step(r"s_f = s_0 - \frac{e}{s} \tan\theta", "front_share"),
        Step(r"F_f = s_f \, F", "front_force"),
        Step(r"\Delta s = \frac{P}{s}", "share_per_turn"),
    ),
    remarks=with_care(_remarks),
    figures=_figures,
)
def balance_bar(
    *,
    rod_force: Annotated[Newtons, Input("Force of the pedal on the bar", "F", "N", above=0, at_most=1e5)],
    spacing: BarSpacing,
    trunnion_offset: Offset = 0.0,
    pin_offset: Annotated[
        Metres,
        Input(
            "Trunnion pin ahead of the line of the clevis pins, in the push direction",
            "e",
            "mm",
            above=-0.1,
            below=0.1,
            help="Zero with the pins in one line: then tilt alone does not move the balance.",
        ),
    ] = 0.0,
    tilt: Annotated[
        Radians | None,
        Input(
            "Tilt of the bar, front clevis ahead",
            r"\theta",
            "°",
            above=-1.2,
            below=1.2,
            help="Or give the two strokes.",
        ),
    ] = None,
    front_stroke: Annotated[
        Metres | None, Input("Stroke of the front cylinder", "x_f", "mm", at_least=0, at_most=0.2)
    ] = None,
    rear_stroke: Annotated[
        Metres | None, Input("Stroke of the rear cylinder", "x_r", "mm", at_least=0, at_most=0.2)
    ] = None,
    screw_pitch: Annotated[
        Metres | None, Input("Pitch of the bar's thread", "P", "mm", above=0, at_most=0.01, typical=(0.0007, 0.002))
    ] = None,
    turns: Annotated[Ratio, Input("Turns of the screw, towards the front", "n", "", at_least=-50, at_most=50)] = 0.0,
) -> BalanceBar:
    """Return how a balance bar shares the pedal's force between the two cylinders.

    Equation: F_f = F (1/2 + o/s - (e/s) tan(theta));  theta = atan((x_f - x_r)/s);  one turn moves P/s.
    Valid for: parallel rods, spacing held by the cylinders, both clevises moved together by the thread (check which design it is).
    Signs: o positive towards the front clevis; theta positive when the front clevis leads; e positive in the push direction.
    Caution: lock the bar after setting it, and check that a clevis has 0.2 to 0.5 mm of side play over the whole stroke.
    Source: statics, derived; the usable range of about 2 to 1 is a trade guide's.

    >>> balance_bar(rod_force=3000, spacing=0.064, trunnion_offset=0.006).front_force
    1781.25
    """
    require_inside(spacing, trunnion_offset)
    strokes = front_stroke is not None and rear_stroke is not None
    angle = (
        tilt
        if tilt is not None
        else math.atan(((front_stroke or 0) - (rear_stroke or 0)) / spacing)
        if strokes
        else 0.0
    )
    share = rod_share(spacing, trunnion_offset, pin_offset, angle)
    if not 0 < share < 1:
        raise Refused(
            "pin_offset",
            "must leave both cylinders pushed: this tilt takes the whole force",
            f"{1e3 * pin_offset:g} mm",
        )
    per_turn = None if screw_pitch is None else screw_pitch / spacing
    after, flags = share, tuple[str, ...]()
    if per_turn is not None:
        after = share + turns * per_turn
        if not 0 < after < 1:
            after, flags = min(1.0, max(0.0, after)), ("The turns run the trunnion into a clevis.",)
    return BalanceBar(
        share,
        share * rod_force,
        (1 - share) * rod_force,
        angle,
        per_turn,
        None if per_turn is None else after,
        rod_share(spacing, trunnion_offset),
        flags,
    )

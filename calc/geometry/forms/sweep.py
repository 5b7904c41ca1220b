"""One wheel over its travel: the curves of a linkage."""

from collections.abc import Mapping, Sequence
from typing import Annotated, Any, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, calculator
from calc.geometry.forms.examples import STRUT_WITH_ROD
from calc.geometry.forms.inputs import (
    BarMember,
    Bump,
    Droop,
    LinkageKind,
    LoadedRadius,
    Member,
    Points,
    Rack,
    StaticCamber,
    StaticToe,
    corner_of,
    rows_named,
    spaced,
)
from calc.geometry.motion import Corner
from calc.geometry.readings import Reading, readings
from calc.refusal import Refused
from calc.units import Metres, Radians, Ratio

Count = Annotated[int, Input("Number of positions", "n", at_least=5, at_most=161, typical=(11, 81))]


class Curves(NamedTuple):
    """The curves of a wheel from full droop to full bump; none where a curve does not exist for the linkage."""

    travel: Annotated[tuple[Metres, ...], Output("Wheel travel", "z", "mm", 4)]
    camber: Annotated[tuple[Radians, ...], Output("Camber", r"\gamma", "°", 4)]
    toe_in: Annotated[tuple[Radians, ...], Output("Toe-in", r"\tau", "°", 4)]
    half_track_change: Annotated[tuple[Metres, ...], Output("Half-track change", r"\Delta y_C", "mm", 4)]
    wheel_dx: Annotated[tuple[Metres, ...], Output("Wheel centre moved forward", r"\Delta x_W", "mm", 4)]
    roll_centre_height: Annotated[tuple[Metres, ...], Output("Roll centre above ground", "h_{RC}", "mm", 4)]
    contact_slope: Annotated[
        tuple[Ratio, ...], Output("Forward motion of the contact point for each unit of bump", "b_C", "", 4)
    ]
    caster: Annotated[tuple[Radians, ...] | None, Output("Caster", r"\nu", "°", 4)]
    trail: Annotated[tuple[Metres, ...] | None, Output("Mechanical trail", "n", "mm", 4)]
    scrub: Annotated[tuple[Metres, ...] | None, Output("Scrub radius", "r_s", "mm", 4)]
    spring_ratio: Annotated[tuple[Ratio, ...] | None, Output("Motion ratio of the spring", "MR_s", "", 4)]
    damper_ratio: Annotated[tuple[Ratio, ...] | None, Output("Motion ratio of the damper", "MR_d", "", 4)]
    lowest: Annotated[Metres | None, Output("Locks in droop at", "z_-", "mm", 4)]
    highest: Annotated[Metres | None, Output("Locks in bump at", "z_+", "mm", 4)]
    flags: tuple[str, ...]


def column(rows: Sequence[Reading], name: str) -> Any:
    """Return one output over all rows, or none if it does not exist in any of them."""
    values = tuple(getattr(row, name) for row in rows)
    return None if any(value is None for value in values) else values


def swept(corner: Corner, bump: float, droop: float, count: int, rack: float, points: Any) -> tuple[Reading, ...]:
    """Return the readings from droop to bump; a limit on the way is refused by the input that asks beyond it."""
    try:
        with rows_named(points):
            return readings(corner, spaced(-droop, bump, count), rack)
    except Refused as problem:
        if problem.input != "travel":
            raise
        side = "bump" if "bump" in problem.rule else "droop"
        raise Refused(
            side, problem.rule, problem.value, label="Travel up to" if side == "bump" else "Travel down to"
        ) from None


def _remarks(result: Curves, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    ratios = result.spring_ratio
    if ratios is None:
        return ()
    rising = ratios[-1] - ratios[0]
    word = "rises" if rising > 0 else "falls"
    return (
        Remark(
            f"The motion ratio {word} by {100 * abs(rising) / ratios[0]:.1f} % from droop to bump: the wheel rate {word} by about twice that.",
            about="spring_ratio",
        ),
    )


def _figures(result: Curves, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    z = result.travel
    axis = Axis("Wheel travel, bump positive", "mm")
    figures = [
        Chart(
            "Camber over travel",
            "Camber of the left wheel; the steeper, the more the wheel follows or leaves the road as the body moves.",
            axis,
            Axis("Camber", "°"),
            (Series("Camber", z, result.camber),),
        ),
        Chart(
            "Toe-in over travel",
            "Toe-in of the left wheel: bump steer. A flat line is none.",
            axis,
            Axis("Toe-in", "°"),
            (Series("Toe-in", z, result.toe_in),),
        ),
        Chart(
            "Roll centre and half-track over travel",
            "Height of the roll centre with both wheels at the same travel, and how far the contact point slides outboard.",
            axis,
            Axis("Height, shift", "mm"),
            (
                Series("Roll centre height", z, result.roll_centre_height),
                Series("Half-track change", z, result.half_track_change),
            ),
        ),
    ]
    ratios = [
        Series(name, z, curve)
        for name, curve in (("Spring", result.spring_ratio), ("Damper", result.damper_ratio))
        if curve
    ]
    if ratios:
        figures.append(
            Chart(
                "Motion ratio over travel",
                "Spring or damper travel for each unit of wheel travel.",
                axis,
                Axis("Motion ratio", ""),
                tuple(ratios),
            )
        )
    return tuple(figures)


@calculator(
    title="Curves of a linkage over wheel travel",
    question="How do camber, toe, roll centre and motion ratio change from droop to bump?",
    example={
        "linkage": "strut_with_rod",
        "points": STRUT_WITH_ROD,
        "loaded_radius": "305 mm",
        "static_camber": "-2.2 deg",
        "static_toe_in": "0.05 deg",
        "bump": "70 mm",
        "droop": "70 mm",
    },
    remarks=_remarks,
    figures=_figures,
)
def travel_curves(
    *,
    linkage: LinkageKind,
    points: Points,
    loaded_radius: LoadedRadius,
    static_camber: StaticCamber = 0.0,
    static_toe_in: StaticToe = 0.0,
    bump: Bump,
    droop: Droop,
    count: Count = 41,
    rack: Rack = 0.0,
    spring_on: Member = "carrier",
    bar_on: BarMember = "lower_arm",
) -> Curves:
    """Return the curves of the left wheel from full droop to full bump, and where the linkage locks.

    Equation: as for one position, walked outwards from the drawn height in small steps, so that no other assembly of the same lengths is met.
    Signs: x forward, y left, z up (ISO 8855), chassis held; bump positive; motion ratio is spring travel for each unit of wheel travel.
    Valid for: rigid members and joints, thin disc wheel on level ground. A lock is looked for up to half a metre away from the drawn height.
    Caution: never run a car to a lock; leave the travel to the bump stop and the droop stop.
    Source: kinematics of rigid bodies, derived; checked against an independent numerical solution of the same constraints.

    >>> from calc.ask.evaluate import evaluate
    >>> from calc.form import about
    >>> said = evaluate("travel_curves", about(travel_curves).example, figures=False)
    >>> len(said["outputs"][1]["value"])
    41
    """
    corner = corner_of(linkage, points, loaded_radius, static_camber, static_toe_in, spring_on, bar_on)
    rows = swept(corner, bump, droop, count, rack, points)
    with rows_named(points):
        lowest, highest = corner.limits(rack)
    columns = {name: column(rows, name) for name in Curves._fields if name not in ("lowest", "highest", "flags")}
    flags = []
    for limit, asked, way in ((lowest, droop, "droop"), (highest, bump, "bump")):
        if limit is not None and abs(limit) < 1.15 * asked:
            flags.append(
                f"The linkage locks at {1000 * abs(limit):.0f} mm of {way}, close to the travel asked for: stops must hold the wheel well before."
            )
    return Curves(**columns, lowest=lowest, highest=highest, flags=tuple(flags))

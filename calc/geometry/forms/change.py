"""Before and after: what every change of points has in common. The answer is the wheel before, after, and the difference."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Annotated, Any, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Output, Remark
from calc.geometry.adjust import adjusters, reset
from calc.geometry.forms.inputs import Hardpoint, corner_of, rows_named, spaced
from calc.geometry.linkage import Linkage
from calc.geometry.linkages import KINDS
from calc.geometry.motion import Corner
from calc.geometry.readings import Reading, reading, readings
from calc.geometry.scene import drawings
from calc.geometry.wheel import camber, toe_in
from calc.units import Metres, Radians, RadiansPerMetre, Ratio

WHEEL = ("linkage", "points", "loaded_radius", "static_camber", "static_toe_in", "spring_on")
_CURVE = 0.06  # m, travel shown either way


class Change(NamedTuple):
    """The wheel before and after a change, at ride height each. None where a thing does not exist for the linkage."""

    camber: Annotated[Radians, Output("Camber after", r"\gamma", "°", 4)]
    toe_in: Annotated[Radians, Output("Toe-in after", r"\tau", "°", 4)]
    roll_centre_height: Annotated[Metres, Output("Roll centre height after", "h_{RC}", "mm", 4)]
    roll_centre_change: Annotated[Metres, Output("Roll centre moved by", r"\Delta h_{RC}", "mm", 4)]
    camber_rate: Annotated[RadiansPerMetre, Output("Camber change with travel after", r"d\gamma/dz", "deg/m", 4)]
    toe_in_rate: Annotated[RadiansPerMetre, Output("Bump steer after", r"d\tau/dz", "deg/m", 4)]
    contact_slope: Annotated[
        Ratio, Output("Forward motion of the contact point in bump after (anti effects)", "b_C", "", 4)
    ]
    wheel_slope: Annotated[Ratio, Output("Forward motion of the wheel centre in bump after", "b_W", "", 4)]
    caster: Annotated[Radians | None, Output("Caster after", r"\nu", "°", 4)]
    inclination: Annotated[Radians | None, Output("Steering-axis inclination after", r"\sigma", "°", 4)]
    trail: Annotated[Metres | None, Output("Mechanical trail after", "n", "mm", 4)]
    scrub: Annotated[Metres | None, Output("Scrub radius after", "r_s", "mm", 4)]
    half_track_change: Annotated[Metres, Output("Contact point moved outboard", r"\Delta y_C", "mm", 4)]
    spring_ratio: Annotated[Ratio | None, Output("Motion ratio of the spring after", "MR_s", "", 4)]
    body_lower: Annotated[Metres, Output("Body lower by", r"\Delta h", "mm", 4)]
    toe_adjusted: Annotated[Metres | None, Output("Toe link longer by, to keep static toe", r"\Delta l_\tau", "mm", 3)]
    camber_adjusted: Annotated[
        Metres | None, Output("Camber adjuster moved by, to keep static camber", r"\Delta l_\gamma", "mm", 3)
    ]
    before_camber: Annotated[Radians, Output("Camber before", r"\gamma", "°", 4, detail=True)]
    before_toe_in: Annotated[Radians, Output("Toe-in before", r"\tau", "°", 4, detail=True)]
    before_roll_centre: Annotated[Metres, Output("Roll centre height before", "h_{RC}", "mm", 4, detail=True)]
    before_camber_rate: Annotated[
        RadiansPerMetre, Output("Camber change with travel before", "", "deg/m", 4, detail=True)
    ]
    before_toe_in_rate: Annotated[RadiansPerMetre, Output("Bump steer before", "", "deg/m", 4, detail=True)]
    before_contact_slope: Annotated[Ratio, Output("Forward motion of the contact point before", "", "", 4, detail=True)]
    before_caster: Annotated[Radians | None, Output("Caster before", "", "°", 4, detail=True)]
    before_trail: Annotated[Metres | None, Output("Mechanical trail before", "", "mm", 4, detail=True)]
    before_scrub: Annotated[Metres | None, Output("Scrub radius before", "", "mm", 4, detail=True)]
    before_spring_ratio: Annotated[Ratio | None, Output("Motion ratio of the spring before", "", "", 4, detail=True)]


class Both(NamedTuple):
    """A corner before and after, the travel each stands at, and how far the adjusters went."""

    before: Corner
    after: Corner
    travel: float
    toe_adjusted: float | None = None
    camber_adjusted: float | None = None


def base_corner(inputs: Mapping[str, Any]) -> Corner:
    """Return the corner before any change."""
    return corner_of(*(inputs[name] for name in WHEEL))


def both(
    before: Corner, changed: Linkage, kind: str, travel: float, points: Sequence[Hardpoint], *, realign: bool
) -> Both:
    """Return the corner before and after, toe and camber set back to what they were by the links that adjust them if asked."""
    with rows_named(points):
        if not realign or adjusters(KINDS[kind])[0] is None:
            return Both(before, Corner(changed), travel)
        spin = before.spin
        wanted = camber(spin) if adjusters(KINDS[kind])[1] else None
        setting = reset(changed, KINDS[kind], travel, toe_in(spin), wanted)
        return Both(
            before, Corner(setting.linkage), travel, setting.toe, setting.camber if wanted is not None else None
        )


def answer(pair: Both, points: Sequence[Hardpoint], body_lower: float = 0.0) -> Change:
    """Return the answer of a change."""
    with rows_named(points):
        was = reading(pair.before, pair.before.state())
        now = reading(pair.after, pair.after.state(pair.travel))
    outboard = round(
        now.half_track_change + pair.after.drawn_contact[1] - pair.before.drawn_contact[1], 12
    )  # no noise of the solver
    return Change(
        now.camber,
        now.toe_in,
        now.roll_centre_height,
        now.roll_centre_height - was.roll_centre_height,
        *_steady(now),
        outboard,
        now.spring_ratio,
        body_lower,
        pair.toe_adjusted,
        pair.camber_adjusted,
        was.camber,
        was.toe_in,
        was.roll_centre_height,
        was.camber_rate,
        was.toe_in_rate,
        was.contact_slope,
        was.caster,
        was.trail,
        was.scrub,
        was.spring_ratio,
    )


def _steady(row: Reading) -> tuple[float, float, float, float, float | None, float | None, float | None, float | None]:
    return (
        row.camber_rate,
        row.toe_in_rate,
        row.contact_slope,
        row.wheel_slope,
        row.caster,
        row.inclination,
        row.trail,
        row.scrub,
    )


def remarks(result: Change, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    """Return what stands out after a change."""
    said = []
    if abs(result.toe_in_rate) > 2 * abs(result.before_toe_in_rate) + 0.02:
        said.append(
            Remark(
                "Bump steer is much worse than before: the tie-rod end has to follow the change.",
                "caution",
                "toe_in_rate",
            )
        )
    if result.roll_centre_height < 0 <= result.before_roll_centre:
        said.append(Remark("The roll centre has gone below the ground.", "caution", "roll_centre_height"))
    if (
        abs(result.body_lower) > 0
        and result.scrub is not None
        and result.before_scrub is not None
        and result.scrub > result.before_scrub + 0.015
    ):
        said.append(
            Remark(
                "The scrub radius has grown by more than 15 mm: the steering will kick back harder over bumps and under braking.",
                "caution",
                "scrub",
            )
        )
    return tuple(said)


def figures_of(pair: Both) -> Iterator[Figure]:
    """Yield the three views with the state before in broken lines, and camber and toe curves before and after."""
    yield from drawings(pair.after, pair.after.state(pair.travel), (pair.before, pair.before.state()))
    z = spaced(-_CURVE, _CURVE, 13)
    was = readings(pair.before, z)
    now = readings(pair.after, [value + pair.travel for value in z])
    axis = Axis("Wheel travel from ride height, bump positive", "mm")

    def chart(title: str, name: str, label: str) -> Chart:
        return Chart(
            f"{title} before and after",
            f"{title} of the left wheel over travel from ride height, before and after the change.",
            axis,
            Axis(label, "°"),
            (
                Series("Before", z, [getattr(row, name) for row in was]),
                Series("After", z, [getattr(row, name) for row in now]),
            ),
        )

    yield chart("Camber", "camber", "Camber")
    yield chart("Toe-in", "toe_in", "Toe-in")

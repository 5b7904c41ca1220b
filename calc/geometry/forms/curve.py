"""Any output of a wheel over travel, steering or roll, beside the drawing whose points make it."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from math import radians
from typing import Annotated, Any, Literal, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Choice, Input, Output, calculator
from calc.geometry.forms.examples import DOUBLE_WISHBONE
from calc.geometry.forms.inputs import (
    BarMember,
    Bump,
    Droop,
    LinkageKind,
    LoadedRadius,
    Member,
    Points,
    StaticCamber,
    StaticToe,
    corner_of,
    rows_named,
    spaced,
)
from calc.geometry.forms.position import corner_from
from calc.geometry.forms.sweep import swept
from calc.geometry.motion import Corner
from calc.geometry.readings import Reading, reading, readings
from calc.geometry.roll import wheel_in_roll
from calc.geometry.scene import drawings
from calc.refusal import Refused
from calc.units import Metres, Radians, RadiansPerMetre, Ratio

_COUNT = 21
_ROLL = radians(4)


class Shown(NamedTuple):
    """An output that can be drawn: its words, the unit it is written in, and the list of the result it stands in."""

    words: str
    unit: str
    kind: Literal["angle", "length", "rate", "ratio"]


SHOWN: Mapping[str, Shown] = {
    "camber": Shown("Camber", "°", "angle"),
    "toe_in": Shown("Toe-in", "°", "angle"),
    "roll_centre_height": Shown("Roll centre above ground", "mm", "length"),
    "half_track_change": Shown("Half-track change, outboard positive", "mm", "length"),
    "wheel_dx": Shown("Wheel centre moved forward", "mm", "length"),
    "camber_rate": Shown("Camber change with travel", "deg/m", "rate"),
    "toe_in_rate": Shown("Toe-in change with travel (bump steer)", "deg/m", "rate"),
    "caster": Shown("Caster", "°", "angle"),
    "inclination": Shown("Steering-axis inclination", "°", "angle"),
    "trail": Shown("Mechanical trail", "mm", "length"),
    "scrub": Shown("Scrub radius, axis inboard positive", "mm", "length"),
    "contact_slope": Shown("Forward motion of the contact point for each unit of bump", "", "ratio"),
    "spring_ratio": Shown("Motion ratio of the spring", "", "ratio"),
    "damper_ratio": Shown("Motion ratio of the damper", "", "ratio"),
}
_AGAINST: Mapping[str, tuple[str, str]] = {
    "travel": ("Wheel travel, bump positive", "mm"),
    "rack": ("Rack travel, to the left positive", "mm"),
    "roll": ("Body roll, left side up", "°"),
}


class Curve(NamedTuple):
    """One output at evenly spaced positions. Of the last four lists there is the one the output belongs to."""

    travel: Annotated[tuple[Metres, ...], Output("Wheel travel", "z", "mm", 4)]
    rack: Annotated[tuple[Metres, ...] | None, Output("Rack travel", "u", "mm", 4)]
    roll: Annotated[tuple[Radians, ...] | None, Output("Body roll", r"\varphi", "°", 4)]
    angle: Annotated[tuple[Radians, ...] | None, Output("Output, an angle", "", "°", 4)]
    length: Annotated[tuple[Metres, ...] | None, Output("Output, a length", "", "mm", 4)]
    rate: Annotated[tuple[RadiansPerMetre, ...] | None, Output("Output, an angle with travel", "", "deg/m", 4)]
    ratio: Annotated[tuple[Ratio, ...] | None, Output("Output, a ratio", "", "", 4)]


def _over_roll(corner: Corner, most: float, wanted: str) -> tuple[Reading, ...]:
    """Return the left wheel over roll. Camber and toe are those the road sees."""
    if wanted == "roll_centre_height":
        raise Refused(
            "shown",
            "must be an output of one wheel over roll",
            wanted,
            hint="The roll centre of both wheels in roll has a calculator of its own.",
            label="Output",
        )
    wheels = [wheel_in_roll(corner, roll) for roll in spaced(-most, most, _COUNT)]
    return tuple(
        reading(corner, wheel.state)._replace(camber=wheel.camber_to_ground, toe_in=wheel.toe_in) for wheel in wheels
    )


def _over_rack(corner: Corner, lock: float) -> tuple[Reading, ...]:
    return tuple(readings(corner, [0.0], rack)[0] for rack in spaced(-lock, lock, _COUNT))


def _figures(result: Curve, inputs: Mapping[str, Any]) -> Iterator[Figure]:
    corner = corner_from(inputs)
    yield from drawings(corner, corner.state())
    shown, along = SHOWN[inputs["shown"]], inputs["against"]
    words, unit = _AGAINST[along]
    values: Sequence[float] = getattr(result, shown.kind)
    to_road = ", to the road" if along == "roll" and inputs["shown"] in ("camber", "toe_in") else ""
    yield Chart(
        f"{shown.words} over {along}",
        f"{shown.words} of the left wheel{to_road}, with the points as they are drawn above. {words} is across.",
        Axis(words, unit),
        Axis(shown.words.split(",")[0], shown.unit),
        (Series(shown.words.split(",")[0], getattr(result, along), values),),
    )


@calculator(
    title="Any output over travel, steering or roll",
    question="I move a point: what does this output then do over travel, steering or roll?",
    example={
        "linkage": "double_wishbone",
        "points": DOUBLE_WISHBONE,
        "loaded_radius": "282 mm",
        "static_camber": "-1.5 deg",
        "static_toe_in": "0.05 deg",
        "shown": "camber",
        "against": "travel",
        "bump": "60 mm",
        "droop": "60 mm",
        "lock": "50 mm",
        "roll_to": "4 deg",
        "spring_on": "lower_arm",
    },
    figures=_figures,
)
def linkage_curve(
    *,
    linkage: LinkageKind,
    points: Points,
    loaded_radius: LoadedRadius,
    static_camber: StaticCamber = 0.0,
    static_toe_in: StaticToe = 0.0,
    shown: Annotated[
        Literal[
            "camber",
            "toe_in",
            "roll_centre_height",
            "half_track_change",
            "wheel_dx",
            "camber_rate",
            "toe_in_rate",
            "caster",
            "inclination",
            "trail",
            "scrub",
            "contact_slope",
            "spring_ratio",
            "damper_ratio",
        ],
        Choice("Output", {name: each.words for name, each in SHOWN.items()}),
    ] = "camber",
    against: Annotated[
        Literal["travel", "rack", "roll"],
        Choice("Over", {"travel": "wheel travel", "rack": "steering (rack travel)", "roll": "body roll"}),
    ] = "travel",
    bump: Bump = 0.06,
    droop: Droop = 0.06,
    lock: Annotated[
        Metres, Input("Rack travel either way", "u_{max}", "mm", above=0, at_most=0.3, typical=(0.02, 0.09))
    ] = 0.05,
    roll_to: Annotated[
        Radians,
        Input(
            "Body roll either way",
            r"\varphi_{max}",
            "°",
            above=0,
            at_most=radians(15),
            typical=(radians(1), radians(6)),
        ),
    ] = _ROLL,
    spring_on: Member = "carrier",
    bar_on: BarMember = "lower_arm",
) -> Curve:
    """Return one output of the left wheel over wheel travel, rack travel or body roll, at 21 positions.

    Equation: at each position as for one wheel at one position; over roll the travel is the one that puts the tyre on the level ground.
    Signs: x forward, y left, z up; bump, rack to the left, and roll with the left side up are positive. Over roll camber and toe are to the road;
    everything else is seen from the body.
    Valid for: rigid members and joints, thin disc wheel on level ground; steering at ride height, roll without heave and with the wheels straight ahead.
    Caution: a dragged point is an idea, not a bracket: check clearance, and leave pickups to a licensed fabricator and the scrutineer.
    Source: kinematics of rigid bodies, derived; checked against an independent numerical solution of the same constraints.

    >>> from calc.ask.evaluate import evaluate
    >>> from calc.form import about
    >>> said = evaluate("linkage_curve", about(linkage_curve).example, figures=False)
    >>> [each["name"] for each in said["outputs"] if each["value"] is not None], len(said["outputs"][0]["value"])
    (['travel', 'angle'], 21)
    """
    corner = corner_of(linkage, points, loaded_radius, static_camber, static_toe_in, spring_on, bar_on)
    sweeps: dict[str, Callable[[], tuple[Reading, ...]]] = {
        "travel": lambda: swept(corner, bump, droop, _COUNT, 0.0, points),
        "rack": lambda: _over_rack(corner, lock),
        "roll": lambda: _over_roll(corner, roll_to, shown),
    }
    with rows_named(points, rack="lock", travel="roll_to"):
        rows = sweeps[against]()
    values = [round(value, 12) for row in rows if (value := getattr(row, shown)) is not None]  # no noise of the solver
    if len(values) < len(rows):
        raise Refused("shown", "must be one this linkage has, with its points in the table", shown, label="Output")
    return Curve(
        tuple(row.travel for row in rows),
        tuple(row.rack for row in rows) if against == "rack" else None,
        tuple(spaced(-roll_to, roll_to, _COUNT)) if against == "roll" else None,
        *(tuple(values) if SHOWN[shown].kind == kind else None for kind in ("angle", "length", "rate", "ratio")),
    )

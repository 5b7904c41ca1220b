"""Measuring points: a point from tape distances, and what a millimetre of error does to every output."""

from collections.abc import Mapping, Sequence
from math import hypot
from typing import Annotated, Any, NamedTuple

from calc.form import Input, Output, Remark, Step, calculator
from calc.geometry.checks import plain
from calc.geometry.forms.examples import DOUBLE_WISHBONE
from calc.geometry.forms.inputs import (
    LinkageKind,
    LoadedRadius,
    Member,
    Points,
    StaticCamber,
    StaticToe,
    corner_of,
    rows_named,
)
from calc.geometry.linkage import Linkage
from calc.geometry.motion import Corner
from calc.geometry.readings import reading
from calc.geometry.spread import effects, root_sum
from calc.geometry.survey import locate
from calc.geometry.vectors import Vector
from calc.units import Metres, Radians, RadiansPerMetre, Ratio

_REMEASURE = 0.0015  # m, common practice


class Distance(NamedTuple):
    """One tape distance from a known point."""

    x: Annotated[Metres, Input("Known point, forward", "x", "mm", at_least=-20, at_most=20)]
    y: Annotated[Metres, Input("left", "y", "mm", at_least=-20, at_most=20)]
    z: Annotated[Metres, Input("up", "z", "mm", at_least=-20, at_most=20)]
    distance: Annotated[Metres, Input("Distance to the point", "d", "mm", above=0, at_most=20)]


class Place(NamedTuple):
    """Where the point is and how sure that is."""

    x: Annotated[Metres, Output("Forward", "x", "mm", 5)]
    y: Annotated[Metres, Output("Left", "y", "mm", 5)]
    z: Annotated[Metres, Output("Up", "z", "mm", 5)]
    rms: Annotated[Metres, Output("Residuals, rms", "r", "mm", 3)]
    error_x: Annotated[Metres | None, Output("Standard error forward", "s_x", "mm", 3)]
    error_y: Annotated[Metres | None, Output("Standard error left", "s_y", "mm", 3)]
    error_z: Annotated[Metres | None, Output("Standard error up", "s_z", "mm", 3)]
    residuals: Annotated[tuple[Metres, ...], Output("Residual of each distance, too long is positive", "r_i", "mm", 3)]
    flags: tuple[str, ...]


def _place_remarks(result: Place, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    said = []
    if result.rms > _REMEASURE:
        said.append(
            Remark(
                "More than 1.5 mm rms: a distance is misread, or a known point is not where it is said to be. Measure the one with the largest residual again.",
                "caution",
                "rms",
            )
        )
    if result.error_x is None:
        said.append(Remark("Three distances leave nothing to check with: take four or more.", "caution", "distances"))
    return tuple(said)


@calculator(
    title="A point from tape distances",
    question="Where is this joint, from tape distances to points I know?",
    example={
        "distances": [
            ["0 mm", "0 mm", "0 mm", "885 mm"],
            ["1200 mm", "0 mm", "50 mm", "841.5 mm"],
            ["0 mm", "900 mm", "0 mm", "777.5 mm"],
            ["1200 mm", "900 mm", "0 mm", "747.5 mm"],
            ["600 mm", "300 mm", "900 mm", "640 mm"],
        ]
    },
    working=(
        Step(r"\min_p \sum_i \left(|p - q_i| - d_i\right)^2", "rms"),
        Step(r"s = \sqrt{\frac{\sum r_i^2}{n - 3}\,(J^T J)^{-1}}", "error_x"),
    ),
    remarks=_place_remarks,
)
def point_from_distances(
    *,
    distances: Annotated[
        tuple[Distance, ...],
        Input(
            "Known points and distances",
            help="Four or more, from different sides; level floor plate and plumb bobs make good known points.",
        ),
    ],
) -> Place:
    """Return a point from its distances to known points, by least squares.

    Equation: least sum of (|p - q_i| - d_i)^2 by Gauss-Newton; rms = sqrt(sum r^2 / n); standard errors = roots of the diagonal of
    sum r^2 / (n - 3) (J^T J)^-1, the rows of J being unit vectors from the known points to the point.
    Signs: x forward, y left, z up; a residual is positive when the tape read too long. Known points in one plane leave two mirror images: the upper one is taken.
    Valid for: errors of the tape alone, known points exact.
    Caution: car on stands at ride height that cannot tip; never reach under a car held by a jack.
    Source: least squares, derived; checked against an independent minimiser.

    >>> rows = tuple(Distance(*q, 0.75**0.5) for q in ((0, 0, 0), (1, 0, 0), (0, 1, 0), (0, 0, 1)))
    >>> round(point_from_distances(distances=rows).x, 9)
    0.5
    """
    places = [(row.x, row.y, row.z) for row in distances]
    found = locate(places, [row.distance for row in distances])
    x, y, z = found.errors or (None, None, None)
    return Place(*found.point, found.rms, x, y, z, found.residuals, _mirror_flag(places))


def _mirror_flag(places: Sequence[Vector]) -> tuple[str, ...]:
    heights = [z for _, _, z in places]
    flat = max(heights) - min(heights) < 1e-3
    return (
        ("All known points lie at one height: the point could as well be below them; the upper one is shown.",)
        if flat
        else ()
    )


class Spread(NamedTuple):
    """Standard deviation of the outputs when every coordinate of every point has the given one, and who is to blame."""

    roll_centre: Annotated[Metres, Output("Roll centre height", "s_{RC}", "mm", 3)]
    bump_steer: Annotated[RadiansPerMetre, Output("Bump steer", "s_{a}", "deg/m", 3)]
    camber_rate: Annotated[RadiansPerMetre, Output("Camber change with travel", r"s_{\gamma}", "deg/m", 3)]
    contact_slope: Annotated[Ratio, Output("Forward motion of the contact point in bump (anti effects)", "s_b", "", 3)]
    caster: Annotated[Radians | None, Output("Caster", r"s_\nu", "°", 3)]
    trail: Annotated[Metres | None, Output("Mechanical trail", "s_n", "mm", 3)]
    scrub: Annotated[Metres | None, Output("Scrub radius", "s_r", "mm", 3)]
    spring_ratio: Annotated[Ratio | None, Output("Motion ratio of the spring", "s_{MR}", "", 3)]
    worst_for_roll_centre: Annotated[str, Output("Point that matters most for the roll centre")]
    worst_for_bump_steer: Annotated[str, Output("Point that matters most for bump steer")]


_FIELDS = (
    "roll_centre_height",
    "toe_in_rate",
    "camber_rate",
    "contact_slope",
    "caster",
    "trail",
    "scrub",
    "spring_ratio",
)


def _spread_remarks(result: Spread, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            "Bump steer from measured points is the least sure of all: measure the toe curve itself with the wheel moved up and down.",
            about="bump_steer",
        ),
    )


@calculator(
    title="What a millimetre of measuring error does",
    question="How sure are roll centre, bump steer and caster when every point is a millimetre off?",
    example={
        "linkage": "double_wishbone",
        "points": DOUBLE_WISHBONE,
        "loaded_radius": "282 mm",
        "static_camber": "-1.5 deg",
        "static_toe_in": "0.05 deg",
        "error": "1 mm",
        "spring_on": "lower_arm",
    },
    working=(Step(r"s_f = s\,\sqrt{\sum_k \left(\frac{\partial f}{\partial p_k}\right)^2}", "roll_centre"),),
    remarks=_spread_remarks,
)
def point_errors(
    *,
    linkage: LinkageKind,
    points: Points,
    loaded_radius: LoadedRadius,
    static_camber: StaticCamber = 0.0,
    static_toe_in: StaticToe = 0.0,
    error: Annotated[
        Metres, Input("Standard error of each coordinate", "s", "mm", above=0, at_most=0.05, typical=(0.0003, 0.003))
    ],
    spring_on: Member = "carrier",
) -> Spread:
    """Return how sure the outputs are when every coordinate of every point but the wheel centre has a standard error.

    Equation: root of the sum over all coordinates of (df/dp x s)^2; the effect of each coordinate is a central difference over the whole geometry, lengths taken anew.
    Valid for: independent errors, small against the arms.
    Caution: two wrong points may hide each other in one output and show in the next: look at all of them.
    Source: propagation of independent errors, common practice; checked against an independent reference.

    >>> from calc.ask.evaluate import evaluate
    >>> from calc.form import about
    >>> evaluate("point_errors", about(point_errors).example)["outputs"][0]["unit"]
    'mm'
    """
    corner = corner_of(linkage, points, loaded_radius, static_camber, static_toe_in, spring_on)
    start = reading(corner, corner.state())
    fields = [name for name in _FIELDS if getattr(start, name) is not None]

    def outputs(moved: Linkage) -> list[float]:
        there = Corner(moved)
        row = reading(there, there.state())
        return [getattr(row, name) for name in fields]

    names = [name for name in corner.linkage.points if name != "wheel_centre"]
    with rows_named(points):
        found = effects(corner.linkage, names, outputs)
    sums = dict(zip(fields, root_sum(found, error), strict=True))

    def worst(column: int) -> str:
        sizes = {name: hypot(*(each.per_metre[column] for each in found if each.point == name)) for name in names}
        return plain(max(sizes, key=lambda name: sizes[name]))

    return Spread(
        sums["roll_centre_height"],
        sums["toe_in_rate"],
        sums["camber_rate"],
        sums["contact_slope"],
        sums.get("caster"),
        sums.get("trail"),
        sums.get("scrub"),
        sums.get("spring_ratio"),
        worst(0),
        worst(1),
    )

"""Left and right points of an axle compared: the mean to work with, and the points that cannot both be right."""

from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.form import Input, Output, Remark, calculator
from calc.geometry.checks import plain
from calc.geometry.forms.inputs import Hardpoint
from calc.geometry.vectors import middle, mirrored, norm, sub
from calc.refusal import Refused
from calc.units import Metres

_BENT = 0.003  # m, common practice


class Sides(NamedTuple):
    """The mean of both sides, drawn as the left one, and how far the sides differ."""

    largest: Annotated[Metres, Output("Largest difference", "d_{max}", "mm", 3)]
    largest_at: Annotated[str, Output("at")]
    points: Annotated[tuple[str, ...], Output("Points, in this order")]
    x: Annotated[tuple[Metres, ...], Output("Mean, forward", "x", "mm", 5)]
    y: Annotated[tuple[Metres, ...], Output("Mean, outboard", "y", "mm", 5)]
    z: Annotated[tuple[Metres, ...], Output("Mean, up", "z", "mm", 5)]
    differences: Annotated[tuple[Metres, ...], Output("Difference of the sides", "d", "mm", 3)]


def _remarks(result: Sides, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    bent = [name for name, d in zip(result.points, result.differences, strict=True) if d > _BENT]
    if bent:
        return (
            Remark(
                f"More than 3 mm apart: {', '.join(bent)}. A part is bent or a reading is wrong.", "caution", "largest"
            ),
        )
    return (Remark("All points agree within 3 mm: the mean of both sides is good to work with.", about="largest"),)


@calculator(
    title="Left and right points compared",
    question="Do the two sides of the car agree, and what is their mean?",
    example={
        "left": [["lower_ball_joint", "8 mm", "640 mm", "150 mm"], ["upper_ball_joint", "-22 mm", "602 mm", "428 mm"]],
        "right": [
            ["lower_ball_joint", "9 mm", "-641 mm", "151 mm"],
            ["upper_ball_joint", "-18 mm", "-603 mm", "428 mm"],
        ],
    },
    remarks=_remarks,
)
def both_sides(
    *,
    left: Annotated[tuple[Hardpoint, ...], Input("Points of the left side", help="y positive to the left.")],
    right: Annotated[
        tuple[Hardpoint, ...], Input("Points of the right side", help="The same names; y negative, as measured.")
    ],
) -> Sides:
    """Return the mean of both sides of an axle, drawn as the left one, and the distance of each pair after mirroring.

    Equation: mean of the left point and the mirror image (y to -y) of the right one; difference = their distance.
    Signs: x forward, y left, z up, from the centre-line of the car.
    Valid for: a car meant to be the same on both sides.
    Caution: a difference over 3 mm is a bent or a misread part: find out which before driving.
    Source: common practice, no source.

    >>> one, other = Hardpoint("tie rod", 0.1, 0.6, 0.2), Hardpoint("tie rod", 0.1, -0.602, 0.2)
    >>> round(both_sides(left=(one,), right=(other,)).largest, 6)
    0.002
    """
    there = {_name(point): point for point in right}
    names, means, gaps = [], [], []
    for number, point in enumerate(left, start=1):
        name = _name(point)
        if name not in there or name in names:
            raise Refused(f"left[{number}].name", "must stand once on each side", repr(point.name[:40]), label="Point")
        mate = mirrored((there[name].x, there[name].y, there[name].z))
        here = (point.x, point.y, point.z)
        names.append(name)
        means.append(middle(here, mate))
        gaps.append(norm(sub(here, mate)))
    if len(names) != len(right):
        extra = next(_name(point) for point in right if _name(point) not in names or len(there) != len(right))
        raise Refused("right", "must have the same points as the left side", extra, label="Points of the right side")
    most = max(range(len(gaps)), key=lambda i: gaps[i])
    x, y, z = zip(*means, strict=True)
    return Sides(gaps[most], plain(names[most]), tuple(plain(name) for name in names), x, y, z, tuple(gaps))


def _name(point: Hardpoint) -> str:
    return point.name.strip().lower().replace(" ", "_")

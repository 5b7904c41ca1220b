"""What is moved on a car, each as a change of points: the linkage that comes out is solved anew, nothing is corrected by a rule.

A moved pickup takes new lengths where it is drawn. A spacer, a top plate or a longer link keeps all other lengths, and the wheel finds
its place. A raised hub or another wheel moves the wheel on a carrier that stays.
"""

from collections.abc import Mapping

from calc.geometry.adjust import Adjuster, adjusted, with_lengths_kept
from calc.geometry.checks import plain
from calc.geometry.linkage import Linkage, Pair
from calc.geometry.vectors import Vector, add
from calc.refusal import Refused


def moved(linkage: Linkage, shifts: Mapping[str, Vector], *, lengths_kept: bool = False) -> Linkage:
    """Return the linkage with points shifted (m): new lengths as drawn, or the old ones kept (the wheel then moves)."""
    for name in shifts:
        if name not in linkage.points:
            raise Refused(name, "is not a point of this linkage", label=plain(name).capitalize())
    base = with_lengths_kept(linkage) if lengths_kept else linkage
    return base._replace(
        points={**base.points, **{name: add(base.points[name], shift) for name, shift in shifts.items()}}
    )


def spacer(linkage: Linkage, joint: str, thickness: float) -> Linkage:
    """Return the linkage with a joint ``thickness`` (m) lower on the carrier, all link lengths kept."""
    return moved(linkage, {joint: (0.0, 0.0, -thickness)}, lengths_kept=True)


def raised_hub(linkage: Linkage, height: float) -> Linkage:
    """Return the linkage with the hub higher on an unmoved carrier: the body comes down by as much at the same arm angles."""
    return moved(linkage, {"wheel_centre": (0.0, 0.0, height)})


def other_wheel(linkage: Linkage, outward: float, larger: float) -> Linkage:
    """Return the linkage with the wheel ``outward`` (offset or spacer) and its loaded radius ``larger`` (m)."""
    return moved(linkage, {"wheel_centre": (0.0, outward, 0.0)})._replace(loaded_radius=linkage.loaded_radius + larger)


def top_plate(linkage: Linkage, shift: Vector) -> Linkage:
    """Return a strut linkage with its top mount slid by ``shift`` (m): strut, knuckle and all lengths stay as they are."""
    if linkage.slider is None:
        raise Refused("linkage", "must be a strut: only a strut has a top mount", label="Linkage")
    return moved(linkage, {linkage.slider[0]: shift}, lengths_kept=True)


def longer_link(linkage: Linkage, link: Pair, amount: float) -> Linkage:
    """Return the linkage with one link longer by ``amount`` (m)."""
    if link not in linkage.links:
        raise Refused(link[1], "must be the wheel end of a link of this linkage", label=plain(link[1]).capitalize())
    return adjusted(linkage, Adjuster((link,)), amount)

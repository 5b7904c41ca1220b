"""Setting static toe and camber back to a target by the links that adjust them, with the exact effect of each adjuster.

An adjuster is a right-hand side of the velocity equations: a link that grows by one metre, or a top mount that moves by one. The
effect on toe and camber at fixed travel follows from one solution, and two Newton steps or three find the setting.
"""

from typing import NamedTuple

from calc.geometry.linear import solve
from calc.geometry.linkage import Linkage, Pair
from calc.geometry.linkages.kind import Kind
from calc.geometry.motion import Corner, State
from calc.geometry.vectors import Vector, along, apply, dot, norm, sub, unit
from calc.geometry.wheel import camber, camber_rate, toe_in, toe_in_rate
from calc.numeric.linear import Singular
from calc.refusal import Refused

_CLOSE = 1e-10  # rad
_INBOARD: Vector = (0.0, -1.0, 0.0)


class Adjuster(NamedTuple):
    """Links that are all made longer by the same amount, or else a chassis point that is moved along ``way``."""

    links: tuple[Pair, ...] = ()
    point: str = ""
    way: Vector = _INBOARD


class Setting(NamedTuple):
    """A linkage set to its targets, and how far each adjuster went (m)."""

    linkage: Linkage
    toe: float
    camber: float


def adjusters(kind: Kind) -> tuple[Adjuster | None, Adjuster | None]:
    """Return the adjusters of toe and of camber of a kind of linkage, none where it has none."""
    toe = Adjuster((kind.toe,)) if kind.toe else None
    if kind.camber:
        return toe, Adjuster(kind.camber)
    return toe, Adjuster(point=kind.camber_joint) if kind.camber_joint else None


def adjusted(linkage: Linkage, adjuster: Adjuster, amount: float) -> Linkage:
    """Return the linkage with one adjuster turned by ``amount`` (m); all other lengths and the strut's axis stay."""
    kept = with_lengths_kept(linkage)
    if adjuster.point:
        return kept._replace(
            points={**kept.points, adjuster.point: along(kept.points[adjuster.point], amount, adjuster.way)}
        )
    return kept._replace(lengths={**kept.lengths, **{link: kept.lengths[link] + amount for link in adjuster.links}})


def with_lengths_kept(linkage: Linkage) -> Linkage:
    """Return the linkage with every length, and the strut's axis, held at what they are now, whatever point moves next."""
    points = linkage.points
    pairs = (*linkage.links, *(linkage.swinging.rods if linkage.swinging else ()))
    lengths = {pair: linkage.lengths.get(pair) or norm(sub(points[pair[1]], points[pair[0]])) for pair in pairs}
    axis = linkage.strut_axis
    if linkage.slider and axis is None:
        top, lower = (points[name] for name in linkage.slider)
        axis = unit(sub(top, lower))
    return linkage._replace(lengths=lengths, strut_axis=axis)


def effect(corner: Corner, state: State, adjuster: Adjuster) -> tuple[float, float]:
    """Return how toe-in and camber change per metre of an adjuster (rad/m), travel and rack held."""
    mechanism = corner.mechanism
    equations = mechanism.equations(state.pose, state.rack)
    right = [0.0] * len(equations.rows)
    for link in adjuster.links:
        right[corner.linkage.links.index(link)] = 1.0
    if adjuster.point and mechanism.slider:
        for i, direction in enumerate(mechanism.slider.across):
            e = apply(state.pose.turn, direction)
            right[len(corner.linkage.links) + i] = dot(e, adjuster.way)
    heights, _ = mechanism.height_rows(state.pose)
    rows = [[*row, value] for row, value in zip(equations.rows, right, strict=True)] + [[*row, 0.0] for row in heights]
    try:
        (x,) = solve(rows, mechanism.size)
    except Singular:
        raise Refused("points", "must not be set up in a locked position", label="Points") from None
    turning: Vector = (x[3], x[4], x[5])
    return toe_in_rate(state.spin, turning), camber_rate(state.spin, turning)


def reset(linkage: Linkage, kind: Kind, travel: float, wanted_toe: float, wanted_camber: float | None) -> Setting:
    """Return the linkage with toe, and camber where a target is given, brought to target at ``travel`` by their adjusters."""
    toe_by, camber_by = adjusters(kind)
    used = [
        (by, target) for by, target in ((toe_by, wanted_toe), (camber_by, wanted_camber)) if by and target is not None
    ]
    turned = [0.0] * len(used)
    now = with_lengths_kept(linkage)
    for _ in range(12):
        corner = Corner(now)
        state = corner.state(travel)
        values = (toe_in(state.spin), camber(state.spin))
        errors = [target - values[0 if by is toe_by else 1] for by, target in used]
        if all(abs(error) < _CLOSE for error in errors):
            return Setting(now, *_named(used, turned, toe_by))
        effects = [effect(corner, state, by) for by, _ in used]
        picks = [0 if by is toe_by else 1 for by, _ in used]
        try:
            (steps,) = solve(
                [
                    [*(effects[j][pick] for j in range(len(used))), error]
                    for pick, error in zip(picks, errors, strict=True)
                ],
                len(used),
            )
        except Singular:
            break
        for i, (by, _) in enumerate(used):
            turned[i] += steps[i]
            now = adjusted(now, by, steps[i])
    raise Refused("points", "must let the adjusters reach the wanted toe and camber", label="Points")


def _named(used: list[tuple[Adjuster, float]], turned: list[float], toe_by: Adjuster | None) -> tuple[float, float]:
    amounts = dict(zip((by is toe_by for by, _ in used), turned, strict=True))
    return amounts.get(True, 0.0), amounts.get(False, 0.0)

"""Which of several compromises are worthwhile: domination, ranks, and thinning out where they crowd."""

from collections.abc import Sequence
from typing import NamedTuple


class Scored(NamedTuple):
    """A point with the results found there, its costs (each to be made small) and its breach of limits."""

    point: tuple[float, ...]
    found: tuple[float | None, ...]
    costs: tuple[float, ...]
    breach: float


def dominates(one: Scored, other: Scored) -> bool:
    """Return whether ``one`` is better: it breaks the limits less, or breaks none and is no worse in any cost and better in one."""
    if one.breach or other.breach:
        return one.breach < other.breach
    pairs = list(zip(one.costs, other.costs, strict=True))
    return all(a <= b for a, b in pairs) and any(a < b for a, b in pairs)


def best(points: Sequence[Scored], count: int) -> list[Scored]:
    """Return the ``count`` best points: rank by rank, and in the last rank those with the most room around them."""
    kept: list[Scored] = []
    left = list(points)
    while left and len(kept) < count:
        rank = [one for one in left if not any(dominates(other, one) for other in left)]
        left = [one for one in left if not any(one is other for other in rank)]
        kept += _roomiest(rank, count - len(kept))
    return kept


def _roomiest(rank: list[Scored], count: int) -> list[Scored]:
    """Return ``rank`` thinned to ``count``: the most crowded point goes first, and room is measured again."""
    rank = list(rank)
    while len(rank) > count:
        room = _room(rank)
        rank.pop(room.index(min(room)))
    return rank


def _room(rank: Sequence[Scored]) -> list[float]:
    """Return the room around each point: the normalised gap to its neighbours, summed over the costs; ends have no bound."""
    room = [0.0] * len(rank)
    for k in range(len(rank[0].costs)):
        order = sorted(range(len(rank)), key=lambda i: rank[i].costs[k])
        width = rank[order[-1]].costs[k] - rank[order[0]].costs[k]
        room[order[0]] = room[order[-1]] = float("inf")
        for before, here, after in zip(order, order[1:], order[2:], strict=False):
            room[here] += (rank[after].costs[k] - rank[before].costs[k]) / width if width else 0.0
    return room

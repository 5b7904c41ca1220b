"""Walking from a known position to a wanted one, so that no lock is stepped over into another assembly of the same lengths."""

from collections.abc import Callable

from calc.geometry.constraints import Mechanism, Pose
from calc.geometry.solve import newton
from calc.geometry.solve_errors import Unreachable

Spot = tuple[float, float]  # what drives the linkage: travel and rack, or the travels of two wheels (m)
Solve = Callable[[Spot, Pose, float], Pose]  # goal, near pose, length of the step -> pose

STEP = 0.02  # m, largest step far from a lock
_CAREFUL = 0.004  # m, largest step near one
_NEAR = 0.5  # share of the drawn determinant below which a lock is near: it falls with the root of the distance


def walk(solve: Solve, pose: Pose, start: Spot, goal: Spot, finest: float) -> tuple[Pose, float]:
    """Return the pose at ``goal``, or the last one on the way and the share of the way it is at.

    The step is halved where ``solve`` cannot follow; below ``finest`` (m) the way ends.
    """
    span = max(abs(goal[0] - start[0]), abs(goal[1] - start[1]))
    if span == 0.0:
        return solve(goal, pose, 0.0), 1.0
    share, count = 0.0, max(1, -int(-span // STEP))
    step = 1.0 / count
    while share < 1.0:
        ahead = share + step if share + step < 1.0 - 1e-12 else 1.0
        to = (
            goal if ahead == 1.0 else (start[0] + ahead * (goal[0] - start[0]), start[1] + ahead * (goal[1] - start[1]))
        )
        try:
            pose = solve(to, pose, (ahead - share) * span)
        except Unreachable:
            step *= 0.5
            if step * span < finest:
                return pose, share
            continue
        share = ahead
    return pose, 1.0


class General:
    """The general solver with a watch on the determinant of its rows: it keeps its sign and only falls to zero at a lock."""

    def __init__(self, mechanism: Mechanism, heights: tuple[float, ...]) -> None:
        self.mechanism = mechanism
        self.heights = heights
        self.drawn = newton(mechanism, Pose(mechanism.origin), heights, 0.0)
        self._determinant = mechanism.determinant(self.drawn, 0.0)

    def at(self, heights: tuple[float, ...], rack: float, near: Pose, step: float) -> Pose:
        """Return the pose at wheel-centre heights, one step from ``near``. Raises ``Unreachable``, also for a step too bold near a lock."""
        pose = newton(self.mechanism, near, heights, rack)
        left = self.mechanism.determinant(pose, rack) / self._determinant
        if left <= 0 or (left < _NEAR and step > _CAREFUL):
            raise Unreachable
        return pose

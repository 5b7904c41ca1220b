"""Positions: damped Newton on the constraint equations, for linkages without a closed form."""

from collections.abc import Sequence
from math import sqrt

from calc.geometry.constraints import Mechanism, Pose
from calc.geometry.linear import solve
from calc.geometry.solve_errors import Unreachable
from calc.geometry.vectors import turned_further
from calc.numeric.linear import Singular

CLOSE = 1e-12  # m, residual at which a position counts as found
MOST_STEPS = 30


def newton(mechanism: Mechanism, start: Pose, heights: Sequence[float], rack: float) -> Pose:
    """Return the pose near ``start`` with the wheel centres at ``heights`` (m) and the rack at ``rack`` (m).

    The step is halved while the residual does not fall. Raises ``Unreachable``.
    """
    pose = start
    rows, residuals = _all(mechanism, pose, heights, rack)
    size = sqrt(sum(r * r for r in residuals))
    for _ in range(MOST_STEPS):
        if size < CLOSE:
            return pose
        try:
            (step,) = solve([[*row, -r] for row, r in zip(rows, residuals, strict=True)], mechanism.size)
        except Singular:
            raise Unreachable from None
        share = 1.0
        while True:
            trial = _moved(pose, step, share)
            rows, residuals = _all(mechanism, trial, heights, rack)
            new = sqrt(sum(r * r for r in residuals))
            if new < size or (new < 10 * CLOSE and share == 1.0):
                break
            share *= 0.5
            if share < 1e-4:
                raise Unreachable
        stuck = new >= 0.999 * size and new > CLOSE
        pose, size = trial, new
        if stuck and size < 10 * CLOSE:
            return pose
    if size < 10 * CLOSE:
        return pose
    raise Unreachable


def _all(
    mechanism: Mechanism, pose: Pose, heights: Sequence[float], rack: float
) -> tuple[list[list[float]], list[float]]:
    equations = mechanism.equations(pose, rack)
    rows, now = mechanism.height_rows(pose)
    return equations.rows + rows, equations.residuals + [a - b for a, b in zip(now, heights, strict=True)]


def _moved(pose: Pose, step: Sequence[float], share: float) -> Pose:
    x, y, z = pose.centre
    angle = pose.angle + share * step[6] if len(step) == 7 else pose.angle
    return Pose(
        (x + share * step[0], y + share * step[1], z + share * step[2]),
        turned_further(pose.turn, share * step[3], share * step[4], share * step[5]),
        angle,
    )

"""The members as equations: a residual in metres for each, and its row of the velocity equations.

A carrier is at centre W, turned by R from its drawn attitude; V and w are its velocity and angular velocity. A row is the coefficients
of (V, w) and, where the linkage has an arm or a crank with freedom of its own, of its turning rate.

Link from I to O, n = unit(O - I):  n.V + ((O - W) x n).w = n.V_I.  Strut through T:  e.V + ((T - W) x e).w = 0 for two e across it.
"""

from math import sqrt
from typing import NamedTuple

from calc.geometry.linear import determinant
from calc.geometry.linkage import Linkage, SwingingArm
from calc.geometry.steer_path import SteerPath
from calc.geometry.vectors import (
    UNTURNED,
    Rotation,
    Vector,
    add,
    apply,
    cross,
    dot,
    middle,
    norm,
    spin,
    sub,
    two_across,
    unit,
)

Rows = list[list[float]]


class Pose(NamedTuple):
    """Where a carrier is: its centre, its rotation from the drawn attitude, and the angle of the arm that is solved with it."""

    centre: Vector
    turn: Rotation = UNTURNED
    angle: float = 0.0


class Equations(NamedTuple):
    """Velocity rows, residuals (m) and, for each row, its right-hand side for one metre of rack travel."""

    rows: Rows
    residuals: list[float]
    rack: list[float]


class _Slider(NamedTuple):
    top: Vector
    lower: Vector
    across: tuple[Vector, Vector]


class _Swing(NamedTuple):
    """A body on a chassis axis, or, ``on_carrier``, a crank on an axis of the carrier whose rods run to chassis points."""

    axis: Vector
    foot: Vector
    balls: tuple[tuple[Vector, Vector, tuple[Vector, ...]], ...]  # arm point, carrier offset, carrier directions held
    rods: tuple[tuple[Vector, Vector, float], ...]  # turning point, other end, length
    on_carrier: bool


class Mechanism:
    """A linkage made ready for solving: everything named is looked up once."""

    __slots__ = ("count", "heights", "links", "origin", "pins", "size", "slider", "steer", "swing")

    def __init__(self, linkage: Linkage) -> None:
        points = linkage.points
        wheels = ("wheel_centre",) if "wheel_centre" in points else ("wheel_centre_left", "wheel_centre_right")
        self.origin: Vector = middle(points[wheels[0]], points[wheels[-1]])
        self.heights: tuple[Vector, ...] = tuple(sub(points[name], self.origin) for name in wheels)
        self.links = tuple(
            (*points[inner], *sub(points[outer], self.origin), linkage.lengths.get((inner, outer)) or norm(sub(points[outer], points[inner])),
             1.0 if (inner, outer) == linkage.tie_rod else 0.0)
            for inner, outer in linkage.links
        )  # fmt: skip
        self.steer = SteerPath(linkage)
        self.slider = self._slider(linkage)
        self.pins = tuple(self._pins(linkage))
        self.swing = self._swing(linkage)
        self.size = 6 if self.swing is None else 7
        self.count = len(self.equations(Pose(self.origin), 0.0).rows)

    def _slider(self, linkage: Linkage) -> _Slider | None:
        if linkage.slider is None:
            return None
        top, lower = (linkage.points[name] for name in linkage.slider)
        axis = linkage.strut_axis or unit(sub(top, lower))
        return _Slider(top, sub(lower, self.origin), two_across(axis))

    def _pins(self, linkage: Linkage) -> list[tuple[Vector, Vector, tuple[Vector, ...]]]:
        every: tuple[Vector, ...] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
        held = [(linkage.points[name], every) for name in linkage.pins]
        if linkage.hinge:
            first, second = (linkage.points[name] for name in linkage.hinge)
            held += [(first, every), (second, two_across(unit(sub(second, first))))]
        return [(point, sub(point, self.origin), directions) for point, directions in held]

    def _swing(self, linkage: Linkage) -> _Swing | None:
        points = linkage.points
        if linkage.axle_crank:
            pivot, *ends = (points[name] for name in linkage.axle_crank)
            rods = tuple(
                (sub(end, pivot), chassis, norm(sub(chassis, end)))
                for end, chassis in zip(ends[:2], ends[2:], strict=True)
            )
            return _Swing((1.0, 0.0, 0.0), sub(pivot, self.origin), (), rods, on_carrier=True)
        arm = linkage.swinging
        return None if arm is None else self._arm(arm, linkage)

    def _arm(self, arm: SwingingArm, linkage: Linkage) -> _Swing:
        points = linkage.points
        first, second = (points[name] for name in arm.hinge)
        every: tuple[Vector, ...] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
        held = [every]
        if len(arm.balls) == 2:
            held.append(two_across(unit(sub(points[arm.balls[1]], points[arm.balls[0]]))))
        balls = tuple(
            (sub(points[name], first), sub(points[name], self.origin), way)
            for name, way in zip(arm.balls, held, strict=False)
        )
        rods = tuple(
            (sub(points[on_arm], first), sub(points[on_carrier], self.origin),
             linkage.lengths.get((on_arm, on_carrier)) or norm(sub(points[on_carrier], points[on_arm])))
            for on_arm, on_carrier in arm.rods
        )  # fmt: skip
        return _Swing(unit(sub(second, first)), first, balls, rods, on_carrier=False)

    def equations(self, pose: Pose, rack: float) -> Equations:
        """Return every equation but the heights of the wheels, at a pose and a rack travel."""
        wx, wy, wz = pose.centre
        r0, r1, r2, r3, r4, r5, r6, r7, r8 = pose.turn
        rows: Rows = []
        residuals: list[float] = []
        steer: list[float] = []
        spare = [0.0] if self.size == 7 else []
        (sx, sy, sz), (gx, gy, gz) = self.steer.at(rack)
        for ix, iy, iz, px, py, pz, length, steered in self.links:
            rx, ry, rz = r0 * px + r1 * py + r2 * pz, r3 * px + r4 * py + r5 * pz, r6 * px + r7 * py + r8 * pz
            dx, dy, dz = wx + rx - ix - steered * sx, wy + ry - iy - steered * sy, wz + rz - iz - steered * sz
            distance = sqrt(dx * dx + dy * dy + dz * dz)
            dx, dy, dz = dx / distance, dy / distance, dz / distance
            rows.append([dx, dy, dz, ry * dz - rz * dy, rz * dx - rx * dz, rx * dy - ry * dx, *spare])
            residuals.append(distance - length)
            steer.append(steered * (dx * gx + dy * gy + dz * gz))
        if self.slider:
            self._slide(self.slider, pose, rows, residuals, spare)
        for point, offset, directions in self.pins:
            self._hold(point, apply(pose.turn, offset), directions, pose, rows, residuals, spare)
        if self.swing:
            (self._crank if self.swing.on_carrier else self._carry)(self.swing, pose, rows, residuals)
        steer += [0.0] * (len(rows) - len(steer))
        return Equations(rows, residuals, steer)

    def height_rows(self, pose: Pose) -> tuple[Rows, list[float]]:
        """Return the velocity row of each wheel centre's height, and that height."""
        spare = [0.0] if self.size == 7 else []
        arms = [apply(pose.turn, offset) for offset in self.heights]
        return [[0.0, 0.0, 1.0, r[1], -r[0], 0.0, *spare] for r in arms], [pose.centre[2] + r[2] for r in arms]

    def determinant(self, pose: Pose, rack: float) -> float:
        """Return the determinant of all rows: zero at a lock, and of one sign on each side of it."""
        return determinant(self.equations(pose, rack).rows + self.height_rows(pose)[0])

    def _slide(self, slider: _Slider, pose: Pose, rows: Rows, residuals: list[float], spare: list[float]) -> None:
        reach = sub(slider.top, pose.centre)
        past = sub(reach, apply(pose.turn, slider.lower))
        for direction in slider.across:
            e = apply(pose.turn, direction)
            rows.append([*e, *cross(reach, e), *spare])
            residuals.append(-dot(e, past))

    def _hold(
        self,
        point: Vector,
        arm: Vector,
        directions: tuple[Vector, ...],
        pose: Pose,
        rows: Rows,
        residuals: list[float],
        spare: list[float],
    ) -> None:
        off = sub(add(pose.centre, arm), point)
        for e in directions:
            rows.append([*e, *cross(arm, e), *spare])
            residuals.append(dot(e, off))

    def _carry(self, swing: _Swing, pose: Pose, rows: Rows, residuals: list[float]) -> None:
        """Add the joints between a swinging arm and the carrier."""
        turn = spin(swing.axis, pose.angle)
        for on_arm, offset, directions in swing.balls:
            reach, arm = apply(turn, on_arm), apply(pose.turn, offset)
            off = sub(add(pose.centre, arm), add(swing.foot, reach))
            moves = cross(swing.axis, reach)
            for direction in directions:
                e = apply(pose.turn, direction)
                rows.append([*e, *cross(arm, e), -dot(e, moves)])
                residuals.append(dot(e, off))
        for on_arm, offset, length in swing.rods:
            reach, arm = apply(turn, on_arm), apply(pose.turn, offset)
            off = sub(add(pose.centre, arm), add(swing.foot, reach))
            distance = norm(off)
            n = (off[0] / distance, off[1] / distance, off[2] / distance)
            rows.append([*n, *cross(arm, n), -dot(n, cross(swing.axis, reach))])
            residuals.append(distance - length)

    def _crank(self, swing: _Swing, pose: Pose, rows: Rows, residuals: list[float]) -> None:
        """Add the rods between a crank on the carrier and the chassis."""
        turn = spin(swing.axis, pose.angle)
        for reach, chassis, length in swing.rods:
            swung = apply(turn, reach)
            arm = apply(pose.turn, add(swing.foot, swung))
            off = sub(add(pose.centre, arm), chassis)
            distance = norm(off)
            n = (off[0] / distance, off[1] / distance, off[2] / distance)
            rows.append([*n, *cross(arm, n), dot(n, apply(pose.turn, cross(swing.axis, swung)))])
            residuals.append(distance - length)

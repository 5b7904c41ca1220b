"""Springs, dampers, bars and rockers: where their moving points are, and how fast they move per metre of wheel travel.

Spring ratio = -V_p . unit(p - B).  On an arm: arm rate = V_o.(h x r)/|h x r|^2.  Crank with end E, link tip D:
rate = n.V_D / (n.(h x (E - c))), n = unit(D - E).
"""

from math import atan2
from typing import NamedTuple

from calc.geometry.closed import Circle, branch_of, circle, crossing
from calc.geometry.constraints import Pose
from calc.geometry.linkage import Crank, Linkage, Telescope
from calc.geometry.rates import Twist
from calc.geometry.solve_errors import Unreachable
from calc.geometry.vectors import Vector, add, along, apply, cross, dot, norm, scale, spin, sub, unit
from calc.refusal import Refused

_IN_LINE = 1e-6  # sine of the angle between link and arm below which a crank is locked


class Moving(NamedTuple):
    """A point that moves: where it is now, and its velocity per metre of travel (or of whatever the twist stands for)."""

    at: Vector
    velocity: Vector


class Length(NamedTuple):
    """A spring or damper: its length (m) and how much it shortens per metre of wheel rise (the motion ratio)."""

    length: float
    ratio: float


class Turn(NamedTuple):
    """A bar arm or rocker: its angle from the drawn position (rad, right hand along its axis) and its rate (rad/m)."""

    angle: float
    rate: float


class Parts:
    """The parts of one linkage, made ready once."""

    def __init__(self, linkage: Linkage, origin: Vector) -> None:
        self.linkage, self.origin = linkage, origin
        points = linkage.points
        self._arms = {
            name: (circle(points[a], points[b], points[o]), sub(points[o], origin))
            for name, (a, b, o) in linkage.arms.items()
        }
        self._cranks = {name: _ReadyCrank(crank, linkage) for name, crank in linkage.cranks.items()}

    def carried(self, name: str, member: str, pose: Pose, twist: Twist) -> Moving:
        """Return where a point drawn at ``name`` is when ``member`` carries it, and its velocity."""
        point = self.linkage.points[name]
        if member == "carrier":
            at = add(pose.centre, apply(pose.turn, sub(point, self.origin)))
            return Moving(at, twist.at(pose.centre, at))
        if member in self._cranks:
            turn = self.crank(member, pose, twist)
            path = self._cranks[member].path
            arm = apply(spin(path.axis, turn.angle), sub(point, path.centre))
            return Moving(add(path.centre, arm), scale(turn.rate, cross(path.axis, arm)))
        if member in self._arms:
            return self._on_arm(point, *self._arms[member], pose, twist)
        return self._on_link(point, member, pose, twist)

    def _on_arm(self, point: Vector, path: Circle, joint: Vector, pose: Pose, twist: Twist) -> Moving:
        outer = add(pose.centre, apply(pose.turn, joint))
        reach = sub(outer, path.centre)
        sweep = cross(path.axis, reach)
        rate = dot(twist.at(pose.centre, outer), sweep) / dot(sweep, sweep)
        arm = apply(spin(path.axis, atan2(dot(reach, path.e2), dot(reach, path.e1))), sub(point, path.centre))
        return Moving(add(path.centre, arm), scale(rate, cross(path.axis, arm)))

    def _on_link(self, point: Vector, member: str, pose: Pose, twist: Twist) -> Moving:
        """Carry a point along with a two-joint link, at its share of the length and unturned: a link is free to turn about itself."""
        inner, outer = next(
            (self.linkage.points[i], self.linkage.points[o]) for i, o in self.linkage.links if member in (i, o)
        )
        line = sub(outer, inner)
        share = dot(sub(point, inner), line) / dot(line, line)
        now = add(pose.centre, apply(pose.turn, sub(outer, self.origin)))
        return Moving(along(point, share, sub(now, outer)), scale(share, twist.at(pose.centre, now)))

    def length(self, part: Telescope, pose: Pose, twist: Twist) -> Length:
        """Return the length of a spring or damper and its motion ratio."""
        moving = self.carried(part.moving, part.on, pose, twist)
        reach = sub(moving.at, self.linkage.points[part.chassis])
        long = norm(reach)
        return Length(long, -dot(moving.velocity, reach) / long)

    def crank(self, name: str, pose: Pose, twist: Twist) -> Turn:
        """Return the turn of a bar arm or rocker. Refused where its link cannot reach."""
        ready = self._cranks[name]
        crank = self.linkage.cranks[name]
        tip = self.carried(crank.link_end, crank.on, pose, twist)
        try:
            angle = crossing(ready.path, tip.at, ready.link, ready.branch)
        except Unreachable:
            raise _out_of_reach(name) from None
        end, moves = ready.path.at(angle)
        n = unit(sub(tip.at, end))
        if abs(dot(n, moves)) < _IN_LINE * norm(moves):
            raise _out_of_reach(name)
        return Turn(
            atan2(dot(sub(end, ready.path.centre), ready.path.e2), dot(sub(end, ready.path.centre), ready.path.e1)),
            dot(n, tip.velocity) / dot(n, moves),
        )


def _out_of_reach(name: str) -> Refused:
    return Refused(
        "travel", f"must stay within reach of the {name}: its link and its arm are in line here", label="Wheel travel"
    )


class _ReadyCrank:
    def __init__(self, crank: Crank, linkage: Linkage) -> None:
        points = linkage.points
        self.path = circle(points[crank.axis[0]], points[crank.axis[1]], points[crank.crank_end])
        tip = points[crank.link_end]
        self.link = norm(sub(tip, points[crank.crank_end]))
        self.branch = branch_of(self.path, tip, points[crank.crank_end])

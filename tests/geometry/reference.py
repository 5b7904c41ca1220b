"""An independent reference: the members' constraints minimised by scipy, rates by high-order differences of its positions.

Written apart from ``calc``: rotation vectors, numpy, ``least_squares``; it shares the description of a linkage and nothing else.
"""

import numpy as np
from scipy.optimize import brentq, least_squares
from scipy.spatial.transform import Rotation

from tests.geometry import differences


def derivative(function, at, step=2e-3):
    """Return the derivative of a function, number or vector, by differences of eighth order."""
    found = np.array(differences.derivative(lambda x: np.atleast_1d(function(x)), at, step))
    return found if np.ndim(function(at)) else found[0]


class Reference:
    """Positions of a linkage by least squares on its constraints, walked to from the drawn position."""

    def __init__(self, linkage):
        self.linkage = linkage
        self.p = {name: np.array(at, float) for name, at in linkage.points.items()}
        wheels = ["wheel_centre"] if "wheel_centre" in self.p else ["wheel_centre_left", "wheel_centre_right"]
        self.centre = np.mean([self.p[name] for name in wheels], axis=0)
        self.wheels = [self.p[name] - self.centre for name in wheels]
        g, t = linkage.static_camber, linkage.static_toe_in
        self.spin0 = np.array([np.sin(t) * np.cos(g), np.cos(t) * np.cos(g), -np.sin(g)])

    def carried(self, q, name):
        """Return a carrier point at a state."""
        return self.centre + q[:3] + Rotation.from_rotvec(q[3:6]).apply(self.p[name] - self.centre)

    def residuals(self, q, rises, rack):
        link, p = self.linkage, self.p
        turn = Rotation.from_rotvec(q[3:6])
        out = []
        for inner, outer in link.links:
            chassis = p[inner] + (self.steered(rack) if (inner, outer) == link.tie_rod else 0.0)
            length = link.lengths.get((inner, outer), np.linalg.norm(p[outer] - p[inner]))
            out.append(np.linalg.norm(self.carried(q, outer) - chassis) - length)
        if link.slider:
            top, low = link.slider
            axis = np.array(link.strut_axis) if link.strut_axis else (p[top] - p[low]) / np.linalg.norm(p[top] - p[low])
            out.extend(np.cross(turn.apply(axis), p[top] - self.carried(q, low)))
        if link.hinge:
            out.extend(np.concatenate([self.carried(q, name) - p[name] for name in link.hinge]))
        for name in link.pins:
            out.extend(self.carried(q, name) - p[name])
        if link.swinging:
            out.extend(self.swinging(q))
        if link.axle_crank:
            pivot, *ends = link.axle_crank
            crank = Rotation.from_rotvec([q[6], 0.0, 0.0])
            for end, chassis in zip(ends[:2], ends[2:], strict=True):
                at = self.carried(q, pivot) + turn.apply(crank.apply(p[end] - p[pivot]))
                out.append(np.linalg.norm(at - p[chassis]) - np.linalg.norm(p[end] - p[chassis]))
        for offset, rise in zip(self.wheels, rises, strict=True):
            out.append((q[:3] + turn.apply(offset) - offset)[2] - rise)
        return np.array(out)

    def steered(self, rack):
        """Return the shift of the tie rod's chassis end: across with a rack, on the drop arm's arc with a box."""
        if self.linkage.box is None:
            return np.array([0.0, rack, 0.0])
        pivot, above, end = (self.p[name] for name in self.linkage.box)
        axis = (above - pivot) / np.linalg.norm(above - pivot)

        def shift(angle):
            return Rotation.from_rotvec(angle * axis).apply(end - pivot) - (end - pivot)

        return shift(brentq(lambda angle: shift(angle)[1] - rack, -1.2, 1.2, xtol=1e-15))

    def swinging(self, q):
        arm, p = self.linkage.swinging, self.p
        foot = p[arm.hinge[0]]
        axis = (p[arm.hinge[1]] - foot) / np.linalg.norm(p[arm.hinge[1]] - foot)
        turn = Rotation.from_rotvec(q[6] * axis)
        at = {name: foot + turn.apply(p[name] - foot) for name in (*arm.balls, *(rod[0] for rod in arm.rods))}
        out = [self.carried(q, name) - at[name] for name in arm.balls]
        flat = list(np.concatenate(out)) if out else []
        for on_arm, on_carrier in arm.rods:
            length = np.linalg.norm(p[on_carrier] - p[on_arm])
            flat.append(np.linalg.norm(self.carried(q, on_carrier) - at[on_arm]) - length)
        return flat

    def solve(self, rises, rack=0.0, start=None):
        """Return the state at wheel rises and a rack travel: in steps of at most 15 mm from the drawn one, or polished from a near one."""
        if start is not None:
            q = self.polish(np.array(start), rises, rack, 6)
            assert np.max(np.abs(self.residuals(q, rises, rack))) < 1e-12
            return q
        q = np.zeros(7)
        steps = max(1, int(np.ceil(max(*np.abs(rises), abs(rack), 1e-9) / 0.015)))
        for k in range(1, steps + 1):
            share = k / steps
            goal = [share * rise for rise in rises]
            found = least_squares(self.residuals, q, args=(goal, rack * share), xtol=1e-13, ftol=1e-13, gtol=1e-13)
            q = self.polish(found.x, goal, rack * share)
        assert np.max(np.abs(self.residuals(q, rises, rack))) < 1e-12
        return q

    def polish(self, q, rises, rack, steps=3):
        """Take Gauss-Newton steps with a fourth-order Jacobian: the last digits."""
        for _ in range(steps):
            columns = []
            for i in range(len(q)):
                e = np.zeros(len(q))
                e[i] = 1e-4
                f = [self.residuals(q + k * e, rises, rack) for k in (-2, -1, 1, 2)]
                columns.append((f[0] - 8 * f[1] + 8 * f[2] - f[3]) / (12 * 1e-4))
            q = q + np.linalg.lstsq(np.array(columns).T, -self.residuals(q, rises, rack), rcond=None)[0]
        return q

    def attitude(self, q):
        """Return W (3), spin axis (3), camber, toe-in and contact point (3) of a wheel."""
        spin = Rotation.from_rotvec(q[3:6]).apply(self.spin0)
        down = np.array([0.0, 0.0, -1.0]) + spin[2] * spin
        contact = self.centre + q[:3] + self.linkage.loaded_radius * down / np.linalg.norm(down)
        return np.concatenate([self.centre + q[:3], spin, [np.arcsin(-spin[2]), np.arctan2(spin[0], spin[1])], contact])

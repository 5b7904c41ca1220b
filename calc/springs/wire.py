"""The mechanics of a helical spring wound from round wire. Plain numbers in SI; the calculators stand in ``coil``."""

import math
from typing import Literal, NamedTuple

Ends = Literal["closed_ground", "closed", "open", "open_ground"]
Curvature = Literal["bergstrasser", "wahl", "half", "none"]

END_WORDS = {
    "closed_ground": "closed and ground flat",
    "closed": "closed, not ground",
    "open": "open, as cut",
    "open_ground": "open and ground flat",
}
CURVATURE_WORDS = {
    "bergstrasser": "Bergsträsser, as EN 13906-1 uses",
    "wahl": "Wahl",
    "half": "1 + 0.5/C, direct shear only",
    "none": "none",
}


class Coil(NamedTuple):
    """A helical spring: wire diameter d, mean coil diameter D, active coils n, shear modulus G, shape of the ends."""

    d: float
    D: float
    n: float
    G: float
    ends: Ends = "closed_ground"
    dead: float = 2.0  # coils that only carry: 2 where the ends are closed cold, 1.5 hot (EN 13906-1, from memory)

    @property
    def spring_index(self) -> float:
        """The index D / d."""
        return self.D / self.d

    @property
    def rate(self) -> float:
        """The rate G d^4 / (8 D^3 n) in N/m.

        >>> round(Coil(0.011, 0.055, 5, 81.37e9).rate / 1000, 3)
        179.014
        """
        return self.G * self.d**4 / (8 * self.D**3 * self.n)

    def shear(self, force: float) -> float:
        """Return the shear stress 8 F D / (pi d^3) in Pa, curvature left out."""
        return 8 * force * self.D / (math.pi * self.d**3)

    def force_at(self, shear: float) -> float:
        """Return the force in N that makes this uncorrected shear stress."""
        return shear * math.pi * self.d**3 / (8 * self.D)

    @property
    def total_coils(self) -> float:
        """All coils, the dead ones at the ends with them."""
        extra = {"closed_ground": self.dead, "closed": self.dead, "open": 0.0, "open_ground": 1.0}
        return self.n + extra[self.ends]

    @property
    def solid_length(self) -> float:
        """The length with all coils touching, in m."""
        return (self.total_coils + (self.ends in {"closed", "open"})) * self.d

    def pitch(self, free_length: float) -> float:
        """Return the distance from coil to coil of the free spring, in m."""
        ends = {"closed_ground": 2.0, "closed": 3.0, "open": 1.0, "open_ground": 0.0}[self.ends]
        coils = self.n + (self.ends == "open_ground")
        return (free_length - ends * self.d) / coils

    def growth(self, free_length: float) -> float:
        """Return how much the outside diameter grows from free to solid, in m."""
        pitch = self.pitch(free_length)
        return max(0.0, 0.1 * (pitch**2 - 0.8 * pitch * self.d - 0.2 * self.d**2) / self.D)

    def mass(self, free_length: float, density: float) -> float:
        """Return the mass of the wire in kg."""
        length = math.hypot(math.pi * self.D * self.total_coils, free_length)
        return density * math.pi * self.d**2 / 4 * length

    def surge(self, density: float) -> float:
        """Return the lowest frequency of the coils between fixed ends, in Hz."""
        return self.d / (2 * math.pi * self.n * self.D**2) * math.sqrt(self.G / (2 * density))

    def reserve(self, *, cyclic: bool, hot: bool) -> float:
        """Return the least sum of gaps between the coils at the greatest working load, in m."""
        if hot:
            return 0.02 * self.n * (self.D + self.d) * (2.0 if cyclic else 1.0)
        return self.n * (0.0015 * self.D**2 / self.d + 0.1 * self.d) * (1.5 if cyclic else 1.0)


def curvature_factor(index: float, which: Curvature) -> float:
    """Return the factor on the shear stress for the curvature of the wire.

    >>> round(curvature_factor(6, "wahl"), 4), round(curvature_factor(6, "bergstrasser"), 4)
    (1.2525, 1.2381)
    """
    if which == "wahl":
        return (4 * index - 1) / (4 * index - 4) + 0.615 / index
    if which == "bergstrasser":
        return (index + 0.5) / (index - 0.75)
    return 1 + 0.5 / index if which == "half" else 1.0


def active_coils(d: float, D: float, rate: float, G: float) -> float:
    """Return the active coils that give a rate.

    >>> round(active_coils(0.021, 0.150, 75e3, 81.37e9), 6)
    7.814775
    """
    return G * d**4 / (8 * D**3 * rate)


class Buckling(NamedTuple):
    """The two constants of the stability of a compressed spring, from its moduli."""

    c1: float
    c2: float

    def travel(self, free_length: float, D: float, seating: float) -> float | None:
        """Return the compression in m at which the spring bows out, or none where it never does."""
        slender = seating * free_length / D
        inside = 1 - self.c2 / slender**2
        return free_length * self.c1 * (1 - math.sqrt(inside)) if inside > 0 else None

    @property
    def slenderness(self) -> float:
        """The greatest seating factor times L0 / D at which a spring is stable whatever its compression."""
        return math.sqrt(self.c2)


def buckling(E: float, G: float) -> Buckling:
    """Return the constants for the moduli E and G; E must be the greater.

    >>> round(buckling(206e9, 79.3e9).slenderness, 2)
    2.62
    """
    return Buckling(E / (2 * (E - G)), 2 * math.pi**2 * (E - G) / (2 * G + E))

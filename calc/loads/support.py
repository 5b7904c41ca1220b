"""A car on four springs and four tyres: how loads and heights change when a perch is turned or a pad is not level.

Eight unknowns: the height of the body over each axle, the roll of the body at each axle, and the height of each hub. Springs, bars,
tyres and the twist of the chassis are elements that each resist one combination of them. Four-point support is once statically
indeterminate, so only the stiffnesses decide how the diagonal is shared.
"""

import math
from collections.abc import Sequence
from typing import NamedTuple

from calc.numeric.linear import Singular, solve
from calc.refusal import Refused

CORNERS = ("front_left", "front_right", "rear_left", "rear_right")
_HEIGHT, _ROLL, _HUB = 0, 2, 4  # where the unknowns of height, roll and hubs begin
_SIZE = 8


class Axle(NamedTuple):
    """Rates at the two wheels of an axle. ``base`` is the distance of the springs on a beam or live axle, none if independent.

    The bar's rate is force per difference of wheel travel. A tyre rate of none is a tyre that does not give.
    """

    track: float
    rates: tuple[float, float]
    tyres: tuple[float | None, float | None]
    bar: float = 0.0
    base: float | None = None

    @property
    def spring_base(self) -> float:
        """The distance between the places where the springs act."""
        return self.track if self.base is None else self.base


class Support(NamedTuple):
    """Both axles and the torsional stiffness of the chassis between them, none if it does not twist."""

    front: Axle
    rear: Axle
    chassis: float | None = None

    @property
    def axles(self) -> tuple[Axle, Axle]:
        """Front and rear."""
        return self.front, self.rear


class Settled(NamedTuple):
    """Changes at the four corners (front left, front right, rear left, rear right), and which wheels have lifted."""

    loads: tuple[float, ...]
    heights: tuple[float, ...]
    hubs: tuple[float, ...]
    lifted: frozenset[int]
    twist: float


class _Element(NamedTuple):
    """A spring: force = rate (row . unknowns + offset)."""

    rate: float
    row: tuple[float, ...]
    offset: float


def settle(
    support: Support,
    perches: Sequence[float],
    pads: Sequence[float] = (0, 0, 0, 0),
    loads: Sequence[float] | None = None,
    blame: str = "perches",
) -> Settled:
    """Return how loads and heights change when the perches rise by ``perches`` and the ground under the wheels by ``pads``, metres.

    A perch rise is counted where the spring's rate is: at the wheel (perch rise over motion ratio), or at the spring of a live axle.
    ``loads`` are the wheel loads before; with them, a wheel that would pull the ground lifts instead. ``blame`` names the input to
    refuse when more than one would.

    Equation: K q = f over springs k (u - z + p), bars k_a (d_l - d_r), tyres k_t (pad - u) and chassis K_c (phi_f - phi_r).

    >>> wheel = Axle(1.4, (30e3, 30e3), (None, None))
    >>> [round(change, 9) for change in settle(Support(wheel, wheel), (0.002, 0, 0, 0)).loads]
    [15.0, -15.0, -15.0, 15.0]
    """
    lifted: frozenset[int] = frozenset()
    while True:
        found = _solve(support, perches, pads, lifted, loads or (0.0,) * 4)
        low = [
            i for i in range(4) if loads and i not in lifted and loads[i] + found.loads[i] < -1e-9 * math.fsum(loads)
        ]
        if not loads or not low:
            return found
        if lifted:
            names = " and ".join(CORNERS[i].replace("_", " ") for i in sorted({*lifted, *low}))
            raise Refused(blame, "must leave at least three wheels on the ground", f"{names} would lift")
        # the one that the growing change brings to zero first; its three neighbours then stand still
        lifted = frozenset({min(low, key=lambda i: loads[i] / -found.loads[i])})


def _solve(
    support: Support, perches: Sequence[float], pads: Sequence[float], lifted: frozenset[int], loads: Sequence[float]
) -> Settled:
    elements = [*_suspension(support, perches), *_chassis(support)]
    held = {_HUB + i: pads[i] for i in range(4) if _tyre(support, i) is None and i not in lifted}
    tyres = [
        _Element(rate, tuple(-1.0 if j == _HUB + i else 0.0 for j in range(_SIZE)), pads[i])
        for i in range(4)
        if (rate := _tyre(support, i)) is not None and i not in lifted
    ]
    pushes = [-loads[j - _HUB] if j - _HUB in lifted else 0.0 for j in range(_SIZE)]
    q = _unknowns([*elements, *tyres], pushes, held, rigid=support.chassis is None)
    forces = [element.rate * (_along(element.row, q) + element.offset) for element in elements]
    return Settled(
        loads=tuple(math.fsum(f * e.row[_HUB + i] for f, e in zip(forces, elements, strict=True)) for i in range(4)),
        heights=tuple(
            q[_HEIGHT + i // 2] + _side(i) * support.axles[i // 2].track / 2 * q[_ROLL + i // 2] for i in range(4)
        ),
        hubs=tuple(q[_HUB:]),
        lifted=lifted,
        twist=q[_ROLL + 1] - q[_ROLL],
    )


def _side(corner: int) -> float:
    return 1.0 if corner % 2 == 0 else -1.0


def _tyre(support: Support, corner: int) -> float | None:
    return support.axles[corner // 2].tyres[corner % 2]


def _along(row: Sequence[float], q: Sequence[float]) -> float:
    return math.fsum(a * b for a, b in zip(row, q, strict=True))


def _suspension(support: Support, perches: Sequence[float]) -> list[_Element]:
    found = []
    for n, axle in enumerate(support.axles):
        left, right = _HUB + 2 * n, _HUB + 2 * n + 1
        for side, sign in ((0, 1.0), (1, -1.0)):
            lean = sign * axle.spring_base / axle.track / 2
            row = [0.0] * _SIZE
            row[left], row[right] = 0.5 + lean, 0.5 - lean
            row[_HEIGHT + n], row[_ROLL + n] = -1.0, -sign * axle.spring_base / 2
            found.append(_Element(axle.rates[side], tuple(row), perches[2 * n + side]))
        if axle.bar > 0:
            row = [0.0] * _SIZE
            row[left], row[right], row[_ROLL + n] = 1.0, -1.0, -axle.track
            found.append(_Element(axle.bar, tuple(row), 0.0))
    return found


def _chassis(support: Support) -> list[_Element]:
    if not support.chassis:
        return []
    return [_Element(support.chassis, tuple(float((j == _ROLL) - (j == _ROLL + 1)) for j in range(_SIZE)), 0.0)]


def _unknowns(
    elements: Sequence[_Element], pushes: Sequence[float], held: dict[int, float], *, rigid: bool
) -> list[float]:
    """Solve for the unknowns that are free; ``held`` ones are known, and a rigid chassis has one roll for both axles."""
    free = [j for j in range(_SIZE) if j not in held and not (rigid and j == _ROLL + 1)]

    def reduced(row: Sequence[float]) -> list[float]:
        merged = list(row)
        if rigid:
            merged[_ROLL] += merged[_ROLL + 1]
        return [merged[j] for j in free]

    matrix = [[0.0] * len(free) for _ in free]
    right = reduced(pushes)
    for element in elements:
        row = reduced(element.row)
        offset = element.offset + math.fsum(element.row[j] * value for j, value in held.items())
        for i, a in enumerate(row):
            right[i] -= element.rate * offset * a
            for j, b in enumerate(row):
                matrix[i][j] += element.rate * a * b
    try:
        answer = dict(zip(free, solve(matrix, right), strict=True)) | held
    except Singular:
        raise Refused(
            "front_rate",
            "and the other rates must be of one size: the car has no single position of rest",
            f"{elements[0].rate:g} N/m",
        ) from None
    if rigid:
        answer[_ROLL + 1] = answer[_ROLL]
    return [answer[j] for j in range(_SIZE)]


def perches_for_diagonal(support: Support, change: float) -> tuple[float, ...]:
    """Return the perch rises that add ``change`` newtons at the front left and move the body no more than the chassis must twist.

    The loads change by w (+1, -1, -t_f/t_r, +t_f/t_r): axle loads stay. The torque w t_f twists the chassis by phi = w t_f/K_c, half at
    each end. Then each axle stands alone: hub u = -dN/k_t, bar force B = k_a (u_l - u_r - phi t), spring force S = (dN - B) t/b,
    perch p = S/k - u + phi b/2 at the spring.

    >>> wheel = Axle(1.4, (30e3, 30e3), (None, None))
    >>> [round(rise * 1000, 9) for rise in perches_for_diagonal(Support(wheel, wheel), 60.0)]
    [2.0, -2.0, -2.0, 2.0]
    """
    track = support.front.track
    roll = 0.0 if support.chassis is None else change * track / support.chassis / 2
    rises: list[float] = []
    for axle, load, lean in (
        (support.front, change, roll),
        (support.rear, -change * track / support.rear.track, -roll),
    ):
        left, right = (
            -sign * load / rate if rate is not None else 0.0 for sign, rate in zip((1, -1), axle.tyres, strict=True)
        )
        bar = axle.bar * (left - right - lean * axle.track)
        reach = axle.spring_base / axle.track
        for sign, rate in zip((1.0, -1.0), axle.rates, strict=True):
            hub = (left + right) / 2 + sign * reach * (left - right) / 2
            rises.append(sign * (load - bar) / reach / rate - hub + sign * lean * axle.spring_base / 2)
    return tuple(rises)

"""A damper's dyno table: read between its points, described by its shape, and weighed as damping."""

import math
from collections.abc import Mapping
from itertools import pairwise
from typing import Annotated, Any, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.numeric.integrate import nodes
from calc.numeric.monotone import Curve
from calc.refusal import Refused
from calc.springs.dampers.ratio import critical_damping
from calc.springs.dampers.shape import Bend, power_law, two_slopes
from calc.springs.tables import curve, require_within
from calc.springs.words import DamperRatio
from calc.terms import WheelRate
from calc.units import Kilograms, MetresPerSecond, Newtons, NewtonSecondsPerMetre, Ratio

_PIECES = 2


class Stroke(NamedTuple):
    """One speed of the dyno. Both forces are written positive."""

    speed: Annotated[MetresPerSecond, Input("Speed", "v", "mm/s", at_least=0)]
    compression: Annotated[Newtons, Input("Compression", "F_c", "N", at_least=0)]
    rebound: Annotated[Newtons, Input("Rebound", "F_r", "N", at_least=0)]


class Dyno(NamedTuple):
    """A dyno table with gas and friction taken off: two curves from zero."""

    compression: Curve
    rebound: Curve
    gas: float
    friction: float

    def equivalent(self, speed: float) -> float:
        """Return the linear damping that takes the same energy from a sinusoidal stroke of this greatest speed.

        c_eq = 2 / (pi V) times the integral of (F_c + F_r)(V cos a) cos a over a quarter turn.
        """
        knees = sorted(math.acos(x / speed) for x in self.compression.x if 0 < x < speed)
        parts = pairwise((0.0, *knees, math.pi / 2))  # the curve bends sharply at a reading: no piece may span one
        total = math.fsum(
            weight * (self.compression.value(v) + self.rebound.value(v)) * math.cos(angle)
            for low, high in parts
            for angle, weight in nodes(low, high, _PIECES)
            for v in (speed * math.cos(angle),)
        )
        return 2 * total / (math.pi * speed)


class DamperCurve(NamedTuple):
    """Forces, damping and shape. Damping is at the damper unless said otherwise."""

    compression: Annotated[Newtons, Output("Compression force at this speed", "F_c", "N")]
    rebound: Annotated[Newtons, Output("Rebound force at this speed", "F_r", "N")]
    damping: Annotated[NewtonSecondsPerMetre, Output("Mean force over speed", "c", "N·s/m")]
    equivalent: Annotated[
        NewtonSecondsPerMetre,
        Output("Linear damping of the same energy, stroke of this greatest speed", "c_{eq}", "N·s/m"),
    ]
    compression_slope: Annotated[NewtonSecondsPerMetre, Output("Slope in compression", "c_c", "N·s/m", 3)]
    rebound_slope: Annotated[NewtonSecondsPerMetre, Output("Slope in rebound", "c_r", "N·s/m", 3)]
    rebound_over_compression: Annotated[Ratio | None, Output("Rebound over compression", "", "", 3)]
    ratio: Annotated[Ratio | None, Output("Damping ratio of the corner at this speed", r"\zeta", "", 3)]
    compression_shape: Annotated[Bend | None, Output("Compression is")]
    rebound_shape: Annotated[Bend | None, Output("Rebound is")]
    compression_exponent: Annotated[Ratio | None, Output("Exponent of compression", "n_c", "", 3, detail=True)]
    rebound_exponent: Annotated[Ratio | None, Output("Exponent of rebound", "n_r", "", 3, detail=True)]
    compression_knee: Annotated[MetresPerSecond | None, Output("Knee of compression", "v_{kc}", "mm/s", 3, detail=True)]
    compression_slopes: Annotated[
        tuple[NewtonSecondsPerMetre, ...], Output("Two straight lines through compression", "", "N·s/m", 3, detail=True)
    ]
    rebound_knee: Annotated[MetresPerSecond | None, Output("Knee of rebound", "v_{kr}", "mm/s", 3, detail=True)]
    rebound_slopes: Annotated[
        tuple[NewtonSecondsPerMetre, ...], Output("Two straight lines through rebound", "", "N·s/m", 3, detail=True)
    ]
    gas_offset: Annotated[Newtons, Output("Gas force taken off", "F_g", "N", 3, detail=True)]
    friction: Annotated[Newtons, Output("Friction taken off", "F_f", "N", 3, detail=True)]
    flags: tuple[str, ...]


def dyno(rows: tuple[Stroke, ...]) -> Dyno:
    """Return the curves of a table; a row at standstill is read as gas and friction and taken off all others."""
    gas = friction = 0.0
    if rows[0].speed == 0:
        gas, friction = (rows[0].compression - rows[0].rebound) / 2, (rows[0].compression + rows[0].rebound) / 2
    speeds = [row.speed for row in rows]
    sides = {
        "compression": [row.compression - rows[0].compression * (rows[0].speed == 0) for row in rows],
        "rebound": [row.rebound - rows[0].rebound * (rows[0].speed == 0) for row in rows],
    }
    inward, outward = (
        curve(speeds, forces, "dyno_table", ("speed", side), ("mm/s", "N")) for side, forces in sides.items()
    )
    return Dyno(inward, outward, gas, friction)


def _remarks(result: DamperCurve, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark(
            "Read at one temperature and one stroke: a hot damper, or another stroke, gives another curve.",
            about="compression",
        )
    ]
    over = result.rebound_over_compression
    if over is not None and over > 3:
        remarks.append(
            Remark(
                "Rebound more than three times compression: over a run of bumps the car pumps itself down.",
                "caution",
                "rebound_over_compression",
            )
        )
    if over is not None and over < 0.9:
        remarks.append(
            Remark(
                "Rebound below compression is unusual: check which column is which.",
                "caution",
                "rebound_over_compression",
            )
        )
    return tuple(remarks)


def _figures(result: DamperCurve, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    known = dyno(inputs["dyno_table"])
    top = known.compression.x[-1]
    speeds = [top * i / 40 for i in range(41)]
    here = inputs["speed"]
    forces = Chart(
        "Force against speed",
        "Compression upwards, rebound downwards, gas and friction taken off.",
        Axis("Damper speed", "mm/s"),
        Axis("Force", "N"),
        (
            Series("Compression", speeds, [known.compression.value(v) for v in speeds]),
            Series("Rebound", speeds, [-known.rebound.value(v) for v in speeds]),
            Series("Here", [here, here], [result.compression, -result.rebound], points=True),
        ),
    )
    moving = speeds[2:]
    damping = Chart(
        "Mean damping against speed",
        "Force over speed, mean of both directions: where it falls, the damper is digressive.",
        Axis("Damper speed", "mm/s"),
        Axis("Damping", "N·s/m"),
        (
            Series(
                "Mean force over speed",
                moving,
                [(known.compression.value(v) + known.rebound.value(v)) / 2 / v for v in moving],
            ),
        ),
    )
    return forces, damping


@calculator(
    title="Damper curve from a dyno table",
    question="What force and damping has this damper at this speed, and what shape is its curve?",
    example={
        "dyno_table": [
            ["25 mm/s", "150 N", "260 N"],
            ["50 mm/s", "270 N", "480 N"],
            ["100 mm/s", "420 N", "760 N"],
            ["150 mm/s", "510 N", "930 N"],
            ["250 mm/s", "650 N", "1190 N"],
            ["400 mm/s", "840 N", "1520 N"],
        ],
        "speed": "80 mm/s",
        "sprung_mass": "265 kg",
        "wheel_rate": "52.9 N/mm",
        "damper_ratio": "0.94",
    },
    working=(
        Step(r"c = \frac{F_c + F_r}{2 \, v}", "damping"),
        Step(
            r"c_{eq} = \frac{2}{\pi V} \int_0^{\pi/2} (F_c + F_r)(V \cos \alpha) \cos \alpha \, d\alpha", "equivalent"
        ),
        Step(r"\zeta = \frac{c \, {MR_d}^2}{2 \sqrt{k_w \, m_s}}", "ratio"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def damper_curve(
    *,
    dyno_table: Annotated[
        tuple[Stroke, ...],
        Input("Dyno table", help="Rising speeds, both forces positive. A row at 0 mm/s holds gas and friction."),
    ],
    speed: Annotated[MetresPerSecond, Input("Damper speed asked", "v", "mm/s", above=0, typical=(0.005, 0.5))],
    sprung_mass: Annotated[
        Kilograms | None,
        Input("Sprung mass on this corner", "m_s", "kg", above=0, help="With the wheel rate: for the damping ratio."),
    ] = None,
    wheel_rate: Annotated[WheelRate | None, Input("Wheel rate", "k_w", "N/mm", above=0)] = None,
    damper_ratio: DamperRatio = 1.0,
) -> DamperCurve:
    """Return force, damping and shape of a damper from its dyno table, by a monotone curve through the points.

    Equation: mean damping (F_c + F_r) / (2 v); c_eq by the work of a sinusoidal stroke; zeta = c MR_d^2 / (2 sqrt(k_w m_s)).
    Signs: both forces positive, compression pushes wheel and body apart; the speed is the damper's, wheel speed times MR_d.
    Valid for: the measured speeds, nothing beyond them; the hysteresis in mid-stroke is dropped; zero force at standstill once gas and friction are off.
    Source: monotone interpolation after Fritsch and Carlson, 1980 (from memory); least squares of logarithms, and of two lines with a knee.

    >>> rows = tuple(Stroke(v, 4000 * v, 6000 * v) for v in (0.05, 0.1, 0.2, 0.4))
    >>> answer = damper_curve(dyno_table=rows, speed=0.15)
    >>> round(answer.damping), round(answer.equivalent), answer.rebound_shape
    (5000, 5000, 'linear')
    """
    known = dyno(dyno_table)
    require_within(known.compression, speed, "speed", "mm/s", "the dyno table")
    inward, outward = known.compression.value(speed), known.rebound.value(speed)
    damping = (inward + outward) / 2 / speed
    laws = [power_law(side.x, side.y) for side in known[:2]]
    lines = [two_slopes(side.x, side.y) for side in known[:2]]
    return DamperCurve(
        compression=inward,
        rebound=outward,
        damping=damping,
        equivalent=known.equivalent(speed),
        compression_slope=known.compression.slope(speed),
        rebound_slope=known.rebound.slope(speed),
        rebound_over_compression=outward / inward if inward > 0 else None,
        ratio=_ratio(damping * damper_ratio**2, sprung_mass, wheel_rate),
        compression_shape=None if laws[0] is None else laws[0].bend,
        rebound_shape=None if laws[1] is None else laws[1].bend,
        compression_exponent=None if laws[0] is None else laws[0].exponent,
        rebound_exponent=None if laws[1] is None else laws[1].exponent,
        compression_knee=None if lines[0] is None else lines[0].knee,
        compression_slopes=() if lines[0] is None else (lines[0].first, lines[0].second),
        rebound_knee=None if lines[1] is None else lines[1].knee,
        rebound_slopes=() if lines[1] is None else (lines[1].first, lines[1].second),
        gas_offset=known.gas,
        friction=known.friction,
        flags=_flags(known),
    )


def _ratio(at_wheel: float, mass: float | None, rate: float | None) -> float | None:
    if mass is None and rate is None:
        return None
    if mass is None or rate is None:
        missing = "sprung_mass" if mass is None else "wheel_rate"
        raise Refused(missing, "is needed as well for a damping ratio", hint="Or leave both empty.")
    return at_wheel / critical_damping(rate, mass)


def _flags(known: Dyno) -> tuple[str, ...]:
    least = min(side.value(side.x[-1]) for side in known[:2])
    if known.friction > 0.2 * least > 0:
        return (
            f"Friction of {quantity(known.friction, 'N', 3)} is a large part of the force: it holds the car still on small bumps and is no damping.",
        )
    return ()

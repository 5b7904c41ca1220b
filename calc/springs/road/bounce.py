"""A bounce test read from its peaks: frequency, damping ratio, and whether friction spoils it."""

import math
from collections.abc import Mapping
from itertools import pairwise
from typing import Annotated, Any, Literal, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.numeric.least_squares import line
from calc.refusal import Refused
from calc.springs.tables import require_rising
from calc.units import Hertz, Kilograms, Metres, NewtonSecondsPerMetre, NewtonsPerMetre, Ratio, Seconds

_FRICTION = 0.1  # share of the last peak used that friction may take before it is flagged
_FIT = 3  # peaks the damping is read from: later ones drown in friction


class Peak(NamedTuple):
    """One peak of the trace, measured from where the body comes to rest."""

    time: Annotated[Seconds, Input("Time", "t", "s", at_least=0)]
    height: Annotated[Metres, Input("Peak, either side of rest", "x", "mm", help="The sign may be given or left out.")]


class BounceTest(NamedTuple):
    """What the peaks say."""

    damping_ratio: Annotated[Ratio, Output("Damping ratio", r"\zeta", "", 3)]
    frequency: Annotated[Hertz, Output("Natural frequency, undamped", "f_n", "Hz", 4)]
    damped_frequency: Annotated[Hertz, Output("Frequency seen, damped", "f_d", "Hz", 4)]
    friction: Annotated[Metres | None, Output("Friction, as spring movement it holds", "x_f", "mm", 2)]
    stiffness: Annotated[NewtonsPerMetre | None, Output("Rate under this mass", "k", "N/mm")]
    damping: Annotated[NewtonSecondsPerMetre | None, Output("Damping", "c", "N·s/m")]
    critical: Annotated[NewtonSecondsPerMetre | None, Output("Critical damping", "c_{cr}", "N·s/m")]
    decrement: Annotated[Ratio, Output("Logarithmic decrement of a full cycle", r"\delta", "", 4, detail=True)]
    used: Annotated[int, Output("Peaks used for the damping", "N", detail=True)]
    flags: tuple[str, ...]


def _remarks(result: BounceTest, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark("Take bars off, keep 10 to 20 mm of amplitude, and average several pushes.", about="damping_ratio")
    ]
    if result.damping_ratio > 0.4:
        remarks.append(
            Remark(
                "Above about 0.4 the peaks vanish within one cycle: for the frequency, take the dampers off.",
                "caution",
                "damping_ratio",
            )
        )
    return tuple(remarks)


def _figures(result: BounceTest, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    rows = inputs["peaks"]
    start, size = rows[0].time, abs(rows[0].height)
    rate = result.damping_ratio * 2 * math.pi * result.frequency
    end = rows[-1].time
    times = [start + (end - start) * i / 40 for i in range(41)]
    text = "Peaks of a viscous decay lie on the curve; peaks of friction fall in equal steps, in a straight line."
    return (
        Chart(
            "Peaks and the decay fitted to the first",
            text,
            Axis("Time", "s"),
            Axis("Size of the peak", "mm"),
            (
                Series("Decay", times, [size * math.exp(-rate * (t - start)) for t in times]),
                Series("Peaks", [row.time for row in rows], [abs(row.height) for row in rows], points=True),
            ),
        ),
    )


@calculator(
    title="Bounce test",
    question="What frequency and damping ratio does this bounce trace show?",
    example={
        "peaks": [["0.00 s", "18.0 mm"], ["0.24 s", "-7.2 mm"], ["0.48 s", "2.8 mm"]],
        "spacing": "half",
        "mass": "265 kg",
    },
    working=(
        Step(r"\delta = \ln \frac{x_i}{x_{i+1}} \quad \text{for a full cycle}", "decrement"),
        Step(r"\zeta = \frac{\delta}{\sqrt{4 \pi^2 + \delta^2}}", "damping_ratio"),
        Step(r"f_n = \frac{f_d}{\sqrt{1 - \zeta^2}}", "frequency"),
        Step(r"k = m \, (2 \pi f_n)^2", "stiffness"),
        Step(r"c_{cr} = 2 \sqrt{k \, m}", "critical"),
        Step(r"c = \zeta \, c_{cr}", "damping"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def bounce_test(
    *,
    peaks: Annotated[
        tuple[Peak, ...], Input("Peaks of the trace", help="From the resting height, one after the other.")
    ],
    spacing: Annotated[
        Literal["half", "full"],
        Choice(
            "From one peak to the next is",
            {"half": "half a cycle: tops and bottoms in turn", "full": "a full cycle: tops only"},
        ),
    ] = "half",
    mass: Annotated[
        Kilograms | None,
        Input(
            "Sprung mass that bounces", "m", "kg", above=0, typical=(100, 2000), help="For rate and damping as well."
        ),
    ] = None,
) -> BounceTest:
    """Return frequency and damping ratio from the peaks of a free bounce, by logarithmic decrement, and look for friction.

    Equation: delta = ln(x_i / x_{i+1}) of a full cycle, twice that of a half; zeta = delta / sqrt(4 pi^2 + delta^2); f_n = f_d / sqrt(1 - zeta^2).
    The damping comes from the first three peaks, the frequency from all.
    Friction: with three peaks or more, x_{i+1} = r x_i - (1 + r) x_f is fitted for half cycles; x_f is the movement at which friction holds the spring.
    Valid for: one mode, viscous damping, peaks measured from rest; the bars off and the damper light.
    Caution: push by hand on the sill, keep clear of the wheels, and never under a car held by its jack.
    Source: free decay of the simple oscillator; Rao, Mechanical Vibrations (from memory).

    >>> rows = tuple(Peak(t, x / 1000) for t, x in ((0.0, 100.0), (0.324635, -35.902722), (0.649269, 12.890054), (0.973904, -4.62788)))
    >>> answer = bounce_test(peaks=rows)
    >>> round(answer.damping_ratio, 5), round(answer.frequency, 3)
    (0.31, 1.62)
    """
    sizes = _sizes(peaks)
    _require_sides(peaks, spacing)
    cycle = 2.0 if spacing == "half" else 1.0
    used = sizes[:_FIT]
    decrement = -cycle * line(range(len(used)), [math.log(size) for size in used]).slope
    ratio = decrement / math.hypot(2 * math.pi, decrement)
    seen = (len(peaks) - 1) / cycle / (peaks[-1].time - peaks[0].time)
    natural = seen / math.sqrt(1 - ratio**2)
    friction, flags = _friction(sizes, spacing)
    stiffness = None if mass is None else mass * (2 * math.pi * natural) ** 2
    critical = None if mass is None or stiffness is None else 2 * math.sqrt(stiffness * mass)
    return BounceTest(
        damping_ratio=ratio,
        frequency=natural,
        damped_frequency=seen,
        friction=friction,
        stiffness=stiffness,
        damping=None if critical is None else ratio * critical,
        critical=critical,
        decrement=decrement,
        used=len(used),
        flags=flags,
    )


def _sizes(peaks: tuple[Peak, ...]) -> list[float]:
    """Return the sizes of the peaks; they must come one after the other and fall."""
    if len(peaks) < 2:
        raise Refused("peaks", "must have at least two rows", f"{len(peaks)} row")
    require_rising([row.time for row in peaks], "peaks", "time", "s")
    sizes = [abs(row.height) for row in peaks]
    for n, size in enumerate(sizes, start=1):
        if size == 0:
            raise Refused(f"peaks[{n}].height", "must not be 0", "0 mm")
        if n > 1 and size >= sizes[n - 2]:
            raise Refused(
                f"peaks[{n}].height",
                f"must be smaller than the peak before, {quantity(sizes[n - 2], 'mm')}",
                quantity(size, "mm"),
                hint="A free bounce dies away.",
            )
    return sizes


def _require_sides(peaks: tuple[Peak, ...], spacing: str) -> None:
    """Refuse signed peaks on the wrong side of rest; without signs, all are taken to be where they should."""
    if all(row.height > 0 for row in peaks):
        return
    for n, (before, here) in enumerate(pairwise(peaks), start=2):
        if (here.height > 0) == (before.height > 0) and spacing == "half":
            raise Refused(
                f"peaks[{n}].height",
                "must be on the other side of rest",
                quantity(here.height, "mm"),
                hint="Where friction stops it on the same side, the bounce is over.",
            )
        if (here.height > 0) != (before.height > 0) and spacing == "full":
            raise Refused(
                f"peaks[{n}].height",
                "must be on the same side of rest",
                quantity(here.height, "mm"),
                hint="Or choose half cycles.",
            )


def _friction(sizes: list[float], spacing: str) -> tuple[float | None, tuple[str, ...]]:
    """Return the movement friction holds, and a flag where it spoils the reading; not known from two peaks.

    A viscous decay shrinks every peak by the same ratio; friction takes the same step off each on top of it.
    """
    if len(sizes) < 3:
        return None, ()
    fit = line(sizes[:-1], sizes[1:])
    ratio, lost = fit.slope, -fit.intercept
    swings = 1 + ratio if spacing == "half" else (1 + math.sqrt(max(ratio, 0.0))) ** 2
    held = max(0.0, lost / swings) if ratio > -0.99 else 0.0
    if lost <= 1e-6 * sizes[0] or lost < _FRICTION * sizes[min(_FIT, len(sizes)) - 1]:
        return held, ()
    return held, (
        f"Friction: the peaks fall by a fixed step as well as by a ratio; about {quantity(held, 'mm', 2)} of spring movement is held by it. The damping ratio read here is too high.",
    )

"""Brake lines: what they are rated for against what they see."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.brakes.care import with_care
from calc.brakes.terms import pressure
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.units import Metres, Pascals, Ratio

HOSE_HOLD = 27.579e6  # Pa, 4000 psi for two minutes, FMVSS 106 S5.3.2 in an agency letter (looked up)
HOSE_BURST = 34.474e6  # Pa, 5000 psi, the same letter; a later text asks 7000 psi for 1/8 in (from memory)


class LineRating(NamedTuple):
    """Burst pressure and the margin to it."""

    burst_pressure: Annotated[Pascals, Output("Bursts not below", "p_b", "MPa")]
    margin: Annotated[Ratio, Output("Burst over working pressure", "n", "", 3)]
    allowed_pressure: Annotated[Pascals, Output("Highest working pressure, a third of burst", "p_a", "bar")]
    enough: Annotated[Literal["yes", "no"], Output("Working peak within a third of burst", "")]


def _remarks(result: LineRating, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark(
            "Keep flexible lines more than 50 mm from disc and exhaust, shield those that cannot be, and check them at full lock and full travel.",
            about="margin",
        )
    ]
    if result.enough == "no":
        remarks.append(
            Remark(
                "The working peak is more than a third of the burst pressure: use a better line or less pressure.",
                "caution",
                "enough",
            )
        )
    return tuple(remarks)


@calculator(
    title="Rating of brake lines",
    question="Does this hose or tube stand the pressure with enough in hand?",
    example={
        "kind": "tube",
        "working_pressure": "120 bar",
        "outer_diameter": "4.763 mm",
        "wall": "0.711 mm",
        "strength": "290 MPa",
    },
    working=(
        Step(r"p_b = \frac{\sigma \, t}{r_i}", "burst_pressure"),
        Step(r"n = \frac{p_b}{p}", "margin"),
        Step(r"p_a = \frac{p_b}{3}", "allowed_pressure"),
    ),
    remarks=with_care(_remarks),
)
def line_rating(
    *,
    kind: Annotated[
        Literal["tube", "hose"],
        Choice("Line", {"tube": "rigid tube, from its wall", "hose": "hose, from its burst rating"}),
    ],
    working_pressure: Annotated[Pascals, pressure("Highest working pressure", "p", "100 to 150 bar is a usual peak.")],
    outer_diameter: Annotated[
        Metres, Input("Outer diameter of the tube", "D", "mm", above=0, at_most=0.05, typical=(0.004, 0.008))
    ] = 0.0047625,
    wall: Annotated[
        Metres, Input("Wall of the tube", "t", "mm", above=0, at_most=0.01, typical=(0.0005, 0.0012))
    ] = 0.0007112,
    strength: Annotated[
        Pascals, Input("Tensile strength of the tube", r"\sigma", "MPa", above=0, at_most=3e9, typical=(2e8, 6e8))
    ] = 290e6,
    hose_burst: Annotated[Pascals, Input("Burst rating of the hose", "p_b", "MPa", above=0, at_most=1e9)] = HOSE_BURST,
) -> LineRating:
    """Return the burst pressure of a line, and the margin to its working pressure.

    Equation: thin wall p = sigma t/r_i;  working peak at most a third of burst.
    Valid for: sound, uncorroded lines with proper flares; thin walls (t under a fifth of r is good to about 10 %).
    Caution: flare, route and clamp as local codes ask; copper alone hardens and cracks.
    Source: FMVSS 106: a hose holds 4000 psi for two minutes and bursts no lower than 5000 psi (agency letter, looked up); thin-wall formula.

    >>> round(line_rating(kind="tube", working_pressure=12e6).margin, 1)
    10.3
    """
    if working_pressure <= 0:
        raise Refused("working_pressure", "must be greater than 0 bar", "0 bar")
    if kind == "tube":
        inner = outer_diameter / 2 - wall
        if inner <= 0:
            raise Refused("wall", "must be less than half the outer diameter", f"{1e3 * wall:g} mm")
        burst = strength * wall / inner
    else:
        burst = hose_burst
    return LineRating(burst, burst / working_pressure, burst / 3, "yes" if working_pressure <= burst / 3 else "no")

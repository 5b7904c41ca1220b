"""A long pedal: which cause fits what was measured, how much of it would explain the travel, and which test comes next."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.brakes.care import with_care
from calc.brakes.circuit import OneSideArea, Pressure, air_volume
from calc.brakes.cylinders import bore_area
from calc.brakes.terms import PedalRatio, bore
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.units import CubicMetres, Metres, Ratio

_FELT = 0.003  # m at the pedal, a difference a foot and a ruler can tell
Feel = Literal["spongy", "firm"]
When = Literal["always", "when hot", "after corners or kerbs", "first press after standing"]


class Cause(NamedTuple):
    """One cause of a long pedal: the signs that speak for it, and the test that tells it from the others."""

    name: str
    pumps_up: bool | None  # better on the second press; None: says nothing
    sinks: bool
    feel: Feel | None
    when: tuple[When, ...]
    test: str


CAUSES = (
    Cause(
        "seal or leak",
        None,
        True,
        None,
        ("always",),
        "Hold the pedal for a minute: watch the level and every joint, dust boots included.",
    ),
    Cause(
        "air in the fluid",
        True,
        False,
        "spongy",
        ("always", "first press after standing"),
        "Bleed until it runs clear, high points and cross-over pipes too; measure again.",
    ),
    Cause(
        "fluid boiling",
        None,
        False,
        "spongy",
        ("when hot",),
        "Stop. Let it cool, then change the fluid and measure caliper temperature on the next run.",
    ),
    Cause(
        "pads knocked back",
        True,
        False,
        "firm",
        ("after corners or kerbs",),
        "Push and pull the wheel for bearing play, measure disc run-out, then drive one lap without kerbs.",
    ),
    Cause(
        "large pad clearance or tapered pads",
        True,
        False,
        "firm",
        ("always", "first press after standing"),
        "Measure clearance at each pad and pad thickness at both ends; check that slides move.",
    ),
    Cause(
        "soft hoses or calipers",
        False,
        False,
        "spongy",
        ("always",),
        "Clamp one hose at a time with a proper clamp and measure how much travel goes.",
    ),
    Cause(
        "rod free play or bar out of square",
        False,
        False,
        "firm",
        ("always",),
        "Measure free play at the rods and look at the bar with the pedal pressed hard.",
    ),
    Cause(
        "cylinder bore too small for the calipers",
        False,
        False,
        "firm",
        ("always",),
        "Compute the stroke budget: if computed and measured agree, nothing is wrong but the choice.",
    ),
)


class LongPedal(NamedTuple):
    """Causes in order of fit, with the amount of each that would explain the travel, and tests in order."""

    likely: Annotated[tuple[str, ...], Output("Causes, the best fit first", "")]
    tests: Annotated[tuple[str, ...], Output("Tests, in this order", "")]
    extra_first: Annotated[Metres, Output("More travel than expected, first press", r"\Delta x_1", "mm", 3)]
    pumped_away: Annotated[Metres, Output("Travel that a second press takes away", r"\Delta x_p", "mm", 3)]
    air_that_explains: Annotated[CubicMetres, Output("Air that would explain what stays", "V_0", "cm³", 3)]
    gap_that_explains: Annotated[
        Metres, Output("Knock-back at each pad that would explain what pumps away", "c_k", "mm", 3)
    ]
    flags: tuple[str, ...]


def _remarks(result: LongPedal, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            "Do not drive with a long pedal before its cause is found: the next stop may use the travel that is left.",
            "caution",
            "likely",
        ),
    )


@calculator(
    title="Long pedal: finding the cause",
    question="Why is the pedal long, and what should be tested first?",
    example={
        "expected": "52 mm",
        "first_press": "81 mm",
        "second_press": "57 mm",
        "sinks": "0 mm",
        "feel": "firm",
        "when": "after corners or kerbs",
        "pedal_ratio": "5.2",
        "bore": "19.05 mm",
        "one_side_area": "22.8 cm²",
        "calipers": "2",
        "line_pressure": "30 bar",
    },
    working=(
        Step(r"c_k = \frac{\Delta x_p \, A}{i \cdot 2 \, n \, A_1}", "gap_that_explains"),
        Step(r"V_0 = \frac{(x_2 - x_e) \, A / i}{1 - p_{atm}/(p_{atm} + p)}", "air_that_explains"),
    ),
    remarks=with_care(_remarks),
)
def long_pedal(
    *,
    expected: Annotated[
        Metres, Input("Pedal travel expected, computed or when it was right", "x_e", "mm", above=0, at_most=1)
    ],
    first_press: Annotated[Metres, Input("Travel on the first press", "x_1", "mm", above=0, at_most=1)],
    second_press: Annotated[Metres, Input("Travel on a quick second press", "x_2", "mm", above=0, at_most=1)],
    sinks: Annotated[Metres, Input("Sinking while held for ten seconds", "x_s", "mm", at_least=0, at_most=1)] = 0.0,
    feel: Annotated[Feel, Choice("How it feels at the end", {"spongy": "spongy", "firm": "firm, but low"})],
    when: Annotated[
        When,
        Choice(
            "When it happens",
            {
                "always": "always",
                "when hot": "only when hot",
                "after corners or kerbs": "after corners or kerbs",
                "first press after standing": "first press after standing",
            },
        ),
    ],
    pedal_ratio: PedalRatio,
    bore: Annotated[Metres, bore("Bore of the cylinder", "d")],
    one_side_area: OneSideArea,
    calipers: Annotated[int, Input("Calipers on it", "n", at_least=1, at_most=8)] = 2,
    line_pressure: Pressure,
) -> LongPedal:
    """Return the causes of a long pedal in order of fit, the amount of each that would explain it, and the tests in order.

    Equation: gap = (x_1 - x_2) A / (i 2 n A_1);  air V_0 = (x_2 - x_e)(A/i) / (1 - p_atm/(p_atm + p)); each sign that fits counts one,
    each that speaks against takes one.
    Valid for: one circuit's cylinder moved by the whole pedal; measured at the same pressure as the expected travel.
    Caution: a sinking pedal is a leak until proven otherwise: stop. Never blow brake dust out; brake fluid harms skin, eyes and paint.
    Source: hydrostatics, derived; signs are common practice, no source.

    >>> answer = long_pedal(expected=0.05, first_press=0.08, second_press=0.052, feel="firm", when="after corners or kerbs", pedal_ratio=5.0,
    ...     bore=0.019, one_side_area=0.002, line_pressure=3e6)
    >>> answer.likely[0], round(answer.gap_that_explains * 1e3, 2)
    ('pads knocked back', 0.2)
    """
    pumped, stays = first_press - second_press, second_press - expected
    area = bore_area(bore)
    ranked = sorted(CAUSES, key=lambda cause: -_fit(cause, pumped, sinks, feel, when))
    squeezed = air_volume(1.0, line_pressure)
    flags = ("The pedal sinks while held: treat it as a leak and do not drive.",) if sinks > _FELT else ()
    if first_press - expected <= _FELT:
        flags = (*flags, "The pedal is not longer than expected by more than can be measured.")
    return LongPedal(
        tuple(cause.name for cause in ranked),
        tuple(dict.fromkeys(cause.test for cause in ranked[:4])),
        first_press - expected,
        pumped,
        max(0.0, stays) * area / pedal_ratio / squeezed if squeezed > 0 else 0.0,
        max(0.0, pumped) * area / (pedal_ratio * 2 * calipers * one_side_area),
        flags,
    )


def _fit(cause: Cause, pumped: Ratio, sinks: float, feel: str, when: str) -> int:
    """Return how many signs speak for a cause, less those that speak against it."""
    signs = [
        0 if cause.pumps_up is None else 1 if cause.pumps_up == (pumped > _FELT) else -1,
        3 if cause.sinks and sinks > _FELT else -3 if cause.sinks else -1 if sinks > _FELT else 0,
        0 if cause.feel is None else 1 if cause.feel == feel else -1,
        2 if when in cause.when and when != "always" else 1 if when in cause.when else -1,
    ]
    return sum(signs)

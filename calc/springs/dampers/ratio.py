"""Damping of one corner: critical damping, the ratio it has, the damper a wanted ratio asks for, and what a new spring does to it."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.figures.spec import Axis, Band, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.rates import natural_frequency
from calc.springs.road.bump import force_overshoot
from calc.springs.words import DamperRatio
from calc.terms import SprungCornerMass, WheelRate
from calc.units import Hertz, NewtonSecondsPerMetre, NewtonsPerMetre, Ratio

# Common practice, no source; Dixon, The Shock Absorber Handbook, 2007, is near it (from memory).
_BANDS = (
    (0.0, 0.2, "little: it floats"),
    (0.2, 0.35, "a road car on the whole, and a race car over sharp bumps"),
    (0.35, 0.6, "a firm road car, or between the two speeds of a race car"),
    (0.6, 0.8, "a race car at low damper speeds, below 50 mm/s"),
    (0.8, math.inf, "more than usual: the body is tied to the road"),
)


def critical_damping(rate: float, mass: float) -> float:
    """Return the damping at which a mass on a spring just stops swinging, N s/m.

    >>> round(critical_damping(32e3, 220), 1)
    5306.6
    """
    return 2 * math.sqrt(rate * mass)


def usual_ratio(ratio: float) -> str:
    """Return what a damping ratio is usual for.

    >>> usual_ratio(0.7)
    'a race car at low damper speeds, below 50 mm/s'
    """
    return next(words for low, high, words in _BANDS if low <= ratio < high)


class CornerDamping(NamedTuple):
    """Damping of one corner at the wheel, the tyre left out."""

    ratio: Annotated[Ratio, Output("Damping ratio", r"\zeta", "", 3)]
    wheel_damping: Annotated[NewtonSecondsPerMetre, Output("Damping at the wheel", "c_w", "N·s/m")]
    critical_wheel: Annotated[NewtonSecondsPerMetre, Output("Critical damping at the wheel", "c_{cr}", "N·s/m")]
    critical_damper: Annotated[NewtonSecondsPerMetre, Output("Critical damping at the damper", "c_{crd}", "N·s/m")]
    overshoot: Annotated[Ratio, Output("Overshoot after a step of force", "", "%", 3)]
    damped_frequency: Annotated[Hertz | None, Output("Frequency seen, damped", "f_d", "Hz", 3)]


def _corner_remarks(result: CornerDamping, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            f"Usual for {usual_ratio(result.ratio)}."
            if 0.2 <= result.ratio < 0.8
            else f"{usual_ratio(result.ratio).capitalize()}.",
            about="ratio",
        ),
        Remark(
            "One number holds for one damper speed only: take the damping from the dyno curve at the speed in question, the mean of bump and rebound.",
            about="ratio",
        ),
    )


def _corner_figures(result: CornerDamping, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    here = inputs["wheel_rate"]
    rates = [here * (0.4 + 0.08 * i) for i in range(21)]
    ratios = [result.wheel_damping / critical_damping(k, inputs["sprung_mass"]) for k in rates]
    return (
        Chart(
            "Damping ratio against wheel rate, same damper",
            "A stiffer spring with the same damper is damped less.",
            Axis("Wheel rate", "N/mm"),
            Axis("Damping ratio", ""),
            (Series("Damping ratio", rates, ratios), Series("Here", [here], [result.ratio], points=True)),
            (Band("Race car at low damper speeds", [rates[0], rates[-1]], [0.6, 0.6], [0.8, 0.8]),),
        ),
    )


@calculator(
    title="Damping ratio of a corner",
    question="How well does this damper hold this corner?",
    example={
        "sprung_mass": "265 kg",
        "wheel_rate": "52.9 N/mm",
        "damper_damping": "5200 N·s/m",
        "damper_ratio": "0.94",
    },
    working=(
        Step(r"c_w = c_d \, {MR_d}^2", "wheel_damping"),
        Step(r"c_{cr} = 2 \sqrt{k_w \, m_s}", "critical_wheel"),
        Step(r"c_{crd} = \frac{c_{cr}}{{MR_d}^2}", "critical_damper"),
        Step(r"\zeta = \frac{c_w}{c_{cr}}", "ratio"),
    ),
    remarks=_corner_remarks,
    figures=_corner_figures,
)
def damping_ratio(
    *,
    sprung_mass: SprungCornerMass,
    wheel_rate: WheelRate,
    damper_damping: Annotated[
        NewtonSecondsPerMetre,
        Input(
            "Damping at the damper, force over speed",
            "c_d",
            "N·s/m",
            at_least=0,
            typical=(500, 20000),
            help="Mean of bump and rebound at the speed in question.",
        ),
    ],
    damper_ratio: DamperRatio = 1.0,
) -> CornerDamping:
    """Return the damping ratio of one corner with its spring, and its critical damping at the wheel and at the damper.

    Equation: c_w = c_d MR_d^2;  c_cr = 2 sqrt(k_w m_s);  zeta = c_w / c_cr.
    Signs: MR_d is damper travel for each unit of wheel travel, the angle of the damper folded into it.
    Valid for: a linear damper, or one speed of any damper; the tyre left out, which lowers the true ratio.
    Source: simple oscillator; guide values are common practice, no source, near Dixon, The Shock Absorber Handbook, 2007 (from memory).

    >>> round(damping_ratio(sprung_mass=220, wheel_rate=32e3, damper_damping=6132.0707, damper_ratio=0.75).ratio, 6)
    0.65
    """
    at_wheel, critical = damper_damping * damper_ratio**2, critical_damping(wheel_rate, sprung_mass)
    ratio = at_wheel / critical
    seen = natural_frequency(wheel_rate, sprung_mass) * math.sqrt(1 - ratio**2) if ratio < 1 else None
    return CornerDamping(ratio, at_wheel, critical, critical / damper_ratio**2, force_overshoot(ratio), seen)


class DamperForRatio(NamedTuple):
    """The damping a wanted ratio asks for."""

    damper_damping: Annotated[
        NewtonSecondsPerMetre, Output("Damping at the damper, mean of bump and rebound", "c_d", "N·s/m")
    ]
    wheel_damping: Annotated[NewtonSecondsPerMetre, Output("Damping at the wheel", "c_w", "N·s/m")]
    critical_wheel: Annotated[
        NewtonSecondsPerMetre, Output("Critical damping at the wheel", "c_{cr}", "N·s/m", detail=True)
    ]


def _for_remarks(result: DamperForRatio, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            "The force at a damper speed is this times the speed: at 50 mm/s, "
            + f"{result.damper_damping * 0.05:.0f} N as the mean of bump and rebound.",
            about="damper_damping",
        ),
    )


def _for_figures(result: DamperForRatio, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    speeds = [0.01 * i for i in range(11)]
    series = Series("Mean of bump and rebound", speeds, [result.damper_damping * v for v in speeds])
    text = "The force this damping makes at low damper speeds, to hold beside a dyno sheet."
    return (Chart("Force at the damper", text, Axis("Damper speed", "mm/s"), Axis("Force", "N"), (series,)),)


@calculator(
    title="Damper for a wanted ratio",
    question="How much damping must the damper have for this ratio?",
    example={"sprung_mass": "265 kg", "wheel_rate": "52.9 N/mm", "wanted_ratio": "0.65", "damper_ratio": "0.94"},
    working=(
        Step(r"c_{cr} = 2 \sqrt{k_w \, m_s}", "critical_wheel"),
        Step(r"c_w = \zeta \, c_{cr}", "wheel_damping"),
        Step(r"c_d = \frac{c_w}{{MR_d}^2}", "damper_damping"),
    ),
    remarks=_for_remarks,
    figures=_for_figures,
)
def damper_for_ratio(
    *,
    sprung_mass: SprungCornerMass,
    wheel_rate: WheelRate,
    wanted_ratio: Annotated[Ratio, Input("Wanted damping ratio", r"\zeta", "", above=0, at_most=3, typical=(0.2, 0.9))],
    damper_ratio: DamperRatio = 1.0,
) -> DamperForRatio:
    """Return the damping at wheel and damper that gives one corner a wanted damping ratio.

    Equation: c_w = zeta 2 sqrt(k_w m_s);  c_d = c_w / MR_d^2.
    Valid for: a linear damper, or one speed of any damper; the tyre left out.
    Source: simple oscillator, inverted.

    >>> round(damper_for_ratio(sprung_mass=220, wheel_rate=32e3, wanted_ratio=0.65, damper_ratio=0.75).damper_damping, 1)
    6132.1
    """
    critical = critical_damping(wheel_rate, sprung_mass)
    at_wheel = wanted_ratio * critical
    return DamperForRatio(at_wheel / damper_ratio**2, at_wheel, critical)


class SpringChange(NamedTuple):
    """What a new spring does to a corner whose damper stays."""

    ratio_after: Annotated[Ratio, Output("Damping ratio with the new spring", r"\zeta_2", "", 3)]
    damping_change: Annotated[Ratio, Output("Damping to add for the old ratio", "", "%", 3)]
    damping_wanted: Annotated[NewtonSecondsPerMetre, Output("Damping at the wheel for the old ratio", "c_2", "N·s/m")]
    frequency_before: Annotated[Hertz, Output("Body frequency before", "f_1", "Hz", 3)]
    frequency_after: Annotated[Hertz, Output("Body frequency after", "f_2", "Hz", 3)]


def _change_remarks(result: SpringChange, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            "The ratio falls with the square root of the rate: a quarter more spring costs about a tenth of the ratio.",
            about="ratio_after",
        ),
        Remark("Bars change the ratio in roll the same way and leave heave alone.", about="ratio_after"),
    )


def _change_figures(result: SpringChange, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    before = inputs["rate_before"]
    rates = [before * (0.5 + 0.075 * i) for i in range(21)]
    ratios = [inputs["ratio_before"] * math.sqrt(before / k) for k in rates]
    here = Series(
        "Before and after", [before, inputs["rate_after"]], [inputs["ratio_before"], result.ratio_after], points=True
    )
    text = "With the damper left as it is, the ratio falls as the spring gets stiffer."
    return (
        Chart(
            "Damping ratio against wheel rate",
            text,
            Axis("Wheel rate", "N/mm"),
            Axis("Damping ratio", ""),
            (Series("Same damper", rates, ratios), here),
        ),
    )


@calculator(
    title="What a spring change does to damping",
    question="How much damping does a new spring take away, and how much must I add?",
    example={"sprung_mass": "265 kg", "rate_before": "52.9 N/mm", "rate_after": "66 N/mm", "ratio_before": "0.65"},
    working=(
        Step(r"\zeta_2 = \zeta_1 \sqrt{\frac{k_1}{k_2}}", "ratio_after"),
        Step(r"c_2 = 2 \, \zeta_1 \sqrt{k_2 \, m_s}", "damping_wanted"),
    ),
    remarks=_change_remarks,
    figures=_change_figures,
)
def damping_after_spring_change(
    *,
    sprung_mass: SprungCornerMass,
    rate_before: Annotated[NewtonsPerMetre, Input("Wheel rate before", "k_1", "N/mm", above=0, typical=(10e3, 200e3))],
    rate_after: Annotated[NewtonsPerMetre, Input("Wheel rate after", "k_2", "N/mm", above=0, typical=(10e3, 200e3))],
    ratio_before: Annotated[
        Ratio, Input("Damping ratio before", r"\zeta_1", "", at_least=0, at_most=3, typical=(0.2, 0.9))
    ],
) -> SpringChange:
    """Return the damping ratio a corner has after a change of spring, and the damping that would keep it.

    Equation: zeta_2 = zeta_1 sqrt(k_1 / k_2);  c_2 / c_1 = sqrt(k_2 / k_1).
    Valid for: the same damper and mass, linear spring and damper.
    Source: simple oscillator.

    >>> round(damping_after_spring_change(sprung_mass=250, rate_before=40e3, rate_after=62.5e3, ratio_before=0.5).ratio_after, 6)
    0.4
    """
    scale = math.sqrt(rate_after / rate_before)
    return SpringChange(
        ratio_after=ratio_before / scale,
        damping_change=scale - 1,
        damping_wanted=ratio_before * critical_damping(rate_after, sprung_mass),
        frequency_before=natural_frequency(rate_before, sprung_mass),
        frequency_after=natural_frequency(rate_after, sprung_mass),
    )

"""The damper curve to ask for: from wanted ratios at low and high speed to forces."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.springs.dampers.ratio import critical_damping
from calc.springs.dampers.shape import TwoSlopes
from calc.springs.words import DamperRatio
from calc.terms import SprungCornerMass, WheelRate
from calc.units import MetresPerSecond, Newtons, NewtonSecondsPerMetre, Ratio

_POINTS = (0.25, 0.5, 0.75, 1.0)  # of the knee speed; then evenly to the top


class DamperTarget(NamedTuple):
    """The curve at the damper: speeds and the forces in both directions."""

    speeds: Annotated[tuple[MetresPerSecond, ...], Output("Damper speeds", "v", "mm/s", 3)]
    compression: Annotated[tuple[Newtons, ...], Output("Compression forces", "F_c", "N", 3)]
    rebound: Annotated[tuple[Newtons, ...], Output("Rebound forces", "F_r", "N", 3)]
    low_damping: Annotated[NewtonSecondsPerMetre, Output("Mean damping below the knee", "c_1", "N·s/m")]
    high_slope: Annotated[NewtonSecondsPerMetre, Output("Mean slope beyond the knee", "c_2", "N·s/m")]
    top_ratio: Annotated[Ratio, Output("Ratio at the top speed, by stroke energy", r"\zeta_{eq}", "", 3)]
    knee_force: Annotated[Newtons, Output("Mean force at the knee", "F_k", "N", 3, detail=True)]
    critical_damper: Annotated[
        NewtonSecondsPerMetre, Output("Critical damping at the damper", "c_{crd}", "N·s/m", detail=True)
    ]


def _remarks(result: DamperTarget, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark(
            "Race cars often ask for 0.6 to 0.8 at low and 0.2 to 0.35 at high speed, rebound one to three times compression (common practice, no source).",
            about="low_damping",
        )
    ]
    if inputs["high_ratio"] > inputs["low_ratio"]:
        remarks.append(
            Remark(
                "More slope at high speed than at low makes a progressive damper: hard over kerbs.",
                "caution",
                "high_ratio",
            )
        )
    return tuple(remarks)


def _figures(result: DamperTarget, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    speeds = (0.0, *result.speeds)
    text = "The target: compression upwards, rebound downwards, each of two straight lines that meet at the knee."
    series = (
        Series("Compression", speeds, (0.0, *result.compression)),
        Series("Rebound", speeds, (0.0, *(-F for F in result.rebound))),
    )
    return (Chart("Target curve at the damper", text, Axis("Damper speed", "mm/s"), Axis("Force", "N"), series),)


@calculator(
    title="Target curve for a damper",
    question="Which forces should I ask the damper shop for?",
    example={
        "sprung_mass": "265 kg",
        "wheel_rate": "52.9 N/mm",
        "damper_ratio": "0.94",
        "low_ratio": "0.65",
        "high_ratio": "0.25",
        "knee": "60 mm/s",
        "top_speed": "300 mm/s",
        "rebound_share": "1.8",
    },
    working=(
        Step(r"c_{crd} = \frac{2 \sqrt{k_w \, m_s}}{{MR_d}^2}", "critical_damper"),
        Step(r"c_1 = \zeta_1 \, c_{crd}", "low_damping"),
        Step(r"c_2 = \zeta_2 \, c_{crd}", "high_slope"),
        Step(r"F_k = c_1 \, v_k", "knee_force"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def damper_target(
    *,
    sprung_mass: SprungCornerMass,
    wheel_rate: WheelRate,
    damper_ratio: DamperRatio = 1.0,
    low_ratio: Annotated[
        Ratio, Input("Wanted ratio at low speed", r"\zeta_1", "", above=0, at_most=3, typical=(0.4, 0.9))
    ],
    high_ratio: Annotated[
        Ratio,
        Input("Wanted ratio of the slope at high speed", r"\zeta_2", "", at_least=0, at_most=3, typical=(0.15, 0.4)),
    ],
    knee: Annotated[
        MetresPerSecond, Input("Damper speed of the knee", "v_k", "mm/s", above=0, typical=(0.03, 0.15))
    ] = 0.06,
    top_speed: Annotated[
        MetresPerSecond, Input("Greatest damper speed asked", "v_m", "mm/s", above=0, typical=(0.15, 0.6))
    ] = 0.3,
    rebound_share: Annotated[
        Ratio, Input("Rebound over compression", "q", "", above=0, at_most=10, typical=(1, 3))
    ] = 1.5,
) -> DamperTarget:
    """Return the compression and rebound forces that give wanted damping ratios below and beyond a knee.

    Equation: mean F = c_1 v up to the knee, c_1 v_k + c_2 (v - v_k) beyond; c = zeta 2 sqrt(k_w m_s) / MR_d^2;
    compression 2 / (1 + q) of the mean, rebound 2 q / (1 + q).
    Signs: speeds and forces at the damper, both forces positive.
    Valid for: the tyre left out, a curve of two straight lines, gas and friction to be added by the shop.
    Caution: beyond the knee the ratio wanted is that of the slope; the whole stroke has more, as the ratio by energy shows.
    Source: simple oscillator, inverted; the guide values are common practice, no source.

    >>> target = damper_target(sprung_mass=220, wheel_rate=32e3, damper_ratio=0.75, low_ratio=0.65, high_ratio=0.25, knee=0.05, top_speed=0.25)
    >>> round(target.low_damping, 1), round(target.knee_force, 1)
    (6132.1, 306.6)
    """
    if top_speed <= knee:
        raise Refused(
            "top_speed",
            f"must be greater than the speed of the knee, {quantity(knee, 'mm/s')}",
            quantity(top_speed, "mm/s"),
        )
    critical = critical_damping(wheel_rate, sprung_mass) / damper_ratio**2
    mean = TwoSlopes(low_ratio * critical, knee, high_ratio * critical)
    speeds = (*(share * knee for share in _POINTS), *(knee + (top_speed - knee) * i / 4 for i in range(1, 5)))
    forces = [mean.force(v) for v in speeds]
    inward, outward = 2 / (1 + rebound_share), 2 * rebound_share / (1 + rebound_share)
    equivalent = mean.energy(top_speed, 1.0) / (math.pi * top_speed)
    return DamperTarget(
        speeds=speeds,
        compression=tuple(inward * F for F in forces),
        rebound=tuple(outward * F for F in forces),
        low_damping=mean.first,
        high_slope=mean.second,
        top_ratio=equivalent / critical,
        knee_force=mean.force(knee),
        critical_damper=critical,
    )

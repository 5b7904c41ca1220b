"""The inverse: which master cylinder bores, pedal ratio and bar setting give the balance, effort and travel wanted."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.brakes.care import with_care
from calc.brakes.pairing import Pairing, Targets, all_pairings
from calc.brakes.terms import FrontPerPressure, PedalRatio, RearPerPressure, bore
from calc.figures.spec import Axis, Band, Chart, Figure, Series
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.terms import BrakeFrontShare
from calc.units import CubicMetres, Metres, Newtons, Ratio

_MOST = 2000  # combinations


class Bore(NamedTuple):
    """One bore that can be bought."""

    bore: Annotated[Metres, bore("Bore", "d")]


class BoxRatio(NamedTuple):
    """One pedal box."""

    ratio: PedalRatio


class CylinderChoice(NamedTuple):
    """The choices that meet every target, the best first; and what the others fail by."""

    choices: Annotated[int, Output("Choices that meet every target", "", "", 1)]
    front_bores: Annotated[tuple[Metres, ...], Output("Front bores, the best choice first", "d_f", "mm")]
    rear_bores: Annotated[tuple[Metres, ...], Output("Rear bores", "d_r", "mm")]
    pedal_ratios: Annotated[tuple[Ratio, ...], Output("Pedal ratios", "i", "", 3)]
    bar_offsets: Annotated[tuple[Metres, ...], Output("Bar: trunnion off the middle, towards the front", "o", "mm", 3)]
    front_shares: Annotated[tuple[Ratio, ...], Output("Front share of the brake force", r"\varphi", "%")]
    pedal_forces: Annotated[tuple[Newtons, ...], Output("Pedal force at the target", "F_p", "N")]
    pedal_travels: Annotated[tuple[Metres, ...], Output("Pedal travel at the target", "x_p", "mm")]
    reserves: Annotated[tuple[Ratio, ...], Output("Stroke left in the fuller cylinder", "", "%", 3)]
    share_low: Annotated[tuple[Ratio, ...], Output("Front share with front pads 10 % down", "", "%", 3)]
    share_high: Annotated[tuple[Ratio, ...], Output("Front share with rear pads 10 % down", "", "%", 3)]
    share_step: Annotated[
        tuple[Ratio, ...], Output("Front share with the next larger front bore, bar left as it is", "", "%", 3)
    ]
    failing: Annotated[tuple[str, ...], Output("Choices that fail, the nearest first, and by what", "", "")]
    limit_that_failed: Annotated[str | None, Output("Limit that stops the most choices, where none is left", "", "")]


def _remarks(result: CylinderChoice, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    if not result.choices:
        return (
            Remark(
                f"No choice meets every target; most fail by {result.limit_that_failed}. Widen that target, or add bores, ratios, caliper area or pad friction.",
                "caution",
                "choices",
            ),
        )
    swing = result.share_high[0] - result.share_low[0]
    remarks = [
        Remark(
            f"The best choice swings by {100 * swing:.1f} points when one axle's pads lose 10 % of friction.",
            about="share_low",
        )
    ]
    if inputs["bar"] == "trimmed" and abs(result.bar_offsets[0]) > inputs["spacing"] / 8:
        remarks.append(
            Remark(
                "Even the best choice needs the bar well off its middle: little adjustment is left.",
                "caution",
                "bar_offsets",
            )
        )
    return tuple(remarks)


def _figures(result: CylinderChoice, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    pairs = all_pairings(
        _targets(inputs), [row.bore for row in inputs["bores"]], [row.ratio for row in inputs["ratios"]]
    )
    good = [pair for pair in pairs if not pair.fails]
    rest = [pair for pair in pairs if pair.fails]
    low, high = inputs["pedal_force_min"], inputs["pedal_force_max"]
    ends = [min(p.travel for p in pairs), max(p.travel for p in pairs)]
    return (
        Chart(
            "Effort against travel",
            "Each dot is one pair of bores with a pedal box. Less effort always costs travel. The shaded range is the effort wanted.",
            Axis("Pedal travel", "mm"),
            Axis("Pedal force", "N"),
            (
                Series("Meets every target", [p.travel for p in good], [p.force for p in good], points=True),
                Series("Fails", [p.travel for p in rest], [p.force for p in rest], points=True),
            ),
            (Band("Effort wanted", ends, [low, low], [high, high]),),
        ),
    )


def _targets(inputs: Mapping[str, Any]) -> Targets:
    return Targets(**{name: inputs[name] for name in Targets._fields})


@calculator(
    title="Choosing master cylinders",
    question="Which bores, pedal ratio and bar setting give the balance, effort and travel I want?",
    example={
        "total_force": "10300 N",
        "share": "72 %",
        "share_tolerance": "2 %",
        "pedal_force_min": "300 N",
        "pedal_force_max": "480 N",
        "front_per_pressure": "172 N/bar",
        "rear_per_pressure": "74 N/bar",
        "front_volume": "4.3 cm³",
        "rear_volume": "2.6 cm³",
        "max_stroke": "28 mm",
        "ratios": [["5.2"], ["6.0"]],
        "bar": "trimmed",
    },
    working=(
        Step(r"F_p = \frac{F}{i \, \left(s \, C_f / A_f + (1 - s) \, C_r / A_r\right)}", "pedal_forces"),
        Step(
            r"o = s_b \left(\frac{\varphi A_f C_r}{\varphi A_f C_r + (1 - \varphi) A_r C_f} - \frac12\right)",
            "bar_offsets",
        ),
    ),
    remarks=with_care(_remarks),
    figures=_figures,
)
def cylinder_choice(
    *,
    total_force: Annotated[
        Newtons,
        Input(
            "Brake force of the car at the target",
            "F",
            "N",
            above=0,
            at_most=1e6,
            help="Mass times deceleration, less drag.",
        ),
    ],
    share: BrakeFrontShare,
    share_tolerance: Annotated[
        Ratio, Input("Front share may differ by", r"\Delta\varphi", "%", at_least=0, at_most=1, typical=(0.005, 0.05))
    ] = 0.02,
    pedal_force_min: Annotated[Newtons, Input("Least pedal force", "F_1", "N", at_least=0, at_most=1e5)],
    pedal_force_max: Annotated[
        Newtons, Input("Most pedal force", "F_2", "N", above=0, at_most=1e5, typical=(250, 900))
    ],
    front_per_pressure: FrontPerPressure,
    rear_per_pressure: RearPerPressure,
    front_volume: Annotated[
        CubicMetres, Input("Fluid the front circuit takes at the target", "V_f", "cm³", above=0, at_most=1e-3)
    ],
    rear_volume: Annotated[
        CubicMetres, Input("Fluid the rear circuit takes at the target", "V_r", "cm³", above=0, at_most=1e-3)
    ],
    max_stroke: Annotated[Metres, Input("Full stroke of the cylinders", "x_{max}", "mm", above=0, at_most=0.2)],
    reserve: Annotated[
        Ratio, Input("Stroke to keep in reserve", "", "%", at_least=0, below=1, typical=(0.3, 0.5))
    ] = 0.3,
    bores: Annotated[tuple[Bore, ...], Input("Bores to choose from")] = (
        Bore(0.01588),
        Bore(0.01778),
        Bore(0.01905),
        Bore(0.02064),
        Bore(0.02223),
        Bore(0.02381),
        Bore(0.0254),
    ),
    ratios: Annotated[tuple[BoxRatio, ...], Input("Pedal ratios to choose from")],
    efficiency: Annotated[Ratio, Input("Efficiency of the pedal box", r"\eta", "%", above=0, at_most=1)] = 1.0,
    bar: Annotated[
        Literal["centred", "trimmed"],
        Choice("Balance bar", {"centred": "left in the middle", "trimmed": "moved to give the share exactly"}),
    ] = "trimmed",
    spacing: Annotated[
        Metres, Input("Distance between the clevises of the bar", "s_b", "mm", above=0, at_most=0.5)
    ] = 0.064,
    rod_share_most: Annotated[
        Ratio,
        Input(
            "Largest share of the bar on one cylinder", "", "%", at_least=0.5, below=1, help="About 2 to 1 can be used."
        ),
    ] = 2 / 3,
) -> CylinderChoice:
    """Return the bore pairs, pedal ratio and bar setting that meet all targets, ranked, and what each failing choice fails by.

    Equation: p_f = s F_b/A_f, p_r = (1 - s) F_b/A_r;  phi = C_f p_f/(C_f p_f + C_r p_r);  bar for a share:
    s = phi A_f C_r/(phi A_f C_r + (1 - phi) A_r C_f), o = s_b (s - 1/2);  stroke V/A.  Every combination is tried.
    Ranked by: distance from the share, then (trimmed) distance of the bar from its middle, then lower pedal force.
    Valid for: no booster, fluid volumes at the target pressure, the same for every bore.
    Caution: check the chosen pair with a lost circuit before buying. One step of bore moves the balance by several points.
    Source: statics and hydrostatics, derived; standard bores are common practice.

    >>> answer = cylinder_choice(total_force=9500, share=0.64, share_tolerance=0.03, pedal_force_min=300, pedal_force_max=480,
    ...     front_per_pressure=0.00175, rear_per_pressure=0.00095, front_volume=4.3e-6, rear_volume=3e-6, max_stroke=0.022, reserve=0.0,
    ...     ratios=(BoxRatio(5.2),), bar="centred")
    >>> answer.choices, round(answer.pedal_forces[0], 1)
    (5, 336.0)
    """
    if pedal_force_min >= pedal_force_max:
        raise Refused(
            "pedal_force_min",
            f"must be less than the most pedal force, {pedal_force_max:g} N",
            f"{pedal_force_min:g} N",
        )
    if len(bores) ** 2 * len(ratios) > _MOST:
        raise Refused(
            "bores", f"must make at most {_MOST} combinations with the ratios", f"{len(bores) ** 2 * len(ratios)}"
        )
    if not 0 < share < 1:
        raise Refused("share", "must be greater than 0 % and less than 100 %: both axles brake", f"{100 * share:g} %")
    pairs = all_pairings(_targets(locals()), [row.bore for row in bores], [row.ratio for row in ratios])
    good = [pair for pair in pairs if not pair.fails]
    failing = sorted((pair for pair in pairs if pair.fails), key=lambda pair: (len(pair.fails), pair.missed))
    return CylinderChoice(
        choices=len(good),
        front_bores=tuple(p.front_bore for p in good),
        rear_bores=tuple(p.rear_bore for p in good),
        pedal_ratios=tuple(p.ratio for p in good),
        bar_offsets=tuple(p.offset for p in good),
        front_shares=tuple(p.share for p in good),
        pedal_forces=tuple(p.force for p in good),
        pedal_travels=tuple(p.travel for p in good),
        reserves=tuple(p.reserve for p in good),
        share_low=tuple(p.share_with(0.9, 1.0) for p in good),
        share_high=tuple(p.share_with(1.0, 0.9) for p in good),
        share_step=tuple(p.share_with((p.front_bore / _next_bore(bores, p.front_bore)) ** 2, 1.0) for p in good),
        failing=tuple(p.sentence for p in failing),
        limit_that_failed=None if good else _commonest(failing),
    )


def _next_bore(bores: tuple[Bore, ...], bore: float) -> float:
    """Return the next larger bore of the list; above the largest, one step of a sixteenth of an inch."""
    return min((row.bore for row in bores if row.bore > bore), default=bore + 0.0254 / 16)


def _commonest(failing: list[Pairing]) -> str:
    """Return the limit that stops the most choices."""
    names = [name for pair in failing for name, _ in pair.fails]
    return max(dict.fromkeys(names), key=names.count)

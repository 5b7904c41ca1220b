"""The vacuum booster: its two slopes, what is left without vacuum, and what replaces it when it is taken out."""

from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.brakes.care import with_care
from calc.brakes.terms import PedalRatio
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.units import Newtons, Pascals, Ratio, SquareMetres

SEA_LEVEL = 101325.0  # Pa, standard atmosphere

BoostRatio = Annotated[
    Ratio,
    Input(
        "Boost ratio: force out over force in",
        "B",
        "",
        above=0,
        at_most=50,
        typical=(3, 7),
        help="Some texts give assist over input, one less.",
    ),
]
Diaphragm = Annotated[
    SquareMetres, Input("Effective diaphragm area", "A_d", "cm²", above=0, at_most=0.5, typical=(0.02, 0.08))
]
Vacuum = Annotated[
    Pascals,
    Input(
        "Vacuum below the air outside",
        r"\Delta p",
        "bar",
        at_least=0,
        at_most=2e5,
        typical=(0.5e5, 0.9e5),
        help="0.6 to 0.85 bar; 11 to 12 % less for each 1000 m, and less with the throttle open.",
    ),
]


class Booster(NamedTuple):
    """A vacuum booster: boost ratio, diaphragm area, vacuum, cut-in force and jump."""

    ratio: float
    diaphragm: float
    vacuum: float
    cut_in: float = 0.0
    jump: float = 0.0

    @property
    def assist_limit(self) -> float:
        """The largest assist, N."""
        return self.diaphragm * self.vacuum

    @property
    def knee(self) -> float:
        """The input force where the vacuum runs out, N."""
        return (self.assist_limit + self.ratio * self.cut_in - self.jump) / (self.ratio - 1)

    def output(self, force: float) -> float:
        """Return the output force for an input force; an empty or failed booster passes its input on."""
        boosted = self.jump + self.ratio * (force - self.cut_in) if force > self.cut_in else 0.0
        return max(force, min(boosted, force + self.assist_limit))

    def input_for(self, wanted: float) -> float:
        """Return the input force that gives an output force."""
        at_knee = self.knee + self.assist_limit
        if wanted >= at_knee:
            return wanted - self.assist_limit
        return min(wanted, max(self.cut_in, self.cut_in + (wanted - self.jump) / self.ratio))


def require_booster(ratio: float, vacuum: float, ambient_pressure: float) -> None:
    """Refuse a booster that cannot exist."""
    if ratio <= 1:
        raise Refused(
            "boost_ratio", "must be greater than 1: at 1 the booster is removed and there is no knee", f"{ratio:g}"
        )
    if vacuum > ambient_pressure:
        raise Refused(
            "vacuum",
            f"cannot exceed the air pressure of {ambient_pressure / 1e5:.3f} bar",
            f"{vacuum / 1e5:g} bar",
            hint="It is measured below the air outside.",
        )


class BoosterOutput(NamedTuple):
    """Force out of the booster, its knee, and what remains without vacuum."""

    output: Annotated[Newtons, Output("Force on the master cylinder", "F_{out}", "N")]
    assist: Annotated[Newtons, Output("Assist of the booster", "F_a", "N")]
    knee: Annotated[Newtons, Output("Input force where the vacuum runs out", "F_k", "N")]
    failed_output: Annotated[Newtons, Output("Force on the master cylinder without vacuum", "F_0", "N")]
    characteristic: Annotated[Ratio, Output("Force out over force in, here", "F_{out}/F_{in}", "", 3)]
    assist_limit: Annotated[Newtons, Output("Largest assist", "F_{a,max}", "N", detail=True)]


def _remarks(result: BoosterOutput, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    if inputs["pushrod_force"] > result.knee:
        return (
            Remark(
                "Past the knee every newton more has to come from the foot: the pedal feels suddenly hard.",
                "caution",
                "knee",
            ),
        )
    return (Remark("Below the knee: the booster still has assist in hand.", about="knee"),)


def _figures(result: BoosterOutput, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    booster = Booster(*(inputs[n] for n in ("boost_ratio", "diaphragm_area", "vacuum", "cut_in", "jump")))
    top = 1.6 * max(result.knee, inputs["pushrod_force"], 1.0)
    forces = sorted({*(top * i / 24 for i in range(25)), max(0.0, result.knee)})
    return (
        Chart(
            "Booster characteristic",
            "Steep up to the knee, then parallel to the line without booster.",
            Axis("Force into the booster", "N"),
            Axis("Force on the master cylinder", "N"),
            (
                Series("With vacuum", forces, [booster.output(f) for f in forces]),
                Series("Without vacuum", forces, forces),
                Series("Here", [inputs["pushrod_force"]], [result.output], points=True),
            ),
        ),
    )


@calculator(
    title="Vacuum booster",
    question="What does the booster give, where does it run out, and what is left when it fails?",
    example={"pushrod_force": "900 N", "boost_ratio": "4.5", "diaphragm_area": "420 cm²", "vacuum": "0.7 bar"},
    working=(
        Step(r"F_{a,max} = A_d \, \Delta p", "assist_limit"),
        Step(r"F_k = \frac{A_d \, \Delta p + B \, F_c - F_j}{B - 1}", "knee"),
        Step(r"F_{out} = \min(F_j + B \, (F_{in} - F_c), \; F_{in} + A_d \, \Delta p)", "output"),
    ),
    remarks=with_care(_remarks),
    figures=_figures,
)
def brake_booster(
    *,
    pushrod_force: Annotated[Newtons, Input("Force into the booster", "F_{in}", "N", above=0, at_most=1e5)],
    boost_ratio: BoostRatio,
    diaphragm_area: Diaphragm,
    vacuum: Vacuum,
    ambient_pressure: Annotated[
        Pascals, Input("Pressure of the air outside", "p_0", "bar", above=0, at_most=1.2e5, typical=(0.7e5, 1.05e5))
    ] = SEA_LEVEL,
    cut_in: Annotated[Newtons, Input("Cut-in force", "F_c", "N", at_least=0, at_most=1e4)] = 0.0,
    jump: Annotated[Newtons, Input("Jump of the output at cut-in", "F_j", "N", at_least=0, at_most=1e4)] = 0.0,
) -> BoosterOutput:
    """Return what a vacuum booster gives for a force on its pushrod.

    Equation: below the knee F_out = F_j + B (F_in - F_c), above it F_out = F_in + A_d dp;  F_k = (A_d dp + B F_c - F_j)/(B - 1).
    Valid for: steady force, the vacuum given (it falls with repeated stops, throttle and height), diaphragm area less its rod.
    Caution: without vacuum the pedal needs about B times the force. Try the car with the engine off before trusting it.
    Source: statics; terms of SAE J1808 (seen in a summary).

    >>> round(brake_booster(pushrod_force=1500, boost_ratio=4, diaphragm_area=0.045, vacuum=80e3).output, 6)
    5100.0
    """
    require_booster(boost_ratio, vacuum, ambient_pressure)
    booster = Booster(boost_ratio, diaphragm_area, vacuum, cut_in, jump)
    if booster.knee < 0:
        raise Refused("jump", "must be less than the largest assist", f"{jump:g} N")
    output = booster.output(pushrod_force)
    return BoosterOutput(
        output, output - pushrod_force, booster.knee, pushrod_force, output / pushrod_force, booster.assist_limit
    )


class BoosterRemoved(NamedTuple):
    """The pedal with the booster, without it, and what would bring the effort back."""

    boosted_pedal: Annotated[Newtons, Output("Pedal force with the booster", "F_1", "N")]
    bare_pedal: Annotated[Newtons, Output("Pedal force without it, nothing else changed", "F_0", "N")]
    effort_ratio: Annotated[Ratio, Output("How many times the effort", "F_0/F_1", "", 3)]
    gain_needed: Annotated[Ratio, Output("Gain still needed for the pedal force wanted", "G", "", 3)]
    ratio_needed: Annotated[Ratio, Output("Pedal ratio that alone would give it", "i_n", "", 3)]
    bore_factor: Annotated[Ratio, Output("Bore that alone would give it, of the bore now", "d_n/d", "%", 3)]
    travel_factor: Annotated[Ratio, Output("Pedal travel then, of the travel now", "x_n/x", "%", 3)]


def _removed_remarks(result: BoosterRemoved, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark(
            "Ratio and bore buy force with travel, whichever is changed: check the stroke that is left.",
            about="travel_factor",
        )
    ]
    if result.bare_pedal > 500:
        remarks.append(
            Remark(
                "More than 500 N without the booster: beyond what road approval allows for a sound brake.",
                "caution",
                "bare_pedal",
            )
        )
    if result.ratio_needed > 8:
        remarks.append(
            Remark(
                "No pedal box has this ratio: share the gain between ratio, bores, caliper area and pads.",
                about="ratio_needed",
            )
        )
    return tuple(remarks)


@calculator(
    title="Booster removed or failed",
    question="What pedal force is left without the booster, and what would bring it back?",
    example={
        "master_force": "3600 N",
        "boost_ratio": "4.5",
        "diaphragm_area": "420 cm²",
        "vacuum": "0.7 bar",
        "pedal_ratio": "3.8",
        "pedal_wanted": "450 N",
        "new_pedal_ratio": "5.5",
    },
    working=(
        Step(r"F_0 = \frac{F_m}{i}", "bare_pedal"),
        Step(r"G = \frac{F_0 \, i / i_2}{F_w}", "gain_needed"),
        Step(r"\frac{d_n}{d} = \frac{1}{\sqrt{G}}", "bore_factor"),
    ),
    remarks=with_care(_removed_remarks),
)
def booster_removed(
    *,
    master_force: Annotated[
        Newtons,
        Input(
            "Force the master cylinder needs",
            "F_m",
            "N",
            above=0,
            at_most=1e5,
            help="For the stop in question, with the bore now.",
        ),
    ],
    boost_ratio: BoostRatio,
    diaphragm_area: Diaphragm,
    vacuum: Vacuum,
    ambient_pressure: Annotated[
        Pascals, Input("Pressure of the air outside", "p_0", "bar", above=0, at_most=1.2e5, typical=(0.7e5, 1.05e5))
    ] = SEA_LEVEL,
    pedal_ratio: PedalRatio,
    pedal_wanted: Annotated[
        Newtons, Input("Pedal force wanted without the booster", "F_w", "N", above=0, at_most=1e5, typical=(200, 600))
    ],
    new_pedal_ratio: Annotated[
        Ratio | None, Input("Ratio of the new pedal", "i_2", "", above=0, at_most=50, help="Empty: the pedal stays.")
    ] = None,
) -> BoosterRemoved:
    """Return the effort without the booster and the pedal ratio or bore that would bring it down to a wanted force.

    Equation: F_0 = F_m / i;  gain G = F_m / (i_2 F_w);  ratio i_2 G or bore d / sqrt(G) makes it up;  travel grows as i_2 G / i.
    Valid for: the same calipers, pads and tyres; larger caliper area or more friction count as gain just as well.
    Caution: a smaller bore needs more stroke for the same fluid. A road car changed like this needs approval where codes ask for it.
    Source: statics, derived.

    >>> answer = booster_removed(master_force=3000, boost_ratio=4, diaphragm_area=0.04, vacuum=8e4, pedal_ratio=4, pedal_wanted=375)
    >>> round(answer.bare_pedal), round(answer.ratio_needed, 2)
    (750, 8.0)
    """
    require_booster(boost_ratio, vacuum, ambient_pressure)
    booster = Booster(boost_ratio, diaphragm_area, vacuum)
    boosted, bare = booster.input_for(master_force) / pedal_ratio, master_force / pedal_ratio
    ratio = pedal_ratio if new_pedal_ratio is None else new_pedal_ratio
    gain = master_force / ratio / pedal_wanted
    return BoosterRemoved(boosted, bare, bare / boosted, gain, ratio * gain, gain**-0.5, ratio * gain / pedal_ratio)

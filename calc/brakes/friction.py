"""Pad friction over temperature, and what two compounds do to the balance from cold to hot."""

from collections.abc import Mapping, Sequence
from typing import Annotated, Any, NamedTuple

from calc.brakes.care import with_care
from calc.brakes.table import Way, read_between, require_growing
from calc.brakes.terms import CELSIUS_ZERO, pad_friction, temperature
from calc.figures.spec import Axis, Band, Chart, Figure, Series
from calc.form import Choice, Input, Output, Remark, calculator
from calc.numeric.roots import crossing
from calc.refusal import Refused
from calc.units import Kelvins, Ratio

FADED = 0.9  # of the peak: below it a pad is fading
EVEN = 0.15  # friction spread that a driver hardly feels (common practice, no source)

# SAE J866 letters and the friction they begin at (from memory): single-specimen figures, not a curve.
_CODES = ((0.55, "H"), (0.45, "G"), (0.35, "F"), (0.25, "E"), (0.15, "D"), (0.0, "C"))


class FrictionPoint(NamedTuple):
    """One measured point of a pad."""

    temperature: Annotated[Kelvins, temperature("Pad or disc temperature", "T")]
    friction: Annotated[Ratio, pad_friction("Pad friction", r"\mu")]


def friction_code(mu: float) -> str:
    """Return the SAE J866 letter of a friction coefficient.

    >>> friction_code(0.41)
    'F'
    """
    return next(letter for start, letter in _CODES if mu > start or start == 0)


class Pad(NamedTuple):
    """A friction table and how it is read."""

    temperatures: Sequence[float]
    frictions: Sequence[float]
    way: Way

    def at(self, temperature: float, where: str) -> float:
        """Return the friction; a temperature outside the table is refused, never extrapolated."""
        if not self.temperatures[0] <= temperature <= self.temperatures[-1]:
            low, high = self.temperatures[0] - CELSIUS_ZERO, self.temperatures[-1] - CELSIUS_ZERO
            raise Refused(
                where,
                f"must lie on the table, {low:g} to {high:g} °C: nothing is extrapolated",
                f"{temperature - CELSIUS_ZERO:g} °C",
            )
        return read_between(self.temperatures, self.frictions, temperature, self.way)

    def peak(self) -> tuple[float, float]:
        """Return temperature and friction of the peak: neither way of reading goes above the points."""
        friction = max(self.frictions)
        return self.temperatures[self.frictions.index(friction)], friction

    def fade_onset(self) -> float | None:
        """Return the first temperature above the peak where friction falls below nine tenths of it."""
        start, friction = self.peak()

        def over(at: float) -> float:
            return read_between(self.temperatures, self.frictions, at, self.way) - FADED * friction

        ends = [t for t in self.temperatures if t > start]
        for before, after in zip((start, *ends), ends, strict=False):
            if over(after) < 0:
                return crossing(over, before, after)
        return None


def make_pad(rows: Sequence[FrictionPoint], where: str, way: Way = "linear") -> Pad:
    """Return a pad from its rows, refusing a table that does not grow in temperature."""
    temperatures = [row.temperature for row in rows]
    require_growing(temperatures, f"{where}.temperature", " K")
    return Pad(temperatures, [row.friction for row in rows], way)


class PadFrictionAt(NamedTuple):
    """Friction at a temperature, and the landmarks of the pad."""

    friction: Annotated[Ratio, Output("Friction at this temperature", r"\mu", "", 3)]
    cold_bite: Annotated[Ratio, Output("Cold bite: friction at the first point", r"\mu_0", "", 3)]
    peak: Annotated[Ratio, Output("Peak friction", r"\mu_{max}", "", 3)]
    peak_temperature: Annotated[Kelvins, Output("Temperature of the peak", "T_{max}", "°C", 4)]
    fade_onset: Annotated[Kelvins | None, Output("Fade begins at", "T_f", "°C", 4)]
    window_spread: Annotated[Ratio | None, Output("Change of friction between coldest and hottest", "", "%", 3)]
    window_lowest: Annotated[Ratio | None, Output("Lowest friction in the window", r"\mu_{min}", "", 3)]
    code: Annotated[str, Output("SAE J866 letter of this friction", "", "", detail=True)]
    flags: tuple[str, ...]


def _pad_remarks(result: PadFrictionAt, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark(
            "Bed pads as their maker says: medium stops of rising severity, no stop to rest with hot pads, cool down without standing on "
            "the brake. Never lay one compound on the layer of another: clean or re-face the disc."
        )
    ]
    if result.window_spread is not None:
        if result.window_spread <= EVEN:
            remarks.append(
                Remark("Friction stays within 15 % over the window: this pad suits the lap.", about="window_spread")
            )
        else:
            remarks.append(
                Remark(
                    "Friction changes by more than 15 % over the window: the pedal and the balance will wander.",
                    "caution",
                    "window_spread",
                )
            )
    if result.fade_onset is not None and inputs["hottest"] is not None and inputs["hottest"] > result.fade_onset:
        remarks.append(Remark("The hottest stop lies in the fade of this pad.", "caution", "fade_onset"))
    return tuple(remarks)


def _pad_figures(result: PadFrictionAt, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    pad = make_pad(inputs["points"], "points", inputs["way"])
    first, last = pad.temperatures[0], pad.temperatures[-1]
    at = sorted({*(first + (last - first) * i / 40 for i in range(1, 40)), *pad.temperatures})
    ends = [inputs["coldest"], inputs["hottest"]]
    window = None if None in ends else Band("Window of the lap", ends, [0.0, 0.0], [result.peak, result.peak])
    return (
        Chart(
            "Pad friction over temperature",
            "The measured points and the curve read between them.",
            Axis("Temperature", "°C"),
            Axis("Pad friction"),
            (
                Series("Read between", at, [read_between(pad.temperatures, pad.frictions, t, pad.way) for t in at]),
                Series("Measured", pad.temperatures, pad.frictions, points=True),
                Series("Here", [inputs["at_temperature"]], [result.friction], points=True),
            ),
            (window,) if window else (),
        ),
    )


_EXAMPLE_POINTS = [
    ["50 °C", "0.34"],
    ["150 °C", "0.42"],
    ["300 °C", "0.47"],
    ["450 °C", "0.48"],
    ["600 °C", "0.44"],
    ["700 °C", "0.33"],
]


@calculator(
    title="Pad friction over temperature",
    question="What friction has the pad at this temperature, and does it stay even over the lap?",
    example={
        "points": _EXAMPLE_POINTS,
        "way": "monotone cubic",
        "at_temperature": "400 °C",
        "coldest": "180 °C",
        "hottest": "560 °C",
    },
    remarks=with_care(_pad_remarks),
    figures=_pad_figures,
)
def pad_friction_over_temperature(
    *,
    points: Annotated[
        tuple[FrictionPoint, ...], Input("Friction table of the pad", help="At least two rows, temperature growing.")
    ],
    way: Annotated[
        Way,
        Choice(
            "Read between points",
            {"linear": "straight lines", "monotone cubic": "a smooth curve that never overshoots"},
        ),
    ] = "linear",
    at_temperature: Annotated[Kelvins, temperature("Temperature asked for", "T")],
    coldest: Annotated[Kelvins | None, temperature("Coldest braking point: end of the longest straight", "T_c")] = None,
    hottest: Annotated[Kelvins | None, temperature("Hottest braking point: last heavy stop", "T_h")] = None,
) -> PadFrictionAt:
    """Return the friction of a pad at a temperature, its landmarks, and its evenness over a window.

    Equation: linear, or the monotone cubic of Fritsch and Carlson with Butland's slopes; fade onset: the first T above the peak with mu < 0.9 peak.
    Valid for: bedded pads inside the measured range; outside the table the question is refused.
    Caution: first fade of unbedded pads is a separate event: the binder gases out once, without warning.
    Source: F. N. Fritsch and J. Butland, SIAM J. Sci. Stat. Comput. 5 (1984) (from memory), compared with scipy in the tests.

    >>> rows = (FrictionPoint(350, 0.35), FrictionPoint(550, 0.45), FrictionPoint(850, 0.30))
    >>> round(pad_friction_over_temperature(points=rows, at_temperature=450).friction, 3)
    0.4
    """
    pad = make_pad(points, "points", way)
    friction, (where, peak) = pad.at(at_temperature, "at_temperature"), pad.peak()
    spread = lowest = None
    if coldest is not None and hottest is not None:
        if coldest >= hottest:
            raise Refused("coldest", "must be less than the hottest braking point", f"{coldest - CELSIUS_ZERO:g} °C")
        inside = [mu for t, mu in zip(pad.temperatures, pad.frictions, strict=True) if coldest < t < hottest]
        found = (pad.at(coldest, "coldest"), pad.at(hottest, "hottest"), *inside)
        lowest, spread = min(found), max(found) / min(found) - 1
    return PadFrictionAt(
        friction, pad.frictions[0], peak, where, pad.fade_onset(), spread, lowest, friction_code(friction), ()
    )


class AxleTemperatures(NamedTuple):
    """Pad temperatures of both axles at one moment."""

    front: Annotated[Kelvins, temperature("Front pads", "T_f")]
    rear: Annotated[Kelvins, temperature("Rear pads", "T_r")]


class PadBalance(NamedTuple):
    """The brake balance at each moment, and how far it wanders."""

    shares: Annotated[tuple[Ratio, ...], Output("Front share of the brake force, in the order given", r"\varphi", "%")]
    wander: Annotated[Ratio, Output("Points of share between the lowest and the highest", r"\Delta\varphi", "%", 3)]
    front_frictions: Annotated[tuple[Ratio, ...], Output("Front pad friction", r"\mu_f", "", 3, detail=True)]
    rear_frictions: Annotated[tuple[Ratio, ...], Output("Rear pad friction", r"\mu_r", "", 3, detail=True)]
    effort: Annotated[tuple[Ratio, ...], Output("Brake force for the same pedal, of the base", "", "%", 3)]


def _mix_remarks(result: PadBalance, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    if result.wander > 0.02:
        return (
            Remark(
                "The balance wanders by more than two points as the pads warm: set it for the hot end and warn the driver of the cold one.",
                "caution",
                "wander",
            ),
        )
    return (Remark("The balance hardly moves from cold to hot.", about="wander"),)


def _mix_figures(result: PadBalance, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    moments = [float(n) for n in range(1, len(result.shares) + 1)]
    return (
        Chart(
            "Front share from cold to hot",
            "One point for each moment, in the order given.",
            Axis("Moment"),
            Axis("Front share of the brake force", "%"),
            (
                Series("Front share", moments, result.shares),
                Series("Base", [moments[0], moments[-1]], [inputs["base_share"]] * 2),
            ),
        ),
    )


@calculator(
    title="Balance from cold pads to hot",
    question="How far does the brake balance move as front and rear pads warm up?",
    example={
        "base_share": "71 %",
        "base_front_friction": "0.45",
        "base_rear_friction": "0.42",
        "front_pad": _EXAMPLE_POINTS,
        "rear_pad": [["50 °C", "0.40"], ["200 °C", "0.44"], ["400 °C", "0.42"], ["600 °C", "0.34"]],
        "moments": [["60 °C", "60 °C"], ["300 °C", "220 °C"], ["580 °C", "420 °C"]],
    },
    remarks=with_care(_mix_remarks),
    figures=_mix_figures,
)
def pad_balance(
    *,
    base_share: Annotated[
        Ratio, Input("Front share with the base friction", r"\varphi_0", "%", above=0, below=1, typical=(0.5, 0.85))
    ],
    base_front_friction: Annotated[Ratio, pad_friction("Friction the front share was computed with", r"\mu_{f0}")],
    base_rear_friction: Annotated[Ratio, pad_friction("Friction the rear share was computed with", r"\mu_{r0}")],
    front_pad: Annotated[tuple[FrictionPoint, ...], Input("Friction table of the front pad")],
    rear_pad: Annotated[tuple[FrictionPoint, ...], Input("Friction table of the rear pad")],
    moments: Annotated[tuple[AxleTemperatures, ...], Input("Moments: cold, middle, hot")],
) -> PadBalance:
    """Return the front share of the brake force at several pad temperatures.

    Equation: phi = m_f phi_0 / (m_f phi_0 + m_r (1 - phi_0)), m = mu(T) over the friction already in phi_0.
    Valid for: the same line pressures; friction inside both tables.
    Caution: friction must not be counted twice: the base share holds one value already.
    Source: derived.

    >>> flat = (FrictionPoint(300, 0.4), FrictionPoint(900, 0.4))
    >>> [round(s, 6) for s in pad_balance(base_share=0.7, base_front_friction=0.4, base_rear_friction=0.4, front_pad=flat, rear_pad=flat,
    ...     moments=(AxleTemperatures(400, 400),)).shares]
    [0.7]
    """
    front, rear = make_pad(front_pad, "front_pad"), make_pad(rear_pad, "rear_pad")
    fronts = tuple(front.at(m.front, f"moments[{n}].front") for n, m in enumerate(moments, start=1))
    rears = tuple(rear.at(m.rear, f"moments[{n}].rear") for n, m in enumerate(moments, start=1))
    forces = [
        (base_share * f / base_front_friction, (1 - base_share) * r / base_rear_friction)
        for f, r in zip(fronts, rears, strict=True)
    ]
    shares = tuple(f / (f + r) for f, r in forces)
    return PadBalance(shares, max(shares) - min(shares), fronts, rears, tuple(f + r for f, r in forces))

"""A blade that turns: the adjuster of an anti-roll bar."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.numeric.integrate import nodes
from calc.springs.words import STEEL_YOUNG, YoungsModulus
from calc.units import Metres, Newtons, NewtonsPerMetre, Pascals, Radians, Ratio

Tip = Literal["free", "guided"]
_PIECES = 8
_STATIONS = 40


class Blade(NamedTuple):
    """A cantilever of rectangular section that tapers in a straight line from root to tip."""

    length: float
    thickness: tuple[float, float]  # at root and tip, the soft way
    height: tuple[float, float]  # at root and tip, the hard way
    E: float

    def at(self, x: float) -> tuple[float, float]:
        """Return thickness and height at a distance from the tip."""
        share = x / self.length
        (b, b_tip), (h, h_tip) = self.thickness, self.height
        return b_tip + (b - b_tip) * share, h_tip + (h - h_tip) * share

    def rates(self) -> tuple[float, float]:
        """Return the rates at the tip, soft and hard way: 1/k is the integral of x^2 / (E I) along the blade.

        >>> [round(k) for k in Blade(0.18, (0.003, 0.003), (0.025, 0.025), 206e9).rates()]
        [5961, 413934]
        """
        soft = hard = 0.0
        for x, weight in nodes(0.0, self.length, _PIECES):
            b, h = self.at(x)
            soft += weight * 12 * x**2 / (self.E * h * b**3)
            hard += weight * 12 * x**2 / (self.E * b * h**3)
        return 1 / soft, 1 / hard

    def stress(self, soft_force: float, hard_force: float) -> float:
        """Return the greatest bending stress at a corner of the section, anywhere along the blade."""
        worst = 0.0
        for i in range(1, _STATIONS + 1):
            x = self.length * i / _STATIONS
            b, h = self.at(x)
            worst = max(worst, 6 * x * (abs(soft_force) / (h * b**2) + abs(hard_force) / (b * h**2)))
        return worst


class BarBlade(NamedTuple):
    """Rate and stress of one blade at its tip, along the drop link."""

    rate: Annotated[NewtonsPerMetre, Output("Rate at the tip, along the link", "k", "N/mm")]
    deflection: Annotated[Metres, Output("Deflection along the link", r"\delta", "mm", 3)]
    stress: Annotated[Pascals, Output("Greatest bending stress", r"\sigma", "MPa", 3)]
    soft_rate: Annotated[NewtonsPerMetre, Output("Rate full soft", "k_s", "N/mm")]
    hard_rate: Annotated[NewtonsPerMetre, Output("Rate full hard", "k_h", "N/mm")]
    ratio: Annotated[Ratio, Output("Hard over soft", "", "", 3)]
    flags: tuple[str, ...]


def rate_at(soft: float, hard: float, angle: float, tip: Tip) -> float:
    """Return the rate of a blade turned by an angle from soft.

    >>> round(rate_at(1.0, 100.0, math.radians(45), "free"), 3), round(rate_at(1.0, 100.0, math.radians(45), "guided"), 1)
    (1.98, 50.5)
    """
    c, s = math.cos(angle) ** 2, math.sin(angle) ** 2
    return soft * c + hard * s if tip == "guided" else 1 / (c / soft + s / hard)


def _remarks(result: BarBlade, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    text = "With a free tip almost all of the change comes in the last 20 degrees before hard: equal clicks are not equal steps."
    other = "A guided tip cannot move sideways, so the rate rises early: the first few degrees from soft count most."
    return (Remark(text if inputs["tip"] == "free" else other, about="rate"),)


def _figures(result: BarBlade, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    angles = [math.radians(2.5 * i) for i in range(37)]
    curves: tuple[tuple[str, Tip], ...] = (("Tip free sideways", "free"), ("Tip guided", "guided"))
    series = tuple(
        Series(name, angles, [rate_at(result.soft_rate, result.hard_rate, a, tip) for a in angles])
        for name, tip in curves
    )
    here = Series("Here", [inputs["angle"]], [result.rate], points=True)
    text = "Between soft and hard the rate is no straight line: late with a free tip, early with a guided one."
    return (
        Chart(
            "Rate against the angle of the blade",
            text,
            Axis("Angle from soft", "°"),
            Axis("Rate at the tip", "N/mm"),
            (*series, here),
        ),
    )


@calculator(
    title="Blade of an adjustable bar",
    question="How stiff is this blade at this angle, and how hard is it worked?",
    example={
        "thickness": "5 mm",
        "height": "25 mm",
        "length": "180 mm",
        "angle": "60°",
        "force": "400 N",
        "yield_stress": "1100 MPa",
    },
    working=(
        Step(r"k_s = \frac{E \, h \, b^3}{4 \, l^3}", "soft_rate"),
        Step(r"k_h = \frac{E \, b \, h^3}{4 \, l^3}", "hard_rate"),
        Step(r"\frac{1}{k} = \frac{\cos^2 \psi}{k_s} + \frac{\sin^2 \psi}{k_h}", "rate"),
        Step(r"\sigma = 6 \, F \, l \left(\frac{\cos \psi}{h \, b^2} + \frac{\sin \psi}{b \, h^2}\right)", "stress"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def bar_blade(
    *,
    thickness: Annotated[Metres, Input("Thickness at the root", "b", "mm", above=0, typical=(2e-3, 10e-3))],
    height: Annotated[Metres, Input("Height at the root", "h", "mm", above=0, typical=(12e-3, 40e-3))],
    length: Annotated[Metres, Input("Free length", "l", "mm", above=0, typical=(0.08, 0.35))],
    angle: Annotated[
        Radians, Input("Angle from full soft", r"\psi", "°", at_least=0, at_most=math.pi / 2, help="0 soft, 90 hard.")
    ] = 0.0,
    tip: Annotated[
        Tip, Choice("Tip of the blade", {"free": "free to move sideways", "guided": "held to the line of the link"})
    ] = "free",
    force: Annotated[Newtons, Input("Force in the drop link", "F", "N", at_least=0, typical=(0, 3000))] = 0.0,
    tip_thickness: Annotated[
        Metres | None, Input("Thickness at the tip", "b_t", "mm", above=0, help="Empty: not tapered.")
    ] = None,
    tip_height: Annotated[
        Metres | None, Input("Height at the tip", "h_t", "mm", above=0, help="Empty: not tapered.")
    ] = None,
    youngs_modulus: YoungsModulus = STEEL_YOUNG,
    yield_stress: Annotated[
        Pascals | None, Input("Yield stress of the blade", r"\sigma_y", "MPa", above=0, typical=(500e6, 1600e6))
    ] = None,
) -> BarBlade:
    """Return the rate of a turning blade at its tip, soft, hard and between, and its bending stress.

    Equation: I_soft = h b^3 / 12, I_hard = b h^3 / 12; free tip 1/k = l^3/(3E) (cos^2/I_soft + sin^2/I_hard); guided k = 3E/l^3 (I_soft cos^2 + I_hard sin^2).
    A tapered blade is integrated along its length; the working shows the plain one.
    Valid for: small bending, a root that does not give, the link square to the blade.
    Caution: a blade held between soft and hard is stressed in both directions at once, at one corner of its root.
    Source: bending of beams about the two principal axes.

    >>> answer = bar_blade(thickness=0.003, height=0.025, length=0.18)
    >>> round(answer.soft_rate, 1), round(answer.hard_rate / answer.soft_rate, 2)
    (5960.6, 69.44)
    """
    blade = Blade(length, (thickness, tip_thickness or thickness), (height, tip_height or height), youngs_modulus)
    soft, hard = blade.rates()
    rate = rate_at(soft, hard, angle, tip)
    along_soft, along_hard = force * math.cos(angle), force * math.sin(angle)
    if tip == "guided":  # the tip moves along the link alone, so each way takes the share its rate demands
        along_soft, along_hard = along_soft * soft / rate, along_hard * hard / rate
    stress = blade.stress(along_soft, along_hard)
    flags = []
    if yield_stress is not None and stress > yield_stress:
        flags.append(
            f"The bending stress is above the yield of {quantity(yield_stress, 'MPa')}: the blade takes a set."
        )
    if height < thickness:
        flags.append("The height is less than the thickness: soft and hard are the other way round.")
    return BarBlade(rate, force / rate, stress, soft, hard, hard / soft, tuple(flags))

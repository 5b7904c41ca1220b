"""The pedal as a lever that turns: its ratio over the stroke."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.brakes.care import with_care
from calc.figures.spec import Axis, Chart, Drawing, Figure, Series, Shape
from calc.form import Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.units import Metres, Radians, Ratio

_POINTS = 21


class Lever(NamedTuple):
    """A pedal on its pivot: the pushrod's pin at ``rod_arm``, the cylinder's line ``line`` below the pivot, along x."""

    pad_arm: float
    rod_arm: float
    pushrod: float
    line: float
    rest: float  # rad, of the rod arm from square to the cylinder, negative away from the cylinder

    def piston(self, turned: float) -> float:
        """Return the place of the piston along the cylinder when the pedal has turned."""
        angle = self.rest + turned
        fall = self.line - self.rod_arm * math.cos(angle)
        return self.rod_arm * math.sin(angle) + math.sqrt(self.pushrod**2 - fall**2)

    def ratio(self, turned: float) -> float:
        """Return pad travel over piston travel: the mechanical advantage without friction."""
        angle = self.rest + turned
        fall = self.line - self.rod_arm * math.cos(angle)
        along = math.sqrt(self.pushrod**2 - fall**2)
        return self.pad_arm / (self.rod_arm * (math.cos(angle) - fall * math.sin(angle) / along))


class PedalRatioOverStroke(NamedTuple):
    """The ratio at rest, at the end, and the piston stroke that the pedal travel makes."""

    rest_ratio: Annotated[Ratio, Output("Ratio at rest", "i_0", "")]
    end_ratio: Annotated[Ratio, Output("Ratio at the end of the travel", "i_1", "")]
    mean_ratio: Annotated[Ratio, Output("Mean ratio: pedal travel over piston stroke", "i_m", "")]
    rod_stroke: Annotated[Metres, Output("Stroke of the piston", "x", "mm")]
    change: Annotated[Ratio, Output("Change of the ratio over the travel", r"\Delta i/i", "%", 3)]
    turned: Annotated[Radians, Output("Angle the pedal turns", r"\theta", "°", 3, detail=True)]


def _lever(inputs: Mapping[str, Any]) -> Lever:
    line = inputs["cylinder_line"] if inputs["cylinder_line"] is not None else inputs["rod_arm"]
    return Lever(inputs["pad_arm"], inputs["rod_arm"], inputs["pushrod"], line, inputs["rest_angle"])


def _remarks(result: PedalRatioOverStroke, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    if result.mean_ratio < 2.5 or result.mean_ratio > 8:
        return (
            Remark(
                "A pedal ratio outside 2.5 to 8 is unusual: check that it is not upside down.", "caution", "mean_ratio"
            ),
        )
    if abs(result.change) > 0.1:
        return (
            Remark(
                "The ratio changes by more than a tenth over the stroke: the feel and the effort change with it.",
                about="change",
            ),
        )
    return (
        Remark(
            "The ratio hardly changes over the stroke. 4 to 6.5 is usual without a booster, 3 to 4.5 with one.",
            about="mean_ratio",
        ),
    )


def _figures(result: PedalRatioOverStroke, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    lever = _lever(inputs)
    turns = [result.turned * i / (_POINTS - 1) for i in range(_POINTS)]
    pin = (lever.rod_arm * math.sin(lever.rest), -lever.rod_arm * math.cos(lever.rest))
    pad = (lever.pad_arm * math.sin(lever.rest), -lever.pad_arm * math.cos(lever.rest))
    end = (lever.piston(0.0), -lever.line)
    return (
        Chart(
            "Pedal ratio over the stroke",
            "How the mechanical advantage of the pedal changes from rest to the end of its travel.",
            Axis("Travel of the pedal pad", "mm"),
            Axis("Pedal ratio"),
            (Series("Ratio", [lever.pad_arm * t for t in turns], [lever.ratio(t) for t in turns]),),
        ),
        Drawing(
            "The pedal at rest",
            "Pivot at the top, pushrod to the cylinder, pedal pad at the bottom.",
            ("towards the cylinder", "up"),
            (
                Shape("line", ((0.0, 0.0), pad), "link"),
                Shape("line", (pin, end), "link"),
                Shape("point", ((0.0, 0.0),), "body", "pivot"),
                Shape("point", (pin,), "body", "pushrod pin"),
                Shape("point", (pad,), "result", "pad"),
                Shape("arrow", (end, (end[0] + 0.15 * lever.pad_arm, end[1])), "force", "piston"),
            ),
        ),
    )


@calculator(
    title="Pedal ratio over the stroke",
    question="What is the pedal ratio at rest, at full pressure and in between?",
    example={
        "pad_arm": "260 mm",
        "rod_arm": "50 mm",
        "pushrod": "120 mm",
        "rest_angle": "-8 deg",
        "pedal_travel": "60 mm",
    },
    working=(
        Step(r"\theta = \frac{x_p}{L_p}", "turned"),
        Step(r"i_m = \frac{x_p}{x}", "mean_ratio"),
    ),
    remarks=with_care(_remarks),
    figures=_figures,
)
def pedal_ratio(
    *,
    pad_arm: Annotated[
        Metres, Input("Pivot to the middle of the pad", "L_p", "mm", above=0, at_most=2, typical=(0.15, 0.4))
    ],
    rod_arm: Annotated[
        Metres, Input("Pivot to the pushrod pin", "L_r", "mm", above=0, at_most=2, typical=(0.025, 0.1))
    ],
    pushrod: Annotated[
        Metres, Input("Length of the pushrod, pin to piston seat", "l", "mm", above=0, at_most=2, typical=(0.05, 0.3))
    ] = 0.12,
    cylinder_line: Annotated[
        Metres | None,
        Input(
            "Distance of the pivot from the line of the cylinder",
            "h",
            "mm",
            above=0,
            at_most=2,
            help="Empty: the length of the rod arm.",
        ),
    ] = None,
    rest_angle: Annotated[
        Radians,
        Input(
            "Angle of the rod arm at rest from square to the cylinder",
            r"\theta_0",
            "°",
            above=-1.2,
            below=1.2,
            help="Negative: the arm starts on the far side and swings through square.",
        ),
    ] = 0.0,
    pedal_travel: Annotated[
        Metres, Input("Travel of the pad along its arc", "x_p", "mm", above=0, at_most=1, typical=(0.02, 0.12))
    ] = 0.05,
) -> PedalRatioOverStroke:
    """Return the pedal ratio over the stroke, with the foot's force square to the pedal arm.

    Equation: i(theta) = dx_pad / dx_piston, with x_piston = L_r sin(theta) + sqrt(l^2 - (h - L_r cos(theta))^2);  at rest and square, i = L_p / L_r.
    Valid for: a rigid pedal and pushrod in one plane, the foot pushing square to the arm.
    Signs: angles grow as the pedal goes down; the rod arm is square to the cylinder at zero.
    Source: virtual work, derived.

    >>> answer = pedal_ratio(pad_arm=0.26, rod_arm=0.05, rest_angle=0.0, pedal_travel=0.001)
    >>> round(answer.rest_ratio, 3)
    5.2
    """
    lever = Lever(pad_arm, rod_arm, pushrod, rod_arm if cylinder_line is None else cylinder_line, rest_angle)
    turned = pedal_travel / pad_arm
    _require_reach(lever, turned)
    stroke = lever.piston(turned) - lever.piston(0.0)
    rest, end = lever.ratio(0.0), lever.ratio(turned)
    return PedalRatioOverStroke(rest, end, pedal_travel / stroke, stroke, end / rest - 1, turned)


def _require_reach(lever: Lever, turned: float) -> None:
    """Refuse a linkage that comes apart, or whose arm no longer pushes, anywhere on the way."""
    for i in range(_POINTS):
        angle = lever.rest + turned * i / (_POINTS - 1)
        fall = lever.line - lever.rod_arm * math.cos(angle)
        if abs(fall) >= 0.99 * lever.pushrod:
            raise Refused(
                "pushrod",
                "must be long enough to reach the cylinder over the whole travel",
                f"{1e3 * lever.pushrod:g} mm",
            )
        advance = math.cos(angle) - fall * math.sin(angle) / math.sqrt(lever.pushrod**2 - fall**2)
        if abs(angle) >= math.pi / 2 or advance < 0.05:
            raise Refused(
                "pedal_travel", "must end before the rod arm points along the cylinder", f"{math.degrees(angle):.0f}°"
            )

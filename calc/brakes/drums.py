"""Drum brakes: long shoes from their geometry, and brake factors from the mid-shoe model."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.brakes.care import with_care
from calc.figures.spec import Drawing, Figure, Shape
from calc.form import Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.units import Metres, NewtonMetres, Newtons, Pascals, Radians, Ratio


class Shoe(NamedTuple):
    """A long internal shoe that turns about a fixed pivot: lengths in m, angles from the pivot line in rad."""

    drum: float
    pivot: float
    width: float
    friction: float
    start: float
    end: float

    @property
    def peak(self) -> float:
        """Sine of the angle of the highest pressure: a quarter turn, or the end of a shorter lining."""
        return 1.0 if self.end >= math.pi / 2 else math.sin(self.end)

    @property
    def normal(self) -> float:
        """Moment of the normal force about the pivot for each unit of highest pressure."""
        swept = (self.end - self.start) / 2 - (math.sin(2 * self.end) - math.sin(2 * self.start)) / 4
        return self.width * self.drum * self.pivot / self.peak * swept

    @property
    def drag(self) -> float:
        """Moment of the friction force about the pivot for each unit of highest pressure; its arm is r - R cos(theta)."""
        cosines = math.cos(self.start) - math.cos(self.end)
        squares = math.sin(self.end) ** 2 - math.sin(self.start) ** 2
        return self.friction * self.width * self.drum / self.peak * (self.drum * cosines - self.pivot / 2 * squares)

    @property
    def torque(self) -> float:
        """Torque on the drum for each unit of highest pressure."""
        return self.friction * self.width * self.drum**2 * (math.cos(self.start) - math.cos(self.end)) / self.peak


class DrumShoes(NamedTuple):
    """Torque of a leading and a trailing shoe under the same force."""

    torque: Annotated[NewtonMetres, Output("Torque of both shoes", "T", "N·m")]
    leading_torque: Annotated[NewtonMetres, Output("Torque of the leading shoe", "T_L", "N·m")]
    trailing_torque: Annotated[NewtonMetres, Output("Torque of the trailing shoe", "T_T", "N·m")]
    leading_pressure: Annotated[Pascals, Output("Highest pressure on the leading lining", "p_L", "MPa")]
    trailing_pressure: Annotated[Pascals, Output("Highest pressure on the trailing lining", "p_T", "MPa")]
    tyre_force: Annotated[Newtons | None, Output("Brake force at the tyre", "F_x", "N")]
    self_lock: Annotated[Ratio | None, Output("Friction at which the leading shoe locks by itself", r"\mu_s", "", 3)]
    normal_moment: Annotated[NewtonMetres, Output("Moment of the normal force, leading", "M_N", "N·m", detail=True)]
    friction_moment: Annotated[NewtonMetres, Output("Moment of the friction force, leading", "M_f", "N·m", detail=True)]


def _shoe_remarks(result: DrumShoes, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    ratio = result.leading_torque / result.trailing_torque
    remarks = [
        Remark(
            f"The leading shoe does {ratio:.1f} times the work of the trailing one, and wears that much faster.",
            about="leading_torque",
        )
    ]
    if result.self_lock is not None and result.self_lock < 1.3 * inputs["friction"]:
        remarks.append(
            Remark("A lining 30 % grippier would lock by itself: wet or damp linings can grab.", "caution", "self_lock")
        )
    return tuple(remarks)


def _figures(result: DrumShoes, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    r, pivot = inputs["drum_radius"], inputs["pivot_radius"]

    def lining(side: int) -> tuple[tuple[float, float], ...]:
        span = [inputs["start_angle"] + (inputs["end_angle"] - inputs["start_angle"]) * i / 16 for i in range(17)]
        return tuple((side * 0.94 * r * math.sin(t), -0.94 * r * math.cos(t)) for t in span)

    return (
        Drawing(
            "The drum and its linings",
            "Pivots at the bottom; both shoes are pressed outward at the top.",
            ("across", "up"),
            (
                Shape("circle", ((0.0, 0.0),), "body", radius=r),
                Shape("line", lining(-1), "link", "leading"),
                Shape("line", lining(1), "construction", "trailing"),
                Shape("point", ((0.0, -pivot),), "result", "pivots"),
            ),
        ),
    )


@calculator(
    title="Drum brake with long shoes",
    question="What torque does a drum brake make from the force on its shoes?",
    example={
        "force": "2200 N",
        "drum_radius": "101.5 mm",
        "pivot_radius": "84 mm",
        "width": "38 mm",
        "friction": "0.33",
        "start_angle": "12 deg",
        "end_angle": "125 deg",
        "force_arm": "160 mm",
        "wheel_radius": "288 mm",
    },
    working=(
        Step(
            r"M_N = \frac{p_a \, b \, r \, R}{\sin\theta_a} \left[\frac{\theta_2 - \theta_1}{2} - \frac{\sin 2\theta_2 - \sin 2\theta_1}{4}\right]",
            "normal_moment",
        ),
        Step(
            r"M_f = \frac{\mu \, p_a \, b \, r}{\sin\theta_a} \left[r (\cos\theta_1 - \cos\theta_2) - \frac{R}{2} (\sin^2\theta_2 - \sin^2\theta_1)\right]",
            "friction_moment",
        ),
        Step(r"F \, c = M_N - M_f \; \Rightarrow \; T_L", "leading_torque"),
        Step(r"F \, c = M_N + M_f \; \Rightarrow \; T_T", "trailing_torque"),
    ),
    remarks=with_care(_shoe_remarks),
    figures=_figures,
)
def drum_shoes(
    *,
    force: Annotated[Newtons, Input("Force of the wheel cylinder on each shoe", "F", "N", above=0, at_most=1e6)],
    drum_radius: Annotated[Metres, Input("Radius of the drum", "r", "mm", above=0, at_most=1, typical=(0.08, 0.2))],
    pivot_radius: Annotated[
        Metres,
        Input("Pivot of the shoe from the middle of the drum", "R", "mm", above=0, at_most=1, typical=(0.06, 0.18)),
    ],
    width: Annotated[Metres, Input("Width of the lining", "b", "mm", above=0, at_most=0.5, typical=(0.025, 0.08))],
    friction: Annotated[Ratio, Input("Lining friction", r"\mu", "", above=0, at_most=1.5, typical=(0.25, 0.5))],
    start_angle: Annotated[
        Radians,
        Input(
            "Start of the lining, from the pivot line", r"\theta_1", "°", at_least=0, below=math.pi, typical=(0, 0.7)
        ),
    ] = 0.0,
    end_angle: Annotated[
        Radians,
        Input("End of the lining, from the pivot line", r"\theta_2", "°", above=0, below=math.pi, typical=(1.7, 2.6)),
    ],
    force_arm: Annotated[
        Metres, Input("Arm of the force about the pivot", "c", "mm", above=0, at_most=2, typical=(0.1, 0.4))
    ],
    wheel_radius: Annotated[
        Metres | None, Input("Loaded radius of the wheel", "R_w", "mm", above=0, at_most=0.8)
    ] = None,
) -> DrumShoes:
    """Return the torque of a leading and a trailing long shoe under equal force.

    Equation: leading F c = M_N - M_f, trailing F c = M_N + M_f;  T = mu p_a b r^2 (cos t1 - cos t2)/sin t_a;  arm of friction r - R cos(t).
    Valid for: rigid shoes on fixed pivots, pressure as the sine of the angle from the pivot line, linings bedded to the drum.
    Caution: at M_f = M_N the leading shoe locks by itself, which is refused: it must never happen in a service brake. Lining dust harms:
    wet it, never blow it out.
    Source: J. E. Shigley, Mechanical Engineering Design, chapter on clutches and brakes (problem 16-1; partly from memory).

    >>> answer = drum_shoes(force=2200, drum_radius=0.15, pivot_radius=0.125, width=0.04, friction=0.28, end_angle=2.0943951, force_arm=0.2165)
    >>> round(answer.torque, 1)
    422.0
    """
    if end_angle <= start_angle:
        raise Refused("end_angle", "must be greater than the start of the lining", f"{math.degrees(end_angle):.4g}°")
    shoe = Shoe(drum_radius, pivot_radius, width, friction, start_angle, end_angle)
    if shoe.drag >= shoe.normal:
        limit = friction * shoe.normal / shoe.drag
        raise Refused(
            "friction",
            f"must be less than {limit:.3g}: at that the leading shoe locks by itself",
            f"{friction:g}",
            label="Lining friction",
        )
    trailing_moment = shoe.normal + shoe.drag
    if trailing_moment <= 0:
        raise Refused("end_angle", "must leave the trailing shoe pressed on", f"{math.degrees(end_angle):.4g}°")
    leading = force * force_arm / (shoe.normal - shoe.drag)
    trailing = force * force_arm / trailing_moment
    torque = (leading + trailing) * shoe.torque
    return DrumShoes(
        torque=torque,
        leading_torque=leading * shoe.torque,
        trailing_torque=trailing * shoe.torque,
        leading_pressure=leading,
        trailing_pressure=trailing,
        tyre_force=None if wheel_radius is None else torque / wheel_radius,
        self_lock=friction * shoe.normal / shoe.drag if shoe.drag > 0 else None,
        normal_moment=leading * shoe.normal,
        friction_moment=leading * shoe.drag,
    )

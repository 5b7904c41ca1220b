"""Circular pads: their friction radius, and the pad that carries a torque."""

import math
from collections.abc import Mapping
from itertools import pairwise
from typing import Annotated, Any, Literal, NamedTuple

from calc.brakes.care import with_care
from calc.brakes.terms import PadFriction
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.numeric.integrate import area
from calc.units import Metres, NewtonMetres, Newtons, Pascals, Ratio

# Friction radius over the radius of the pad's centre, by pad radius over that radius (Fazekas; reprinted in Shigley and Bhandari).
PRINTED = ((0.0, 1.000), (0.1, 0.983), (0.2, 0.969), (0.3, 0.957), (0.4, 0.947), (0.5, 0.938))
Law = Literal["printed table", "uniform wear", "uniform pressure"]


def button_factor(size: float, law: Law) -> float:
    """Return friction radius over the radius of the pad's centre; ``size`` is pad radius over that radius, 0 to 0.5.

    >>> button_factor(0.2, "printed table"), round(button_factor(0.2, "uniform wear"), 3), round(button_factor(0.2, "uniform pressure"), 3)
    (0.969, 0.995, 1.005)
    """
    if law == "printed table":
        (x0, y0), (x1, y1) = next(pair for pair in pairwise(PRINTED) if size <= pair[1][0] or pair[1] == PRINTED[-1])
        return y1 if size == x1 else y0 + (y1 - y0) * (size - x0) / (x1 - x0)
    if size < 1e-6:
        return 1.0
    if law == "uniform wear":  # pressure falls as 1/r: area over the integral of dA / r
        return math.pi * size**2 / area(lambda t: 2 * _half_arc(size, t) * size * math.sin(t), 0.0, math.pi)
    return area(lambda t: 2 * _half_arc(size, t) * _radius(size, t) ** 2 * size * math.sin(t), 0.0, math.pi) / (
        math.pi * size**2
    )


def _radius(size: float, t: float) -> float:
    """Return the radius at t of the sweep across the pad, 0 to pi; the centre of the pad is at radius 1."""
    return 1 - size * math.cos(t)


def _half_arc(size: float, t: float) -> float:
    """Return half the angle that the circle at that radius spends inside the pad."""
    r = _radius(size, t)
    return math.acos(max(-1.0, min(1.0, (r * r + 1 - size * size) / (2 * r))))


class ButtonPads(NamedTuple):
    """The pad that carries the torque, and where it rubs."""

    pad_radius: Annotated[Metres, Output("Radius of the pad", "R", "mm")]
    centre_radius: Annotated[Metres, Output("Radius of its centre from the axle", "e", "mm")]
    effective_radius: Annotated[Metres, Output("Effective radius", "r_e", "mm")]
    clamp: Annotated[Newtons, Output("Force on one pad", "F", "N")]
    factor: Annotated[Ratio, Output("Effective radius over centre radius", r"\delta", "")]


def _remarks(result: ButtonPads, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            "The printed table lies 1.6 to 3.3 % below the plain uniform-wear integral: it rests on another assumption. Use it to check old examples.",
            about="factor",
        ),
    )


@calculator(
    title="Circular pads",
    question="How large must round pads be for a torque, and at what radius do they rub?",
    example={"torque": "500 N·m", "pads": "2", "friction": "0.35", "mean_pressure": "2 MPa", "size": "0.2"},
    working=(
        Step(r"R^3 = \frac{T \, (R/e)}{n \, \mu \, p \, \pi \, \delta}", "pad_radius"),
        Step(r"r_e = \delta \, e", "effective_radius"),
        Step(r"F = \pi \, R^2 \, p", "clamp"),
    ),
    remarks=with_care(_remarks),
)
def button_pads(
    *,
    torque: Annotated[NewtonMetres, Input("Torque of all pads", "T", "N·m", above=0, at_most=1e5)],
    pads: Annotated[int, Input("Pads, both faces counted", "n", at_least=1, at_most=100)],
    friction: PadFriction,
    mean_pressure: Annotated[
        Pascals, Input("Mean pressure on a pad", "p", "MPa", above=0, at_most=1e8, typical=(5e5, 8e6))
    ],
    size: Annotated[Ratio, Input("Pad radius over the radius of its centre", "R/e", "", at_least=0.01, at_most=0.5)],
    law: Annotated[
        Law,
        Choice(
            "Friction radius from",
            {
                "printed table": "the printed table",
                "uniform wear": "the uniform-wear integral",
                "uniform pressure": "the uniform-pressure integral",
            },
        ),
    ] = "printed table",
) -> ButtonPads:
    """Return the size of circular pads for a torque, and the radius at which they rub.

    Equation: T = n mu p pi R^2 delta e, with R/e chosen: R^3 = T (R/e) / (n mu p pi delta);  r_e = delta e.
    Valid for: R/e up to 0.5; all pads alike and loaded alike.
    Source: table by G. A. Fazekas, reprinted in Shigley and in V. B. Bhandari, Design of Machine Elements, 2010 (from memory); integrals derived.

    >>> round(button_pads(torque=1500, pads=6, friction=0.35, mean_pressure=2e6, size=0.2).pad_radius * 1e3, 2)
    28.63
    """
    factor = button_factor(size, law)
    radius = (torque * size / (pads * friction * mean_pressure * math.pi * factor)) ** (1 / 3)
    centre = radius / size
    return ButtonPads(radius, centre, factor * centre, math.pi * radius**2 * mean_pressure, factor)

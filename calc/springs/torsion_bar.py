"""A straight torsion bar used as the spring of a wheel."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.springs.words import STEEL_SHEAR, ShearModulus
from calc.units import (
    Metres,
    MetresToTheFourth,
    NewtonMetres,
    NewtonMetresPerRadian,
    NewtonsPerMetre,
    Pascals,
    Radians,
)

OuterDiameter = Annotated[Metres, Input("Outer diameter of the bar", "d_o", "mm", above=0, typical=(0.010, 0.050))]
InnerDiameter = Annotated[Metres, Input("Inner diameter, 0 if solid", "d_i", "mm", at_least=0, typical=(0, 0.046))]
TwistedLength = Annotated[Metres, Input("Length that twists", "L_t", "mm", above=0, typical=(0.2, 1.5))]


def polar_moment(outer: float, inner: float) -> float:
    """Return the second polar moment of a round section, m^4.

    >>> round(polar_moment(0.024, 0.012) * 1e12)
    30536
    """
    return math.pi * (outer**4 - inner**4) / 32


def require_hollow(outer: float, inner: float) -> None:
    """Refuse a bore that is not smaller than the bar."""
    if inner >= outer:
        raise Refused(
            "inner_diameter", f"must be less than the outer diameter, {quantity(outer, 'mm')}", quantity(inner, "mm")
        )


class TorsionBarSpring(NamedTuple):
    """Rates and stress of a torsion bar and its lever."""

    lever_rate: Annotated[NewtonsPerMetre, Output("Rate at the lever end, at this angle", "k", "N/mm")]
    torsional_rate: Annotated[NewtonMetresPerRadian, Output("Torsional rate", r"k_\theta", "N·m/deg")]
    shear_stress: Annotated[Pascals, Output("Shear stress in the bar", r"\tau", "MPa", 3)]
    twist: Annotated[Radians, Output("Twist of the bar", r"\psi", "°", 3)]
    level_rate: Annotated[NewtonsPerMetre, Output("Rate with the lever level", "k_0", "N/mm", detail=True)]
    polar: Annotated[MetresToTheFourth, Output("Polar moment of the section", "J", "mm⁴", detail=True)]
    flags: tuple[str, ...]


def _remarks(result: TorsionBarSpring, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark("Moving the bar by a spline changes the ride height, not the rate.", about="lever_rate"),
        Remark(
            "The lever end's rate is the wheel's only if the lever carries the wheel; otherwise times the motion ratio squared.",
            about="lever_rate",
        ),
    )


def _figures(result: TorsionBarSpring, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    k, lever, torque, now = result.torsional_rate, inputs["lever"], inputs["torque"], inputs["lever_angle"]
    angles = [math.radians(-45 + 4.5 * i) for i in range(21)]
    rates = [lever_rate(k, lever, angle, torque + k * (angle - now)) for angle in angles]
    return (
        Chart(
            "Rate at the lever end against its angle",
            "The rate is least near level and rises as the lever swings away, because its horizontal reach shortens.",
            Axis("Angle of the lever above level", "°"),
            Axis("Rate", "N/mm"),
            (Series("Rate", angles, rates), Series("Here", [now], [result.lever_rate], points=True)),
        ),
    )


def lever_rate(torsional_rate: float, lever: float, angle: float, torque: float) -> float:
    """Return the vertical rate at the end of a lever at an angle above level, N/m.

    >>> round(lever_rate(2548.98, 0.28, 0.0, 400.0), 1)
    32512.5
    """
    reach = lever * math.cos(angle)
    return torsional_rate / reach**2 + torque * math.tan(angle) / reach**2


@calculator(
    title="Torsion bar as a spring",
    question="What rate and stress has this torsion bar at its lever?",
    example={
        "outer_diameter": "24 mm",
        "twisted_length": "950 mm",
        "lever": "280 mm",
        "lever_angle": "5°",
        "torque": "620 N·m",
        "shear_yield": "800 MPa",
    },
    working=(
        Step(r"J = \frac{\pi \, (d_o^4 - d_i^4)}{32}", "polar"),
        Step(r"k_\theta = \frac{G \, J}{L_t}", "torsional_rate"),
        Step(r"k_0 = \frac{k_\theta}{l^2}", "level_rate"),
        Step(r"k = \frac{k_\theta + T \tan \theta}{l^2 \cos^2 \theta}", "lever_rate"),
        Step(r"\tau = \frac{T \, d_o}{2 \, J}", "shear_stress"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def torsion_bar_spring(
    *,
    outer_diameter: OuterDiameter,
    inner_diameter: InnerDiameter = 0.0,
    twisted_length: TwistedLength,
    lever: Annotated[Metres, Input("Length of the lever", "l", "mm", above=0, typical=(0.1, 0.6))],
    lever_angle: Annotated[
        Radians,
        Input(
            "Angle of the lever above level", r"\theta", "°", above=-math.pi / 2, below=math.pi / 2, typical=(-0.7, 0.7)
        ),
    ] = 0.0,
    torque: Annotated[
        NewtonMetres,
        Input(
            "Torque in the bar now",
            "T",
            "N·m",
            typical=(0, 3000),
            help="Vertical force at the lever end times its level reach.",
        ),
    ] = 0.0,
    shear_modulus: ShearModulus = STEEL_SHEAR,
    shear_yield: Annotated[
        Pascals | None, Input("Shear stress allowed", r"\tau_{zul}", "MPa", above=0, typical=(400e6, 1000e6))
    ] = None,
) -> TorsionBarSpring:
    """Return the torsional rate of a bar, the rate at the end of its lever, and the shear stress.

    Equation: k_theta = G J / L;  k = k_theta / (l cos th)^2 + T sin th / (l^2 cos^3 th);  tau = T d_o / (2 J).
    Signs: the angle is positive where the lever end stands above the bar's axis; the torque where it pushes that end down.
    Valid for: a straight round bar, solid or hollow, twisted within its elastic range; splines and anchors rigid.
    Caution: a bar scratched, rusted or preset the wrong way round breaks: keep left and right apart.
    Source: torsion of round bars; the term of the angle by differentiation of the vertical force.

    >>> bar = torsion_bar_spring(outer_diameter=0.024, inner_diameter=0.012, twisted_length=0.95, lever=0.28, torque=400, shear_modulus=79.3e9)
    >>> round(bar.lever_rate, 1), round(bar.shear_stress / 1e6, 2)
    (32512.4, 157.19)
    """
    require_hollow(outer_diameter, inner_diameter)
    polar = polar_moment(outer_diameter, inner_diameter)
    torsional = shear_modulus * polar / twisted_length
    stress = abs(torque) * outer_diameter / (2 * polar)
    rate = lever_rate(torsional, lever, lever_angle, torque)
    flags = []
    if shear_yield is not None and stress > shear_yield:
        flags.append(f"The shear stress is above the {quantity(shear_yield, 'MPa')} allowed.")
    if rate <= 0:
        flags.append("The rate has fallen to nothing or below: at this angle and torque the lever snaps through.")
    return TorsionBarSpring(rate, torsional, stress, torque / torsional, torsional / lever**2, polar, tuple(flags))

"""Convection of a disc: its faces and its vents, by the usual correlations, with a floor for a standing car."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.brakes.care import with_care
from calc.brakes.heat.terms import STILL_AIR
from calc.figures.spec import Axis, Band, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.units import (
    Metres,
    MetresPerSecond,
    Ratio,
    SquareMetresPerSecond,
    WattsPerMetreKelvin,
    WattsPerSquareMetreKelvin,
)

_FACE_SWITCH = 2.4e5
_VENT_SWITCH = 1e4
BAND = 0.3  # uncertainty of such a coefficient on a car


def face_coefficient(reynolds: float, conductivity: float, diameter: float) -> float:
    """Return the coefficient of a face: 0.70 (k/D) Re^0.55, above Re 2.4e5 0.040 (k/D) Re^0.8; the published pair jumps there.

    >>> round(face_coefficient(210000, 0.026, 0.28), 3)
    54.971
    """
    if reynolds <= _FACE_SWITCH:
        return float(0.70 * conductivity / diameter * reynolds**0.55)
    return float(0.040 * conductivity / diameter * reynolds**0.8)


def vent_coefficient(reynolds: float, prandtl: float, conductivity: float, hydraulic: float, length: float) -> float:
    """Return the coefficient in a vent.

    >>> round(vent_coefficient(6562.5, 0.71, 0.026, 0.014, 0.065), 3)
    34.761
    """
    shape = hydraulic / length
    if reynolds > _VENT_SWITCH:
        return float(0.023 * (1 + shape**0.67) * reynolds**0.8 * prandtl**0.33 * conductivity / hydraulic)
    return float(1.86 * (reynolds * prandtl) ** (1 / 3) * shape**0.33 * conductivity / hydraulic)


class Convection(NamedTuple):
    """Coefficients of faces and vents, with the band they deserve."""

    face: Annotated[WattsPerSquareMetreKelvin, Output("Coefficient of the faces", "h", "W/(m²·K)")]
    vent: Annotated[WattsPerSquareMetreKelvin | None, Output("Coefficient in the vents", "h_v", "W/(m²·K)")]
    face_low: Annotated[WattsPerSquareMetreKelvin, Output("Faces, shrouded by the wheel", "", "W/(m²·K)", 3)]
    face_regime: Annotated[Literal["still air", "laminar", "turbulent"], Output("Flow over the faces", "")]
    vent_regime: Annotated[Literal["none", "laminar", "turbulent"], Output("Flow in the vents", "")]
    face_reynolds: Annotated[Ratio, Output("Reynolds number of the faces", "Re", "", detail=True)]
    vent_reynolds: Annotated[Ratio | None, Output("Reynolds number in the vents", "Re_v", "", detail=True)]
    flags: tuple[str, ...]


def _remarks(result: Convection, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            "Take 30 % either way: wheel and shroud cut it by 20 to 50 %, and measured vents grow almost in step with rotor speed.",
            about="face",
        ),
    )


def _figures(result: Convection, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    size = inputs["diameter"]
    speeds = [90 * i / 30 for i in range(31)]
    faces = [
        max(STILL_AIR, face_coefficient(v * size / inputs["viscosity"], inputs["air_conductivity"], size))
        for v in speeds
    ]
    return (
        Chart(
            "Convection of the faces over speed",
            "The published pair of formulas jumps where the flow turns turbulent; the shaded band is 30 % either way.",
            Axis("Speed", "km/h"),
            Axis("Coefficient", "W/(m²·K)"),
            (Series("Faces", speeds, faces), Series("Here", [inputs["speed"]], [result.face], points=True)),
            (Band("30 % either way", speeds, [(1 - BAND) * h for h in faces], [(1 + BAND) * h for h in faces]),),
        ),
    )


@calculator(
    title="Convection of a brake disc",
    question="How well does air cool a disc at this speed?",
    example={
        "speed": "160 km/h",
        "diameter": "300 mm",
        "vent_speed": "14 m/s",
        "vent_diameter": "14 mm",
        "vent_length": "65 mm",
    },
    working=(
        Step(r"Re = \frac{v \, D}{\nu}", "face_reynolds"),
        Step(
            r"h = 0.040 \, \frac{k}{D} \, Re^{0.8} \;\; (Re > 2.4 \cdot 10^5), \quad 0.70 \, \frac{k}{D} \, Re^{0.55}",
            "face",
        ),
        Step(
            r"h_v = 0.023 \left[1 + (d_h/l)^{0.67}\right] Re_v^{0.8} \, Pr^{0.33} \, \frac{k}{d_h} \;\; (Re_v > 10^4)",
            "vent",
        ),
    ),
    remarks=with_care(_remarks),
    figures=_figures,
)
def disc_convection(
    *,
    speed: Annotated[MetresPerSecond, Input("Speed of the car", "v", "km/h", at_least=0, at_most=200)],
    diameter: Annotated[Metres, Input("Diameter of the disc", "D", "mm", above=0, at_most=1, typical=(0.2, 0.42))],
    vent_speed: Annotated[
        MetresPerSecond | None,
        Input(
            "Speed of the air in the vents",
            "v_v",
            "m/s",
            at_least=0,
            at_most=200,
            help="Radial vanes: about 0.2 to 0.4 of the speed of the rim.",
        ),
    ] = None,
    vent_diameter: Annotated[
        Metres, Input("Hydraulic diameter of a vent", "d_h", "mm", above=0, at_most=0.2, typical=(0.006, 0.025))
    ] = 0.014,
    vent_length: Annotated[
        Metres, Input("Length of a vent", "l", "mm", above=0, at_most=0.5, typical=(0.03, 0.12))
    ] = 0.065,
    viscosity: Annotated[
        SquareMetresPerSecond,
        Input("Kinematic viscosity of the air", r"\nu", "mm²/s", above=0, at_most=1e-2, typical=(1.3e-5, 4e-5)),
    ] = 1.6e-5,
    air_conductivity: Annotated[
        WattsPerMetreKelvin,
        Input("Heat conductivity of the air", "k", "W/(m·K)", above=0, at_most=1, typical=(0.022, 0.045)),
    ] = 0.026,
    prandtl: Annotated[
        Ratio, Input("Prandtl number of the air", "Pr", "", above=0, at_most=100, typical=(0.68, 0.73))
    ] = 0.71,
) -> Convection:
    """Return the convection coefficients of a disc's faces and vents.

    Equation: faces: 0.70 (k/D) Re^0.55 up to Re 2.4e5, 0.040 (k/D) Re^0.8 above, Re = v D/nu;
    vents: 0.023 [1 + (d/l)^0.67] Re^0.8 Pr^0.33 k/d above Re 1e4, 1.86 (Re Pr)^(1/3) (d/l)^0.33 k/d below.
    Valid for: a disc in free air; at a standstill natural convection of 3 to 5 W/(m² K) remains, never nothing.
    Caution: the published pair jumps by 26 % at Re 2.4e5; it is not smoothed here.
    Source: R. Limpert, Brake Design and Safety, 1999 (from memory); floor: Topouris et al. 2020 (looked up); vents measured:
    McPhee and Johnson 2008 (looked up).

    >>> round(disc_convection(speed=45, diameter=0.33).face, 3)
    187.329
    """
    reynolds = speed * diameter / viscosity
    face = face_coefficient(reynolds, air_conductivity, diameter)
    still = face < STILL_AIR
    vent = vent_reynolds = None
    if vent_speed is not None:
        vent_reynolds = vent_speed * vent_diameter / viscosity
        vent = max(STILL_AIR, vent_coefficient(vent_reynolds, prandtl, air_conductivity, vent_diameter, vent_length))
    flags = ("At this speed natural convection is what remains.",) if still else ()
    return Convection(
        face=max(STILL_AIR, face),
        vent=vent,
        face_low=max(STILL_AIR, (1 - BAND) * face),
        face_regime="still air" if still else "laminar" if reynolds <= _FACE_SWITCH else "turbulent",
        vent_regime="none" if vent_reynolds is None else "turbulent" if vent_reynolds > _VENT_SWITCH else "laminar",
        face_reynolds=reynolds,
        vent_reynolds=vent_reynolds,
        flags=flags,
    )

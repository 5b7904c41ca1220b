"""How rough a road is: the classes of ISO 8608, and what they mean at a speed."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Choice, Output, Remark, Step, calculator
from calc.springs.road.words import Speed
from calc.units import CubicMetres, MetresPerSecond, Ratio, SquareMetresPerSecond

Grade = Literal["A", "B", "C", "D", "E", "F", "G", "H"]
GRADES: tuple[Grade, ...] = ("A", "B", "C", "D", "E", "F", "G", "H")
GRADE_WORDS = {
    "A": "A, a very good road or a race track",
    "B": "B, a good road",
    "C": "C, an average or patched road",
    "D": "D, a poor road",
    "E": "E, a very poor road or a rough track",
    "F": "F, off the road",
    "G": "G, off the road, rough",
    "H": "H, off the road, very rough",
}
REFERENCE = 0.1  # cycles per metre
_FIRST = 16e-6  # m3, geometric mean of class A; each class is four times the one before (ISO 8608, from memory)


def roughness(grade: Grade) -> float:
    """Return the geometric mean of the displacement density of a class at 0.1 cycles per metre, in m3.

    >>> [round(roughness(grade) * 1e6) for grade in GRADES[:5]]
    [16, 64, 256, 1024, 4096]
    """
    return _FIRST * 4.0 ** GRADES.index(grade)


def grade_of(density: float) -> Grade:
    """Return the class a displacement density at 0.1 cycles per metre falls into; the limits lie at half and double the mean.

    >>> grade_of(31e-6), grade_of(33e-6), grade_of(1e-6)
    ('A', 'B', 'A')
    """
    return next((grade for grade in GRADES if density <= 2 * roughness(grade)), "H")


def velocity_density(density: float, speed: float) -> float:
    """Return the density of the road's vertical speed at the wheel, one-sided in Hz, m2/s: the same at every frequency.

    >>> round(velocity_density(256e-6, 20.0), 8)
    0.00202129
    """
    return 4 * math.pi**2 * density * REFERENCE**2 * speed


class RoadRoughness(NamedTuple):
    """A road in numbers. Densities at 0.1 cycles per metre."""

    density: Annotated[CubicMetres, Output("Displacement density at 0.1 cycles/m", "G_d", "cm³")]
    low: Annotated[CubicMetres, Output("Lower limit of the class", "", "cm³")]
    high: Annotated[CubicMetres, Output("Upper limit of the class", "", "cm³")]
    velocity_density: Annotated[
        SquareMetresPerSecond, Output("Density of the vertical speed at the wheel", "S_v", "m²/s", 4)
    ]
    rms_velocity: Annotated[
        MetresPerSecond, Output("RMS vertical speed of the road, 0.1 to 50 Hz", "v_{rms}", "mm/s", 3)
    ]
    waves: Annotated[Ratio, Output("Density at one cycle per metre, over that at 0.1", "", "", 3, detail=True)]


def _remarks(result: RoadRoughness, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            "Densities are one-sided and per cycle, not per radian: mixing them up costs a factor of 2 or 2π.",
            "caution",
            "density",
        ),
        Remark("Race tracks are about class A or better, plus kerbs (common practice, no source).", about="density"),
    )


def _figures(result: RoadRoughness, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    waves = [0.05 * 40 ** (i / 30) for i in range(31)]
    here = GRADES.index(inputs["grade"])
    near = GRADES[max(0, here - 1) : here + 2]
    series = tuple(
        Series(f"Class {g}", waves, [math.log10(roughness(g) * (n / REFERENCE) ** -2 * 1e6) for n in waves])
        for g in near
    )
    text = "On a scale of powers of ten each class stands a factor of four above the last; all fall with the square of the wave number."
    return (
        Chart(
            "Displacement density of the road",
            text,
            Axis("Waves per metre", "1/m"),
            Axis("Power of ten of the density, cm³", ""),
            series,
        ),
    )


@calculator(
    title="Road roughness by class",
    question="How rough is a road of this class at this speed?",
    example={"grade": "B", "speed": "90 km/h"},
    working=(Step(r"S_v = 4 \pi^2 \, G_d \, n_0^2 \, V", "velocity_density"),),
    remarks=_remarks,
    figures=_figures,
)
def road_roughness(
    *, grade: Annotated[Grade, Choice("Class of the road (ISO 8608)", GRADE_WORDS)], speed: Speed
) -> RoadRoughness:
    """Return the roughness of a class of road, its limits, and the vertical speed it gives the wheel.

    Equation: G_d(n) = G_d(n_0) (n / n_0)^-2, n_0 = 0.1 cycles/m; one-sided density of the vertical speed S_v = 4 pi^2 G_d(n_0) n_0^2 V.
    Valid for: roads without single obstacles; kerbs, joints and jumps are bumps of their own.
    Source: ISO 8608 (from memory); class A for good roads, B and C of lower quality, after Mucka, J. Test. Eval. 46 (2018) 405 (abstract).

    >>> round(road_roughness(grade="C", speed=20).density * 1e6)
    256
    """
    density = roughness(grade)
    spread = velocity_density(density, speed)
    return RoadRoughness(
        density, density / 2, density * 2, spread, math.sqrt(spread * (50.0 - 0.1)), (1.0 / REFERENCE) ** -2
    )

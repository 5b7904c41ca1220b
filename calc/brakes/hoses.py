"""What flexible hoses cost in stroke."""

from typing import Annotated, NamedTuple

from calc.brakes.care import with_care
from calc.brakes.circuit import HoseGive, HoseLength, Pressure
from calc.brakes.cylinders import bore_area
from calc.brakes.terms import bore
from calc.form import Input, Output, Step, calculator
from calc.units import CubicMetres, Metres, SquareMetresPerPascal


class HoseExpansion(NamedTuple):
    """What a hose takes, and the stroke it costs."""

    volume: Annotated[CubicMetres, Output("Fluid the hose takes", "V_h", "cm³")]
    master_stroke: Annotated[Metres, Output("Stroke it costs", "x", "mm")]
    volume_other: Annotated[CubicMetres | None, Output("Fluid the other hose takes", "V_2", "cm³")]
    stroke_saved: Annotated[Metres | None, Output("Stroke the other hose saves", r"\Delta x", "mm")]


@calculator(
    title="Expansion of brake hose",
    question="How much stroke do the flexible hoses cost, and what would stiffer ones save?",
    example={
        "length": "1.3 m",
        "hose_give": "0.025 cm³/(m·bar)",
        "other_give": "0.0025 cm³/(m·bar)",
        "line_pressure": "70 bar",
        "bore": "19.05 mm",
    },
    working=(Step(r"V_h = L_h \, e_h \, p", "volume"), Step(r"x = \frac{V_h}{A}", "master_stroke")),
    remarks=with_care(),
)
def hose_expansion(
    *,
    length: HoseLength,
    hose_give: HoseGive,
    other_give: Annotated[
        SquareMetresPerPascal | None, Input("Expansion of another hose", "e_2", "cm³/(m·bar)", at_least=0, at_most=1e-9)
    ] = None,
    line_pressure: Pressure,
    bore: Annotated[Metres, bore("Bore of the master cylinder", "d")],
) -> HoseExpansion:
    """Return the fluid that flexible hoses take and the stroke it costs.

    Equation: V = L e p;  x = V/A.
    Valid for: steady pressure; a hose swells more when hot and old.
    Caution: replace hoses that show cracks or swelling; a hose must not rub, twist or pull tight at full lock and full droop.
    Source: FMVSS 106, table I, limits for 1/8 in hose at 1500 psi: 0.79 regular, 0.42 low expansion, cm³/ft (from memory).

    >>> round(hose_expansion(length=0.6096, hose_give=2.506120e-13, line_pressure=10342135.5, bore=0.01905).volume * 1e6, 2)
    1.58
    """
    area = bore_area(bore)
    volume = length * hose_give * line_pressure
    other = None if other_give is None else length * other_give * line_pressure
    return HoseExpansion(volume, volume / area, other, None if other is None else (volume - other) / area)

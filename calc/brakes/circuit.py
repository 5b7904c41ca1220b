"""One hydraulic circuit: where its fluid goes, and the stroke that takes."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.brakes.care import with_care
from calc.brakes.cylinders import bore_area
from calc.brakes.terms import PedalRatio, bore, pistons, pressure
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.units import CubicMetres, CubicMetresPerPascal, Metres, Pascals, Ratio, SquareMetres, SquareMetresPerPascal

ATMOSPHERE = 101325.0  # Pa, standard

Calipers = Annotated[int, Input("Calipers in the circuit", "n", at_least=1, at_most=8)]
OneSideArea = Annotated[SquareMetres, pistons("Piston area on one side of a caliper", "A_1")]
Clearance = Annotated[Metres, Input("Clearance at each pad", "c", "mm", at_least=0, at_most=0.01, typical=(5e-5, 3e-4))]
KnockBack = Annotated[
    Metres,
    Input("Knock-back at each pad", "c_k", "mm", at_least=0, at_most=0.01, help="0.05 to 0.5 mm for each event."),
]
Pressure = Annotated[Pascals, pressure("Line pressure", "p")]
CaliperGive = Annotated[
    CubicMetresPerPascal,
    Input("Give of one caliper with its pads", "k_c", "cm³/bar", at_least=0, at_most=1e-10, typical=(2e-14, 5e-13)),
]
HoseLength = Annotated[
    Metres, Input("Length of all flexible hose", "L_h", "m", at_least=0, at_most=50, typical=(0.3, 3))
]
HoseGive = Annotated[
    SquareMetresPerPascal,
    Input(
        "Expansion of the hose",
        "e_h",
        "cm³/(m·bar)",
        at_least=0,
        at_most=1e-9,
        typical=(1e-14, 3e-13),
        help="Rubber 1/8 in about 0.025, braided PTFE 0.001 to 0.003 cm³/(m·bar).",
    ),
]
FluidVolume = Annotated[CubicMetres, Input("Fluid in the circuit", "V_f", "cm³", at_least=0, at_most=1e-2)]
Bulk = Annotated[
    Pascals,
    Input(
        "Bulk modulus of the fluid",
        "K",
        "GPa",
        above=0,
        at_most=1e11,
        typical=(0.5e9, 2.2e9),
        help="1.0 to 2.0 GPa cold, less when hot.",
    ),
]
Air = Annotated[CubicMetres, Input("Air trapped, at rest", "V_0", "cm³", at_least=0, at_most=1e-3, typical=(0, 2e-6))]
CutOff = Annotated[
    Metres, Input("Stroke to close the cut-off", "x_0", "mm", at_least=0, at_most=0.05, typical=(0.0005, 0.0015))
]
Available = Annotated[
    Metres, Input("Full stroke of the cylinder", "x_{max}", "mm", above=0, at_most=0.5, typical=(0.02, 0.045))
]


def air_volume(trapped: float, pressure: float, exponent: float = 1.0, atmosphere: float = ATMOSPHERE) -> float:
    """Return how much trapped air gives way: V_0 [1 - (p_atm/(p_atm + p))^(1/n)].

    >>> round(air_volume(1e-6, 50e5) * 1e6, 3)
    0.98
    """
    kept: float = (atmosphere / (atmosphere + pressure)) ** (1 / exponent)
    return trapped * (1 - kept)


class Volumes(NamedTuple):
    """Where the fluid of one circuit goes, m³."""

    clearance: float
    caliper: float
    hose: float
    fluid: float
    air: float

    @property
    def total(self) -> float:
        """The sum."""
        return math.fsum(self)


def circuit_volumes(
    calipers: int,
    area: float,
    gap: float,
    give: float,
    hose: float,
    hose_give: float,
    fluid: float,
    bulk: float,
    air: float,
    pressure: float,
) -> Volumes:
    """Return the volumes a circuit takes at a pressure; both pads move, so opposed and sliding calipers take the same."""
    return Volumes(
        calipers * 2 * area * gap,
        calipers * give * pressure,
        hose * hose_give * pressure,
        fluid * pressure / bulk,
        air_volume(air, pressure),
    )


class CircuitTravel(NamedTuple):
    """Volumes, strokes and what is left of the stroke."""

    pedal_travel: Annotated[Metres, Output("Pedal travel", "x_p", "mm")]
    master_stroke: Annotated[Metres, Output("Stroke of the master cylinder", "x", "mm")]
    stroke_reserve: Annotated[Ratio, Output("Stroke left", "", "%", 3)]
    total_volume: Annotated[CubicMetres, Output("Fluid moved", "V", "cm³")]
    clearance_volume: Annotated[CubicMetres, Output("of it closing pad clearance", "V_c", "cm³", 3)]
    caliper_volume: Annotated[CubicMetres, Output("of it opening calipers and squeezing pads", "V_k", "cm³", 3)]
    hose_volume: Annotated[CubicMetres, Output("of it swelling hoses", "V_h", "cm³", 3)]
    fluid_volume: Annotated[CubicMetres, Output("of it squeezing the fluid", "V_K", "cm³", 3)]
    air_volume: Annotated[CubicMetres, Output("of it squeezing air", "V_a", "cm³", 3)]
    flags: tuple[str, ...]


LOW_RESERVE = 0.3


def reserve_flags(reserve: float, name: str = "The pedal") -> tuple[str, ...]:
    """Return what a stroke reserve deserves to have said."""
    if reserve < 0:
        return (f"{name} bottoms: the cylinder has not enough stroke for this fluid.",)
    if reserve < LOW_RESERVE:
        return (f"{name} has less than 30 % of the stroke left: little for fade, knock-back or a lost circuit.",)
    return ()


def _remarks(result: CircuitTravel, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    parts = {
        "pad clearance": result.clearance_volume,
        "calipers and pads": result.caliper_volume,
        "hoses": result.hose_volume,
        "the fluid itself": result.fluid_volume,
        "trapped air": result.air_volume,
    }
    most = max(parts, key=lambda part: parts[part])
    if result.total_volume == 0:
        return ()
    return (
        Remark(
            f"Most of the travel goes into {most}, {100 * parts[most] / result.total_volume:.0f} %.",
            about="pedal_travel",
        ),
    )


def _figures(result: CircuitTravel, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    top = max(1.4 * inputs["line_pressure"], 1e5)
    pressures = [top * i / 20 for i in range(21)]
    names = ("calipers", "one_side_area", "caliper_give", "hose_length", "hose_give", "fluid", "bulk_modulus", "air")
    n, area, give, hose, hose_give, fluid, bulk, air = (inputs[name] for name in names)
    gap = inputs["clearance"] + inputs["knock_back"]
    scale = inputs["pedal_ratio"] / bore_area(inputs["bore"])
    travels = [
        scale * circuit_volumes(n, area, gap, give, hose, hose_give, fluid, bulk, air, p).total
        + inputs["pedal_ratio"] * inputs["cut_off"]
        for p in pressures
    ]
    return (
        Chart(
            "Pressure over pedal travel",
            "Travel without pressure while pads close up, then the steep part that the foot feels.",
            Axis("Pedal travel", "mm"),
            Axis("Line pressure", "bar"),
            (
                Series("Pressure", travels, pressures),
                Series("Here", [result.pedal_travel], [inputs["line_pressure"]], points=True),
            ),
        ),
    )


@calculator(
    title="Fluid and stroke of one circuit",
    question="Where does the pedal travel of one circuit go, and how much stroke is left?",
    example={
        "calipers": "2",
        "one_side_area": "22.8 cm²",
        "clearance": "0.15 mm",
        "knock_back": "0.05 mm",
        "line_pressure": "70 bar",
        "caliper_give": "0.006 cm³/bar",
        "hose_length": "0.7 m",
        "hose_give": "0.0025 cm³/(m·bar)",
        "fluid": "45 cm³",
        "bore": "19.05 mm",
        "available_stroke": "30 mm",
        "pedal_ratio": "5.2",
    },
    working=(
        Step(r"V_c = 2 \, n \, A_1 \, (c + c_k)", "clearance_volume"),
        Step(r"V_k = n \, k_c \, p", "caliper_volume"),
        Step(r"V_h = L_h \, e_h \, p", "hose_volume"),
        Step(r"V_K = \frac{V_f \, p}{K}", "fluid_volume"),
        Step(r"x = \frac{V}{A} + x_0", "master_stroke"),
        Step(r"x_p = i \, x", "pedal_travel"),
    ),
    remarks=with_care(_remarks),
    figures=_figures,
)
def circuit_travel(
    *,
    calipers: Calipers = 2,
    one_side_area: OneSideArea,
    clearance: Clearance,
    knock_back: KnockBack = 0.0,
    line_pressure: Pressure,
    caliper_give: CaliperGive,
    hose_length: HoseLength,
    hose_give: HoseGive,
    fluid: FluidVolume,
    bulk_modulus: Bulk = 1.4e9,
    air: Air = 0.0,
    bore: Annotated[Metres, bore("Bore of the master cylinder", "d")],
    cut_off: CutOff = 0.0008,
    available_stroke: Available,
    pedal_ratio: PedalRatio,
) -> CircuitTravel:
    """Return where the fluid of one circuit goes, the stroke and pedal travel it takes, and the reserve.

    Equation: V = n [2 A_1 (c + c_k) + k_c p] + L_h e_h p + V_f p/K + V_0 [1 - p_atm/(p_atm + p)];  x = V/A + x_0;  pedal = x i.
    Valid for: slow application; opposed and sliding calipers alike, since both pads move.
    Caution: a reserve below 0.3 leaves little for fade or knock-back. 1 cm³ of air costs almost 1 cm³ at any pressure: bleed first.
    Source: hydrostatics, derived; fluid stiffness from memory.

    >>> answer = circuit_travel(one_side_area=0.002473760741, clearance=0.00015, knock_back=5e-5, line_pressure=7e6, caliper_give=6e-14,
    ...     hose_length=0.6, hose_give=1.05e-13, fluid=4.5e-5, bore=0.0191, available_stroke=0.03, pedal_ratio=5.2)
    >>> round(answer.pedal_travel * 1e3, 3)
    67.409
    """
    volumes = circuit_volumes(
        calipers,
        one_side_area,
        clearance + knock_back,
        caliper_give,
        hose_length,
        hose_give,
        fluid,
        bulk_modulus,
        air,
        line_pressure,
    )
    stroke = volumes.total / bore_area(bore) + cut_off
    reserve = 1 - stroke / available_stroke
    return CircuitTravel(stroke * pedal_ratio, stroke, reserve, volumes.total, *volumes, reserve_flags(reserve))

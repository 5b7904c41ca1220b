"""Master cylinders: force into pressure, twin cylinders on a bar and a tandem cylinder, and what another bore changes."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.brakes.care import with_care
from calc.brakes.terms import bore
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.units import Metres, Newtons, Pascals, Ratio, SquareMetres

# Bores sold everywhere, in inches and millimetres (common practice, no source).
STANDARD_BORES = (
    0.01588,
    0.01778,
    0.01905,
    0.02064,
    0.02223,
    0.02381,
    0.0254,
)  # m: 5/8, 0.700, 3/4, 13/16, 7/8, 15/16, 1 in


def bore_area(diameter: float) -> float:
    """Return the area of a bore.

    >>> round(bore_area(0.01905) * 1e4, 3)
    2.85
    """
    return math.pi * diameter**2 / 4


def line_pressure(force: float, diameter: float, lost_force: float = 0.0) -> float:
    """Return the pressure behind a piston; return spring and seal take ``lost_force`` first, and pressure is never negative.

    >>> round(line_pressure(1000, 0.01905) / 1e5, 1)
    35.1
    """
    return max(0.0, force - lost_force) / bore_area(diameter)


class CylinderPressures(NamedTuple):
    """Line pressures of the two circuits, and how the pressure is shared."""

    front_pressure: Annotated[Pascals, Output("Front line pressure", "p_f", "bar")]
    rear_pressure: Annotated[Pascals, Output("Rear line pressure", "p_r", "bar")]
    pressure_ratio: Annotated[Ratio | None, Output("Front over rear line pressure", "p_f/p_r", "")]
    front_area: Annotated[SquareMetres, Output("Area of the front cylinder", "A_f", "cm²", detail=True)]
    rear_area: Annotated[SquareMetres, Output("Area of the rear cylinder", "A_r", "cm²", detail=True)]
    flags: tuple[str, ...]


@calculator(
    title="Master cylinder pressures",
    question="What pressure do the two circuits see for a force on the pushrod?",
    example={
        "kind": "twin",
        "rod_force": "2000 N",
        "front_rod_share": "52 %",
        "front_bore": "19.05 mm",
        "rear_bore": "20.64 mm",
        "lost_force": "60 N",
    },
    working=(
        Step(r"A_f = \frac{\pi}{4} \, {d_f}^2", "front_area"),
        Step(r"p_f = \frac{s \, F - F_0}{A_f}", "front_pressure"),
        Step(r"p_r = \frac{(1 - s) \, F - F_0}{A_r}", "rear_pressure"),
    ),
    remarks=with_care(),
)
def cylinder_pressures(
    *,
    kind: Annotated[
        Literal["twin", "tandem"],
        Choice(
            "Cylinders",
            {"twin": "two cylinders on a balance bar", "tandem": "one tandem cylinder (front bore counts)"},
        ),
    ],
    rod_force: Annotated[Newtons, Input("Force on the bar or pushrod", "F", "N", at_least=0, at_most=1e5)],
    front_rod_share: Annotated[
        Ratio, Input("Share of the force on the front cylinder", "s", "%", at_least=0, at_most=1, typical=(0.33, 0.67))
    ] = 0.5,
    front_bore: Annotated[Metres, bore("Bore of the front (or the tandem) master cylinder", "d_f")],
    rear_bore: Annotated[Metres | None, bore("Bore of the rear master cylinder", "d_r")] = None,
    lost_force: Annotated[
        Newtons,
        Input("Force taken by return spring and seal of one cylinder", "F_0", "N", at_least=0, at_most=1e4),
    ] = 0.0,
    spring_offset: Annotated[
        Pascals,
        Input(
            "Pressure lost to the spring of a tandem's second piston",
            "p_0",
            "bar",
            at_least=0,
            at_most=1e6,
            help="0.5 to 2 bar is usual (from memory).",
        ),
    ] = 0.0,
) -> CylinderPressures:
    """Return the line pressures of twin cylinders on a bar, or of a tandem cylinder.

    Equation: twin: p = (share F - F_0) / A, each its own;  tandem: p_1 = (F - F_0) / A, p_2 = p_1 - p_0.
    Valid for: steady force, pistons past their cut-off holes, no fluid lost.
    Caution: a smaller bore gives MORE pressure and a longer pedal. A larger bore on an axle moves the balance away from it.
    Source: hydrostatics; the spring offset of a second piston is from memory.

    >>> answer = cylinder_pressures(kind="twin", rod_force=2000, front_bore=0.01905, rear_bore=0.02064)
    >>> round(answer.pressure_ratio, 4)
    1.1739
    """
    rear = front_bore if kind == "tandem" or rear_bore is None else rear_bore
    if kind == "tandem":
        front_pressure = line_pressure(rod_force, front_bore, lost_force)
        rear_pressure = max(0.0, front_pressure - spring_offset)
    else:
        front_pressure = line_pressure(front_rod_share * rod_force, front_bore, lost_force)
        rear_pressure = line_pressure((1 - front_rod_share) * rod_force, rear, lost_force)
    return CylinderPressures(
        front_pressure,
        rear_pressure,
        front_pressure / rear_pressure if rear_pressure > 0 else None,
        bore_area(front_bore),
        bore_area(rear),
        _pressure_flags(kind, rear_bore, rear_pressure),
    )


def _pressure_flags(kind: str, rear_bore: float | None, rear_pressure: float) -> tuple[str, ...]:
    flags = []
    if kind == "twin" and rear_bore is None:
        flags.append("No rear bore was given: the front bore was used for both cylinders.")
    if rear_pressure == 0:
        flags.append("The rear circuit has no pressure: springs and seals take all of its force.")
    return tuple(flags)


class BoreChange(NamedTuple):
    """What changing one master cylinder does at the same force on it, and for the same pressure."""

    pressure_change: Annotated[Ratio, Output("Change of pressure for the same force", r"\Delta p/p", "%", 3)]
    force_change: Annotated[Ratio, Output("Change of force for the same pressure", r"\Delta F/F", "%", 3)]
    stroke_change: Annotated[Ratio, Output("Change of piston stroke for the same fluid", r"\Delta x/x", "%", 3)]
    old_area: Annotated[SquareMetres, Output("Area of the old bore", "A_1", "cm²", detail=True)]
    new_area: Annotated[SquareMetres, Output("Area of the new bore", "A_2", "cm²", detail=True)]


def _bore_remarks(result: BoreChange, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    if result.pressure_change > 0:
        says = "The smaller bore gives more pressure and a longer pedal: check the stroke that is left."
    elif result.pressure_change < 0:
        says = "The larger bore gives less pressure and a shorter pedal: it takes balance away from its axle."
    else:
        says = "The bores are the same: nothing changes."
    return (Remark(says, about="pressure_change"),)


@calculator(
    title="A master cylinder of another bore",
    question="What does one step in master cylinder bore do to pressure, effort and travel?",
    example={"old_bore": "3/4 in", "new_bore": "13/16 in"},
    working=(
        Step(r"\frac{\Delta p}{p} = \frac{A_1}{A_2} - 1", "pressure_change"),
        Step(r"\frac{\Delta F}{F} = \frac{A_2}{A_1} - 1", "force_change"),
        Step(r"\frac{\Delta x}{x} = \frac{A_1}{A_2} - 1", "stroke_change"),
    ),
    remarks=with_care(_bore_remarks),
)
def bore_change(
    *,
    old_bore: Annotated[Metres, bore("Bore now", "d_1")],
    new_bore: Annotated[Metres, bore("Bore instead", "d_2")],
) -> BoreChange:
    """Return how pressure, force and stroke change with the bore of a master cylinder.

    Equation: dp/p = A_1/A_2 - 1 at the same force;  dx/x = A_1/A_2 - 1 for the same fluid;  dF/F = A_2/A_1 - 1.
    Valid for: the same circuit behind the cylinder; the little extra fluid that more pressure takes is left out.
    Caution: one standard step is 12 to 20 % of pressure. Changing one cylinder of a pair also moves the balance.
    Source: hydrostatics, derived.

    >>> round(bore_change(old_bore=0.01905, new_bore=0.02064).pressure_change, 4)
    -0.1481
    """
    old, new = bore_area(old_bore), bore_area(new_bore)
    return BoreChange(old / new - 1, new / old - 1, old / new - 1, old, new)

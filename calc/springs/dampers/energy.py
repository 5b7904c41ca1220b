"""The energy a damper takes in each stroke, and the damping it is worth."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.springs.dampers.shape import TwoSlopes
from calc.units import Hertz, Joules, Metres, MetresPerSecond, Newtons, NewtonSecondsPerMetre, Watts


class DamperEnergy(NamedTuple):
    """One cycle of sinusoidal stroke."""

    energy: Annotated[Joules, Output("Energy of one cycle", "E", "J")]
    power: Annotated[Watts, Output("Mean power", "P", "W")]
    equivalent: Annotated[NewtonSecondsPerMetre, Output("Linear damping of the same energy", "c_{eq}", "N·s/m")]
    top_speed: Annotated[MetresPerSecond, Output("Greatest damper speed", "V", "mm/s")]
    top_force: Annotated[Newtons, Output("Greatest force", "F", "N")]


def _remarks(result: DamperEnergy, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark("All of it becomes heat in the damper body: too hot to touch after a few laps.", "caution", "power")
    ]
    if inputs["knee"] is not None and result.top_speed <= inputs["knee"]:
        remarks.append(Remark("The stroke stays below the knee: only the first slope is at work.", about="top_speed"))
    return tuple(remarks)


def _curve(inputs: Mapping[str, Any]) -> TwoSlopes:
    first, knee, second = inputs["damping"], inputs["knee"], inputs["high_damping"]
    return TwoSlopes(first, math.inf if knee is None else knee, first if second is None else second)


def _figures(result: DamperEnergy, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    curve, X = _curve(inputs), inputs["amplitude"]
    turns = [2 * math.pi * i / 120 for i in range(121)]
    speeds = [result.top_speed * math.cos(a) for a in turns]
    forces = [math.copysign(curve.force(abs(v)), v) for v in speeds]
    text = "Force against position over one stroke in and out; the area inside is the energy."
    loop = Series("Force", [X * math.sin(a) for a in turns], forces)
    return (Chart("One cycle", text, Axis("Position", "mm"), Axis("Force, compression positive", "N"), (loop,)),)


@calculator(
    title="Energy of a damper stroke",
    question="How much energy does a damper take out of each stroke, and how hot does that make it?",
    example={
        "damping": "6000 N·s/m",
        "knee": "60 mm/s",
        "high_damping": "1800 N·s/m",
        "frequency": "2.2 Hz",
        "amplitude": "20 mm",
    },
    working=(
        Step(r"V = 2 \pi \, f \, X", "top_speed"),
        Step(r"E = \oint F \, dx", "energy"),
        Step(r"P = E \, f", "power"),
        Step(r"c_{eq} = \frac{E}{2 \pi^2 \, f \, X^2}", "equivalent"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def damper_energy(
    *,
    damping: Annotated[
        NewtonSecondsPerMetre,
        Input(
            "Damping, up to the knee",
            "c_1",
            "N·s/m",
            at_least=0,
            typical=(500, 20000),
            help="Mean of bump and rebound, at the damper.",
        ),
    ],
    knee: Annotated[
        MetresPerSecond | None, Input("Speed of the knee", "v_k", "mm/s", above=0, help="Empty for a linear damper.")
    ] = None,
    high_damping: Annotated[
        NewtonSecondsPerMetre | None,
        Input("Slope beyond the knee", "c_2", "N·s/m", at_least=0, help="Empty for a linear damper."),
    ] = None,
    frequency: Annotated[Hertz, Input("Frequency of the stroke", "f", "Hz", above=0, typical=(0.5, 15))],
    amplitude: Annotated[Metres, Input("Amplitude, half of the stroke", "X", "mm", above=0, typical=(0.001, 0.05))],
) -> DamperEnergy:
    """Return the energy, mean power and equivalent linear damping of a damper over a sinusoidal stroke.

    Equation: linear E = pi c omega X^2; with a knee, the loop integral of F dx in closed form on both sides of it; c_eq = E / (pi omega X^2).
    Valid for: a sinusoidal stroke; a curve of two straight lines from zero, the same in and out; friction and gas left out.
    Source: work of a viscous damper, as in any vibration text; the two-line form is derived and integrated independently in the tests.

    >>> answer = damper_energy(damping=1800, frequency=2, amplitude=0.02)
    >>> round(answer.energy, 6), round(answer.power, 4)
    (28.424461, 56.8489)
    """
    curve = _curve(locals())
    omega = 2 * math.pi * frequency
    top = omega * amplitude
    energy = curve.energy(top, amplitude)
    return DamperEnergy(energy, energy * frequency, energy / (math.pi * omega * amplitude**2), top, curve.force(top))

"""A spring inside another, or a second spring that joins after a gap."""

from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.units import Metres, Newtons, NewtonsPerMetre


class NestedSprings(NamedTuple):
    """How two springs side by side share a force."""

    deflection: Annotated[Metres, Output("Compression", "s", "mm")]
    first_force: Annotated[Newtons, Output("Force in the first spring", "F_1", "N")]
    second_force: Annotated[Newtons, Output("Force in the second spring", "F_2", "N")]
    rate: Annotated[NewtonsPerMetre, Output("Rate at this force", "R", "N/mm")]
    joint_rate: Annotated[NewtonsPerMetre, Output("Rate with both at work", "R_{12}", "N/mm", detail=True)]
    touch_force: Annotated[Newtons, Output("Force at which the second joins", "F_g", "N", detail=True)]


def _remarks(result: NestedSprings, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    if inputs["gap"] == 0:
        return (
            Remark(
                "Wind the two in opposite directions, so that their coils cannot climb into each other.", about="rate"
            ),
        )
    if inputs["force"] < result.touch_force:
        return (Remark("The second spring does not touch yet.", about="second_force"),)
    return (
        Remark(
            f"The rate jumps to {result.joint_rate / inputs['first_rate']:.2f} times the first spring's at the gap.",
            about="rate",
        ),
    )


def _figures(result: NestedSprings, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    top = max(1.4 * result.deflection, 1.5 * inputs["gap"], 1e-3)
    travel = sorted({inputs["gap"], *(top * i / 20 for i in range(21))})
    force = [inputs["first_rate"] * x + inputs["second_rate"] * max(0.0, x - inputs["gap"]) for x in travel]
    text = "The force rises along the first spring, then more steeply once the second has joined."
    series = (
        Series("Both together", travel, force),
        Series("Here", [result.deflection], [inputs["force"]], points=True),
    )
    return (Chart("Force against compression", text, Axis("Compression", "mm"), Axis("Force", "N"), series),)


@calculator(
    title="Springs side by side, at once or after a gap",
    question="How do two springs, or a spring and a second one after a gap, share the load?",
    example={"first_rate": "75 N/mm", "second_rate": "40 N/mm", "gap": "20 mm", "force": "2930 N"},
    working=(
        Step(r"F_g = R_1 \, g", "touch_force"),
        Step(r"s = \frac{F + R_2 \, g}{R_1 + R_2}", "deflection"),
        Step(r"F_1 = R_1 \, s", "first_force"),
        Step(r"F_2 = R_2 \, (s - g)", "second_force"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def nested_springs(
    *,
    first_rate: Annotated[
        NewtonsPerMetre, Input("Rate of the first spring", "R_1", "N/mm", above=0, typical=(5e3, 250e3))
    ],
    second_rate: Annotated[
        NewtonsPerMetre, Input("Rate of the second spring", "R_2", "N/mm", above=0, typical=(5e3, 500e3))
    ],
    gap: Annotated[Metres, Input("Gap before the second joins", "g", "mm", at_least=0, typical=(0, 0.1))] = 0.0,
    force: Annotated[Newtons, Input("Force on both together", "F", "N", at_least=0, typical=(0, 15000))],
) -> NestedSprings:
    """Return how a force is shared between two springs side by side.

    Equation: F = R1 s + R2 max(0, s - g).
    Valid for: linear springs on common seats; below the gap the first carries everything, and the working's line for s does not apply.
    Source: springs in parallel; statics.

    >>> answer = nested_springs(first_rate=24837.0, second_rate=13246.4, force=2000)
    >>> round(answer.first_force, 1)
    1304.3
    """
    touch = first_rate * gap
    joint = first_rate + second_rate
    travel = force / first_rate if force <= touch else (force + second_rate * gap) / joint
    second = second_rate * max(0.0, travel - gap)
    return NestedSprings(travel, force - second, second, first_rate if force < touch else joint, joint, touch)

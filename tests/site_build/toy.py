"""A calculator with every kind of input and result, so that the pages' tests do not hang on the real ones."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.units import Kilograms, Metres, Newtons, Ratio

COLOURS = {name: f"a {name} one" for name in ("red", "green", "blue", "white", "black", "grey")}


class Hole(NamedTuple):
    """A hole in the lever."""

    name: str
    distance: Annotated[Metres, Input("Distance", "d", "mm", above=0)]
    used: bool = True


class Moved(NamedTuple):
    """What comes out."""

    lifted: Annotated[Newtons, Output("Force at the short end", "F_2", "N")]
    verdict: Annotated[str, Output("Verdict")]
    mass: Annotated[Kilograms | None, Output("Mass it holds", "m", "kg")]
    ratio: Annotated[Ratio, Output("Ratio", "r", detail=True)]
    steps: Annotated[tuple[Newtons, ...], Output("Force at each hole", "F_i", "N")]


def _remarks(result: Moved, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (Remark("Mind your fingers & toes.", "caution"), Remark("As expected.", about="lifted"))


def _figures(result: Moved, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    series = (Series("Force", [1.0, 2.0], [10.0, 20.0]),)
    return (Chart("Force <along>", "It grows.", Axis("Arm", "mm"), Axis("Force", "N"), series),)


@calculator(
    title="Lever",
    question="What comes out at the other end?",
    example={"force": "100 N", "arm": "300 mm"},
    working=(Step(r"r = \frac{a}{0.1}", "ratio"), Step(r"F_2 = r \, F_1 \cos 0 + b", "lifted")),
    remarks=_remarks,
    figures=_figures,
)
def lever(
    *,
    force: Annotated[Newtons, Input("Force at the hand", "F_1", "N", above=0, typical=(10, 500), help="By feel.")],
    arm: Annotated[Metres, Input("Long arm", "a", "mm", above=0, at_most=2)],
    offset: Annotated[Newtons, Input("Force already there", "b", "N")] = -5.0,
    held: Annotated[Kilograms, Input("Mass on it", "m_0", "kg", at_least=0)] | None = None,
    turns: Annotated[int, Input("Turns", at_least=1)] = 2,
    side: Annotated[Literal["push", "pull"], Choice("Direction", {"push": "pushed", "pull": "pulled"})] = "push",
    colour: Annotated[Literal["red", "green", "blue", "white", "black", "grey"], Choice("Colour", COLOURS)] = "blue",
    wet: Annotated[bool, Input("It is wet")] = False,
    note: Annotated[str, Input("Note")] = "none",
    holes: Annotated[tuple[Hole, ...], Input("Holes", help="From the pivot.")] = (
        Hole("near", 0.1),
        Hole("far", 0.2, False),
    ),
) -> Moved:
    """Return what a lever does.

    Equation: F_2 = r F_1 + b.
    Valid for: small angles.
    Source: from memory.
    """
    ratio = arm / 0.1
    mass = None if held is None else held * ratio
    return Moved(ratio * force + offset, "it lifts", mass, ratio, tuple(force * hole.distance for hole in holes))

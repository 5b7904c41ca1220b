"""Springs on top of each other: main, tender and helper, and the step where one of them blocks."""

from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.springs.words import StaticSpringForce
from calc.units import Metres, Newtons, NewtonsPerMetre

_SOFT = 10e3  # N/m: below this a spring only keeps the seats together


class InSeries(NamedTuple):
    """One spring of the stack."""

    rate: Annotated[NewtonsPerMetre, Input("Rate", "R", "N/mm", above=0)]
    block_travel: Annotated[
        Metres | None, Input("Travel until it blocks", "s_b", "mm", above=0, help="Empty if it never blocks.")
    ] = None


class Stack(NamedTuple):
    """Springs in series. Each gives way until its own block force."""

    springs: tuple[InSeries, ...]

    def block_forces(self) -> tuple[float, ...]:
        """Return the forces at which one spring after the other blocks, rising."""
        return tuple(
            sorted(spring.rate * spring.block_travel for spring in self.springs if spring.block_travel is not None)
        )

    def travel(self, force: float) -> float:
        """Return the compression of the whole stack at a force.

        >>> round(Stack((InSeries(60e3), InSeries(25e3, 0.040))).travel(2200), 6)
        0.076667
        """
        return sum(
            force / s.rate if s.block_travel is None else min(force / s.rate, s.block_travel) for s in self.springs
        )

    def rate(self, force: float) -> float | None:
        """Return the rate just above a force, or none where every spring is blocked."""
        soft = sum(
            1 / s.rate for s in self.springs if s.block_travel is None or s.rate * s.block_travel > force * (1 + 1e-12)
        )
        return 1 / soft if soft > 0 else None

    def solid_travel(self) -> float | None:
        """Return the travel at which every spring is blocked, or none where one never blocks."""
        travels = [spring.block_travel for spring in self.springs]
        return None if None in travels else sum(travel for travel in travels if travel is not None)

    def force(self, travel: float) -> float:
        """Return the force at a compression of the whole stack, up to where every spring is blocked."""
        done, start = 0.0, 0.0
        for block in self.block_forces():
            there = self.travel(block)
            rate = self.rate(start)
            if travel <= there or rate is None:
                break
            done, start = there, block
        rate = self.rate(start)
        return start if rate is None else start + rate * max(0.0, travel - done)


class SeriesSprings(NamedTuple):
    """The stack before and after its first step, and at ride height. None where it has no step."""

    rate_before: Annotated[NewtonsPerMetre, Output("Rate before the first block", "R_1", "N/mm")]
    rate_after: Annotated[NewtonsPerMetre | None, Output("Rate after it", "R_2", "N/mm")]
    block_force: Annotated[Newtons | None, Output("Force at the first block", "F_b", "N")]
    block_travel: Annotated[Metres | None, Output("Compression at the first block", "s_b", "mm")]
    static_rate: Annotated[NewtonsPerMetre | None, Output("Rate at ride height", "R_s", "N/mm")]
    static_travel: Annotated[Metres, Output("Compression at ride height", "s_s", "mm")]
    to_step: Annotated[Metres | None, Output("Bump travel at the spring to the next step", r"\Delta s", "mm", 3)]
    block_forces: Annotated[
        tuple[Newtons, ...], Output("Forces at which one after the other blocks", "", "N", detail=True)
    ]
    flags: tuple[str, ...]


def _remarks(result: SeriesSprings, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    force, remarks = inputs["static_force"], []
    if result.block_force is not None and result.block_force <= force:
        remarks.append(
            Remark("A spring is blocked already at ride height: its step is felt in droop only.", about="block_force")
        )
    if result.to_step is not None:
        solid = Stack(inputs["springs"]).solid_travel()
        at_end = solid is not None and result.static_travel + result.to_step >= solid * (1 - 1e-12)
        what = "Coil bind of the whole stack comes" if at_end else "The rate steps up"
        text = f"{what} {quantity(result.to_step, 'mm', 3)} into bump at the spring: divide by the motion ratio for the wheel."
        remarks.append(Remark(text, "caution" if at_end else "note", "to_step"))
    if any(spring.rate < _SOFT for spring in inputs["springs"]):
        remarks.append(
            Remark(
                "The softest of these is a helper: it keeps the seats together at full droop and adds almost nothing else.",
                about="rate_before",
            )
        )
    return tuple(remarks)


def _figures(result: SeriesSprings, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    stack = Stack(inputs["springs"])
    force = inputs["static_force"]
    blocks = stack.block_forces()
    top = max(2 * force, 1.6 * max(blocks, default=0.0), 100.0)
    if stack.solid_travel() is not None:
        top = blocks[-1]
    steps = sorted({0.0, top, *(top * i / 12 for i in range(13)), *(block for block in blocks if block < top)})
    series = [Series("Force", [stack.travel(F) for F in steps], steps)]
    if force <= top:
        series.append(Series("Ride height", [result.static_travel], [force], points=True))
    text = "Straight lines that grow steeper at each block."
    return (
        Chart(
            "Force against compression of the stack", text, Axis("Compression", "mm"), Axis("Force", "N"), tuple(series)
        ),
    )


@calculator(
    title="Springs in series: main, tender, helper",
    question="What rate has the stack, and where does it step?",
    example={"springs": [["75 N/mm", "95 mm"], ["40 N/mm", "45 mm"]], "static_force": "2930 N"},
    working=(
        Step(r"\frac{1}{R_1} = \sum \frac{1}{R_i}", "rate_before"),
        Step(r"F_b = \min R_i \, s_{b,i}", "block_force"),
        Step(r"s_b = \sum \frac{F_b}{R_i}", "block_travel"),
        Step(r"\Delta s = (F_b - F_s) \sum \frac{1}{R_i}", "to_step"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def series_springs(
    *,
    springs: Annotated[tuple[InSeries, ...], Input("Springs of the stack", help="Main first, then tender or helper.")],
    static_force: StaticSpringForce,
) -> SeriesSprings:
    """Return rates, block forces and travels of springs in series.

    Equation: before a block 1/R = sum 1/R_i; a spring blocks at F_b = R_i s_i and drops out of the sum.
    Valid for: linear springs that share one force, a seat between them that slides freely.
    Caution: the main spring must not block first, and a tender is strong enough only if its maker says it may be blocked.
    Source: springs in series; statics.

    >>> answer = series_springs(springs=(InSeries(60e3), InSeries(25e3, 0.040)), static_force=800)
    >>> round(answer.rate_before), round(answer.block_force), round(answer.block_travel, 4)
    (17647, 1000, 0.0567)
    """
    stack = Stack(springs)
    blocks = stack.block_forces()
    first = blocks[0] if blocks else None
    ahead = next((block for block in blocks if block > static_force), None)
    before = stack.rate(0.0)
    return SeriesSprings(
        rate_before=0.0 if before is None else before,
        rate_after=None if first is None else stack.rate(first),
        block_force=first,
        block_travel=None if first is None else stack.travel(first),
        static_rate=stack.rate(static_force),
        static_travel=stack.travel(static_force),
        to_step=None if ahead is None else stack.travel(ahead) - stack.travel(static_force),
        block_forces=blocks,
        flags=_flags(stack, static_force),
    )


def _flags(stack: Stack, static_force: float) -> tuple[str, ...]:
    flags = []
    stiffest = max(stack.springs, key=lambda spring: spring.rate)
    blocks = stack.block_forces()
    if (
        len(stack.springs) > 1
        and stiffest.block_travel is not None
        and stiffest.rate * stiffest.block_travel <= blocks[0]
    ):
        flags.append(
            "The stiffest spring blocks first: the stack then rides on the soft one. Choose a tender that blocks earlier or a main with more travel."
        )
    if stack.solid_travel() is not None and static_force >= blocks[-1]:
        flags.append("At ride height every spring is blocked: coil bind, there is no spring left.")
    return tuple(flags)

"""A damper with an adjuster: force between measured speeds and clicks."""

from bisect import bisect_left
from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.display import number, quantity
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.springs.tables import require_rising
from calc.units import MetresPerSecond, Newtons, NewtonSecondsPerMetre, Ratio


class Measured(NamedTuple):
    """One point of the table: click, speed and force."""

    click: Annotated[Ratio, Input("Click", "n", "", at_least=0)]
    speed: Annotated[MetresPerSecond, Input("Speed", "v", "mm/s", above=0)]
    force: Annotated[Newtons, Input("Force", "F", "N", at_least=0)]


class ClickForce(NamedTuple):
    """Force and damping at one speed and click."""

    force: Annotated[Newtons, Output("Force", "F", "N")]
    damping: Annotated[NewtonSecondsPerMetre, Output("Force over speed", "c", "N·s/m")]
    for_each_click: Annotated[Newtons | None, Output("Change of the force for one click", r"\Delta F", "N", 3)]
    lower_click: Annotated[Ratio, Output("Measured click below", "n_a", detail=True)]
    upper_click: Annotated[Ratio, Output("Measured click above", "n_b", detail=True)]
    lower_force: Annotated[Newtons, Output("Force at the click below", "F_a", "N", detail=True)]
    upper_force: Annotated[Newtons, Output("Force at the click above", "F_b", "N", detail=True)]


Counted = Annotated[
    Literal["closed", "open"],
    Choice(
        "Clicks are counted from",
        {"closed": "full closed: a higher click is softer", "open": "full open: a higher click is stiffer"},
    ),
]


def _remarks(result: ClickForce, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark(
            "A needle works mostly at low speed, a spring preload at high speed: look at the curves of two clicks to see which this is.",
            about="for_each_click",
        )
    ]
    step = result.for_each_click
    if step is not None and step != 0 and (step > 0) != (inputs["counted"] == "open"):
        remarks.append(
            Remark(
                "The table stiffens the other way than this count says: check from which end the clicks were counted.",
                "caution",
                "counted",
            )
        )
    return tuple(remarks)


def _by_click(rows: tuple[Measured, ...]) -> dict[float, list[Measured]]:
    """Return the rows of each click, as they stand; speeds must rise within a click, and forces not fall."""
    groups: dict[float, list[tuple[int, Measured]]] = {}
    for n, row in enumerate(rows, start=1):
        before = groups.setdefault(row.click, [])
        if before and row.speed <= before[-1][1].speed:
            raise Refused(
                f"readings[{n}].speed",
                f"must be greater than the row before of the same click, {quantity(before[-1][1].speed, 'mm/s')}",
                quantity(row.speed, "mm/s"),
            )
        if before and row.force < before[-1][1].force:
            raise Refused(
                f"readings[{n}].force",
                f"must not be less than the row before of the same click, {quantity(before[-1][1].force, 'N')}",
                quantity(row.force, "N"),
            )
        before.append((n, row))
    return {click: [row for _, row in groups[click]] for click in sorted(groups)}


def _force(rows: list[Measured], speed: float) -> float:
    """Return the force of one click by straight lines from nothing at standstill."""
    v, F = [0.0, *(row.speed for row in rows)], [0.0, *(row.force for row in rows)]
    if speed > v[-1]:
        rule = f"must be within the measured speeds of click {number(rows[0].click)}, up to {quantity(v[-1], 'mm/s')}"
        raise Refused("speed", rule, quantity(speed, "mm/s"), hint="Nothing is read beyond a measurement.")
    i = max(1, bisect_left(v, speed))
    return F[i - 1] + (F[i] - F[i - 1]) * (speed - v[i - 1]) / (v[i] - v[i - 1])


def _figures(result: ClickForce, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    groups = _by_click(inputs["readings"])
    series = [
        Series(f"Click {number(click)}", [0.0, *(row.speed for row in rows)], [0.0, *(row.force for row in rows)])
        for click, rows in groups.items()
    ]
    here = Series("Here", [inputs["speed"]], [result.force], points=True)
    text = "One line for each measured click; between them the force is shared out evenly."
    return (
        Chart(
            "Force against speed by click", text, Axis("Damper speed", "mm/s"), Axis("Force", "N"), (*series[:6], here)
        ),
    )


@calculator(
    title="Damper clicks",
    question="What force has the damper at this speed and click?",
    example={
        "readings": [
            ["4", "25 mm/s", "260 N"],
            ["4", "50 mm/s", "480 N"],
            ["4", "100 mm/s", "760 N"],
            ["4", "200 mm/s", "1050 N"],
            ["12", "25 mm/s", "150 N"],
            ["12", "50 mm/s", "290 N"],
            ["12", "100 mm/s", "500 N"],
            ["12", "200 mm/s", "760 N"],
        ],
        "speed": "75 mm/s",
        "click": "8",
        "counted": "closed",
    },
    remarks=_remarks,
    figures=_figures,
    working=(
        Step(r"F = F_a + (n - n_a) \, \Delta F", "force"),
        Step(r"\Delta F = \frac{F_b - F_a}{n_b - n_a}", "for_each_click"),
    ),
)
def damper_clicks(
    *,
    readings: Annotated[
        tuple[Measured, ...],
        Input(
            "Readings of the dyno",
            help="Click by click, speeds rising; one direction at a time, gas and friction taken off.",
        ),
    ],
    speed: Annotated[MetresPerSecond, Input("Damper speed asked", "v", "mm/s", at_least=0, typical=(0.005, 0.5))],
    click: Annotated[Ratio, Input("Click asked", "n", "", at_least=0)],
    counted: Counted = "closed",
) -> ClickForce:
    """Return the force of an adjustable damper between measured speeds and clicks, by straight lines in both.

    Equation: bilinear: along the speed within each of the two nearest clicks, then between them; zero at standstill.
    Valid for: the measured clicks and speeds, nothing beyond them; one direction of stroke; one temperature.
    Source: bilinear interpolation.

    >>> table = tuple(Measured(n, v, F) for n, forces in ((8, (110, 200, 320, 460)), (16, (180, 330, 520, 700))) for v, F in zip((0.025, 0.05, 0.1, 0.2), forces))
    >>> damper_clicks(readings=table, speed=0.075, click=11, counted="open").force
    321.875
    """
    groups = _by_click(readings)
    known = list(groups)
    require_rising(known, "readings", "click", "")
    if not known[0] <= click <= known[-1]:
        rule = f"must be within the measured clicks, {number(known[0])} to {number(known[-1])}"
        raise Refused("click", rule, number(click), hint="Nothing is read beyond a measurement.")
    upper = known[bisect_left(known, click)]
    lower = upper if upper == click else known[known.index(upper) - 1]
    high = _force(groups[upper], speed)
    low = _force(groups[lower], speed)
    step = (high - low) / (upper - lower) if upper > lower else _near_step(groups, known, upper, speed)
    force = low + (step or 0.0) * (click - lower)
    slow = groups[lower][0], groups[upper][0]
    standing = sum(row.force / row.speed for row in slow) / 2
    return ClickForce(force, force / speed if speed > 0 else standing, step, lower, upper, low, high)


def _near_step(groups: dict[float, list[Measured]], known: list[float], here: float, speed: float) -> float | None:
    """Return the change of force for one click at a measured click, towards its nearest neighbour; none where it stands alone."""
    if len(known) < 2:
        return None
    n = known.index(here)
    a, b = (known[n], known[n + 1]) if n + 1 < len(known) else (known[n - 1], known[n])
    return (_force(groups[b], speed) - _force(groups[a], speed)) / (b - a)

"""Reading tyre temperatures across the tread, and saying no more than the readings can carry."""

import math
from collections.abc import Mapping, Sequence
from typing import Annotated, Any, Literal, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.numeric.least_squares import student_95
from calc.units import Kelvins

ENOUGH = 3  # readings before a difference can be told from its scatter


class Reading(NamedTuple):
    """One reading of the three places across the tread of one tyre."""

    inner: Annotated[
        Kelvins, Input("Inner edge", "T_i", "°C", at_least=223.15, at_most=523.15, typical=(303.15, 393.15))
    ]
    middle: Annotated[Kelvins, Input("Middle", "T_m", "°C", at_least=223.15, at_most=523.15, typical=(303.15, 393.15))]
    outer: Annotated[
        Kelvins, Input("Outer edge", "T_o", "°C", at_least=223.15, at_most=523.15, typical=(303.15, 393.15))
    ]


class TyreTemperatures(NamedTuple):
    """Differences across the tread, each with how sure it is. A temperature difference is in kelvin."""

    edge_difference: Annotated[Kelvins, Output("Inner edge hotter than outer by", "d_e", "K", 3)]
    middle_difference: Annotated[Kelvins, Output("Middle hotter than the mean of the edges by", "d_m", "K", 3)]
    mean: Annotated[Kelvins, Output("Mean of the tread", r"\bar{T}", "°C", 3)]
    edge_uncertainty: Annotated[Kelvins | None, Output("Edge difference sure to plus or minus", "u_e", "K", 2)]
    middle_uncertainty: Annotated[Kelvins | None, Output("Middle difference sure to plus or minus", "u_m", "K", 2)]
    edges: Annotated[
        Literal["inner hotter", "outer hotter", "not told apart", "too few readings"], Output("What the edges say", "")
    ]
    middle: Annotated[
        Literal["middle hotter", "edges hotter", "not told apart", "too few readings"],
        Output("What the middle says", ""),
    ]
    flags: tuple[str, ...]


def _mean(values: Sequence[float]) -> float:
    return math.fsum(values) / len(values)


def sure_to(values: Sequence[float]) -> float | None:
    """Return half the width of the 95 % interval of a mean, none for fewer than three values.

    Equation: t s/sqrt(n), t of Student's distribution with n - 1 degrees of freedom.

    >>> round(sure_to([8.0, 10.0, 12.0]), 3)
    4.968
    """
    if len(values) < ENOUGH:
        return None
    middle = _mean(values)
    spread = math.sqrt(math.fsum((v - middle) ** 2 for v in values) / (len(values) - 1))
    return student_95(len(values) - 1) * spread / math.sqrt(len(values))


def _told(difference: float, uncertainty: float | None, words: tuple[str, str], least: float) -> Any:
    if uncertainty is None:
        return "too few readings"
    if abs(difference) <= max(uncertainty, least):
        return "not told apart"
    return words[0] if difference > 0 else words[1]


def _remarks(result: TyreTemperatures, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark(
            "Use a needle probe, the same place and depth, straight off a corner and within a minute; the surface alone cools as you walk to it.",
            about="mean",
        )
    ]
    if result.edges == "inner hotter":
        remarks.append(
            Remark(
                "A hotter inner edge is what negative camber, toe-out or a long straight before the pits all bring. Some is normal; tyre wear and grip tell whether it is too much.",
                about="edges",
            )
        )
    if result.edges == "outer hotter":
        remarks.append(
            Remark(
                "A hotter outer edge goes with too little negative camber in roll, toe-in, or a car that is driven into understeer. Look at wear and at the other tyres before changing.",
                about="edges",
            )
        )
    if result.middle in {"middle hotter", "edges hotter"}:
        side = "high" if result.middle == "middle hotter" else "low"
        remarks.append(
            Remark(
                f"This pattern goes with {side} pressure on some tyres; on stiff belted ones it may be the construction. Compare hot pressures with the maker's first.",
                about="middle",
            )
        )
    remarks.append(
        Remark(
            "What a tyre wants is in its maker's temperature window and in lap times, not in an even tread.",
            about="mean",
        )
    )
    return tuple(remarks)


def _figures(result: TyreTemperatures, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    places = [1.0, 2.0, 3.0]
    rows = inputs["readings"][-6:]
    return (
        Chart(
            "Temperatures across the tread",
            "From the inner edge (1) over the middle (2) to the outer edge (3), one line for each reading.",
            Axis("Inner (1), middle (2), outer (3)"),
            Axis("Temperature", "°C"),
            tuple(
                Series(f"Reading {n}", places, [row.inner, row.middle, row.outer])
                for n, row in enumerate(rows, start=len(inputs["readings"]) - len(rows) + 1)
            ),
        ),
    )


@calculator(
    title="Reading tyre temperatures",
    question="What do inner, middle and outer temperatures of this tyre say, and what do they not?",
    example={
        "readings": [
            ["86 °C", "79 °C", "72 °C"],
            ["88 °C", "82 °C", "73 °C"],
            ["84 °C", "79 °C", "71 °C"],
            ["87 °C", "80 °C", "75 °C"],
        ],
        "taken": "after_corner",
    },
    working=(
        Step(r"d_e = \overline{T_i - T_o}", "edge_difference"),
        Step(r"d_m = \overline{T_m - (T_i + T_o)/2}", "middle_difference"),
        Step(r"u = t_{95} \, \frac{s}{\sqrt{n}}", "edge_uncertainty"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def tyre_temperatures(
    *,
    readings: Annotated[
        tuple[Reading, ...], Input("Readings", help="One row for each stop, the same tyre and set-up.")
    ],
    taken: Annotated[
        Literal["after_corner", "after_straight", "after_cooling_lap"],
        Choice(
            "The readings were taken",
            {
                "after_corner": "within a minute of hard corners",
                "after_straight": "after a straight or a slow road back",
                "after_cooling_lap": "after a slow lap",
            },
        ),
    ] = "after_corner",
    probe_error: Annotated[Kelvins, Input("How far the probe repeats", "e", "K", at_least=0, typical=(0.5, 4))] = 2.0,
) -> TyreTemperatures:
    """Return the differences across the tread of one tyre, and whether the readings can tell them from chance.

    Equation: d_e = mean(T_i - T_o), d_m = mean(T_m - (T_i + T_o)/2); 95 % interval t s/sqrt(n).
    Signs: positive when the inner edge, or the middle, is the hotter.
    Valid for: one tyre, one set-up, one way of measuring. A single reading shows a pattern, never a cause.
    Caution: hot tyres and brakes burn; keep hands off discs and wheels, and the car chocked.
    Source: Student's distribution; what patterns go with is common practice, no source.

    >>> row = Reading(360.0, 352.0, 346.0)
    >>> found = tyre_temperatures(readings=(row,))
    >>> found.edge_difference, found.edges
    (14.0, 'too few readings')
    """
    edges = [row.inner - row.outer for row in readings]
    middles = [row.middle - (row.inner + row.outer) / 2 for row in readings]
    edge, middle = _mean(edges), _mean(middles)
    sure_edge, sure_middle = sure_to(edges), sure_to(middles)
    flags = []
    if len(readings) < ENOUGH:
        flags.append(
            "One or two readings show a pattern but cannot tell it from chance: take at least three before changing anything."
        )
    if taken != "after_corner":
        flags.append(
            "Readings after a straight or a slow lap show how the tyre cooled, and too hot an inner edge, more than how it worked."
        )
    return TyreTemperatures(
        edge_difference=edge,
        middle_difference=middle,
        mean=_mean([_mean(row) for row in readings]),
        edge_uncertainty=sure_edge,
        middle_uncertainty=sure_middle,
        edges=_told(edge, sure_edge, ("inner hotter", "outer hotter"), probe_error),
        middle=_told(middle, sure_middle, ("middle hotter", "edges hotter"), probe_error),
        flags=tuple(flags),
    )

"""The rate of a spring from readings on a press, and how sure it is."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.numeric.least_squares import Line, line, parabola, student_95
from calc.refusal import Refused
from calc.units import Metres, Newtons, NewtonsPerMetre, Ratio

_BENT = 3.0  # times its scatter that the curvature must explain before a spring is called progressive
_ROUNDING = 1e-9  # a reading at exactly 30 or 70 % is in
_WINDOW = (0.3, 0.7)  # of the travel to solid: where end coils neither open nor close (EN 13906-1, from memory)


class Reading(NamedTuple):
    """One reading of the press."""

    compression: Annotated[Metres, Input("Compression", "s", "mm", at_least=0)]
    force: Annotated[Newtons, Input("Force", "F", "N", at_least=0)]


class PressRate(NamedTuple):
    """The rate from the readings used, with what tells a good test from a bad one."""

    rate: Annotated[NewtonsPerMetre, Output("Spring rate", "R", "N/mm")]
    uncertainty: Annotated[NewtonsPerMetre | None, Output("Uncertainty of the rate (95 %)", r"\pm U", "N/mm", 2)]
    shape: Annotated[Literal["straight", "rising", "falling", "not known"], Output("The rate is")]
    rate_low: Annotated[NewtonsPerMetre | None, Output("Tangent rate at the first reading used", "R_1", "N/mm")]
    rate_high: Annotated[NewtonsPerMetre | None, Output("Tangent rate at the last reading used", "R_2", "N/mm")]
    rate_all: Annotated[NewtonsPerMetre, Output("Rate over all readings", "R_a", "N/mm", detail=True)]
    intercept: Annotated[Newtons, Output("Force of the line at zero compression", "F_0", "N", detail=True)]
    free_offset: Annotated[
        Metres, Output("Compression at which the line crosses zero force", "s_0", "mm", 3, detail=True)
    ]
    largest_residual: Annotated[Newtons, Output("Largest distance of a reading from the line", "", "N", 2, detail=True)]
    r_squared: Annotated[Ratio, Output("Coefficient of determination", "r^2", "", 6, detail=True)]
    used: Annotated[int, Output("Readings used", "N", detail=True)]
    flags: tuple[str, ...]


def _remarks(result: PressRate, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark("Rates are sold to 2 to 5 %: a difference smaller than that between a pair is normal.", about="rate")
    ]
    if result.uncertainty is None:
        remarks.append(
            Remark(
                "Two readings make a line but say nothing about how sure it is: take five or more.",
                "caution",
                "uncertainty",
            )
        )
    if result.used < 5:
        remarks.append(Remark("Fewer than five readings used.", about="used"))
    return tuple(remarks)


def _figures(result: PressRate, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    x = [row.compression for row in inputs["readings"]]
    ends = [min(x), max(x)]
    return (
        Chart(
            "Press readings and the line through those used",
            f"A line of {quantity(result.rate, 'N/mm')} through the readings used; the first often lie off it because the ends seat.",
            Axis("Compression", "mm"),
            Axis("Force", "N"),
            (
                Series("Line", ends, [result.intercept + result.rate * s for s in ends]),
                Series("Readings", x, [row.force for row in inputs["readings"]], points=True),
            ),
        ),
    )


@calculator(
    title="Spring rate from a press",
    question="What rate does this spring really have, and how sure is it?",
    example={
        "readings": [
            ["10 mm", "545 N"],
            ["20 mm", "1168 N"],
            ["30 mm", "1770 N"],
            ["40 mm", "2374 N"],
            ["50 mm", "2971 N"],
            ["60 mm", "3577 N"],
            ["70 mm", "4190 N"],
        ],
        "leave_out_first": 1,
        "leave_out_last": 1,
    },
    working=(
        Step(r"R_m = \frac{\sum (s - \bar s)(F - \bar F)}{\sum (s - \bar s)^2}", "rate"),
        Step(r"s_0 = -\frac{F_0}{R}", "free_offset"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def press_rate(
    *,
    readings: Annotated[
        tuple[Reading, ...], Input("Readings of the press", help="Zero load first; five or more, evenly spaced.")
    ],
    leave_out_first: Annotated[
        int, Input("Readings to leave out at the start", "", "", at_least=0, help="The first one or two seat the ends.")
    ] = 1,
    leave_out_last: Annotated[
        int,
        Input("Readings to leave out at the end", "", "", at_least=0, help="Near solid the coils touch one by one."),
    ] = 0,
    travel_to_solid: Annotated[
        Metres | None,
        Input(
            "Travel from free to solid",
            "s_c",
            "mm",
            above=0,
            help="If given, the readings between 30 and 70 % of it are used instead.",
        ),
    ] = None,
    press_stiffness: Annotated[
        NewtonsPerMetre | None,
        Input("Stiffness of the press itself", "k_p", "N/mm", above=0, help="Measured with a solid block in it."),
    ] = None,
) -> PressRate:
    """Return the rate of a spring as the slope of force on compression by least squares, with its uncertainty.

    Equation: R = sum (s - mean s)(F - mean F) / sum (s - mean s)^2;  U = t_95 s_R;  with a press that gives, 1/R = 1/R_m - 1/k_p.
    Valid for: readings taken in one direction, slowly; the uncertainty is that of scatter about the line, not of a scale that reads wrong.
    Caution: a compressed spring holds enough energy to kill. Guard the press, keep hands and face out of line, and stop short of solid.
    Source: ordinary least squares; 30 to 70 % of the travel after EN 13906-1 (from memory).

    >>> rows = tuple(Reading(s / 1000, F) for s, F in zip((10, 20, 30, 40, 50, 60, 70), (402, 985, 1573, 2160, 2751, 3347, 3960)))
    >>> round(press_rate(readings=rows, leave_out_first=1, leave_out_last=1).rate, 1)
    59020.0
    """
    used = _used(readings, leave_out_first, leave_out_last, travel_to_solid)
    fit, whole = _line(used), _line(readings)
    stretch = _stretch(fit.slope, press_stiffness)
    straight = _true_rate(fit.slope, press_stiffness)
    error = None if fit.slope_error is None else student_95(len(used) - 2) * fit.slope_error * stretch
    shape, low, high = _shape(used, press_stiffness)
    flags = (
        ("The readings bend: one rate does not describe this spring; use the tangent rates, or a table.",)
        if shape in {"rising", "falling"}
        else ()
    )
    return PressRate(
        rate=straight,
        uncertainty=error,
        shape=shape,
        rate_low=low,
        rate_high=high,
        rate_all=_true_rate(whole.slope, press_stiffness),
        intercept=fit.intercept,
        free_offset=-fit.intercept / fit.slope,
        largest_residual=max(abs(r) for r in fit.residuals),
        r_squared=fit.r_squared,
        used=len(used),
        flags=flags,
    )


def _used(readings: tuple[Reading, ...], first: int, last: int, travel: float | None) -> tuple[Reading, ...]:
    if travel is not None:
        low, high = (_WINDOW[0] - _ROUNDING) * travel, (_WINDOW[1] + _ROUNDING) * travel
        used = tuple(row for row in readings if low <= row.compression <= high)
        hint = "None, or only one, lies between 30 and 70 % of the travel to solid."
    else:
        used = readings[first : len(readings) - last]
        hint = "Leave out fewer of them."
    if len({row.compression for row in used}) < 2:
        raise Refused(
            "readings",
            "must leave at least two different compressions to use",
            f"{len(used)} used of {len(readings)}",
            hint=hint,
        )
    return used


def _line(rows: tuple[Reading, ...]) -> Line:
    found = line([row.compression for row in rows], [row.force for row in rows])
    if found.slope <= 0:
        raise Refused(
            "readings", "must show a force that rises with compression", f"{quantity(found.slope, 'N/mm')} on the whole"
        )
    return found


def _true_rate(read: float, press: float | None) -> float:
    """Return the rate of the spring alone: what was read is the spring and the press in series."""
    if press is None:
        return read
    if press <= read:
        raise Refused(
            "press_stiffness", f"must be greater than the rate read, {quantity(read, 'N/mm')}", quantity(press, "N/mm")
        )
    return read / (1 - read / press)


def _stretch(read: float, press: float | None) -> float:
    """Return how much a small error of the rate read grows in the rate of the spring alone."""
    return 1.0 if press is None else (_true_rate(read, press) / read) ** 2


def _shape(
    rows: tuple[Reading, ...], press: float | None
) -> tuple[Literal["straight", "rising", "falling", "not known"], float | None, float | None]:
    """Return whether the readings bend by more than their scatter, and the tangent rates at both ends if they do."""
    x, y = [row.compression for row in rows], [row.force for row in rows]
    if len(set(x)) < 3 or len(x) < 4:
        return "not known", None, None
    bent = parabola(x, y)
    straight = line(x, y)
    gained = sum(r * r for r in straight.residuals) - sum(r * r for r in bent.residuals)
    left = sum(r * r for r in bent.residuals) / (len(x) - 3)
    low, high = (2 * bent.a * at + bent.b for at in (min(x), max(x)))
    tiny = (1e-6 * straight.slope * (max(x) - min(x))) ** 2
    if gained <= max(_BENT**2 * left, tiny) or abs(high - low) < 0.02 * straight.slope or min(low, high) <= 0:
        return "straight", None, None
    ends = _true_rate(low, press), _true_rate(high, press)
    return ("rising" if high > low else "falling"), *ends

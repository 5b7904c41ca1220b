"""What load transfer costs: the side force of two tyres that share a load unequally; and a fit of load sensitivity to measured points."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.loads.grip import Exponent, Linear, Point, Power, Sensitivity, Table, of_form, pair_force, table
from calc.loads.terms import TyreLoad
from calc.numeric.least_squares import line
from calc.refusal import Refused
from calc.units import Newtons, PerNewton, Ratio


class AxleGrip(NamedTuple):
    """Side force of an axle before and after load transfer."""

    force: Annotated[Newtons, Output("Side force the axle can hold", "F_y", "N")]
    force_without: Annotated[Newtons, Output("The same without load transfer", "F_{y0}", "N")]
    loss: Annotated[Ratio, Output("Lost by the load transfer", "q", "%", 3)]
    axle_friction: Annotated[Ratio, Output("Friction coefficient of the whole axle", r"\mu_a", "", 3)]
    outside_friction: Annotated[Ratio, Output("Friction coefficient of the outside tyre", r"\mu_o", "", 3)]
    inside_friction: Annotated[Ratio | None, Output("Friction coefficient of the inside tyre", r"\mu_i", "", 3)]
    outside_load: Annotated[Newtons, Output("Load on the outside tyre", "F_o", "N", detail=True)]
    inside_load: Annotated[Newtons, Output("Load on the inside tyre", "F_i", "N", detail=True)]
    flags: tuple[str, ...]


def _friction(inputs: Mapping[str, Any]) -> Linear | Power | Table:
    form = inputs["form"]
    if form == "table":
        if inputs["points"] is None:
            raise Refused("points", "is needed with the table form", label="Measured points")
        return table(inputs["points"], "points")
    if inputs["friction"] is None:
        raise Refused("friction", f"is needed with the {form} form", label="Friction coefficient")
    load = inputs["reference_load"] or inputs["load"]
    return of_form(form, inputs["friction"], load, inputs["sensitivity"], inputs["exponent"])


def _remarks(result: AxleGrip, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark(
            "Load transfer always costs an axle grip; stiffening one end moves transfer to it, and grip away from it.",
            about="loss",
        )
    ]
    if inputs["form"] == "linear":
        remarks.append(
            Remark(
                "A straight line holds near the loads it was taken from; check it against the tyre's own points before going far.",
                about="force",
            )
        )
    return tuple(remarks)


def _figures(result: AxleGrip, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    friction, load = _friction(inputs), inputs["load"]
    most = min(load, friction.loads[-1] - load, load - friction.loads[0]) if isinstance(friction, Table) else load
    steps = [max(0.0, most) * i / 20 for i in range(21)]
    return (
        Chart(
            "Side force of the axle against load transfer",
            "The force falls, slowly at first and then faster, as one tyre gains what the other loses.",
            Axis("Load transfer", "N"),
            Axis("Side force", "N"),
            (
                Series("Axle", steps, [pair_force(friction, load, step) for step in steps]),
                Series("Here", [min(inputs["transfer"], load)], [result.force], points=True),
            ),
        ),
    )


@calculator(
    title="Axle grip with load transfer",
    question="How much side force does this axle lose because its load moves to the outside tyre?",
    example={"load": "2990 N", "transfer": "2250 N", "form": "linear", "friction": "1.25", "sensitivity": "0.06 1/kN"},
    working=(
        Step(
            r"\mu(F) = \mu_F - s \, (F - F_0) \quad \mathrm{or} \quad \mu_F \left( \frac{F}{F_0} \right)^{n - 1}",
            "outside_friction",
        ),
        Step(r"F_y = \mu(F_o) \, F_o + \mu(F_i) \, F_i", "force"),
        Step(r"q = 1 - \frac{F_y}{F_{y0}}", "loss"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def axle_grip(
    *,
    load: TyreLoad,
    transfer: Annotated[
        Newtons, Input("Load transfer across the axle", r"\Delta F", "N", at_least=0, typical=(200, 4000))
    ],
    form: Annotated[
        Literal["linear", "power", "table"],
        Choice(
            "Friction falls with load as",
            {"linear": "a straight line", "power": "a power of the load", "table": "measured points"},
        ),
    ] = "linear",
    friction: Annotated[
        Ratio | None,
        Input("Friction coefficient at the reference load", r"\mu_F", "", above=0, at_most=5, typical=(0.6, 2.0)),
    ] = None,
    reference_load: Annotated[
        Newtons | None,
        Input(
            "Reference load of one tyre",
            "F_0",
            "N",
            above=0,
            typical=(1500, 5000),
            help="Empty: the load in a straight line.",
        ),
    ] = None,
    sensitivity: Sensitivity = 0.0,
    exponent: Exponent = 0.9,
    points: Annotated[tuple[Point, ...] | None, Input("Measured points")] = None,
) -> AxleGrip:
    """Return the side force an axle can hold with load transfer, and what the transfer costs it.

    Equation: straight line mu = mu_0 - s F gives F_y = 2 F (mu_0 - s F) - 2 s dF^2;  power F_y = F^n for each tyre;  a table is read between points.
    Signs: the transfer is the gain of the outside tyre.
    Valid for: transfer up to the tyre's own load, the straight line below F = mu_0/(2 s), a table within its points. Camber and temperature left out.
    Source: W. F. Milliken and D. L. Milliken, Race Car Vehicle Dynamics, 1995, Fig. 2.9 for the size of the effect; sum of two tyres.

    >>> rows = (Point(4003.4, 1.10), Point(6005.1, 1.08), Point(8006.8, 0.97))
    >>> round(axle_grip(load=6005.1, transfer=2001.7, form="table", points=rows).loss, 6)
    0.061728
    """
    mu = _friction(locals())
    moved = min(transfer, load)
    outside, inside = load + moved, load - moved
    force, without = pair_force(mu, load, transfer), pair_force(mu, load, 0.0)
    if without <= 0:
        raise Refused(
            "sensitivity", "must leave some friction at the load in a straight line", quantity(sensitivity, "1/kN")
        )
    return AxleGrip(
        force=force,
        force_without=without,
        loss=1 - force / without,
        axle_friction=force / (2 * load),
        outside_friction=mu(outside),
        inside_friction=mu(inside) if inside > 0 else None,
        outside_load=outside,
        inside_load=inside,
        flags=_flags(mu, outside, transfer, load),
    )


def _flags(friction: Linear | Power | Table, outside: float, transfer: float, load: float) -> tuple[str, ...]:
    said = []
    if transfer > load:
        said.append(
            "More load would move than the inside tyre carries: it lifts, and the rest moves across the other axle."
        )
    if isinstance(friction, Linear) and outside > friction.peak:
        said.append(
            "The outside tyre is beyond the load where a straight line says more load gives less force: the line no longer describes a tyre there."
        )
    return tuple(said)


class GripFit(NamedTuple):
    """Both forms fitted to the points."""

    at_mean_load: Annotated[Ratio, Output("Friction coefficient at the mean load, straight line", r"\mu_F", "", 4)]
    sensitivity: Annotated[PerNewton, Output("Fall of the friction coefficient with load", "s", "1/kN", 3)]
    exponent: Annotated[Ratio, Output("Exponent of the power form", "n", "", 4)]
    power_friction: Annotated[Ratio, Output("Friction coefficient at the mean load, power form", r"\mu_n", "", 4)]
    at_zero: Annotated[Ratio, Output("Friction coefficient at no load, straight line", r"\mu_0", "", 4)]
    mean_load: Annotated[Newtons, Output("Mean load", "F_0", "N")]
    line_residual: Annotated[Ratio, Output("Largest miss of the straight line", r"r_s", "", 2)]
    power_residual: Annotated[Ratio, Output("Largest miss of the power form", r"r_n", "", 2)]
    flags: tuple[str, ...]


def _fit_figures(result: GripFit, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    points = inputs["points"]
    low, high = min(p.load for p in points), max(p.load for p in points)
    steps = [low + (high - low) * i / 20 for i in range(21)]
    power = Power(result.power_friction, result.mean_load, result.exponent)
    return (
        Chart(
            "Friction coefficient against load",
            "Measured points with the straight line and the power form through them.",
            Axis("Load on one tyre", "N"),
            Axis("Friction coefficient"),
            (
                Series("Straight line", steps, [result.at_zero - result.sensitivity * load for load in steps]),
                Series("Power form", steps, [power(load) for load in steps]),
                Series("Points", [p.load for p in points], [p.friction for p in points], points=True),
            ),
        ),
    )


@calculator(
    title="Load sensitivity from measured points",
    question="I have friction at a few loads: what straight line or power describes this tyre?",
    example={"points": [["1500 N", "1.42"], ["2500 N", "1.36"], ["3500 N", "1.29"], ["4500 N", "1.20"]]},
    working=(
        Step(r"\mu = \mu_0 - s \, F", "sensitivity"),
        Step(r"\ln (\mu F) = n \ln F + \mathrm{const}", "exponent"),
    ),
    remarks=lambda result, inputs: (
        Remark(
            "Neither form holds outside the loads that were measured; take points on both sides of the loads of the car.",
            about="sensitivity",
        ),
    ),
    figures=_fit_figures,
)
def grip_fit(*, points: Annotated[tuple[Point, ...], Input("Measured points")]) -> GripFit:
    """Return the straight line and the power form of load sensitivity that fit measured points best.

    Equation: least squares of mu on F, and of ln(mu F) on ln F.
    Signs: a positive sensitivity means friction falls as load grows.
    Valid for: the range of the points, one temperature, pressure and camber.
    Source: least squares; for how far a line misses real tyres see Milliken and Milliken, 1995, Fig. 2.9.

    >>> found = grip_fit(points=(Point(1000, 1.3), Point(2000, 1.2), Point(3000, 1.1)))
    >>> round(found.at_zero, 6), round(found.sensitivity * 1000, 6)
    (1.4, 0.1)
    """
    loads, frictions = [p.load for p in points], [p.friction for p in points]
    if len(set(loads)) < 2:
        raise Refused("points", "must hold at least two different loads", f"{len(set(loads))}")
    straight = line(loads, frictions)
    bent = line(
        [math.log(load) for load in loads], [math.log(mu * load) for mu, load in zip(frictions, loads, strict=True)]
    )
    mean = math.fsum(loads) / len(loads)
    power = Power(math.exp(bent.intercept + bent.slope * math.log(mean)) / mean, mean, bent.slope)
    flags = []
    if straight.slope > 0:
        flags.append(
            "Friction rises with load in these points, which no tyre does over its working range: check temperature, camber and slip between them."
        )
    if len(set(loads)) == 2:
        flags.append("Two loads fix the line without saying how well it fits: take a third.")
    return GripFit(
        at_mean_load=straight.intercept + straight.slope * mean,
        sensitivity=-straight.slope,
        exponent=bent.slope,
        power_friction=power.reference,
        at_zero=straight.intercept,
        mean_load=mean,
        line_residual=max(abs(r) for r in straight.residuals),
        power_residual=max(abs(mu - power(load)) for mu, load in zip(frictions, loads, strict=True)),
        flags=tuple(flags),
    )

"""Load transfer along the car."""

from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Output, Remark, Step, calculator
from calc.terms import CarMass, CgHeight, Deceleration, FrontShare, Wheelbase
from calc.units import STANDARD_GRAVITY, MetresPerSecondSquared, Newtons, Ratio


class LongitudinalTransfer(NamedTuple):
    """Axle loads while braking. ``transfer`` is the load the front axle gains and the rear axle loses."""

    transfer: Annotated[Newtons, Output("Load moved to the front axle", r"\Delta F", "N")]
    front_load: Annotated[Newtons, Output("Front axle load while braking", "F_f", "N")]
    rear_load: Annotated[Newtons, Output("Rear axle load while braking", "F_r", "N")]
    front_share_braking: Annotated[Ratio, Output("Front share while braking", "w_f'", "%")]
    lift_deceleration: Annotated[
        MetresPerSecondSquared, Output("Deceleration at which the rear axle would lift", r"d_{lift}", "g", detail=True)
    ]
    flags: tuple[str, ...]


def _remarks(result: LongitudinalTransfer, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    share = inputs["deceleration"] / result.lift_deceleration
    text = "Stiffer springs and anti-dive do not reduce it; only a lower or lighter car, or a longer wheelbase, does."
    remarks = [Remark(text, about="transfer")]
    if 0.8 < share < 1:
        remarks.append(
            Remark("The rear axle is close to lifting: little rear brake is of use here.", "caution", "rear_load")
        )
    return tuple(remarks)


def _figures(result: LongitudinalTransfer, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    top = max(1.5 * STANDARD_GRAVITY, 1.2 * inputs["deceleration"])
    steps = [top * i / 20 for i in range(21)]
    weight, share = inputs["mass"] * STANDARD_GRAVITY, inputs["front_share"]
    gain = inputs["mass"] * inputs["cg_height"] / inputs["wheelbase"]
    front = [min(weight, weight * share + gain * d) for d in steps]
    here = inputs["deceleration"]
    return (
        Chart(
            "Axle loads against deceleration",
            "The front axle load rises and the rear falls by the same amount, in a straight line with deceleration.",
            Axis("Deceleration", "g"),
            Axis("Axle load", "N"),
            (
                Series("Front axle", steps, front),
                Series("Rear axle", steps, [weight - f for f in front]),
                Series("This stop", [here, here], [result.front_load, result.rear_load], points=True),
            ),
        ),
    )


@calculator(
    title="Load transfer under braking",
    question="How much load moves to the front axle when the car brakes?",
    example={
        "mass": "1160 kg",
        "deceleration": "1.0 g",
        "cg_height": "480 mm",
        "wheelbase": "2560 mm",
        "front_share": "52.6 %",
    },
    working=(
        Step(r"\Delta F = \frac{m\,d\,h}{L}", "transfer"),
        Step(r"F_f = m\,g\,w_f + \Delta F", "front_load"),
        Step(r"F_r = m\,g\,(1 - w_f) - \Delta F", "rear_load"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def longitudinal_load_transfer(
    *, mass: CarMass, deceleration: Deceleration, cg_height: CgHeight, wheelbase: Wheelbase, front_share: FrontShare
) -> LongitudinalTransfer:
    """Return the load that braking moves from the rear to the front axle, and both axle loads.

    Equation: dF = m d h / L;  F_f = m g w_f + dF;  F_r = m g (1 - w_f) - dF.  The rear axle lifts at d = g (1 - w_f) L / h.
    Signs: deceleration is given as a positive number; the transfer is positive when load moves forward.
    Valid for: level road, steady braking, no aerodynamic load, all wheels on the ground.
    Caution: springs, dampers and anti-dive change how fast and how far the nose goes down, not how much load moves.
    Source: moment balance about the front contact line; Gillespie, Fundamentals of Vehicle Dynamics, 1992 (from memory).

    >>> answer = longitudinal_load_transfer(mass=1200, deceleration=5.0, cg_height=0.5, wheelbase=2.5, front_share=0.5)
    >>> round(answer.transfer)
    1200
    """
    weight = mass * STANDARD_GRAVITY
    transfer = mass * deceleration * cg_height / wheelbase
    rear_at_rest = weight * (1 - front_share)
    flags: tuple[str, ...] = ()
    if transfer >= rear_at_rest:
        flags = ("The rear axle would lift: all the load is on the front wheels and the formula ends here.",)
        transfer = rear_at_rest
    front = weight * front_share + transfer
    return LongitudinalTransfer(
        transfer=transfer,
        front_load=front,
        rear_load=weight - front,
        front_share_braking=front / weight,
        lift_deceleration=STANDARD_GRAVITY * (1 - front_share) * wheelbase / cg_height,
        flags=flags,
    )

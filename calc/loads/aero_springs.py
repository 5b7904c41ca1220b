"""The springs, or the heave spring beside them, that hold a height under downforce."""

from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.loads.aero_heights import axle_heave_rate
from calc.rates import before_series, in_series, natural_frequency
from calc.refusal import Refused
from calc.terms import LeverRatio, TyreRate
from calc.units import Hertz, Kilograms, Metres, Newtons, NewtonsPerMetre, Ratio


class SpringForAeroHeight(NamedTuple):
    """What holds an axle's height under downforce."""

    wheel_rate: Annotated[NewtonsPerMetre, Output("Wheel rate of one wheel", "k_w", "N/mm")]
    spring_rate: Annotated[NewtonsPerMetre, Output("Spring rate", "k_s", "N/mm", 3)]
    heave_spring: Annotated[NewtonsPerMetre, Output("Or: heave spring beside the present wheel rate", "k_3", "N/mm", 3)]
    ride_rate: Annotated[NewtonsPerMetre, Output("Ride rate of one wheel, tyre in series", "k_r", "N/mm")]
    tyre_part: Annotated[Metres, Output("Part of the drop that is tyre", "h_t", "mm", 3, detail=True)]


def _spring_remarks(result: SpringForAeroHeight, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            "Stiffer corner springs also stiffen roll and single-wheel bumps; a heave spring or a bump rubber adds to common travel alone.",
            about="heave_spring",
        ),
        Remark(
            "Add the travel that bumps and braking need to this drop before setting the ride height.",
            about="wheel_rate",
        ),
    )


def _spring_figures(result: SpringForAeroHeight, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    drops = [inputs["allowed_drop"] * (0.5 + 0.05 * i) for i in range(41)]
    rates = [_needed(inputs, drop) for drop in drops]
    shown = [float("nan") if k is None or k > 8 * result.wheel_rate else k for k in rates]
    return (
        Chart(
            "Wheel rate against the drop allowed",
            "The less the car may sink, the stiffer the springs, without limit where the tyres alone sink that far.",
            Axis("Drop allowed", "mm"),
            Axis("Wheel rate", "N/mm"),
            (
                Series("Wheel rate", drops, shown),
                Series("Here", [inputs["allowed_drop"]], [result.wheel_rate], points=True),
            ),
        ),
    )


def _needed(inputs: Mapping[str, Any], drop: float) -> float | None:
    """Return the wheel rate of one wheel that holds a drop, none where the tyres alone sink further."""
    ride = (inputs["gain"] / drop + inputs["gradient"]) / 2
    return before_series(ride, inputs["tyre_rate"]) if ride < inputs["tyre_rate"] else None


@calculator(
    title="Springs to hold a height under downforce",
    question="What wheel rate keeps this axle from sinking more than I allow?",
    example={
        "gain": "1240 N",
        "allowed_drop": "12 mm",
        "tyre_rate": "220 N/mm",
        "motion_ratio": "0.8",
        "present_wheel_rate": "48 N/mm",
        "heave_ratio": "0.9",
    },
    working=(
        Step(r"k_r = \frac{1}{2} \left( \frac{\Delta F}{\delta} + g_h \right)", "ride_rate"),
        Step(r"k_w = \frac{k_r \, k_t}{k_t - k_r}", "wheel_rate"),
        Step(r"k_s = \frac{k_w}{r^2}", "spring_rate"),
        Step(r"k_3 = \frac{2 \, (k_w - k_{w0})}{MR_3^2}", "heave_spring"),
    ),
    remarks=_spring_remarks,
    figures=_spring_figures,
)
def spring_for_aero_height(
    *,
    gain: Annotated[
        Newtons, Input("Axle gain at the speed that matters", r"\Delta F", "N", above=0, typical=(100, 9000))
    ],
    allowed_drop: Annotated[Metres, Input("Drop allowed", r"\delta", "mm", above=0, typical=(0.003, 0.04))],
    tyre_rate: TyreRate,
    motion_ratio: LeverRatio,
    gradient: Annotated[
        NewtonsPerMetre,
        Input(
            "Height gradient of the downforce of this axle, at that speed", "g_h", "N/mm", at_least=0, typical=(0, 60e3)
        ),
    ] = 0.0,
    present_wheel_rate: Annotated[
        NewtonsPerMetre, Input("Present wheel rate of one wheel", "k_{w0}", "N/mm", above=0, typical=(10e3, 200e3))
    ],
    heave_ratio: Annotated[
        Ratio,
        Input(
            "Motion ratio of a heave spring",
            "MR_3",
            "",
            above=0,
            at_most=3,
            typical=(0.4, 1.2),
            help="Spring travel for each unit of common wheel travel.",
        ),
    ] = 1.0,
) -> SpringForAeroHeight:
    """Return the wheel rate, spring, or heave spring beside the present springs, that limits how far an axle sinks.

    Equation: k_r = (dF/delta + g_h)/2;  k_w = k_r k_t/(k_t - k_r);  k_s = k_w/MR^2;  k_3 = 2 (k_w - k_w0)/MR_3^2, 0 if the present springs do.
    Valid for: linear springs and tyres; a height gradient as it is at that speed.
    Caution: springs this stiff move frequency, damping and grip over bumps with them.
    Source: statics, springs in series inverted.

    >>> found = spring_for_aero_height(gain=800, allowed_drop=0.01, tyre_rate=200e3, motion_ratio=1.0, present_wheel_rate=30e3)
    >>> round(found.wheel_rate), round(found.heave_spring)
    (50000, 40000)
    """
    wheel = _needed(locals(), allowed_drop)
    ride = (gain / allowed_drop + gradient) / 2
    if wheel is None and gradient >= 2 * tyre_rate:
        rule = f"must be below the rate of both tyres, {quantity(2 * tyre_rate, 'N/mm')}"
        raise Refused("gradient", rule, quantity(gradient, "N/mm"))
    if wheel is None:
        rule = f"must exceed {quantity(gain / (2 * tyre_rate - gradient), 'mm')}, what the tyres alone sink"
        raise Refused("allowed_drop", rule, quantity(allowed_drop, "mm"))
    return SpringForAeroHeight(
        wheel_rate=wheel,
        spring_rate=wheel / motion_ratio**2,
        heave_spring=max(0.0, 2 * (wheel - present_wheel_rate) / heave_ratio**2),
        ride_rate=ride,
        tyre_part=allowed_drop * ride / tyre_rate,
    )


class HeaveSpring(NamedTuple):
    """What a third spring adds to an axle."""

    heave_rate: Annotated[NewtonsPerMetre, Output("Heave rate of the axle, tyres left out", "K_h", "N/mm")]
    heave_rate_with_tyres: Annotated[NewtonsPerMetre, Output("Heave rate of the axle with its tyres", "K_{ht}", "N/mm")]
    heave_frequency: Annotated[Hertz, Output("Frequency of the axle in heave, tyres left out", "f_h", "Hz", 3)]
    frequency_without: Annotated[Hertz, Output("The same without the heave spring", "f_0", "Hz", 3)]
    third_share: Annotated[Ratio, Output("Share of the heave spring in the heave rate", "p", "%", 3)]
    flags: tuple[str, ...]


def _heave_figures(result: HeaveSpring, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    top = 2 * inputs["heave_spring"] or 2 * inputs["wheel_rate"]
    rates = [top * i / 20 for i in range(21)]
    ratio, wheel = inputs["heave_ratio"], inputs["wheel_rate"]
    return (
        Chart(
            "Axle rates against the heave spring",
            "The heave rate grows with the heave spring; in roll the axle feels the corner springs alone.",
            Axis("Heave spring", "N/mm"),
            Axis("Rate of the axle", "N/mm"),
            (
                Series("In heave", rates, [2 * wheel + k * ratio**2 for k in rates]),
                Series(
                    "In heave with the tyres",
                    rates,
                    [axle_heave_rate(wheel, inputs["tyre_rate"], k, ratio) for k in rates],
                ),
                Series("In roll", rates, [2 * wheel] * len(rates)),
                Series("Here", [inputs["heave_spring"]], [result.heave_rate], points=True),
            ),
        ),
    )


@calculator(
    title="Heave spring",
    question="What does a third spring add to this axle in heave, and what does it leave alone?",
    example={
        "wheel_rate": "32 N/mm",
        "heave_spring": "60 N/mm",
        "heave_ratio": "0.9",
        "tyre_rate": "175 N/mm",
        "sprung_axle_mass": "288 kg",
    },
    working=(
        Step(r"K_h = 2 \, k_w + k_3 \, MR_3^2", "heave_rate"),
        Step(r"K_{ht} = \frac{2 \, k_t \, K_h}{2 \, k_t + K_h}", "heave_rate_with_tyres"),
        Step(r"f_h = \frac{1}{2 \pi} \sqrt{\frac{K_h}{m_a}}", "heave_frequency"),
    ),
    remarks=lambda result, inputs: (
        Remark(
            "Roll stiffness stays as it was: in pure roll the common travel is zero and the heave spring does nothing.",
            about="third_share",
        ),
        Remark(
            "A bump on one wheel sees a quarter of the heave spring's axle rate at that wheel, and the other wheel is pushed as well.",
            about="heave_rate",
        ),
    ),
    figures=_heave_figures,
)
def heave_spring(
    *,
    wheel_rate: Annotated[
        NewtonsPerMetre, Input("Wheel rate of one wheel", "k_w", "N/mm", above=0, typical=(10e3, 200e3))
    ],
    heave_spring: Annotated[
        NewtonsPerMetre, Input("Rate of the heave spring", "k_3", "N/mm", at_least=0, typical=(10e3, 300e3))
    ],
    heave_ratio: Annotated[
        Ratio,
        Input(
            "Motion ratio of the heave spring",
            "MR_3",
            "",
            above=0,
            at_most=3,
            typical=(0.4, 1.2),
            help="Spring travel for each unit of common wheel travel.",
        ),
    ],
    tyre_rate: TyreRate,
    sprung_axle_mass: Annotated[
        Kilograms, Input("Sprung mass on this axle", "m_a", "kg", above=0, typical=(150, 1000))
    ],
) -> HeaveSpring:
    """Return the heave rate and frequency of an axle with a third spring.

    Equation: K_h = 2 k_w + k_3 MR_3^2, with the tyres K_h 2 k_t/(K_h + 2 k_t); MR_3 is spring travel for each unit of COMMON wheel travel.
    Valid for: linear springs, both wheels moving together; a heave spring with play starts later.
    Source: virtual work.

    >>> found = heave_spring(wheel_rate=40e3, heave_spring=50e3, heave_ratio=2, tyre_rate=200e3, sprung_axle_mass=300)
    >>> round(found.heave_rate), round(found.third_share, 4)
    (280000, 0.7143)
    """
    third = heave_spring * heave_ratio**2
    total = 2 * wheel_rate + third
    return HeaveSpring(
        heave_rate=total,
        heave_rate_with_tyres=in_series(total, 2 * tyre_rate),
        heave_frequency=natural_frequency(total, sprung_axle_mass),
        frequency_without=natural_frequency(2 * wheel_rate, sprung_axle_mass),
        third_share=third / total,
        flags=(
            "The heave rate exceeds that of the tyres: the axle will bounce on its tyres, which have little damping.",
        )
        if total > 2 * tyre_rate
        else (),
    )

"""The ideal distribution and what each axle asks of its tyres, at one braking rate and over all of them; and braking one axle only."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.brakes.axles import Axles, ideal_rear_force
from calc.brakes.care import with_care
from calc.brakes.terms import Gravity, ReactionTime, Speed
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.terms import BrakeFrontShare, CarMass, CgHeight, Deceleration, FrontShare, TyreAdhesion, Wheelbase
from calc.units import STANDARD_GRAVITY, Metres, MetresPerSecondSquared, Newtons, Ratio, Seconds


class BrakeDistribution(NamedTuple):
    """Ideal forces, grip used by each axle, and the crossing of ideal and installed distribution."""

    ideal_share: Annotated[Ratio, Output("Ideal front share at this deceleration", r"\varphi_i", "%")]
    front_use: Annotated[Ratio, Output("Grip the front axle uses", "f_f", "", 4)]
    rear_use: Annotated[Ratio | None, Output("Grip the rear axle uses", "f_r", "", 4)]
    ideal_front: Annotated[Newtons, Output("Ideal front axle brake force", "F_f", "N")]
    ideal_rear: Annotated[Newtons, Output("Ideal rear axle brake force", "F_r", "N")]
    critical: Annotated[
        MetresPerSecondSquared | None, Output("Deceleration at which the lock order changes", "d_c", "g", 4)
    ]
    rear_for_front: Annotated[Newtons | None, Output("Ideal rear force for the front force given", "F_{r,i}", "N")]
    rate_for_front: Annotated[MetresPerSecondSquared | None, Output("Deceleration with those two", "d_i", "g", 4)]
    front_load: Annotated[Newtons, Output("Load of the front axle", "N_f", "N", detail=True)]
    rear_load: Annotated[Newtons, Output("Load of the rear axle", "N_r", "N", detail=True)]
    flags: tuple[str, ...]


def _remarks(result: BrakeDistribution, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    if result.rear_use is None:
        return ()
    if result.rear_use > result.front_use:
        return (Remark("Here the rear axle asks for more grip than the front: it locks first.", "caution", "rear_use"),)
    return (Remark("Here the front axle asks for more grip than the rear: it locks first.", about="front_use"),)


def _figures(result: BrakeDistribution, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    axles = Axles(inputs["front_share"], inputs["cg_height"] / inputs["wheelbase"])
    top = min(0.9 * axles.lift, 1.6)
    rates = [top * i / 24 for i in range(25)]
    share = inputs["front_brake_share"]
    return (
        Chart(
            "Grip used over the braking rate",
            "Above the diagonal an axle works harder than the car as a whole. The higher curve locks first.",
            Axis("Braking rate, deceleration over g"),
            Axis("Grip used"),
            (
                Series("Front axle", rates, [axles.front_use(share, z) for z in rates]),
                Series("Rear axle", rates, [axles.rear_use(share, z) for z in rates]),
                Series("Equal use", rates, rates),
            ),
        ),
    )


@calculator(
    title="Use of grip by each axle",
    question="How much grip does each axle ask for at a deceleration, and what would be ideal?",
    example={
        "mass": "1160 kg",
        "wheelbase": "2560 mm",
        "front_share": "52.6 %",
        "cg_height": "480 mm",
        "front_brake_share": "72 %",
        "deceleration": "0.9 g",
        "front_force": "7000 N",
    },
    working=(
        Step(r"\varphi_i = \frac{b + z \, h}{L}", "ideal_share"),
        Step(r"f_f = \frac{\varphi \, z \, L}{b + z \, h}", "front_use"),
        Step(r"f_r = \frac{(1 - \varphi) \, z \, L}{a - z \, h}", "rear_use"),
        Step(r"F_{r,i} = \frac{W}{2 h} \left[\sqrt{b^2 + \frac{4 h L F_f}{W}} - b\right] - F_f", "rear_for_front"),
        Step(r"d_c = \frac{g \, (\varphi L - b)}{h}", "critical"),
    ),
    remarks=with_care(_remarks),
    figures=_figures,
)
def brake_distribution(
    *,
    mass: CarMass,
    wheelbase: Wheelbase,
    front_share: FrontShare,
    cg_height: CgHeight,
    front_brake_share: BrakeFrontShare,
    deceleration: Deceleration,
    front_force: Annotated[
        Newtons | None, Input("A front axle brake force, to find its ideal partner", "F_f", "N", above=0, at_most=1e6)
    ] = None,
) -> BrakeDistribution:
    """Return ideal brake forces and the grip each axle uses at a deceleration.

    Equation: ideal F_f = z W (b + z h)/L, F_r = z W (a - z h)/L;  f_f = phi z L/(b + z h), f_r = (1 - phi) z L/(a - z h);  z_c = (phi L - b)/h.
    Valid for: level road, straight line, no aerodynamic load; the rear axle lifts at z = a/h. Anti-dive geometry changes pitch, not this transfer.
    Signs: z positive slowing down.
    Source: moment balance, derived; UN R13-H for the terms (from memory).

    >>> answer = brake_distribution(mass=1000, wheelbase=2.5, front_share=0.5, cg_height=0.5, front_brake_share=0.7, deceleration=9.80665)
    >>> round(answer.front_use, 6), round(answer.rear_use, 6)
    (1.0, 1.0)
    """
    axles, weight, rate = (
        Axles(front_share, cg_height / wheelbase),
        mass * STANDARD_GRAVITY,
        deceleration / STANDARD_GRAVITY,
    )
    ideal = axles.ideal_share(rate)
    lifted = ideal >= 1
    critical = axles.critical(front_brake_share)
    partner = None if front_force is None else ideal_rear_force(front_force, weight, axles)
    flags = ["The rear axle lifts before this deceleration: all the load is on the front."] if lifted else []
    if partner is not None and partner < 0:
        flags.append("The front force given lies beyond the lift of the rear axle: there is no ideal partner.")
        partner = None
    return BrakeDistribution(
        ideal_share=min(1.0, ideal),
        front_use=front_brake_share * rate / min(1.0, ideal),
        rear_use=None if lifted else axles.rear_use(front_brake_share, rate),
        ideal_front=rate * weight * min(1.0, ideal),
        ideal_rear=rate * weight * max(0.0, 1 - ideal),
        critical=critical * STANDARD_GRAVITY if critical > 0 else None,
        rear_for_front=partner,
        rate_for_front=None if partner is None or front_force is None else (front_force + partner) / mass,
        front_load=weight * min(1.0, ideal),
        rear_load=weight * max(0.0, 1 - ideal),
        flags=tuple(flags),
    )


class AxleStop(NamedTuple):
    """Deceleration and distance with the braked axles at the limit of grip."""

    deceleration: Annotated[MetresPerSecondSquared, Output("Deceleration", "d", "g", 4)]
    braking_distance: Annotated[Metres, Output("Braking distance", "s_b", "m")]
    total_distance: Annotated[Metres, Output("Distance with reaction", "s", "m")]
    braking_time: Annotated[Seconds, Output("Braking time", "t", "s", 3)]
    load_ratio: Annotated[Ratio | None, Output("Front over rear axle load", "N_f/N_r", "", 4)]
    of_all: Annotated[Ratio, Output("Of what all four wheels would give", "", "%", 3)]
    flags: tuple[str, ...]


def _stop_remarks(result: AxleStop, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    if inputs["braked"] == "rear":
        return (Remark("Rear brakes alone at the limit: the car will want to turn round.", "caution", "deceleration"),)
    return ()


@calculator(
    title="Stopping with one axle or all wheels",
    question="How far does the car go when only the front, only the rear or all wheels brake at the limit?",
    example={
        "braked": "front",
        "wheelbase": "2560 mm",
        "front_share": "52.6 %",
        "cg_height": "480 mm",
        "adhesion": "1.0",
        "speed": "100 km/h",
    },
    working=(
        Step(r"z_f = \frac{\mu_t \, b}{L - \mu_t \, h} \quad z_r = \frac{\mu_t \, a}{L + \mu_t \, h}", "deceleration"),
        Step(r"s_b = \frac{v^2}{2 \, d}", "braking_distance"),
        Step(r"s = v \, t_r + s_b", "total_distance"),
    ),
    remarks=with_care(_stop_remarks),
)
def axle_stop(
    *,
    braked: Annotated[
        Literal["front", "rear", "all"],
        Choice(
            "Braked wheels", {"front": "front axle only", "rear": "rear axle only", "all": "all wheels, ideally shared"}
        ),
    ],
    wheelbase: Wheelbase,
    front_share: FrontShare,
    cg_height: CgHeight,
    adhesion: TyreAdhesion,
    speed: Speed,
    reaction_time: ReactionTime = 0.0,
    gravity: Gravity = STANDARD_GRAVITY,
) -> AxleStop:
    """Return deceleration and stopping distance with one axle, or all wheels, at the limit of grip: also what is left after losing a circuit.

    Equation: front only z = mu b/(L - mu h);  rear only z = mu a/(L + mu h);  all z = mu;  s = v t_r + v^2/(2 g z).
    Valid for: level road, no aerodynamic load, constant grip, both axles loaded (z < a/h).
    Caution: answers from static axle loads are wrong, by 16 % in one printed example.
    Source: moment balance, derived.

    >>> round(axle_stop(braked="rear", wheelbase=2.5, front_share=0.46, cg_height=0.6, adhesion=0.5, speed=12.5, gravity=9.81).braking_distance, 3)
    33.035
    """
    axles = Axles(front_share, cg_height / wheelbase)
    rate = axles.single_axle(braked, adhesion)
    best = axles.single_axle("all", adhesion)
    flags = (
        ("The rear axle lifts before the wheels lock: the deceleration ends there.",)
        if rate >= axles.lift * (1 - 1e-12)
        else ()
    )
    distance = speed**2 / (2 * gravity * rate)
    ideal = axles.ideal_share(rate)
    return AxleStop(
        rate * gravity,
        distance,
        speed * reaction_time + distance,
        speed / (gravity * rate),
        ideal / (1 - ideal) if ideal < 1 else None,
        rate / best,
        flags,
    )

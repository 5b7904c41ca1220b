"""Brake balance: the ideal distribution against the one the car has, and which axle locks first."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.brakes.axles import Axles
from calc.brakes.care import with_care
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Output, Remark, Step, calculator
from calc.terms import BrakeFrontShare, CarMass, CgHeight, FrontShare, TyreAdhesion, Wheelbase
from calc.units import STANDARD_GRAVITY, MetresPerSecondSquared, Newtons, Ratio

_SAME = 1e-9  # difference of limits, in g, below which both axles lock together


class BrakeBalance(NamedTuple):
    """Which axle locks first, at what deceleration, and what the balance would have to be.

    ``critical`` is the deceleration at which installed and ideal distribution cross; none when they do not cross above zero.
    """

    locks_first: Annotated[Literal["front", "rear", "both together"], Output("Axle that locks first", "")]
    limit: Annotated[MetresPerSecondSquared, Output("Deceleration at first lock", "d_{lock}", "g", 3)]
    efficiency: Annotated[Ratio, Output("Share of the grip used at first lock", "E", "%", 3)]
    ideal_share: Annotated[
        Ratio, Output("Front share that would lock both axles together at this grip", r"\varphi_i", "%", 3)
    ]
    critical: Annotated[
        MetresPerSecondSquared | None, Output("Deceleration at which the lock order changes", "d_c", "g", 3)
    ]
    front_limit: Annotated[
        MetresPerSecondSquared | None, Output("Deceleration at which the front locks", "d_f", "g", 3, detail=True)
    ]
    rear_limit: Annotated[
        MetresPerSecondSquared | None, Output("Deceleration at which the rear locks", "d_r", "g", 3, detail=True)
    ]
    front_force: Annotated[Newtons, Output("Front axle brake force at first lock", "F_f", "N", detail=True)]
    rear_force: Annotated[Newtons, Output("Rear axle brake force at first lock", "F_r", "N", detail=True)]
    flags: tuple[str, ...]


def _remarks(result: BrakeBalance, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    if result.locks_first == "rear":
        return (
            Remark(
                "The rear wheels lock first: the car may spin. Move the balance forward before driving hard.",
                "caution",
                "locks_first",
            ),
        )
    if result.efficiency < 0.85:
        return (
            Remark(
                "The front locks long before the rear does its share: safe but wasteful; some grip is left unused.",
                about="efficiency",
            ),
        )
    return (
        Remark(
            "The front locks a little before the rear, which keeps the car straight and wastes little.",
            about="locks_first",
        ),
    )


def _figures(result: BrakeBalance, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    weight = inputs["mass"] * STANDARD_GRAVITY
    axles = Axles(inputs["front_share"], inputs["cg_height"] / inputs["wheelbase"])
    lift = axles.lift
    top = min(lift, max(1.2, 1.25 * inputs["adhesion"]))
    rates = [top * i / 24 for i in range(25)]
    share = inputs["front_brake_share"]
    ideal = [weight * z * (1 - axles.ideal_share(z)) for z in rates]
    return (
        Chart(
            "Ideal and installed brake distribution",
            "Rear against front brake force. Where the straight installed line lies under the ideal curve, the front locks first; above it, the rear.",
            Axis("Front axle brake force", "N"),
            Axis("Rear axle brake force", "N"),
            (
                Series("Ideal", [weight * z * axles.ideal_share(z) for z in rates], ideal),
                Series("Installed", [weight * z * share for z in rates], [weight * z * (1 - share) for z in rates]),
                Series("First lock", [result.front_force], [result.rear_force], points=True),
            ),
        ),
    )


@calculator(
    title="Brake balance and lock order",
    question="Which axle locks first, and how much grip is left when it does?",
    example={
        "mass": "1160 kg",
        "wheelbase": "2560 mm",
        "front_share": "52.6 %",
        "cg_height": "480 mm",
        "front_brake_share": "72 %",
        "adhesion": "1.1",
    },
    working=(
        Step(r"\varphi_i = w_f + \frac{\mu_t \, h}{L}", "ideal_share"),
        Step(r"d_f = \frac{g \, \mu_t \, w_f \, L}{\varphi \, L - \mu_t \, h}", "front_limit"),
        Step(r"d_r = \frac{g \, \mu_t \, (1 - w_f) \, L}{(1 - \varphi) \, L + \mu_t \, h}", "rear_limit"),
        Step(r"E = \frac{d_{lock}}{g \, \mu_t}", "efficiency"),
        Step(r"d_c = \frac{g \, (\varphi - w_f) \, L}{h}", "critical"),
    ),
    remarks=with_care(_remarks),
    figures=_figures,
)
def brake_balance(
    *,
    mass: CarMass,
    wheelbase: Wheelbase,
    front_share: FrontShare,
    cg_height: CgHeight,
    front_brake_share: BrakeFrontShare,
    adhesion: TyreAdhesion,
) -> BrakeBalance:
    """Return which axle locks first on a given grip, and the deceleration and grip use at that moment.

    Equation: with w_f = b/L, front lock z_f = mu b / (phi L - mu h), rear lock z_r = mu a / ((1 - phi) L + mu h), the smaller comes first;
    ideal share phi_i = (b + z h) / L;  critical rate z_c = (phi L - b) / h.
    Valid for: level road, straight line, no aerodynamic load, a fixed share of brake force, the same grip on both axles, both axles loaded.
    Caution: below the critical deceleration the front locks first, above it the rear. Rain moves you down the scale, slicks move you up.
    Source: moment balance; Limpert, Brake Design and Safety, 1999, and UN R13-H, Annex 5, for the terms (from memory).

    >>> answer = brake_balance(mass=1000, wheelbase=2.5, front_share=0.5, cg_height=0.5, front_brake_share=0.7, adhesion=1.0)
    >>> answer.locks_first, round(answer.efficiency, 6)
    ('both together', 1.0)
    """
    axles = Axles(front_share, cg_height / wheelbase)
    lift = axles.lift
    flags: tuple[str, ...] = ()
    front, rear = axles.front_lock(front_brake_share, adhesion), axles.rear_lock(front_brake_share, adhesion)
    limits = [rate for rate in (front, rear) if rate is not None]
    rate = min(limits, default=lift)
    if rate >= lift:
        flags = (
            "The rear axle lifts before any wheel locks: all the load is on the front wheels and the formula ends there.",
        )
        rate = lift
    critical = axles.critical(front_brake_share)
    weight = mass * STANDARD_GRAVITY
    return BrakeBalance(
        locks_first=_first(front, rear),
        limit=rate * STANDARD_GRAVITY,
        efficiency=rate / adhesion,
        ideal_share=min(1.0, axles.ideal_share(adhesion)),
        critical=critical * STANDARD_GRAVITY if critical > 0 else None,
        front_limit=None if front is None else front * STANDARD_GRAVITY,
        rear_limit=None if rear is None else rear * STANDARD_GRAVITY,
        front_force=front_brake_share * rate * weight,
        rear_force=(1 - front_brake_share) * rate * weight,
        flags=flags,
    )


def _first(front: float | None, rear: float | None) -> Literal["front", "rear", "both together"]:
    if front is not None and rear is not None and abs(front - rear) <= _SAME:
        return "both together"
    return "front" if rear is None or (front is not None and front < rear) else "rear"

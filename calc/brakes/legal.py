"""Approval curves and distances as a help, never as a verdict: the text of the regulation and the local code decide."""

from collections.abc import Callable, Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.brakes.axles import Axles
from calc.brakes.care import with_care
from calc.brakes.terms import Speed
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.terms import BrakeFrontShare, CgHeight, FrontShare, Wheelbase
from calc.units import STANDARD_GRAVITY, Metres, MetresPerSecond, MetresPerSecondSquared, Ratio

ADVICE = Remark(
    "Type-approval text and local code decide; track rules may differ. These curves are from memory: read the text itself before relying on them.",
    "caution",
)
Category = Literal["passenger car", "heavier vehicle", "motorcycle", "trailer", "more than two axles"]
_GRIPS = [0.2 + 0.6 * i / 2400 for i in range(2401)]  # 0.2 to 0.8


def passenger_grip(rate: float) -> float:
    """Return the most grip the harder working axle may use, UN R13-H Annex 5: z >= 0.1 + 0.7 (k - 0.2) (from memory).

    >>> round(passenger_grip(0.52), 6)
    0.8
    """
    return (rate + 0.04) / 0.7


def heavy_grip(rate: float) -> float:
    """Return the same for UN R13: z >= 0.1 + 0.85 (k - 0.2), read in a national text of 1955.

    >>> round(heavy_grip(0.1), 6)
    0.2
    """
    return (rate - 0.1) / 0.85 + 0.2


class LegalCurves(NamedTuple):
    """Whether the curves are met, and by how much. Advisory only."""

    rear_below_front: Annotated[Literal["yes", "no"], Output("Rear curve nowhere above the front, z 0.15 to 0.80", "")]
    efficiency_met: Annotated[Literal["yes", "no"], Output("Least braking rate met, grip 0.2 to 0.8", "")]
    smallest_margin: Annotated[Ratio, Output("Smallest margin in braking rate", r"\Delta z", "", 4)]
    margin_grip: Annotated[Ratio, Output("Grip at that margin", "k", "", 3)]
    critical: Annotated[MetresPerSecondSquared, Output("Deceleration at which the lock order changes", "d_c", "g", 4)]


def least_rate(category: str, grip: float) -> float:
    """Return the least braking rate a category asks for at a grip."""
    return 0.1 + (0.7 if category == "passenger car" else 0.85) * (grip - 0.2)


def _remarks(result: LegalCurves, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [ADVICE]
    if result.rear_below_front == "no":
        remarks.append(Remark("The rear axle would lead at a deceleration below 0.8 g.", "caution", "rear_below_front"))
    return tuple(remarks)


def _figures(result: LegalCurves, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    axles = Axles(inputs["front_share"], inputs["cg_height"] / inputs["wheelbase"])
    share = inputs["front_brake_share"]
    rates = [min(0.85, 0.95 * axles.lift) * i / 24 for i in range(25)]
    limit: Callable[[float], float] = passenger_grip if inputs["category"] == "passenger car" else heavy_grip
    bound = [z for z in rates if 0.1 <= z <= 0.61]
    return (
        Chart(
            "Grip used against the approval curve",
            "The higher of the two axle curves should stay below the limit, and the rear below the front.",
            Axis("Braking rate, deceleration over g"),
            Axis("Grip used"),
            (
                Series("Front axle", rates, [axles.front_use(share, z) for z in rates]),
                Series("Rear axle", rates, [axles.rear_use(share, z) for z in rates]),
                *((Series("Limit", bound, [limit(z) for z in bound]),) if bound else ()),
            ),
        ),
    )


@calculator(
    title="Approval curves for the balance",
    question="How does this brake balance lie against the adhesion curves of the braking regulations?",
    example={
        "category": "passenger car",
        "wheelbase": "2510 mm",
        "front_share": "61 %",
        "cg_height": "520 mm",
        "front_brake_share": "78 %",
    },
    working=(
        Step(r"d_c = \frac{g \, (\varphi L - b)}{h}", "critical"),
        Step(r"\Delta z = \min_k \; [z(k) - 0.1 - 0.7 \, (k - 0.2)]", "smallest_margin"),
    ),
    remarks=with_care(_remarks),
    figures=_figures,
)
def legal_curves(
    *,
    category: Annotated[
        Category,
        Choice(
            "Kind of vehicle",
            {
                "passenger car": "two-axle passenger car without anti-lock (UN R13-H)",
                "heavier vehicle": "heavier two-axle vehicle (UN R13)",
                "motorcycle": "motorcycle",
                "trailer": "trailer",
                "more than two axles": "more than two axles",
            },
        ),
    ],
    wheelbase: Wheelbase,
    front_share: FrontShare,
    cg_height: CgHeight,
    front_brake_share: BrakeFrontShare,
) -> LegalCurves:
    """Return how a fixed brake balance lies against the adhesion curves, for one state of load. A help, not an approval.

    Equation: passenger car: z >= 0.1 + 0.7 (k - 0.2) for k 0.2 to 0.8, rear use not above front use for z 0.15 to 0.80;  heavier: 0.85 for 0.7.
    Valid for: two axles, no anti-lock system, a fixed share, this state of load: ask again for the lightest and the heaviest one.
    Caution: never call a result legal. Motorcycles, trailers and vehicles of more axles are refused: other curves apply.
    Source: UN R13-H, Annex 5 (from memory); French order of 18 August 1955, annex (read), for the heavier curve.

    >>> legal_curves(category="passenger car", wheelbase=2.6, front_share=1.35/2.6, cg_height=0.5, front_brake_share=0.6).rear_below_front
    'no'
    """
    if category not in ("passenger car", "heavier vehicle"):
        raise Refused(
            "category",
            "must be a two-axle car: these curves do not apply",
            category,
            hint="See the text that applies to it.",
        )
    axles = Axles(front_share, cg_height / wheelbase)
    margin, grip = min((axles.first_lock(front_brake_share, k) - least_rate(category, k), k) for k in _GRIPS)
    critical = axles.critical(front_brake_share)
    return LegalCurves(
        "yes" if critical >= 0.8 else "no",
        "yes" if margin >= -1e-12 else "no",
        margin,
        grip,
        critical * STANDARD_GRAVITY,
    )


class StoppingLimits(NamedTuple):
    """The longest stop a regulation allows, and the steady deceleration in it."""

    distance: Annotated[Metres, Output("Longest stop, brakes sound", "s", "m")]
    deceleration: Annotated[MetresPerSecondSquared, Output("Least mean deceleration, brakes sound", "d_m", "m/s²", 3)]
    failed_distance: Annotated[Metres, Output("Longest stop, one circuit or the booster failed", "s_2", "m")]
    failed_deceleration: Annotated[MetresPerSecondSquared, Output("Least mean deceleration then", "d_{m2}", "m/s²", 3)]


# Metres, with the speed in m/s: 0.10 V + 0.0060 V^2 and 0.10 V + 0.0158 V^2 with V in km/h.
_DELAY, _SOUND, _FAILED = 0.1 * 3.6, 0.006 * 3.6**2, 0.0158 * 3.6**2  # s, s²/m, s²/m


@calculator(
    title="Stopping distances of the regulations",
    question="In what distance must a passenger car stop from this speed, sound and with a failure?",
    example={"speed": "100 km/h"},
    working=(
        Step(r"s = 0.10 \, V + 0.0060 \, V^2", "distance"),
        Step(r"s_2 = 0.10 \, V + 0.0158 \, V^2", "failed_distance"),
    ),
    remarks=with_care(lambda result, inputs: (ADVICE,)),
)
def stopping_limits(*, speed: Speed) -> StoppingLimits:
    """Return the longest stops that passenger car braking regulations allow.

    Equation: V in km/h: s = 0.10 V + 0.0060 V^2, with a failed circuit or booster 0.10 V + 0.0158 V^2;  mean deceleration V^2/25.92 over the square part.
    Valid for: service brake tests from 100 km/h with 65 to 500 N on the pedal; other speeds only to compare.
    Caution: advisory. Hot brakes are allowed 60 % of the cold figure; recovery has limits of its own.
    Source: UN R13-H, Annex 3, and FMVSS 135: 70 m and 500 N looked up, the rest from memory.

    >>> round(stopping_limits(speed=100 / 3.6).distance, 6)
    70.0
    """
    return StoppingLimits(
        _DELAY * speed + _SOUND * speed**2, 1 / (2 * _SOUND), _DELAY * speed + _FAILED * speed**2, 1 / (2 * _FAILED)
    )


class MeanDeceleration(NamedTuple):
    """Mean fully developed deceleration between eight tenths and one tenth of the first speed."""

    mfdd: Annotated[MetresPerSecondSquared, Output("Mean fully developed deceleration", "d_m", "m/s²", 4)]
    high_speed: Annotated[MetresPerSecond, Output("Eight tenths of the speed", "v_b", "km/h", 4, detail=True)]
    low_speed: Annotated[MetresPerSecond, Output("One tenth of the speed", "v_e", "km/h", 4, detail=True)]


@calculator(
    title="Mean fully developed deceleration",
    question="What steady deceleration did a measured stop reach?",
    example={"speed": "100 km/h", "high_distance": "22.5 m", "low_distance": "61.2 m"},
    working=(Step(r"d_m = \frac{v_b^2 - v_e^2}{2 \, (s_e - s_b)}", "mfdd"),),
    remarks=with_care(),
)
def mean_deceleration(
    *,
    speed: Speed,
    high_distance: Annotated[
        Metres, Input("Distance covered when the speed is 0.8 of it", "s_b", "m", at_least=0, at_most=1e5)
    ],
    low_distance: Annotated[
        Metres, Input("Distance covered when the speed is 0.1 of it", "s_e", "m", above=0, at_most=1e5)
    ],
) -> MeanDeceleration:
    """Return the mean fully developed deceleration of a measured stop.

    Equation: d_m = (v_b^2 - v_e^2)/(2 (s_e - s_b)), v_b = 0.8 v_0, v_e = 0.1 v_0; with km/h the 2 becomes 25.92.
    Valid for: a stop on a level, even surface, distances measured from the same point.
    Source: UN R13-H (looked up).

    >>> round(mean_deceleration(speed=100 / 3.6, high_distance=22.5, low_distance=61.2).mfdd, 4)
    6.2805
    """
    if low_distance <= high_distance:
        raise Refused(
            "low_distance", f"must be greater than the first distance, {high_distance:g} m", f"{low_distance:g} m"
        )
    high, low = 0.8 * speed, 0.1 * speed
    return MeanDeceleration((high**2 - low**2) / (2 * (low_distance - high_distance)), high, low)

"""Lock order with tyres that lose grip as load grows: the loaded front axle holds less than the simple sum says."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.brakes.axles import Axles
from calc.brakes.care import with_care
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.numeric.roots import crossing
from calc.refusal import Refused
from calc.terms import BrakeFrontShare, CarMass, CgHeight, FrontShare, TyreAdhesion, Wheelbase
from calc.units import STANDARD_GRAVITY, MetresPerSecondSquared, Newtons, Ratio


class Tyre(NamedTuple):
    """Grip that falls in a straight line with the load of a wheel."""

    grip: float
    loss: float
    load: float

    def holds(self, axle_load: float) -> float:
        """Return the force both tyres of an axle hold: 2 mu(N) N with N half the axle's load."""
        return axle_load * self.grip * (1 - self.loss * (axle_load / 2 / self.load - 1))


class SensitiveBalance(NamedTuple):
    """First lock and ideal share with load-sensitive tyres, next to those with constant grip."""

    locks_first: Annotated[Literal["front", "rear", "neither"], Output("Axle that locks first", "")]
    limit: Annotated[MetresPerSecondSquared, Output("Deceleration at first lock", "d_{lock}", "g", 3)]
    ideal_share: Annotated[Ratio, Output("Front share that locks both together", r"\varphi_i", "%")]
    ideal_limit: Annotated[MetresPerSecondSquared, Output("Deceleration then", "d_i", "g", 3)]
    constant_share: Annotated[Ratio, Output("Ideal share that constant grip would say", r"\varphi_0", "%")]
    difference: Annotated[Ratio, Output("Points of share between the two", r"\Delta\varphi", "%", 3)]
    front_grip: Annotated[Ratio, Output("Grip of the front tyres at the limit", r"\mu_f", "", 3)]
    rear_grip: Annotated[Ratio, Output("Grip of the rear tyres at the limit", r"\mu_r", "", 3)]
    flags: tuple[str, ...]


class _Case(NamedTuple):
    axles: Axles
    weight: float
    tyre: Tyre

    def loads(self, rate: float) -> tuple[float, float]:
        front = self.weight * self.axles.ideal_share(rate)
        return front, self.weight - front

    def first(self, share: float) -> tuple[str, float]:
        """Return the axle whose demand first meets what its tyres hold, and the braking rate then."""
        found = [("neither", self.axles.lift)]
        for name, part, which in (("front", share, 0), ("rear", 1 - share, 1)):
            rate = self._lock(part, which)
            if rate is not None and part > 0:
                found.append((name, rate))
        return min(found, key=lambda each: each[1])

    def _lock(self, part: float, which: int) -> float | None:
        """Return the braking rate where a part of the brake force meets what one axle holds."""

        def over(rate: float) -> float:
            return part * rate * self.weight - self.tyre.holds(self.loads(rate)[which])

        return crossing(over, 0.0, self.axles.lift)

    def both(self) -> float:
        """Return the braking rate with both axles at the limit."""
        rate = crossing(
            lambda z: z * self.weight - sum(self.tyre.holds(load) for load in self.loads(z)), 0.0, self.axles.lift
        )
        return self.axles.lift if rate is None else rate


def _case(inputs: Mapping[str, Any]) -> _Case:
    return _Case(
        Axles(inputs["front_share"], inputs["cg_height"] / inputs["wheelbase"]),
        inputs["mass"] * STANDARD_GRAVITY,
        Tyre(inputs["adhesion"], inputs["sensitivity"], inputs["reference_load"]),
    )


def _remarks(result: SensitiveBalance, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark(
            f"Load sensitivity moves the ideal share by {100 * result.difference:+.1f} points: the loaded axle gives less than its share of the load.",
            about="difference",
        )
    ]
    if result.locks_first == "rear":
        remarks.append(Remark("The rear axle locks first: the car may spin.", "caution", "locks_first"))
    return tuple(remarks)


def _figures(result: SensitiveBalance, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    case = _case(inputs)
    top = min(0.95 * case.axles.lift, 1.6)
    rates = [top * i / 24 for i in range(25)]
    held = [[case.tyre.holds(load) for load in case.loads(z)] for z in rates]
    share = inputs["front_brake_share"]
    return (
        Chart(
            "What the tyres hold and what the brakes ask",
            "An axle locks where its brake line crosses what its tyres hold.",
            Axis("Braking rate, deceleration over g"),
            Axis("Axle force", "N"),
            (
                Series("Front tyres hold", rates, [h[0] for h in held]),
                Series("Front brakes", rates, [share * z * case.weight for z in rates]),
                Series("Rear tyres hold", rates, [h[1] for h in held]),
                Series("Rear brakes", rates, [(1 - share) * z * case.weight for z in rates]),
            ),
        ),
    )


@calculator(
    title="Balance with load-sensitive tyres",
    question="Which axle locks first when the tyres lose grip as their load grows?",
    example={
        "mass": "1160 kg",
        "wheelbase": "2560 mm",
        "front_share": "52.6 %",
        "cg_height": "480 mm",
        "front_brake_share": "72 %",
        "adhesion": "1.15",
        "sensitivity": "0.12",
        "reference_load": "2850 N",
    },
    working=(
        Step(r"\mu(N) = \mu_0 \left[1 - k \, \frac{N - N_0}{N_0}\right]", "front_grip"),
        Step(r"\varphi \, z \, W = \mu(N_f/2) \, N_f, \quad N_f = W \, \frac{b + z h}{L}", "limit"),
        Step(r"\varphi_i = \frac{\mu_f N_f}{\mu_f N_f + \mu_r N_r}", "ideal_share"),
    ),
    remarks=with_care(_remarks),
    figures=_figures,
)
def load_sensitive_balance(
    *,
    mass: CarMass,
    wheelbase: Wheelbase,
    front_share: FrontShare,
    cg_height: CgHeight,
    front_brake_share: BrakeFrontShare,
    adhesion: TyreAdhesion,
    sensitivity: Annotated[
        Ratio,
        Input("Grip lost when the load of a wheel doubles", "k", "", at_least=0, at_most=0.5, typical=(0.05, 0.2)),
    ],
    reference_load: Annotated[
        Newtons, Input("Wheel load at which the grip is that", "N_0", "N", above=0, at_most=1e5, typical=(1000, 6000))
    ],
) -> SensitiveBalance:
    """Return the first lock and the ideal front share with tyres whose grip falls with load.

    Equation: mu(N) = mu_0 [1 - k (N - N_0)/N_0] for each wheel;  lock where share z W = mu N of an axle, N_f = W (b + z h)/L;
    ideal share = front force over the whole with both axles at the limit.
    Valid for: loads near those tested, left and right alike, level road, no aerodynamic load.
    Source: k 0.05 to 0.2 is common practice, no source; roots by bisection.

    >>> answer = load_sensitive_balance(mass=1000, wheelbase=2.5, front_share=0.5, cg_height=0.5, front_brake_share=0.7, adhesion=1.0,
    ...     sensitivity=0.0, reference_load=2500)
    >>> round(answer.ideal_share, 6), round(answer.constant_share, 6)
    (0.7, 0.7)
    """
    case = _case(locals())
    heaviest = case.weight / 2
    if 1 - sensitivity * (heaviest / reference_load - 1) <= 0.1:
        raise Refused(
            "sensitivity",
            "must leave grip with the whole car on one axle: this line falls to nothing",
            f"{sensitivity:g}",
        )
    first, rate = case.first(front_brake_share)
    both = case.both()
    loads = case.loads(both)
    held = [case.tyre.holds(load) for load in loads]
    ideal, constant = held[0] / sum(held), min(1.0, case.axles.ideal_share(adhesion))
    flags = ("The rear axle lifts before its tyres let go.",) if first == "neither" or both >= case.axles.lift else ()
    return SensitiveBalance(
        "front" if first == "front" else "rear" if first == "rear" else "neither",
        rate * STANDARD_GRAVITY,
        ideal,
        both * STANDARD_GRAVITY,
        constant,
        ideal - constant,
        held[0] / loads[0],
        held[1] / loads[1] if loads[1] > 0 else adhesion,
        flags,
    )

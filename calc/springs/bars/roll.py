"""Roll stiffness of both axles from springs, bars and tyres."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.rates import in_series
from calc.refusal import Refused
from calc.springs.bars.rate import OneWheel
from calc.terms import FrontTrack, RearTrack
from calc.units import STANDARD_GRAVITY, Kilograms, Metres, NewtonMetresPerRadian, NewtonsPerMetre, Ratio

Suspension = Literal["independent", "live_axle"]
_WORDS = {
    "independent": "independent: rate at each wheel",
    "live_axle": "live axle: rate of each spring, at the spring base",
}
_BAR_HELP = "At the wheel, one wheel moved and the other held; 0 if there is none."


class Axle(NamedTuple):
    """Roll stiffness of one axle, in N m/rad, part by part."""

    springs: float
    bar: float
    tyres: float

    @property
    def suspension(self) -> float:
        """Springs and bar together."""
        return self.springs + self.bar

    @property
    def total(self) -> float:
        """Suspension in series with the tyres."""
        return in_series(self.suspension, self.tyres)


def axle(*, rate: float, base: float, bar: OneWheel, tyre: float, track: float) -> Axle:
    """Return an axle whose two springs of ``rate`` stand ``base`` apart: the track if they count at the wheels.

    >>> round(axle(rate=28e3, base=1.46, bar=OneWheel(9e3), tyre=220e3, track=1.46).total, 1)
    40548.5
    """
    return Axle(rate * base**2 / 2, bar.roll(track).stiffness, tyre * track**2 / 2)


class RollStiffness(NamedTuple):
    """Roll stiffness of the car. Totals hold the tyres in series."""

    front: Annotated[NewtonMetresPerRadian, Output("Front roll stiffness", "K_f", "N·m/deg")]
    rear: Annotated[NewtonMetresPerRadian, Output("Rear roll stiffness", "K_r", "N·m/deg")]
    total: Annotated[NewtonMetresPerRadian, Output("Total", "K", "N·m/deg")]
    front_share: Annotated[Ratio, Output("Front share", "", "%", 3)]
    net: Annotated[
        NewtonMetresPerRadian | None, Output("Total less the overturning of the sprung mass", "K_n", "N·m/deg")
    ]
    front_springs: Annotated[NewtonMetresPerRadian, Output("Front springs", "K_{sf}", "N·m/deg", detail=True)]
    front_bar: Annotated[NewtonMetresPerRadian, Output("Front bar", "K_{bf}", "N·m/deg", detail=True)]
    front_tyres: Annotated[NewtonMetresPerRadian, Output("Front tyres", "K_{tf}", "N·m/deg", detail=True)]
    rear_springs: Annotated[NewtonMetresPerRadian, Output("Rear springs", "K_{sr}", "N·m/deg", detail=True)]
    rear_bar: Annotated[NewtonMetresPerRadian, Output("Rear bar", "K_{br}", "N·m/deg", detail=True)]
    rear_tyres: Annotated[NewtonMetresPerRadian, Output("Rear tyres", "K_{tr}", "N·m/deg", detail=True)]


def _remarks(result: RollStiffness, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    bars = (result.front_bar + result.rear_bar) / (
        result.front_springs + result.rear_springs + result.front_bar + result.rear_bar
    )
    remarks = [
        Remark(
            f"Bars give {100 * bars:.0f} % of what springs and bars give together; the rest acts on bumps as well.",
            about="total",
        )
    ]
    remarks.append(
        Remark(
            "The split of the elastic load transfer follows this share; the whole transfer also has its geometric and unsprung parts.",
            about="front_share",
        )
    )
    return tuple(remarks)


def _figures(result: RollStiffness, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    here = inputs["front_bar"]
    bars = [max(2 * here, 20e3) * i / 20 for i in range(21)]
    shares = [roll_stiffness(**{**inputs, "front_bar": bar, "sprung_mass": None}).front_share for bar in bars]
    return (
        Chart(
            "Front share against the front bar",
            "A stiffer front bar moves the share of the roll stiffness forward, less and less as the tyres take over.",
            Axis("Front bar, one wheel moved", "N/mm"),
            Axis("Front share", "%"),
            (Series("Front share", bars, shares), Series("Here", [here], [result.front_share], points=True)),
        ),
    )


def _rate(which: str, symbol: str) -> Input:
    return Input(f"{which} wheel rate, or spring rate of a live axle", symbol, "N/mm", above=0, typical=(10e3, 200e3))


@calculator(
    title="Roll stiffness of the car",
    question="How stiff is each axle in roll, and how is it shared?",
    example={
        "front_rate": "52.9 N/mm",
        "front_bar": "9 N/mm",
        "front_tyre": "210 N/mm",
        "front_track": "1510 mm",
        "rear_rate": "48 N/mm",
        "rear_bar": "3 N/mm",
        "rear_tyre": "220 N/mm",
        "rear_track": "1520 mm",
        "sprung_mass": "1012 kg",
        "cg_above_roll_axis": "390 mm",
    },
    working=(
        Step(r"K_{sf} = \frac{k_f \, t_f^2}{2}", "front_springs"),
        Step(r"K_{bf} = k_{bf} \, t_f^2", "front_bar"),
        Step(r"K_{tf} = \frac{k_{tf} \, t_f^2}{2}", "front_tyres"),
        Step(r"\frac{1}{K_f} = \frac{1}{K_{sf} + K_{bf}} + \frac{1}{K_{tf}}", "front"),
        Step(r"K = K_f + K_r", "total"),
        Step(r"K_n = K - m_s \, g \, d", "net"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def roll_stiffness(
    *,
    front_suspension: Annotated[Suspension, Choice("Front suspension", _WORDS)] = "independent",
    front_rate: Annotated[NewtonsPerMetre, _rate("Front", "k_f")],
    front_spring_base: Annotated[
        Metres | None,
        Input("Front spring base", "b_f", "mm", above=0, help="Live axle only: distance between the springs."),
    ] = None,
    front_bar: Annotated[
        NewtonsPerMetre, Input("Front bar", "k_{bf}", "N/mm", at_least=0, typical=(0, 100e3), help=_BAR_HELP)
    ] = 0.0,
    front_tyre: Annotated[
        NewtonsPerMetre, Input("Vertical rate of a front tyre", "k_{tf}", "N/mm", above=0, typical=(120e3, 400e3))
    ],
    front_track: FrontTrack,
    rear_suspension: Annotated[Suspension, Choice("Rear suspension", _WORDS)] = "independent",
    rear_rate: Annotated[NewtonsPerMetre, _rate("Rear", "k_r")],
    rear_spring_base: Annotated[
        Metres | None,
        Input("Rear spring base", "b_r", "mm", above=0, help="Live axle only: distance between the springs."),
    ] = None,
    rear_bar: Annotated[
        NewtonsPerMetre, Input("Rear bar", "k_{br}", "N/mm", at_least=0, typical=(0, 100e3), help=_BAR_HELP)
    ] = 0.0,
    rear_tyre: Annotated[
        NewtonsPerMetre, Input("Vertical rate of a rear tyre", "k_{tr}", "N/mm", above=0, typical=(120e3, 400e3))
    ],
    rear_track: RearTrack,
    sprung_mass: Annotated[
        Kilograms | None,
        Input(
            "Sprung mass of the car",
            "m_s",
            "kg",
            above=0,
            typical=(300, 1800),
            help="With the height below: checks that the car stands.",
        ),
    ] = None,
    cg_above_roll_axis: Annotated[
        Metres, Input("Height of the sprung centre of gravity above the roll axis", "d", "mm", typical=(0.1, 0.6))
    ] = 0.0,
) -> RollStiffness:
    """Return the roll stiffness of both axles and its front share.

    Equation: springs k_w t^2 / 2, live axle k_s b^2 / 2; bar k_1 t^2; tyres k_t t^2 / 2; axle 1/K = 1/(K_springs + K_bar) + 1/K_tyres.
    Signs: rates are of one wheel, or of one spring of a live axle; the bar's is at one wheel with the other held.
    Valid for: small roll angles, linear springs, all wheels on the ground, a stiff body between the axles.
    Caution: typical totals are 300 to 1200 N m/deg at the front of club cars (common practice, no source); a number far off is most often a factor of 2 at the bar.
    Source: statics; Milliken and Milliken, Race Car Vehicle Dynamics, 1995, chapter 16 (from memory).

    >>> car = dict(front_rate=28e3, front_bar=9e3, front_tyre=220e3, front_track=1.46, rear_rate=28e3, rear_tyre=220e3, rear_track=1.46)
    >>> round(roll_stiffness(**car).front, 1)
    40548.5
    """
    front = axle(
        rate=front_rate,
        base=_base("front", front_suspension, front_spring_base, front_track),
        bar=OneWheel(front_bar),
        tyre=front_tyre,
        track=front_track,
    )
    rear = axle(
        rate=rear_rate,
        base=_base("rear", rear_suspension, rear_spring_base, rear_track),
        bar=OneWheel(rear_bar),
        tyre=rear_tyre,
        track=rear_track,
    )
    total = front.total + rear.total
    overturning = None if sprung_mass is None else sprung_mass * STANDARD_GRAVITY * cg_above_roll_axis
    if overturning is not None and total <= overturning:
        text = f"must keep m g d below the total roll stiffness, {quantity(total, 'N·m/deg')}"
        raise Refused(
            "sprung_mass",
            text,
            f"m g d of {quantity(overturning, 'N·m/deg')}",
            hint="This car would fall over at rest.",
        )
    return RollStiffness(
        front=front.total,
        rear=rear.total,
        total=total,
        front_share=front.total / total,
        net=None if overturning is None else total - overturning,
        front_springs=front.springs,
        front_bar=front.bar,
        front_tyres=front.tyres,
        rear_springs=rear.springs,
        rear_bar=rear.bar,
        rear_tyres=rear.tyres,
    )


def _base(end: str, suspension: Suspension, base: float | None, track: float) -> float:
    """Return the distance the springs act over: the track, or the spring base of a live axle."""
    if suspension == "independent":
        return track
    if base is None:
        raise Refused(f"{end}_spring_base", "is needed for a live axle", hint="The distance between its two springs.")
    return base

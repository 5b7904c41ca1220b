"""The three rates a bar can be quoted by, each a type of its own, and the way from one to the others.

A bar answers only to the difference of travel between its wheels. The same bar therefore has three numbers:
one wheel moved and the other held, both moved oppositely, and the moment of the axle in roll. They differ by 2 and by the track.
"""

from typing import Annotated, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.units import Metres, NewtonMetresPerRadian, NewtonsPerMetre


class OneWheel(NamedTuple):
    """Force at a wheel for each metre it moves while the other is held: N/m. It is also force per metre of difference."""

    rate: float

    def opposite(self) -> "Opposite":
        """Return the rate with both wheels moving oppositely: the difference is twice the travel of either."""
        return Opposite(2 * self.rate)

    def roll(self, track: float) -> "Roll":
        """Return the roll stiffness on a track: a couple of forces k t phi at a distance t."""
        return Roll(self.rate * track**2)


class Opposite(NamedTuple):
    """Force at each wheel for each metre that wheel moves, the other moving as far the other way: N/m."""

    rate: float

    def one_wheel(self) -> OneWheel:
        """Return the rate with one wheel held."""
        return OneWheel(self.rate / 2)


class Roll(NamedTuple):
    """Moment of the axle for each radian of roll: N m/rad."""

    stiffness: float

    def one_wheel(self, track: float) -> OneWheel:
        """Return the rate with one wheel held, on a track."""
        return OneWheel(self.stiffness / track**2)


def at_wheel(end_rate: float, motion_ratio: float) -> OneWheel:
    """Return a bar's rate at the wheel from the force per metre of difference at its own ends.

    >>> at_wheel(25e3, 0.6).opposite().rate
    18000.0
    """
    return OneWheel(end_rate * motion_ratio**2)


class BarRates(NamedTuple):
    """One bar, three numbers."""

    one_wheel: Annotated[NewtonsPerMetre, Output("One wheel moved, the other held", "k_1", "N/mm")]
    opposite: Annotated[NewtonsPerMetre, Output("Both moved oppositely, for each wheel", "k_2", "N/mm")]
    roll: Annotated[NewtonMetresPerRadian, Output("Roll stiffness", r"K_\varphi", "N·m/deg")]


def _remarks(result: BarRates, inputs: object) -> tuple[Remark, ...]:
    return (
        Remark(
            "Ask of every bar rate which of these it is: the factor of 2 between the first two is the commonest mistake with bars.",
            "caution",
            "one_wheel",
        ),
    )


def _figures(result: BarRates, inputs: object) -> tuple[Figure, ...]:
    travel = [0.005 * i for i in range(7)]
    series = (
        Series("Other wheel held", travel, [result.one_wheel * z for z in travel]),
        Series("Other wheel moved as far the other way", travel, [result.opposite * z for z in travel]),
        Series("Other wheel moved along", travel, [0.0 for _ in travel]),
    )
    text = "The same bar at one wheel: held apart it gives one force, opposed twice that, and along with the other nothing."
    return (
        Chart("Force of the bar at one wheel", text, Axis("Travel of that wheel", "mm"), Axis("Force", "N"), series),
    )


@calculator(
    title="Three meanings of a bar rate",
    question="Which of the three bar rates is this number, and what are the other two?",
    example={"track": "1510 mm", "one_wheel_rate": "9 N/mm"},
    working=(Step(r"k_2 = 2 \, k_1", "opposite"), Step(r"K_\varphi = k_1 \, t^2", "roll")),
    remarks=_remarks,
    figures=_figures,
)
def bar_rates(
    *,
    track: Annotated[Metres, Input("Track of the axle", "t", "mm", above=0, typical=(1.2, 1.8))],
    one_wheel_rate: Annotated[
        NewtonsPerMetre | None,
        Input("One wheel moved, the other held", "k_1", "N/mm", at_least=0, help="Give one of the three."),
    ] = None,
    opposite_rate: Annotated[
        NewtonsPerMetre | None, Input("Both moved oppositely, for each wheel", "k_2", "N/mm", at_least=0)
    ] = None,
    roll_stiffness: Annotated[
        NewtonMetresPerRadian | None, Input("Roll stiffness of the bar", r"K_\varphi", "N·m/deg", at_least=0)
    ] = None,
) -> BarRates:
    """Return all three rates of a bar at the wheels from any one of them.

    Equation: k_2 = 2 k_1;  K = k_1 t^2 = k_2 t^2 / 2.
    Signs: k_1 is force at a wheel for each metre it moves with the other held, the same as force for each metre of difference.
    Valid for: a bar whose links stay square to its arms; rates at the wheels, not at the ends of the bar.
    Source: statics.

    >>> answer = bar_rates(track=1.5, opposite_rate=18e3)
    >>> answer.one_wheel, answer.roll
    (9000.0, 20250.0)
    """
    given = [
        name
        for name, value in (
            ("one_wheel_rate", one_wheel_rate),
            ("opposite_rate", opposite_rate),
            ("roll_stiffness", roll_stiffness),
        )
        if value is not None
    ]
    if len(given) != 1:
        raise Refused(
            given[1] if given else "one_wheel_rate", "must be the only one of the three given", f"{len(given)} given"
        )
    if one_wheel_rate is not None:
        bar = OneWheel(one_wheel_rate)
    elif opposite_rate is not None:
        bar = Opposite(opposite_rate).one_wheel()
    else:
        bar = Roll(roll_stiffness or 0.0).one_wheel(track)
    return BarRates(bar.rate, bar.opposite().rate, bar.roll(track).stiffness)

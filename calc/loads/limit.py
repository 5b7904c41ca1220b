"""Limit balance: which end gives up first, and how springs and bars move it."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.loads.grip import Exponent, Form, Friction, ReferenceLoad, Sensitivity, friction_input, of_form, pair_force
from calc.loads.lateral import lift_flags
from calc.loads.roll import RollAxle, roll
from calc.loads.terms import (
    ChassisStiffness,
    FrontRollCentre,
    FrontTyreRate,
    FrontWheelRate,
    LateralAcceleration,
    RearRollCentre,
    RearTyreRate,
    RearWheelRate,
    SprungFrontShare,
    SprungHeight,
    SprungMass,
    UnsprungFront,
    UnsprungFrontHeight,
    UnsprungRear,
    UnsprungRearHeight,
)
from calc.numeric.roots import crossing
from calc.rates import axle_roll_stiffness
from calc.terms import FrontTrack, RearTrack
from calc.units import STANDARD_GRAVITY, MetresPerSecondSquared, NewtonMetresPerRadian, Newtons, NewtonsPerMetre, Ratio

_TOGETHER = 1e-3  # g, below which both ends are said to give up together


class LimitBalance(NamedTuple):
    """Which end gives up first, and by how much."""

    balance_index: Annotated[Ratio, Output("Limit balance index at this lateral acceleration", "B", "", 3)]
    gives_up_first: Annotated[Literal["front", "rear", "both together"], Output("The end that gives up first", "")]
    limit: Annotated[MetresPerSecondSquared, Output("Lateral acceleration the weaker end holds", "a_{lim}", "g", 3)]
    front_limit: Annotated[MetresPerSecondSquared, Output("The front alone would hold", "a_f", "g", 3)]
    rear_limit: Annotated[MetresPerSecondSquared, Output("The rear alone would hold", "a_r", "g", 3)]
    front_transfer_share: Annotated[Ratio | None, Output("Front share of the load transfer", r"\lambda", "%", 3)]
    front_force: Annotated[Newtons, Output("Side force the front can hold here", "F_{yf}", "N")]
    rear_force: Annotated[Newtons, Output("Side force the rear can hold here", "F_{yr}", "N")]
    front_roll_stiffness: Annotated[
        NewtonMetresPerRadian,
        Output("Roll stiffness of the front axle, tyres in series", "K_f", "N·m/deg", detail=True),
    ]
    rear_roll_stiffness: Annotated[
        NewtonMetresPerRadian, Output("Roll stiffness of the rear axle, tyres in series", "K_r", "N·m/deg", detail=True)
    ]
    front_transfer: Annotated[Newtons, Output("Load moved across the front axle", r"\Delta F_f", "N", detail=True)]
    rear_transfer: Annotated[Newtons, Output("Load moved across the rear axle", r"\Delta F_r", "N", detail=True)]
    flags: tuple[str, ...]


class _Car(NamedTuple):
    """Both axles in roll, the chassis between them, and the friction of each end."""

    axles: tuple[RollAxle, RollAxle]
    chassis: float | None
    frictions: tuple[Friction, Friction]

    def forces(self, lateral: float) -> tuple[float, float]:
        """Return the side force each axle can hold with the load transfer of a lateral acceleration."""
        moved = roll(self.axles, self.chassis, lateral, gravity=True, blame="front_wheel_rate").totals(
            self.axles, lateral
        )
        front, rear = (
            pair_force(mu, axle.half_load, transfer)
            for mu, axle, transfer in zip(self.frictions, self.axles, moved, strict=True)
        )
        return front, rear

    def hold(self, lateral: float) -> tuple[float, float]:
        """Return the lateral acceleration each axle could hold with that load transfer."""
        front, rear = self.forces(lateral)
        half = STANDARD_GRAVITY / 2
        return front / self.axles[0].half_load * half, rear / self.axles[1].half_load * half

    def limits(self) -> tuple[float, float]:
        """Return the lateral acceleration at which each axle holds just what its own mass needs."""
        top = 1.01 * max(self.hold(0.0)) + 1e-6
        front = crossing(lambda a: self.hold(a)[0] - a, 0.0, top)
        rear = crossing(lambda a: self.hold(a)[1] - a, 0.0, top)
        return front or 0.0, rear or 0.0


def _car(inputs: Mapping[str, Any]) -> _Car:
    shares = {"front": inputs["sprung_front_share"], "rear": 1 - inputs["sprung_front_share"]}

    def axle(name: str) -> RollAxle:
        centre, track = inputs[f"{name}_roll_centre"], inputs[f"{name}_track"]
        stiffness = axle_roll_stiffness(
            inputs[f"{name}_wheel_rate"], inputs[f"{name}_bar"], track, inputs[f"{name}_tyre_rate"]
        )
        sprung, unsprung = inputs["sprung_mass"] * shares[name], inputs[f"unsprung_{name}"]
        return RollAxle(
            track,
            stiffness,
            sprung,
            inputs["sprung_height"] - centre,
            centre,
            unsprung,
            inputs[f"unsprung_{name}_height"],
        )

    def friction(name: str) -> Friction:
        return of_form(
            inputs["form"],
            inputs[f"{name}_friction"],
            inputs["reference_load"],
            inputs["sensitivity"],
            inputs["exponent"],
        )

    return _Car((axle("front"), axle("rear")), inputs["chassis_stiffness"], (friction("front"), friction("rear")))


def _index(car: _Car, lateral: float) -> float:
    front, rear = car.hold(lateral)
    return (front - rear) / STANDARD_GRAVITY


def _remarks(result: LimitBalance, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    words = {
        "front": "The front gives up first: limit understeer. Softer front bar or springs, or stiffer rear ones, move it back.",
        "rear": "The rear gives up first: limit oversteer. Stiffer front bar or springs, or softer rear ones, move it back.",
        "both together": "Both ends give up together.",
    }
    return (
        Remark(
            words[result.gives_up_first], "caution" if result.gives_up_first == "rear" else "note", "gives_up_first"
        ),
        Remark(
            "Only a tendency: camber, temperature, traction and downforce are left out. Change one thing, and test on a closed circuit.",
            about="balance_index",
        ),
    )


_KNOBS = (
    ("front_bar", "Front bar"),
    ("rear_bar", "Rear bar"),
    ("front_wheel_rate", "Front springs"),
    ("rear_wheel_rate", "Rear springs"),
)


def _figures(result: LimitBalance, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    factors = [0.5 + 0.1 * i for i in range(11)]
    rows = [
        Series(
            name,
            factors,
            [
                _index(_car({**inputs, knob: inputs[knob] * factor}), inputs["lateral_acceleration"])
                for factor in factors
            ],
        )
        for knob, name in _KNOBS
        if inputs[knob] > 0
    ]
    return (
        Chart(
            "Limit balance as bars and springs change",
            "Above zero the rear gives up first, below it the front. A stiffer front bar pushes the balance down, a stiffer rear bar up.",
            Axis("Rate, times what it is now", ""),
            Axis("Limit balance index"),
            (*rows, Series("Now", [1.0], [result.balance_index], points=True)),
        ),
    )


def _bar(axle: str, symbol: str) -> Input:
    help = "Force at one wheel for each unit of difference between the two wheels' travel. 0 without a bar."
    return Input(f"Rate of the {axle} bar at the wheels", symbol, "N/mm", at_least=0, typical=(0, 60e3), help=help)


@calculator(
    title="Limit balance, springs and bars",
    question="Which end gives up first at the limit, and how do bars and springs move it?",
    example={
        "sprung_mass": "1012 kg",
        "sprung_front_share": "52.8 %",
        "sprung_height": "506 mm",
        "unsprung_front": "76 kg",
        "unsprung_rear": "72 kg",
        "unsprung_front_height": "305 mm",
        "unsprung_rear_height": "305 mm",
        "front_roll_centre": "45 mm",
        "rear_roll_centre": "95 mm",
        "front_track": "1510 mm",
        "rear_track": "1520 mm",
        "front_wheel_rate": "52.9 N/mm",
        "rear_wheel_rate": "48 N/mm",
        "front_bar": "14 N/mm",
        "rear_bar": "6 N/mm",
        "front_tyre_rate": "210 N/mm",
        "rear_tyre_rate": "220 N/mm",
        "lateral_acceleration": "1 g",
        "front_friction": "1.2",
        "rear_friction": "1.2",
        "reference_load": "2850 N",
        "sensitivity": "0.06 1/kN",
    },
    working=(
        Step(
            r"K_f^{-1} = \left( \frac{k_{wf} t_f^2}{2} + k_{af} t_f^2 \right)^{-1} + \left( \frac{k_{tf} t_f^2}{2} \right)^{-1}",
            "front_roll_stiffness",
        ),
        Step(
            r"F_{yf} = \mu(F + \Delta F_f) \, (F + \Delta F_f) + \mu(F - \Delta F_f) \, (F - \Delta F_f)", "front_force"
        ),
        Step(r"B = \frac{F_{yf}}{W_f} - \frac{F_{yr}}{W_r}", "balance_index"),
        Step(r"a_f = g \, \frac{F_{yf}(a_f)}{W_f}", "front_limit"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def limit_balance(
    *,
    sprung_mass: SprungMass,
    sprung_front_share: SprungFrontShare,
    sprung_height: SprungHeight,
    unsprung_front: UnsprungFront,
    unsprung_rear: UnsprungRear,
    unsprung_front_height: UnsprungFrontHeight,
    unsprung_rear_height: UnsprungRearHeight,
    front_roll_centre: FrontRollCentre,
    rear_roll_centre: RearRollCentre,
    front_track: FrontTrack,
    rear_track: RearTrack,
    front_wheel_rate: FrontWheelRate,
    rear_wheel_rate: RearWheelRate,
    front_bar: Annotated[NewtonsPerMetre, _bar("front", "k_{af}")] = 0.0,
    rear_bar: Annotated[NewtonsPerMetre, _bar("rear", "k_{ar}")] = 0.0,
    front_tyre_rate: FrontTyreRate,
    rear_tyre_rate: RearTyreRate,
    chassis_stiffness: ChassisStiffness = None,
    lateral_acceleration: LateralAcceleration,
    form: Form = "linear",
    front_friction: Annotated[Ratio, friction_input(" of the front tyres", r"\mu_f")],
    rear_friction: Annotated[Ratio, friction_input(" of the rear tyres", r"\mu_r")],
    reference_load: ReferenceLoad,
    sensitivity: Sensitivity = 0.0,
    exponent: Exponent = 0.9,
) -> LimitBalance:
    """Return the limit balance of a car from its springs, bars and the load sensitivity of its tyres.

    Equation: load transfer per axle from roll (see lateral load transfer), F_y = mu(F + dF)(F + dF) + mu(F - dF)(F - dF) per axle;
    index B = F_yf/W_f - F_yr/W_r; the limit of an axle is where it holds just what its own mass needs.
    Signs: a negative index means that the front gives up first (understeer), a positive one the rear.
    Valid for: steady cornering on a level road, no drive or brake force, no downforce, independent suspension; camber and temperature left out.
    Caution: try a change of balance on a closed circuit, one at a time, slowly at first.
    Source: load sensitivity after Milliken and Milliken, Race Car Vehicle Dynamics, 1995 (from memory); sum of two tyres, root by bisection.

    >>> end = dict(unsprung_front=50, unsprung_rear=50, unsprung_front_height=0.3, unsprung_rear_height=0.3, front_roll_centre=0.05, rear_roll_centre=0.05,
    ...     front_track=1.5, rear_track=1.5, front_wheel_rate=40e3, rear_wheel_rate=40e3, front_tyre_rate=200e3, rear_tyre_rate=200e3)
    >>> car = dict(sprung_mass=900, sprung_front_share=0.5, sprung_height=0.5, lateral_acceleration=8, front_friction=1.2, rear_friction=1.2,
    ...     reference_load=2500, sensitivity=5e-5)
    >>> limit_balance(**end, **car).gives_up_first, limit_balance(**end, **car, front_bar=20e3).gives_up_first
    ('both together', 'front')
    """
    car = _car(locals())
    found = roll(car.axles, chassis_stiffness, lateral_acceleration, gravity=True, blame="front_wheel_rate")
    front, rear = found.totals(car.axles, lateral_acceleration)
    forces, limits = car.forces(lateral_acceleration), car.limits()
    apart = (limits[0] - limits[1]) / STANDARD_GRAVITY
    return LimitBalance(
        balance_index=_index(car, lateral_acceleration),
        gives_up_first="both together" if abs(apart) < _TOGETHER else "front" if apart < 0 else "rear",
        limit=min(limits),
        front_limit=limits[0],
        rear_limit=limits[1],
        front_transfer_share=front / (front + rear) if front + rear > 0 else None,
        front_force=forces[0],
        rear_force=forces[1],
        front_roll_stiffness=car.axles[0].stiffness,
        rear_roll_stiffness=car.axles[1].stiffness,
        front_transfer=front,
        rear_transfer=rear,
        flags=(*lift_flags(found), *_beyond(car, (front, rear), lateral_acceleration, min(limits))),
    )


def _beyond(car: _Car, moved: tuple[float, float], lateral: float, limit: float) -> tuple[str, ...]:
    """Return the cautions where the tyre model or the question leaves its range."""
    said = []
    for name, mu, axle, transfer in zip(("front", "rear"), car.frictions, car.axles, moved, strict=True):
        if axle.half_load + min(transfer, axle.half_load) > getattr(mu, "peak", float("inf")):
            said.append(
                f"The outside {name} tyre is beyond the load where the straight line gives less force for more load: the line ends there."
            )
    if lateral > limit:
        said.append("The car cannot corner this hard: the index is that of the load transfer it would have.")
    return tuple(said)

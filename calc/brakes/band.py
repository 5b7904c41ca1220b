"""The brake balance as a band through one stop: speed, fuel, pad temperature and engine braking together, not one number."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.brakes.aero_car import AeroCar, DownforceFront, DownforceRear, DragHeight
from calc.brakes.care import with_care
from calc.brakes.fuel import LoadedCar, add_load
from calc.brakes.terms import AirDensity, DragArea, speed
from calc.figures.spec import Axis, Band, Chart, Figure, Series
from calc.form import Choice, Input, Output, Remark, calculator
from calc.refusal import Refused
from calc.terms import BrakeFrontShare, CarMass, CgHeight, FrontShare, TyreAdhesion, Wheelbase
from calc.units import Kilograms, Metres, MetresPerSecond, Newtons, Ratio

_POINTS = 13


class BalanceBand(NamedTuple):
    """Ideal and installed share, lowest and highest, through the stop; and where the rear would lead."""

    ideal_low: Annotated[Ratio, Output("Lowest ideal front share through the stop", r"\varphi_{i,min}", "%")]
    ideal_high: Annotated[Ratio, Output("Highest ideal front share through the stop", r"\varphi_{i,max}", "%")]
    installed_low: Annotated[Ratio, Output("Lowest installed front share", r"\varphi_{min}", "%")]
    installed_high: Annotated[Ratio, Output("Highest installed front share", r"\varphi_{max}", "%")]
    safe_margin: Annotated[Ratio, Output("Smallest installed less ideal, points of share", "", "%", 3)]
    worst_speed: Annotated[MetresPerSecond, Output("Speed where that margin is smallest", "v", "km/h", 3)]
    verdict: Annotated[
        Literal["front locks first everywhere", "rear locks first somewhere", "rear locks first everywhere"],
        Output("Lock order through the stop", ""),
    ]
    safe_setting: Annotated[Ratio, Output("Share to set so that the front always locks first", r"\varphi_s", "%")]


class _Point(NamedTuple):
    speed: float
    ideal_low: float
    ideal_high: float
    low: float
    high: float
    margin: float  # smallest installed less ideal of the same state, at this speed


def _cars(inputs: Mapping[str, Any]) -> tuple[AeroCar, AeroCar]:
    """Return the car with an empty and with a full tank."""
    empty = LoadedCar(inputs["mass"], inputs["front_share"], inputs["cg_height"])
    full = add_load(empty, inputs["wheelbase"], inputs["fuel"], inputs["tank_behind_front"], inputs["tank_height"])
    aero = [inputs[name] for name in ("downforce_front", "downforce_rear", "drag_area", "drag_height", "air_density")]
    one, other = (
        AeroCar(car.mass, inputs["wheelbase"], car.front_share, car.cg_height, *aero) for car in (empty, full)
    )
    return one, other


def _engine_shift(share: float, engine: float, driven: str, tyre_force: float) -> float:
    """Return the front share at the tyres when the engine brakes one axle with part of the tyre force."""
    part = min(1.0, engine / tyre_force)
    return share * (1 - part) + (part if driven == "front" else 0.0)


class _State(NamedTuple):
    """A speed, and for the empty and the full car the ideal share and the force of its tyres at the limit."""

    speed: float
    cars: tuple[tuple[float, float], ...]


def _states(inputs: Mapping[str, Any]) -> list[_State]:
    cars, grip = _cars(inputs), inputs["adhesion"]
    entry, end = inputs["entry_speed"], inputs["end_speed"]
    speeds = [end + (entry - end) * i / (_POINTS - 1) for i in range(_POINTS)]
    return [_State(v, tuple((car.ideal_share(grip, v), car.both_lock(grip, v)) for car in cars)) for v in speeds]


def _point(inputs: Mapping[str, Any], state: _State, share: float) -> _Point:
    """Return the band at one speed for a share set: either axle's pads weak or none, engine braking or not."""
    change = inputs["pad_change"]
    pads = [share * f / (share * f + (1 - share) * r) for f, r in ((1 - change, 1.0), (1.0, 1 - change), (1.0, 1.0))]
    installed, margins = [], []
    for ideal, force in state.cars:
        mine = [
            _engine_shift(pad, engine, inputs["driven"], force)
            for pad in pads
            for engine in (0.0, inputs["engine_force"])
        ]
        installed += mine
        margins.append(min(mine) - ideal)
    ideals = [ideal for ideal, _ in state.cars]
    return _Point(state.speed, min(ideals), max(ideals), min(installed), max(installed), min(margins))


def _through(inputs: Mapping[str, Any]) -> list[_Point]:
    return [_point(inputs, state, inputs["front_brake_share"]) for state in _states(inputs)]


def _remarks(result: BalanceBand, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    if result.safe_margin < 0:
        return (
            Remark(
                f"Somewhere in the band the rear leads, by {-100 * result.safe_margin:.1f} points. A set share of "
                f"{100 * result.safe_setting:.1f} % keeps the front leading throughout.",
                "caution",
                "safe_margin",
            ),
        )
    spare = result.installed_low - result.ideal_low
    return (
        Remark(
            f"The front leads throughout; at most {100 * spare:.0f} points of share are left unused.",
            about="safe_margin",
        ),
    )


def _figures(result: BalanceBand, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    points = _through(inputs)
    speeds = [p.speed for p in points]
    return (
        Chart(
            "Balance band through the stop",
            "Shaded: ideal share between full and empty tank. The installed lines span pad friction and engine braking; where they dip into the "
            "shaded band the rear may lock first.",
            Axis("Speed", "km/h"),
            Axis("Front share of the brake force", "%"),
            (
                Series("Ideal, highest", speeds, [p.ideal_high for p in points]),
                Series("Ideal, lowest", speeds, [p.ideal_low for p in points]),
                Series("Installed, highest", speeds, [p.high for p in points]),
                Series("Installed, lowest", speeds, [p.low for p in points]),
            ),
            (
                Band(
                    "Ideal between full and empty",
                    speeds,
                    [p.ideal_low for p in points],
                    [p.ideal_high for p in points],
                ),
            ),
        ),
    )


@calculator(
    title="Balance band through one stop",
    question="Does the front lock first all the way down, whatever fuel, pads and engine braking do?",
    example={
        "mass": "1118 kg",
        "wheelbase": "2560 mm",
        "front_share": "53.9 %",
        "cg_height": "486 mm",
        "front_brake_share": "76 %",
        "adhesion": "1.15",
        "entry_speed": "215 km/h",
        "end_speed": "75 km/h",
        "downforce_front": "0.25 m²",
        "downforce_rear": "0.75 m²",
        "drag_area": "0.85 m²",
        "fuel": "42 kg",
        "tank_behind_front": "2450 mm",
        "tank_height": "330 mm",
        "pad_change": "5 %",
        "driven": "rear",
        "engine_force": "450 N",
    },
    remarks=with_care(_remarks),
    figures=_figures,
)
def balance_band(
    *,
    mass: CarMass,
    wheelbase: Wheelbase,
    front_share: FrontShare,
    cg_height: CgHeight,
    front_brake_share: BrakeFrontShare,
    adhesion: TyreAdhesion,
    entry_speed: Annotated[MetresPerSecond, speed("Speed at the start of braking", "v_1")],
    end_speed: Annotated[MetresPerSecond, speed("Speed at the end of braking", "v_2")],
    downforce_front: DownforceFront = 0.0,
    downforce_rear: DownforceRear = 0.0,
    drag_area: DragArea = 0.0,
    drag_height: DragHeight = 0.0,
    air_density: AirDensity = 1.2,
    fuel: Annotated[Kilograms, Input("Fuel added to the mass given", "m_t", "kg", at_least=0, at_most=1e4)] = 0.0,
    tank_behind_front: Annotated[Metres, Input("Tank behind the front axle", "x_t", "mm", above=-10, below=10)] = 2.0,
    tank_height: Annotated[
        Metres, Input("Height of the fuel above the road", "h_t", "mm", at_least=0, at_most=3)
    ] = 0.3,
    pad_change: Annotated[
        Ratio,
        Input(
            "Loss of friction on one axle alone, hot or cold",
            r"\Delta\mu/\mu",
            "%",
            at_least=0,
            below=1,
            typical=(0, 0.2),
        ),
    ] = 0.0,
    driven: Annotated[
        Literal["front", "rear"], Choice("Axle the engine brakes", {"front": "front", "rear": "rear"})
    ] = "rear",
    engine_force: Annotated[Newtons, Input("Engine braking at the tyres", "F_e", "N", at_least=0, at_most=1e5)] = 0.0,
) -> BalanceBand:
    """Return the band of ideal and of installed front share through one stop, and whether the front always locks first.

    Equation: ideal share at the limit for each speed, tank full and empty; installed share with either axle's friction reduced, with and
    without engine braking; margin = installed less ideal of the same state; safe setting found by bisection.
    Valid for: level road, straight line, the same constant grip on all wheels, open differential.
    Caution: a margin of one or two points is within what measuring gives: prove it with careful tests at growing speed.
    Source: moment balance, derived.

    >>> answer = balance_band(mass=1000, wheelbase=2.5, front_share=0.5, cg_height=0.5, front_brake_share=0.75, adhesion=1.0, entry_speed=50, end_speed=15)
    >>> answer.verdict, round(answer.safe_margin, 6)
    ('front locks first everywhere', 0.05)
    """
    inputs = dict(locals())
    if end_speed >= entry_speed:
        raise Refused(
            "end_speed",
            f"must be less than the speed at the start, {3.6 * entry_speed:.4g} km/h",
            f"{3.6 * end_speed:.4g} km/h",
        )
    for car in _cars(inputs):
        _require_loaded(car, adhesion, entry_speed, end_speed)
    points = _through(inputs)
    worst = min(points, key=lambda p: p.margin)
    verdict: Literal["front locks first everywhere", "rear locks first somewhere", "rear locks first everywhere"]
    if worst.margin >= 0:
        verdict = "front locks first everywhere"
    else:
        rear_always = all(p.high < p.ideal_low for p in points)
        verdict = "rear locks first everywhere" if rear_always else "rear locks first somewhere"
    return BalanceBand(
        min(p.ideal_low for p in points),
        max(p.ideal_high for p in points),
        min(p.low for p in points),
        max(p.high for p in points),
        worst.margin,
        worst.speed,
        verdict,
        _safe_setting(inputs),
    )


def _safe_setting(inputs: Mapping[str, Any]) -> float:
    """Return the smallest set share with no negative margin, or 1 where even that is not enough."""
    states = _states(inputs)
    low, high = 0.0, 1.0
    for _ in range(40):
        middle = (low + high) / 2
        fits = min(_point(inputs, state, middle).margin for state in states) >= 0
        low, high = (low, middle) if fits else (middle, high)
    return high


def _require_loaded(car: AeroCar, adhesion: float, entry: float, end: float) -> None:
    if not 0 < car.front_share < 1:
        raise Refused("tank_behind_front", "must leave load on both axles with a full tank")
    for at in (entry, end):
        car.require_loaded(at)
        if not 0 < car.ideal_share(adhesion, at) < 1:
            raise Refused(
                "adhesion", "must leave load on both axles: with this grip one of them lifts", f"{adhesion:g}"
            )

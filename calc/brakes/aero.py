"""Braking with downforce and drag: which axle locks first at a speed, and how the right balance migrates as the car slows."""

import math
from collections.abc import Callable, Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.brakes.aero_car import AeroCar, DownforceFront, DownforceRear, DragHeight
from calc.brakes.care import with_care
from calc.brakes.terms import AirDensity, DragArea, Speed, speed
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.terms import BrakeFrontShare, CarMass, CgHeight, FrontShare, TyreAdhesion, Wheelbase
from calc.units import MetresPerSecond, MetresPerSecondSquared, Newtons, Ratio


class AeroBraking(NamedTuple):
    """First lock at a speed, the limit with an ideal balance, and the loads then."""

    first_axle: Annotated[Literal["front", "rear"], Output("Axle that locks first", "")]
    deceleration: Annotated[MetresPerSecondSquared, Output("Deceleration at first lock", "d", "g", 4)]
    ideal_deceleration: Annotated[
        MetresPerSecondSquared, Output("Deceleration with both axles at the limit", "d_i", "g", 4)
    ]
    ideal_share: Annotated[Ratio, Output("Ideal front share at this speed", r"\varphi_i", "%")]
    drag: Annotated[Newtons, Output("Drag: deceleration that loads no tyre", "D", "N")]
    tyre_force: Annotated[Newtons, Output("Brake force of the tyres at first lock", "F_x", "N")]
    front_load: Annotated[Newtons, Output("Load of the front axle then", "N_f", "N", detail=True)]
    rear_load: Annotated[Newtons, Output("Load of the rear axle then", "N_r", "N", detail=True)]
    flags: tuple[str, ...]


def _remarks(result: AeroBraking, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    if result.first_axle == "rear":
        return (Remark("At this speed the rear axle locks first: the car may spin.", "caution", "first_axle"),)
    return (
        Remark(
            "At this speed the front axle locks first. Ask again at the lowest speed you still brake hard at.",
            about="first_axle",
        ),
    )


def _braking_figures(result: AeroBraking, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    names = (
        "mass",
        "wheelbase",
        "front_share",
        "cg_height",
        "downforce_front",
        "downforce_rear",
        "drag_area",
        "drag_height",
        "air_density",
    )
    car = AeroCar(*(inputs[name] for name in names))
    speeds = [inputs["speed"] * (0.2 + 0.05 * i) for i in range(17)]
    share, grip = inputs["front_brake_share"], inputs["adhesion"]

    def series(name: str, lock: Callable[[float], float | None]) -> Series:
        forces = [lock(v) for v in speeds]
        return Series(
            name,
            speeds,
            [math.nan if f is None else (f + car.drag(v)) / car.mass for f, v in zip(forces, speeds, strict=True)],
        )

    return (
        Chart(
            "Deceleration at lock over speed",
            "The lower of the two lock curves is what the car can do; both axles together would be the ideal curve.",
            Axis("Speed", "km/h"),
            Axis("Deceleration", "g"),
            (
                series("Front locks", lambda v: car.front_lock(share, grip, v)),
                series("Rear locks", lambda v: car.rear_lock(share, grip, v)),
                series("Both, ideal", lambda v: car.both_lock(grip, v)),
                Series("Here", [inputs["speed"]], [result.deceleration], points=True),
            ),
        ),
    )


@calculator(
    title="Braking with downforce",
    question="Which axle locks first at this speed with downforce and drag?",
    example={
        "mass": "1160 kg",
        "wheelbase": "2560 mm",
        "front_share": "52.6 %",
        "cg_height": "480 mm",
        "front_brake_share": "70 %",
        "adhesion": "1.15",
        "speed": "200 km/h",
        "downforce_front": "0.25 m²",
        "downforce_rear": "0.75 m²",
        "drag_area": "0.85 m²",
    },
    working=(
        Step(r"D = \frac{\rho}{2} v^2 A_D", "drag"),
        Step(r"N_f = \frac{W b}{L} + \frac{\rho}{2} v^2 A_f + \frac{m \, d \, h - D \, h_D}{L}", "front_load"),
        Step(r"N_r = \frac{W a}{L} + \frac{\rho}{2} v^2 A_r - \frac{m \, d \, h - D \, h_D}{L}", "rear_load"),
        Step(r"d = \frac{F_x + D}{m}", "deceleration"),
    ),
    remarks=with_care(_remarks),
    figures=_braking_figures,
)
def aero_braking(
    *,
    mass: CarMass,
    wheelbase: Wheelbase,
    front_share: FrontShare,
    cg_height: CgHeight,
    front_brake_share: BrakeFrontShare,
    adhesion: TyreAdhesion,
    speed: Speed,
    downforce_front: DownforceFront,
    downforce_rear: DownforceRear,
    drag_area: DragArea,
    drag_height: DragHeight = 0.0,
    air_density: AirDensity = 1.2,
) -> AeroBraking:
    """Return which axle locks first at a speed, with downforce and drag, and the ideal share there.

    Equation: m d = F_x + q A_D;  N_f = W b/L + q A_f + (m d h - q A_D h_D)/L, N_r likewise;  first lock: share F_x = mu N on one axle;
    ideal share = N_f/(N_f + N_r) with both at the limit.
    Valid for: level road, straight line, constant grip. Drag height 0 for wind-tunnel axle values, which hold the moment of drag already;
    the real height only for axle downforce without it, or drag is counted twice.
    Source: moment balance, derived.

    >>> answer = aero_braking(mass=720, wheelbase=2.6, front_share=1.2/2.6, cg_height=0.32, front_brake_share=0.62, adhesion=1.45, speed=55.0,
    ...     downforce_front=0.9, downforce_rear=1.3, drag_area=1.0, drag_height=0.45)
    >>> answer.first_axle, round(answer.deceleration / 9.80665, 4)
    ('front', 2.4903)
    """
    car = AeroCar(
        mass, wheelbase, front_share, cg_height, downforce_front, downforce_rear, drag_area, drag_height, air_density
    )
    car.require_loaded(speed)
    front, rear = car.front_lock(front_brake_share, adhesion, speed), car.rear_lock(front_brake_share, adhesion, speed)
    best = car.both_lock(adhesion, speed)
    locks = [(force, axle) for force, axle in ((front, "front"), (rear, "rear")) if force is not None]
    force, axle = min(locks, default=(best, "front"))
    flags: tuple[str, ...] = ()
    lift = car.lift_force(speed)
    if min(force, best) >= lift:
        flags = ("The rear axle lifts before its wheels lock: the deceleration ends there.",)
    force, best = min(force, lift), min(best, lift)
    loads = car.loads(force, speed)
    drag = car.drag(speed)
    return AeroBraking(
        "rear" if axle == "rear" else "front",
        (force + drag) / mass,
        (best + drag) / mass,
        min(1.0, max(0.0, car.ideal_share(adhesion, speed))),
        drag,
        force,
        loads[0],
        max(0.0, loads[1]),
        flags,
    )


class BrakeMigration(NamedTuple):
    """The ideal share through one stop."""

    speeds: Annotated[tuple[MetresPerSecond, ...], Output("Speeds", "v", "km/h", 4)]
    ideal_shares: Annotated[tuple[Ratio, ...], Output("Ideal front share at those speeds", r"\varphi_i", "%")]
    migration: Annotated[Ratio, Output("Points of front share gained from entry to the end", r"\Delta\varphi", "%", 3)]
    locks_at_end: Annotated[
        Literal["rear", "front", "neither"], Output("Axle that locks at the end with the share of the entry", "")
    ]
    aero_balance: Annotated[Ratio | None, Output("Front share of the downforce with drag's moment", "", "%", 3)]


def _migration_remarks(result: BrakeMigration, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    says = {
        "rear": "Aero balance behind the static weight: the ideal share rises as the car slows. A balance set for the straight locks the rear at the end.",
        "front": "Aero balance ahead of the static weight: the ideal share falls as the car slows. A balance set for the straight locks the front at the end.",
        "neither": "The ideal share does not move with speed.",
    }[result.locks_at_end]
    return (Remark(says, "caution" if result.locks_at_end == "rear" else "note", "migration"),)


def _migration_figures(result: BrakeMigration, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    return (
        Chart(
            "Ideal front share through the stop",
            "Read from right to left: from the speed at entry to the end of braking.",
            Axis("Speed", "km/h"),
            Axis("Ideal front share", "%"),
            (Series("Ideal front share", result.speeds, result.ideal_shares),),
        ),
    )


@calculator(
    title="Balance through one stop",
    question="How does the right brake balance move from the end of the straight to the corner?",
    example={
        "mass": "1160 kg",
        "wheelbase": "2560 mm",
        "front_share": "52.6 %",
        "cg_height": "480 mm",
        "adhesion": "1.15",
        "entry_speed": "215 km/h",
        "end_speed": "75 km/h",
        "downforce_front": "0.25 m²",
        "downforce_rear": "0.75 m²",
        "drag_area": "0.85 m²",
    },
    working=(
        Step(
            r"\varphi_i = \frac{\mu_t h}{L} + \frac{W b / L + q \, [A_f + A_D (h - h_D)/L]}{W + q \, (A_f + A_r)}",
            "ideal_shares",
        ),
        Step(r"\Delta\varphi = \varphi_i(v_2) - \varphi_i(v_1)", "migration"),
    ),
    remarks=with_care(_migration_remarks),
    figures=_migration_figures,
)
def brake_migration(
    *,
    mass: CarMass,
    wheelbase: Wheelbase,
    front_share: FrontShare,
    cg_height: CgHeight,
    adhesion: TyreAdhesion,
    entry_speed: Annotated[MetresPerSecond, speed("Speed at the start of braking", "v_1")],
    end_speed: Annotated[MetresPerSecond, speed("Speed at the end of braking", "v_2")],
    downforce_front: DownforceFront,
    downforce_rear: DownforceRear,
    drag_area: DragArea,
    drag_height: DragHeight = 0.0,
    air_density: AirDensity = 1.2,
    points: Annotated[int, Input("Speeds to compute", "n", at_least=2, at_most=60)] = 13,
) -> BrakeMigration:
    """Return the ideal front share at speeds through one stop, and how far it moves.

    Equation: phi_i(v) = mu h/L + [W b/L + q (A_f + A_D (h - h_D)/L)]/(W + q (A_f + A_r)), at the limit of grip.
    Valid for: constant grip, level road; the load transfer of the tyres' own force does not depend on speed then.
    Signs: positive migration means more front share needed as the car slows.
    Caution: compare the aero balance with the STATIC weight share, not with the ideal share.
    Source: moment balance, derived.

    >>> answer = brake_migration(mass=720, wheelbase=2.6, front_share=1.2/2.6, cg_height=0.32, adhesion=1.45, entry_speed=75.0, end_speed=15.0,
    ...     downforce_front=0.9, downforce_rear=1.3, drag_area=1.0, drag_height=0.45, points=5)
    >>> round(100 * answer.migration, 3)
    3.55
    """
    if end_speed >= entry_speed:
        raise Refused(
            "end_speed",
            f"must be less than the speed at the start, {3.6 * entry_speed:.4g} km/h",
            f"{3.6 * end_speed:.4g} km/h",
        )
    car = AeroCar(
        mass, wheelbase, front_share, cg_height, downforce_front, downforce_rear, drag_area, drag_height, air_density
    )
    car.require_loaded(entry_speed)
    speeds = tuple(entry_speed + (end_speed - entry_speed) * i / (points - 1) for i in range(points))
    shares = tuple(car.ideal_share(adhesion, v) for v in speeds)
    if not all(0 < share < 1 for share in shares):
        raise Refused("adhesion", "must leave load on both axles: with this grip one of them lifts", f"{adhesion:g}")
    migration = shares[-1] - shares[0]
    downforce = downforce_front + downforce_rear
    return BrakeMigration(
        speeds,
        shares,
        migration,
        "neither" if math.isclose(migration, 0, abs_tol=1e-12) else "rear" if migration > 0 else "front",
        car.aero_balance if downforce != 0 else None,
    )

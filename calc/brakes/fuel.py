"""What the fuel on board does to the right brake balance."""

from typing import Annotated, NamedTuple

from calc.brakes.axles import Axles
from calc.brakes.care import with_care
from calc.form import Input, Output, Step, calculator
from calc.refusal import Refused
from calc.terms import BrakeFrontShare, CgHeight, FrontShare, TyreAdhesion, Wheelbase
from calc.units import (
    STANDARD_GRAVITY,
    Kilograms,
    Metres,
    MetresPerSecondSquared,
    Ratio,
)


class LoadedCar(NamedTuple):
    """Mass, front share and centre of gravity with a load added."""

    mass: float
    front_share: float
    cg_height: float


def add_load(car: LoadedCar, wheelbase: float, load: float, behind_front: float, height: float) -> LoadedCar:
    """Return the car with a point load ``behind_front`` behind the front axle, at ``height``.

    >>> add_load(LoadedCar(900.0, 0.5, 0.5), 2.5, 100.0, 2.5, 0.3)
    LoadedCar(mass=1000.0, front_share=0.45, cg_height=0.48)
    """
    mass = car.mass + load
    front = (car.mass * car.front_share + load * (1 - behind_front / wheelbase)) / mass
    return LoadedCar(mass, front, (car.mass * car.cg_height + load * height) / mass)


class FuelBalance(NamedTuple):
    """Ideal share and lock-order change, full and empty."""

    empty_share: Annotated[Ratio, Output("Ideal front share at the limit, empty", r"\varphi_e", "%")]
    full_share: Annotated[Ratio, Output("Ideal front share at the limit, full", r"\varphi_f", "%")]
    points: Annotated[Ratio, Output("Points of share from full to empty", r"\Delta\varphi", "%", 3)]
    empty_critical: Annotated[
        MetresPerSecondSquared | None, Output("Deceleration at which the lock order changes, empty", "d_{c,e}", "g", 3)
    ]
    full_critical: Annotated[
        MetresPerSecondSquared | None, Output("Deceleration at which the lock order changes, full", "d_{c,f}", "g", 3)
    ]
    full_mass: Annotated[Kilograms, Output("Mass, full", "m_f", "kg", detail=True)]
    full_front: Annotated[Ratio, Output("Weight on the front axle, full", "w_f", "%", detail=True)]
    full_height: Annotated[Metres, Output("Height of the centre of gravity, full", "h_f", "mm", detail=True)]
    flags: tuple[str, ...]


@calculator(
    title="Brake balance and fuel",
    question="How far does the right brake balance move from a full tank to an empty one?",
    example={
        "mass": "1118 kg",
        "wheelbase": "2560 mm",
        "front_share": "53.9 %",
        "cg_height": "486 mm",
        "fuel": "42 kg",
        "tank_behind_front": "2450 mm",
        "tank_height": "330 mm",
        "adhesion": "1.15",
        "front_brake_share": "74 %",
    },
    working=(
        Step(r"\varphi_e = w_f + \frac{\mu_t \, h}{L}", "empty_share"),
        Step(r"w_f' = \frac{m \, w_f + m_t \, (1 - x_t/L)}{m + m_t}", "full_front"),
        Step(r"\varphi_f = w_f' + \frac{\mu_t \, h'}{L}", "full_share"),
    ),
    remarks=with_care(),
)
def fuel_balance(
    *,
    mass: Annotated[
        Kilograms,
        Input("Mass of the car with driver, tank empty", "m", "kg", above=0, at_most=1e5, typical=(400, 2000)),
    ],
    wheelbase: Wheelbase,
    front_share: FrontShare,
    cg_height: CgHeight,
    fuel: Annotated[
        Kilograms, Input("Mass of a full tank of fuel", "m_t", "kg", at_least=0, at_most=1e4, typical=(10, 90))
    ],
    tank_behind_front: Annotated[
        Metres, Input("Tank behind the front axle", "x_t", "mm", above=-10, below=10, typical=(0.3, 3.2))
    ],
    tank_height: Annotated[Metres, Input("Height of the fuel above the road", "h_t", "mm", at_least=0, at_most=3)],
    adhesion: TyreAdhesion,
    front_brake_share: BrakeFrontShare,
) -> FuelBalance:
    """Return the ideal front share and the lock-order change with an empty and a full tank.

    Equation: mass, front share and height of the centre of gravity recomputed with the fuel; phi_i = b/L + mu h/L;  z_c = (phi L - b)/h.
    Valid for: fuel that does not slosh, level road, no aerodynamic load.
    Source: moment balance, derived.

    >>> round(fuel_balance(mass=900, wheelbase=2.5, front_share=0.5, cg_height=0.5, fuel=100, tank_behind_front=2.5, tank_height=0.3,
    ...     adhesion=1.0, front_brake_share=0.7).points, 3)
    0.058
    """
    empty = LoadedCar(mass, front_share, cg_height)
    full = add_load(empty, wheelbase, fuel, tank_behind_front, tank_height)
    if not 0 < full.front_share < 1:
        raise Refused(
            "tank_behind_front", "must leave load on both axles with a full tank", f"{1e3 * tank_behind_front:g} mm"
        )
    axles = [Axles(car.front_share, car.cg_height / wheelbase) for car in (empty, full)]
    shares = [each.ideal_share(adhesion) for each in axles]
    critical = [each.critical(front_brake_share) for each in axles]
    flags = ("The rear axle lifts at this grip: the formula ends there.",) if max(shares) >= 1 else ()
    return FuelBalance(
        min(1.0, shares[0]),
        min(1.0, shares[1]),
        shares[0] - shares[1],
        critical[0] * STANDARD_GRAVITY if critical[0] > 0 else None,
        critical[1] * STANDARD_GRAVITY if critical[1] > 0 else None,
        full.mass,
        full.front_share,
        full.cg_height,
        flags,
    )

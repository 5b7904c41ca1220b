"""A car with downforce and drag, as far as braking asks: axle loads for a tyre force and a speed."""

from typing import Annotated, NamedTuple

from calc.form import Input
from calc.refusal import Refused
from calc.units import STANDARD_GRAVITY, Metres, SquareMetres

DownforceFront = Annotated[
    SquareMetres,
    Input(
        "Downforce area of the front axle",
        "A_f",
        "m²",
        at_least=-20,
        at_most=20,
        typical=(-0.3, 2.5),
        help="Front axle downforce over dynamic pressure; lift is negative.",
    ),
]
DownforceRear = Annotated[
    SquareMetres,
    Input(
        "Downforce area of the rear axle",
        "A_r",
        "m²",
        at_least=-20,
        at_most=20,
        typical=(-0.3, 3.5),
        help="Rear axle downforce over dynamic pressure; lift is negative.",
    ),
]
DragHeight = Annotated[
    Metres,
    Input(
        "Height of the drag, for axle values without its moment",
        "h_D",
        "mm",
        at_least=0,
        at_most=3,
        help="Leave 0 for wind-tunnel axle values: balance readings hold the moment of drag already.",
    ),
]


class AeroCar(NamedTuple):
    """Mass, lengths and aerodynamic areas; downforce areas act at the axles."""

    mass: float
    wheelbase: float
    front_share: float
    cg_height: float
    downforce_front: float
    downforce_rear: float
    drag_area: float
    drag_height: float
    air_density: float
    gravity: float = STANDARD_GRAVITY

    @property
    def weight(self) -> float:
        """Weight, N."""
        return self.mass * self.gravity

    @property
    def rise(self) -> float:
        """Height of the centre of gravity over the wheelbase."""
        return self.cg_height / self.wheelbase

    @property
    def aero_balance(self) -> float:
        """Front share of the downforce, with the moment that drag takes from the tyres' transfer."""
        downforce = self.downforce_front + self.downforce_rear
        return (
            self.downforce_front + self.drag_area * (self.cg_height - self.drag_height) / self.wheelbase
        ) / downforce

    def dynamic_pressure(self, speed: float) -> float:
        """Return rho v^2 / 2."""
        return self.air_density * speed**2 / 2

    def drag(self, speed: float) -> float:
        """Return the drag, N."""
        return self.dynamic_pressure(speed) * self.drag_area

    def bare_loads(self, speed: float) -> tuple[float, float]:
        """Return front and rear load at a speed before the tyres brake: weight, downforce and the moment of drag."""
        q = self.dynamic_pressure(speed)
        moment = q * self.drag_area * (self.cg_height - self.drag_height) / self.wheelbase
        front = self.weight * self.front_share + q * self.downforce_front + moment
        return front, self.weight * (1 - self.front_share) + q * self.downforce_rear - moment

    def loads(self, tyre_force: float, speed: float) -> tuple[float, float]:
        """Return front and rear load while the tyres brake with a force."""
        front, rear = self.bare_loads(speed)
        return front + tyre_force * self.rise, rear - tyre_force * self.rise

    def front_lock(self, share: float, grip: float, speed: float) -> float | None:
        """Return the tyre force at which the front locks, or none if it cannot."""
        spare = share - grip * self.rise
        return grip * self.bare_loads(speed)[0] / spare if spare > 0 else None

    def rear_lock(self, share: float, grip: float, speed: float) -> float | None:
        """Return the tyre force at which the rear locks, or none if it carries no brake."""
        return grip * self.bare_loads(speed)[1] / (1 - share + grip * self.rise) if share < 1 else None

    def both_lock(self, grip: float, speed: float) -> float:
        """Return the tyre force with both axles at the limit."""
        return grip * sum(self.bare_loads(speed))

    def lift_force(self, speed: float) -> float:
        """Return the tyre force at which the rear axle lifts."""
        return self.bare_loads(speed)[1] / self.rise

    def ideal_share(self, grip: float, speed: float) -> float:
        """Return the front share with both axles at the limit."""
        return self.loads(self.both_lock(grip, speed), speed)[0] / sum(self.bare_loads(speed))

    def require_loaded(self, speed: float) -> None:
        """Refuse lift that takes an axle off the road by itself."""
        for load, name in zip(self.bare_loads(speed), ("downforce_front", "downforce_rear"), strict=True):
            if load <= 0:
                raise Refused(
                    name, f"must leave load on its axle at {3.6 * speed:.4g} km/h", f"{getattr(self, name):g} m²"
                )

"""Ride heights under downforce, and the springs that hold a height."""

from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.loads.terms import FrontTyreRate, FrontWheelRate, RearTyreRate, RearWheelRate
from calc.rates import in_series
from calc.units import Metres, MetresPerSecond, Newtons, NewtonsPerMetre, Ratio

ReferenceSpeed = Annotated[
    MetresPerSecond, Input("Speed at which the axle gains are known", "V_0", "km/h", above=0, typical=(20, 90))
]


def _gradient(axle: str, symbol: str) -> Input:
    help = "Growth of the axle's downforce for each unit it sinks, at the speed of the known gains. 0 for a wing far from the ground."
    return Input(
        f"Height gradient of the downforce at the {axle} axle", symbol, "N/mm", at_least=0, typical=(0, 60e3), help=help
    )


def _heave(axle: str, symbol: str) -> Input:
    return Input(
        f"Heave spring of the {axle} axle",
        symbol,
        "N/mm",
        at_least=0,
        typical=(0, 300e3),
        help="A third spring on common travel only. 0 without one.",
    )


def _heave_ratio(axle: str, symbol: str) -> Input:
    return Input(
        f"Motion ratio of the {axle} heave spring",
        symbol,
        "",
        above=0,
        at_most=3,
        typical=(0.4, 1.2),
        help="Spring travel for each unit of common wheel travel.",
    )


def axle_heave_rate(wheel: float, tyre: float, heave: float = 0.0, ratio: float = 1.0) -> float:
    """Return the rate of a whole axle in heave, tyres in series, N/m.

    Equation: K = (2 k_w + k_3 MR_3^2) in series with 2 k_t.

    >>> round(axle_heave_rate(50e3, 200e3))
    80000
    """
    return in_series(2 * wheel + heave * ratio**2, 2 * tyre)


def divergence_speed(rate: float, gradient: float, speed: float) -> float | None:
    """Return the speed at which a height gradient known at ``speed`` equals a rate, none where the gradient is as good as none.

    Equation: V_d = V sqrt(k/g_h).

    >>> divergence_speed(400e3, 100e3, 50.0), divergence_speed(400e3, 0.0, 50.0)
    (100.0, None)
    """
    return float(speed * (rate / gradient) ** 0.5) if gradient > 1e-9 * rate else None


class AxleInAir(NamedTuple):
    """One axle under downforce: its heave rate, and gain and height gradient at the reference speed."""

    rate: float
    gain: float
    gradient: float

    def drop(self, times: float) -> float | None:
        """Return how far the axle sinks at (V/V_0)^2 = ``times``, none beyond divergence."""
        left = self.rate - self.gradient * times
        return self.gain * times / left if left > 0 else None

    def divergence(self, reference: float) -> float | None:
        """Return the speed at which the air's negative stiffness equals the springs, none without a gradient."""
        return divergence_speed(self.rate, self.gradient, reference)


class AeroRideHeights(NamedTuple):
    """Heights at speed; none where the axle would sink without end."""

    front_height: Annotated[Metres | None, Output("Front ride height at this speed", "h_f", "mm", 3)]
    rear_height: Annotated[Metres | None, Output("Rear ride height at this speed", "h_r", "mm", 3)]
    rake: Annotated[Metres | None, Output("Rake at this speed, rear less front", "r", "mm", 3)]
    front_drop: Annotated[Metres | None, Output("Front sinks by", r"\Delta h_f", "mm", 3)]
    rear_drop: Annotated[Metres | None, Output("Rear sinks by", r"\Delta h_r", "mm", 3)]
    front_rate: Annotated[NewtonsPerMetre, Output("Heave rate of the front axle, tyres in series", "K_f", "N/mm")]
    rear_rate: Annotated[NewtonsPerMetre, Output("Heave rate of the rear axle, tyres in series", "K_r", "N/mm")]
    front_divergence: Annotated[
        MetresPerSecond | None, Output("Speed at which the front would diverge", "V_{df}", "km/h", 3, detail=True)
    ]
    rear_divergence: Annotated[
        MetresPerSecond | None, Output("Speed at which the rear would diverge", "V_{dr}", "km/h", 3, detail=True)
    ]
    flags: tuple[str, ...]


def _axle(inputs: Mapping[str, Any], name: str) -> AxleInAir:
    rate = axle_heave_rate(
        inputs[f"{name}_wheel_rate"],
        inputs[f"{name}_tyre_rate"],
        inputs[f"{name}_heave_spring"],
        inputs[f"{name}_heave_ratio"],
    )
    return AxleInAir(rate, inputs[f"{name}_gain"], inputs[f"{name}_gradient"])


def _remarks(result: AeroRideHeights, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            "The tyres give as well: with stiff springs they are most of the movement, and their pressure is part of the ride height.",
            about="front_rate",
        ),
        Remark(
            "Bump rubbers and rising rates change this: use the rate at the height the axle reaches.",
            about="front_drop",
        ),
    )


def _figures(result: AeroRideHeights, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    top = 1.15 * max(inputs["speed"], inputs["reference_speed"])
    speeds = [top * i / 30 for i in range(31)]
    rows = []
    for name in ("front", "rear"):
        axle, high = _axle(inputs, name), inputs[f"{name}_static_height"]
        drops = [axle.drop((v / inputs["reference_speed"]) ** 2) for v in speeds]
        heights = [float("nan") if d is None or abs(d) > 3 * high else high - d for d in drops]
        rows.append(Series(f"{name.capitalize()} ride height", speeds, heights))
    here = [(inputs["speed"], h) for h in (result.front_height, result.rear_height) if h is not None]
    if here and all(abs(h) < 3 * max(inputs["front_static_height"], inputs["rear_static_height"]) for _, h in here):
        rows.append(Series("Here", [v for v, _ in here], [h for _, h in here], points=True))
    return (
        Chart(
            "Ride heights against speed",
            "The car sinks with the square of speed, faster still where the downforce grows as the floor comes down.",
            Axis("Speed", "km/h"),
            Axis("Ride height", "mm"),
            tuple(rows),
        ),
    )


@calculator(
    title="Ride heights under downforce",
    question="How far does the downforce push each end down, and what happens to the rake?",
    example={
        "speed": "190 km/h",
        "reference_speed": "160 km/h",
        "front_gain": "260 N",
        "rear_gain": "880 N",
        "front_static_height": "85 mm",
        "rear_static_height": "95 mm",
        "front_wheel_rate": "52.9 N/mm",
        "rear_wheel_rate": "48 N/mm",
        "front_tyre_rate": "210 N/mm",
        "rear_tyre_rate": "220 N/mm",
    },
    working=(
        Step(
            r"K_f = \frac{(2 k_{wf} + k_{3f} MR_{3f}^2) \, 2 k_{tf}}{2 k_{wf} + k_{3f} MR_{3f}^2 + 2 k_{tf}}",
            "front_rate",
        ),
        Step(r"\Delta h_f = \frac{\Delta F_f \, (V/V_0)^2}{K_f - g_f \, (V/V_0)^2}", "front_drop"),
        Step(r"\Delta h_r = \frac{\Delta F_r \, (V/V_0)^2}{K_r - g_r \, (V/V_0)^2}", "rear_drop"),
        Step(r"r = h_r - h_f", "rake"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def aero_ride_heights(
    *,
    speed: Annotated[MetresPerSecond, Input("Speed", "V", "km/h", at_least=0, typical=(10, 90))],
    reference_speed: ReferenceSpeed,
    front_gain: Annotated[
        Newtons, Input("Front axle gain at the reference speed", r"\Delta F_f", "N", typical=(-500, 6000))
    ],
    rear_gain: Annotated[
        Newtons, Input("Rear axle gain at the reference speed", r"\Delta F_r", "N", typical=(-500, 9000))
    ],
    front_static_height: Annotated[
        Metres, Input("Front ride height at rest", "h_{f0}", "mm", above=0, typical=(0.02, 0.2))
    ],
    rear_static_height: Annotated[
        Metres, Input("Rear ride height at rest", "h_{r0}", "mm", above=0, typical=(0.03, 0.25))
    ],
    front_wheel_rate: FrontWheelRate,
    rear_wheel_rate: RearWheelRate,
    front_tyre_rate: FrontTyreRate,
    rear_tyre_rate: RearTyreRate,
    front_heave_spring: Annotated[NewtonsPerMetre, _heave("front", "k_{3f}")] = 0.0,
    rear_heave_spring: Annotated[NewtonsPerMetre, _heave("rear", "k_{3r}")] = 0.0,
    front_heave_ratio: Annotated[Ratio, _heave_ratio("front", "MR_{3f}")] = 1.0,
    rear_heave_ratio: Annotated[Ratio, _heave_ratio("rear", "MR_{3r}")] = 1.0,
    front_gradient: Annotated[NewtonsPerMetre, _gradient("front", "g_f")] = 0.0,
    rear_gradient: Annotated[NewtonsPerMetre, _gradient("rear", "g_r")] = 0.0,
) -> AeroRideHeights:
    """Return ride heights, rake and divergence speeds of a car under downforce.

    Equation: drop = dF (V/V_0)^2/(K - g (V/V_0)^2), K the heave rate of the axle with its tyres, dF and g at V_0. Divergence where K = g (V/V_0)^2.
    Signs: a gain is positive when the axle gains load; a drop is positive downward; rake is rear less front.
    Valid for: linear springs and tyres, each axle on its own, slow changes; pitch coupling and lag, which make a car porpoise, are left out.
    Caution: near the divergence speed small bumps become large: keep well below it.
    Source: statics; the height gradient acts as a negative stiffness.

    >>> found = aero_ride_heights(speed=50, reference_speed=50, front_gain=800, rear_gain=1600, front_static_height=0.08, rear_static_height=0.09,
    ...     front_wheel_rate=50e3, rear_wheel_rate=50e3, front_tyre_rate=200e3, rear_tyre_rate=200e3)
    >>> round(found.front_drop, 6), round(found.rear_drop, 6), round(found.rake, 6)
    (0.01, 0.02, 0.0)
    """
    inputs = locals()
    times = (speed / reference_speed) ** 2
    front, rear = _axle(inputs, "front"), _axle(inputs, "rear")
    drops = front.drop(times), rear.drop(times)
    heights = tuple(
        None if d is None else high - d
        for high, d in zip((front_static_height, rear_static_height), drops, strict=True)
    )
    rake = None if heights[0] is None or heights[1] is None else heights[1] - heights[0]
    return AeroRideHeights(
        front_height=heights[0],
        rear_height=heights[1],
        rake=rake,
        front_drop=drops[0],
        rear_drop=drops[1],
        front_rate=front.rate,
        rear_rate=rear.rate,
        front_divergence=front.divergence(reference_speed),
        rear_divergence=rear.divergence(reference_speed),
        flags=_flags(heights, rake, rear_static_height - front_static_height),
    )


def _flags(heights: tuple[float | None, ...], rake: float | None, static_rake: float) -> tuple[str, ...]:
    said = []
    for name, height in zip(("front", "rear"), heights, strict=True):
        if height is None:
            said.append(
                f"Beyond divergence: the downforce at the {name} grows faster than the springs push back, and the car sinks onto its stops."
            )
        elif height <= 0:
            said.append(f"The {name} of the floor touches the road at this speed.")
    if rake is not None and rake * static_rake < 0:
        said.append(
            "The rake changes sign between rest and this speed: the balance of the downforce will move with it."
        )
    return tuple(said)

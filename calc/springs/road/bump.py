"""A single bump or step: one mass in closed form, and the quarter car in time."""

import math
from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import Annotated, Any, Literal, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.numeric.roots import crossing
from calc.refusal import Refused
from calc.springs.road.quarter import Moment, Phase, Quarter, corner_of
from calc.springs.road.words import Damping, DampingRatio, Speed
from calc.springs.words import UnsprungMass
from calc.terms import SprungCornerMass, TyreRate, WheelRate
from calc.units import Hertz, Metres, MetresPerSecondSquared, Newtons, Ratio, Seconds

_SETTLED = 0.05  # of the step
_MOST_STEPS = 4000
_DRAWN = 110
Shape = Literal["step", "bump", "ramp"]


class StepResponse(NamedTuple):
    """One mass after a step. Overshoot is past the new rest, as a share of the step."""

    force_overshoot: Annotated[Ratio, Output("Overshoot after a step of force", "", "%", 4)]
    road_overshoot: Annotated[Ratio, Output("Overshoot after a step of the road", "", "%", 4)]
    peak_time: Annotated[Seconds | None, Output("Time to the peak after a step of force", "t_p", "s", 3)]
    settling_time: Annotated[Seconds | None, Output("Time until it stays within 5 %", "t_5", "s", 3)]
    flags: tuple[str, ...]


def force_overshoot(damping: float) -> float:
    """Return the overshoot of one mass after a step of force.

    >>> round(force_overshoot(0.3), 6)
    0.372326
    """
    return math.exp(-math.pi * damping / math.sqrt(1 - damping**2)) if damping < 1 else 0.0


def road_overshoot(damping: float) -> float:
    """Return the overshoot of one mass after a step of the road under spring and damper.

    >>> round(road_overshoot(0.0), 6), round(road_overshoot(0.3), 6)
    (1.0, 0.450975)
    """
    inside = 1 - damping**2
    if abs(inside) < 1e-9:
        return math.exp(-2.0)
    if inside > 0:
        return math.exp(-2 * damping * math.acos(damping) / math.sqrt(inside))
    return math.exp(-2 * damping * math.acosh(damping) / math.sqrt(-inside))


def _force_step(t: float, omega: float, damping: float) -> float:
    """Return the movement of one mass after a unit step of force, at a time."""
    inside = 1 - damping**2
    if inside > 1e-9:
        wd = omega * math.sqrt(inside)
        return 1 - math.exp(-damping * omega * t) * (math.cos(wd * t) + damping * omega / wd * math.sin(wd * t))
    if inside > -1e-9:
        return 1 - math.exp(-omega * t) * (1 + omega * t)
    root = math.sqrt(-inside)
    slow, fast = omega / (damping + root), omega * (damping + root)
    return 1 - (fast * math.exp(-slow * t) - slow * math.exp(-fast * t)) / (fast - slow)


def _settling(omega: float, damping: float) -> float | None:
    """Return the time after which a step of force stays within 5 %, by the envelope below critical."""
    if damping <= 0:
        return None
    inside = 1 - damping**2
    if inside > 1e-3:
        return -math.log(_SETTLED * math.sqrt(inside)) / (damping * omega)
    return crossing(lambda t: abs(1 - _force_step(t, omega, damping)) - _SETTLED, 0.0, 60 * damping / omega)


def _step_remarks(result: StepResponse, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            "A step of the road overshoots more than a step of force: the damper itself kicks the body. A real tyre and a real kerb make the step a short ramp.",
            about="road_overshoot",
        ),
    )


def _step_figures(result: StepResponse, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    omega = 2 * math.pi * inputs["frequency"]
    times = [3 / inputs["frequency"] * i / 60 for i in range(61)]
    ratios = sorted({0.2, 0.4, 0.7, inputs["damping_ratio"]})
    series = tuple(Series(f"ζ = {zeta:g}", times, [_force_step(t, omega, zeta) for t in times]) for zeta in ratios)
    text = "With less damping it swings past and back; with more it creeps up."
    return (Chart("After a step of force", text, Axis("Time", "s"), Axis("Movement over its new rest", ""), series),)


@calculator(
    title="Step response of one mass",
    question="How far past its rest does the body swing after a step, and when is it quiet?",
    example={"frequency": "2.2 Hz", "damping_ratio": "0.4"},
    working=(
        Step(r"e^{-\pi \zeta / \sqrt{1 - \zeta^2}}", "force_overshoot"),
        Step(r"e^{-2 \zeta \arccos \zeta / \sqrt{1 - \zeta^2}}", "road_overshoot"),
        Step(r"t_p = \frac{1}{2 \, f \sqrt{1 - \zeta^2}}", "peak_time"),
    ),
    remarks=_step_remarks,
    figures=_step_figures,
)
def step_response(
    *,
    frequency: Annotated[Hertz, Input("Natural frequency", "f", "Hz", above=0, typical=(1, 5))],
    damping_ratio: DampingRatio,
) -> StepResponse:
    """Return the overshoot of one mass after a step of force and after a step of the road, and its settling time.

    Equation: force exp(-pi zeta / sqrt(1 - zeta^2)); road exp(-2 zeta arccos(zeta) / sqrt(1 - zeta^2)), both shares of the step.
    Valid for: one mass, linear spring and damper; above critical damping nothing overshoots a force, yet a road step still does.
    Source: closed solution of the simple oscillator; the road form is derived from it, and integrated independently in the tests.

    >>> round(step_response(frequency=2.0, damping_ratio=0.5).force_overshoot, 6)
    0.163034
    """
    flags = ("Without damping it swings for ever.",) if damping_ratio == 0 else ()
    peak = 1 / (2 * frequency * math.sqrt(1 - damping_ratio**2)) if damping_ratio < 1 else None
    settled = _settling(2 * math.pi * frequency, damping_ratio)
    return StepResponse(force_overshoot(damping_ratio), road_overshoot(damping_ratio), peak, settled, flags)


class BumpResponse(NamedTuple):
    """The quarter car over one obstacle. Travels are of the suspension, bump positive."""

    acceleration: Annotated[MetresPerSecondSquared, Output("Greatest acceleration of the body", r"\ddot{z}", "m/s²", 3)]
    bump_travel: Annotated[Metres, Output("Greatest bump travel", "z_b", "mm", 3)]
    droop_travel: Annotated[Metres, Output("Greatest droop travel", "z_d", "mm", 3)]
    greatest_load: Annotated[Newtons, Output("Greatest tyre load", "N_{max}", "N", 3)]
    least_load: Annotated[Newtons, Output("Least tyre load", "N_{min}", "N", 3)]
    body_peak: Annotated[Metres, Output("Highest point of the body", "z_s", "mm", 3)]
    overshoot: Annotated[Ratio | None, Output("Overshoot of the body past a step", "", "%", 3)]
    duration: Annotated[Seconds, Output("Time looked at", "T", "s", 3, detail=True)]
    flags: tuple[str, ...]


def road_shape(shape: Shape, height: float, length: float, speed: float) -> Callable[[float], float]:
    """Return road height against time: nothing extra for a step, a half sine for a bump, a straight rise for a ramp.

    >>> road_shape("bump", 0.05, 1.0, 10.0)(0.05)
    0.05
    """
    crossing = length / speed
    if shape == "bump":
        return lambda t: height * math.sin(math.pi * t / crossing) if 0 < t < crossing else 0.0
    return lambda t: height * min(1.0, t / crossing) if shape == "ramp" else 0.0


def _history(inputs: Mapping[str, Any]) -> tuple[Moment, ...]:
    car = corner_of(inputs)
    return _followed(car, inputs["shape"], inputs["height"], inputs["length"], inputs["speed"])


@lru_cache(maxsize=1)  # the answer and its figures show the same motion
def _followed(car: Quarter, shape: Shape, height: float, length: float, speed: float) -> tuple[Moment, ...]:
    sudden = height if shape == "step" else 0.0
    phases = _phases(car, 0.0 if shape == "step" else length / speed)
    if sum(phase.steps for phase in phases) > _MOST_STEPS:
        rule = "must not be so short or long that the movement cannot be followed in steps"
        raise Refused("length", rule, quantity(length, "m"))
    return tuple(car.over(road_shape(shape, height, length, speed), phases, sudden))


def _phases(car: Quarter, crossing: float) -> tuple[Phase, Phase]:
    """Return fine steps over the obstacle and one swing of the wheel after it, and coarse ones until the body is quiet."""
    swing, sway = (2 * math.pi / omega for omega in reversed(car.undamped()))
    near = crossing + swing
    finest = swing / (32 if crossing < 4 * swing else 12)
    fine = math.ceil(near / min(finest, crossing / 24 if crossing else finest))
    far = 2.5 * sway
    return Phase(near / fine, fine), Phase(
        far / max(80, math.ceil(far / swing * 6)), max(80, math.ceil(far / swing * 6))
    )


def _bump_remarks(result: BumpResponse, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark(
            f"It needs {quantity(result.bump_travel, 'mm', 3)} of bump and {quantity(result.droop_travel, 'mm', 3)} of droop: hold that beside the travel budget.",
            about="bump_travel",
        )
    ]
    if inputs["shape"] == "step":
        remarks.append(
            Remark(
                "No tyre takes a step as sharply as this: it rolls over the edge. A ramp of a tyre's contact length is nearer.",
                "caution",
                "acceleration",
            )
        )
    return tuple(remarks)


def _bump_figures(result: BumpResponse, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    story = _history(inputs)
    story = story[:: max(1, len(story) // _DRAWN)]
    t = [moment.time for moment in story]
    heights = Chart(
        "Road, wheel and body",
        "The wheel follows the road at once and shakes at hop; the body follows later and settles.",
        Axis("Time", "s"),
        Axis("Height", "mm"),
        (
            Series("Road", t, [moment.road for moment in story]),
            Series("Wheel", t, [moment.wheel for moment in story]),
            Series("Body", t, [moment.body for moment in story]),
        ),
    )
    load = Chart(
        "Tyre load",
        "Load of the tyre on the road; below nothing it is in the air.",
        Axis("Time", "s"),
        Axis("Tyre load", "N"),
        (Series("Tyre load", t, [moment.contact for moment in story]),),
    )
    return heights, load


@calculator(
    title="Quarter car over a bump",
    question="What happens at one corner over a step, a ramp or a bump?",
    example={
        "sprung_mass": "265 kg",
        "unsprung_mass": "38 kg",
        "wheel_rate": "52.9 N/mm",
        "tyre_rate": "210 N/mm",
        "damping": "3800 N·s/m",
        "shape": "bump",
        "height": "30 mm",
        "length": "1.5 m",
        "speed": "90 km/h",
    },
    figures=_bump_figures,
    working=(
        Step(r"m_s \, \ddot{z} = -k_w \, (z_s - z_u) - c \, (\dot{z}_s - \dot{z}_u)", "acceleration"),
        Step(r"N = (m_s + m_u) \, g - k_t \, (z_u - z_r)", "least_load"),
    ),
    remarks=_bump_remarks,
)
def quarter_car_bump(
    *,
    sprung_mass: SprungCornerMass,
    unsprung_mass: UnsprungMass,
    wheel_rate: WheelRate,
    tyre_rate: TyreRate,
    damping: Damping,
    shape: Annotated[
        Shape, Choice("Obstacle", {"step": "a sudden step up", "ramp": "a ramp up", "bump": "a bump, half a sine"})
    ] = "bump",
    height: Annotated[Metres, Input("Height", "H", "mm", above=0, typical=(0.005, 0.1))],
    length: Annotated[Metres, Input("Length of the ramp or bump", "l", "m", above=0, typical=(0.1, 20))] = 1.0,
    speed: Speed,
) -> BumpResponse:
    """Return the greatest travel, acceleration and tyre loads of one corner over a single obstacle.

    Equation: x(t + dt) = exp(A dt) x(t) + the integral of exp(A s) B z_r, exact for a road that is straight between the steps.
    Signs: bump travel is wheel towards body; the tyre load is weight less k_t (z_u - z_r).
    Valid for: linear springs, damper and tyre; a tyre that follows the road at one point; no stops reached.
    Caution: where the tyre load falls below nothing the wheel is in the air, and what follows is wrong.
    Source: matrix exponential; the golden car of Sayers, Gillespie and Queiroz, 1986, is one of its tests.

    >>> answer = quarter_car_bump(sprung_mass=250, unsprung_mass=35, wheel_rate=25e3, tyre_rate=200e3, damping=1500, shape="ramp", height=0.05, length=200, speed=20)
    >>> round(answer.body_peak, 3)
    0.05
    """
    story = _history(locals())
    travel = [moment.wheel - moment.body for moment in story]
    loads = [moment.contact for moment in story]
    peak = max(moment.body for moment in story)
    flags = []
    if min(loads) < 0:
        flags.append("The wheel leaves the ground: from there on the linear model no longer holds.")
    return BumpResponse(
        acceleration=max(abs(moment.acceleration) for moment in story),
        bump_travel=max(0.0, *travel),
        droop_travel=max(0.0, -min(travel)),
        greatest_load=max(loads),
        least_load=max(0.0, min(loads)),
        body_peak=peak,
        overshoot=max(0.0, peak / height - 1) if shape != "bump" else None,
        duration=story[-1].time,
        flags=tuple(flags),
    )

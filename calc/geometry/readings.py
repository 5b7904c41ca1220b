"""Everything a wheel says of itself at one position, by name: the outputs every sweep, comparison and spread is made of."""

from typing import NamedTuple

from calc.geometry.centres import drawn_axis, front_view, side_view, slopes, virtual_axis
from calc.geometry.motion import Corner, State
from calc.geometry.wheel import SteeringAxis, camber, camber_rate, toe_in, toe_in_rate


class Reading(NamedTuple):
    """One wheel at one position, SI units; none where a thing does not exist for the linkage or is at infinity."""

    travel: float
    rack: float
    camber: float
    toe_in: float
    half_track_change: float
    wheel_dx: float
    wheel_dy: float
    camber_rate: float
    toe_in_rate: float
    lateral_slope: float
    contact_slope: float
    wheel_slope: float
    roll_centre_height: float
    front_centre_y: float | None
    front_centre_above: float | None
    front_swing_arm: float | None
    side_centre_x: float | None
    side_centre_above: float | None
    side_swing_arm: float | None
    caster: float | None
    inclination: float | None
    trail: float | None
    scrub: float | None
    virtual_caster: float | None
    virtual_inclination: float | None
    virtual_trail: float | None
    virtual_scrub: float | None
    spring_length: float | None
    spring_ratio: float | None
    damper_length: float | None
    damper_ratio: float | None
    bar_turn: float | None
    bar_rate: float | None
    rocker_turn: float | None
    rocker_rate: float | None


def reading(corner: Corner, state: State) -> Reading:
    """Return the reading of one state."""
    start = corner.mechanism.origin
    slope, front, side = slopes(state), front_view(state), side_view(state)
    axis = drawn_axis(corner, state)
    virtual = virtual_axis(corner, state)
    steering = virtual.steering if virtual else None
    spring, damper = (_length(corner, state, name) for name in ("spring", "damper"))
    bar, rocker = (_turn(corner, state, name) for name in ("bar", "rocker"))
    centre = state.pose.centre
    return Reading(
        state.travel,
        state.rack,
        camber(state.spin),
        toe_in(state.spin),
        state.contact[1] - corner.drawn_contact[1],
        centre[0] - start[0],
        centre[1] - start[1],
        camber_rate(state.spin, state.per_travel.turning),
        toe_in_rate(state.spin, state.per_travel.turning),
        *slope,
        state.contact[1] * slope.lateral,
        *front[:3],
        *side[:3],
        *_axis(axis),
        *_axis(steering),
        *spring,
        *damper,
        *bar,
        *rocker,
    )


def readings(corner: Corner, travels: list[float], rack: float = 0.0) -> tuple[Reading, ...]:
    """Return the readings over a list of travels."""
    return tuple(reading(corner, state) for state in corner.sweep(travels, rack))


def _axis(axis: SteeringAxis | None) -> tuple[float | None, float | None, float | None, float | None]:
    return (None, None, None, None) if axis is None else (axis.caster, axis.inclination, axis.trail, axis.scrub)


def _length(corner: Corner, state: State, name: str) -> tuple[float | None, float | None]:
    part = corner.linkage.springs.get(name)
    return (None, None) if part is None else corner.parts.length(part, state.pose, state.per_travel)


def _turn(corner: Corner, state: State, name: str) -> tuple[float | None, float | None]:
    return (None, None) if name not in corner.linkage.cranks else corner.parts.crank(name, state.pose, state.per_travel)

"""Braking zones of a lap as a reader writes them, and as the corner of a car feels them."""

from collections.abc import Sequence
from typing import Annotated, NamedTuple

from calc.brakes.heat.network import Phase
from calc.brakes.heat.session import Stretch
from calc.form import Input
from calc.refusal import Refused
from calc.units import MetresPerSecond, MetresPerSecondSquared, Seconds


class Zone(NamedTuple):
    """One braking zone."""

    entry_speed: Annotated[
        MetresPerSecond, Input("Speed at the start", "v_1", "km/h", above=0, at_most=200, typical=(10, 90))
    ]
    exit_speed: Annotated[MetresPerSecond, Input("Speed at the end", "v_2", "km/h", at_least=0, at_most=200)]
    deceleration: Annotated[
        MetresPerSecondSquared, Input("Deceleration", "d", "g", above=0, at_most=100, typical=(2, 30))
    ]
    time_to_next: Annotated[
        Seconds, Input("Time to the next zone", "t", "s", at_least=0, at_most=3600, typical=(1, 60))
    ]


class Load(NamedTuple):
    """What turns a zone into heat of one corner: its share of the brake force, the car's mass, and what brakes besides."""

    share: float
    mass: float
    drag: float  # rho A_D / 2, N s²/m²
    engine: float  # N


def stretches(zones: Sequence[Zone], load: Load, rolling_speed: float | None) -> tuple[Stretch, ...]:
    """Return the zones as phases; a zone that does not slow, or that drag alone makes, is refused by its number."""
    made = []
    for n, zone in enumerate(zones):
        after = zones[(n + 1) % len(zones)]
        _require_zone(n + 1, zone, load)
        duration = (zone.entry_speed - zone.exit_speed) / zone.deceleration
        force, quadratic = load.share * (load.mass * zone.deceleration - load.engine), -load.share * load.drag
        squares = zone.entry_speed**2 - zone.exit_speed**2
        fourths = zone.entry_speed**4 - zone.exit_speed**4
        energy = force * squares / (2 * zone.deceleration) + quadratic * fourths / (4 * zone.deceleration)
        between = (zone.exit_speed + after.entry_speed) / 2 if rolling_speed is None else rolling_speed
        braking = Phase(duration, zone.entry_speed, zone.deceleration, force, quadratic)
        made.append(Stretch(braking, Phase(zone.time_to_next, between), energy))
    return tuple(made)


def _require_zone(number: int, zone: Zone, load: Load) -> None:
    if zone.exit_speed >= zone.entry_speed:
        raise Refused(
            f"zones[{number}].exit_speed",
            f"must be less than the speed at the start, {3.6 * zone.entry_speed:.4g} km/h",
            f"{3.6 * zone.exit_speed:.4g} km/h",
        )
    others = load.drag * zone.entry_speed**2 + load.engine
    if others > load.mass * zone.deceleration:
        raise Refused(
            f"zones[{number}].deceleration",
            f"must be more than drag and engine give by themselves, {others / load.mass:.3g} m/s²",
            f"{zone.deceleration:.3g} m/s²",
        )

"""Laps of braking zones for one corner of the car: temperatures zone by zone, lap by lap, and after the flag."""

from typing import NamedTuple

from calc.brakes.heat.network import Corner, Highest, Phase, State, advance

SETTLED = 1.0  # K from lap to lap
MOST_LAPS = 60  # that are tried for settling
_SOAK_PIECES = 120


class Stretch(NamedTuple):
    """A braking zone and the way to the next: both phases, and the friction heat of this corner in it."""

    braking: Phase
    rolling: Phase
    energy: float


class Lap(NamedTuple):
    """One lap: the highest of each body, zone by zone for the disc, pads at the end of each zone, disc before each."""

    highest: Highest
    disc_peaks: tuple[float, ...]
    pad_ends: tuple[float, ...]
    disc_starts: tuple[float, ...]
    pad_starts: tuple[float, ...]
    end: State


class Soak(NamedTuple):
    """After the flag: highest caliper and fluid, and when."""

    caliper: float
    caliper_time: float
    fluid: float
    fluid_time: float
    times: tuple[float, ...]
    states: tuple[State, ...]


def count_steps(corner: Corner, stretches: tuple[Stretch, ...]) -> int:
    """Return the numerical steps of one lap."""
    phases = [phase for stretch in stretches for phase in (stretch.braking, stretch.rolling)]
    return sum(1 + min(10**9, int(phase.duration / corner.widest_step(phase.speed))) for phase in phases)


def run_lap(corner: Corner, stretches: tuple[Stretch, ...], state: State, halvings: int = 0) -> Lap:
    """Return one lap from a state."""
    tops = list(state[:4])
    peaks, ends, starts, pad_starts = [], [], [], []
    for stretch in stretches:
        starts.append(state.disc)
        pad_starts.append(state.pads)
        state, braking = advance(corner, state, stretch.braking, halvings)
        peaks.append(braking.disc)
        ends.append(state.pads)
        state, rolling = advance(corner, state, stretch.rolling, halvings)
        tops = [max(three) for three in zip(tops, braking, rolling, strict=True)]
    return Lap(Highest(*tops), tuple(peaks), tuple(ends), tuple(starts), tuple(pad_starts), state)


def run_laps(corner: Corner, stretches: tuple[Stretch, ...], start: State, laps: int, halvings: int = 0) -> list[Lap]:
    """Return a number of laps from a state."""
    done: list[Lap] = []
    state = start
    for _ in range(laps):
        done.append(run_lap(corner, stretches, state, halvings))
        state = done[-1].end
    return done


def settle(corner: Corner, stretches: tuple[Stretch, ...], done: list[Lap]) -> tuple[int | None, Lap]:
    """Return the lap from which nothing rises by more than ``SETTLED`` any more, and that lap; none when it takes too long."""
    laps = list(done)
    for n in range(1, MOST_LAPS):
        if n >= len(laps):
            laps.append(run_lap(corner, stretches, laps[-1].end))
        if max(abs(a - b) for a, b in zip(laps[n].highest, laps[n - 1].highest, strict=True)) < SETTLED:
            return n + 1, laps[n]
    return None, laps[-1]


def soak(corner: Corner, state: State, still: float, watched: float) -> Soak:
    """Return what caliper and fluid do in a car that stands after the flag, watched for a time."""
    parked, piece = corner.parked(still), watched / _SOAK_PIECES
    times, states = [0.0], [state]
    for n in range(1, _SOAK_PIECES + 1):
        state, _ = advance(parked, state, Phase(piece, 0.0))
        times.append(n * piece)
        states.append(state)
    caliper = max(range(len(states)), key=lambda i: states[i].caliper)
    fluid = max(range(len(states)), key=lambda i: states[i].fluid)
    return Soak(states[caliper].caliper, times[caliper], states[fluid].fluid, times[fluid], tuple(times), tuple(states))

"""The causes of one front wheel locking first, each with its size, its signs and the test that settles it."""

from collections.abc import Callable, Mapping
from typing import Any, Literal, NamedTuple

Pull = Literal["none before lock", "steady", "first moment only", "steering tugs"]
When = Literal["every stop", "only while turning", "only on bumps", "after a kerb"]
Known = Literal["yes", "no", "not measured"]


class Suspect(NamedTuple):
    """One cause: how much brake or grip one side loses, the signs it gives, and the test that settles it."""

    name: str
    brake_loss: Callable[[Mapping[str, Any]], float]  # force difference while rolling, N
    grip_loss: Callable[[Mapping[str, Any]], float]  # difference of what the tyres hold, N
    steers: bool
    pull: tuple[Pull, ...]
    when: tuple[When, ...]
    pressures_differ: bool
    temperatures_differ: bool
    follows_wheel: bool
    signature: str
    test: str


def _nothing(given: Mapping[str, Any]) -> float:
    return 0.0


def _fraction(name: str) -> Callable[[Mapping[str, Any]], float]:
    return lambda given: float(given["wheel_force"] * given[name])


SUSPECTS = (
    Suspect(
        "piston seized or slides stuck",
        _fraction("seized_share"),
        _nothing,
        False,
        ("steady",),
        ("every stop",),
        False,
        True,
        False,
        "steady pull away from the weak side, its disc cold, its pads worn to a taper",
        "Compare disc temperatures, then push each piston back by hand.",
    ),
    Suspect(
        "pad glazed, contaminated or of another batch",
        _fraction("pad_difference"),
        _nothing,
        False,
        ("steady",),
        ("every stop",),
        False,
        True,
        False,
        "steady pull, torque low at all pressures, pressures equal",
        "Swap the pads side to side: the pull changes side.",
    ),
    Suspect(
        "air, or a long or soft line on one side",
        _fraction("lag_share"),
        _nothing,
        False,
        ("first moment only",),
        ("every stop",),
        True,
        False,
        False,
        "pull at the first touch that goes while the pedal is held",
        "Measure both line pressures at the calipers during a quick stop; bleed.",
    ),
    Suspect(
        "corner weights: one front wheel light",
        _nothing,
        lambda given: float(given["adhesion"] * given["load_difference"]),
        False,
        ("none before lock",),
        ("every stop",),
        False,
        False,
        False,
        "the light wheel locks, no pull before it",
        "Weigh the car on four scales, bars disconnected.",
    ),
    Suspect(
        "roll or steer while braking",
        _nothing,
        lambda given: float(given["adhesion"] * given["turn_transfer"]),
        False,
        ("none before lock",),
        ("only while turning",),
        False,
        False,
        False,
        "the inside wheel locks, only in turns",
        "Brake straight on the same surface: it goes away.",
    ),
    Suspect(
        "scrub radius unequal: wheel offset or bent upright",
        _nothing,
        _nothing,
        True,
        ("steering tugs",),
        ("every stop",),
        False,
        False,
        False,
        "the wheel tugs, disc temperatures equal",
        "Measure offset, camber and steering axis of both sides.",
    ),
    Suspect(
        "camber unequal",
        _nothing,
        _fraction("camber_loss"),
        False,
        ("none before lock",),
        ("every stop",),
        False,
        False,
        False,
        "the wheel with more camber locks at less force",
        "Measure camber at braking ride height on both sides.",
    ),
    Suspect(
        "bump steer under dive",
        _nothing,
        _nothing,
        True,
        ("steering tugs", "first moment only"),
        ("every stop", "only on bumps"),
        False,
        False,
        False,
        "darts at the first touch, and either way over bumps",
        "Measure toe over the travel of braking dive.",
    ),
    Suspect(
        "one damper or spring weak",
        _nothing,
        lambda given: float(given["adhesion"] * given["bump_load"]),
        False,
        ("none before lock",),
        ("only on bumps",),
        False,
        False,
        False,
        "locks on bumps only",
        "Swap the dampers side to side: the locking changes side.",
    ),
    Suspect(
        "pads knocked back on one side",
        _fraction("lag_share"),
        _nothing,
        False,
        ("first moment only",),
        ("after a kerb",),
        False,
        False,
        False,
        "first pedal long and pulling after a kerb",
        "Check bearing play and disc run-out.",
    ),
    Suspect(
        "tyre: diameter, pressure or compound",
        _nothing,
        _fraction("tyre_difference"),
        False,
        ("none before lock",),
        ("every stop",),
        False,
        False,
        True,
        "the same wheel locks whatever caliper stands behind it",
        "Swap the wheels side to side: the locking changes side.",
    ),
)

"""One front wheel locks first: each cause with the yaw moment it would make and what it would measure, ranked, with the tests in order."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.brakes.care import with_care
from calc.brakes.pull import ScrubRadius, force, yaw_moment
from calc.brakes.suspects import SUSPECTS, Known, Pull, Suspect, When
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.terms import FrontTrack, TyreAdhesion
from calc.units import Metres, NewtonMetres, Newtons, Ratio


class OneSideLocks(NamedTuple):
    """Causes in order of fit; the same order holds for the moments and signs."""

    causes: Annotated[tuple[str, ...], Output("Causes, the best fit first", "")]
    signatures: Annotated[tuple[str, ...], Output("What each would show", "")]
    tests: Annotated[tuple[str, ...], Output("Tests, in this order", "")]
    yaw_moments: Annotated[
        tuple[NewtonMetres, ...],
        Output("Yaw moment of each before the lock, towards the stronger side", "M_z", "N·m", 3),
    ]
    steering_moments: Annotated[tuple[NewtonMetres, ...], Output("Steering moment of each", r"\Delta M", "N·m", 3)]
    grip_differences: Annotated[
        tuple[Newtons, ...], Output("Difference of what the two front tyres hold, of each", "", "N", 3)
    ]
    strong_side: Annotated[Literal["left", "right"], Output("Side that brakes harder while the car pulls", "")]
    fits: Annotated[tuple[int, ...], Output("Signs for less signs against, of each", "", "", 1, detail=True)]


def _remarks(result: OneSideLocks, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark(
            "Do the cheap swaps first (pads, wheels), one at a time, and measure before and after each.", about="tests"
        )
    ]
    if inputs["cold_side"] == inputs["locks"] and inputs["pull"] == "steady":
        remarks.append(
            Remark(
                "A steady pull towards a colder disc does not go together: measure the temperatures again.",
                "caution",
                "causes",
            )
        )
    if len(result.fits) > 1 and result.fits[0] == result.fits[1]:
        remarks.append(Remark("Two causes fit equally well: the first two tests tell them apart.", about="causes"))
    return tuple(remarks)


@calculator(
    title="One front wheel locks first",
    question="Why does one front wheel lock before the other, and how do I find out?",
    example={
        "locks": "left",
        "pull": "steady",
        "when": "every stop",
        "pressures_differ": "no",
        "cold_side": "right",
        "follows_wheel": "no",
        "wheel_force": "2600 N",
        "front_track": "1510 mm",
        "scrub_radius": "12 mm",
        "adhesion": "1.1",
        "load_difference": "140 N",
    },
    working=(
        Step(r"M_z = \Delta F \, \frac{t}{2}", "yaw_moments"),
        Step(r"\Delta M = \Delta F \, r_s + F \, \Delta r_s", "steering_moments"),
    ),
    remarks=with_care(_remarks),
)
def one_side_locks(
    *,
    locks: Annotated[
        Literal["left", "right"], Choice("Front wheel that locks first", {"left": "left", "right": "right"})
    ],
    pull: Annotated[
        Pull,
        Choice(
            "Pull before the lock",
            {
                "none before lock": "none before the lock",
                "steady": "steady pull",
                "first moment only": "pull in the first moment only",
                "steering tugs": "the steering wheel tugs",
            },
        ),
    ],
    when: Annotated[
        When,
        Choice(
            "When it happens",
            {
                "every stop": "every stop",
                "only while turning": "only while turning",
                "only on bumps": "only on bumps",
                "after a kerb": "after a kerb",
            },
        ),
    ],
    pressures_differ: Annotated[
        Known,
        Choice("Line pressures differ left and right", {"yes": "yes", "no": "no", "not measured": "not measured"}),
    ] = "not measured",
    cold_side: Annotated[
        Literal["left", "right", "equal", "not measured"],
        Choice(
            "Colder disc", {"left": "left", "right": "right", "equal": "both equal", "not measured": "not measured"}
        ),
    ] = "not measured",
    follows_wheel: Annotated[
        Known,
        Choice(
            "The locking changed side when the wheels were swapped",
            {"yes": "yes", "no": "no", "not measured": "not tried"},
        ),
    ] = "not measured",
    wheel_force: Annotated[Newtons, force("Brake force of one front wheel near the lock", "F")],
    front_track: FrontTrack,
    scrub_radius: ScrubRadius = 0.0,
    scrub_difference: Annotated[
        Metres, Input("Difference of scrub radius to allow for", r"\Delta r_s", "mm", at_least=0, at_most=0.1)
    ] = 0.005,
    adhesion: TyreAdhesion,
    load_difference: Annotated[
        Newtons, Input("Difference of the front scale readings, as force", r"\Delta N", "N", at_least=0, at_most=1e5)
    ] = 0.0,
    turn_transfer: Annotated[
        Newtons, Input("Load moved across the front axle while turning in", r"\Delta N_t", "N", at_least=0, at_most=1e5)
    ] = 800.0,
    bump_load: Annotated[
        Newtons, Input("Load a weak damper lets go on bumps", r"\Delta N_b", "N", at_least=0, at_most=1e5)
    ] = 500.0,
    seized_share: Annotated[Ratio, Input("Clamp lost by a seized piston", "", "%", at_least=0, at_most=1)] = 0.25,
    pad_difference: Annotated[Ratio, Input("Friction lost by a bad pad", "", "%", at_least=0, at_most=1)] = 0.15,
    lag_share: Annotated[
        Ratio, Input("Pressure missing on the slow side in the first moment", "", "%", at_least=0, at_most=1)
    ] = 0.4,
    camber_loss: Annotated[
        Ratio, Input("Grip lost by the wheel with more camber", "", "%", at_least=0, at_most=1)
    ] = 0.05,
    tyre_difference: Annotated[
        Ratio, Input("Grip or radius difference of the tyres", "", "%", at_least=0, at_most=1)
    ] = 0.06,
) -> OneSideLocks:
    """Return the causes of one front wheel locking first, each with the yaw moment and pull it would make, ranked by the signs seen.

    Equation: yaw moment dF t/2, steering moment dF r_s + F dr_s;  a grip difference makes no moment before the lock, only a first lock.
    Each sign that fits counts for a cause, each that does not counts against it; measured signs count double.
    Valid for: the front axle in a straight line; the sizes of the causes are yours to set.
    Caution: test on a wide, closed, level place; a car that pulls may swap ends when it locks.
    Source: statics, derived; signatures are common practice, no source.

    >>> answer = one_side_locks(locks="left", pull="none before lock", when="only on bumps", wheel_force=2600, front_track=1.5, adhesion=1.0)
    >>> answer.causes[0]
    'one damper or spring weak'
    """
    given = dict(locals())
    ranked = sorted(SUSPECTS, key=lambda each: -_fit(each, given))
    tugs = [
        each.brake_loss(given) * scrub_radius + (wheel_force * scrub_difference if each.steers else 0.0)
        for each in ranked
    ]
    return OneSideLocks(
        causes=tuple(each.name for each in ranked),
        signatures=tuple(each.signature for each in ranked),
        tests=tuple(each.test for each in ranked[:5]),
        yaw_moments=tuple(
            yaw_moment(wheel_force, wheel_force - each.brake_loss(given), front_track) for each in ranked
        ),
        steering_moments=tuple(tugs),
        grip_differences=tuple(each.grip_loss(given) for each in ranked),
        strong_side=locks,
        fits=tuple(_fit(each, given) for each in ranked),
    )


def _fit(suspect: Suspect, given: Mapping[str, Any]) -> int:
    """Return signs for a suspect less signs against it."""
    score = 2 if given["pull"] in suspect.pull else -2
    score += 2 if given["when"] in suspect.when else -2
    if given["pressures_differ"] != "not measured":
        score += 2 if (given["pressures_differ"] == "yes") == suspect.pressures_differ else -2
    if given["cold_side"] != "not measured":
        score += 2 if (given["cold_side"] != "equal") == suspect.temperatures_differ else -2
    if given["follows_wheel"] != "not measured":
        score += 2 if (given["follows_wheel"] == "yes") == suspect.follows_wheel else -2
    if suspect.name.startswith("corner weights"):
        score += 1 if given["load_difference"] > 0.05 * given["wheel_force"] else -1
    return score

"""What a change of track or wheelbase does to load transfer."""

from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.terms import CarMass, CgHeight
from calc.units import Metres, MetresPerSecondSquared, Newtons, Ratio


class TrackAndWheelbase(NamedTuple):
    """Load transfer before and after a change of track or wheelbase."""

    lateral_before: Annotated[Newtons, Output("Lateral transfer, both axles, before", r"\Delta F_y", "N")]
    lateral_after: Annotated[Newtons, Output("Lateral transfer, both axles, after", r"\Delta F_y'", "N")]
    longitudinal_before: Annotated[Newtons, Output("Longitudinal transfer before", r"\Delta F_x", "N")]
    longitudinal_after: Annotated[Newtons, Output("Longitudinal transfer after", r"\Delta F_x'", "N")]
    roll_stiffness_ratio: Annotated[Ratio, Output("Roll stiffness after over before, same wheel rates", "q_K", "", 4)]
    roll_ratio: Annotated[
        Ratio, Output("Roll angle after over before, same wheel rates and roll arm", r"q_\varphi", "", 4)
    ]


def _figures(result: TrackAndWheelbase, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    before, after = inputs["track_before"], inputs["track_after"]
    tracks = [
        min(before, after) * 0.85 + (max(before, after) * 1.15 - min(before, after) * 0.85) * i / 20 for i in range(21)
    ]
    across = inputs["mass"] * inputs["lateral_acceleration"] * inputs["cg_height"]
    return (
        Chart(
            "Lateral load transfer against track",
            "A wider track moves less load for the same corner, in proportion to one over the track.",
            Axis("Track", "mm"),
            Axis("Load moved across both axles", "N"),
            (
                Series("Lateral transfer", tracks, [across / track for track in tracks]),
                Series("Before and after", [before, after], [result.lateral_before, result.lateral_after], points=True),
            ),
        ),
    )


@calculator(
    title="What a wider track or a longer wheelbase does",
    question="How much load transfer do wider tracks or a longer wheelbase save?",
    example={
        "mass": "1160 kg",
        "cg_height": "480 mm",
        "track_before": "1515 mm",
        "track_after": "1545 mm",
        "wheelbase_before": "2560 mm",
        "wheelbase_after": "2560 mm",
        "lateral_acceleration": "1.1 g",
        "longitudinal_acceleration": "1 g",
    },
    working=(
        Step(r"\Delta F_y' = \frac{m \, a_y \, h}{t'}", "lateral_after"),
        Step(r"\Delta F_x' = \frac{m \, a_x \, h}{L'}", "longitudinal_after"),
        Step(r"q_K = \left( \frac{t'}{t} \right)^2", "roll_stiffness_ratio"),
    ),
    remarks=lambda result, inputs: (
        Remark(
            "Spacers and offset wheels also change scrub radius, motion ratio, bearing and stud loads: look at those, and at the rules, before ordering.",
            "caution",
        ),
        Remark(
            "A wider track stiffens the axle in roll with the square of the track: widening one end alone moves the balance as well.",
            about="roll_stiffness_ratio",
        ),
    ),
    figures=_figures,
)
def track_and_wheelbase(
    *,
    mass: CarMass,
    cg_height: CgHeight,
    track_before: Annotated[Metres, Input("Track before", "t", "mm", above=0, typical=(1.2, 1.8))],
    track_after: Annotated[Metres, Input("Track after", "t'", "mm", above=0, typical=(1.2, 1.8))],
    wheelbase_before: Annotated[Metres, Input("Wheelbase before", "L", "mm", above=0, typical=(2.0, 3.2))],
    wheelbase_after: Annotated[Metres, Input("Wheelbase after", "L'", "mm", above=0, typical=(2.0, 3.2))],
    lateral_acceleration: Annotated[MetresPerSecondSquared, Input("Lateral acceleration", "a_y", "g", at_least=0)],
    longitudinal_acceleration: Annotated[
        MetresPerSecondSquared, Input("Braking or acceleration, as a positive number", "a_x", "g", at_least=0)
    ],
) -> TrackAndWheelbase:
    """Return load transfer and roll stiffness before and after a change of track and wheelbase.

    Equation: dF_y = m a_y h/t;  dF_x = m a_x h/L;  K grows with t^2 at the same wheel rate, and so the roll angle falls with it.
    Valid for: the same mass and height, equal tracks front and rear, the tilt of the body left out.
    Caution: wheel spacers load studs, bearings and steering; check thread engagement and the rules of the class.
    Source: moment balance.

    >>> found = track_and_wheelbase(mass=1000, cg_height=0.5, track_before=1.5, track_after=1.6, wheelbase_before=2.5, wheelbase_after=2.5,
    ...     lateral_acceleration=10, longitudinal_acceleration=10)
    >>> round(found.lateral_before, 1), round(found.lateral_after, 1)
    (3333.3, 3125.0)
    """
    across, along = mass * lateral_acceleration * cg_height, mass * longitudinal_acceleration * cg_height
    wider = track_after / track_before
    return TrackAndWheelbase(
        across / track_before,
        across / track_after,
        along / wheelbase_before,
        along / wheelbase_after,
        wider**2,
        1 / wider**2,
    )

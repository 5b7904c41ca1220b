"""A torsion beam in roll, by the shear-centre approximation."""

from collections.abc import Mapping
from math import hypot
from typing import Annotated, Any, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, calculator
from calc.geometry.beam import beam_wheel, roll_centre_height
from calc.geometry.forms.inputs import LoadedRadius, spaced
from calc.refusal import Refused
from calc.units import Metres, Radians


class Beam(NamedTuple):
    """Both wheels of a torsion beam. Camber and toe-in count from zero as drawn."""

    left_toe_in: Annotated[Radians, Output("Left toe-in", r"\tau_l", "°", 3)]
    right_toe_in: Annotated[Radians, Output("Right toe-in", r"\tau_r", "°", 3)]
    left_camber: Annotated[Radians, Output("Left camber to the body", r"\gamma_l", "°", 3)]
    right_camber: Annotated[Radians, Output("Right camber to the body", r"\gamma_r", "°", 3)]
    roll_centre: Annotated[Metres, Output("Roll centre above ground as drawn, about", "h_{RC}", "mm", 3)]
    axle_steer: Annotated[Radians, Output("Axle steers to the left by", r"\delta", "°", 3)]
    left_dx: Annotated[Metres, Output("Left wheel moved forward", r"\Delta x_l", "mm", 3, detail=True)]
    left_dy: Annotated[Metres, Output("Left wheel moved outboard", r"\Delta y_l", "mm", 3, detail=True)]
    arm: Annotated[Metres, Output("Length of the arm in side view", "l", "mm", 4, detail=True)]


def _beam_figures(result: Beam, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    z = spaced(-0.05, 0.05, 11)
    bush, centre, wheel = _beam_points(inputs)
    rows = [beam_wheel(bush, centre, wheel, value, -value) for value in z]
    return (
        Chart(
            "Torsion beam in roll",
            "Toe-in and camber of the left wheel when it rises and the right one falls.",
            Axis("Left wheel travel, the right one opposite", "mm"),
            Axis("Angle", "°"),
            (Series("Toe-in", z, [r.toe_in for r in rows]), Series("Camber", z, [r.camber for r in rows])),
        ),
    )


def _beam_points(
    inputs: Mapping[str, Any],
) -> tuple[tuple[float, float, float], tuple[float, float, float], tuple[float, float, float]]:
    bush = (inputs["bush_ahead"], inputs["bush_outboard"], inputs["bush_height"])
    centre = (inputs["centre_ahead"], 0.0, inputs["centre_height"])
    return bush, centre, (0.0, inputs["wheel_outboard"], inputs["loaded_radius"])


def _beam_remarks(result: Beam, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            "An approximation: rigid bushes, a cross member that only twists. Expect roll steer within 10 % at best, and bush give on top.",
            "caution",
            "axle_steer",
        ),
    )


@calculator(
    title="Torsion beam: toe and camber in roll",
    question="How does a torsion-beam axle steer and lean its wheels in roll?",
    example={
        "bush_ahead": "400 mm",
        "bush_outboard": "560 mm",
        "bush_height": "300 mm",
        "centre_ahead": "330 mm",
        "centre_height": "340 mm",
        "wheel_outboard": "720 mm",
        "loaded_radius": "300 mm",
        "left": "40 mm",
        "right": "-40 mm",
    },
    remarks=_beam_remarks,
    figures=_beam_figures,
)
def torsion_beam(
    *,
    bush_ahead: Annotated[Metres, Input("Bush ahead of the axle", "x_b", "mm", above=0, at_most=2, typical=(0.3, 0.5))],
    bush_outboard: Annotated[
        Metres, Input("Bush from the centre-line", "y_b", "mm", above=0, at_most=2, typical=(0.45, 0.65))
    ],
    bush_height: Annotated[
        Metres, Input("Bush above ground", "z_b", "mm", at_least=-1, at_most=2, typical=(0.2, 0.45))
    ],
    centre_ahead: Annotated[
        Metres,
        Input(
            "Shear centre of the cross member ahead of the axle",
            "x_s",
            "mm",
            at_least=-1,
            at_most=2,
            typical=(0.05, 0.4),
        ),
    ],
    centre_height: Annotated[
        Metres, Input("Shear centre above ground", "z_s", "mm", at_least=-1, at_most=2, typical=(0.2, 0.45))
    ],
    wheel_outboard: Annotated[
        Metres, Input("Wheel centre from the centre-line", "y_w", "mm", above=0, at_most=2, typical=(0.65, 0.8))
    ],
    loaded_radius: LoadedRadius,
    left: Annotated[
        Metres, Input("Left wheel travel, bump positive", "z_l", "mm", at_least=-0.5, at_most=0.5, typical=(-0.1, 0.1))
    ],
    right: Annotated[
        Metres, Input("Right wheel travel, bump positive", "z_r", "mm", at_least=-0.5, at_most=0.5, typical=(-0.1, 0.1))
    ],
) -> Beam:
    """Return toe and camber of both wheels of a torsion beam. An approximation by nature.

    Equation: the mean of the travels turns the wheel about the lateral axis through the bush; half their difference turns it about the line from the bush
    to the shear centre of the cross member on the centre plane, that line keeping its drawn place. An open section's shear centre lies outside it, on the closed side.
    Signs: toe-in positive with the front inboard, camber positive with the top outboard, both from zero as drawn.
    Valid for: rigid bushes and arms, a cross member that twists freely; roll steer within 10 % at best, toe from bush give left out.
    Source: shear-centre model, from memory (Reimpell, Stoll and Betzler, The Automotive Chassis, 2001, chapter 4; Dixon, 2009, chapter 15).

    >>> answer = torsion_beam(bush_ahead=0.4, bush_outboard=0.56, bush_height=0.3, centre_ahead=0.33, centre_height=0.34, wheel_outboard=0.72,
    ...     loaded_radius=0.3, left=0.04, right=0.04)
    >>> answer.left_toe_in, answer.left_camber
    (0.0, 0.0)
    """
    bush, centre, wheel = _beam_points(
        {
            "bush_ahead": bush_ahead,
            "bush_outboard": bush_outboard,
            "bush_height": bush_height,
            "centre_ahead": centre_ahead,
            "centre_height": centre_height,
            "wheel_outboard": wheel_outboard,
            "loaded_radius": loaded_radius,
        }
    )
    try:
        one, other = beam_wheel(bush, centre, wheel, left, right), beam_wheel(bush, centre, wheel, right, left)
    except Refused as problem:
        raise Refused("left", problem.rule, problem.value, label="Wheel travel") from None
    return Beam(
        one.toe_in,
        other.toe_in,
        one.camber,
        other.camber,
        roll_centre_height(bush, centre, (0.0, wheel_outboard, 0.0)),
        (other.toe_in - one.toe_in) / 2,
        one.dx,
        one.dy,
        hypot(bush_ahead, bush_height - loaded_radius),
    )

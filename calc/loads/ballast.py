"""Ballast: how much, at a given place, brings a wanted share."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.loads.changes import combined
from calc.refusal import Refused
from calc.terms import CarMass, CgHeight, FrontShare, Wheelbase
from calc.units import Kilograms, Metres, Ratio


class BallastForShare(NamedTuple):
    """The ballast, and the car with it."""

    ballast: Annotated[Kilograms, Output("Ballast", "m_b", "kg", 3)]
    total: Annotated[Kilograms, Output("Mass with the ballast", "m'", "kg")]
    front_share: Annotated[Ratio, Output("Front share with the ballast", "w_f'", "%")]
    left_share: Annotated[Ratio, Output("Left share with the ballast", "w_l'", "%")]
    cg_height: Annotated[Metres, Output("Height of the centre of gravity with the ballast", "h'", "mm")]
    own_share: Annotated[Ratio, Output("Share of the ballast that falls on that axle or side", "p", "%", detail=True)]


def needed(mass: float, share: float, wanted: float, own_share: float) -> float:
    """Return the ballast that moves a share to the wanted one, if it falls by ``own_share`` on that axle or side.

    Equation: m_b = m (w' - w)/(p - w').  Negative or infinite where that place cannot do it.

    >>> round(needed(1000, 0.50, 0.48, 0.0), 3)
    41.667
    """
    reach = own_share - wanted
    return float("inf") if reach == 0 else mass * (wanted - share) / reach


def _remarks(result: BallastForShare, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark(
            "Fix ballast with rated bolts and spreader plates to a strong part of the car, as the class rules and scrutineers require.",
            "caution",
            "ballast",
        )
    ]
    if result.ballast > 0.1 * inputs["mass"]:
        remarks.append(
            Remark(
                "More than a tenth of the car: move the battery, tank or seat first, or place the ballast further out.",
                about="ballast",
            )
        )
    if inputs["ballast_height"] > inputs["cg_height"]:
        remarks.append(
            Remark("The ballast sits above the centre of gravity and raises it.", "caution", "ballast_height")
        )
    return tuple(remarks)


def _figures(result: BallastForShare, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    share, wanted = (
        (inputs["front_share"] if inputs["direction"] == "front" else inputs["left_share"]),
        inputs["wanted_share"],
    )
    far = 0.0 if wanted < share else 1.0
    places = [wanted + (far - wanted) * (0.15 + 0.05 * i) for i in range(21)]
    return (
        Chart(
            "Ballast against its place",
            "The further out the ballast sits, the less of it is needed; near the wanted centre of gravity no amount is enough.",
            Axis("Share of the ballast on that axle or side", "%"),
            Axis("Ballast", "kg"),
            (
                Series("Ballast needed", places, [needed(inputs["mass"], share, wanted, place) for place in places]),
                Series("Here", [result.own_share], [result.ballast], points=True),
            ),
        ),
    )


@calculator(
    title="Ballast for a wanted share",
    question="How much ballast, at this place, gives the share I want?",
    example={
        "mass": "630 kg",
        "wheelbase": "2310 mm",
        "track": "1380 mm",
        "front_share": "46 %",
        "left_share": "50.6 %",
        "cg_height": "395 mm",
        "direction": "front",
        "wanted_share": "48 %",
        "ballast_behind_front": "250 mm",
        "ballast_left": "-200 mm",
        "ballast_height": "140 mm",
    },
    working=(
        Step(r"p = 1 - \frac{x_b}{L} \quad \mathrm{or} \quad p = \frac{1}{2} + \frac{y_b}{t}", "own_share"),
        Step(r"m_b = m \, \frac{w' - w}{p - w'}", "ballast"),
        Step(r"h' = \frac{m \, h + m_b \, z_b}{m + m_b}", "cg_height"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def ballast_for_share(
    *,
    mass: CarMass,
    wheelbase: Wheelbase,
    track: Annotated[Metres, Input("Mean track", "t", "mm", above=0, typical=(1.2, 1.8))],
    front_share: FrontShare,
    left_share: Annotated[
        Ratio, Input("Share of the weight on the left wheels", "w_l", "%", above=0, below=1, typical=(0.4, 0.6))
    ] = 0.5,
    cg_height: CgHeight,
    direction: Annotated[
        Literal["front", "left"], Choice("The share to change", {"front": "the front share", "left": "the left share"})
    ] = "front",
    wanted_share: Annotated[Ratio, Input("Wanted share", "w'", "%", above=0, below=1, typical=(0.4, 0.62))],
    ballast_behind_front: Annotated[
        Metres, Input("Ballast behind the front axle", "x_b", "mm", help="Negative ahead of the axle.")
    ],
    ballast_left: Annotated[
        Metres, Input("Ballast left of the centre-line", "y_b", "mm", help="Negative to the right.")
    ] = 0.0,
    ballast_height: Annotated[Metres, Input("Ballast above the ground", "z_b", "mm", at_least=0, typical=(0.08, 0.5))],
) -> BallastForShare:
    """Return the ballast that brings the front or the left share to a wanted value, and what it does to the rest.

    Equation: m_b = m (w' - w)/(p - w'), p the share of the ballast's own weight on that axle or side.
    Valid for: one lump of ballast at one place, tracks that differ little, ride height set again afterwards.
    Caution: loose ballast is a danger to others; rated fixings, and the rules of the class decide where and how.
    Source: moment balance, solved for the added mass.

    >>> found = ballast_for_share(mass=1000, wheelbase=2.5, track=1.5, front_share=0.5, cg_height=0.5, wanted_share=0.52,
    ...     ballast_behind_front=0, ballast_height=0.2)
    >>> round(found.ballast, 3)
    41.667
    """
    on_front, on_left = 1 - ballast_behind_front / wheelbase, 0.5 + ballast_left / track
    share, own = (front_share, on_front) if direction == "front" else (left_share, on_left)
    added = needed(mass, share, wanted_share, own)
    place = "ballast_behind_front" if direction == "front" else "ballast_left"
    value = ballast_behind_front if direction == "front" else ballast_left
    if wanted_share == share:
        raise Refused("wanted_share", "must differ from the share the car has", quantity(wanted_share, "%"))
    if not 0 < added < float("inf"):
        more = "more" if wanted_share > share else "less"
        where = "front axle" if direction == "front" else "left side"
        raise Refused(
            place, f"must put {more} of the ballast on the {where} than the wanted share", quantity(value, "mm")
        )
    return BallastForShare(
        ballast=added,
        total=mass + added,
        front_share=combined([mass, added], [front_share, on_front]),
        left_share=combined([mass, added], [left_share, on_left]),
        cg_height=combined([mass, added], [cg_height, ballast_height]),
        own_share=own,
    )

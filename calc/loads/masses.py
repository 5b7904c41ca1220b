"""Sprung and unsprung: what the springs carry, and where its centre of gravity lies."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.display import quantity
from calc.figures.spec import Drawing, Figure, Shape
from calc.form import Output, Remark, Step, calculator
from calc.loads.terms import UnsprungFront, UnsprungFrontHeight, UnsprungRear, UnsprungRearHeight
from calc.refusal import Refused
from calc.terms import CarMass, CgHeight, FrontShare, Wheelbase
from calc.units import Kilograms, Metres, Ratio


class SprungMassSplit(NamedTuple):
    """The sprung mass, its place, and what each spring carries."""

    sprung_mass: Annotated[Kilograms, Output("Sprung mass", "m_s", "kg")]
    sprung_height: Annotated[Metres, Output("Height of the sprung centre of gravity", "h_s", "mm")]
    sprung_front_share: Annotated[Ratio, Output("Share of the sprung mass on the front springs", "s_f", "%")]
    front_corner: Annotated[Kilograms, Output("Sprung mass of one front corner", "m_{sf}", "kg")]
    rear_corner: Annotated[Kilograms, Output("Sprung mass of one rear corner", "m_{sr}", "kg")]
    sprung_to_front: Annotated[
        Metres, Output("Sprung centre of gravity behind the front axle", "a_s", "mm", detail=True)
    ]
    unsprung_share: Annotated[Ratio, Output("Unsprung share of the car", "u", "%", 3)]


def _remarks(result: SprungMassSplit, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    corner = (inputs["unsprung_front"] + inputs["unsprung_rear"]) / 4
    remarks = [
        Remark(
            "Weigh each link with its inner end held on a stand and its outer end on the scale: that is its unsprung part. Half the link is a fair guess."
        )
    ]
    if not 15 <= corner <= 50:
        remarks.append(
            Remark(
                "15 to 45 kg at a corner is usual: light single-seaters at the lower end, road-based cars at the upper.",
                about="unsprung_share",
            )
        )
    return tuple(remarks)


def _figures(result: SprungMassSplit, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    length, front, rear = inputs["wheelbase"], inputs["unsprung_front_height"], inputs["unsprung_rear_height"]
    whole = length * (1 - inputs["front_share"]), inputs["cg_height"]
    return (
        Drawing(
            "Where the masses are",
            f"Side view: the sprung centre of gravity lies {result.sprung_height * 1000:.0f} mm above the ground, the whole car's {whole[1] * 1000:.0f} mm.",
            ("rearward", "z up"),
            (
                Shape("line", ((-0.5, 0.0), (length + 0.5, 0.0)), "ground"),
                Shape("circle", ((0.0, front),), "wheel", "", front),
                Shape("circle", ((length, rear),), "wheel", "", rear),
                Shape("point", ((0.0, front),), "body", f"{inputs['unsprung_front']:.0f} kg"),
                Shape("point", ((length, rear),), "body", f"{inputs['unsprung_rear']:.0f} kg"),
                Shape("point", (whole,), "construction", ""),
                Shape(
                    "point",
                    ((result.sprung_to_front, result.sprung_height),),
                    "result",
                    f"sprung {result.sprung_mass:.0f} kg",
                ),
            ),
        ),
    )


@calculator(
    title="Sprung and unsprung mass",
    question="How much of the car do the springs carry, and how high does that part sit?",
    example={
        "mass": "1160 kg",
        "front_share": "52.6 %",
        "cg_height": "480 mm",
        "wheelbase": "2560 mm",
        "unsprung_front": "76 kg",
        "unsprung_rear": "72 kg",
        "unsprung_front_height": "305 mm",
        "unsprung_rear_height": "305 mm",
    },
    working=(
        Step(r"m_s = m - m_{uf} - m_{ur}", "sprung_mass"),
        Step(r"h_s = \frac{m \, h - m_{uf} \, h_{uf} - m_{ur} \, h_{ur}}{m_s}", "sprung_height"),
        Step(r"s_f = \frac{m \, w_f - m_{uf}}{m_s}", "sprung_front_share"),
        Step(r"a_s = (1 - s_f) \, L", "sprung_to_front"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def sprung_mass_split(
    *,
    mass: CarMass,
    front_share: FrontShare,
    cg_height: CgHeight,
    wheelbase: Wheelbase,
    unsprung_front: UnsprungFront,
    unsprung_rear: UnsprungRear,
    unsprung_front_height: UnsprungFrontHeight,
    unsprung_rear_height: UnsprungRearHeight,
) -> SprungMassSplit:
    """Return the sprung mass, the place of its centre of gravity, and the sprung mass of each corner.

    Equation: m_s = m - m_uf - m_ur;  h_s = (m h - m_uf h_uf - m_ur h_ur)/m_s;  a_s = (m a - m_ur L)/m_s with a = (1 - w_f) L.
    Valid for: unsprung masses at their axles; a live axle counts whole with half of its propeller shaft.
    Source: moments of the parts add up to those of the whole.

    >>> found = sprung_mass_split(mass=1000, front_share=0.5, cg_height=0.5, wheelbase=2.5, unsprung_front=50, unsprung_rear=50,
    ...     unsprung_front_height=0.3, unsprung_rear_height=0.3)
    >>> found.sprung_mass, round(found.sprung_height, 4), round(found.front_corner, 6)
    (900.0, 0.5222, 225.0)
    """
    front, rear = mass * front_share - unsprung_front, mass * (1 - front_share) - unsprung_rear
    for name, left, unsprung in (("unsprung_front", front, unsprung_front), ("unsprung_rear", rear, unsprung_rear)):
        if left <= 0:
            raise Refused(
                name,
                f"must be less than the mass on that axle, {quantity(left + unsprung, 'kg')}",
                quantity(unsprung, "kg"),
            )
    sprung = math.fsum((mass, -unsprung_front, -unsprung_rear))
    moment = math.fsum(
        (mass * cg_height, -unsprung_front * unsprung_front_height, -unsprung_rear * unsprung_rear_height)
    )
    if moment <= 0:
        raise Refused("cg_height", "must leave the sprung mass above the ground", quantity(cg_height, "mm"))
    return SprungMassSplit(
        sprung_mass=sprung,
        sprung_height=moment / sprung,
        sprung_front_share=front / sprung,
        front_corner=front / 2,
        rear_corner=rear / 2,
        sprung_to_front=wheelbase * rear / sprung,
        unsprung_share=(unsprung_front + unsprung_rear) / mass,
    )

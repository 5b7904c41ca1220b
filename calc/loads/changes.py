"""Where the centre of gravity goes when mass is added, taken out or burned."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Drawing, Figure, Series, Shape
from calc.form import Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.terms import CarMass, CgHeight, FrontShare, Wheelbase
from calc.units import Kilograms, Metres, Ratio


class Item(NamedTuple):
    """Something put into the car or taken out of it."""

    name: Annotated[str, Input("Item")]
    mass: Annotated[Kilograms, Input("Mass, negative if taken out", "m_i", "kg")]
    behind_front: Annotated[Metres, Input("Behind the front axle", "x_i", "mm", help="Negative ahead of the axle.")]
    left: Annotated[Metres, Input("Left of the centre-line", "y_i", "mm", help="Negative to the right.")]
    height: Annotated[Metres, Input("Above the ground", "z_i", "mm", at_least=0)]


class ChangedMass(NamedTuple):
    """The car after the change."""

    total: Annotated[Kilograms, Output("Mass after the change", "m'", "kg")]
    front_share: Annotated[Ratio, Output("Front share after the change", "w_f'", "%")]
    cg_to_front: Annotated[Metres, Output("Centre of gravity behind the front axle", "a'", "mm")]
    cg_left: Annotated[Metres, Output("Centre of gravity left of the centre-line", "y'", "mm", 3)]
    cg_height: Annotated[Metres, Output("Height of the centre of gravity", "h'", "mm")]
    share_change: Annotated[Ratio, Output("Change of the front share", r"\Delta w_f", "%", 3, detail=True)]
    height_change: Annotated[Metres, Output("Change of the height", r"\Delta h", "mm", 3, detail=True)]
    flags: tuple[str, ...]


def combined(masses: list[float], places: list[float]) -> float:
    """Return the place of the common centre of gravity along one direction.

    Equation: x = sum(m_i x_i) / sum(m_i).

    >>> combined([950.0, -45.0], [1.30, 1.75]) == (950 * 1.30 - 45 * 1.75) / 905
    True
    """
    return math.fsum(m * x for m, x in zip(masses, places, strict=True)) / math.fsum(masses)


def _drawing(result: ChangedMass, inputs: Mapping[str, Any]) -> Drawing:
    length = inputs["wheelbase"]
    before = length * (1 - inputs["front_share"]), inputs["cg_height"]
    items = tuple(Shape("point", ((row.behind_front, row.height),), "body", row.name[:16]) for row in inputs["items"])
    return Drawing(
        "The centre of gravity before and after",
        f"Side view: the centre of gravity moves by {(result.cg_to_front - before[0]) * 1000:.0f} mm rearward and {result.height_change * 1000:.0f} mm upward.",
        ("rearward", "z up"),
        (
            Shape("line", ((-0.5, 0.0), (length + 0.5, 0.0)), "ground"),
            Shape("circle", ((0.0, 0.3),), "wheel", "", 0.3),
            Shape("circle", ((length, 0.3),), "wheel", "", 0.3),
            *items,
            Shape("point", (before,), "construction", "before"),
            Shape("arrow", (before, (result.cg_to_front, result.cg_height)), "result"),
            Shape("point", ((result.cg_to_front, result.cg_height),), "result", "after"),
        ),
    )


def _change_remarks(result: ChangedMass, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    heavy = max(inputs["items"], key=lambda row: abs(row.mass))
    return (
        Remark(f"The largest single change is {heavy.name}.", about="total"),
        Remark(
            "Ballast must be held so that a crash cannot free it: rated fixings, checked by pulling, and as the rules of the class say.",
            "caution",
        ),
    )


@calculator(
    title="What added or removed mass does",
    question="How do a driver, fuel, a battery moved or parts taken out change the weight and its place?",
    example={
        "mass": "1085 kg",
        "wheelbase": "2560 mm",
        "front_share": "54 %",
        "cg_height": "475 mm",
        "items": [
            ["driver", "80 kg", "1480 mm", "360 mm", "520 mm"],
            ["battery out of the nose", "-14 kg", "-350 mm", "-400 mm", "620 mm"],
            ["battery behind the seat", "14 kg", "1850 mm", "-300 mm", "300 mm"],
        ],
    },
    working=(
        Step(r"m' = m + \sum m_i", "total"),
        Step(r"a' = \frac{m \, a + \sum m_i \, x_i}{m'}", "cg_to_front"),
        Step(r"h' = \frac{m \, h + \sum m_i \, z_i}{m'}", "cg_height"),
        Step(r"w_f' = 1 - \frac{a'}{L}", "front_share"),
    ),
    remarks=_change_remarks,
    figures=lambda result, inputs: (_drawing(result, inputs),),
)
def mass_change(
    *,
    mass: Annotated[Kilograms, Input("Mass of the car before", "m", "kg", above=0, typical=(400, 2000))],
    wheelbase: Wheelbase,
    front_share: FrontShare,
    cg_height: CgHeight,
    cg_left: Annotated[
        Metres, Input("Centre of gravity left of the centre-line, before", "y", "mm", typical=(-0.1, 0.1))
    ] = 0.0,
    items: Annotated[tuple[Item, ...], Input("What goes in or out")],
) -> ChangedMass:
    """Return mass and centre of gravity after items are added or taken out.

    Equation: m' = m + sum(m_i);  x' = (m x + sum(m_i x_i))/m', and the same to the left and upward.
    Signs: a negative mass is taken out; x behind the front axle, y to the left, z up, all from the ground and the centre-line.
    Valid for: a car whose ride height is set again after the change; otherwise the height is a little lower or higher.
    Caution: ballast that comes loose is a danger to others: fix it as the rules of the class and its scrutineers require.
    Source: moments of the parts add up to those of the whole.

    >>> found = mass_change(mass=950, wheelbase=2.6, front_share=0.5, cg_height=0.42, items=(Item("fuel", -45, 1.75, 0, 0.35),))
    >>> round(found.cg_to_front, 6), round(found.cg_height, 6)
    (1.277624, 0.423481)
    """
    masses = [mass, *(row.mass for row in items)]
    total = math.fsum(masses)
    if total <= 0:
        raise Refused("items", "must leave some mass in the car", quantity(total - mass, "kg"))
    to_front = combined(masses, [wheelbase * (1 - front_share), *(row.behind_front for row in items)])
    height = combined(masses, [cg_height, *(row.height for row in items)])
    share = 1 - to_front / wheelbase
    flags = () if 0 < share < 1 else ("The centre of gravity has left the wheelbase: one axle would lift at rest.",)
    if height <= 0:
        raise Refused("items", "must leave the centre of gravity above the ground", quantity(height, "mm"))
    return ChangedMass(
        total=total,
        front_share=share,
        cg_to_front=to_front,
        cg_left=combined(masses, [cg_left, *(row.left for row in items)]),
        cg_height=height,
        share_change=share - front_share,
        height_change=height - cg_height,
        flags=flags,
    )


class BurnedFuel(NamedTuple):
    """The car after some fuel is gone."""

    total: Annotated[Kilograms, Output("Mass at the end", "m'", "kg")]
    front_share: Annotated[Ratio, Output("Front share at the end", "w_f'", "%")]
    cg_to_front: Annotated[Metres, Output("Centre of gravity behind the front axle at the end", "a'", "mm")]
    cg_height: Annotated[Metres, Output("Height of the centre of gravity at the end", "h'", "mm")]
    fuel_left: Annotated[Kilograms, Output("Fuel left", "m_e", "kg")]
    front_change: Annotated[Kilograms, Output("Change on the front scales", r"\Delta m_f", "kg", 3)]
    rear_change: Annotated[Kilograms, Output("Change on the rear scales", r"\Delta m_r", "kg", 3)]


class Tank(NamedTuple):
    """The car with fuel as it starts."""

    mass: float
    to_front: float
    height: float
    fuel: float
    place: float
    floor: float
    depth: float

    def after(self, burned: float) -> tuple[float, float, float]:
        """Return mass, distance behind the front axle and height after burning; the fuel level sinks with what is left."""
        left = self.fuel - burned
        middle, low = self.floor + self.depth / 2, self.floor + self.depth * (left / self.fuel) / 2
        parts = [self.mass, -self.fuel, left]
        return (
            math.fsum(parts),
            combined(parts, [self.to_front, self.place, self.place]),
            combined(parts, [self.height, middle, low]),
        )


def _tank(inputs: Mapping[str, Any]) -> Tank:
    to_front = inputs["wheelbase"] * (1 - inputs["front_share"])
    return Tank(
        inputs["mass"],
        to_front,
        inputs["cg_height"],
        inputs["fuel"],
        inputs["tank_behind_front"],
        inputs["tank_floor"],
        inputs["fuel_depth"],
    )


def _fuel_figures(result: BurnedFuel, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    steps = [inputs["fuel"] * i / 20 for i in range(21)]
    shares = [1 - _tank(inputs).after(step)[1] / inputs["wheelbase"] for step in steps]
    return (
        Chart(
            "Front share as the fuel goes",
            "The balance drifts steadily as fuel burns; set the car up for the load that matters, not for the full tank.",
            Axis("Fuel burned", "kg"),
            Axis("Front share", "%"),
            (
                Series("Front share", steps, shares),
                Series("Here", [inputs["fuel_burned"]], [result.front_share], points=True),
            ),
        ),
    )


@calculator(
    title="What burning fuel does",
    question="How far does the weight move between a full and an empty tank?",
    example={
        "mass": "1160 kg",
        "wheelbase": "2560 mm",
        "front_share": "52.6 %",
        "cg_height": "480 mm",
        "fuel": "24 kg",
        "fuel_burned": "18 kg",
        "tank_behind_front": "2350 mm",
        "tank_floor": "280 mm",
        "fuel_depth": "180 mm",
    },
    working=(
        Step(r"m' = m - m_b", "total"),
        Step(r"a' = \frac{m \, a - m_b \, x_t}{m'}", "cg_to_front"),
        Step(r"w_f' = 1 - \frac{a'}{L}", "front_share"),
    ),
    remarks=lambda result, inputs: (
        Remark("Weigh the car with the fuel it will have in the middle of the run, and note it on the sheet."),
    ),
    figures=_fuel_figures,
)
def fuel_burn(
    *,
    mass: CarMass,
    wheelbase: Wheelbase,
    front_share: FrontShare,
    cg_height: CgHeight,
    fuel: Annotated[
        Kilograms,
        Input(
            "Fuel aboard at the start",
            "m_t",
            "kg",
            above=0,
            typical=(3, 90),
            help="Petrol weighs about 0.74 to 0.76 kg a litre.",
        ),
    ],
    fuel_burned: Annotated[Kilograms, Input("Fuel burned", "m_b", "kg", at_least=0, typical=(1, 80))],
    tank_behind_front: Annotated[
        Metres, Input("Middle of the tank behind the front axle", "x_t", "mm", typical=(0.5, 3.2))
    ],
    tank_floor: Annotated[
        Metres, Input("Floor of the tank above the ground", "z_t", "mm", at_least=0, typical=(0.1, 0.5))
    ],
    fuel_depth: Annotated[
        Metres, Input("Depth of the fuel at the start", "d_t", "mm", at_least=0, typical=(0.05, 0.4))
    ] = 0.0,
) -> BurnedFuel:
    """Return mass, balance and height of the centre of gravity after fuel has been burned.

    Equation: m' = m - m_b;  a' = (m a - m_b x_t)/m';  the fuel that is left lies half of its own sunken depth above the tank floor.
    Valid for: an upright tank, surge left out, ride height taken as unchanged.
    Source: moments of the parts add up to those of the whole.

    >>> found = fuel_burn(mass=950, wheelbase=2.6, front_share=0.5, cg_height=0.42, fuel=45, fuel_burned=45, tank_behind_front=1.75, tank_floor=0.35)
    >>> found.total, round(found.cg_to_front, 6), round(found.cg_height, 6)
    (905.0, 1.277624, 0.423481)
    """
    if fuel >= mass:
        raise Refused("fuel", f"must be less than the mass of the car, {quantity(mass, 'kg')}", quantity(fuel, "kg"))
    if fuel_burned > fuel:
        rule = f"must be at most the fuel aboard, {quantity(fuel, 'kg')}"
        raise Refused("fuel_burned", rule, quantity(fuel_burned, "kg"))
    total, to_front, height = _tank(locals()).after(fuel_burned)
    share = 1 - to_front / wheelbase
    return BurnedFuel(
        total=total,
        front_share=share,
        cg_to_front=to_front,
        cg_height=height,
        fuel_left=fuel - fuel_burned,
        front_change=-fuel_burned * (1 - tank_behind_front / wheelbase),
        rear_change=-fuel_burned * tank_behind_front / wheelbase,
    )

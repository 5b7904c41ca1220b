"""Downforce and drag: from coefficients to axle loads, and back from measured axle loads."""

from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Drawing, Figure, Series, Shape
from calc.form import Input, Output, Remark, Step, calculator
from calc.loads.air import STANDARD_DENSITY
from calc.loads.terms import AirDensity, Speed
from calc.refusal import Refused
from calc.terms import Wheelbase
from calc.units import Metres, MetresPerSecond, Newtons, Pascals, Ratio, SquareMetres, Watts

DragHeight = Annotated[
    Metres,
    Input(
        "Height of the drag above the ground",
        "h_D",
        "mm",
        at_least=0,
        typical=(0.2, 0.9),
        help="0 if the centre of pressure was found from axle loads: the drag is then in it.",
    ),
]


class AeroLoads(NamedTuple):
    """Forces of the air and what the axles gain from them."""

    downforce: Annotated[Newtons, Output("Downforce", "D_f", "N")]
    drag: Annotated[Newtons, Output("Drag", "D", "N")]
    front_gain: Annotated[Newtons, Output("Front axle gains", r"\Delta F_f", "N")]
    rear_gain: Annotated[Newtons, Output("Rear axle gains", r"\Delta F_r", "N")]
    front_balance: Annotated[Ratio | None, Output("Front share of the downforce, as the axles feel it", "w_a", "%", 3)]
    effective_centre: Annotated[
        Metres | None, Output("Centre of pressure behind the front axle, with the drag in it", "x_e", "mm")
    ]
    drag_power: Annotated[Watts, Output("Power that the drag takes", "P", "kW", 3)]
    dynamic_pressure: Annotated[Pascals, Output("Dynamic pressure", "q", "Pa", 4, detail=True)]
    flags: tuple[str, ...]


def _remarks(result: AeroLoads, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [Remark("Loads grow with the square of speed: half the speed, a quarter of the load.", about="downforce")]
    if result.front_gain < 0 < result.rear_gain:
        remarks.append(
            Remark(
                "A wing behind the rear axle and the drag above the ground lift the front: the front tyres lose load as speed rises.",
                "caution",
                "front_gain",
            )
        )
    return tuple(remarks)


def gains(inputs: Mapping[str, Any], speed: float) -> tuple[float, float, float, float]:
    """Return downforce, drag, and what front and rear axle gain, at a speed.

    Equation: q = rho V^2/2;  dF_r = (D_f x_p + D h_D)/L;  dF_f = D_f - dF_r.
    """
    pressure = inputs["density"] * speed**2 / 2
    down, drag = pressure * inputs["downforce_area"], pressure * inputs["drag_area"]
    rear = (down * inputs["centre_of_pressure"] + drag * inputs["drag_height"]) / inputs["wheelbase"]
    return down, drag, down - rear, rear


def _figures(result: AeroLoads, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    top = max(1.2 * inputs["speed"], 40.0)
    speeds = [top * i / 30 for i in range(31)]
    found = [gains(inputs, v) for v in speeds]
    here = inputs["speed"]
    chart = Chart(
        "Axle gains against speed",
        "Both axle gains grow with the square of speed; the drag moves load from the front to the rear.",
        Axis("Speed", "km/h"),
        Axis("Load gained", "N"),
        (
            Series("Front axle", speeds, [front for _, _, front, _ in found]),
            Series("Rear axle", speeds, [rear for _, _, _, rear in found]),
            Series("Drag", speeds, [drag for _, drag, _, _ in found]),
            Series("Here", [here, here], [result.front_gain, result.rear_gain], points=True),
        ),
    )
    return (chart, _drawing(inputs))


def _drawing(inputs: Mapping[str, Any]) -> Drawing:
    length, at, high = inputs["wheelbase"], inputs["centre_of_pressure"], inputs["drag_height"]
    up = 1.0 if inputs["downforce_area"] >= 0 else -1.0
    return Drawing(
        "Where the air pushes",
        f"Side view: the downforce acts {at:.2f} m behind the front axle, the drag {high:.2f} m above the ground.",
        ("rearward", "z up"),
        (
            Shape("line", ((-0.6, 0.0), (length + 0.8, 0.0)), "ground"),
            Shape("circle", ((0.0, 0.3),), "wheel", "", 0.3),
            Shape("circle", ((length, 0.3),), "wheel", "", 0.3),
            Shape("arrow", ((at, 0.9 + 0.25 * up), (at, 0.9 - 0.25 * up)), "force", "downforce"),
            Shape("arrow", ((at, high), (at + 0.6, high)), "force", "drag"),
        ),
    )


@calculator(
    title="Downforce, drag and axle loads",
    question="What does the air add to each axle at this speed?",
    example={
        "density": "1.2 kg/m³",
        "speed": "160 km/h",
        "downforce_area": "0.95 m²",
        "drag_area": "0.78 m²",
        "centre_of_pressure": "1650 mm",
        "drag_height": "520 mm",
        "wheelbase": "2560 mm",
    },
    working=(
        Step(r"q = \frac{\rho \, V^2}{2}", "dynamic_pressure"),
        Step(r"D_f = q \, C_L A", "downforce"),
        Step(r"D = q \, C_D A", "drag"),
        Step(r"\Delta F_r = \frac{D_f \, x_p + D \, h_D}{L}", "rear_gain"),
        Step(r"\Delta F_f = D_f - \Delta F_r", "front_gain"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def aero_loads(
    *,
    density: AirDensity = STANDARD_DENSITY,
    speed: Speed,
    downforce_area: Annotated[
        SquareMetres,
        Input(
            "Downforce coefficient times area",
            "C_L A",
            "m²",
            typical=(-0.3, 4),
            help="Positive presses down; a plain road car lifts a little.",
        ),
    ],
    drag_area: Annotated[
        SquareMetres, Input("Drag coefficient times area", "C_D A", "m²", at_least=0, typical=(0.5, 1.6))
    ],
    centre_of_pressure: Annotated[Metres, Input("Downforce behind the front axle", "x_p", "mm", typical=(0.5, 3.0))],
    drag_height: DragHeight = 0.0,
    wheelbase: Wheelbase,
) -> AeroLoads:
    """Return downforce, drag and what each axle gains from them at one speed.

    Equation: q = rho V^2/2;  downforce q CL A, drag q CD A;  dF_r = (D_f x_p + D h_D)/L, dF_f = D_f - dF_r.
    Signs: downforce is positive downward; gains are positive when the axle gains load; x_p is measured rearward from the front axle.
    Valid for: fixed coefficients: no change with ride height, rake or yaw; steady speed, the drag held by the driven wheels at the ground.
    Caution: a centre of pressure from measured axle loads holds the moment of the drag already: set the drag height to 0 then.
    Source: definition of the coefficients; moment balance.

    >>> found = aero_loads(speed=50, downforce_area=2.4, drag_area=1.1, centre_of_pressure=1.35, drag_height=0.45, wheelbase=2.5)
    >>> found.downforce, found.drag, found.front_gain, found.rear_gain
    (3675.0, 1684.375, 1387.3125, 2287.6875)
    """
    down, drag, front, rear = gains(locals(), speed)
    felt = abs(down) > 1e-9 * drag  # below it the moment of the drag is all there is
    flags = (
        ()
        if 0 <= centre_of_pressure <= wheelbase
        else ("The centre of pressure lies outside the wheelbase: one axle loses load.",)
    )
    return AeroLoads(
        downforce=down,
        drag=drag,
        front_gain=front,
        rear_gain=rear,
        front_balance=front / down if felt else None,
        effective_centre=wheelbase * (rear / down) if felt else None,
        drag_power=drag * speed,
        dynamic_pressure=density * speed**2 / 2,
        flags=flags,
    )


class AeroFromAxles(NamedTuple):
    """Coefficients that explain measured changes of axle load."""

    downforce_area: Annotated[SquareMetres, Output("Downforce coefficient times area", "C_L A", "m²", 3)]
    front_balance: Annotated[Ratio, Output("Front share of the downforce", "w_a", "%", 3)]
    effective_centre: Annotated[
        Metres, Output("Centre of pressure behind the front axle, with the drag in it", "x_e", "mm")
    ]
    downforce: Annotated[Newtons, Output("Downforce at that speed", "D_f", "N")]
    flags: tuple[str, ...]


def _measured_figures(result: AeroFromAxles, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    speeds = [1.3 * inputs["speed"] * i / 30 for i in range(31)]
    gains = inputs["front_gain"], inputs["rear_gain"]
    return (
        Chart(
            "Axle gains at other speeds",
            "The measured gains carried to other speeds with the square of speed, as fixed coefficients would.",
            Axis("Speed", "km/h"),
            Axis("Load gained", "N"),
            (
                *(
                    Series(name, speeds, [gain * (v / inputs["speed"]) ** 2 for v in speeds])
                    for name, gain in zip(("Front axle", "Rear axle"), gains, strict=True)
                ),
                Series("Measured", [inputs["speed"]] * 2, list(gains), points=True),
            ),
        ),
    )


@calculator(
    title="Downforce from measured axle loads",
    question="My logger shows the axles gain this much at speed: what are downforce and balance?",
    example={
        "density": "1.2 kg/m³",
        "speed": "160 km/h",
        "front_gain": "180 N",
        "rear_gain": "920 N",
        "wheelbase": "2560 mm",
    },
    working=(
        Step(r"D_f = \Delta F_f + \Delta F_r", "downforce"),
        Step(r"C_L A = \frac{2 \, D_f}{\rho \, V^2}", "downforce_area"),
        Step(r"x_e = \frac{L \, \Delta F_r}{D_f}", "effective_centre"),
    ),
    remarks=lambda result, inputs: (
        Remark(
            "Coast at two or three steady speeds, both ways along the same straight, and average: wind, road and acceleration hide in one run.",
            about="downforce_area",
        ),
        Remark(
            "This centre of pressure holds the moment of the drag: use it with a drag height of 0.",
            about="effective_centre",
        ),
    ),
    figures=_measured_figures,
)
def aero_from_axle_loads(
    *,
    density: AirDensity = STANDARD_DENSITY,
    speed: Annotated[MetresPerSecond, Input("Speed", "V", "km/h", above=0, typical=(20, 90))],
    front_gain: Annotated[Newtons, Input("Front axle gain at that speed", r"\Delta F_f", "N", typical=(-500, 6000))],
    rear_gain: Annotated[Newtons, Input("Rear axle gain at that speed", r"\Delta F_r", "N", typical=(-500, 9000))],
    wheelbase: Wheelbase,
) -> AeroFromAxles:
    """Return downforce coefficient, balance and effective centre of pressure from measured axle gains.

    Equation: D_f = dF_f + dF_r;  CL A = 2 D_f/(rho V^2);  x_e = L dF_r/D_f.
    Signs: gains are positive when the axle gains load.
    Valid for: steady speed on a level road; the gains from spring travel or from load cells in the pushrods.
    Caution: the moment of the drag is in these gains already.
    Source: definition of the coefficients; moment balance.

    >>> found = aero_from_axle_loads(density=1.225, speed=50, front_gain=1387.3125, rear_gain=2287.6875, wheelbase=2.5)
    >>> round(found.downforce_area, 6), round(found.effective_centre, 4)
    (2.4, 1.5562)
    """
    down = front_gain + rear_gain
    if abs(down) <= 1e-12 * max(abs(front_gain), abs(rear_gain), 1.0):
        raise Refused(
            "front_gain",
            "must not cancel the rear gain: without downforce there is no centre of pressure",
            quantity(front_gain, "N"),
        )
    centre = wheelbase * (rear_gain / down)
    area = 2 * down / (density * speed**2)
    flags = (
        ()
        if 0 <= centre <= wheelbase
        else ("The effective centre of pressure lies outside the wheelbase: one axle loses load.",)
    )
    return AeroFromAxles(area, front_gain / down, centre, down, flags)

"""The pedal's travel over both circuits, whole and with one of them lost."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.brakes.bar import Offset, require_inside, rod_share
from calc.brakes.care import with_care
from calc.brakes.circuit import (
    Air,
    Available,
    Bulk,
    CaliperGive,
    Calipers,
    Clearance,
    CutOff,
    FluidVolume,
    HoseGive,
    HoseLength,
    KnockBack,
    OneSideArea,
    Pressure,
    circuit_volumes,
    reserve_flags,
)
from calc.brakes.cylinders import bore_area
from calc.brakes.terms import BarSpacing, PedalRatio, bore
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.units import Metres, Radians, Ratio


class Circuit(NamedTuple):
    """One circuit, front first."""

    one_side_area: OneSideArea
    line_pressure: Pressure
    bore: Annotated[Metres, bore("Bore", "d")]
    available_stroke: Available
    clearance: Clearance = 0.00015
    knock_back: KnockBack = 0.0
    caliper_give: CaliperGive = 6e-14
    hose_length: HoseLength = 0.6
    hose_give: HoseGive = 2.5e-14
    fluid: FluidVolume = 45e-6
    air: Air = 0.0
    calipers: Calipers = 2

    def stroke(self, bulk: float, cut_off: float, pressure_factor: float = 1.0) -> float:
        """Return the stroke of the cylinder, with the pressure raised by a factor."""
        volumes = circuit_volumes(
            self.calipers,
            self.one_side_area,
            self.clearance + self.knock_back,
            self.caliper_give,
            self.hose_length,
            self.hose_give,
            self.fluid,
            bulk,
            self.air,
            self.line_pressure * pressure_factor,
        )
        return volumes.total / bore_area(self.bore) + cut_off


class PedalTravel(NamedTuple):
    """Strokes, pedal travel and reserve: both circuits, and after losing either."""

    pedal_travel: Annotated[Metres, Output("Pedal travel, both circuits", "x_p", "mm")]
    pedal_reserve: Annotated[Ratio, Output("Pedal travel left", "", "%", 3)]
    front_lost_travel: Annotated[Metres, Output("Pedal travel with the front circuit lost", "x_{p,f}", "mm")]
    rear_lost_travel: Annotated[Metres, Output("Pedal travel with the rear circuit lost", "x_{p,r}", "mm")]
    lost_reserve: Annotated[Ratio, Output("Pedal travel left in the worse of the two", "", "%", 3)]
    front_reserve: Annotated[Ratio, Output("Stroke left, front cylinder", "", "%", 3)]
    rear_reserve: Annotated[Ratio, Output("Stroke left, rear cylinder", "", "%", 3)]
    front_stroke: Annotated[Metres, Output("Stroke of the front cylinder", "x_f", "mm")]
    rear_stroke: Annotated[Metres, Output("Stroke of the rear cylinder", "x_r", "mm")]
    tilt: Annotated[Radians | None, Output("Tilt of the bar at working pressure", r"\theta", "°", 3)]
    flags: tuple[str, ...]


def _remarks(result: PedalTravel, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark(
            "30 to 50 % of the stroke in reserve is good practice; 30 to 70 mm at the pedal is usual at the limit.",
            about="pedal_reserve",
        )
    ]
    if result.tilt is not None and abs(result.tilt) > math.radians(5):
        remarks.append(
            Remark(
                "The bar tilts more than 5° at working pressure: adjust the rods so that it is square then.",
                "caution",
                "tilt",
            )
        )
    return tuple(remarks)


@calculator(
    title="Pedal travel and what is left",
    question="How far does the pedal go, with both circuits and with one lost?",
    example={
        "cylinders": "twin",
        "circuits": [
            [
                "22.8 cm²",
                "63 bar",
                "19.05 mm",
                "30 mm",
                "0.15 mm",
                "0.05 mm",
                "0.006 cm³/bar",
                "0.7 m",
                "0.0025 cm³/(m·bar)",
                "45 cm³",
                "0 cm³",
                "2",
            ],
            [
                "11.4 cm²",
                "54 bar",
                "20.64 mm",
                "30 mm",
                "0.15 mm",
                "0.05 mm",
                "0.004 cm³/bar",
                "0.9 m",
                "0.0025 cm³/(m·bar)",
                "60 cm³",
                "0 cm³",
                "2",
            ],
        ],
        "pedal_ratio": "5.2",
        "free_travel": "150 mm",
        "spacing": "64 mm",
        "tilt_limit": "12 deg",
    },
    working=(
        Step(
            r"x_p = i \, \left[\left(\tfrac12 + \tfrac{o}{s}\right) x_f + \left(\tfrac12 - \tfrac{o}{s}\right) x_r\right]",
            "pedal_travel",
        ),
        Step(
            r"x_{p,f} = i \, \left[s_f \min(x_b, \; x_r + s \tan\theta_{max}) + s_r \, x_r\right]", "front_lost_travel"
        ),
    ),
    remarks=with_care(_remarks),
)
def pedal_travel(
    *,
    cylinders: Annotated[
        Literal["twin", "tandem"],
        Choice("Cylinders", {"twin": "two on a balance bar", "tandem": "one tandem cylinder"}),
    ],
    circuits: Annotated[tuple[Circuit, ...], Input("Circuits: front, then rear")],
    bulk_modulus: Bulk = 1.4e9,
    cut_off: CutOff = 0.0008,
    pedal_ratio: PedalRatio,
    free_travel: Annotated[
        Metres, Input("Free travel of the pedal to its stop", "x_{max}", "mm", above=0, at_most=1, typical=(0.08, 0.25))
    ],
    spacing: BarSpacing = 0.064,
    trunnion_offset: Offset = 0.0,
    tilt_limit: Annotated[
        Radians, Input("Largest tilt the bar can take", r"\theta_{max}", "°", above=0, below=1.2)
    ] = 0.2,
    lost_pressure_factor: Annotated[
        Ratio,
        Input(
            "Pressure in the circuit left, of its usual one",
            "",
            "",
            above=0,
            at_most=10,
            help="Harder braking on one axle takes more stroke.",
        ),
    ] = 1.5,
) -> PedalTravel:
    """Return pedal travel and reserve over both circuits, and with either of them lost.

    Equation: stroke x = V/A + x_0 of each circuit;  bar: x_p = i [(1/2 + o/s) x_f + (1/2 - o/s) x_r];  one lost: its stroke is the smaller of
    its full stroke and the good one's plus s tan(theta_max);  tandem: strokes add, a lost chamber adds its full stroke.
    Valid for: slow application, rigid pedal box.
    Caution: prove the lost-circuit travel standing still with a bleed nipple open, before the car moves.
    Source: hydrostatics and statics, derived.

    >>> row = Circuit(0.0023, 6e6, 0.01905, 0.03)
    >>> answer = pedal_travel(cylinders="twin", circuits=(row, row), pedal_ratio=5.0, free_travel=0.15)
    >>> round(answer.front_stroke - answer.rear_stroke, 9), answer.tilt
    (0.0, 0.0)
    """
    if len(circuits) != 2:
        raise Refused("circuits", "must have two rows, front and rear", f"{len(circuits)}")
    require_inside(spacing, trunnion_offset)
    strokes = [each.stroke(bulk_modulus, cut_off) for each in circuits]
    alone = [each.stroke(bulk_modulus, cut_off, lost_pressure_factor) for each in circuits]
    full = [each.available_stroke for each in circuits]
    if cylinders == "tandem":
        travels = [sum(strokes), full[0] + alone[1], alone[0] + full[1]]
    else:
        share, reach = rod_share(spacing, trunnion_offset), spacing * math.tan(tilt_limit)
        travels = [
            share * strokes[0] + (1 - share) * strokes[1],
            share * min(full[0], alone[1] + reach) + (1 - share) * alone[1],
            share * alone[0] + (1 - share) * min(full[1], alone[0] + reach),
        ]
    whole, front_lost, rear_lost = (travel * pedal_ratio for travel in travels)
    reserves = [1 - x / room for x, room in zip(strokes, full, strict=True)]
    lost = 1 - max(front_lost, rear_lost) / free_travel
    return PedalTravel(
        pedal_travel=whole,
        pedal_reserve=1 - whole / free_travel,
        front_lost_travel=front_lost,
        rear_lost_travel=rear_lost,
        lost_reserve=lost,
        front_reserve=reserves[0],
        rear_reserve=reserves[1],
        front_stroke=strokes[0],
        rear_stroke=strokes[1],
        tilt=math.atan((strokes[0] - strokes[1]) / spacing) if cylinders == "twin" else None,
        flags=_flags(reserves, 1 - whole / free_travel, lost),
    )


def _flags(reserves: list[float], pedal: float, lost: float) -> tuple[str, ...]:
    flags = [*reserve_flags(reserves[0], "The front cylinder"), *reserve_flags(reserves[1], "The rear cylinder")]
    if pedal < 0:
        flags.append("The pedal bottoms on its stop with both circuits whole.")
    if lost < 0:
        flags.append("With one circuit lost the pedal meets its stop before the other works: this car must not move.")
    return tuple(flags)

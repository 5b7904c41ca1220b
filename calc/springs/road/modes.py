"""Modes of the quarter car: how body and wheel swing, and how fast each dies away."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Output, Remark, Step, calculator
from calc.rates import in_series, natural_frequency
from calc.springs.road.quarter import Quarter, corner_of
from calc.springs.road.words import Damping
from calc.springs.words import UnsprungMass
from calc.terms import SprungCornerMass, TyreRate, WheelRate
from calc.units import Hertz, NewtonSecondsPerMetre, Ratio

_STEPS = 60
_SHARP = 0.005  # a mode damped less than this is too sharp a peak to draw


class QuarterModes(NamedTuple):
    """Body mode and wheel hop, with the one-mass values beside them."""

    body_frequency: Annotated[Hertz, Output("Natural frequency of the body", "f_1", "Hz", 3)]
    body_ratio: Annotated[Ratio, Output("Damping ratio of the body", r"\zeta_1", "", 3)]
    hop_frequency: Annotated[Hertz, Output("Natural frequency of wheel hop", "f_2", "Hz", 3)]
    hop_ratio: Annotated[Ratio, Output("Damping ratio of wheel hop", r"\zeta_2", "", 3)]
    body_damped: Annotated[Hertz | None, Output("Damped frequency of the body", "f_{1d}", "Hz", 4, detail=True)]
    hop_damped: Annotated[Hertz | None, Output("Damped frequency of wheel hop", "f_{2d}", "Hz", 4, detail=True)]
    simple_frequency: Annotated[Hertz, Output("One mass on wheel rate and tyre", "f_r", "Hz", 4, detail=True)]
    simple_ratio: Annotated[Ratio, Output("One mass on the wheel rate: damping ratio", r"\zeta_b", "", 3, detail=True)]
    critical: Annotated[
        NewtonSecondsPerMetre, Output("Critical damping of one mass on the wheel rate", "c_{cr}", "N·s/m", detail=True)
    ]
    flags: tuple[str, ...]


def _remarks(result: QuarterModes, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = [
        Remark(
            f"The short formula gives a body ratio of {result.simple_ratio:.2f}; the tyre gives too, so the body really has {result.body_ratio:.2f}.",
            about="body_ratio",
        )
    ]
    if result.hop_ratio < 0.15:
        remarks.append(Remark("The wheel is hardly damped: it will patter on washboard.", "caution", "hop_ratio"))
    return tuple(remarks)


def _figures(result: QuarterModes, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    car = corner_of(inputs)
    if min(result.body_ratio, result.hop_ratio) < _SHARP:
        return ()
    frequencies = [0.2 * 125 ** (i / _STEPS) for i in range(_STEPS + 1)]
    moved = [car.transfer(f) for f in frequencies]
    here = [result.body_frequency, result.hop_frequency]
    chart = Chart(
        "Body and wheel movement against frequency",
        "Movement for each unit of road: the body peaks near its own frequency and is left alone above it; the wheel peaks at hop.",
        Axis("Frequency of the road", "Hz"),
        Axis("Movement over road", ""),
        (
            Series("Body", frequencies, [abs(each.body) for each in moved]),
            Series("Wheel", frequencies, [abs(each.wheel) for each in moved]),
            Series("Modes", here, [abs(car.transfer(here[0]).body), abs(car.transfer(here[1]).wheel)], points=True),
        ),
    )
    return (chart,)


@calculator(
    title="Modes of one corner: body and wheel hop",
    question="At what frequencies do body and wheel swing, and how well is each damped?",
    example={
        "sprung_mass": "265 kg",
        "unsprung_mass": "38 kg",
        "wheel_rate": "52.9 N/mm",
        "tyre_rate": "210 N/mm",
        "damping": "3800 N·s/m",
    },
    working=(
        Step(
            r"k_r = \frac{k_w \, k_t}{k_w + k_t}, \quad f_r = \frac{1}{2 \pi} \sqrt{\frac{k_r}{m_s}}",
            "simple_frequency",
        ),
        Step(r"c_{cr} = 2 \sqrt{k_w \, m_s}", "critical"),
        Step(r"\zeta_b = \frac{c}{2 \sqrt{k_w \, m_s}}", "simple_ratio"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def quarter_car_modes(
    *,
    sprung_mass: SprungCornerMass,
    unsprung_mass: UnsprungMass,
    wheel_rate: WheelRate,
    tyre_rate: TyreRate,
    damping: Damping,
) -> QuarterModes:
    """Return the natural frequencies and damping ratios of body and wheel of one corner.

    Equation: m_s z_s'' = -k (z_s - z_u) - c (z_s' - z_u');  m_u z_u'' = k (z_s - z_u) + c (z_s' - z_u') - k_t (z_u - z_r);
    the modes are the eigenvalues of its state matrix: natural frequency |s| / (2 pi), damping ratio -Re s / |s|.
    Valid for: linear spring, damper and tyre about the ride height, the wheel on the ground, the other corners at rest.
    Source: rigid-body mechanics; the golden car of Sayers, Gillespie and Queiroz, World Bank Technical Paper 45, 1986, is one of its tests.

    >>> answer = quarter_car_modes(sprung_mass=1.0, unsprung_mass=0.15, wheel_rate=63.3, tyre_rate=653, damping=6.0)
    >>> round(answer.body_ratio, 4), round(answer.hop_ratio, 4)
    (0.3334, 0.3020)
    """
    car = Quarter(sprung_mass, unsprung_mass, wheel_rate, tyre_rate, damping)
    body, hop = car.modes()
    flags = [
        f"The {name} mode does not swing: it is damped beyond critical."
        for name, mode in (("body", body), ("wheel hop", hop))
        if mode.ratio >= 1
    ]
    if damping == 0:
        flags.append("Without damping nothing ever comes to rest.")
    critical = 2 * (wheel_rate * sprung_mass) ** 0.5
    return QuarterModes(
        body_frequency=body.frequency,
        body_ratio=body.ratio,
        hop_frequency=hop.frequency,
        hop_ratio=hop.ratio,
        body_damped=None if body.damped is None else body.damped / (2 * math.pi),
        hop_damped=None if hop.damped is None else hop.damped / (2 * math.pi),
        simple_frequency=natural_frequency(in_series(wheel_rate, tyre_rate), sprung_mass),
        simple_ratio=damping / critical,
        critical=critical,
        flags=tuple(flags),
    )

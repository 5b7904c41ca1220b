"""The surface of a disc in one stop, and how the heat is split between disc and pads."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.brakes.care import with_care
from calc.brakes.heat.terms import Conductivity, Density, PadConductivity, PadDensity, PadHeat
from calc.brakes.terms import SpecificHeat
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.units import Kelvins, Metres, Ratio, Seconds, SquareMetres, WattsPerSquareMetre

_TERMS = 14  # of a series whose terms beyond are below 1e-16 from _EARLY on
_EARLY = 0.02  # of the time heat takes through: the difference to a thick body is below 1e-20 then


def effusivity(conductivity: float, density: float, specific_heat: float) -> float:
    """Return sqrt(k rho c), how readily a body takes heat at its surface.

    >>> round(effusivity(52.0, 7200.0, 480.0))
    13406
    """
    return math.sqrt(conductivity * density * specific_heat)


def thick_rise(flux: float, body: float, stop: float, time: float) -> float:
    """Return the surface rise of a thick body under a flux that falls to nothing at ``stop``; ``body`` is its effusivity."""
    return 2 * flux / body * math.sqrt(time / math.pi) * (1 - 2 * time / (3 * stop))


def slab_rise(flux: float, conductivity: float, diffusivity: float, depth: float, stop: float, time: float) -> float:
    """Return the surface rise of a slab, insulated at ``depth``, under the same flux.

    The response to a steady flux, less its own integral over the time of the stop for the part that falls (Duhamel).
    """
    fourier = diffusivity * time / depth**2
    if fourier < _EARLY:  # the far side is not felt yet
        return thick_rise(flux, conductivity / math.sqrt(diffusivity), stop, time)
    steady, ramp = fourier + 1 / 3, fourier**2 / 2 + fourier / 3 - 1 / 45  # 1/45 is the sum of 2/(n pi)^4
    for n in range(1, _TERMS + 1):
        rate = (n * math.pi) ** 2
        gone = math.exp(-rate * fourier)
        steady -= 2 / rate * gone
        ramp += 2 / rate**2 * gone
    return flux * depth / conductivity * (steady - ramp * depth**2 / (diffusivity * stop))


class SurfaceTemperature(NamedTuple):
    """Rise of the surface in a stop: thick body, and slab of the true depth."""

    peak_rise: Annotated[Kelvins, Output("Highest rise of the surface, thick body", r"\Delta T_p", "K")]
    time_of_peak: Annotated[Seconds, Output("Time of that peak", "t_p", "s")]
    end_rise: Annotated[Kelvins, Output("Rise of the surface at the end, thick body", r"\Delta T_e", "K")]
    slab_peak: Annotated[Kelvins | None, Output("Highest rise of the surface, slab of this depth", r"\Delta T_s", "K")]
    slab_end: Annotated[Kelvins | None, Output("Rise of the surface at the end, slab", "", "K")]
    through_time: Annotated[Seconds | None, Output("Time heat takes through the depth", "l^2/a", "s", 3)]
    effusivity_factor: Annotated[Ratio, Output("Peak factor, thick body", "", "", 4, detail=True)]
    flags: tuple[str, ...]


def _diffusivity(inputs: Mapping[str, Any]) -> float:
    return float(inputs["conductivity"] / (inputs["density"] * inputs["specific_heat"]))


def _slab_at(inputs: Mapping[str, Any], time: float) -> float:
    return slab_rise(
        inputs["flux"], inputs["conductivity"], _diffusivity(inputs), inputs["depth"], inputs["stop_time"], time
    )


def _figures(result: SurfaceTemperature, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    stop, flux = inputs["stop_time"], inputs["flux"]
    body = effusivity(inputs["conductivity"], inputs["density"], inputs["specific_heat"])
    times = [stop * (i / 30) ** 2 for i in range(31)]
    series = [Series("Thick body", times, [thick_rise(flux, body, stop, t) for t in times])]
    if inputs["depth"] is not None:
        series.append(Series("Slab of this depth", times, [_slab_at(inputs, t) for t in times]))
    return (
        Chart(
            "Surface rise through the stop",
            "The surface peaks before the stop ends; a thin cheek fills with heat and goes on climbing.",
            Axis("Time", "s"),
            Axis("Rise of the surface", "K"),
            tuple(series),
        ),
    )


def _remarks(result: SurfaceTemperature, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    if result.slab_peak is not None and result.slab_peak > 1.05 * result.peak_rise:
        return (
            Remark(
                "The cheek is too thin for the thick-body formula, which understates the surface here: use the slab. Do not add the bulk rise to it.",
                "caution",
                "slab_peak",
            ),
        )
    return (Remark("Do not add the rise of the whole disc to this peak: the slab holds both.", about="peak_rise"),)


@calculator(
    title="Surface temperature in a stop",
    question="How much hotter than the rest does the rubbing surface get?",
    example={
        "flux": "3 MW/m²",
        "conductivity": "52 W/(m·K)",
        "density": "7200 kg/m³",
        "specific_heat": "480 J/(kg·K)",
        "stop_time": "4 s",
        "depth": "7 mm",
    },
    working=(
        Step(
            r"\Delta T(t) = \frac{2 q_0}{e} \sqrt{\frac{t}{\pi}} \left(1 - \frac{2 t}{3 t_s}\right), \quad e = \sqrt{k \rho c}",
            "end_rise",
        ),
        Step(r"\Delta T_p = 0.532 \, \frac{q_0 \sqrt{t_s}}{e}", "peak_rise"),
    ),
    remarks=with_care(_remarks),
    figures=_figures,
)
def surface_temperature(
    *,
    flux: Annotated[
        WattsPerSquareMetre,
        Input("Heat flux into the surface at the start", "q_0", "MW/m²", above=0, at_most=1e9, typical=(2e5, 2e7)),
    ],
    conductivity: Conductivity,
    density: Density,
    specific_heat: SpecificHeat,
    stop_time: Annotated[Seconds, Input("Time of the stop", "t_s", "s", above=0, at_most=1e4, typical=(0.5, 10))],
    depth: Annotated[
        Metres | None,
        Input(
            "Depth to the insulated plane",
            "l",
            "mm",
            above=0,
            at_most=0.2,
            help="Half the thickness of a solid disc; the whole cheek of a vented one.",
        ),
    ] = None,
) -> SurfaceTemperature:
    """Return the rise of the rubbing surface under a heat flux that falls in a straight line to nothing.

    Equation: thick body dT = (2 q_0/e) sqrt(t/pi)(1 - 2t/(3 t_s)), e = sqrt(k rho c), peak at t_s/2: 0.532 q_0 sqrt(t_s)/e;
    slab: series of steady-flux responses by Duhamel's theorem.
    Valid for: thick body while sqrt(alpha t) is below about half the depth; heat spread evenly over the rubbed face.
    Caution: for 7 mm of iron the thick body holds for about 0.8 s only.
    Source: H. S. Carslaw and J. C. Jaeger, Conduction of Heat in Solids (from memory); compared with a numerical solution in the tests.

    >>> answer = surface_temperature(flux=3e6, conductivity=52, density=7200, specific_heat=480, stop_time=4.0)
    >>> round(answer.peak_rise, 2), round(answer.end_rise, 2)
    (238.07, 168.34)
    """
    body = effusivity(conductivity, density, specific_heat)
    inputs = {
        "flux": flux,
        "conductivity": conductivity,
        "density": density,
        "specific_heat": specific_heat,
        "stop_time": stop_time,
        "depth": depth,
    }
    diffusivity = _diffusivity(inputs)
    peak = thick_rise(flux, body, stop_time, stop_time / 2)
    slab_peak = slab_end = through = None
    flags: tuple[str, ...] = ()
    if depth is not None:
        through = depth**2 / diffusivity
        slab_end = _slab_at(inputs, stop_time)
        slab_peak = max(_slab_at(inputs, stop_time * i / 200) for i in range(1, 201))
        if math.sqrt(diffusivity * stop_time) > depth / 2:
            flags = ("The stop is longer than the thick-body formula holds for this depth.",)
    return SurfaceTemperature(
        peak,
        stop_time / 2,
        thick_rise(flux, body, stop_time, stop_time),
        slab_peak,
        slab_end,
        through,
        peak * body / (flux * math.sqrt(stop_time)),
        flags,
    )


class HeatPartition(NamedTuple):
    """The share of the heat that goes into the disc."""

    disc_share: Annotated[Ratio, Output("Share of the heat into the disc", r"\gamma", "%")]
    equal_area_share: Annotated[Ratio, Output("The same for equal areas", r"\gamma_0", "%")]


def _partition_remarks(result: HeatPartition, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            "Nine published formulas disagree; 93 to 97 % is usual. The equal-area form understates the disc.",
            about="disc_share",
        ),
    )


@calculator(
    title="Heat between disc and pads",
    question="What share of the heat goes into the disc?",
    example={
        "density": "7200 kg/m³",
        "conductivity": "52 W/(m·K)",
        "specific_heat": "480 J/(kg·K)",
        "pad_density": "2600 kg/m³",
        "pad_conductivity": "2.2 W/(m·K)",
        "pad_heat": "950 J/(kg·K)",
        "swept_area": "420 cm²",
        "pad_area": "95 cm²",
    },
    working=(Step(r"\gamma = \frac{e_d A_d}{e_d A_d + e_p A_p}, \quad e = \sqrt{k \rho c}", "disc_share"),),
    remarks=with_care(_partition_remarks),
)
def heat_partition(
    *,
    density: Density,
    conductivity: Conductivity,
    specific_heat: SpecificHeat,
    pad_density: PadDensity,
    pad_conductivity: PadConductivity,
    pad_heat: PadHeat,
    swept_area: Annotated[
        SquareMetres,
        Input("Swept area of one face of the disc", "A_d", "cm²", above=0, at_most=1, typical=(0.015, 0.08)),
    ],
    pad_area: Annotated[
        SquareMetres, Input("Area of one pad", "A_p", "cm²", above=0, at_most=1, typical=(0.002, 0.015))
    ],
) -> HeatPartition:
    """Return the share of the friction heat that goes into the disc.

    Equation: gamma = e_d A_d/(e_d A_d + e_p A_p), e = sqrt(k rho c);  equal areas: e_d/(e_d + e_p).
    Valid for: short stops; a first estimate.
    Source: P. Grzes, acta mechanica et automatica 5(2), 2011, compares nine variants (looked up); derived.

    >>> round(heat_partition(density=7200, conductivity=52, specific_heat=480, pad_density=2600, pad_conductivity=2.2, pad_heat=950,
    ...     swept_area=0.042, pad_area=0.0095).disc_share, 4)
    0.9622
    """
    disc, pad = effusivity(conductivity, density, specific_heat), effusivity(pad_conductivity, pad_density, pad_heat)
    return HeatPartition(disc * swept_area / (disc * swept_area + pad * pad_area), disc / (disc + pad))

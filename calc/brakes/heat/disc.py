"""The disc itself: its mass and inertia, how large it must be, how far it grows, and what constrained heat does to it."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.brakes.care import with_care
from calc.brakes.heat.terms import Density, Thickness
from calc.brakes.terms import SpecificHeat
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.units import (
    Joules,
    JoulesPerKelvin,
    Kelvins,
    Kilograms,
    KilogramSquareMetres,
    Metres,
    Pascals,
    PerKelvin,
    Ratio,
    SquareMetres,
)

InnerRadius = Annotated[
    Metres, Input("Inner radius of the ring", "r_i", "mm", above=0, at_most=0.5, typical=(0.05, 0.13))
]
OuterRadius = Annotated[
    Metres, Input("Outer radius of the ring", "r_o", "mm", above=0, at_most=0.5, typical=(0.1, 0.21))
]


class DiscSize(NamedTuple):
    """Mass, heat capacity and inertia of the ring, and its rise for an energy."""

    ring_mass: Annotated[Kilograms, Output("Mass of the ring", "m_d", "kg", 4)]
    heat_capacity: Annotated[JoulesPerKelvin, Output("Heat capacity", "C", "J/K")]
    inertia: Annotated[KilogramSquareMetres, Output("Moment of inertia", "I", "kg·m²")]
    equivalent_mass: Annotated[
        Kilograms | None, Output("Mass at the tread that is as hard to speed up", "m_e", "kg", 3)
    ]
    rise: Annotated[Kelvins | None, Output("Rise for the energy given", r"\Delta T", "K")]
    thickness_needed: Annotated[Metres | None, Output("Thickness for the rise allowed", "b_n", "mm", 3)]
    outer_needed: Annotated[Metres | None, Output("Outer radius for the rise allowed, same ring width", "r_n", "mm", 4)]
    swept_area: Annotated[SquareMetres, Output("Swept area, both faces", "A_s", "cm²")]


def ring_mass(outer: float, inner: float, thickness: float, void: float, density: float) -> float:
    """Return the mass of a ring with vents that take a share ``void`` of it.

    >>> round(ring_mass(0.165, 0.105, 0.028, 0.45, 7200), 4)
    5.6431
    """
    return density * math.pi * (outer**2 - inner**2) * thickness * (1 - void)


def _size_remarks(result: DiscSize, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            "A larger radius lowers clamp, not energy: the rise depends on mass and specific heat alone. Cooling grows with radius squared.",
            about="rise",
        ),
        Remark("This mass is unsprung and spins: it counts in ride and in acceleration too.", about="equivalent_mass"),
    )


def _size_figures(result: DiscSize, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    if inputs["energy"] is None:
        return ()
    outer, inner, thick = inputs["outer_radius"], inputs["inner_radius"], inputs["thickness"]
    factors = [0.5 + 0.05 * i for i in range(31)]
    masses = [ring_mass(outer, inner, thick * f, inputs["void"], inputs["density"]) for f in factors]
    return (
        Chart(
            "Rise over mass",
            "The rise falls as the ring gets heavier: twice the mass, half the rise for the same stop.",
            Axis("Mass of the ring", "kg"),
            Axis("Rise of one stop", "K"),
            (
                Series("Rise", masses, [inputs["energy"] / (m * inputs["specific_heat"]) for m in masses]),
                Series("Here", [result.ring_mass], [result.rise or 0.0], points=True),
            ),
        ),
    )


@calculator(
    title="Disc mass and size",
    question="How heavy is a disc, how warm does it get, and how large must it be?",
    example={
        "outer_radius": "151 mm",
        "inner_radius": "98 mm",
        "thickness": "26 mm",
        "void": "38 %",
        "density": "7200 kg/m³",
        "specific_heat": "520 J/(kg·K)",
        "wheel_radius": "305 mm",
        "energy": "680 kJ",
        "rise_allowed": "200 K",
    },
    working=(
        Step(r"m_d = \rho \, \pi \, (r_o^2 - r_i^2) \, b \, (1 - v)", "ring_mass"),
        Step(r"C = m_d \, c", "heat_capacity"),
        Step(r"I = \frac{m_d}{2} (r_o^2 + r_i^2)", "inertia"),
        Step(r"m_e = \frac{I}{R^2}", "equivalent_mass"),
        Step(r"\Delta T = \frac{E}{C}", "rise"),
    ),
    remarks=with_care(_size_remarks),
    figures=_size_figures,
)
def disc_size(
    *,
    outer_radius: OuterRadius,
    inner_radius: InnerRadius,
    thickness: Thickness,
    void: Annotated[
        Ratio, Input("Share of the ring that is vents", "v", "%", at_least=0, below=1, typical=(0, 0.55))
    ] = 0.0,
    density: Density = 7200.0,
    specific_heat: SpecificHeat,
    wheel_radius: Annotated[
        Metres | None, Input("Rolling radius of the wheel", "R", "mm", above=0, at_most=0.8)
    ] = None,
    energy: Annotated[
        Joules | None, Input("Energy of one stop into this disc", "E", "kJ", above=0, at_most=1e9)
    ] = None,
    rise_allowed: Annotated[
        Kelvins | None, Input("Rise allowed for it", r"\Delta T_a", "K", above=0, at_most=3000, typical=(80, 400))
    ] = None,
) -> DiscSize:
    """Return mass, heat capacity and inertia of a disc ring, its rise for an energy, and the size for an allowed rise.

    Equation: m = rho pi (r_o^2 - r_i^2) b (1 - void);  I = m (r_o^2 + r_i^2)/2;  equivalent mass I/R^2;  dT = E/(m c);
    size: thickness, or radius with the same ring width, in proportion to the mass needed.
    Valid for: vents spread evenly; the hat left out.
    Source: geometry, derived; iron 7200 kg/m³, 450 to 600 J/(kg K) (common practice).

    >>> round(disc_size(outer_radius=0.165, inner_radius=0.105, thickness=0.028, void=0.45, specific_heat=500, wheel_radius=0.32).equivalent_mass, 4)
    1.0539
    """
    if inner_radius >= outer_radius:
        raise Refused(
            "inner_radius",
            f"must be less than the outer radius of {1e3 * outer_radius:g} mm",
            f"{1e3 * inner_radius:g} mm",
        )
    mass = ring_mass(outer_radius, inner_radius, thickness, void, density)
    inertia = mass * (outer_radius**2 + inner_radius**2) / 2
    rise = None if energy is None else energy / (mass * specific_heat)
    thicker = outer = None
    if rise is not None and rise_allowed is not None:
        factor, width = rise / rise_allowed, outer_radius - inner_radius
        thicker, outer = thickness * factor, factor * (outer_radius + inner_radius) / 2 + width / 2
    return DiscSize(
        mass,
        mass * specific_heat,
        inertia,
        None if wheel_radius is None else inertia / wheel_radius**2,
        rise,
        thicker,
        outer,
        2 * math.pi * (outer_radius**2 - inner_radius**2),
    )


class DiscExpansion(NamedTuple):
    """Growth of disc and hat, the clearance a floating disc needs, and the stress of hot skin on a cool body."""

    clearance_needed: Annotated[Metres, Output("Radial freedom the drive must have, hat still cold", "c", "mm", 3)]
    disc_growth: Annotated[Metres, Output("Radial growth of the disc at the pins", r"\Delta r_d", "mm", 3)]
    hat_growth: Annotated[Metres, Output("Radial growth of the hat, hot", r"\Delta r_h", "mm", 3)]
    relative_growth: Annotated[Metres, Output("Difference once the hat is hot", r"\Delta r", "mm", 3)]
    inward_freedom: Annotated[Metres, Output("Inward freedom, hat hot and disc cooled", "", "mm", 3)]
    diameter_growth: Annotated[Metres | None, Output("Growth of the outer diameter", r"\Delta D", "mm", 3)]
    stress: Annotated[Pascals | None, Output("Stress of a held surface, compressive while hot", r"\sigma", "MPa", 3)]
    flags: tuple[str, ...]


def _expansion_remarks(result: DiscExpansion, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    return (
        Remark(
            "The first hard stop finds the hat cold: pins need the whole disc growth outward, plus tolerances, and 0.05 to 0.15 mm tangentially.",
            about="clearance_needed",
        ),
        Remark(
            "A one-piece hat cannot let go: the disc cones by tenths of a millimetre, which gives a long pedal and tapered pads.",
            about="disc_growth",
        ),
        Remark(
            "Discard a disc with a crack that reaches an edge or a hole, or is longer than a third of the rubbed width.",
            "caution",
            "stress",
        ),
    )


@calculator(
    title="Growth of a hot disc",
    question="How far does a hot disc grow, and how much freedom do its pins need?",
    example={
        "pin_radius": "85 mm",
        "disc_rise": "580 K",
        "hat_rise": "190 K",
        "outer_diameter": "302 mm",
        "surface_difference": "120 K",
        "tolerance": "0.15 mm",
    },
    working=(
        Step(r"\Delta r_d = r \, \alpha_d \, \Delta T_d", "disc_growth"),
        Step(r"\Delta r_h = r \, \alpha_h \, \Delta T_h", "hat_growth"),
        Step(r"\Delta r = \Delta r_d - \Delta r_h", "relative_growth"),
        Step(r"c = \Delta r_d + t", "clearance_needed"),
        Step(r"\sigma = \frac{E \, \alpha_d \, \Delta T_s}{1 - \nu}", "stress"),
    ),
    remarks=with_care(_expansion_remarks),
)
def disc_expansion(
    *,
    pin_radius: Annotated[
        Metres, Input("Radius of the drive pins", "r", "mm", above=0, at_most=0.5, typical=(0.05, 0.12))
    ],
    disc_expansion: Annotated[
        PerKelvin,
        Input(
            "Expansion of the disc",
            r"\alpha_d",
            "1/K",
            above=0,
            at_most=1e-3,
            typical=(9e-6, 18e-6),
            help="Iron 10.5 to 12e-6.",
        ),
    ] = 11e-6,
    disc_rise: Annotated[
        Kelvins, Input("Rise of the disc above assembly", r"\Delta T_d", "K", at_least=0, at_most=1500)
    ],
    hat_expansion: Annotated[
        PerKelvin,
        Input(
            "Expansion of the hat",
            r"\alpha_h",
            "1/K",
            above=0,
            at_most=1e-3,
            typical=(10e-6, 24e-6),
            help="Aluminium 23e-6, steel 11 to 17e-6.",
        ),
    ] = 23e-6,
    hat_rise: Annotated[Kelvins, Input("Rise of the hat when hot", r"\Delta T_h", "K", at_least=0, at_most=1500)],
    tolerance: Annotated[Metres, Input("Tolerance to add", "t", "mm", at_least=0, at_most=0.005)] = 0.0,
    outer_diameter: Annotated[Metres | None, Input("Outer diameter of the disc", "D", "mm", above=0, at_most=1)] = None,
    surface_difference: Annotated[
        Kelvins | None, Input("Surface hotter than the body by", r"\Delta T_s", "K", at_least=0, at_most=1500)
    ] = None,
    modulus: Annotated[
        Pascals, Input("Modulus of the disc", "E", "GPa", above=0, at_most=1e12, typical=(90e9, 210e9))
    ] = 110e9,
    poisson: Annotated[Ratio, Input("Poisson's ratio of the disc", r"\nu", "", at_least=0, below=0.5)] = 0.26,
) -> DiscExpansion:
    """Return the growth of a hot disc against its hat, the freedom its pins need, and the stress of a held surface.

    Equation: dr = r alpha dT each;  freedom = disc growth with the hat cold + tolerance;  inward = hat growth with the disc cooled;
    held surface sigma = E alpha dT/(1 - nu): about 1.6 MPa/K for iron.
    Valid for: free rings of one temperature; the stress before anything yields (iron yields at 100 to 150 K of difference).
    Source: linear expansion and plane stress, derived; A. Rashid, thesis, 2013, for crack growth (abstract looked up).

    >>> round(disc_expansion(pin_radius=0.085, disc_rise=580, hat_rise=190).relative_growth * 1e3, 4)
    0.1709
    """
    disc, hat = pin_radius * disc_expansion * disc_rise, pin_radius * hat_expansion * hat_rise
    flags = ("The hot hat grows more than the disc: the pins need freedom inward as well.",) if hat > disc else ()
    return DiscExpansion(
        disc + tolerance,
        disc,
        hat,
        disc - hat,
        hat + tolerance,
        None if outer_diameter is None else outer_diameter * disc_expansion * disc_rise,
        None if surface_difference is None else modulus * disc_expansion * surface_difference / (1 - poisson),
        flags,
    )

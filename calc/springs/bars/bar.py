"""An anti-roll bar: a tube or rod that twists, two arms that bend, two links to the suspension."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.springs.bars.rate import at_wheel
from calc.springs.torsion_bar import InnerDiameter, OuterDiameter, TwistedLength, polar_moment, require_hollow
from calc.springs.words import STEEL_SHEAR, STEEL_YOUNG, ShearModulus, YoungsModulus
from calc.units import Metres, NewtonMetresPerRadian, Newtons, NewtonsPerMetre, Pascals, Radians, Ratio

ArmSection = Literal["stiff", "round", "flat"]
_ONE_DEGREE = math.pi / 180
_FATIGUE_SHARE = 0.55  # of the yield in shear: common practice, no source


class AntiRollBar(NamedTuple):
    """Rates of a bar and its stresses at one roll angle. The three rates at the wheel are kept apart by name."""

    one_wheel_rate: Annotated[NewtonsPerMetre, Output("At the wheel, one wheel moved, the other held", "k_1", "N/mm")]
    opposite_rate: Annotated[NewtonsPerMetre, Output("At each wheel, both moved oppositely", "k_2", "N/mm")]
    roll_stiffness: Annotated[NewtonMetresPerRadian, Output("Roll stiffness", r"K_\varphi", "N·m/deg")]
    shear_stress: Annotated[Pascals, Output("Shear stress in the bar at this roll", r"\tau", "MPa", 3)]
    arm_stress: Annotated[Pascals | None, Output("Bending stress at the root of the arm", r"\sigma", "MPa", 3)]
    link_force: Annotated[Newtons, Output("Force in each drop link", "F_l", "N", 3)]
    end_rate: Annotated[
        NewtonsPerMetre,
        Output("At the ends of the bar, force for each metre of difference", "k_e", "N/mm", detail=True),
    ]
    torsion_rate: Annotated[NewtonsPerMetre, Output("The same from twist alone", "k_t", "N/mm", detail=True)]
    arm_rate: Annotated[
        NewtonsPerMetre | None, Output("Bending rate of one arm at its tip", "k_a", "N/mm", detail=True)
    ]
    twist: Annotated[Radians, Output("Twist of the bar", r"\psi", "°", 3, detail=True)]
    end_difference: Annotated[Metres, Output("Difference of end travel", r"\Delta e", "mm", 3, detail=True)]
    flags: tuple[str, ...]


def section(shape: ArmSection, width: float, depth: float) -> tuple[float, float]:
    """Return second moment (m^4) and modulus (m^3) of an arm: round of diameter ``depth``, or flat and bent along ``depth``.

    >>> [round(value * 1e9, 4) for value in section("flat", 0.006, 0.020)]
    [4.0, 400.0]
    """
    inertia = math.pi * depth**4 / 64 if shape == "round" else width * depth**3 / 12
    return inertia, inertia / (depth / 2)


def _remarks(result: AntiRollBar, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    lost = 1 - result.end_rate / result.torsion_rate
    remarks = [
        Remark(
            "Preload none: with the car at rest on its wheels one link must go in and out by hand, or the bar is hidden cross weight.",
            about="one_wheel_rate",
        )
    ]
    if lost > 0.02:
        remarks.append(
            Remark(
                f"Bending arms and links take {100 * lost:.0f} % off what the twist alone would give.", about="end_rate"
            )
        )
    if result.flags == () and inputs["shear_yield"] is None:
        remarks.append(
            Remark(
                "Keep the shear stress below about 50 to 60 % of the yield in shear for a long life (common practice, no source).",
                about="shear_stress",
            )
        )
    return tuple(remarks)


def _figures(result: AntiRollBar, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    outer = inputs["outer_diameter"]
    sizes = [outer * (0.6 + 0.04 * i) for i in range(21)]
    sizes = [d for d in sizes if d > inputs["inner_diameter"]]
    stiff = [anti_roll_bar(**{**inputs, "outer_diameter": d}).roll_stiffness for d in sizes]
    return (
        Chart(
            "Roll stiffness against the diameter of the bar",
            "Twist goes with the fourth power of the diameter; bending arms flatten the rise.",
            Axis("Outer diameter", "mm"),
            Axis("Roll stiffness", "N·m/deg"),
            (Series("Roll stiffness", sizes, stiff), Series("Here", [outer], [result.roll_stiffness], points=True)),
        ),
    )


@calculator(
    title="Anti-roll bar",
    question="How stiff is this bar at the wheels, and does it bear it?",
    example={
        "outer_diameter": "22 mm",
        "inner_diameter": "16 mm",
        "twisted_length": "900 mm",
        "lever": "240 mm",
        "motion_ratio": "0.62",
        "track": "1510 mm",
        "arms": "flat",
        "arm_length": "250 mm",
        "arm_width": "10 mm",
        "arm_depth": "28 mm",
        "roll_angle": "2°",
        "shear_yield": "700 MPa",
    },
    working=(
        Step(r"k_t = \frac{G \, \pi \, (d_o^4 - d_i^4)}{32 \, A^2 \, L_t}", "torsion_rate"),
        Step(r"k_a = \frac{3 \, E \, I}{l^3}", "arm_rate"),
        Step(r"\frac{1}{k_e} = \frac{1}{k_t} + \frac{2}{k_a}", "end_rate"),
        Step(r"k_1 = k_e \, {MR}^2", "one_wheel_rate"),
        Step(r"k_2 = 2 \, k_1", "opposite_rate"),
        Step(r"K_\varphi = k_1 \, t^2", "roll_stiffness"),
        Step(r"F_l = k_e \, MR \, t \, \varphi", "link_force"),
        Step(r"\tau = \frac{16 \, F_l \, A \, d_o}{\pi \, (d_o^4 - d_i^4)}", "shear_stress"),
    ),
    remarks=_remarks,
    figures=_figures,
)
def anti_roll_bar(
    *,
    outer_diameter: OuterDiameter,
    inner_diameter: InnerDiameter = 0.0,
    twisted_length: TwistedLength,
    lever: Annotated[
        Metres,
        Input(
            "Lever: distance of the drop link from the axis of the bar",
            "A",
            "mm",
            above=0,
            typical=(0.1, 0.4),
            help="Square to the axis; not the length of the arm along itself.",
        ),
    ],
    motion_ratio: Annotated[
        Ratio,
        Input(
            "Motion ratio of the bar: travel of its end for each unit of wheel travel",
            "MR",
            "",
            above=0,
            at_most=3,
            typical=(0.3, 1.1),
        ),
    ],
    link_tilt: Annotated[
        Radians,
        Input(
            "Tilt of the drop link from square to the arm",
            r"\lambda",
            "°",
            at_least=0,
            below=math.pi / 2,
            typical=(0, 0.35),
            help="0 if the motion ratio was measured at the bar's end.",
        ),
    ] = 0.0,
    track: Annotated[Metres, Input("Track", "t", "mm", above=0, typical=(1.2, 1.8))],
    arms: Annotated[
        ArmSection, Choice("Arms", {"stiff": "do not bend", "round": "round", "flat": "flat bar, bent along its depth"})
    ] = "stiff",
    arm_length: Annotated[
        Metres | None, Input("Length of the arm that bends", "l", "mm", above=0, typical=(0.1, 0.4))
    ] = None,
    arm_width: Annotated[
        Metres | None, Input("Width of a flat arm, across the load", "b_a", "mm", above=0, typical=(3e-3, 20e-3))
    ] = None,
    arm_depth: Annotated[
        Metres | None,
        Input("Depth of the arm along the load, or its diameter", "h_a", "mm", above=0, typical=(10e-3, 40e-3)),
    ] = None,
    blade_rate: Annotated[
        NewtonsPerMetre | None,
        Input(
            "Rate of one blade at its tip",
            "k_a",
            "N/mm",
            above=0,
            help="From the blade calculator; takes the place of the arm's section.",
        ),
    ] = None,
    link_rate: Annotated[
        NewtonsPerMetre | None,
        Input("Rate of one drop link with its bushes", "k_l", "N/mm", above=0, help="Empty for ball-jointed links."),
    ] = None,
    roll_angle: Annotated[
        Radians, Input("Roll angle for the stresses", r"\varphi", "°", at_least=0, below=math.pi / 4, typical=(0, 0.07))
    ] = _ONE_DEGREE,
    shear_modulus: ShearModulus = STEEL_SHEAR,
    youngs_modulus: YoungsModulus = STEEL_YOUNG,
    shear_yield: Annotated[
        Pascals | None, Input("Yield of the bar in shear", r"\tau_y", "MPa", above=0, typical=(200e6, 1000e6))
    ] = None,
) -> AntiRollBar:
    """Return the rates of an anti-roll bar at its ends and at the wheels, and the stresses at a roll angle.

    Equation: 1/k_e = A^2 L_t / (G J) + 2 l^3 / (3 E I) + 2 / k_l;  one wheel k_e MR^2, opposite 2 k_e MR^2, roll K = k_e MR^2 t^2.
    Signs: MR is travel of the bar's end for each unit of wheel travel; a tilted link leaves MR cos of it.
    Valid for: small angles, a straight bar in free-turning mounts, both sides alike.
    Caution: a bar that breaks at speed changes the balance at once; look at welds and knife-edges between splines and arms.
    Source: torsion and bending of beams; the share of the yield for a long life is common practice, no source.

    >>> bar = anti_roll_bar(outer_diameter=0.020, twisted_length=0.9, lever=0.2, motion_ratio=0.6, track=1.5, shear_modulus=80e9)
    >>> round(bar.end_rate), round(bar.opposite_rate / bar.one_wheel_rate, 6)
    (34907, 2.0)
    """
    require_hollow(outer_diameter, inner_diameter)
    polar = polar_moment(outer_diameter, inner_diameter)
    torsion = shear_modulus * polar / (lever**2 * twisted_length)
    arm, modulus = _arm(arms, arm_length, arm_width, arm_depth, blade_rate, youngs_modulus)
    end = 1 / (1 / torsion + (0.0 if arm is None else 2 / arm) + (0.0 if link_rate is None else 2 / link_rate))
    ratio = motion_ratio * math.cos(link_tilt)
    difference = ratio * track * roll_angle
    force = end * difference
    torque = force * lever
    stress = torque * outer_diameter / (2 * polar)
    wheel = at_wheel(end, ratio)
    return AntiRollBar(
        one_wheel_rate=wheel.rate,
        opposite_rate=wheel.opposite().rate,
        roll_stiffness=wheel.roll(track).stiffness,
        shear_stress=stress,
        arm_stress=None if modulus is None or arm_length is None else force * arm_length / modulus,
        link_force=force,
        end_rate=end,
        torsion_rate=torsion,
        arm_rate=arm,
        twist=torque * twisted_length / (shear_modulus * polar),
        end_difference=difference,
        flags=_flags(stress, shear_yield),
    )


def _arm(
    shape: ArmSection, length: float | None, width: float | None, depth: float | None, blade: float | None, E: float
) -> tuple[float | None, float | None]:
    """Return the rate of one arm at its tip and its section modulus; none where it does not bend, or is not known."""
    if blade is not None:
        return blade, None
    if shape == "stiff":
        return None, None
    needed = {"arm_length": length, "arm_depth": depth, **({"arm_width": width} if shape == "flat" else {})}
    for name, value in needed.items():
        if value is None:
            raise Refused(name, f"is needed for arms that are {shape}", hint="Or choose arms that do not bend.")
    inertia, modulus = section(shape, width or 0.0, depth or 0.0)
    return 3 * E * inertia / (length or 0.0) ** 3, modulus


def _flags(stress: float, shear_yield: float | None) -> tuple[str, ...]:
    if shear_yield is None or stress <= _FATIGUE_SHARE * shear_yield:
        return ()
    if stress > shear_yield:
        return (
            f"At this roll the shear stress is above the yield of {quantity(shear_yield, 'MPa')}: the bar takes a set.",
        )
    return (
        f"At this roll the shear stress is {100 * stress / shear_yield:.0f} % of the yield: above some 55 % its life is short.",
    )

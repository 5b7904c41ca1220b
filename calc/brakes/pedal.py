"""From the foot to the tyres and back: what a push on the pedal makes, and the push a torque takes."""

from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from calc.brakes.calipers import clamp_force, disc_torque
from calc.brakes.care import HIGH_PRESSURE, with_care
from calc.brakes.cylinders import bore_area, line_pressure
from calc.brakes.terms import (
    DiscRadius,
    PadFriction,
    PedalEfficiency,
    PedalForce,
    PedalRatio,
    PistonArea,
    bore,
    disc_radius,
    pad_friction,
    pistons,
    wheel_radius,
)
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.units import Kilograms, Metres, MetresPerSecondSquared, NewtonMetres, Newtons, Pascals, Ratio, SquareMetres


class BrakeForces(NamedTuple):
    """Line pressures, and forces of both wheels of an axle at the tyres. No grip limit is applied."""

    front_share: Annotated[Ratio, Output("Front share of the brake force at the tyres", r"\varphi", "%")]
    total_force: Annotated[Newtons, Output("Brake force of all four wheels", "F", "N")]
    front_pressure: Annotated[Pascals, Output("Front line pressure", "p_f", "bar")]
    rear_pressure: Annotated[Pascals, Output("Rear line pressure", "p_r", "bar")]
    front_force: Annotated[Newtons, Output("Front axle brake force", "F_f", "N")]
    rear_force: Annotated[Newtons, Output("Rear axle brake force", "F_r", "N")]
    dead_weight: Annotated[
        MetresPerSecondSquared | None, Output("Deceleration these forces would give, whatever the grip", "d_0", "g", 3)
    ]
    rod_force: Annotated[Newtons, Output("Force on the balance bar", "F_b", "N", detail=True)]
    front_area: Annotated[SquareMetres, Output("Area of the front cylinder", "A_f", "cm²", detail=True)]
    rear_area: Annotated[SquareMetres, Output("Area of the rear cylinder", "A_r", "cm²", detail=True)]


def _remarks(result: BrakeForces, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    pressures = result.front_pressure + result.rear_pressure
    if pressures == 0:
        return ()
    return (
        Remark(
            f"The front has {100 * result.front_pressure / pressures:.0f} % of the line pressure but "
            f"{100 * result.front_share:.0f} % of the brake force: pressure share is not brake balance.",
            about="front_share",
        ),
        *(
            Remark(
                "A line pressure above 200 bar is beyond what hoses and seals of this kind usually see.",
                "caution",
                name,
            )
            for name in ("front_pressure", "rear_pressure")
            if getattr(result, name) > HIGH_PRESSURE
        ),
    )


def _figures(result: BrakeForces, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    forces = [inputs["pedal_force"] * i / 10 for i in range(16)]
    scale = [f / inputs["pedal_force"] for f in forces]
    return (
        Chart(
            "Brake force against pedal force",
            "Front and rear brake force grow in straight lines with the force of the foot.",
            Axis("Pedal force", "N"),
            Axis("Brake force at the tyres", "N"),
            (
                Series("Front axle", forces, [s * result.front_force for s in scale]),
                Series("Rear axle", forces, [s * result.rear_force for s in scale]),
                Series("Here", [inputs["pedal_force"]] * 2, [result.front_force, result.rear_force], points=True),
            ),
        ),
    )


@calculator(
    title="From the pedal to the tyres",
    question="How hard does each axle brake for a push on the pedal, and how is it shared?",
    example={
        "pedal_force": "400 N",
        "pedal_ratio": "5.2",
        "bar_front_share": "50 %",
        "front_bore": "19.05 mm",
        "rear_bore": "20.64 mm",
        "front_pistons": "22.8 cm2",
        "rear_pistons": "11.4 cm2",
        "front_friction": "0.45",
        "rear_friction": "0.42",
        "front_disc_radius": "128 mm",
        "rear_disc_radius": "118 mm",
        "front_wheel_radius": "305 mm",
        "rear_wheel_radius": "305 mm",
        "mass": "1160 kg",
    },
    working=(
        Step(r"F_b = F_p \, i \, \eta", "rod_force"),
        Step(r"A_f = \frac{\pi}{4} \, {d_f}^2", "front_area"),
        Step(r"p_f = \frac{s \, F_b}{A_f}", "front_pressure"),
        Step(r"F_f = 2 \cdot 2 \, \mu_f \, p_f \, a_f \, \frac{r_f}{R_f}", "front_force"),
        Step(r"p_r = \frac{(1 - s) \, F_b}{A_r}", "rear_pressure"),
        Step(r"F_r = 2 \cdot 2 \, \mu_r \, p_r \, a_r \, \frac{r_r}{R_r}", "rear_force"),
        Step(r"\varphi = \frac{F_f}{F_f + F_r}", "front_share"),
        Step(r"d_0 = \frac{F_f + F_r}{m}", "dead_weight"),
    ),
    remarks=with_care(_remarks),
    figures=_figures,
)
def brake_forces(
    *,
    pedal_force: PedalForce,
    pedal_ratio: PedalRatio,
    pedal_efficiency: PedalEfficiency = 1.0,
    bar_front_share: Annotated[
        Ratio,
        Input(
            "Share of the bar force on the front cylinder",
            "s",
            "%",
            above=0,
            below=1,
            typical=(0.33, 0.67),
            help="50 % with the bar centred.",
        ),
    ] = 0.5,
    front_bore: Annotated[Metres, bore("Bore of the front master cylinder", "d_f")],
    rear_bore: Annotated[Metres, bore("Bore of the rear master cylinder", "d_r")],
    front_pistons: Annotated[SquareMetres, pistons("Piston area on one side of a front caliper", "a_f")],
    rear_pistons: Annotated[SquareMetres, pistons("Piston area on one side of a rear caliper", "a_r")],
    front_friction: Annotated[Ratio, pad_friction("Pad friction, front", r"\mu_f")],
    rear_friction: Annotated[Ratio, pad_friction("Pad friction, rear", r"\mu_r")],
    front_disc_radius: Annotated[Metres, disc_radius("Effective radius of the front disc", "r_f")],
    rear_disc_radius: Annotated[Metres, disc_radius("Effective radius of the rear disc", "r_r")],
    front_wheel_radius: Annotated[Metres, wheel_radius("Loaded radius of the front wheel", "R_f")],
    rear_wheel_radius: Annotated[Metres, wheel_radius("Loaded radius of the rear wheel", "R_r")],
    push_out: Annotated[
        Pascals,
        Input("Push-out pressure of the calipers", "p_0", "bar", at_least=0, at_most=1e6, help="0.3 to 1 bar."),
    ] = 0.0,
    lost_force: Annotated[
        Newtons, Input("Force taken by return spring and seal of each cylinder", "F_0", "N", at_least=0, at_most=1e4)
    ] = 0.0,
    mass: Annotated[
        Kilograms | None, Input("Mass of the car with driver", "m", "kg", above=0, at_most=1e5, typical=(400, 2000))
    ] = None,
) -> BrakeForces:
    """Return line pressures and axle brake forces of twin cylinders on a balance bar, two disc brakes on each axle.

    Equation: F_b = F_p i eta;  p = (share F_b - F_0) / A;  wheel torque = 2 mu (p - p_0) a r_e;  axle force = 2 torque / R;  dead-weight deceleration F / m.
    Valid for: unboosted, linear hydraulics, discs on all wheels, steady rolling.
    Caution: piston area counts one side of the caliper. The forces are what the brakes could make, not what the tyres can hold.
    Source: statics and hydraulics; Limpert, Brake Design and Safety, 1999 (from memory).

    >>> answer = brake_forces(pedal_force=400, pedal_ratio=5, front_bore=0.019, rear_bore=0.019, front_pistons=0.002, rear_pistons=0.001,
    ...     front_friction=0.4, rear_friction=0.4, front_disc_radius=0.12, rear_disc_radius=0.12, front_wheel_radius=0.3, rear_wheel_radius=0.3)
    >>> round(answer.front_share, 4)
    0.6667
    """
    rod = pedal_force * pedal_ratio * pedal_efficiency
    front_pressure = line_pressure(bar_front_share * rod, front_bore, lost_force)
    rear_pressure = line_pressure((1 - bar_front_share) * rod, rear_bore, lost_force)
    front = axle_force(front_pressure - push_out, front_pistons, front_friction, front_disc_radius, front_wheel_radius)
    rear = axle_force(rear_pressure - push_out, rear_pistons, rear_friction, rear_disc_radius, rear_wheel_radius)
    if front + rear == 0:
        raise Refused("pedal_force", "must be enough to overcome springs, seals and push-out", f"{pedal_force:g} N")
    return BrakeForces(
        front / (front + rear),
        front + rear,
        front_pressure,
        rear_pressure,
        front,
        rear,
        None if mass is None else (front + rear) / mass,
        rod,
        bore_area(front_bore),
        bore_area(rear_bore),
    )


def axle_force(pressure: float, piston_area: float, friction: float, disc_radius: float, wheel_radius: float) -> float:
    """Return the brake force of both wheels of an axle, N: two rubbing faces on each disc, two discs.

    >>> round(axle_force(5e6, 0.002, 0.4, 0.12, 0.3))
    6400
    """
    return 2 * disc_torque(clamp_force(pressure, piston_area), friction, disc_radius) / wheel_radius


class PedalEffort(NamedTuple):
    """The way back from a torque at one wheel to the foot."""

    pedal_force: Annotated[Newtons, Output("Force on the pedal", "F_p", "N")]
    line_pressure: Annotated[Pascals, Output("Line pressure", "p", "bar")]
    clamp: Annotated[Newtons, Output("Clamp: force of one pad on the disc", "F_c", "N")]
    master_force: Annotated[Newtons, Output("Force on the master cylinder", "F_m", "N")]
    rod_force: Annotated[Newtons, Output("Force of the pedal on bar or pushrod", "F_b", "N", detail=True)]
    friction_force: Annotated[Newtons, Output("Friction force on both faces", "F_t", "N", detail=True)]


@calculator(
    title="From a torque back to the pedal",
    question="What line pressure and what push on the pedal does a brake torque take?",
    example={
        "torque": "1250 N·m",
        "disc_radius": "128 mm",
        "friction": "0.45",
        "pistons": "22.8 cm²",
        "bore": "19.05 mm",
        "rod_share": "50 %",
        "pedal_ratio": "5.2",
        "pedal_efficiency": "95 %",
    },
    working=(
        Step(r"F_t = \frac{T}{r_e}", "friction_force"),
        Step(r"F_c = \frac{F_t}{2 \, \mu}", "clamp"),
        Step(r"p = \frac{F_c}{a}", "line_pressure"),
        Step(r"F_m = p \, \frac{\pi \, d^2}{4}", "master_force"),
        Step(r"F_b = \frac{F_m}{s}", "rod_force"),
        Step(r"F_p = \frac{F_b}{i \, \eta}", "pedal_force"),
    ),
    remarks=with_care(),
)
def pedal_effort(
    *,
    torque: Annotated[NewtonMetres, Input("Torque of one wheel's brake", "T", "N·m", above=0, at_most=1e5)],
    disc_radius: DiscRadius,
    friction: PadFriction,
    pistons: PistonArea,
    bore: Annotated[Metres, bore("Bore of its master cylinder", "d")],
    rod_share: Annotated[
        Ratio, Input("Share of the pedal's force on this cylinder", "s", "%", above=0, at_most=1)
    ] = 1.0,
    pedal_ratio: PedalRatio,
    pedal_efficiency: PedalEfficiency = 1.0,
) -> PedalEffort:
    """Return the pressure and the forces back to the pedal that a torque at one wheel takes.

    Equation: F_t = T / r_e;  F_c = F_t / (2 mu);  p = F_c / a;  F_m = p A;  F_p = F_m / (share i eta).
    Valid for: a disc with two rubbing faces, no booster, push-out and seal friction left out.
    Caution: the torque that deceleration asks for needs the tyre's grip, not the static axle load over the mass.
    Source: statics and hydraulics, derived.

    >>> round(pedal_effort(torque=1248, disc_radius=0.13, friction=0.4, pistons=0.002, bore=0.02, pedal_ratio=5).line_pressure / 1e5)
    60
    """
    friction_force = torque / disc_radius
    clamp = friction_force / (2 * friction)
    pressure = clamp / pistons
    master = pressure * bore_area(bore)
    rod = master / rod_share
    return PedalEffort(rod / (pedal_ratio * pedal_efficiency), pressure, clamp, master, rod, friction_force)

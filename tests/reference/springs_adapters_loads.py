"""Adapters for the topics of loads: see ``springs_case`` for their shape."""

import math

from calc.loads.aero import aero_loads
from calc.loads.aero_frequency import frequency_under_downforce
from calc.loads.axle_grip import axle_grip
from calc.loads.banking import banked_corner
from calc.loads.cg_height import Lift, cg_height_lift
from calc.loads.changes import fuel_burn
from calc.loads.chassis import chassis_twist
from calc.loads.corner_weights import corner_weights
from calc.loads.grip import Point
from calc.loads.lateral import lateral_load_transfer
from calc.loads.longitudinal import longitudinal_load_transfer
from calc.loads.masses import sprung_mass_split
from calc.loads.straight import straight_line_loads
from calc.loads.support import Axle, Support, settle
from calc.loads.understeer import understeer_gradient
from calc.units import STANDARD_GRAVITY, unit
from tests.reference.springs_case import Adapter, Bad, Given

G = STANDARD_GRAVITY
RIGID = 1e13  # N/m, a tyre that does not give


def cg_position(given: Given) -> dict[str, float]:
    """Weights become masses: only their ratios count. The tracks do not touch the answer of a symmetric car."""
    corners = (given.si(name) / G for name in ("W_fl", "W_fr", "W_rl", "W_rr"))
    names = ("front_left", "front_right", "rear_left", "rear_right")
    tracks = (given.si(name) if name in given else 1.5 for name in ("track_front", "track_rear"))
    front, rear = tracks
    found = corner_weights(
        **dict(zip(names, corners, strict=True)), wheelbase=given.si("wheelbase"), front_track=front, rear_track=rear
    )
    length = unit(given.unit("wheelbase")).from_si
    return {
        "cg_to_front_axle_a": length(found.cg_to_front),
        "cg_to_rear_axle_b": length(found.cg_to_rear),
        "front_fraction": found.front_share,
        "left_fraction": found.left_share,
        "cross_fraction": found.cross_share,
        "y_cg": length(found.cg_left),
    }


def cg_height(given: Given) -> dict[str, float]:
    """A case gives the lift, or the angle and an error of the load."""
    weight, wheelbase = given.si("W"), given.si("wheelbase")
    radii = [given.si(f"loaded_radius_{end}") if f"loaded_radius_{end}" in given else 0.3 for end in ("front", "rear")]
    level = given.si("front_axle_load_level") if "front_axle_load_level" in given else weight / 2
    raised = given.si("front_axle_load_raised") if "front_axle_load_raised" in given else level
    lift = given.si("rear_hub_lift") if "rear_hub_lift" in given else wheelbase * math.sin(given.si("lift_angle"))
    found = cg_height_lift(
        mass=weight / G,
        wheelbase=wheelbase,
        level_reading=level / G,
        front_radius=radii[0],
        rear_radius=radii[1],
        lifts=(Lift(lift, raised / G),),
    )
    error = given.si("axle_load_error") / G if "axle_load_error" in given else 0.0
    return {
        "cg_height": found.cg_height,
        "lift_angle": math.degrees(found.angles[0]),
        "cg_height_error": error * found.per_kilogram,
    }


def sprung(given: Given) -> dict[str, float]:
    """The balance and wheelbase do not touch mass and height."""
    found = sprung_mass_split(
        mass=given.si("W_total") / G,
        front_share=0.5,
        cg_height=given.si("cg_height_total"),
        wheelbase=2.5,
        unsprung_front=given.si("W_unsprung_front") / G,
        unsprung_rear=given.si("W_unsprung_rear") / G,
        unsprung_front_height=given.si("unsprung_cg_height_front"),
        unsprung_rear_height=given.si("unsprung_cg_height_rear"),
    )
    return {
        "W_sprung": unit(given.unit("W_total")).from_si(found.sprung_mass * G),
        "cg_height_sprung": unit(given.unit("cg_height_total")).from_si(found.sprung_height),
    }


def wedge(given: Given) -> dict[str, float]:
    """Rates of four corners, bars by force per difference of wheel travel; tyres and chassis rigid unless given."""
    rates = given.si("wheel_rates") if "wheel_rates" in given else [given.si("wheel_rate_each")] * 4
    tyres = given.si("tyre_rates") if "tyre_rates" in given else [RIGID] * 4
    bars = [
        given.si(name) if name in given else 0.0
        for name in ("bar_rate_front_force_per_wheel_difference", "bar_rate_rear_force_per_wheel_difference")
    ]
    axles = [
        Axle(given.si(f"track_{end}"), (rates[i], rates[i + 1]), (tyres[i], tyres[i + 1]), bar)
        for end, i, bar in (("front", 0, bars[0]), ("rear", 2, bars[1]))
    ]
    chassis = given.si("chassis_stiffness") if "chassis_stiffness" in given else None
    found = settle(Support(*axles, chassis), (given.si("perch_rise_wheel_equivalent_FL"), 0.0, 0.0, 0.0))
    return dict(zip(("dN_FL", "dN_FR", "dN_RL", "dN_RR"), found.loads, strict=True))


def lateral(given: Given) -> dict[str, float]:
    """The book's case gives the elastic parts and the total roll stiffness; the closed form gives all that is needed."""
    if "K_front" in given:
        found = lateral_load_transfer(
            sprung_mass=given.si("sprung_mass"),
            sprung_front_share=given["front_sprung_fraction"],
            sprung_height=given.si("h_sprung"),
            unsprung_front=given.si("unsprung_front"),
            unsprung_rear=given.si("unsprung_rear"),
            unsprung_front_height=given.si("hub_front"),
            unsprung_rear_height=given.si("hub_rear"),
            front_roll_centre=given.si("rc_front"),
            rear_roll_centre=given.si("rc_rear"),
            front_track=given.si("track_front"),
            rear_track=given.si("track_rear"),
            front_roll_stiffness=given.si("K_front"),
            rear_roll_stiffness=given.si("K_rear"),
            lateral_acceleration=given.si("ay"),
            gravity_term=given["include_gravity_tilt"],
        )
        return {
            "roll_angle": math.degrees(found.roll_angle),
            "dW_front": found.front_transfer,
            "dW_rear": found.rear_transfer,
            "total_moment": found.moment,
        }
    share, front, rear = (
        given[name] for name in ("front_mass_fraction", "roll_centre_height_front", "roll_centre_height_rear")
    )
    found = lateral_load_transfer(
        sprung_mass=given.si("sprung_mass"),
        sprung_front_share=share,
        sprung_height=given["cg_above_roll_axis"] + share * front + (1 - share) * rear,
        unsprung_front=given.si("unsprung_front"),
        unsprung_rear=given.si("unsprung_rear"),
        unsprung_front_height=given.si("unsprung_cg_height_front"),
        unsprung_rear_height=given.si("unsprung_cg_height_rear"),
        front_roll_centre=front,
        rear_roll_centre=rear,
        front_track=given.si("track"),
        rear_track=given.si("track"),
        front_roll_stiffness=given["total_roll_stiffness"] / 2,
        rear_roll_stiffness=given["total_roll_stiffness"] / 2,
        lateral_acceleration=given["lateral_acceleration"] * 9.81,
    )
    return {
        "geometric_front": found.front_geometric,
        "geometric_rear": found.rear_geometric,
        "unsprung_front_transfer": found.front_unsprung,
        "unsprung_rear_transfer": found.rear_unsprung,
        "total_front_sum_of_parts": found.front_geometric + found.front_unsprung + given["elastic_front"],
        "total_rear": found.rear_geometric + found.rear_unsprung + given["elastic_rear"],
        "roll_gradient": math.degrees(found.roll_gradient * G),
        "roll_gradient_si": found.roll_gradient,
    }


def banking(given: Given) -> dict[str, float]:
    """At the neutral speed the load is the weight over cos(bank)."""
    road = {
        "mass": 1000.0,
        "cg_height": 0.5,
        "track": 1.5,
        "radius": given.si("radius"),
        "bank": given.si("bank"),
        "adhesion": 1.0,
    }
    speed = banked_corner(**road, speed=10.0).neutral_speed
    found = banked_corner(**road, speed=speed)
    assert abs(found.transfer) < 1e-9
    return {"neutral_speed": speed, "effective_weight_ratio": found.load_ratio}


def chassis(given: Given) -> dict[str, float]:
    """Only ratios of stiffness are given."""
    front, relative = given["lambda_front_roll_stiffness_fraction"], given["mu_chassis_over_total_roll_stiffness"]
    found = chassis_twist(
        front_roll_stiffness=front * 1e5,
        rear_roll_stiffness=(1 - front) * 1e5,
        chassis_stiffness=relative * 1e5,
        sprung_mass=1000.0,
        sprung_front_share=0.5,
        front_arm=0.4,
        rear_arm=0.4,
        lateral_acceleration=10.0,
    )
    return {"front_share_of_front_moment": found.front_of_front, "front_share_of_rear_moment": found.front_of_rear}


def load_sensitivity(given: Given) -> dict[str, float]:
    """Points of a table."""
    rows = tuple(Point(load, mu) for load, mu in zip(given.si("load_table"), given["mu_table"], strict=True))
    found = axle_grip(load=given.si("static_load_each"), transfer=given.si("transfer"), form="table", points=rows)
    force = unit(given.unit("transfer")).from_si
    return {
        "lateral_static": force(found.force_without),
        "lateral_with_transfer": force(found.force),
        "loss_fraction": found.loss,
    }


def understeer(given: Given) -> dict[str, float | None]:
    """The weight is a force; the gradient is asked in radians for each g."""
    found = understeer_gradient(
        mass=given.si("weight") / G,
        wheelbase=given.si("wheelbase"),
        front_share=given["front_fraction"],
        front_stiffness=given.si("C_front_each"),
        rear_stiffness=given.si("C_rear_each"),
        speed=20.0,
        radius=100.0,
    )
    return {
        "K_us": found.gradient * G,
        "characteristic_speed": found.characteristic_speed,
        "critical_speed": found.critical_speed,
    }


def aero(given: Given) -> dict[str, float]:
    """Downforce, drag and axle gains."""
    found = aero_loads(
        density=given["rho"],
        speed=given.si("speed"),
        downforce_area=given["CL_A_down"],
        drag_area=given["CD_A"],
        centre_of_pressure=given.si("cop_behind_front_axle"),
        drag_height=given.si("drag_height"),
        wheelbase=given.si("wheelbase"),
    )
    return {
        "downforce": found.downforce,
        "drag": found.drag,
        "front_change": found.front_gain,
        "rear_change": found.rear_gain,
    }


def aero_heights(given: Given) -> dict[str, float | None]:
    """Frequency with a height gradient."""
    found = frequency_under_downforce(
        sprung_mass=given.si("sprung_mass"),
        ride_rate=given.si("ride_rate_sum"),
        height_gradient=given.si("downforce_height_gradient"),
        speed=50.0,
    )
    return {"f_no_aero": found.frequency_at_rest, "f_with_aero": found.frequency}


def longitudinal(given: Given) -> dict[str, float]:
    """Both calculators of braking must say the same."""
    car = {
        "mass": given.si("mass"),
        "cg_height": given.si("cg_height"),
        "wheelbase": given.si("wheelbase"),
        "front_share": 1 - given.si("a") / given.si("wheelbase"),
    }
    found = longitudinal_load_transfer(**car, deceleration=given.si("deceleration"))
    other = straight_line_loads(**car, acceleration=-given.si("deceleration"))
    assert math.isclose(found.front_load, other.front_load, rel_tol=1e-12)
    return {"transfer": found.transfer, "front": found.front_load, "rear": found.rear_load}


def fuel(given: Given) -> dict[str, float]:
    """The case gives the place of the centre of gravity; any wheelbase that holds it will do."""
    wheelbase = 2 * given.si("x_cg_start")
    found = fuel_burn(
        mass=given.si("mass_start"),
        wheelbase=wheelbase,
        front_share=0.5,
        cg_height=given.si("h_cg_start"),
        fuel=given.si("fuel_burned"),
        fuel_burned=given.si("fuel_burned"),
        tank_behind_front=given.si("x_fuel"),
        tank_floor=given.si("h_fuel"),
    )
    return {"mass_end": found.total, "x_cg_end": found.cg_to_front, "h_cg_end": found.cg_height}


ADAPTERS: dict[str, Adapter] = {
    "cg_position": cg_position,
    "cg_height_lift": cg_height,
    "sprung_unsprung": sprung,
    "corner_weight_adjust": wedge,
    "lateral_load_transfer": lateral,
    "banking_grade": banking,
    "chassis_torsion": chassis,
    "tyre_load_sensitivity": load_sensitivity,
    "understeer_gradient": understeer,
    "aero_loads": aero,
    "aero_ride_height": aero_heights,
    "longitudinal_load_transfer": longitudinal,
    "fuel_ballast": fuel,
}

_LIFT = {"mass": 1000.0, "wheelbase": 2.5, "level_reading": 500.0, "front_radius": 0.3, "rear_radius": 0.3}
_ROLL = {
    "sprung_mass": 4500 / (G * 0.4),
    "sprung_front_share": 0.5,
    "sprung_height": 0.45,
    "unsprung_front": 60.0,
    "unsprung_rear": 60.0,
    "unsprung_front_height": 0.3,
    "unsprung_rear_height": 0.3,
    "front_roll_centre": 0.05,
    "rear_roll_centre": 0.05,
    "front_track": 1.5,
    "rear_track": 1.5,
}

BAD: dict[str, Bad] = {
    "cg_height_lift:rear_hub_lift": ("lift", lambda: cg_height_lift(**_LIFT, lifts=(Lift(0.0, 510.0),))),
    "cg_height_lift:front_axle_load_raised": ("reading", lambda: cg_height_lift(**_LIFT, lifts=(Lift(0.5, 1001.0),))),
    "cg_position:corner_load": (
        "rear_left",
        lambda: corner_weights(
            front_left=300.0,
            front_right=300.0,
            rear_left=-1.0,
            rear_right=250.0,
            wheelbase=2.5,
            front_track=1.5,
            rear_track=1.5,
        ),
    ),
    "lateral_load_transfer:K_total": (
        "roll_stiffness",
        lambda: lateral_load_transfer(
            **_ROLL, front_roll_stiffness=2000.0, rear_roll_stiffness=2000.0, lateral_acceleration=5.0
        ),
    ),
    "lateral_load_transfer:transfer": (
        "",
        lambda: lateral_load_transfer(
            **_ROLL, front_roll_stiffness=60000.0, rear_roll_stiffness=20000.0, lateral_acceleration=20.0
        ),
    ),
}

"""What a car file may hold: every key with its label, unit and limits. Everything is optional; nothing else is accepted."""

from collections.abc import Mapping
from typing import Any

from calc.car.read import Migration, Schema, Values, read_values
from calc.car.write import write_values
from calc.form import Input, Parameter
from calc.units import UNITS, Quantity

FORMAT = 1
MIGRATIONS: Mapping[int, Migration] = {}

_NUMBERS: dict[str, dict[str, str]] = {
    # section: {key: "unit, label"}; a sign before the unit means that the value may be negative
    "mass": {
        "front_left": "kg, Scale under the left front wheel",
        "front_right": "kg, Scale under the right front wheel",
        "rear_left": "kg, Scale under the left rear wheel",
        "rear_right": "kg, Scale under the right rear wheel",
        "total": "kg, Mass of the car with driver",
        "front_share": "%, Share of the weight on the front axle",
        "left_share": "%, Share of the weight on the left wheels",
        "left_side": "kg, Mass on the left wheels",
        "cg_height": "mm, Height of the centre of gravity",
        "pitch_radius": "m, Radius of gyration of the sprung mass in pitch",
        "sprung_to_front": "mm, Sprung centre of gravity behind the front axle",
        "sprung_to_rear": "mm, Sprung centre of gravity ahead of the rear axle",
        "fuel": "kg, Mass of fuel",
        "tank_behind_front": "±mm, Middle of the tank behind the front axle",
        "tank_floor": "mm, Height of the tank's floor",
        "fuel_depth": "mm, Depth of the fuel",
    },
    "body": {
        "wheelbase": "mm, Wheelbase",
        "front_track": "mm, Front track",
        "rear_track": "mm, Rear track",
        "twist_stiffness": "N·m/deg, Torsional stiffness between the axles",
    },
    "bar": {
        "outer_diameter": "mm, Outer diameter",
        "inner_diameter": "mm, Inner diameter",
        "twisted_length": "mm, Twisted length",
        "lever": "mm, Lever of the arm, square to the bar",
        "motion_ratio": ", Motion ratio of the bar's end",
        "arm_length": "mm, Length of an arm",
        "arm_width": "mm, Width of an arm",
        "arm_depth": "mm, Depth of an arm",
        "shear_yield": "MPa, Yield stress in shear",
    },
    "axle": {
        "sprung_corner_mass": "kg, Sprung mass on one corner",
        "unsprung_axle": "kg, Unsprung mass of the axle",
        "unsprung_corner": "kg, Unsprung mass of one corner",
        "unsprung_height": "mm, Height of the unsprung mass",
        "spring_rate": "N/mm, Spring rate",
        "spring_force": "N, Spring force at ride height",
        "spring_to_solid": "mm, Travel of the spring from free to solid",
        "preload": "mm, Compression of the spring at full droop",
        "perch_pitch": "mm, Pitch of the perch thread",
        "motion_ratio": ", Motion ratio of the spring",
        "spring_angle": "°, Angle between the spring and the path of its foot",
        "bar_rate": "N/mm, Bar rate, one wheel moved and the other held",
        "tyre_rate": "N/mm, Vertical rate of the tyre",
        "wheel_radius": "mm, Loaded radius of the wheel",
        "damping": "N·s/m, Damping at the wheel",
        "damper_open": "mm, Length of the damper, topped out",
        "damper_closed": "mm, Length of the damper, metal to metal",
        "damper_static": "mm, Length of the damper at ride height",
        "rubber_free": "mm, Free height of the bump rubber",
        "rubber_block": "mm, Height of the bump rubber when blocked",
        "tyre_to_body": "mm, Bump at which the tyre meets the body",
        "roll_centre": "±mm, Height of the roll centre",
        "lower_joint_height": "mm, Height of the lower joint",
        "lower_arm_angle": "±°, Slope of the lower arm's pivot line, front end higher is positive",
        "upper_joint_height": "mm, Height of the upper joint",
        "upper_arm_angle": "±°, Slope of the upper arm's pivot line, front end higher is positive",
        "static_camber": "±°, Static camber",
        "static_toe_in": "±°, Static toe-in of one wheel",
    },
    "steering": {
        "rack_per_turn": "mm, Rack travel for each turn of the wheel",
        "lock": "mm, Rack travel to lock",
        "axis_track": "mm, Distance between the steering axes at the ground",
    },
    "brakes": {
        "front_share": "%, Front share of the brake force",
        "pedal_force": "N, Force on the pedal",
        "pedal_ratio": ", Pedal ratio",
        "pedal_efficiency": "%, Efficiency of the pedal box",
        "pedal_travel": "mm, Free travel of the pedal",
        "bar_front_share": "%, Share of the bar force on the front cylinder",
        "bar_spacing": "mm, Spacing of the clevises",
        "bar_tilt_limit": "°, Tilt at which the bar meets its stop",
        "cylinder_stroke": "mm, Stroke of the cylinders",
        "pad_clearance": "mm, Running clearance of a pad",
        "knock_back": "mm, Knock-back of a pad",
        "hose_give": "cm³/(m·bar), Give of the hoses",
        "pad_window_low": "°C, Pad works from",
        "pad_window_high": "°C, Pad works to",
        "front_disc_mass": "kg, Rubbing mass of a front disc",
        "front_disc_heat": "J/(kg·K), Specific heat of a front disc",
        "front_disc_area": "m², Cooled area of a front disc",
        "front_pad_capacity": "J/K, Heat capacity of the pads of a front caliper",
        "front_caliper_capacity": "J/K, Heat capacity of a front caliper",
        "front_caliper_fluid": "J/K, Heat capacity of the fluid in a front caliper",
        **{
            f"{axle}_{key}": said
            for axle in ("front", "rear")
            for key, said in {
                "bore": f"mm, Bore of the {axle} cylinder",
                "pistons": f"cm², Piston area on one side of a {axle} caliper",
                "friction": f", Pad friction, {axle}",
                "disc_radius": f"mm, Effective radius of the {axle} disc",
                "caliper_give": f"cm³/bar, Give of a {axle} caliper",
                "hose": f"m, Length of {axle} hose",
                "fluid": f"cm³, Fluid in the {axle} circuit",
            }.items()
        },
    },
    "tyres": {
        "adhesion": ", Grip of the tyres in the dry",
        "adhesion_wet": ", Grip of the tyres in the wet",
    },
    "aero": {
        "downforce_area": "m², Downforce area",
        "drag_area": "m², Drag area",
        "centre_of_pressure": "mm, Centre of pressure behind the front axle",
        "drag_height": "mm, Height of the drag force",
        "front_ride_height": "mm, Front ride height",
        "rear_ride_height": "mm, Rear ride height",
    },
}
_TABLES: dict[str, dict[str, tuple[str, ...]]] = {
    # section: {key: (label, "unit, column", ...)}; a column without a unit is text
    "mass": {
        "lifts": ("Lifts of the rear axle", "mm, Lift of the rear hubs", "kg, Front scales"),
        "tilts": ("Tilts of the car", "°, Tilt", "kg, Scales of the low side"),
    },
    "axle": {
        "rubber": ("Readings on the bump rubber", "mm, Compression", "N, Force"),
        "dyno": ("Damper on the dyno", "mm/s, Speed", "N, Compression", "N, Rebound"),
        "points": ("Hard points, left side", "Point", "±mm, Forward", "±mm, Outboard", "±mm, Up"),
    },
}
_WORDS: dict[str, tuple[str, ...]] = {
    "": ("name", "summary"),
    "axle": ("linkage", "spring_on"),
    "brakes": ("fluid",),
}
_PLACES = {
    "": ("",),
    "mass": ("mass",),
    "body": ("body",),
    "axle": ("front", "rear"),
    "bar": ("front.bar", "rear.bar"),
    "steering": ("steering",),
    "brakes": ("brakes",),
    "tyres": ("tyres",),
    "aero": ("aero",),
}


def _field(name: str, said: str) -> Parameter:
    """Return a number field from ``"±mm, Label"``, or a text field from a bare label."""
    unit, comma, label = said.partition(", ")
    if not comma:
        return Parameter(name, "text", Input(said), None, False, None, True)
    signed, symbol = unit.startswith("±"), unit.removeprefix("±")
    dimension = UNITS[symbol].dimension
    si = next(
        each.symbol for each in UNITS.values() if each.dimension == dimension and (each.factor, each.offset) == (1, 0)
    )
    free = signed or dimension == "temperature"
    return Parameter(
        name,
        "number",
        Input(label, unit=symbol, at_least=None if free else 0),
        Quantity(dimension, si),
        False,
        None,
        True,
    )


def _table(name: str, label: str, *columns: str) -> Parameter:
    fields = tuple(_field(f"column_{n}", said) for n, said in enumerate(columns, start=1))
    return Parameter(name, "table", Input(label), None, False, None, True, row=_row, columns=fields)


def _row(*cells: Any) -> tuple[Any, ...]:
    return cells


def _schema() -> Schema:
    found: dict[str, Parameter] = {}
    for kind, places in _PLACES.items():
        for place in places:
            prefix = f"{place}." if place else ""
            for word in _WORDS.get(kind, ()):
                found[prefix + word] = _field(word, word.replace("_", " ").capitalize())
            found |= {prefix + key: _field(key, said) for key, said in _NUMBERS.get(kind, {}).items()}
            found |= {prefix + key: _table(key, *said) for key, said in _TABLES.get(kind, {}).items()}
    return found


SCHEMA = _schema()


def read_car(text: str) -> Values:
    """Return the values of a car file. Raises ``FileProblems`` with everything that is wrong.

    >>> read_car('name = "Tarn 20"').value("name")
    'Tarn 20'
    """
    return read_values(text, SCHEMA, FORMAT, MIGRATIONS)


def write_car(values: Values) -> str:
    """Return the text of a car file with these values; comments are not kept."""
    return write_values(values, SCHEMA, FORMAT)

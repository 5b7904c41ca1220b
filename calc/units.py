"""The only list of units: names, factors, quantity types, and reading and writing of a number with its unit.

Everything inside ``calc`` is in SI units (metre, kilogram, newton, second, radian, kelvin). Conversion happens where a number
enters or leaves. A unit converts to SI by ``value * factor + offset``.

Source of the factors: exact definitions of the international yard and pound agreement (1959) and of standard gravity
9.80665 m/s2 (CGPM 1901); every factor is compared with an independent unit library in the tests.
"""

import math
import re
from typing import Annotated, NamedTuple

from calc.refusal import Refused

STANDARD_GRAVITY = 9.80665  # m/s2, CGPM 1901
_INCH = 0.0254  # m
_POUND = 0.45359237  # kg
_POUND_FORCE = _POUND * STANDARD_GRAVITY  # N
_DEGREE = math.pi / 180.0  # rad
_MILE = 1609.344  # m
_ATMOSPHERE_ZERO = 273.15  # K


class Unit(NamedTuple):
    """One unit: how it is written, what it measures, and how it becomes SI."""

    symbol: str
    dimension: str
    factor: float
    offset: float = 0.0
    aliases: tuple[str, ...] = ()

    def to_si(self, value: float) -> float:
        """Return ``value`` of this unit in SI."""
        return value * self.factor + self.offset

    def from_si(self, value: float) -> float:
        """Return the SI ``value`` in this unit."""
        return (value - self.offset) / self.factor


class Quantity(NamedTuple):
    """What a number measures and the SI unit it is kept in."""

    dimension: str
    unit: str


_UNITS = (
    Unit("", "ratio", 1.0, aliases=("-", "1")),
    Unit("%", "ratio", 0.01, aliases=("percent", "per cent")),
    Unit("m", "length", 1.0),
    Unit("mm", "length", 0.001),
    Unit("cm", "length", 0.01),
    Unit("km", "length", 1000.0),
    Unit("in", "length", _INCH, aliases=('"', "inch", "inches")),
    Unit("ft", "length", 12 * _INCH, aliases=("'", "foot", "feet")),
    Unit("m²", "area", 1.0, aliases=("m2",)),
    Unit("mm²", "area", 1e-6, aliases=("mm2",)),
    Unit("cm²", "area", 1e-4, aliases=("cm2",)),
    Unit("in²", "area", _INCH**2, aliases=("in2", "sq in")),
    Unit("m³", "volume", 1.0, aliases=("m3",)),
    Unit("cm³", "volume", 1e-6, aliases=("cm3", "cc", "ml")),
    Unit("l", "volume", 1e-3, aliases=("L", "litre", "litres")),
    Unit("in³", "volume", _INCH**3, aliases=("in3", "cu in")),
    Unit("kg", "mass", 1.0),
    Unit("lb", "mass", _POUND, aliases=("lbs", "lbm")),
    Unit("s", "time", 1.0),
    Unit("ms", "time", 0.001),
    Unit("min", "time", 60.0),
    Unit("h", "time", 3600.0),
    Unit("N", "force", 1.0),
    Unit("kN", "force", 1000.0),
    Unit("kgf", "force", STANDARD_GRAVITY, aliases=("kp",)),
    Unit("lbf", "force", _POUND_FORCE),
    Unit("N/m", "stiffness", 1.0),
    Unit("N/mm", "stiffness", 1000.0),
    Unit("kgf/mm", "stiffness", STANDARD_GRAVITY * 1000.0, aliases=("kg/mm",)),
    Unit("lbf/in", "stiffness", _POUND_FORCE / _INCH, aliases=("lb/in", "lbs/in")),
    Unit("1/m", "per length", 1.0),
    Unit("1/in", "per length", 1.0 / _INCH),
    Unit("N·m", "moment", 1.0, aliases=("N*m", "N m", "Nm")),
    Unit("lbf·ft", "moment", _POUND_FORCE * 12 * _INCH, aliases=("lbf*ft", "lbf ft", "lb ft", "ft lb", "ft lbf")),
    Unit("N·m/rad", "angular stiffness", 1.0, aliases=("N*m/rad", "N m/rad", "Nm/rad")),
    Unit("N·m/deg", "angular stiffness", 1.0 / _DEGREE, aliases=("N*m/deg", "N m/deg", "Nm/deg", "N·m/°", "Nm/°")),
    Unit("kN·m/deg", "angular stiffness", 1000.0 / _DEGREE, aliases=("kN*m/deg", "kN m/deg", "kNm/deg", "kNm/°")),
    Unit(
        "lbf·ft/deg",
        "angular stiffness",
        _POUND_FORCE * 12 * _INCH / _DEGREE,
        aliases=("lbf*ft/deg", "lbf ft/deg", "lb ft/deg", "ft lb/deg"),
    ),
    Unit("Pa", "pressure", 1.0),
    Unit("kPa", "pressure", 1e3),
    Unit("MPa", "pressure", 1e6, aliases=("N/mm²", "N/mm2")),
    Unit("GPa", "pressure", 1e9),
    Unit("bar", "pressure", 1e5),
    Unit("psi", "pressure", _POUND_FORCE / _INCH**2, aliases=("lbf/in²", "lbf/in2")),
    Unit("rad", "angle", 1.0),
    Unit("°", "angle", _DEGREE, aliases=("deg", "degree", "degrees")),
    Unit("m/s", "speed", 1.0),
    Unit("mm/s", "speed", 0.001),
    Unit("in/s", "speed", _INCH),
    Unit("km/h", "speed", 1.0 / 3.6, aliases=("kph", "kmh")),
    Unit("mph", "speed", _MILE / 3600.0),
    Unit("m/s²", "acceleration", 1.0, aliases=("m/s2", "m/s^2")),
    Unit("g", "acceleration", STANDARD_GRAVITY),
    Unit("K", "temperature", 1.0),
    Unit("°C", "temperature", 1.0, _ATMOSPHERE_ZERO, ("degC", "C", "deg C")),
    Unit("°F", "temperature", 5.0 / 9.0, _ATMOSPHERE_ZERO - 32.0 * 5.0 / 9.0, ("degF", "F", "deg F")),
    Unit("Hz", "frequency", 1.0, aliases=("1/s",)),
    Unit("cpm", "frequency", 1.0 / 60.0, aliases=("1/min",)),
    Unit("J", "energy", 1.0),
    Unit("kJ", "energy", 1e3),
    Unit("MJ", "energy", 1e6),
    Unit("W", "power", 1.0),
    Unit("kW", "power", 1e3),
    Unit("W/m²", "heat flux", 1.0, aliases=("W/m2",)),
    Unit("MW/m²", "heat flux", 1e6, aliases=("MW/m2",)),
    Unit("J/K", "heat capacity", 1.0),
    Unit("J/(kg·K)", "specific heat", 1.0, aliases=("J/(kg*K)", "J/(kg K)", "J/kgK", "J/kg/K")),
    Unit("W/(m·K)", "heat conductivity", 1.0, aliases=("W/(m*K)", "W/(m K)", "W/mK", "W/m/K")),
    Unit("W/(m²·K)", "heat transfer coefficient", 1.0, aliases=("W/(m2*K)", "W/(m2 K)", "W/m2K", "W/m2/K")),
    Unit("J/(m³·K)", "heat transfer coefficient per speed", 1.0, aliases=("J/(m3*K)", "W/(m2 K)/(m/s)", "W·s/(m³·K)")),
    Unit("W/K", "heat conductance", 1.0),
    Unit("kg·m²", "moment of inertia", 1.0, aliases=("kg*m2", "kg m2", "kgm2")),
    Unit("m³/Pa", "volume per pressure", 1.0, aliases=("m3/Pa",)),
    Unit("cm³/bar", "volume per pressure", 1e-11, aliases=("cm3/bar", "cc/bar")),
    Unit("m²/Pa", "volume per pressure and length", 1.0, aliases=("m2/Pa", "m3/(m Pa)", "m3/(m*Pa)", "m³/(m·Pa)")),
    Unit("cm³/(m·bar)", "volume per pressure and length", 1e-11, aliases=("cm3/(m*bar)", "cm3/(m bar)", "cc/m/bar")),
    Unit("N/Pa", "force per pressure", 1.0),
    Unit("N/bar", "force per pressure", 1e-5),
    Unit("1/K", "expansion", 1.0, aliases=("m/(m K)",)),
    Unit("m³/J", "wear", 1.0, aliases=("m3/J",)),
    Unit("mm³/MJ", "wear", 1e-15, aliases=("mm3/MJ",)),
    Unit("m²/s", "viscosity", 1.0, aliases=("m2/s",)),
    Unit("mm²/s", "viscosity", 1e-6, aliases=("mm2/s", "cSt")),
    Unit("kg/s", "mass flow", 1.0),
    Unit("m³/s", "volume flow", 1.0, aliases=("m3/s",)),
    Unit("l/s", "volume flow", 1e-3, aliases=("L/s",)),
    Unit("rad/s", "angular speed", 1.0),
    Unit("deg/s", "angular speed", _DEGREE, aliases=("°/s",)),
    Unit("rad/s²", "angular acceleration", 1.0, aliases=("rad/s2", "rad/s^2")),
    Unit("kg/m³", "density", 1.0, aliases=("kg/m3",)),
    Unit("m⁴", "second moment of area", 1.0, aliases=("m4",)),
    Unit("mm⁴", "second moment of area", 1e-12, aliases=("mm4",)),
    Unit("N·s/m", "damping", 1.0, aliases=("N*s/m", "N s/m", "Ns/m")),
    Unit("N·s/mm", "damping", 1000.0, aliases=("N*s/mm", "N s/mm", "Ns/mm")),
    Unit("lbf·s/in", "damping", _POUND_FORCE / _INCH, aliases=("lbf*s/in", "lbf s/in", "lb s/in")),
    Unit("rad/(m/s²)", "angle per acceleration", 1.0, aliases=("rad/(m/s2)", "rad s2/m", "rad·s²/m")),
    Unit("rad/g", "angle per acceleration", 1.0 / STANDARD_GRAVITY),
    Unit("deg/g", "angle per acceleration", _DEGREE / STANDARD_GRAVITY, aliases=("°/g",)),
    Unit("N/rad", "cornering stiffness", 1.0),
    Unit("N/deg", "cornering stiffness", 1.0 / _DEGREE, aliases=("N/°",)),
    Unit("lbf/deg", "cornering stiffness", _POUND_FORCE / _DEGREE, aliases=("lbf/°", "lb/deg")),
    Unit("1/N", "per force", 1.0),
    Unit("1/kN", "per force", 1e-3),
    Unit("1/lbf", "per force", 1.0 / _POUND_FORCE),
    Unit("rad/m", "angle per length", 1.0),
    Unit("deg/m", "angle per length", _DEGREE, aliases=("°/m",)),
    Unit("deg/mm", "angle per length", 1000.0 * _DEGREE, aliases=("°/mm",)),
    Unit("deg/in", "angle per length", _DEGREE / _INCH, aliases=("°/in",)),
    Unit("1/rad", "per angle", 1.0),
    Unit("1/deg", "per angle", 1.0 / _DEGREE, aliases=("1/°",)),
    Unit("1/(N·rad)", "per force and angle", 1.0, aliases=("1/(N*rad)", "1/(N rad)")),
    Unit("1/(kN·deg)", "per force and angle", 1e-3 / _DEGREE, aliases=("1/(kN*deg)", "1/(kN deg)")),
)

UNITS: dict[str, Unit] = {unit.symbol: unit for unit in _UNITS}
_BY_NAME: dict[str, Unit] = {name: unit for unit in _UNITS for name in (unit.symbol, *unit.aliases)}

Ratio = Annotated[float, Quantity("ratio", "")]
Metres = Annotated[float, Quantity("length", "m")]
SquareMetres = Annotated[float, Quantity("area", "m²")]
CubicMetres = Annotated[float, Quantity("volume", "m³")]
Kilograms = Annotated[float, Quantity("mass", "kg")]
Seconds = Annotated[float, Quantity("time", "s")]
Newtons = Annotated[float, Quantity("force", "N")]
NewtonsPerMetre = Annotated[float, Quantity("stiffness", "N/m")]
PerMetre = Annotated[float, Quantity("per length", "1/m")]
NewtonMetres = Annotated[float, Quantity("moment", "N·m")]
NewtonMetresPerRadian = Annotated[float, Quantity("angular stiffness", "N·m/rad")]
RadiansPerMetre = Annotated[float, Quantity("angle per length", "rad/m")]
Pascals = Annotated[float, Quantity("pressure", "Pa")]
Radians = Annotated[float, Quantity("angle", "rad")]
MetresPerSecond = Annotated[float, Quantity("speed", "m/s")]
MetresPerSecondSquared = Annotated[float, Quantity("acceleration", "m/s²")]
Kelvins = Annotated[float, Quantity("temperature", "K")]
Hertz = Annotated[float, Quantity("frequency", "Hz")]
Joules = Annotated[float, Quantity("energy", "J")]
Watts = Annotated[float, Quantity("power", "W")]
WattsPerSquareMetre = Annotated[float, Quantity("heat flux", "W/m²")]
JoulesPerKelvin = Annotated[float, Quantity("heat capacity", "J/K")]
JoulesPerKilogramKelvin = Annotated[float, Quantity("specific heat", "J/(kg·K)")]
WattsPerMetreKelvin = Annotated[float, Quantity("heat conductivity", "W/(m·K)")]
WattsPerSquareMetreKelvin = Annotated[float, Quantity("heat transfer coefficient", "W/(m²·K)")]
JoulesPerCubicMetreKelvin = Annotated[float, Quantity("heat transfer coefficient per speed", "J/(m³·K)")]
WattsPerKelvin = Annotated[float, Quantity("heat conductance", "W/K")]
KilogramSquareMetres = Annotated[float, Quantity("moment of inertia", "kg·m²")]
CubicMetresPerPascal = Annotated[float, Quantity("volume per pressure", "m³/Pa")]
SquareMetresPerPascal = Annotated[float, Quantity("volume per pressure and length", "m²/Pa")]
NewtonsPerPascal = Annotated[float, Quantity("force per pressure", "N/Pa")]
PerKelvin = Annotated[float, Quantity("expansion", "1/K")]
CubicMetresPerJoule = Annotated[float, Quantity("wear", "m³/J")]
SquareMetresPerSecond = Annotated[float, Quantity("viscosity", "m²/s")]
KilogramsPerSecond = Annotated[float, Quantity("mass flow", "kg/s")]
CubicMetresPerSecond = Annotated[float, Quantity("volume flow", "m³/s")]
RadiansPerSecond = Annotated[float, Quantity("angular speed", "rad/s")]
RadiansPerSecondSquared = Annotated[float, Quantity("angular acceleration", "rad/s²")]
KilogramsPerCubicMetre = Annotated[float, Quantity("density", "kg/m³")]
MetresToTheFourth = Annotated[float, Quantity("second moment of area", "m⁴")]
NewtonSecondsPerMetre = Annotated[float, Quantity("damping", "N·s/m")]
RadiansPerAcceleration = Annotated[float, Quantity("angle per acceleration", "rad/(m/s²)")]
NewtonsPerRadian = Annotated[float, Quantity("cornering stiffness", "N/rad")]
PerNewton = Annotated[float, Quantity("per force", "1/N")]
PerRadian = Annotated[float, Quantity("per angle", "1/rad")]
PerNewtonRadian = Annotated[float, Quantity("per force and angle", "1/(N·rad)")]

# The other units a reader may switch to, by the unit a form shows first.
_SWITCHES: dict[str, tuple[str, ...]] = {
    "mm": ("in",),
    "m": ("ft",),
    "km": (),
    "m²": (),
    "cm²": ("in²", "mm²"),
    "cm³": ("in³",),
    "l": (),
    "kg": ("lb",),
    "N": ("kgf", "lbf", "kN"),
    "N/mm": ("lbf/in", "kgf/mm"),
    "1/m": ("1/in",),
    "N·m": ("lbf·ft",),
    "N·m/deg": ("lbf·ft/deg", "kN·m/deg"),
    "bar": ("psi", "MPa"),
    "MPa": ("psi",),
    "GPa": (),
    "°": ("rad",),
    "km/h": ("mph", "m/s"),
    "m/s": ("km/h", "mph"),
    "mm/s": ("in/s", "m/s"),
    "g": ("m/s²",),
    "°C": ("°F",),
    "Hz": ("cpm",),
    "%": (),
    "deg/g": ("rad/g",),
    "deg/s": ("rad/s",),
    "N/deg": ("lbf/deg", "N/rad"),
    "1/kN": ("1/lbf",),
    "1/deg": ("1/rad",),
    "deg/m": ("deg/in", "deg/mm", "rad/m"),
    "N·s/m": ("lbf·s/in", "N·s/mm"),
    "kJ": ("MJ", "J"),
    "kW": ("W",),
    "cm³/bar": (),
    "N/bar": (),
    "mm³/MJ": (),
}


def unit(name: str) -> Unit:
    """Return the unit written ``name``.

    >>> unit("lb/in").symbol
    'lbf/in'
    """
    try:
        return _BY_NAME[name.strip()]
    except KeyError:
        raise Refused("unit", "is not a unit this book knows", name, hint=_nearest(name)) from None


def choices(shown: str) -> tuple[Unit, ...]:
    """Return the units a reader may choose where ``shown`` is the usual one, that one first."""
    return tuple(UNITS[symbol] for symbol in (shown, *_SWITCHES.get(shown, ())))


def convert(value: float, given: str, wanted: str) -> float:
    """Return ``value`` in another unit of the same dimension.

    >>> round(convert(1.0, "lbf/in", "N/m"), 3)
    175.127
    """
    source, target = unit(given), unit(wanted)
    if source.dimension != target.dimension:
        raise Refused("unit", f"must measure {source.dimension}, as {source.symbol} does", wanted)
    return target.from_si(source.to_si(value))


_NUMBER = r"[+\-−]?(?:\d+(?:\s\d{3})*(?:[.,]\d+)?|[.,]\d+)(?:[eE][+\-−]?\d+)?"
_FRACTION = r"(?:(?P<whole>\d+)\s+)?(?P<top>\d+)/(?P<bottom>\d+)"
_READ_FRACTION = re.compile(rf"\s*{_FRACTION}\s*(?P<unit>[a-z\"'].*)")
_READ_NUMBER = re.compile(rf"\s*(?P<number>{_NUMBER})\s*(?P<unit>.*)", re.DOTALL)
LONGEST_TEXT = 80


def split(text: str) -> tuple[float, str]:
    """Return the number and the unit text of ``"26,5 N/mm"``; a decimal comma and fractions of an inch are read.

    >>> split("26,5 N/mm"), split("5/8 in")
    ((26.5, 'N/mm'), (0.625, 'in'))
    """
    if len(text) > LONGEST_TEXT:
        raise Refused("text", f"must be a number of at most {LONGEST_TEXT} characters", f"{len(text)} characters")
    if fraction := _READ_FRACTION.fullmatch(text):
        whole, top, bottom = (int(fraction[part] or 0) for part in ("whole", "top", "bottom"))
        if bottom:
            return whole + top / bottom, fraction["unit"].strip()
    found = _READ_NUMBER.fullmatch(text)
    if not found:
        raise Refused("text", "must be a number with its unit, such as 26 N/mm", repr(text))
    digits = re.sub(r"\s", "", found["number"]).replace("−", "-").replace(",", ".")
    rest = found["unit"].strip()
    if rest[:1] in {".", ","}:
        raise Refused("text", "must have one decimal point or comma and no other separator", repr(text))
    return float(digits), rest


def read(text: str, quantity: Quantity) -> float:
    """Return the SI value of a number with its unit; a bare number is SI already.

    >>> read("100 km/h", Quantity("speed", "m/s"))
    27.77777777777778
    """
    number, name = split(text)
    if not name:
        return number
    given = unit(name)
    if given.dimension != quantity.dimension:
        known = ", ".join(each.symbol for each in _UNITS if each.dimension == quantity.dimension and each.symbol)
        raise Refused("unit", f"must measure {quantity.dimension} ({known or 'a plain number'})", repr(text.strip()))
    return given.to_si(number)


def read_as_thousands(text: str) -> bool:
    """Return whether a comma may have been meant as a separator of thousands: ``1,250``."""
    return re.fullmatch(r"\s*[+\-−]?[1-9]\d{0,2},\d{3}(?![\d.,]).*", text, re.DOTALL) is not None


def _nearest(name: str) -> str:
    from difflib import get_close_matches

    close = get_close_matches(name.strip(), _BY_NAME, n=1, cutoff=0.5)
    return f"Did you mean {close[0]}?" if close else ""

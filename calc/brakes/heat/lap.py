"""Brake temperatures over a session: laps of braking zones, the car standing after the flag, against pad window and fluid."""

import math
from collections.abc import Mapping, Sequence
from typing import Annotated, Any

from calc.brakes.care import with_care
from calc.brakes.fluid import GRADES, MARGIN, GradeName
from calc.brakes.heat import inputs as given
from calc.brakes.heat.network import Corner, State
from calc.brakes.heat.result import LapHeat
from calc.brakes.heat.session import MOST_LAPS, Lap, Stretch, count_steps, run_laps, settle, soak
from calc.brakes.heat.stops import HOT_IRON
from calc.brakes.heat.terms import CoolingArea, DiscShare, Emissivity, MassFactor
from calc.brakes.heat.zones import Load, Zone, stretches
from calc.brakes.terms import AirDensity, Ambient, DragArea, StartTemperature
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Choice, Input, Remark, Step, calculator
from calc.refusal import Refused
from calc.terms import CarMass

BAND = 0.3  # of the convection, either way
_MOST_STEPS = 20_000
_FINE = 0.5  # K that halving the step may change


def _corner(inputs: Mapping[str, Any]) -> Corner:
    fluid = inputs["fluid_capacity"]
    return Corner(
        disc=inputs["disc_capacity"],
        pads=inputs["pad_capacity"],
        caliper=inputs["caliper_capacity"],
        fluid=inputs["caliper_capacity"] if fluid is None else fluid,
        disc_share=inputs["disc_share"],
        area=inputs["area"],
        emissivity=inputs["emissivity"],
        h_still=inputs["h_still"],
        h_per_speed=inputs["h_per_speed"],
        pad_to_air=inputs["pad_to_air"],
        pad_to_caliper=inputs["pad_to_caliper"],
        caliper_to_air=inputs["caliper_to_air"],
        caliper_to_fluid=0.0 if fluid is None else inputs["caliper_to_fluid"],
        disc_to_pad=inputs["disc_to_pad"],
        ambient=inputs["ambient"],
    )


def _stretches(inputs: Mapping[str, Any]) -> tuple[Stretch, ...]:
    drag = inputs["air_density"] * inputs["drag_area"] / 2
    load = Load(inputs["corner_share"], inputs["mass_factor"] * inputs["mass"], drag, inputs["engine_force"])
    return stretches(inputs["zones"], load, inputs["rolling_speed"])


def _start(inputs: Mapping[str, Any]) -> State:
    caliper = inputs["start_caliper"]
    return State(inputs["start_disc"], inputs["start_pads"], caliper, caliper)


def _remarks(result: LapHeat, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    remarks = []
    if result.disc_peak > HOT_IRON:
        remarks.append(
            Remark(
                "Above 750 °C an iron disc lives short: more mass, more air, or brake less long.",
                "caution",
                "disc_peak",
            )
        )
    if result.wet_margin < MARGIN:
        remarks.append(
            Remark(
                "The fluid comes within 20 K of its wet boiling point, or beyond it: fresh fluid of a higher class, and air for the calipers.",
                "caution",
                "wet_margin",
            )
        )
    if result.soak_peak > result.caliper_peak + 1:
        remarks.append(
            Remark(
                "The caliper is hottest after the flag, when no air moves: drive a cool-down lap and do not stand on the brake.",
                about="soak_peak",
            )
        )
    if result.window_share is not None and result.window_share < 0.8:
        remarks.append(
            Remark(
                "Less than four fifths of the heat falls inside the pad's window: another compound or other cooling.",
                about="window_share",
            )
        )
    if result.laps_to_settle is None or result.laps_to_settle > inputs["laps"]:
        remarks.append(
            Remark(
                "The brakes are still warming at the flag: a longer race would find them hotter.",
                about="laps_to_settle",
            )
        )
    return tuple(remarks)


def _figures(result: LapHeat, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    laps = [float(n) for n in range(1, len(result.lap_discs) + 1)]
    end = State(result.disc_end, result.pad_flag, result.caliper_end, result.fluid_flag)
    after = soak(_corner(inputs), end, inputs["still_air"], inputs["stand_time"])
    fluid = [s.caliper for s in after.states] if inputs["fluid_capacity"] is None else [s.fluid for s in after.states]
    wet = GRADES[inputs["fluid"]].wet
    return (
        Chart(
            "Highest temperatures lap by lap",
            "The disc settles in a few laps; pads, caliper and fluid go on warming.",
            Axis("Lap"),
            Axis("Temperature", "°C"),
            (
                Series("Disc", laps, result.lap_discs),
                Series("Pads", laps, result.lap_pads),
                Series("Fluid", laps, result.lap_fluids),
                Series("Wet boiling point", laps, [wet] * len(laps)),
            ),
        ),
        Chart(
            "After the flag",
            "The car stands: the disc cools into still air while heat soaks into caliper and fluid.",
            Axis("Time after the flag", "min"),
            Axis("Temperature", "°C"),
            (
                Series("Pads", after.times, [s.pads for s in after.states]),
                Series("Caliper", after.times, [s.caliper for s in after.states]),
                Series("Fluid", after.times, fluid),
                Series("Wet boiling point", after.times, [wet] * len(after.times)),
            ),
        ),
    )


@calculator(
    title="Brake temperatures over a session",
    question="How hot do disc, pads, caliper and fluid get over the laps, and after the flag?",
    example=given.EXAMPLE,
    working=(
        Step(r"q = x \, (k_m \, m \, d - \tfrac{\rho}{2} A_D v^2 - F_e) \, v", "energy"),
        Step(
            r"C_d \dot T_d = \gamma \, q - A \, [(h_0 + h_1 v)(T_d - T_\infty) + \varepsilon \sigma (T_d^4 - T_\infty^4)]",
            "disc_peak",
        ),
        Step(r"C_p \dot T_p = (1 - \gamma) \, q - G_{pa} (T_p - T_\infty) - G_{pc} (T_p - T_c)", "pad_peak"),
        Step(r"C_c \dot T_c = G_{pc} (T_p - T_c) - G_{ca} (T_c - T_\infty) - G_{cf} (T_c - T_f)", "caliper_peak"),
    ),
    remarks=with_care(_remarks),
    figures=_figures,
)
def lap_heat(
    *,
    zones: Annotated[tuple[Zone, ...], Input("Braking zones of one lap, in order")],
    laps: Annotated[int, Input("Laps", "n", at_least=1, at_most=60)],
    mass: CarMass,
    corner_share: given.CornerShare,
    mass_factor: MassFactor = 1.05,
    drag_area: DragArea = 0.0,
    air_density: AirDensity = 1.2,
    engine_force: given.EngineForce = 0.0,
    rolling_speed: given.RollingSpeed = None,
    disc_capacity: given.DiscCapacity,
    pad_capacity: given.PadCapacity,
    caliper_capacity: given.CaliperCapacity,
    fluid_capacity: given.FluidCapacity = None,
    disc_share: DiscShare = 0.93,
    area: CoolingArea,
    emissivity: Emissivity = 0.6,
    h_still: given.HStill = 20.0,
    h_per_speed: given.HPerSpeed = 2.0,
    pad_to_air: given.PadToAir = 1.2,
    pad_to_caliper: given.PadToCaliper = 0.9,
    caliper_to_air: given.CaliperToAir = 2.5,
    caliper_to_fluid: given.CaliperToFluid = 4.0,
    disc_to_pad: given.DiscToPad = 0.0,
    still_air: given.StillAir = 0.3,
    stand_time: given.StandTime = 1200.0,
    ambient: Ambient = 293.15,
    start_disc: StartTemperature = 293.15,
    start_pads: given.StartPads = 293.15,
    start_caliper: given.StartCaliper = 293.15,
    fluid: Annotated[GradeName, Choice("Class of the fluid", {name: name for name in GRADES})] = "DOT 4",
    window_low: given.WindowLow = None,
    window_high: given.WindowHigh = None,
) -> LapHeat:
    """Return disc, pad, caliper and fluid temperatures of one corner over laps of braking zones, and after the flag.

    Equation: four bodies; friction heat q = share (k_m m d - q_dyn A_D - F_e) v, gamma of it to the disc, the rest to the pads; disc to air by
    convection h_0 + h_1 v (never below 4 W/(m² K)) and radiation; pads to air and caliper; caliper to air and fluid. Fourth-order steps, halved to check.
    Valid for: one even temperature in each body; coefficients known to 30 %, hence the band. d is the TOTAL deceleration.
    Caution: brakes are hottest after stopping. Hot parts burn; do not stand on the brake, and let fluid cool before opening anything.
    Source: energy balance, derived; compared with scipy in the tests; coefficients are common practice, no source.

    >>> zone = Zone(60.0, 25.0, 10.0, 20.0)
    >>> answer = lap_heat(zones=(zone,), laps=3, mass=1000, corner_share=0.35, disc_capacity=3000, pad_capacity=900, caliper_capacity=2000, area=0.2)
    >>> abs(answer.balance_error) < 1e-9, answer.step_error < 0.5
    (True, True)
    """
    inputs = dict(locals())
    if window_low is not None and window_high is not None and window_low >= window_high:
        raise Refused("window_low", "must be less than the upper end of the window")
    corner, road, start = _corner(inputs), _stretches(inputs), _start(inputs)
    _require_computable(corner, road, stand_time)
    done, step_error = _run_checked(corner, road, start, laps)
    last, settled = done[-1], settle(corner, road, done)
    after = soak(corner, last.end, still_air, stand_time)
    low, high = (run_laps(corner.cooled(f), road, start, laps)[-1].highest.disc for f in (1 + BAND, 1 - BAND))
    caliper = max(lap.highest.caliper for lap in done)
    wets = [lap.highest.caliper if fluid_capacity is None else lap.highest.fluid for lap in done]
    fluid_peak = max(*wets, after.caliper if fluid_capacity is None else after.fluid)
    energy = laps * math.fsum(stretch.energy for stretch in road)
    stored = corner.stored(start, last.end)
    return LapHeat(
        disc_peak=last.highest.disc,
        disc_low=low,
        disc_high=high,
        pad_peak=last.highest.pads,
        caliper_peak=caliper,
        soak_peak=after.caliper,
        soak_time=after.caliper_time,
        fluid_peak=fluid_peak,
        wet_margin=GRADES[fluid].wet - fluid_peak,
        dry_margin=GRADES[fluid].dry - fluid_peak,
        laps_to_settle=settled[0],
        settled_disc=settled[1].highest.disc,
        window_share=_window_share(last, road, window_low, window_high),
        coldest_disc=min(last.disc_starts),
        disc_peaks=last.disc_peaks,
        pad_ends=last.pad_ends,
        disc_end=last.end.disc,
        caliper_end=last.end.caliper,
        pad_flag=last.end.pads,
        fluid_flag=last.end.caliper if fluid_capacity is None else last.end.fluid,
        energy=energy,
        heat_lost=last.end.lost,
        heat_stored=stored,
        balance_error=(energy - stored - last.end.lost) / energy if energy > 0 else 0.0,
        step_error=step_error,
        lap_discs=tuple(lap.highest.disc for lap in done),
        lap_pads=tuple(lap.highest.pads for lap in done),
        lap_fluids=tuple(wets),
        flags=_flags(fluid_peak, GRADES[fluid].dry, step_error),
    )


def _require_computable(corner: Corner, road: tuple[Stretch, ...], stand_time: float) -> None:
    """Refuse a body so small, or a table so long, that the steps would take minutes."""
    steps = count_steps(corner, road)
    if steps * MOST_LAPS + stand_time / corner.widest_step(0.0) <= _MOST_STEPS:
        return
    if steps > 20 * len(road):
        name = corner.fastest()
        held = {"disc": corner.disc, "pad": corner.pads, "caliper": corner.caliper, "fluid": corner.fluid}[name]
        rule = "is too small for its conductances: the body would follow within an instant"
        raise Refused(f"{name}_capacity", rule, f"{held:g} J/K")
    raise Refused("zones", "must be fewer", f"{len(road)} zones")


def _run_checked(corner: Corner, road: tuple[Stretch, ...], start: State, laps: int) -> tuple[list[Lap], float]:
    """Return the laps with a step that may be halved without changing the last lap by more than ``_FINE``."""
    done = run_laps(corner, road, start, laps)
    error = math.inf
    for halvings in (1, 2, 3):
        finer = run_laps(corner, road, start, laps, halvings)
        error = max(abs(a - b) for a, b in zip(_marks(done[-1]), _marks(finer[-1]), strict=True))
        done = finer
        if error < _FINE:
            break
    return done, error


def _marks(lap: Lap) -> tuple[float, ...]:
    return (*lap.disc_peaks, *lap.pad_ends, *lap.end[:4])


def _window_share(last: Lap, road: Sequence[Stretch], low: float | None, high: float | None) -> float | None:
    """Return the share of the lap's heat in zones whose pads are inside the window half way."""
    total = math.fsum(stretch.energy for stretch in road)
    if low is None or high is None or total <= 0:
        return None
    middles = [(a + b) / 2 for a, b in zip(last.pad_starts, last.pad_ends, strict=True)]
    return math.fsum(stretch.energy for stretch, at in zip(road, middles, strict=True) if low <= at <= high) / total


def _flags(fluid_peak: float, dry: float, step_error: float) -> tuple[str, ...]:
    flags = []
    if fluid_peak >= dry:
        flags.append("Even fresh fluid boils: the pedal would go to the floor.")
    if step_error > _FINE:
        flags.append(f"The numerical step leaves {step_error:.1f} K of doubt.")
    return tuple(flags)

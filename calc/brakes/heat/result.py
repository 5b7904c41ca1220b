"""What the lap calculation answers."""

from typing import Annotated, NamedTuple

from calc.form import Output
from calc.units import Joules, Kelvins, Ratio, Seconds


class LapHeat(NamedTuple):
    """Temperatures of the last lap and of the stand after it, and what they mean for pad and fluid."""

    disc_peak: Annotated[Kelvins, Output("Disc, highest of the last lap", "T_d", "°C")]
    disc_low: Annotated[Kelvins, Output("the same with 30 % more cooling", "", "°C")]
    disc_high: Annotated[Kelvins, Output("the same with 30 % less cooling", "", "°C")]
    pad_peak: Annotated[Kelvins, Output("Pads, highest of the last lap", "T_p", "°C")]
    caliper_peak: Annotated[Kelvins, Output("Caliper, highest while running", "T_c", "°C")]
    soak_peak: Annotated[Kelvins, Output("Caliper, highest after the flag", "T_{c,s}", "°C")]
    soak_time: Annotated[Seconds, Output("Time after the flag when it is", "t_s", "s", 3)]
    fluid_peak: Annotated[Kelvins, Output("Fluid, highest, the stand counted", "T_f", "°C")]
    wet_margin: Annotated[Kelvins, Output("Fluid below its wet boiling point by", r"\Delta T_w", "K", 3)]
    dry_margin: Annotated[Kelvins, Output("Fluid below its dry boiling point by", r"\Delta T_d", "K", 3)]
    laps_to_settle: Annotated[int | None, Output("Laps until a lap changes less than 1 K", "", "", 1)]
    settled_disc: Annotated[Kelvins, Output("Disc peak when settled", "", "°C")]
    window_share: Annotated[Ratio | None, Output("Share of the lap's heat taken inside the pad's window", "", "%", 3)]
    coldest_disc: Annotated[Kelvins, Output("Disc at the coldest braking point of the last lap", "", "°C")]
    disc_peaks: Annotated[tuple[Kelvins, ...], Output("Disc peak in each zone, last lap", "", "°C")]
    pad_ends: Annotated[tuple[Kelvins, ...], Output("Pads at the end of each zone, last lap", "", "°C")]
    disc_end: Annotated[Kelvins, Output("Disc at the flag", "", "°C")]
    caliper_end: Annotated[Kelvins, Output("Caliper at the flag", "", "°C")]
    pad_flag: Annotated[Kelvins, Output("Pads at the flag", "", "°C", detail=True)]
    fluid_flag: Annotated[Kelvins, Output("Fluid at the flag", "", "°C", detail=True)]
    energy: Annotated[Joules, Output("Heat of this corner over the session", "E", "kJ")]
    heat_lost: Annotated[Joules, Output("of it given to the air", "", "kJ")]
    heat_stored: Annotated[Joules, Output("of it left in the brake", "", "kJ")]
    balance_error: Annotated[Ratio, Output("Energy that the balance misses", "", "%", 2, detail=True)]
    step_error: Annotated[Kelvins, Output("Change when the step is halved", "", "K", 2, detail=True)]
    lap_discs: Annotated[tuple[Kelvins, ...], Output("Disc peak lap by lap", "", "°C", detail=True)]
    lap_pads: Annotated[tuple[Kelvins, ...], Output("Pad peak lap by lap", "", "°C", detail=True)]
    lap_fluids: Annotated[tuple[Kelvins, ...], Output("Fluid peak lap by lap", "", "°C", detail=True)]
    flags: tuple[str, ...]

"""Turns the description of a linkage in the reference cases into a ``Linkage`` of ``calc.geometry``."""

import math

from calc.geometry.linkage import Crank, Linkage, SwingingArm, Telescope


def linkage_of(said):
    """Return the linkage a case describes, member by member."""
    springs = {"spring": Telescope(**said["spring"])} if "spring" in said else {}
    cranks = {}
    for name in ("bar", "rocker"):
        if name in said:
            part = said[name]
            cranks[name] = Crank(tuple(part["axis"]), part["crank_end"], part["link_end"], part.get("on", "carrier"))
    if "rocker" in said and "damper_end" in said["rocker"]:
        springs["damper"] = Telescope(said["rocker"]["damper_end"], said["rocker"]["damper_chassis"], "rocker")
    h_arm = said.get("h_arm")
    return Linkage(
        {name: tuple(at) for name, at in said["points_m"].items()},
        said["loaded_radius_m"],
        math.radians(said.get("static_camber_deg", 0.0)),
        math.radians(said.get("static_toe_in_deg", 0.0)),
        links=tuple(tuple(link) for link in said.get("links", ())),
        slider=_pair(said, "slider"),
        swinging=SwingingArm(tuple(h_arm[:2]), tuple(h_arm[2:])) if h_arm else None,
        hinge=_pair(said, "hinge"),
        axle_crank=tuple(said["watt"]) if "watt" in said else None,
        tie_rod=_pair(said, "tie_rod"),
        kingpin=_pair(said, "kingpin"),
        arms={"lower_arm": tuple(said["arm"])} if "arm" in said else {},
        springs=springs,
        cranks=cranks,
    )


def _pair(said, name):
    return tuple(said[name]) if name in said else None

"""Every reference case for geometry at its stated tolerance, and every case of bad input.

The cases, their sources and tolerances are data: ``geometry_cases.json``. How a case is put to ``calc`` is in the adapters.
"""

import json
import math
from pathlib import Path

import pytest

from calc.geometry.motion import Corner
from calc.refusal import Refused
from tests.reference import geometry_adapters_motion, geometry_adapters_rest
from tests.reference.geometry_linkages import linkage_of

ADAPTERS = {**geometry_adapters_motion.ADAPTERS, **geometry_adapters_rest.ADAPTERS}
DATA = json.loads((Path(__file__).parent / "geometry_cases.json").read_text("utf-8"))
CASES = {case["id"]: case for case in DATA["cases"]}
FAR = 1000.0  # m: an instant centre beyond counts as at infinity, as the header of the file says


def adapter(name):
    """Return the adapter of a case: most are named after the first word of the case, some after the last or both."""
    words = name.split("_")
    if words[-1] in {"travel", "steer"}:
        return ADAPTERS[words[-1]]
    if name == "ideal_ackermann_book":
        return ADAPTERS["ideal_book"]
    return ADAPTERS[words[0]]


def allowed(name, wanted, tolerance, beside):
    """Return the absolute difference allowed: by the kind of the output, as the header of the file says."""
    key = name.lower()
    size = max(abs(wanted), 1.0)
    if "relative" in tolerance:
        return tolerance["relative"] * size
    if "condition_number" in key:
        return 1e-6 * size
    if "_ic_" in key or "instant_centre" in key:
        reach = max((abs(v) for v in beside if v is not None), default=0.0)
        return tolerance["length_m"] * (1 + reach**2)
    if key.endswith("_n"):
        return max(tolerance["force_N"], tolerance["force_relative"] * size)
    if key.endswith("_deg_per_m"):
        return tolerance["rate_relative"] * size
    if "percent" in tolerance and not key.endswith(("_deg", "_m")):
        return tolerance["percent"]
    if key.endswith("_deg") or key == "deg":
        return tolerance["angle_deg"]
    if key.endswith("_in"):
        return tolerance["length_in"]
    if key == "mm":
        return tolerance["mm"]
    if key.endswith("_m"):
        return tolerance["length_m"]
    return next(tolerance[kind] for kind in ("ratio", "angle_deg", "length_m") if kind in tolerance)


def differences(found, wanted, tolerance, name="", beside=()):
    """Yield what differs: (where, found, wanted)."""
    if isinstance(wanted, dict):
        for key, value in wanted.items():
            inherited = (
                key if any(c.isalpha() for c in key) and name not in {"member_tension_N", "partials_per_m"} else name
            )
            yield from differences(found[key], value, tolerance, inherited)
    elif isinstance(wanted, list):
        assert len(found) == len(wanted), name
        numbers = [v for v in wanted if isinstance(v, int | float)]
        for one, other in zip(found, wanted, strict=True):
            yield from differences(one, other, tolerance, name, beside or numbers)
    elif wanted is None or isinstance(wanted, str | bool):
        far = wanted is None and "_ic_" in name and (found is None or abs(found) > FAR)
        if not far and found != wanted:
            yield name, found, wanted
    else:
        close = found is not None and abs(found - wanted) <= allowed(name, wanted, tolerance, beside or (wanted,))
        if not close and not ("_ic_" in name and abs(wanted) > FAR and (found is None or abs(found) > FAR)):
            yield name, found, wanted


@pytest.mark.parametrize("name", [name for name in CASES if name != "bad_inputs"])
def test_case(name):
    case = CASES[name]
    wanted = {key: value for key, value in case["expected"].items() if key != "beyond"}

    found = adapter(name)(case["inputs"])

    assert list(differences(found, wanted, case["tolerance"])) == []


def bad_linkage(edit):
    said = json.loads(json.dumps(CASES["dw_s_travel"]["inputs"]["linkage"]))
    points = said["points_m"]
    if edit.get("set") == "loaded_radius_m":
        said["loaded_radius_m"] = edit["to"]
    elif isinstance(edit.get("to"), list):
        points[edit["set"]] = [math.nan if value is None else value for value in edit["to"]]
    elif str(edit.get("to", "")).startswith("same as "):
        points[edit["set"]] = points[edit["to"].removeprefix("same as ")]
    elif edit.get("to") == "on the line through both ball joints":
        low, high = points["lower_ball_joint"], points["upper_ball_joint"]
        points[edit["set"]] = [a + 0.3 * (b - a) for a, b in zip(low, high, strict=True)]
    return linkage_of(said)


SENTENCES = (
    ("upper_ball_joint", "must not coincide", "steering axis has no direction"),
    ("lower_arm_front_inner", "must not coincide", "no hinge axis"),
    ("travel", "must stay within reach", "bump travel"),
    ("loaded_radius", "must be greater than 0", ""),
    ("tie_rod_outer", "must lie off the steering axis", "steering arm has no length"),
    ("wheel_centre", "must have three finite numbers", "nan"),
)


@pytest.mark.parametrize(("edit", "said"), list(zip(CASES["bad_inputs"]["inputs"]["edits"], SENTENCES, strict=True)))
def test_bad_input_is_refused_in_a_sentence_of_its_own(edit, said):
    with pytest.raises(Refused) as caught:
        Corner(bad_linkage(edit)).state(edit.get("travel_m", 0.0))

    assert {caught.value.input} & {said[0], "lower_ball_joint"}
    assert said[1] in caught.value.sentence
    assert said[2] in caught.value.sentence


def test_lock_out_is_refused_with_the_last_reachable_travel():
    """The case ``lockout_s`` in three dimensions: a flat-hinged double wishbone of the same sizes stops at the same arm angle."""
    given = CASES["lockout_s"]["inputs"]
    arm, up = given["lower_arm_m"], given["upper_pivot_from_lower_pivot_yz_m"]
    inner = 0.3
    knuckle, upper = given["knuckle_m"], given["upper_arm_m"]
    # drawn with the lower arm level; the upper joint where its two circles cross, outboard of the pivot
    ball, pivot = (inner + arm, 0.0), (inner + up[0], up[1])
    gap = math.dist(ball, pivot)
    along = (upper**2 - knuckle**2 + gap**2) / (2 * gap)
    off = math.sqrt(upper**2 - along**2)
    ux, uz = (ball[0] - pivot[0]) / gap, (ball[1] - pivot[1]) / gap
    joint = max((pivot[0] + along * ux + s * off * uz, pivot[1] + along * uz - s * off * ux) for s in (1, -1))
    said = json.loads(json.dumps(CASES["parallel_equal_arms"]["inputs"]["linkage"]))
    points = said["points_m"]
    for end, x in (("front", 0.2), ("rear", -0.2)):
        points[f"lower_arm_{end}_inner"] = [x, inner, 0.0]
        points[f"upper_arm_{end}_inner"] = [x, *pivot]
    points |= {
        "lower_ball_joint": [0, *ball],
        "upper_ball_joint": [0, *joint],
        "wheel_centre": [0, ball[0] + 0.05, 0.1],
    }
    points |= {"tie_rod_inner": [-0.1, inner, 0.0], "tie_rod_outer": [-0.1, *ball]}
    corner = Corner(linkage_of(said))

    low, _ = corner.limits()
    angle = math.degrees(corner.pose(low + 1e-4).angle)

    # the closed form's own angle has the opposite hand: the hinge runs rearward
    assert abs(angle) == pytest.approx(abs(CASES["lockout_s"]["expected"]["droop_lock_lower_arm_deg"]), abs=1.5)
    with pytest.raises(Refused, match="droop"):
        corner.state(low - 0.01)

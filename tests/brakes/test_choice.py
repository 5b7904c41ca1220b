"""The inverse choice against an exhaustive search written anew, and against roots (scipy)."""

import math
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from calc.brakes.choice import Bore, BoxRatio, cylinder_choice
from calc.refusal import Refused

BORES = (0.01588, 0.01778, 0.01905, 0.02064, 0.02223, 0.02381, 0.0254)
TARGET = {
    "total_force": 10300.0,
    "share": 0.72,
    "share_tolerance": 0.02,
    "pedal_force_min": 300.0,
    "pedal_force_max": 480.0,
    "front_per_pressure": 1.72e-3,
    "rear_per_pressure": 0.74e-3,
    "front_volume": 4.3e-6,
    "rear_volume": 2.6e-6,
    "max_stroke": 0.028,
    "reserve": 0.3,
    "spacing": 0.064,
    "rod_share_most": 2 / 3,
}
RATIOS = (4.6, 5.2, 6.0)


def _braked(front, rear, ratio, pedal, s, t):
    """Front and rear force for a pedal force, from first principles."""
    area = math.pi / 4
    return (
        t["front_per_pressure"] * s * pedal * ratio / (area * front**2),
        t["rear_per_pressure"] * (1 - s) * pedal * ratio / (area * rear**2),
    )


def _search(t, bar):
    """Every pair, by roots: the bar for the share, then the pedal for the force."""
    found = []
    for ratio, front, rear in product(RATIOS, BORES, BORES):

        def share(s, front=front, rear=rear, ratio=ratio):
            f, r = _braked(front, rear, ratio, 1.0, s, t)
            return f / (f + r)

        s = 0.5 if bar == "centred" else brentq(lambda s: share(s) - t["share"], 1e-9, 1 - 1e-9, xtol=1e-14)
        if not 1 - t["rod_share_most"] <= s <= t["rod_share_most"]:
            continue
        pedal = brentq(lambda f: sum(_braked(front, rear, ratio, f, s, t)) - t["total_force"], 1e-3, 1e6)  # noqa: B023  # called at once
        strokes = t["front_volume"] * 4 / math.pi / front**2, t["rear_volume"] * 4 / math.pi / rear**2
        fits = (
            abs(share(s) - t["share"]) <= t["share_tolerance"]
            and t["pedal_force_min"] <= pedal <= t["pedal_force_max"]
            and 1 - max(strokes) / t["max_stroke"] >= t["reserve"]
        )
        if fits:
            found.append((abs(share(s) - t["share"]), abs(s - 0.5), pedal, front, rear, ratio))
    return sorted(found, key=lambda each: (round(each[0], 9), round(each[1], 7), each[2]))


def _ask(t, bar):
    return cylinder_choice(**t, bores=tuple(map(Bore, BORES)), ratios=tuple(map(BoxRatio, RATIOS)), bar=bar)


@pytest.mark.parametrize("bar", ["centred", "trimmed"])
@pytest.mark.parametrize("share", [0.66, 0.72, 0.78])
def test_the_choice_is_the_exhaustive_search(bar, share):
    target = {**TARGET, "share": share}
    wanted, found = _search(target, bar), _ask(target, bar)

    assert found.choices == len(wanted)
    assert found.choices > 0
    assert list(zip(found.front_bores, found.rear_bores, found.pedal_ratios, strict=True)) == [
        each[3:] for each in wanted
    ]
    assert found.pedal_forces == pytest.approx([each[2] for each in wanted])


def test_every_choice_is_listed_or_fails_by_something():
    found = _ask(TARGET, "trimmed")

    assert found.choices + len(found.failing) == len(BORES) ** 2 * len(RATIOS)
    assert all(": " in line and any(word in line for word in ("points", " N ")) for line in found.failing)


def test_losing_a_tenth_of_one_pad_moves_the_share_as_it_would_on_the_car():
    found = _ask(TARGET, "trimmed")
    weak = {**TARGET, "front_per_pressure": 0.9 * TARGET["front_per_pressure"]}
    s = found.bar_offsets[0] / 0.064 + 0.5
    f, r = _braked(found.front_bores[0], found.rear_bores[0], found.pedal_ratios[0], 1.0, s, weak)

    assert found.share_low[0] == pytest.approx(f / (f + r))
    assert found.share_low[0] < TARGET["share"] < found.share_high[0]


@given(share=st.floats(0.3, 0.95), most=st.floats(50, 900))
def test_whatever_is_chosen_meets_the_targets(share, most):
    target = {**TARGET, "share": share, "pedal_force_min": 0.0, "pedal_force_max": most}
    found = _ask(target, "trimmed")

    assert all(force <= most for force in found.pedal_forces)
    assert all(abs(each - share) <= 0.02 + 1e-9 for each in found.front_shares)
    assert all(abs(offset) <= 0.064 / 6 + 1e-12 for offset in found.bar_offsets)
    assert all(reserve >= 0.3 - 1e-12 for reserve in found.reserves)
    assert (found.limit_that_failed is None) == (found.choices > 0)


def test_no_choice_names_the_limit():
    found = _ask({**TARGET, "max_stroke": 0.005}, "trimmed")

    assert (found.choices, found.limit_that_failed) == (0, "stroke reserve")


def test_too_many_combinations_are_refused():
    with pytest.raises(Refused, match="combinations"):
        cylinder_choice(
            **TARGET,
            bores=tuple(Bore(0.01 + i * 1e-4) for i in range(60)),
            ratios=(BoxRatio(5.0),),
        )

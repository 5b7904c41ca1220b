"""Four-corner statics against an independent solve, closed forms and laws."""

import math

import numpy
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from calc.loads.pads import uneven_pads
from calc.loads.perch_target import perch_turns_for_cross
from calc.loads.perches import perch_adjustment
from calc.loads.support import Axle, Support, perches_for_diagonal, settle
from calc.refusal import Refused
from calc.units import STANDARD_GRAVITY

rate = st.floats(8e3, 3e5)
track = st.floats(0.9, 2.0)
rise = st.floats(-0.02, 0.02)


@st.composite
def axles(draw, *, live=True):
    width = draw(track)
    base = draw(st.none() | st.floats(0.4 * width, width)) if live else None
    pair = st.tuples(st.floats(8e4, 5e5), st.floats(8e4, 5e5))
    return Axle(width, (draw(rate), draw(rate)), draw(pair), draw(st.sampled_from([0.0, 5e3, 4e4])), base)


cars = st.builds(Support, axles(), axles(), st.none() | st.floats(1e3, 1e7))
four = st.tuples(rise, rise, rise, rise)


def by_energy(car, perches, pads):
    """Independent numerical reference: the stored energy as a function of heave, pitch, two rolls and four hubs, and numpy's solve.

    The Hessian of a quadratic is read off by evaluating it: no stiffness matrix of ours is used. A chassis that does not twist is
    given a stiffness far above all others.
    """
    length = 2.5

    def energy(q):
        heave, pitch, *rest = q
        rolls, hubs = rest[:2], rest[2:]
        middle = (heave - pitch * length / 2, heave + pitch * length / 2)
        total = 0.5 * (1e12 if car.chassis is None else car.chassis) * (rolls[0] - rolls[1]) ** 2
        for n, axle in enumerate(car.axles):
            left, right = hubs[2 * n], hubs[2 * n + 1]
            base = axle.track if axle.base is None else axle.base
            for side, sign in ((0, 1), (1, -1)):
                axle_there = (left + right) / 2 + sign * (left - right) * base / axle.track / 2
                body_there = middle[n] + sign * base / 2 * rolls[n]
                total += 0.5 * axle.rates[side] * (axle_there - body_there + perches[2 * n + side]) ** 2
                total += 0.5 * axle.tyres[side] * (pads[2 * n + side] - hubs[2 * n + side]) ** 2
            total += 0.5 * axle.bar * (left - right - axle.track * rolls[n]) ** 2
        return total

    zero, units = numpy.zeros(8), numpy.eye(8)
    here = energy(zero)
    slope = numpy.array([(energy(u) - energy(-u)) / 2 for u in units])
    curve = numpy.array([[energy(a + b) - energy(a) - energy(b) + here for b in units] for a in units])
    q = numpy.linalg.solve(curve, -slope)
    hubs = q[4:]
    loads = [car.axles[i // 2].tyres[i % 2] * (pads[i] - hubs[i]) for i in range(4)]
    middle = (q[0] - q[1] * length / 2, q[0] + q[1] * length / 2)
    heights = [middle[i // 2] + (1, -1)[i % 2] * car.axles[i // 2].track / 2 * q[2 + i // 2] for i in range(4)]
    return loads, heights


@given(cars, four, four)
def test_agrees_with_an_independent_solve(car, perches, pads):
    loads, heights = by_energy(car, perches, pads)

    found = settle(car, perches, pads)

    assert found.loads == pytest.approx(loads, rel=1e-5, abs=0.5 if car.chassis is None else 1e-2)
    assert found.heights == pytest.approx(heights, rel=1e-5, abs=1e-6)


@given(cars, four)
def test_axle_loads_stay_and_the_diagonal_pattern_holds(car, perches):
    """Law: with the centre of gravity fixed only w (1, -1, -t_f/t_r, t_f/t_r) is left. Source: statics."""
    found = settle(car, perches).loads

    w, ratio = found[0], car.front.track / car.rear.track
    assert found == pytest.approx((w, -w, -w * ratio, w * ratio), abs=1e-6 + 1e-9 * abs(w))


@given(cars, four)
def test_mirrored_car_gives_mirrored_loads(car, perches):
    def swap(axle):
        return axle._replace(rates=axle.rates[::-1], tyres=axle.tyres[::-1])

    found = settle(car, perches)
    mirrored = settle(Support(swap(car.front), swap(car.rear), car.chassis), [perches[i] for i in (1, 0, 3, 2)])

    assert [mirrored.loads[i] for i in (1, 0, 3, 2)] == pytest.approx(found.loads, abs=1e-6)
    assert [mirrored.heights[i] for i in (1, 0, 3, 2)] == pytest.approx(found.heights, abs=1e-12)


@given(axles(live=False), axles(live=False), rise)
def test_closed_form_without_bars(front, rear, s):
    """Closed form: w = s/[1/k_FL + 1/k_FR + (t_f/t_r)^2 (1/k_RL + 1/k_RR)], tyres in series, rigid chassis."""
    front, rear = front._replace(bar=0.0), rear._replace(bar=0.0)
    k = [1 / r + 1 / t for axle in (front, rear) for r, t in zip(axle.rates, axle.tyres, strict=True)]
    w = s / (k[0] + k[1] + (front.track / rear.track) ** 2 * (k[2] + k[3]))

    assert settle(Support(front, rear), (s, 0, 0, 0)).loads[0] == pytest.approx(w, rel=1e-9, abs=1e-9)


@given(axles(), axles(), st.floats(1e3, 1e7), rise)
def test_closed_form_with_bars_and_twist(front, rear, chassis, p):
    """Closed form: w = (k p b/(2 t_f)) K_rc/(K_f + K_rc), stiff tyres, equal rates left and right; b is the track if independent."""
    front, rear = (axle._replace(rates=(axle.rates[0],) * 2, tyres=(None, None)) for axle in (front, rear))

    def stiffness(axle):
        return axle.rates[0] * axle.spring_base**2 / 2 + axle.bar * axle.track**2

    behind = 1 / (1 / stiffness(rear) + 1 / chassis)
    w = front.rates[0] * p * front.spring_base / (2 * front.track) * behind / (stiffness(front) + behind)

    assert settle(Support(front, rear, chassis), (p, 0, 0, 0)).loads[0] == pytest.approx(w, rel=1e-8, abs=1e-9)


@given(axles(), axles(), four)
def test_limits_of_the_chassis(front, rear, perches):
    rigid, soft = settle(Support(front, rear), perches), settle(Support(front, rear, 0.0), perches)
    stiff = settle(Support(front, rear, 1e13), perches)

    assert soft.loads == pytest.approx((0, 0, 0, 0), abs=1e-6)  # nothing can hold cross weight
    assert stiff.loads == pytest.approx(rigid.loads, rel=1e-5, abs=1e-3)


@given(axles(), axles(), four)
def test_very_stiff_tyres_are_rigid_tyres(front, rear, perches):
    stiff = Support(*(axle._replace(tyres=(1e12, 1e12)) for axle in (front, rear)))
    rigid = Support(*(axle._replace(tyres=(None, None)) for axle in (front, rear)))

    assert settle(stiff, perches).loads == pytest.approx(settle(rigid, perches).loads, rel=1e-6, abs=1e-3)
    pads = perches[::-1]
    assert settle(stiff, perches, pads).loads == pytest.approx(settle(rigid, perches, pads).loads, rel=1e-6, abs=1e-3)


def test_heights_of_four_equal_corners():
    """Closed form: the raised corner +3s/4, its neighbours +s/4, the diagonal -s/4."""
    axle = Axle(1.4, (3e4, 3e4), (None, None))

    found = settle(Support(axle, axle), (0.004, 0, 0, 0))

    assert found.heights == pytest.approx((0.003, 0.001, 0.001, -0.001), abs=1e-15)


@given(cars, st.floats(-2000, 2000))
def test_the_inverse_brings_the_diagonal_and_moves_no_more_than_the_twist(car, change):
    """inverse(forward(x)) = x; with a rigid chassis every ride height stays."""
    found = settle(car, perches_for_diagonal(car, change))

    twist = 0.0 if car.chassis is None else abs(change) * car.front.track / car.chassis
    assert found.loads[0] == pytest.approx(change, rel=1e-6, abs=1e-6)
    assert max(abs(z) for z in found.heights) <= twist * max(car.front.track, car.rear.track) / 4 * 1.000001 + 1e-9


@given(axles(live=False), axles(live=False), st.floats(-2000, 2000))
def test_the_inverse_is_the_sheet_s_rule_without_bars(front, rear, w):
    """Closed form: s_f = w/k_f up at one corner, down at the other; s_r = s_f k_f t_f/(k_r t_r), tyres in series."""
    front, rear = (
        axle._replace(bar=0.0, rates=(axle.rates[0],) * 2, tyres=(axle.tyres[0],) * 2) for axle in (front, rear)
    )
    k_f, k_r = (1 / (1 / axle.rates[0] + 1 / axle.tyres[0]) for axle in (front, rear))
    s_f = w / k_f
    s_r = s_f * k_f * front.track / (k_r * rear.track)

    assert perches_for_diagonal(Support(front, rear), w) == pytest.approx((s_f, -s_f, -s_r, s_r), rel=1e-9, abs=1e-15)


def test_a_lifted_wheel_leaves_the_car_on_three():
    """Independent numerical reference: three wheels are determinate; moments about them give the loads by numpy."""
    front, rear = Axle(1.5, (5e4, 5e4), (2e5, 2e5)), Axle(1.4, (4e4, 4e4), (2e5, 2e5))
    before = (3000.0, 2800.0, 600.0, 2900.0)

    found = settle(Support(front, rear), (0.2, 0, 0, 0), loads=before)

    places = numpy.array([(0, 0.75), (0, -0.75), (-2.5, 0.7), (-2.5, -0.7)])
    total = numpy.array([sum(before), *(numpy.array(before) @ places)])
    three = [0, 1, 3]
    loads = numpy.linalg.solve(numpy.array([[1, *places[i]] for i in three]).T, total)
    assert found.lifted == {2}
    assert [before[i] + found.loads[i] for i in three] == pytest.approx(loads, rel=1e-9)


CAR = {
    "front_left": 312.0, "front_right": 298.0, "rear_left": 268.0, "rear_right": 282.0, "front_track": 1.51, "rear_track": 1.52,
    "front_rate": 52.9e3, "rear_rate": 48e3, "front_ratio": 0.94, "rear_ratio": 0.8, "front_pitch": 0.002, "rear_pitch": 0.0015,
    "front_tyre": 210e3, "rear_tyre": 220e3,
}  # fmt: skip


@given(
    wanted=st.floats(0.35, 0.65),
    chassis=st.none() | st.floats(1e5, 1e7),
    base=st.none() | st.floats(0.8, 1.3),
    bars=st.booleans(),
)
def test_turns_back_and_forth(wanted, chassis, base, bars):
    car = {
        **CAR,
        "chassis_stiffness": chassis,
        "rear_spring_base": base,
        "bars_connected": bars,
        "front_bar": 2e4,
        "rear_bar": 9e3,
    }
    turns = perch_turns_for_cross(**car, wanted_cross=wanted)
    corners = ("front_left", "front_right", "rear_left", "rear_right")

    found = perch_adjustment(**car, **{f"turns_{corner}": getattr(turns, f"{corner}_turns") for corner in corners})

    assert found.cross_after == pytest.approx(wanted, abs=1e-9)
    heights = [getattr(found, f"{corner}_height") for corner in corners]
    assert max(abs(z) for z in heights) == pytest.approx(turns.largest_height_change, rel=1e-6, abs=1e-12)
    assert [getattr(found, f"{c}_after") for c in corners] == pytest.approx(
        [getattr(turns, f"{c}_after") for c in corners], rel=1e-9
    )


@given(turns=st.floats(-4, 4), corner=st.sampled_from(["front_left", "front_right", "rear_left", "rear_right"]))
def test_weight_and_axle_loads_stay(turns, corner):
    found = perch_adjustment(**CAR, **{f"turns_{corner}": turns})

    assert found.front_left_after + found.front_right_after == pytest.approx(610, rel=1e-12)
    assert found.rear_left_after + found.rear_right_after == pytest.approx(550, rel=1e-12)
    raised = turns if corner in {"front_left", "rear_right"} else -turns
    assert (found.cross_after - found.cross_before) * raised <= 0
    assert found.left_change == pytest.approx(found.front_left_after + found.rear_left_after - 580, abs=1e-9)


def test_a_target_no_perch_can_bring_is_refused():
    with pytest.raises(Refused, match="all four wheels") as caught:
        perch_turns_for_cross(**CAR, wanted_cross=0.99)
    assert caught.value.input == "wanted_cross"

    with pytest.raises(Refused, match="cannot hold cross weight"):
        perch_turns_for_cross(**CAR, chassis_stiffness=0.0)


def test_the_reach_that_a_refusal_names_is_the_reach():
    """inverse: just inside the named range the lightest wheel still touches, just outside it does not."""
    with pytest.raises(Refused) as caught:
        perch_turns_for_cross(**CAR, wanted_cross=0.99)
    low, high = (float(part.split("\u00a0")[0]) / 100 for part in caught.value.rule.split("within ")[1].split(" to "))

    for edge, inside in ((low, 1e-3), (high, -1e-3)):
        found = perch_turns_for_cross(**CAR, wanted_cross=edge + inside)
        after = [getattr(found, f"{c}_after") for c in ("front_left", "front_right", "rear_left", "rear_right")]
        assert 0 <= min(after) < 2
        with pytest.raises(Refused):
            perch_turns_for_cross(**CAR, wanted_cross=edge - inside)


def test_a_perch_turned_too_far_says_so():
    assert "lifts off its scale" in perch_adjustment(**CAR, turns_front_left=300.0).flags[0]


def test_no_weight_is_refused():
    empty = dict.fromkeys(("front_left", "front_right", "rear_left", "rear_right"), 0.0)
    with pytest.raises(Refused, match="must carry some mass"):
        perch_adjustment(**{**CAR, **empty})


@given(a=st.floats(-0.004, 0.004), b=st.floats(-0.004, 0.004), c=st.floats(-0.004, 0.004))
def test_a_flat_tilted_floor_shifts_nothing_and_a_warp_is_a_perch(a, b, c):
    """Law: four pads in one plane have no warp; a warp acts as the perch of a rigid-tyred corner would."""
    flat = uneven_pads(**_pads_car(), pad_front_left=a + b * 1.51 / 2, pad_front_right=a - b * 1.51 / 2,
                       pad_rear_left=c + b * 1.52 / 2, pad_rear_right=c - b * 1.52 / 2)  # fmt: skip

    assert flat.cross_error == pytest.approx(0, abs=1e-12)
    assert flat.warp == pytest.approx(0, abs=1e-15)

    assume(abs(a) > 1e-5)
    one = uneven_pads(**_pads_car(), pad_front_left=a)
    k = [1 / CAR[f"{end}_rate"] + 1 / CAR[f"{end}_tyre"] for end in ("front", "rear")]
    w = a / (2 * k[0] + 2 * (1.51 / 1.52) ** 2 * k[1])
    assert (312 - one.front_left_level) * STANDARD_GRAVITY == pytest.approx(w, rel=1e-9)


def _pads_car():
    return {name: value for name, value in CAR.items() if not name.endswith(("ratio", "pitch"))}


def test_one_turn_is_pitch_over_motion_ratio():
    """One turn of a 2 mm thread at motion ratio 0.94 is 2/0.94 mm at the wheel. Source: definition of the motion ratio."""
    found = perch_adjustment(**CAR, turns_front_left=1.0)
    direct = settle(
        Support(Axle(1.51, (52.9e3,) * 2, (210e3,) * 2), Axle(1.52, (48e3,) * 2, (220e3,) * 2)), (0.002 / 0.94, 0, 0, 0)
    )

    assert found.changes[0] * STANDARD_GRAVITY == pytest.approx(direct.loads[0], rel=1e-12)
    assert math.isclose(found.front_left_height, direct.heights[0], rel_tol=1e-12)


def test_a_ride_height_that_is_given_moves_with_the_perch():
    found = perch_adjustment(**CAR, turns_front_left=2.0, height_front_left=0.120)

    assert found.front_left_height_after == 0.120 + found.front_left_height
    assert found.front_right_height_after is None


@given(four)
def test_however_far_the_perches_go_no_wheel_pulls_and_the_weight_stays(turns):
    """Law: three or four wheels carry the whole weight, none of them less than nothing."""
    corners = ("front_left", "front_right", "rear_left", "rear_right")
    found = perch_adjustment(**CAR, **{f"turns_{c}": 4e3 * n for c, n in zip(corners, turns, strict=True)})
    after = [getattr(found, f"{c}_after") for c in corners]

    assert min(after) >= -1e-6
    assert sum(after) == pytest.approx(1160, rel=1e-9)
    assert len(found.flags) == sum(load == 0 for load in after) <= 1

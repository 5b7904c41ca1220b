"""Tyres: pressure, temperatures, load-sensitive grip, understeer and limit balance against independent references and laws."""

import math

import numpy
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats
from scipy.optimize import brentq

from calc.loads.axle_grip import axle_grip, grip_fit
from calc.loads.grip import Linear, Point, Power, pair_force
from calc.loads.limit import limit_balance
from calc.loads.pressure import cold_pressure, hot_pressure
from calc.loads.temperatures import Reading, tyre_temperatures
from calc.loads.understeer import understeer_gradient
from calc.loads.understeer_transfer import understeer_with_transfer
from calc.refusal import Refused
from calc.units import STANDARD_GRAVITY as G

kelvin = st.floats(260, 330)
hot = st.floats(300, 420)


@given(st.floats(0.3e5, 4e5), kelvin, hot, st.floats(0.6e5, 1.1e5))
def test_pressure_over_temperature_stays(cold, T_c, T_h, ambient):
    """Law: absolute pressure over absolute temperature is the same, cold and hot (constant volume)."""
    found = hot_pressure(cold_pressure=cold, cold_temperature=T_c, hot_temperature=T_h, ambient=ambient)

    assert (found.hot + ambient) / T_h == pytest.approx((cold + ambient) / T_c, rel=1e-12)
    assert (found.rise >= 0) == (T_h >= T_c)
    if found.hot > 1:
        back = cold_pressure(wanted_hot=found.hot, cold_temperature=T_c, hot_temperature=T_h, ambient=ambient)
        assert back.cold == pytest.approx(cold, rel=1e-9)


def test_a_hot_pressure_that_warming_alone_exceeds_is_refused():
    with pytest.raises(Refused, match="this warming alone") as caught:
        cold_pressure(wanted_hot=0.2e5, cold_temperature=280, hot_temperature=380)
    assert caught.value.input == "wanted_hot"


readings = st.lists(st.builds(Reading, hot, hot, hot), min_size=3, max_size=8)


@given(readings)
def test_differences_carry_the_interval_of_student(rows):
    """Independent numerical reference: scipy.stats.t.interval and numpy's mean and standard error."""
    found = tyre_temperatures(readings=tuple(rows))
    edges = numpy.array([row.inner - row.outer for row in rows])
    low, high = edges.mean(), edges.mean() + stats.t.ppf(0.975, len(rows) - 1) * stats.sem(edges)

    assert found.edge_difference == pytest.approx(low, abs=1e-9)
    assert found.edge_uncertainty == pytest.approx(high - low, rel=1e-6, abs=1e-9)
    told = found.edges in {"inner hotter", "outer hotter"}
    assert told == (abs(found.edge_difference) > max(found.edge_uncertainty, 2.0))


@given(readings)
def test_a_mirrored_tread_swaps_the_edges(rows):
    words = {"inner hotter": "outer hotter", "outer hotter": "inner hotter"}
    one = tyre_temperatures(readings=tuple(rows))
    two = tyre_temperatures(readings=tuple(Reading(row.outer, row.middle, row.inner) for row in rows))

    assert two.edge_difference == pytest.approx(-one.edge_difference, abs=1e-12)
    assert two.edges == words.get(one.edges, one.edges)


@given(st.builds(Reading, hot, hot, hot))
def test_one_reading_never_tells(row):
    found = tyre_temperatures(readings=(row,), taken="after_cooling_lap")

    assert (found.edges, found.middle, found.edge_uncertainty) == ("too few readings", "too few readings", None)
    assert len(found.flags) == 2


load = st.floats(500, 6000)


@given(load, st.floats(0, 1), st.floats(0.8, 2), st.floats(0, 8e-5))
def test_the_straight_line_has_its_closed_form(F, part, mu, s):
    """Closed form: F_y = 2 F (mu_0 - s F) - 2 s dF^2."""
    dF = part * F
    found = axle_grip(load=F, transfer=dF, friction=mu, sensitivity=s)
    at_zero = mu + s * F
    if at_zero - s * (F + dF) <= 0:
        return

    assert found.force == pytest.approx(2 * F * (at_zero - s * F) - 2 * s * dF**2, rel=1e-9)
    assert found.outside_load + found.inside_load == pytest.approx(2 * F)


@given(load, st.floats(0, 1), st.floats(0.8, 2), st.floats(0.5, 1))
def test_the_power_form_is_a_sum_of_powers(F, part, mu, n):
    """Closed form: each tyre F_y = mu F_0 (F/F_0)^n."""
    dF = part * F
    found = axle_grip(load=F, transfer=dF, form="power", friction=mu, reference_load=2000.0, exponent=n)
    expected = sum(mu * 2000 * (x / 2000) ** n if x > 0 else 0.0 for x in (F + dF, F - dF))

    assert found.force == pytest.approx(expected, rel=1e-9)
    assert found.loss >= -1e-12  # Jensen: a concave force loses by any transfer


@given(load, st.lists(st.floats(0, 1), min_size=2, max_size=2), st.floats(0, 1e-4), st.floats(0.6, 1))
def test_more_transfer_never_gains_grip(F, parts, s, n):
    low, high = sorted(parts)
    for friction in (Linear(1.5, s), Power(1.3, 2500.0, n)):
        assert (
            pair_force(friction, F, high * F) <= pair_force(friction, F, low * F) * (1 + 1e-9) + 1e-9
            or friction(2 * F) == 0
        )


@given(st.floats(1000, 3000), st.floats(0, 900))
def test_a_table_is_read_as_numpy_reads_it(F, dF):
    """Independent numerical reference: numpy.interp."""
    rows = (Point(50, 1.5), Point(1200, 1.42), Point(2500, 1.3), Point(4000, 1.1))
    loads, frictions = zip(*rows, strict=True)
    found = axle_grip(load=F, transfer=dF, form="table", points=rows)

    expected = sum(x * numpy.interp(x, loads, frictions) for x in (F + dF, F - dF))
    assert found.force == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("ask", "named"),
    [
        ({"form": "table"}, "points"),
        ({"form": "table", "points": (Point(1000, 1.2),)}, "points"),
        ({"form": "table", "points": (Point(1000, 1.2), Point(1000, 1.1))}, "points[2].load"),
        ({"form": "table", "points": (Point(2500, 1.2), Point(3500, 1.1))}, "points"),
        ({"form": "linear"}, "friction"),
        ({"form": "power"}, "friction"),
    ],
)
def test_what_a_form_lacks_is_named(ask, named):
    with pytest.raises(Refused) as caught:
        axle_grip(load=3000.0, transfer=1000.0, **ask)
    assert caught.value.input == named


def test_a_lifted_tyre_and_a_line_beyond_its_peak_are_flagged():
    found = axle_grip(load=3000.0, transfer=3500.0, friction=1.0, sensitivity=2e-4)

    assert found.inside_load == 0
    assert found.inside_friction is None
    assert len(found.flags) == 2


points = st.lists(
    st.builds(Point, st.floats(500, 8000), st.floats(0.5, 2)), min_size=2, max_size=8, unique_by=lambda p: round(p.load)
)


@given(points)
def test_fits_agree_with_numpy(rows):
    """Independent numerical reference: numpy.polyfit of mu on F, and of ln(mu F) on ln F."""
    loads, frictions = (numpy.array(column) for column in zip(*rows, strict=True))
    found = grip_fit(points=tuple(rows))
    fall, at_zero = numpy.polyfit(loads, frictions, 1)
    exponent, at_one = numpy.polyfit(numpy.log(loads), numpy.log(loads * frictions), 1)
    power = numpy.exp(at_one) * loads ** (exponent - 1)

    assert found.sensitivity == pytest.approx(-fall, rel=1e-5, abs=1e-9)
    assert found.at_zero == pytest.approx(at_zero, rel=1e-5, abs=1e-5)
    assert found.exponent == pytest.approx(exponent, rel=1e-5, abs=1e-6)
    assert found.power_residual == pytest.approx(numpy.abs(frictions - power).max(), rel=1e-4, abs=1e-6)
    assert found.line_residual == pytest.approx(numpy.abs(frictions - at_zero - fall * loads).max(), rel=1e-4, abs=1e-6)
    assert found.at_mean_load == pytest.approx(frictions.mean(), rel=1e-9)


def test_the_published_points_miss_a_straight_line_by_about_three_hundredths():
    """Published: Milliken and Milliken, 1995, Fig. 2.9 (look-up): 900, 1350, 1800 lbf at 1.10, 1.08, 0.97; the sheet says 'near 0.03'."""
    pound = 4.4482216152605
    found = grip_fit(points=(Point(900 * pound, 1.10), Point(1350 * pound, 1.08), Point(1800 * pound, 0.97)))

    assert found.line_residual == pytest.approx(0.03, abs=0.002)


bicycle = st.fixed_dictionaries(
    {
        "mass": st.floats(400, 2000), "wheelbase": st.floats(2, 3.2), "front_share": st.floats(0.35, 0.65),
        "front_stiffness": st.floats(2e4, 1.5e5), "rear_stiffness": st.floats(2e4, 1.5e5),
    }
)  # fmt: skip


def bicycle_matrix(car, V):
    """State matrix and steer column of the linear single-track model in side velocity and yaw rate, written out here."""
    m, L = car["mass"], car["wheelbase"]
    a, b = L * (1 - car["front_share"]), L * car["front_share"]
    C_f, C_r, J = 2 * car["front_stiffness"], 2 * car["rear_stiffness"], m * a * b
    A = numpy.array(
        [
            [-(C_f + C_r) / (m * V), -(a * C_f - b * C_r) / (m * V) - V],
            [-(a * C_f - b * C_r) / (J * V), -(a * a * C_f + b * b * C_r) / (J * V)],
        ]
    )
    return A, numpy.array([C_f / m, a * C_f / J])


@given(bicycle, st.floats(3, 80), st.floats(20, 300))
def test_the_gains_are_those_of_the_single_track_model(car, V, R):
    """Independent numerical reference: numpy.linalg.solve of the steady single-track equations."""
    found = understeer_gradient(**car, speed=V, radius=R)
    if found.yaw_of_one_degree is None or abs(car["wheelbase"] + found.gradient * V**2) < 0.02:
        return
    A, B = bicycle_matrix(car, V)
    _, yaw = numpy.linalg.solve(A, -B)

    assert found.yaw_of_one_degree / math.radians(1) == pytest.approx(yaw, rel=1e-7)
    assert found.steer_angle * yaw == pytest.approx(V / R, rel=1e-7)
    assert found.steer_angle == pytest.approx(found.rolling_steer + found.front_slip - found.rear_slip, abs=1e-12)


@given(bicycle)
def test_the_critical_speed_is_where_the_model_turns_unstable(car):
    """Independent numerical reference: the determinant of the state matrix changes sign at the critical speed."""
    found = understeer_gradient(**car, speed=20, radius=100)
    assert (found.characteristic_speed is None) or (found.critical_speed is None)
    if found.critical_speed is None or found.critical_speed > 300:
        return
    below, above = (bicycle_matrix(car, found.critical_speed * k)[0] for k in (0.999, 1.001))

    assert max(numpy.linalg.eigvals(below).real) < 0 < max(numpy.linalg.eigvals(above).real)
    assert understeer_gradient(**car, speed=found.critical_speed * 1.001, radius=100).flags


@given(bicycle)
def test_yaw_gain_peaks_at_the_characteristic_speed(car):
    found = understeer_gradient(**car, speed=20, radius=100)
    if found.characteristic_speed is None or found.characteristic_speed > 300:
        return
    gains = [
        understeer_gradient(**car, speed=found.characteristic_speed * k, radius=100).yaw_of_one_degree
        for k in (0.99, 1, 1.01)
    ]

    assert gains[1] == max(gains)
    assert gains[1] / math.radians(1) == pytest.approx(found.characteristic_speed / (2 * car["wheelbase"]), rel=1e-9)


TRANSFER = {"mass": 1100.0, "wheelbase": 2.5, "front_track": 1.5, "rear_track": 1.45, "front_share": 0.5, "cg_height": 0.5,
            "front_first": 25.0, "front_second": 2e-3, "rear_first": 25.0, "rear_second": 2e-3}  # fmt: skip


@given(st.floats(0, 8), st.floats(0, 1), st.floats(0, 1))
def test_transfer_at_the_front_adds_understeer(ay, one, two):
    """Monotonic, and without transfer the gradient of the plain formula with the tyres' own stiffness."""
    low, high = sorted((one, two))
    found = [
        understeer_with_transfer(**TRANSFER, front_transfer_share=share, lateral_acceleration=ay)
        for share in (low, high)
    ]

    assert found[1].gradient >= found[0].gradient - 1e-12
    load = 1100 * G / 4
    plain = understeer_gradient(
        mass=1100, wheelbase=2.5, front_share=0.5, front_stiffness=25 * load - 2e-3 * load**2, rear_stiffness=25 * load - 2e-3 * load**2,
        speed=20, radius=100,
    )  # fmt: skip
    assert found[0].gradient_without == pytest.approx(plain.gradient, abs=1e-12)


@given(st.floats(0.1, 8), st.floats(0.2, 0.8), st.floats(1.2, 1.8), st.floats(1.2, 1.8))
def test_transfer_and_stiffness_add_up(ay, share, t_f, t_r):
    """Law: dF_f t_f + dF_r t_r = m a_y h; closed form of the pair's stiffness, tyre by tyre; gradient from both axles."""
    car = {**TRANSFER, "front_track": t_f, "rear_track": t_r, "front_share": 0.55, "rear_second": 1e-3}
    found = understeer_with_transfer(**car, front_transfer_share=share, lateral_acceleration=ay)
    if found.flags:
        return
    moved = found.front_transfer, found.rear_transfer
    assert moved[0] * t_f + moved[1] * t_r == pytest.approx(1100 * ay * 0.5)
    assert moved[0] / sum(moved) == pytest.approx(share)

    loads = 1100 * G * 0.55 / 2, 1100 * G * 0.45 / 2
    stiff = [
        sum(25 * x - c2 * x * x for x in (load + dF, load - dF))
        for load, dF, c2 in zip(loads, moved, (2e-3, 1e-3), strict=True)
    ]
    assert (found.front_stiffness, found.rear_stiffness) == pytest.approx(tuple(stiff), rel=1e-9)
    assert found.gradient == pytest.approx(1100 * 0.55 / stiff[0] - 1100 * 0.45 / stiff[1], rel=1e-6, abs=1e-12)
    assert found.front_loss == pytest.approx(2 * 2e-3 * moved[0] ** 2 / (stiff[0] + 2 * 2e-3 * moved[0] ** 2), rel=1e-6)


def test_tyres_without_stiffness_left_are_refused():
    with pytest.raises(Refused, match="some cornering stiffness") as caught:
        understeer_with_transfer(**{**TRANSFER, "rear_second": 0.02}, front_transfer_share=0.5, lateral_acceleration=5)
    assert caught.value.input == "rear_second"


limit_cars = st.fixed_dictionaries(
    {
        "sprung_mass": st.floats(400, 1500), "sprung_front_share": st.floats(0.4, 0.6), "sprung_height": st.floats(0.35, 0.6),
        "unsprung_front": st.floats(30, 100), "unsprung_rear": st.floats(30, 100), "unsprung_front_height": st.just(0.3),
        "unsprung_rear_height": st.just(0.3), "front_roll_centre": st.floats(0, 0.1), "rear_roll_centre": st.floats(0, 0.15),
        "front_track": st.floats(1.3, 1.7), "rear_track": st.floats(1.3, 1.7), "front_wheel_rate": st.floats(2e4, 1e5),
        "rear_wheel_rate": st.floats(2e4, 1e5), "front_bar": st.floats(0, 4e4), "rear_bar": st.floats(0, 4e4),
        "front_tyre_rate": st.floats(1.5e5, 3e5), "rear_tyre_rate": st.floats(1.5e5, 3e5), "front_friction": st.floats(0.9, 1.3),
        "rear_friction": st.floats(0.9, 1.3), "reference_load": st.just(2500.0), "sensitivity": st.floats(1e-5, 8e-5),
    }
)  # fmt: skip


def held(car, ay, end):
    """Independent model of what an axle holds, in m/s2, no wheel off the ground: rigid chassis, straight-line friction."""
    share = car["sprung_front_share"] if end == "front" else 1 - car["sprung_front_share"]
    stiff = {}
    for each in ("front", "rear"):
        t = car[f"{each}_track"]
        springs = car[f"{each}_wheel_rate"] * t**2 / 2 + car[f"{each}_bar"] * t**2
        stiff[each] = 1 / (1 / springs + 2 / (car[f"{each}_tyre_rate"] * t**2))
    axis = (
        car["sprung_front_share"] * car["front_roll_centre"] + (1 - car["sprung_front_share"]) * car["rear_roll_centre"]
    )
    push = car["sprung_mass"] * (car["sprung_height"] - axis)
    phi = push * ay / (sum(stiff.values()) - push * G)
    sprung, unsprung = car["sprung_mass"] * share, car[f"unsprung_{end}"]
    dF = (ay * (unsprung * 0.3 + sprung * car[f"{end}_roll_centre"]) + stiff[end] * phi) / car[f"{end}_track"]
    F = (sprung + unsprung) * G / 2
    at_zero = car[f"{end}_friction"] + car["sensitivity"] * 2500
    return (2 * F * (at_zero - car["sensitivity"] * F) - 2 * car["sensitivity"] * dF**2) / (2 * F) * G, dF < F


@given(limit_cars)
def test_limits_agree_with_an_independent_root(car):
    """Independent numerical reference: scipy.optimize.brentq on the closed form of the axle pair, before any wheel lifts."""
    found = limit_balance(**car, lateral_acceleration=5.0)
    for end in ("front", "rear"):
        ay = getattr(found, f"{end}_limit")
        if not all(held(car, ay * 1.02, each)[1] for each in ("front", "rear")):
            continue
        root = brentq(lambda a, end=end: held(car, a, end)[0] - a, 0.0, ay * 1.02)
        assert ay == pytest.approx(root, rel=1e-9)
    both = found.front_transfer + found.rear_transfer
    assert found.front_transfer_share * both == pytest.approx(found.front_transfer)
    assert found.limit == min(found.front_limit, found.rear_limit)
    if not found.flags:
        assert found.balance_index == pytest.approx(
            (held(car, 5.0, "front")[0] - held(car, 5.0, "rear")[0]) / G, abs=1e-9
        )


@given(limit_cars, st.floats(1e3, 3e4))
def test_a_stiffer_front_bar_takes_grip_from_the_front(car, more):
    """Monotonic, before a wheel lifts: front bar up, balance index down; rear bar up, index up."""
    before = limit_balance(**car, lateral_acceleration=5.0)
    front = limit_balance(**{**car, "front_bar": car["front_bar"] + more}, lateral_acceleration=5.0)
    rear = limit_balance(**{**car, "rear_bar": car["rear_bar"] + more}, lateral_acceleration=5.0)
    if before.flags or front.flags or rear.flags:
        return

    assert front.balance_index <= before.balance_index + 1e-12
    assert rear.balance_index >= before.balance_index - 1e-12


def test_the_lift_of_a_wheel_and_a_corner_too_hard_are_flagged():
    car = {"sprung_mass": 900.0, "sprung_front_share": 0.62, "sprung_height": 0.5, "unsprung_front": 70.0, "unsprung_rear": 60.0,
           "unsprung_front_height": 0.3, "unsprung_rear_height": 0.3, "front_roll_centre": 0.05, "rear_roll_centre": 0.1,
           "front_track": 1.5, "rear_track": 1.45, "front_wheel_rate": 3e4, "rear_wheel_rate": 6e4, "rear_bar": 3e4,
           "front_tyre_rate": 2e5, "rear_tyre_rate": 2e5, "front_friction": 1.2, "rear_friction": 1.2, "reference_load": 2500.0}  # fmt: skip
    flags = limit_balance(**car, lateral_acceleration=12.5).flags

    assert any("inside rear wheel lifts" in flag for flag in flags)
    assert any("cannot corner this hard" in flag for flag in flags)


def test_springs_too_soft_to_stand_are_refused_by_an_input_that_exists():
    car = {"sprung_mass": 900.0, "sprung_front_share": 0.5, "sprung_height": 0.9, "unsprung_front": 70.0, "unsprung_rear": 60.0,
           "unsprung_front_height": 0.3, "unsprung_rear_height": 0.3, "front_roll_centre": 0.05, "rear_roll_centre": 0.1,
           "front_track": 1.5, "rear_track": 1.45, "front_wheel_rate": 1e3, "rear_wheel_rate": 1e3, "front_tyre_rate": 2e5,
           "rear_tyre_rate": 2e5, "front_friction": 1.2, "rear_friction": 1.2, "reference_load": 2500.0}  # fmt: skip
    with pytest.raises(Refused, match="falls over") as caught:
        limit_balance(**car, lateral_acceleration=5.0)
    assert caught.value.input == "front_wheel_rate"

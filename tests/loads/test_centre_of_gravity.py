"""Height of the centre of gravity, sprung mass and moved mass: forward models turned back, and independent least squares."""

import math

import numpy
import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.loads.ballast import ballast_for_share
from calc.loads.cg_height import Lift, cg_height_lift
from calc.loads.cg_tilt import Tilt, cg_height_tilt
from calc.loads.changes import Item, fuel_burn, mass_change
from calc.loads.corner_weights import corner_weights
from calc.loads.masses import sprung_mass_split
from calc.refusal import Refused

mass = st.floats(300, 2500)
share = st.floats(0.3, 0.7)
height = st.floats(0.2, 0.9)
radius = st.floats(0.2, 0.4)
length = st.floats(1.8, 3.4)


def turned_loads(m, L, f, h, r_f, r_r, angle):
    """Independent forward model: turn the rigid car about its front hub, then balance moments about the rear contact."""
    rotate = numpy.array([[math.cos(angle), math.sin(angle)], [-math.sin(angle), math.cos(angle)]])
    rear_hub = rotate @ numpy.array([-L, r_r - r_f])
    cg = rotate @ numpy.array([-(1 - f) * L, h - r_f])
    front = m * (cg[0] - rear_hub[0]) / (0.0 - rear_hub[0])
    return front, rear_hub[1] - (r_r - r_f)  # front reading, and how far the rear hub rose


@given(mass, length, share, height, radius, radius, st.lists(st.floats(0.15, 0.5), min_size=1, max_size=5, unique=True))
def test_the_height_of_a_rigid_car_comes_back(m, L, f, h, r_f, r_r, angles):
    """inverse(forward(x)) = x, unequal radii, one lift or many. Our sign: the rear goes up, so the car turns nose down."""
    rows = [turned_loads(m, L, f, h, r_f, r_r, angle) for angle in angles]
    found = cg_height_lift(
        mass=m,
        wheelbase=L,
        level_reading=m * f,
        front_radius=r_f,
        rear_radius=r_r,
        lifts=tuple(Lift(H, r) for r, H in rows),
    )

    assert found.cg_height == pytest.approx(h, abs=1e-9)
    assert found.angles == pytest.approx(angles, rel=1e-9)
    assert found.heights == pytest.approx([h] * len(angles), abs=1e-8)
    assert found.worst_residual == pytest.approx(0, abs=1e-8)


@given(mass, length, share, height, radius, radius, st.floats(0.15, 0.5))
def test_lifting_the_front_is_the_mirror_image(m, L, f, h, r_f, r_r, angle):
    reading, lift = turned_loads(m, L, 1 - f, h, r_r, r_f, angle)
    found = cg_height_lift(
        mass=m,
        wheelbase=L,
        raised="front",
        level_reading=m * (1 - f),
        front_radius=r_f,
        rear_radius=r_r,
        lifts=(Lift(lift, reading),),
    )

    assert found.cg_height == pytest.approx(h, abs=1e-9)


@given(st.lists(st.tuples(st.floats(0.3, 1.2), st.floats(-2, 2)), min_size=2, max_size=6, unique_by=lambda row: row[0]))
def test_several_lifts_are_a_least_squares_line(rows):
    """Independent numerical reference: numpy.linalg.lstsq and its covariance."""
    m, L, r, level = 1200.0, 2.6, 0.3, 600.0
    angles = [math.asin(H / L) for H, _ in rows]
    readings = [level + m * 0.2 * math.tan(a) / L + noise for a, (_, noise) in zip(angles, rows, strict=True)]
    found = cg_height_lift(
        mass=m, wheelbase=L, level_reading=level, front_radius=r, rear_radius=r, scale_error=0.7,
        lifts=tuple(Lift(H, w) for (H, _), w in zip(rows, readings, strict=True)),
    )  # fmt: skip

    x = numpy.array([0.0, *(m * math.tan(a) / L for a in angles)])
    matrix = numpy.column_stack([numpy.ones_like(x), x])
    (level_fit, slope), *_ = numpy.linalg.lstsq(matrix, numpy.array([level, *readings]), rcond=None)
    covariance = numpy.linalg.inv(matrix.T @ matrix)
    residuals = numpy.array([level, *readings]) - matrix @ [level_fit, slope]
    assert found.cg_height == pytest.approx(r + slope, rel=1e-9)
    assert found.uncertainty == pytest.approx(0.7 * math.sqrt(covariance[1, 1]), rel=1e-9)
    assert found.scatter == pytest.approx(
        math.sqrt(residuals @ residuals / (len(rows) - 1) * covariance[1, 1]), rel=1e-6, abs=1e-12
    )


def test_a_loss_of_front_load_is_a_low_centre_of_gravity():
    found = cg_height_lift(
        mass=1000, wheelbase=2.5, level_reading=500, front_radius=0.3, rear_radius=0.3, lifts=(Lift(0.6, 490.0),)
    )

    assert 0 < found.cg_height < 0.3


@pytest.mark.parametrize(
    ("change", "named"),
    [
        ({"lifts": (Lift(2.5, 520.0),)}, "lifts[1].lift"),
        ({"lifts": (Lift(0.5, 520.0), Lift(0.6, 1000.0))}, "lifts[2].reading"),
        ({"level_reading": 1000.0}, "level_reading"),
        ({"rear_radius": 0.8, "lifts": (Lift(2.2, 520.0),)}, "lifts[1].lift"),
    ],
)
def test_impossible_readings_are_refused(change, named):
    car = {"mass": 1000.0, "wheelbase": 2.5, "level_reading": 500.0, "front_radius": 0.3, "rear_radius": 0.3}
    with pytest.raises(Refused) as caught:
        cg_height_lift(**{**car, "lifts": (Lift(0.5, 520.0),), **change})

    assert caught.value.input == named


def test_a_small_lift_and_a_bent_line_are_flagged():
    car = {"mass": 1000.0, "wheelbase": 2.5, "level_reading": 500.0, "front_radius": 0.3, "rear_radius": 0.3}

    assert any("below 10°" in flag for flag in cg_height_lift(**car, lifts=(Lift(0.2, 505.0),)).flags)
    bent = (Lift(0.3, 505.0), Lift(0.6, 530.0), Lift(0.9, 540.0))
    assert any("something moved" in flag for flag in cg_height_lift(**car, lifts=bent).flags)


@given(
    mass,
    st.floats(1.1, 1.9),
    st.floats(0.42, 0.58),
    height,
    st.lists(st.floats(0.05, 0.5), min_size=1, max_size=4, unique=True),
)
def test_a_side_tilt_gives_the_height_back_from_either_kind_of_scales(m, t, low, h, angles):
    """Forward model: moments about the upper contact, gravity turned by the angle; scales square to the platform or plumb."""
    y = t * (low - 0.5)
    square = [m * ((t / 2 + y) * math.cos(a) + h * math.sin(a)) / t for a in angles]
    plumb = [n / math.cos(a) for n, a in zip(square, angles, strict=True)]
    for scales, readings in (("normal", square), ("vertical", plumb)):
        if max(readings) >= m:
            return
        found = cg_height_tilt(
            mass=m,
            track=t,
            level_reading=m * low,
            scales=scales,
            tilts=tuple(Tilt(*row) for row in zip(angles, readings, strict=True)),
        )
        assert found.cg_height == pytest.approx(h, abs=1e-8)
        assert found.offset == pytest.approx(y, abs=1e-8)


@given(mass, share, height, length, st.floats(0, 0.1), st.floats(0, 0.1), radius, radius)
def test_sprung_and_unsprung_parts_make_the_whole(m, f, h, L, front, rear, h_f, h_r):
    u_f, u_r = front * m, rear * m
    if m * h - u_f * h_f - u_r * h_r <= 0:
        return
    found = sprung_mass_split(
        mass=m, front_share=f, cg_height=h, wheelbase=L, unsprung_front=u_f, unsprung_rear=u_r,
        unsprung_front_height=h_f, unsprung_rear_height=h_r,
    )  # fmt: skip

    assert found.sprung_mass + u_f + u_r == pytest.approx(m)
    assert found.sprung_mass * found.sprung_height + u_f * h_f + u_r * h_r == pytest.approx(m * h)
    assert found.sprung_mass * found.sprung_to_front + u_r * L == pytest.approx(m * (1 - f) * L)
    assert 2 * (found.front_corner + found.rear_corner) == pytest.approx(found.sprung_mass)
    assert 2 * found.front_corner == pytest.approx(found.sprung_front_share * found.sprung_mass)
    assert found.unsprung_share * m == pytest.approx(u_f + u_r)


def test_more_unsprung_than_there_is_on_an_axle_is_refused():
    with pytest.raises(Refused, match="mass on that axle") as caught:
        sprung_mass_split(mass=1000, front_share=0.5, cg_height=0.5, wheelbase=2.5, unsprung_front=500, unsprung_rear=50,
                          unsprung_front_height=0.3, unsprung_rear_height=0.3)  # fmt: skip
    assert caught.value.input == "unsprung_front"


item = st.builds(Item, st.just("thing"), st.floats(0.1, 200), st.floats(-1, 4), st.floats(-1, 1), st.floats(0, 2))


@given(mass, share, height, length, st.lists(item, min_size=1, max_size=4))
def test_what_goes_in_and_comes_out_again_changes_nothing(m, f, h, L, items):
    found = mass_change(
        mass=m, wheelbase=L, front_share=f, cg_height=h, items=(*items, *(i._replace(mass=-i.mass) for i in items))
    )

    assert found.total == pytest.approx(m)
    assert found.front_share == pytest.approx(f)
    assert found.cg_height == pytest.approx(h)
    assert found.cg_left == pytest.approx(0, abs=1e-9)


@given(mass, share, height, length, st.lists(item, min_size=1, max_size=4))
def test_moments_of_the_parts_are_those_of_the_whole(m, f, h, L, items):
    """Independent numerical reference: numpy.average with masses as weights."""
    found = mass_change(mass=m, wheelbase=L, front_share=f, cg_height=h, items=tuple(items))

    weights = [m, *(i.mass for i in items)]
    places = [((1 - f) * L, 0.0, h), *((i.behind_front, i.left, i.height) for i in items)]
    x, y, z = numpy.average(numpy.array(places), axis=0, weights=weights)
    assert (found.cg_to_front, found.cg_left, found.cg_height) == pytest.approx((x, y, z))
    assert found.front_share + x / L == pytest.approx(1)
    assert found.share_change == pytest.approx(found.front_share - f)
    assert found.height_change == pytest.approx(z - h)


@given(st.floats(1, 60), st.floats(0, 1), st.floats(0, 0.4))
def test_burned_fuel_is_a_mass_change_whose_level_sinks(fuel, part, depth):
    car = {"mass": 900.0, "wheelbase": 2.5, "front_share": 0.5, "cg_height": 0.45}
    found = fuel_burn(
        **car, fuel=fuel, fuel_burned=fuel * part, tank_behind_front=2.0, tank_floor=0.2, fuel_depth=depth
    )

    before, after = 0.2 + depth / 2, 0.2 + depth * (1 - part) / 2
    swap = (Item("out", -fuel, 2.0, 0, before), Item("back", fuel * (1 - part), 2.0, 0, after))
    same = mass_change(**car, items=swap)
    assert (found.total, found.front_share, found.cg_height) == pytest.approx(
        (same.total, same.front_share, same.cg_height)
    )
    assert found.front_change + found.rear_change == pytest.approx(-fuel * part)
    assert found.fuel_left == pytest.approx(fuel * (1 - part))
    assert found.front_change == pytest.approx(found.total * found.front_share - 900 * 0.5, abs=1e-9)


def test_more_fuel_than_aboard_is_refused():
    car = {
        "mass": 900.0,
        "wheelbase": 2.5,
        "front_share": 0.5,
        "cg_height": 0.45,
        "tank_behind_front": 2.0,
        "tank_floor": 0.2,
    }
    for fuel, burned, named in ((20.0, 21.0, "fuel_burned"), (900.0, 10.0, "fuel")):
        with pytest.raises(Refused, match=r"must be (less than|at most)") as caught:
            fuel_burn(**car, fuel=fuel, fuel_burned=burned)
        assert caught.value.input == named


@given(mass, share, st.floats(0.3, 0.7), st.floats(-0.5, 3.0), st.sampled_from(["front", "left"]), st.floats(-0.7, 0.7))
def test_ballast_brings_the_share_it_was_asked_for(m, now, wanted, x, direction, y):
    """inverse(forward(x)) = x: the ballast put in as an item gives the wanted share."""
    car = {"mass": m, "wheelbase": 2.5, "track": 1.5, "front_share": now if direction == "front" else 0.5,
           "left_share": now if direction == "left" else 0.5, "cg_height": 0.5}  # fmt: skip
    place = {"ballast_behind_front": x, "ballast_left": y, "ballast_height": 0.2}
    own = 1 - x / 2.5 if direction == "front" else 0.5 + y / 1.5
    if not (own - wanted) * (wanted - now) > 0:
        with pytest.raises(Refused, match=r"must put (more|less)|must differ"):
            ballast_for_share(**car, **place, direction=direction, wanted_share=wanted)
        return
    found = ballast_for_share(**car, **place, direction=direction, wanted_share=wanted)

    whole = mass_change(
        mass=m, wheelbase=2.5, front_share=car["front_share"], cg_height=0.5, cg_left=1.5 * (car["left_share"] - 0.5),
        items=(Item("ballast", found.ballast, x, y, 0.2),),
    )  # fmt: skip
    left = 0.5 + whole.cg_left / 1.5
    assert (whole.front_share if direction == "front" else left) == pytest.approx(wanted, abs=1e-9)
    assert (found.front_share, found.left_share) == pytest.approx((whole.front_share, left), abs=1e-9)
    assert found.cg_height == pytest.approx(whole.cg_height)
    assert found.total == pytest.approx(whole.total)


@given(st.tuples(*[st.floats(50, 600)] * 4), st.floats(1.2, 1.8), st.floats(1.2, 1.8), length)
def test_corner_weights_balance_about_their_centre(loads, t_f, t_r, L):
    """Law: moments of the four loads about the centre of gravity vanish; both diagonals make the whole."""
    fl, fr, rl, rr = loads
    found = corner_weights(
        front_left=fl, front_right=fr, rear_left=rl, rear_right=rr, wheelbase=L, front_track=t_f, rear_track=t_r
    )
    mirrored = corner_weights(
        front_left=fr, front_right=fl, rear_left=rr, rear_right=rl, wheelbase=L, front_track=t_f, rear_track=t_r
    )

    along = (fl + fr) * found.cg_to_front - (rl + rr) * found.cg_to_rear
    across = (
        fl * (t_f / 2 - found.cg_left)
        - fr * (t_f / 2 + found.cg_left)
        + rl * (t_r / 2 - found.cg_left)
        - rr * (t_r / 2 + found.cg_left)
    )
    assert along == pytest.approx(0, abs=1e-9 * found.total)
    assert across == pytest.approx(0, abs=1e-9 * found.total)
    assert found.cross_share + mirrored.cross_share == pytest.approx(1)
    assert mirrored.cg_left == pytest.approx(-found.cg_left, abs=1e-12)

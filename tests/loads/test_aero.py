"""Air: density, axle loads, ride heights and springs, each against an independent solve or turned back on itself."""

import math

import numpy
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from calc.loads.aero import aero_from_axle_loads, aero_loads
from calc.loads.aero_frequency import frequency_under_downforce
from calc.loads.aero_heights import aero_ride_heights, axle_heave_rate
from calc.loads.aero_springs import heave_spring, spring_for_aero_height
from calc.loads.air import air_density
from calc.refusal import Refused


def test_density_of_the_standard_day():
    """Published: 1.225 kg/m3 at 15 °C and 101 325 Pa (ISO 2533, from memory)."""
    assert air_density(temperature=288.15).density == pytest.approx(1.225, abs=5e-5)


def test_twenty_degrees_take_about_six_and_a_half_per_cent():
    """The sheet's rule: +20 °C loses about 6.5 %."""
    warm = air_density(temperature=308.15).density / air_density(temperature=288.15).density

    assert 1 - warm == pytest.approx(0.065, abs=0.001)


@pytest.mark.parametrize(("celsius", "pressure"), [(0.0, 611.2), (20.0, 2339.0), (30.0, 4246.0)])
def test_vapour_pressure_of_water(celsius, pressure):
    """Published: steam tables, 0.6112, 2.339 and 4.246 kPa (from memory); the Magnus form is good to 0.3 %."""
    found = air_density(temperature=273.15 + celsius, humidity=1.0)

    assert found.vapour_pressure == pytest.approx(pressure, rel=3e-3)
    assert found.density < air_density(temperature=273.15 + celsius).density


def test_thin_air_that_is_all_vapour_is_refused():
    with pytest.raises(Refused, match="water vapour") as caught:
        air_density(pressure=3000.0, temperature=303.15, humidity=1.0)
    assert caught.value.input == "pressure"


car = st.fixed_dictionaries(
    {
        "density": st.floats(0.8, 1.4), "speed": st.floats(5, 100), "downforce_area": st.floats(-0.5, 4), "drag_area": st.floats(0.3, 2),
        "centre_of_pressure": st.floats(-0.5, 3.5), "drag_height": st.floats(0, 1), "wheelbase": st.floats(1.8, 3.4),
    }
)  # fmt: skip


@given(car)
def test_forces_and_moments_of_the_air_balance(car):
    """Law: gains add to the downforce; moments about the front contact with the drag at its height."""
    found = aero_loads(**car)

    assert found.front_gain + found.rear_gain == pytest.approx(found.downforce, abs=1e-9)
    moment = found.downforce * car["centre_of_pressure"] + found.drag * car["drag_height"]
    assert found.rear_gain * car["wheelbase"] == pytest.approx(moment, abs=1e-9)
    assert found.drag_power == pytest.approx(found.drag * car["speed"])
    if abs(car["downforce_area"]) > 1e-3:
        assert found.front_balance * found.downforce == pytest.approx(found.front_gain, abs=1e-9)
        assert found.effective_centre * found.downforce == pytest.approx(moment, abs=1e-6)


@given(car, st.floats(0.2, 3))
def test_loads_grow_with_the_square_of_speed(car, times):
    one, two = aero_loads(**car), aero_loads(**{**car, "speed": car["speed"] * times})

    assert two.downforce == pytest.approx(times**2 * one.downforce)
    assert two.rear_gain == pytest.approx(times**2 * one.rear_gain, abs=1e-9)
    assert two.drag_power == pytest.approx(times**3 * one.drag_power)


@given(car)
def test_measured_gains_give_the_coefficients_back(car):
    """inverse(forward(x)) = x; the effective centre of pressure holds the drag, so it goes back in with a drag height of 0."""
    found = aero_loads(**car)
    if abs(car["downforce_area"]) < 0.01:
        return
    back = aero_from_axle_loads(
        density=car["density"],
        speed=car["speed"],
        front_gain=found.front_gain,
        rear_gain=found.rear_gain,
        wheelbase=car["wheelbase"],
    )
    assert back.downforce_area == pytest.approx(car["downforce_area"], rel=1e-6)
    assert back.effective_centre == pytest.approx(found.effective_centre, rel=1e-6, abs=1e-9)

    again = aero_loads(**{**car, "centre_of_pressure": back.effective_centre, "drag_height": 0.0})
    assert again.rear_gain == pytest.approx(found.rear_gain, rel=1e-6, abs=1e-6)


def test_no_downforce_has_no_centre():
    with pytest.raises(Refused, match="no centre of pressure"):
        aero_from_axle_loads(speed=50, front_gain=300.0, rear_gain=-300.0, wheelbase=2.5)
    assert (
        aero_loads(speed=50, downforce_area=0.0, drag_area=1.0, centre_of_pressure=1.0, wheelbase=2.5).effective_centre
        is None
    )


heights = st.fixed_dictionaries(
    {
        "speed": st.floats(0, 90), "reference_speed": st.floats(20, 80), "front_gain": st.floats(-300, 5000),
        "rear_gain": st.floats(-300, 8000), "front_static_height": st.floats(0.03, 0.2), "rear_static_height": st.floats(0.03, 0.2),
        "front_wheel_rate": st.floats(1e4, 3e5), "rear_wheel_rate": st.floats(1e4, 3e5), "front_tyre_rate": st.floats(1e5, 4e5),
        "rear_tyre_rate": st.floats(1e5, 4e5), "front_heave_spring": st.floats(0, 3e5), "rear_heave_spring": st.floats(0, 3e5),
        "front_heave_ratio": st.floats(0.4, 1.5), "rear_heave_ratio": st.floats(0.4, 1.5), "front_gradient": st.floats(0, 1e5),
        "rear_gradient": st.floats(0, 1e5),
    }
)  # fmt: skip


@given(heights)
def test_heights_are_where_springs_and_air_balance(car):
    """Independent numerical reference: scipy's root of spring force less downforce, body, tyres and heave spring apart."""
    found = aero_ride_heights(**car)
    for end in ("front", "rear"):
        times = (car["speed"] / car["reference_speed"]) ** 2
        drop, rate = getattr(found, f"{end}_drop"), getattr(found, f"{end}_rate")

        def missing(z, end=end, times=times):
            tyre, wheel = 2 * car[f"{end}_tyre_rate"], 2 * car[f"{end}_wheel_rate"]
            third = car[f"{end}_heave_spring"] * car[f"{end}_heave_ratio"] ** 2
            tyre_part = z * (wheel + third) / (wheel + third + tyre)  # one force through both
            return tyre * tyre_part - times * (car[f"{end}_gain"] + car[f"{end}_gradient"] * z)

        if drop is None:
            assert rate <= car[f"{end}_gradient"] * times * (1 + 1e-12)
            assert any("Beyond divergence" in flag for flag in found.flags)
        elif rate - car[f"{end}_gradient"] * times > 1e-3 * rate:
            assert brentq(missing, -50, 50, xtol=1e-14) == pytest.approx(drop, rel=1e-6, abs=1e-9)


@given(heights)
def test_the_divergence_speed_is_where_no_stiffness_is_left(car):
    found = aero_ride_heights(**car)
    for end in ("front", "rear"):
        speed = getattr(found, f"{end}_divergence")
        if speed is None or speed > 1e3:
            continue
        below = aero_ride_heights(**{**car, "speed": speed * 0.999})
        above = aero_ride_heights(**{**car, "speed": speed * 1.001})
        assert getattr(below, f"{end}_drop") is not None
        assert getattr(above, f"{end}_drop") is None


def test_a_car_that_rakes_the_other_way_or_touches_says_so():
    car = {"speed": 60.0, "reference_speed": 60.0, "front_gain": 0.0, "front_static_height": 0.05, "rear_static_height": 0.06,
           "front_wheel_rate": 5e4, "rear_wheel_rate": 5e4, "front_tyre_rate": 2e5, "rear_tyre_rate": 2e5}  # fmt: skip

    assert "changes sign" in aero_ride_heights(**car, rear_gain=1600.0).flags[0]
    assert "touches the road" in aero_ride_heights(**car, rear_gain=8000.0).flags[0]


@given(st.floats(100, 8000), st.floats(0.003, 0.05), st.floats(1e5, 4e5), st.floats(0, 5e4), st.floats(0.5, 1.2))
def test_the_springs_found_hold_the_height(gain, drop, tyre, gradient, ratio):
    """inverse(forward(x)) = x, for the corner springs and for the heave spring beside soft ones."""
    ask = {"gain": gain, "allowed_drop": drop, "tyre_rate": tyre, "motion_ratio": 0.8, "gradient": gradient,
           "present_wheel_rate": 1e3, "heave_ratio": ratio}  # fmt: skip
    if (gain / drop + gradient) / 2 >= tyre:
        with pytest.raises(Refused, match="tyres alone") as caught:
            spring_for_aero_height(**ask)
        assert caught.value.input == "allowed_drop"
        return
    found = spring_for_aero_height(**ask)

    def sinks(wheel, third):
        return gain / (axle_heave_rate(wheel, tyre, third, ratio) - gradient)

    assert sinks(found.wheel_rate, 0.0) == pytest.approx(drop, rel=1e-6)
    assert found.spring_rate * 0.8**2 == pytest.approx(found.wheel_rate)
    if found.heave_spring > 0:
        assert sinks(1e3, found.heave_spring) == pytest.approx(drop, rel=1e-6)


def test_a_gradient_above_the_tyres_is_refused():
    with pytest.raises(Refused, match="below the rate of both tyres") as caught:
        spring_for_aero_height(
            gain=500, allowed_drop=0.01, tyre_rate=1e5, motion_ratio=1, gradient=3e5, present_wheel_rate=3e4
        )
    assert caught.value.input == "gradient"


@given(st.floats(300, 1500), st.floats(1e5, 8e5), st.floats(0, 0.99), st.floats(0, 4e4))
def test_frequency_and_damping_are_the_roots_of_the_motion(mass, rate, part, damping):
    """Independent numerical reference: numpy.roots of m s^2 + c s + (k - g)."""
    found = frequency_under_downforce(
        sprung_mass=mass, ride_rate=rate, height_gradient=rate * part, speed=50, damping=damping
    )
    roots = numpy.roots([mass, damping, rate * (1 - part)])
    natural = math.sqrt(abs(roots[0] * roots[1]))

    assert found.frequency * 2 * math.pi == pytest.approx(natural, rel=1e-6)
    assert found.damping_ratio == pytest.approx(-(roots[0] + roots[1]).real / (2 * natural), rel=1e-6)
    assert found.frequency <= found.frequency_at_rest
    if part > 1e-6:
        assert part * (found.divergence_speed / 50) ** 2 == pytest.approx(1)


def test_beyond_divergence_there_is_no_frequency():
    found = frequency_under_downforce(sprung_mass=700, ride_rate=1e5, height_gradient=1.2e5, speed=50, damping=5e3)

    assert (found.frequency, found.damping_ratio) == (None, None)
    assert "divergence" in found.flags[0]


@given(st.floats(1e4, 2e5), st.floats(0, 3e5), st.floats(0.4, 2))
def test_a_heave_spring_adds_to_heave_alone(wheel, third, ratio):
    """Independent numerical reference: numpy's eigenvalues of the axle's stiffness in the travels of left and right wheel."""
    found = heave_spring(wheel_rate=wheel, heave_spring=third, heave_ratio=ratio, tyre_rate=2e5, sprung_axle_mass=300)
    common = third * ratio**2 / 4
    stiffness = numpy.array([[wheel + common, common], [common, wheel + common]])
    roll, heave = numpy.linalg.eigvalsh(stiffness)

    assert 2 * heave == pytest.approx(found.heave_rate, rel=1e-9)
    assert roll == pytest.approx(wheel, rel=1e-9)

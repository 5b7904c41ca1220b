"""Springs from wire: laws, inverses, and independent numerical references."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from calc.refusal import Refused
from calc.springs.coil import coil_spring
from calc.springs.coil_design import coil_for_load, coils_for_rate, rescaled_spring
from calc.springs.wire import Coil, buckling, curvature_factor

wires = st.floats(4e-3, 18e-3)
indexes = st.floats(4, 12)
coils = st.floats(3, 14)


@given(wires, indexes, coils, st.floats(500, 8000))
def test_the_rate_is_that_of_the_twisted_wire(d, C, n, force):
    """Independent reference: the strain energy of the torque along the wire, integrated by scipy, equals half F s."""
    coil = Coil(d, C * d, n, 79.5e9)
    polar = math.pi * d**4 / 32
    energy, _ = quad(lambda _: (force * coil.D / 2) ** 2 / (2 * coil.G * polar), 0, math.pi * coil.D * n)

    assert force**2 / coil.rate / 2 == pytest.approx(energy, rel=1e-9)


@given(wires, indexes, st.floats(500, 8000))
def test_the_uncorrected_stress_is_torsion_alone(d, C, force):
    torsion = 16 * (force * C * d / 2) / (math.pi * d**3)

    assert Coil(d, C * d, 5, 79.5e9).shear(force) == pytest.approx(torsion)


@given(wires, indexes, coils)
def test_force_at_a_stress_leads_back(d, C, n):
    coil = Coil(d, C * d, n, 79.5e9)

    assert coil.shear(coil.force_at(700e6)) == pytest.approx(700e6)


@given(indexes)
def test_the_curvature_factors_differ_by_less_than_two_per_cent(C):
    wahl, bergstrasser = curvature_factor(C, "wahl"), curvature_factor(C, "bergstrasser")

    assert wahl == pytest.approx(bergstrasser, rel=0.02)
    assert bergstrasser == pytest.approx((4 * C + 2) / (4 * C - 3))
    assert wahl > curvature_factor(C, "half") > curvature_factor(C, "none") == 1


@given(wires, indexes, coils)
def test_counting_coils_undoes_the_rate(d, C, n):
    rate = Coil(d, C * d, n, 79.5e9).rate

    assert coils_for_rate(wire_diameter=d, mean_diameter=C * d, spring_rate=rate).coils == pytest.approx(n)


@given(wires, indexes, coils, st.floats(0.85, 1.2), st.floats(0.85, 1.2), st.floats(0.7, 1.4))
def test_scaling_is_the_rate_of_the_scaled_spring(d, C, n, wire, diameter, fewer):
    before, after = Coil(d, C * d, n, 79.5e9), Coil(d * wire, C * d * diameter, n * fewer, 79.5e9)
    said = rescaled_spring(
        spring_rate=before.rate, active_before=n, active_after=n * fewer, wire_scale=wire, diameter_scale=diameter
    )

    assert said.rate == pytest.approx(after.rate)
    assert said.stress_ratio == pytest.approx(after.shear(1000) / before.shear(1000))


@given(st.floats(500, 9000), st.floats(0.02, 0.15), indexes, st.floats(400e6, 900e6))
def test_the_designed_spring_bears_its_load_and_gives_at_least_the_travel(load, deflection, index, allowed):
    said = coil_for_load(load=load, deflection=deflection, index=index, allowed_shear=allowed)
    built = coil_spring(
        wire_diameter=said.wire,
        coil_diameter=said.mean_diameter,
        active_coils=said.coils,
        free_length=said.free_length,
        load=load,
        curvature="wahl",
    )

    assert said.shear <= allowed * (1 + 1e-9)
    assert built.shear_load == pytest.approx(said.shear)
    assert built.deflection == pytest.approx(said.deflection)
    assert said.deflection >= deflection * (1 - 1e-9)
    assert said.free_length - built.deflection - built.solid_length == pytest.approx((said.total_coils - 1) * 0.001)


def test_surge_is_the_first_mode_of_a_chain_of_coils():
    """Independent reference: 400 small masses on 401 springs between fixed ends, eigenvalue by numpy."""
    coil, density, pieces = Coil(0.011, 0.065, 6.0, 79.5e9), 7850.0, 400
    mass = density * math.pi * coil.d**2 / 4 * math.pi * coil.D * coil.n / (pieces + 1)
    rate = coil.rate * (pieces + 1)
    chain = np.diag([2.0] * pieces) - np.diag([1.0] * (pieces - 1), 1) - np.diag([1.0] * (pieces - 1), -1)
    slowest = math.sqrt(np.linalg.eigvalsh(chain)[0] * rate / mass) / (2 * math.pi)

    assert coil.surge(density) == pytest.approx(slowest, rel=1e-4)


@given(st.floats(0.4, 2), st.floats(1.5, 12))
def test_a_spring_bows_out_where_its_column_does(seating, slenderness):
    """Independent reference: an elastic column whose bending and shear rates shrink with its length, its critical load by brentq.

    In units of the spring rate and the free length: bending rate E D^2 L / (2 (2 G + E)), shear rate E L / G (Wahl, from memory);
    critical load after Haringx, P (1 + P / shear) = bending (pi / (nu L))^2.
    """
    E, G, D = 206e9, 79.3e9, 1.0 / slenderness
    found = buckling(E, G).travel(1.0, D, seating)

    def over(share):
        length = 1 - share
        bending, shear = E * D**2 * length / (2 * (2 * G + E)), E * length / G
        return share * (1 + share / shear) - bending * (math.pi / (seating * length)) ** 2

    top = E / (2 * (E - G)) if E / (2 * (E - G)) < 1 else 0.999
    if found is None:
        assert all(over(top * i / 500) < 1e-9 for i in range(1, 500))
    elif found < 0.999 * top:
        assert found == pytest.approx(brentq(over, 1e-9, top), rel=1e-6)


@given(wires, indexes, coils, st.floats(1.05, 2.5))
def test_the_outside_grows_as_the_helix_flattens(d, C, n, stretch):
    """Independent references: the helix with ends that cannot turn (wire length kept) grows less, with ends that turn (curvature kept) more."""
    coil = Coil(d, C * d, n, 79.5e9)
    pitch = stretch * d
    flat, steep = (math.cos(math.atan(p / (math.pi * coil.D))) for p in (d, pitch))
    held, turning = coil.D * (flat / steep - 1), coil.D * ((flat / steep) ** 2 - 1)

    assert held < coil.growth(n * pitch + 2 * d) < turning
    assert coil.growth(coil.solid_length) == pytest.approx(0, abs=1e-12)


@pytest.mark.parametrize(
    ("ends", "total", "solid"), [("closed_ground", 8, 8), ("closed", 8, 9), ("open", 6, 7), ("open_ground", 7, 7)]
)
def test_ends_count_as_the_standard_says(ends, total, solid):
    """Source: EN 13906-1 and Shigley (from memory)."""
    coil = Coil(0.01, 0.06, 6, 79.5e9, ends)

    assert coil.total_coils == total
    assert coil.solid_length == pytest.approx(solid * 0.01)
    assert coil.pitch(coil.solid_length) == pytest.approx(coil.d)


CAR = {"wire_diameter": 0.0115, "coil_diameter": 0.0715, "active_coils": 6.5, "free_length": 0.2}


def test_coil_bind_is_flagged_and_the_travel_stops_there():
    said = coil_spring(**CAR, load=9000.0)

    assert said.deflection == said.travel_to_solid
    assert any("Coil bind" in flag for flag in said.flags)


def test_a_weak_wire_is_flagged_at_solid():
    assert not coil_spring(**CAR, tensile_strength=1900e6).flags
    assert any("At solid" in flag for flag in coil_spring(**CAR, tensile_strength=1400e6).flags)


def test_a_tall_spring_is_flagged_to_bow_out():
    tall = {**CAR, "free_length": 0.5, "active_coils": 14.0}

    assert any("bows out" in flag for flag in coil_spring(**tall).flags)
    assert coil_spring(**{**CAR, "seating": "plates"}).buckling_travel is None


def test_a_load_near_solid_eats_the_reserve():
    assert any("reserve" in flag for flag in coil_spring(**CAR, load=7200.0).flags)


@pytest.mark.parametrize(
    ("changed", "named"),
    [
        ({"coil_diameter": 0.0115}, "coil_diameter"),
        ({"free_length": 0.09}, "free_length"),
        ({"youngs_modulus": 70e9}, "youngs_modulus"),
    ],
)
def test_a_spring_that_cannot_be_is_refused_by_name(changed, named):
    with pytest.raises(Refused) as caught:
        coil_spring(**{**CAR, **changed})

    assert caught.value.input == named
    assert caught.value.value

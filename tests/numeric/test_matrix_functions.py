"""Exponential, eigenvalues and modes against numpy and scipy, over matrices of very unlike rows."""

import math

import numpy as np
import pytest
import scipy.linalg
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linear_sum_assignment

from calc.numeric.eigen import eigenvalues, symmetric
from calc.numeric.exponential import exponential, step_matrices
from calc.numeric.modes import modes

sizes = st.sampled_from([1, 2, 3, 4, 6, 8])


@st.composite
def matrices(draw, spread=3.0):
    size = draw(sizes)
    rng = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    return rng.normal(size=(size, size)) * 10.0 ** rng.uniform(-spread, spread, size=(size, 1))


@given(matrices())
def test_eigenvalues_are_those_of_numpy(matrix):
    found, wanted = np.array(eigenvalues(matrix.tolist())), np.linalg.eigvals(matrix)

    apart = abs(found[:, None] - wanted[None, :])
    assert apart[linear_sum_assignment(apart)].max() <= 1e-8 * abs(wanted).max()


@given(matrices())
def test_symmetric_eigenvalues_and_vectors(matrix):
    both = matrix + matrix.T
    values, vectors = symmetric(both.tolist())

    np.testing.assert_allclose(values, np.linalg.eigvalsh(both), rtol=1e-9, atol=1e-12 * abs(both).max())
    for value, vector in zip(values, vectors, strict=True):
        np.testing.assert_allclose(both @ vector, value * np.array(vector), atol=1e-10 * abs(both).max())


@given(matrices(spread=0.5), st.floats(0.01, 5))
def test_exponential_is_that_of_scipy(matrix, size):
    wanted = scipy.linalg.expm(matrix * size)

    np.testing.assert_allclose(exponential((matrix * size).tolist()), wanted, rtol=1e-8, atol=1e-11 * abs(wanted).max())


@given(matrices(spread=0.5), st.floats(0.001, 0.5), st.integers(0, 99))
def test_the_step_under_a_constant_input_is_exact(matrix, step, seed):
    """Independent reference: x(t + dt) = e^(A dt) x + A^-1 (e^(A dt) - I) B u, with numpy's inverse."""
    inputs = np.random.default_rng(seed).normal(size=(len(matrix), 2))
    if np.linalg.cond(matrix) > 1e6:
        return
    walk, push = step_matrices(matrix.tolist(), inputs.tolist(), step)
    whole = scipy.linalg.expm(matrix * step)

    np.testing.assert_allclose(walk, whole, rtol=1e-8, atol=1e-10 * abs(whole).max())
    np.testing.assert_allclose(
        push, np.linalg.solve(matrix, (whole - np.eye(len(matrix))) @ inputs), rtol=1e-5, atol=1e-9
    )


@given(st.floats(0.5, 50), st.floats(0.01, 4))
def test_one_mass_gives_its_own_mode(omega, ratio):
    if abs(ratio - 1) < 1e-3:
        return  # a double eigenvalue: the two halves part by the square root of rounding
    (mode,) = modes([[0.0, 1.0], [-(omega**2), -2 * ratio * omega]])

    assert mode.omega == pytest.approx(omega, rel=1e-9)
    assert mode.ratio == pytest.approx(ratio, rel=1e-9)
    assert mode.frequency == pytest.approx(omega / (2 * math.pi), rel=1e-9)
    assert (mode.damped is None) == (ratio > 1)

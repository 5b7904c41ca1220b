"""Linear equations against an independent library, and the refusal of a singular system."""

import numpy
import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.numeric.linear import Factors, Singular, solve

ENTRIES = st.floats(-1e3, 1e3, allow_nan=False)


@given(
    st.integers(1, 9).flatmap(
        lambda n: st.tuples(
            st.lists(st.lists(ENTRIES, min_size=n, max_size=n), min_size=n, max_size=n),
            st.lists(ENTRIES, min_size=n, max_size=n),
        )
    )
)
def test_agrees_with_numpy(system):
    """Independent numerical reference: numpy.linalg.solve. The residual is bounded by the condition number's share of the answer."""
    matrix, right = (numpy.array(part) for part in system)
    condition = numpy.linalg.cond(matrix)
    if not condition < 1e9:
        return

    ours = numpy.array(solve(matrix.tolist(), right.tolist()))

    theirs = numpy.linalg.solve(matrix, right)
    assert numpy.abs(ours - theirs).max() <= 1e-14 * condition * len(right) * (1 + numpy.abs(theirs).max())


@pytest.mark.parametrize(
    "matrix", [[[0.0]], [[1.0, 2.0], [2.0, 4.0]], [[1.0, 2.0, 3.0], [4.0, 5.0, 6.0], [7.0, 8.0, 9.0]]]
)
def test_a_singular_system_is_named(matrix):
    with pytest.raises(Singular):
        solve(matrix, [1.0] * len(matrix))


def test_mixed_units_do_not_pass_for_singular():
    assert solve([[1e9, 0.0], [0.0, 1e-9]], [1e9, 1e-9]) == [1.0, 1.0]


def test_one_split_serves_many_right_sides():
    factors = Factors([[0.0, 2.0], [4.0, 0.0]])

    assert factors.solve([2.0, 4.0]) == [1.0, 1.0]
    assert factors.solve([4.0, 4.0]) == [1.0, 2.0]


def test_a_matrix_that_is_not_square_is_refused():
    with pytest.raises(ValueError, match="square"):
        solve([[1.0, 2.0]], [1.0])

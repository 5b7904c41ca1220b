"""Where a function of one variable crosses zero."""

from collections.abc import Callable


def crossing(function: Callable[[float], float], low: float, high: float) -> float | None:
    """Return where a continuous function changes sign between ``low`` and ``high``, or none if it does not, by bisection.

    >>> round(crossing(lambda x: x * x - 2, 0.0, 2.0), 12)
    1.414213562373
    """
    at_low, at_high = function(low), function(high)
    if at_low == 0:
        return low
    if at_high == 0:
        return high
    if (at_low > 0) == (at_high > 0):
        return None
    for _ in range(200):
        middle = (low + high) / 2
        if middle in (low, high):
            break
        if (function(middle) > 0) == (at_low > 0):
            low = middle
        else:
            high = middle
    return (low + high) / 2

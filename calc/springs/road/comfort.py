"""How a body feels vertical vibration: the frequency weighting Wk and the words of ISO 2631-1 (from memory)."""

import math

# ISO 2631-1, weighting Wk (from memory): band limits, acceleration-to-velocity transition, upward step.
_LOW, _HIGH = 0.4, 100.0  # Hz, second-order Butterworth limits
_TRANSITION, _TRANSITION_Q = 12.5, 0.63
_STEP_LOW, _STEP_HIGH, _STEP_Q = 2.37, 3.35, 0.91

# RMS of the weighted acceleration in m/s2; the standard's own bands overlap, these are their lower ends.
_FEEL = (
    (2.0, "extremely uncomfortable"),
    (1.25, "very uncomfortable"),
    (0.8, "uncomfortable"),
    (0.5, "fairly uncomfortable"),
    (0.315, "a little uncomfortable"),
    (0.0, "not uncomfortable"),
)


def weighting(frequency: float) -> float:
    """Return the factor of Wk at a frequency in Hz.

    >>> round(weighting(1.0), 2), round(weighting(6.3), 2)
    (0.48, 1.05)
    """
    f = frequency
    high_pass = f**2 / math.sqrt(f**4 + _LOW**4)
    low_pass = _HIGH**2 / math.sqrt(f**4 + _HIGH**4)
    a, q = _TRANSITION, _TRANSITION_Q
    transition = math.sqrt((f**2 + a**2) / a**2) * math.sqrt(
        a**4 * q**2 / (f**4 * q**2 + f**2 * a**2 * (1 - 2 * q**2) + a**4 * q**2)
    )
    step = math.sqrt(_step(f, _STEP_LOW) / _step(f, _STEP_HIGH)) * (_STEP_LOW / _STEP_HIGH) ** 2
    return high_pass * low_pass * transition * step


def _step(f: float, corner: float) -> float:
    """Return one side of the upward step, as a ratio to its own low end."""
    q = _STEP_Q
    return (f**4 * q**2 + f**2 * corner**2 * (1 - 2 * q**2) + corner**4 * q**2) / (corner**4 * q**2)


def feel(weighted: float) -> str:
    """Return how an RMS weighted acceleration in m/s2 feels.

    >>> feel(0.2), feel(0.6)
    ('not uncomfortable', 'fairly uncomfortable')
    """
    return next(words for low, words in _FEEL if weighted >= low)

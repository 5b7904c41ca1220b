"""Anti-dive, anti-lift and anti-squat for every torque path, from the slopes of one wheel or axle.

Equation: the share of the load transfer that the linkage holds = sign x share of the force x slope x L / h; the slope is that of the
contact point (b_C) where the torque is reacted on the carrier or axle, that of the wheel centre (b_W) where it is reacted on the body.
Source: virtual work; the same result as Milliken and Milliken, Race Car Vehicle Dynamics, 1995, chapter 17 (from memory).
"""

from typing import NamedTuple


class Anti(NamedTuple):
    """Shares (1 = 100 %) held by the linkage under braking and under power, for both places the torque can be reacted."""

    braking_outboard: float
    braking_inboard: float
    drive_on_body: float
    drive_on_carrier: float


def front(contact_slope: float, wheel_slope: float, lever: float, brake_share: float, drive_share: float) -> Anti:
    """Return anti-dive and (driven front) anti-lift; ``lever`` is wheelbase over mass-centre height, the shares are the front's.

    >>> front(0.05, 0.02, 5.0, 0.6, 0.0)[0]
    0.15
    """
    return Anti(
        brake_share * contact_slope * lever,
        brake_share * wheel_slope * lever,
        drive_share * wheel_slope * lever,
        drive_share * contact_slope * lever,
    )


def rear(contact_slope: float, wheel_slope: float, lever: float, brake_share: float, drive_share: float) -> Anti:
    """Return anti-lift under braking and anti-squat; ``brake_share`` and ``drive_share`` are the rear's own.

    >>> rear(-0.1, -0.08, 5.0, 0.4, 1.0)[2]
    0.4
    """
    return Anti(
        -brake_share * contact_slope * lever,
        -brake_share * wheel_slope * lever,
        -drive_share * wheel_slope * lever,
        -drive_share * contact_slope * lever,
    )

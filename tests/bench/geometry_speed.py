"""Prints how long one position, one state with exact rates and a 41-point sweep take, for every kind of linkage. No assertions.

Run: python3 tests/bench/geometry_speed.py
"""

import platform
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from calc.geometry.forms import examples
from calc.geometry.forms.inputs import rows_of
from calc.geometry.linkages import KINDS
from calc.geometry.linkages.kind import Wheel
from calc.geometry.motion import Corner
from calc.geometry.readings import reading, readings

FIVE_LINK = rows_of("""
wheel_centre 0 780 320
upper_front_inner 130 455 560
upper_front_outer 20 680 580
upper_rear_inner -190 450 545
upper_rear_outer -45 675 575
lower_front_inner 300 390 215
lower_front_outer 45 705 185
lower_rear_inner -40 330 200
lower_rear_outer -20 715 180
tie_rod_inner -150 380 250
tie_rod_outer -145 700 240
""")
CARS = {
    "double_wishbone": examples.DOUBLE_WISHBONE,
    "strut": examples.STRUT,
    "strut_with_rod": examples.STRUT_WITH_ROD,
    "five_link": FIVE_LINK,
    "multi_link": examples.MULTI_LINK,
    "trailing_arm": examples.SEMI_TRAILING,
}
SWEEP = [0.004 * i - 0.08 for i in range(41)]


def best(function, repeats=7, least=0.05):
    """Return the least processor time of one call (s) over some rounds: other work on the machine does not count."""
    count, spent = 1, 0.0
    while spent < least / repeats:
        count *= 2
        start = time.process_time()
        for _ in range(count):
            function()
        spent = time.process_time() - start
    rounds = []
    for _ in range(repeats):
        start = time.process_time()
        for _ in range(count):
            function()
        rounds.append((time.process_time() - start) / count)
    return min(rounds)


def corner(kind):
    """Return the corner of an example."""
    points = {name: tuple(float(text.split()[0]) / 1000 for text in at) for name, *at in CARS[kind]}
    return Corner(KINDS[kind].build(points, Wheel(points["wheel_centre"][2], -0.02, 0.002)))


def main():
    """Print the table."""
    print(f"{platform.python_implementation()} {platform.python_version()} on {platform.machine()}")
    print(
        f"{'linkage':16} {'build':>9} {'position':>9} {'+ rates':>9} {'reading':>9} {'41-point sweep':>15} {'41 readings':>12}"
    )
    for kind in CARS:
        wheel = corner(kind)
        times = (
            best(lambda kind=kind: corner(kind)),
            best(lambda wheel=wheel: wheel.pose(0.04)),
            best(lambda wheel=wheel: wheel.state(0.04)),
            best(lambda wheel=wheel: reading(wheel, wheel.state(0.04))),
            best(lambda wheel=wheel: wheel.sweep(SWEEP)),
            best(lambda wheel=wheel: readings(wheel, SWEEP)),
        )
        one = "".join(f"{1e6 * t:7.0f} us" for t in times[:4])
        print(f"{kind:16}{one} {1e3 * times[4]:12.2f} ms {1e3 * times[5]:9.2f} ms")


main()

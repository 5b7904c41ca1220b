"""The kinds of linkage, one file each: which points they have, how they become members, and their closed form where there is one."""

from collections import defaultdict

from calc.geometry.closed import ClosedForm
from calc.geometry.hinged import HingedArm
from calc.geometry.linkage import Linkage, Pair
from calc.geometry.linkages import double_wishbone, five_link, h_arm, integral_link, multi_link, strut, trailing_arm
from calc.geometry.linkages.kind import Kind

KINDS: dict[str, Kind] = {
    "double_wishbone": double_wishbone.KIND,
    "strut": strut.KIND,
    "strut_with_rod": strut.KIND_WITH_ROD,
    "five_link": five_link.KIND,
    "multi_link": multi_link.KIND,
    "h_arm": h_arm.KIND,
    "integral_link": integral_link.KIND,
    "trailing_arm": trailing_arm.KIND,
}


def closed_form(linkage: Linkage) -> ClosedForm | HingedArm | None:
    """Return the closed form of a linkage, seen from its members alone; none where only the general solver helps."""
    points = linkage.points
    if linkage.hinge:
        return HingedArm(points[linkage.hinge[0]], points[linkage.hinge[1]], points["wheel_centre"])
    joints: dict[str, list[Pair]] = defaultdict(list)
    for link in linkage.links:
        joints[link[1]].append(link)
    arms = [(legs[0], legs[1]) for legs in joints.values() if len(legs) == 2]
    single = [legs[0] for legs in joints.values() if len(legs) == 1]
    if len(single) != 1 or "wheel_centre" not in points or linkage.pins:
        return None
    swinging = linkage.swinging
    if swinging and len(swinging.balls) == 2 and not swinging.rods and not arms:
        return h_arm.TwoBallArm(linkage, swinging.hinge, (swinging.balls[0], swinging.balls[1]), single[0])
    if linkage.slider and len(arms) == 1:
        return strut.Strut(linkage, arms[0], linkage.slider, single[0])
    if not linkage.slider and not swinging and len(arms) == 2:
        lower, upper = sorted(arms, key=lambda legs: points[legs[0][1]][2])
        return double_wishbone.DoubleWishbone(linkage, lower, upper, single[0])
    return None

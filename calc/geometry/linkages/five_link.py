"""Five links, each with its own two joints: no closed form worth using, the general solver moves it."""

from calc.geometry.linkage import Linkage
from calc.geometry.linkages.kind import WHEEL_CENTRE, Kind, Points, Wheel, drawn, link, pair

_LINKS = {
    "upper_front": "front upper link",
    "upper_rear": "rear upper link",
    "lower_front": "front lower link",
    "lower_rear": "rear lower link",
    "tie_rod": "tie rod or toe link",
}


def build(points: Points, wheel: Wheel) -> Linkage:
    """Return the linkage of these points."""
    return drawn(points, wheel)._replace(links=tuple(pair(name) for name in _LINKS), tie_rod=pair("tie_rod"))


KIND = Kind(
    "five links",
    WHEEL_CENTRE | {name: what for each, words in _LINKS.items() for name, what in link(each, words).items()},
    build,
    toe=pair("tie_rod"),
    camber=(pair("upper_front"), pair("upper_rear")),
)

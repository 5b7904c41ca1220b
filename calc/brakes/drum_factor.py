"""Brake factors of drums from the mid-shoe model: how much drag each kind makes, and how nervously."""

import math
from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple

from calc.brakes.care import with_care
from calc.figures.spec import Axis, Chart, Figure, Series
from calc.form import Choice, Input, Output, Remark, Step, calculator
from calc.refusal import Refused
from calc.units import Metres, NewtonMetres, Newtons, Ratio

Kind = Literal["leading and trailing", "two leading", "two trailing", "duo-servo"]


class DrumGeometry(NamedTuple):
    """Radius of the drum, height of the force and of the anchor (or link) from its middle."""

    radius: float
    force_height: float
    anchor_height: float

    @property
    def sprag(self) -> float:
        """The friction at which a shoe locks by itself."""
        return min(self.force_height, self.anchor_height) / self.radius

    def leading(self, mu: float) -> float:
        """Return the factor of a leading shoe."""
        return mu * (self.force_height + self.anchor_height) / (self.anchor_height - mu * self.radius)

    def trailing(self, mu: float) -> float:
        """Return the factor of a trailing shoe."""
        return mu * (self.force_height + self.anchor_height) / (self.anchor_height + mu * self.radius)

    def link(self, mu: float) -> float:
        """Return the force in a duo-servo's link over the force on the primary shoe."""
        return (self.force_height + mu * self.radius) / (self.anchor_height - mu * self.radius)

    def factor(self, kind: Kind, mu: float) -> float:
        """Return drag over the force on one shoe end."""
        if kind == "duo-servo":
            link = self.link(mu)
            anchor = link * (self.anchor_height + mu * self.radius) / (self.force_height - mu * self.radius)
            return mu * ((1 + link) + (link + anchor))
        shoes = {
            "leading and trailing": (self.leading, self.trailing),
            "two leading": (self.leading, self.leading),
            "two trailing": (self.trailing, self.trailing),
        }[kind]
        return sum(shoe(mu) for shoe in shoes)


class DrumFactor(NamedTuple):
    """Brake factor, its sensitivity to friction, and the torque for a force on the shoes."""

    brake_factor: Annotated[Ratio, Output("Brake factor: drag over the force on one shoe end", "C^*", "", 4)]
    sensitivity: Annotated[Ratio, Output("Percent more drag for one percent more friction", "S", "", 3)]
    self_lock: Annotated[Ratio, Output("Friction at which a shoe locks by itself", r"\mu_s", "", 3)]
    torque: Annotated[NewtonMetres | None, Output("Torque of the brake", "T", "N·m")]
    reverse_factor: Annotated[Ratio, Output("Brake factor in reverse", "C^*_r", "", 4)]
    leading_factor: Annotated[Ratio, Output("Factor of a leading shoe", "S_L", "", 4, detail=True)]
    trailing_factor: Annotated[Ratio, Output("Factor of a trailing shoe", "S_T", "", 4, detail=True)]
    link_ratio: Annotated[
        Ratio | None, Output("Link force over the force on the primary shoe", "R/F", "", 4, detail=True)
    ]


_REVERSE: dict[Kind, Kind] = {"two leading": "two trailing", "two trailing": "two leading"}


def _remarks(result: DrumFactor, inputs: Mapping[str, Any]) -> tuple[Remark, ...]:
    disc = 2 * inputs["friction"]
    remarks = [
        Remark(
            f"A disc of the same friction has a factor of {disc:.2g} and follows friction one for one; this drum follows {result.sensitivity:.2g} times.",
            about="sensitivity",
        )
    ]
    if inputs["friction"] > 0.75 * result.self_lock:
        remarks.append(
            Remark("Close to locking by itself: heat, damp or a new lining may grab.", "caution", "self_lock")
        )
    if inputs["kind"] == "duo-servo":
        remarks.append(
            Remark(
                "A duo-servo brake magnifies every difference in friction between left and right: it is the kind that pulls.",
                about="sensitivity",
            )
        )
    return tuple(remarks)


def _figures(result: DrumFactor, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    drum = DrumGeometry(inputs["drum_radius"], inputs["force_height"], inputs["anchor_height"])
    top = min(0.6, 0.85 * drum.sprag)
    frictions = [top * i / 24 for i in range(1, 25)]
    kinds: tuple[Kind, ...] = ("leading and trailing", "two leading", "duo-servo")
    return (
        Chart(
            "Brake factor over lining friction",
            "The more a brake helps itself, the steeper its factor climbs with friction.",
            Axis("Lining friction"),
            Axis("Brake factor"),
            (
                Series("Disc", frictions, [2 * mu for mu in frictions]),
                *(Series(kind.capitalize(), frictions, [drum.factor(kind, mu) for mu in frictions]) for kind in kinds),
                Series("Here", [inputs["friction"]], [result.brake_factor], points=True),
            ),
        ),
    )


@calculator(
    title="Brake factor of a drum",
    question="How much does this drum help itself, and how much does it exaggerate a change of friction?",
    example={
        "kind": "leading and trailing",
        "friction": "0.35",
        "drum_radius": "101.5 mm",
        "force_height": "82 mm",
        "anchor_height": "82 mm",
        "force": "2200 N",
    },
    working=(
        Step(r"S_L = \frac{\mu \, (a + c)}{c - \mu \, r}", "leading_factor"),
        Step(r"S_T = \frac{\mu \, (a + c)}{c + \mu \, r}", "trailing_factor"),
        Step(r"\mu_s = \frac{\min(a, c)}{r}", "self_lock"),
        Step(r"T = C^* \, F \, r", "torque"),
    ),
    remarks=with_care(_remarks),
    figures=_figures,
)
def drum_factor(
    *,
    kind: Annotated[
        Kind,
        Choice(
            "Kind of drum brake",
            {
                "leading and trailing": "leading and trailing shoe",
                "two leading": "two leading shoes",
                "two trailing": "two trailing shoes",
                "duo-servo": "duo-servo: a link between the shoes",
            },
        ),
    ],
    friction: Annotated[Ratio, Input("Lining friction", r"\mu", "", above=0, at_most=1.5, typical=(0.25, 0.5))],
    drum_radius: Annotated[Metres, Input("Radius of the drum", "r", "mm", above=0, at_most=1, typical=(0.08, 0.2))],
    force_height: Annotated[
        Metres,
        Input(
            "Height of the shoe force from the middle of the drum", "a", "mm", above=0, at_most=1, typical=(0.06, 0.18)
        ),
    ],
    anchor_height: Annotated[
        Metres,
        Input(
            "Height of the anchor, or link, from the middle of the drum",
            "c",
            "mm",
            above=0,
            at_most=1,
            typical=(0.06, 0.18),
        ),
    ],
    force: Annotated[Newtons | None, Input("Force on one shoe end", "F", "N", at_least=0, at_most=1e6)] = None,
) -> DrumFactor:
    """Return the brake factor of a drum, its sensitivity to friction and its self-locking limit.

    Equation: S_L = mu (a + c)/(c - mu r), S_T = mu (a + c)/(c + mu r);  duo-servo: link R = F (a + mu r)/(c - mu r),
    anchor T_2 = R (c + mu r)/(a - mu r), C* = mu [(F + R) + (R + T_2)]/F;  sensitivity (dC*/C*)/(dmu/mu).
    Valid for: normal and friction force at the middle of each shoe; a first estimate, long linings differ by a tenth or two.
    Caution: friction at or above the self-locking limit is refused: such a brake cannot be released by the foot.
    Source: moment balance of the shoes, derived; typical factors at friction 0.35: disc 0.7, leading and trailing 1.7 to 2.3,
    two leading 2.5 to 3.5, duo-servo 4 to 5.5 (common practice, no source).

    >>> round(drum_factor(kind="duo-servo", friction=0.35, drum_radius=0.125, force_height=0.1, anchor_height=0.1).brake_factor, 4)
    4.4247
    """
    drum = DrumGeometry(drum_radius, force_height, anchor_height)
    if friction >= drum.sprag:
        raise Refused(
            "friction",
            f"must be less than {drum.sprag:.3g}: at that a shoe locks by itself",
            f"{friction:g}",
            label="Lining friction",
        )
    factor = drum.factor(kind, friction)
    step = 1e-5 * min(friction, drum.sprag - friction)
    slope = (drum.factor(kind, friction + step) - drum.factor(kind, friction - step)) / (2 * step)
    if not math.isfinite(slope):
        raise Refused("friction", "is too close to the self-locking limit", f"{friction:g}")
    return DrumFactor(
        brake_factor=factor,
        sensitivity=slope * friction / factor,
        self_lock=drum.sprag,
        torque=None if force is None else factor * force * drum_radius,
        reverse_factor=drum.factor(_REVERSE.get(kind, kind), friction),
        leading_factor=drum.leading(friction),
        trailing_factor=drum.trailing(friction),
        link_ratio=drum.link(friction) if kind == "duo-servo" else None,
    )

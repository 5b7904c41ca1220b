"""Refusals: what cannot be computed is said in one sentence that names the input, the rule and the value."""

from collections.abc import Sequence


class Refused(ValueError):
    """An input that cannot be used.

    ``input`` is the name of the argument (or of a cell, ``zones[2].speed``), ``rule`` what it has to satisfy, ``value`` what was
    given, as text, and ``hint`` what may help. ``label`` is the input's name in words, where it has one.

    >>> str(Refused("wheelbase", "must be greater than 0 m", "-2 m", label="Wheelbase"))
    'Wheelbase (wheelbase) must be greater than 0 m; got -2 m.'
    """

    def __init__(self, input: str, rule: str, value: object = "", *, hint: str = "", label: str = "") -> None:
        self.input = input
        self.rule = rule
        self.value = value if isinstance(value, str) else repr(value)
        self.hint = hint
        self.label = label
        super().__init__(self.sentence)

    @property
    def sentence(self) -> str:
        """The refusal as the reader sees it."""
        name = f"{self.label} ({self.input})" if self.label else self.input
        got = f"; got {self.value}" if self.value else ""
        hint = f" {self.hint}" if self.hint else ""
        return f"{name} {self.rule}{got}.{hint}"


class RefusedTogether(ValueError):
    """Several refusals at once, so that a reader can mend them all in one go."""

    def __init__(self, refusals: Sequence[Refused]) -> None:
        self.refusals = tuple(refusals)
        super().__init__(" ".join(each.sentence for each in self.refusals))


def refusals_of(problem: Refused | RefusedTogether) -> tuple[Refused, ...]:
    """Return the single refusals that an exception stands for."""
    return problem.refusals if isinstance(problem, RefusedTogether) else (problem,)

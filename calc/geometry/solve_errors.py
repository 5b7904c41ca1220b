"""What a position that does not exist raises inside the solver; readers see a refusal instead."""


class Unreachable(ArithmeticError):
    """No position satisfies the members: the linkage has locked before it got there."""

"""The border: one question in, one answer out, both JSON text. The page's worker, the command line and the build all use it.

A question is an object with ``name`` and ``inputs``, and may have ``verb`` (``evaluate`` if absent), ``units`` (a usual unit to the
one the reader has chosen), ``key`` (starts the identifiers inside figures) and ``figures``: ``true`` if absent, ``false`` for none,
``"drawings"`` for those a point can be dragged in, which may have to come many times in a second. The answer is ``{"answer": ...}``, or
``{"refused": [{"input", "rule", "value", "hint", "sentence"}, ...]}``.
"""

import json
import re
from collections.abc import Callable, Mapping
from typing import Any, Literal, NoReturn

from calc.ask.describe import describe, list_all
from calc.ask.evaluate import evaluate
from calc.refusal import Refused, RefusedTogether, refusals_of

LONGEST_QUESTION = 200_000  # characters
DEEPEST_QUESTION = 20  # a parser in the browser ends for good where one on the host would raise
_BRACKET = re.compile(r'"(?:[^"\\]|\\.)*"|[\[{]|[\]}]')


def answer(question: str) -> str:
    """Return the answer to one question.

    >>> print(answer('{"name": "ride_frequency", "inputs": {"sprung_mass": -1}}'))  # doctest: +ELLIPSIS
    {"refused": [{"input": ...
    """
    try:
        said = {"answer": answer_object(_parse(question))}
    except (Refused, RefusedTogether) as problem:
        said = {"refused": [_refusal(each) for each in refusals_of(problem)]}
    return json.dumps(said, ensure_ascii=False, allow_nan=False)


def answer_object(question: Mapping[str, Any]) -> Any:
    """Return the answer to a question that is already a mapping. Raises ``Refused`` or ``RefusedTogether``."""
    verb = question.get("verb", "evaluate")
    if not isinstance(verb, str) or verb not in _VERBS:
        raise Refused("verb", f"must be one of {', '.join(_VERBS)}", repr(verb)[:80])
    return _VERBS[verb](question)


def _evaluate(question: Mapping[str, Any]) -> Any:
    return evaluate(
        _text(question, "name"),
        _mapping(question, "inputs"),
        _mapping(question, "units"),
        figures=_figures(question),
        key=_text(question, "key", "figure"),
    )


def _figures(question: Mapping[str, Any]) -> bool | Literal["drawings"]:
    wanted = question.get("figures", True)
    if wanted == "drawings":
        return "drawings"
    return wanted is not False


def _solve(question: Mapping[str, Any]) -> Any:
    from calc.ask.solve import solve

    return solve(
        *_asked(question),
        output=_text(question, "output"),
        target=question.get("target"),
        vary=_text(question, "vary"),
        low=question.get("low"),
        high=question.get("high"),
        among=_list_or_none(question, "among"),
        units=_mapping(question, "units"),
    )


def _sweep(question: Mapping[str, Any]) -> Any:
    from calc.ask.sweep import sweep

    return sweep(
        *_asked(question),
        vary=_text(question, "vary"),
        outputs=[str(each) for each in _list_or_none(question, "outputs") or ()],
        low=question.get("low"),
        high=question.get("high"),
        count=question.get("count", 41),
        family=_mapping(question, "family") or None,
        units=_mapping(question, "units"),
        key=_text(question, "key", "sweep"),
    )


def _tolerance(question: Mapping[str, Any]) -> Any:
    from calc.ask.tolerance import SAMPLES, tolerance

    return tolerance(
        *_asked(question),
        tolerances=_mapping(question, "tolerances"),
        samples=question.get("samples", SAMPLES),
        units=_mapping(question, "units"),
    )


def _compare(question: Mapping[str, Any]) -> Any:
    from calc.ask.compare import compare

    return compare(
        *_asked(question),
        changed=_mapping(question, "changed"),
        units=_mapping(question, "units"),
        key=_text(question, "key", "compare"),
    )


def _optimise(question: Mapping[str, Any]) -> Any:
    from calc.ask.optimise import optimise

    return optimise(
        *_asked(question),
        vary=_mapping(question, "vary"),
        goals=_list_or_none(question, "goals") or [],
        generations=question.get("generations", 60),
        seed=question.get("seed", 1),
        state=_mapping(question, "state") or None,
        at_once=question.get("at_once"),
        units=_mapping(question, "units"),
    )


def _asked(question: Mapping[str, Any]) -> tuple[str, Mapping[str, Any]]:
    return _text(question, "name"), _mapping(question, "inputs")


def _describe(question: Mapping[str, Any]) -> Any:
    return describe(_text(question, "name"))


def _list(question: Mapping[str, Any]) -> Any:
    return list_all()


def _live(question: Mapping[str, Any]) -> Any:
    from calc.live import run

    return run(_text(question, "source"))


_VERBS: dict[str, Callable[[Mapping[str, Any]], Any]] = {
    "evaluate": _evaluate,
    "solve": _solve,
    "sweep": _sweep,
    "tolerance": _tolerance,
    "compare": _compare,
    "optimise": _optimise,
    "describe": _describe,
    "list": _list,
    "run": _live,
}


def _parse(question: str) -> Mapping[str, Any]:
    if len(question) > LONGEST_QUESTION:
        raise Refused("question", f"must be at most {LONGEST_QUESTION} characters", f"{len(question)} characters")
    if _depth(question) > DEEPEST_QUESTION:
        raise Refused("question", f"must be nested at most {DEEPEST_QUESTION} deep")
    try:
        parsed = json.loads(question, parse_constant=_no_constant)
    except json.JSONDecodeError as problem:
        raise Refused("question", "must be JSON", hint=f"It breaks at character {problem.pos}.") from None
    if not isinstance(parsed, dict):
        raise Refused("question", "must be a JSON object")
    return parsed


def _depth(text: str) -> int:
    """Return how deeply lists and objects are nested."""
    depth = deepest = 0
    for token in _BRACKET.findall(text):
        depth += token in {"[", "{"}
        depth -= token in {"]", "}"}
        deepest = max(deepest, depth)
    return deepest


def _no_constant(word: str) -> NoReturn:
    raise Refused("question", "must hold finite numbers only", word)


def _mapping(question: Mapping[str, Any], name: str) -> Mapping[str, Any]:
    value = question.get(name)
    if value is None:
        return {}
    if not isinstance(value, dict):
        raise Refused(name, "must be a JSON object", repr(value)[:80])
    return value


def _list_or_none(question: Mapping[str, Any], name: str) -> list[Any] | None:
    value = question.get(name)
    if value is not None and not isinstance(value, list):
        raise Refused(name, "must be a list", repr(value)[:80])
    return value


def _text(question: Mapping[str, Any], name: str, default: str | None = None) -> str:
    value = question.get(name, default)
    if not isinstance(value, str):
        raise Refused(name, "is needed, as text", "" if value is None else repr(value)[:80])
    return value


def _refusal(problem: Refused) -> dict[str, str]:
    parts = ("input", "rule", "value", "hint", "sentence")
    return {part: str(getattr(problem, part)) for part in parts}

"""The values of a page: what its fences were given and answered, references between them, promises, and numbers in the text."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, NamedTuple

from calc.display import Shown, with_unit
from calc.refusal import Refused
from calc.units import UNITS, split, unit
from site_build import asking, cars
from site_build.fences import CalcFence
from site_build.problems import PageProblem, nearest

_INLINE = re.compile(r"(?<!`)`=(?P<path>[^`]+)`(?!`)")
_ASKED = re.compile(r"(?P<path>\S+?)(?:\s+in\s+(?P<unit>\S.*?))?(?:\s+to\s+(?P<figures>\d))?\s*")
INLINE_FIGURES = 3


class Worked(NamedTuple):
    """A fence with its answer: ``texts`` are the inputs as the form shows them, and exactly they were answered."""

    id: str
    option: str
    about: Mapping[str, Any]
    texts: Mapping[str, Any]
    answer: Mapping[str, Any]
    line: int
    nth: int  # how many fences of the page ask this calculator, up to this one


class Page:
    """The fences of one page, worked one after another."""

    def __init__(self, where: str) -> None:
        self.where = where
        self.worked: dict[str, Worked] = {}

    def work(self, fence: CalcFence) -> Worked:
        """Answer a fence, check what it promises, and keep it for later references."""
        identifier = self._identifier(fence)
        try:
            about = asking.describe(fence.name)
            texts = self._texts(fence, about)
            answer = asking.ask({"name": fence.name, "inputs": texts, "key": identifier})
        except (asking.NotAnswered, Refused, cars.NoSuchValue) as problem:
            raise PageProblem(self.where, fence.line, str(problem)) from None
        nth = 1 + sum(each.about["name"] == fence.name for each in self.worked.values() if each.option == fence.option)
        done = Worked(identifier, fence.option, about, texts, answer, fence.line, nth)
        self.worked[identifier] = done
        for name, promise in fence.expect.items():
            self._check(done, name, str(promise))
        return done

    def inline(self, line: str, number: int) -> str:
        """Return a line with each `` `=path` `` replaced by its value with unit."""
        return _INLINE.sub(lambda found: self._written(found["path"], number), line)

    def _identifier(self, fence: CalcFence) -> str:
        if fence.id in self.worked:
            raise PageProblem(self.where, fence.line, f"#{fence.id} is already the name of an earlier fence")
        if fence.id:
            return fence.id
        taken = [name for name in self.worked if re.fullmatch(rf"{re.escape(fence.name)}(-\d+)?", name)]
        return f"{fence.name}-{len(taken) + 1}" if taken else fence.name

    def _texts(self, fence: CalcFence, about: Mapping[str, Any]) -> dict[str, Any]:
        """Return every input of the form as text: given ones, else the example's where the body is empty, else defaults."""
        given = dict(fence.inputs) or dict(about["example"])
        known = [parameter["name"] for parameter in about["inputs"]]
        for name in given:
            if name not in known:
                raise PageProblem(self.where, fence.line, f"{fence.name} has no input {name!r}. {nearest(name, known)}")
        texts = {}
        for parameter in about["inputs"]:
            name = parameter["name"]
            if name in given:
                texts[name] = self._text(parameter, given[name], fence.line)
            elif not parameter["required"]:
                texts[name] = shown(parameter, parameter["default"])
        return texts

    def _text(self, parameter: Mapping[str, Any], value: Any, line: int) -> Any:
        if parameter["kind"] == "table" and isinstance(value, str) and value.startswith("@"):
            value = cars.lookup(value[1:])
        if parameter["kind"] == "table" and isinstance(value, list):
            return [self._row(parameter, row, line) for row in value]
        if isinstance(value, str) and value.startswith("@"):
            return shown(parameter, cars.lookup(value[1:]))
        if isinstance(value, str) and value.startswith("="):
            return shown(parameter, self._referred(value[1:], line))
        return shown(parameter, value)

    def _row(self, parameter: Mapping[str, Any], row: Any, line: int) -> Any:
        columns = parameter["columns"]
        if isinstance(row, Mapping):
            for name in row:
                if name not in (known := [column["name"] for column in columns]):
                    raise PageProblem(
                        self.where, line, f"{parameter['name']} has no column {name!r}. {nearest(name, known)}"
                    )
            row = [row.get(column["name"], column["default"]) for column in columns]
        if not isinstance(row, list | tuple) or len(row) != len(columns):
            raise PageProblem(
                self.where,
                line,
                f"a row of {parameter['name']} has {len(columns)} cells: {', '.join(c['name'] for c in columns)}",
            )
        return [self._text(column, cell, line) for column, cell in zip(columns, row, strict=True)]

    def _referred(self, path: str, line: int) -> Any:
        """Return an earlier result with the digits a reader would copy into the next form; what the form shows is what is answered."""
        value = self._value(path, line)[0]
        return float(f"{value:.5g}") if isinstance(value, float) else value

    def _value(self, path: str, line: int) -> tuple[Any, str, int]:
        """Return the SI value, the usual unit and the digits of ``id.result`` or ``id.inputs.name``."""
        identifier, _, rest = path.partition(".")
        if identifier not in self.worked:
            raise PageProblem(
                self.where, line, f"no fence above is named #{identifier}. {nearest(identifier, self.worked)}"
            )
        done = self.worked[identifier]
        if rest.startswith("inputs."):
            name = rest.removeprefix("inputs.")
            found = next((each for each in done.about["inputs"] if each["name"] == name), None)
            if found is None:
                raise PageProblem(
                    self.where, line, f"{identifier} has no input {name!r}. {nearest(name, done.answer['inputs'])}"
                )
            return done.answer["inputs"].get(name), found["unit"], 0
        for about, result in zip(done.about["outputs"], done.answer["outputs"], strict=True):
            if about["name"] == rest:
                return result["value"], about["unit"], INLINE_FIGURES
        names = [each["name"] for each in done.about["outputs"]]
        raise PageProblem(self.where, line, f"{identifier} has no result {rest!r}. {nearest(rest, names)}")

    def _written(self, asked: str, line: int) -> str:
        found = _ASKED.fullmatch(asked)
        if not found:
            raise PageProblem(self.where, line, f"`={asked}` is not understood; write `=id.result in unit`")
        try:
            value, usual, figures = (
                self._car(found["path"]) if found["path"].startswith("@") else self._value(found["path"], line)
            )
            wanted = unit(found["unit"]).symbol if found["unit"] else usual
            return in_text(value, usual, wanted, int(found["figures"] or figures))
        except (Refused, cars.NoSuchValue) as problem:
            raise PageProblem(self.where, line, str(problem)) from None

    def _car(self, path: str) -> tuple[Any, str, int]:
        value = cars.lookup(path[1:])
        try:
            number, name = split(str(value))
        except Refused:
            return value, "", 0
        said = unit(name)
        return said.to_si(number), said.symbol, 0

    def _check(self, done: Worked, name: str, promise: str) -> None:
        """Refuse a promise that the answer does not keep, to the digits written."""
        value, usual, _ = self._value(f"{done.id}.{name}", done.line)
        if not isinstance(value, int | float):
            said = "none" if value is None else str(value)
            if said != promise:
                raise PageProblem(self.where, done.line, f"{name} is promised to be {promise}, but it is {said}")
            return
        try:
            number, written = split(promise)
            promised = unit(written) if written else UNITS[usual]
        except Refused as problem:
            raise PageProblem(self.where, done.line, f"expect {name}: {problem}") from None
        if promised.dimension != UNITS[usual].dimension:
            raise PageProblem(self.where, done.line, f"expect {name}: {promise} must measure {UNITS[usual].dimension}")
        found = promised.from_si(value)
        if abs(found - number) > half_digit(promise) * (1 + 1e-9):
            raise PageProblem(
                self.where,
                done.line,
                f"{name} is promised to be {promise}, but it is {found:.6g} {promised.symbol}".rstrip(),
            )


def half_digit(text: str) -> float:
    """Return half of the last digit written.

    >>> half_digit("2.23 Hz"), half_digit("1160 kg")
    (0.005, 0.5)
    """
    found = re.match(r"[^0-9]*\d[\d\s]*(?:[.,](\d+))?(?:[eE]([+\-−]?\d+))?", text)
    places = len(found[1] or "") if found else 0
    power = int((found[2] or "0").replace("−", "-")) if found else 0
    return 0.5 * 10.0 ** (power - places)


def in_text(value: Any, usual: str, wanted: str, figures: int) -> str:
    """Return a value as it stands in a sentence; ``figures`` 0 keeps all digits of what somebody wrote."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    text, symbol = Shown({usual: wanted}).value(value, usual, figures or 6, trim=not figures)
    return with_unit(text, symbol)


def shown(parameter: Mapping[str, Any], value: Any) -> Any:
    """Return an input as a form shows it: a text with one of the units the form offers, as written where that is possible."""
    kind = parameter["kind"]
    if value is None or value == "":
        return ""
    if kind == "table":
        return [[shown(column, cell) for column, cell in zip(parameter["columns"], row, strict=True)] for row in value]
    if kind in {"choice", "text", "switch"}:
        return value
    if not parameter["units"]:
        return plain(value) if isinstance(value, int | float) else value
    usual = UNITS[parameter["unit"]]
    if isinstance(value, str):
        number, name = split(value)
        said = unit(name) if name else None
        if said is None or said.dimension != usual.dimension:  # SI, or for calc to refuse in its own words
            return value if name or not usual.symbol else joined(plain(usual.from_si(number)), usual.symbol)
        if said.symbol in [each["symbol"] for each in parameter["units"]]:
            return joined(value.strip().removesuffix(name).strip() if name else value.strip(), said.symbol)
        value = said.to_si(number)
    return joined(plain(usual.from_si(float(value))), usual.symbol)


def joined(number: str, symbol: str) -> str:
    """Return the text of a number with its unit, as a question carries it."""
    return f"{number} {symbol}" if symbol else number


def plain(value: float) -> str:
    """Return a number as somebody would type it: at most six digits after the leading one, no separators, no exponent.

    >>> plain(52.9057048), plain(2560.0), plain(0.00001234)
    ('52.9057', '2560', '0.00001234')
    """
    text = f"{float(f'{value:.6g}'):.12f}"
    return text.rstrip("0").rstrip(".") if "." in text else text

"""Where in a TOML text each key stands, and what is wrong with a text that is not TOML."""

import re
import tomllib
from typing import Any, NamedTuple

_HEADER = re.compile(r"\s*\[\s*([A-Za-z0-9_.\- ]+?)\s*\]\s*(?:#.*)?$")
_KEY = re.compile(r"\s*([A-Za-z0-9_\-]+(?:\s*\.\s*[A-Za-z0-9_\-]+)*)\s*=")
_DECIMAL_COMMA = re.compile(r"=\s*[+\-]?\d+,\d+")
_BARE_UNIT = re.compile(r"=\s*[+\-]?\d+(?:[.,]\d+)?\s*[^\s\d#\"',\]\[}.eE_:\-][^\s#\"']*")


class Problem(NamedTuple):
    """One thing wrong with a file: its line, its key, what was given, the rule it breaks, and what may help."""

    line: int
    key: str
    rule: str
    value: str = ""
    hint: str = ""

    @property
    def sentence(self) -> str:
        """The problem as the reader sees it."""
        where = f"Line {self.line}: " if self.line else ""
        got = f"; got {self.value}" if self.value else ""
        hint = f" {self.hint}" if self.hint else ""
        return f"{where}{self.key} {self.rule}{got}.{hint}"


class FileProblems(ValueError):
    """Everything that is wrong with a file, at once."""

    def __init__(self, problems: list[Problem]) -> None:
        self.problems = tuple(sorted(problems, key=lambda each: each.line))
        super().__init__("\n".join(each.sentence for each in self.problems))


def parse(text: str) -> dict[str, Any]:
    """Return the tables of a TOML text. A text that is none is refused with its line and a hint where one is known."""
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as problem:
        raise FileProblems([_syntax(text, str(problem))]) from None
    except RecursionError:
        raise FileProblems([Problem(0, "The file", "must not be nested this deeply")]) from None


def _syntax(text: str, said: str) -> Problem:
    found = re.search(r"at line (\d+)", said)
    number = int(found[1]) if found else text.count("\n") + 1
    lines = text.splitlines()
    line = lines[number - 1] if 0 < number <= len(lines) else ""
    rule = re.sub(r"\s*\(at .*\)$", "", said)
    return Problem(
        number, "The file", f"is not valid TOML here: {rule[:1].lower()}{rule[1:]}", line.strip()[:60], _hint(line)
    )


def _hint(line: str) -> str:
    if _DECIMAL_COMMA.search(line):
        return 'Put a value with a decimal comma in quotes, with its unit: "1,5 mm".'
    if _BARE_UNIT.search(line):
        return 'Put a value with a unit in quotes: "60 N/mm".'
    return ""


def lines_of(text: str) -> dict[str, int]:
    """Return the line of every key by its dotted path, and of every section.

    >>> lines_of('[mass]\\nfront_left = "312 kg"')
    {'mass': 1, 'mass.front_left': 2}
    """
    section = ""
    found: dict[str, int] = {}
    for number, line in enumerate(text.splitlines(), start=1):
        if header := _HEADER.match(line):
            section = _tidy(header[1])
            found.setdefault(section, number)
        elif key := _KEY.match(line):
            path = ".".join(part for part in (section, _tidy(key[1])) if part)
            found.setdefault(path, number)
    return found


def _tidy(path: str) -> str:
    return re.sub(r"\s*\.\s*", ".", path)

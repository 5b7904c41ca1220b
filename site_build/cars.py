"""The scenario cars, read by dotted path: ``tarn-20.body.wheelbase`` is that value in ``scenarios/cars/tarn-20.toml``."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path
from typing import Any

from site_build.problems import nearest
from site_build.project import REPOSITORY

CARS = REPOSITORY / "scenarios" / "cars"


class NoSuchValue(Exception):
    """A path that leads nowhere; the text says where it stopped."""


@cache
def _load(file: Path, written: float) -> dict[str, Any]:
    return tomllib.loads(file.read_text(encoding="utf-8"))


def names(folder: Path = CARS) -> list[str]:
    """Return the names of the cars."""
    return sorted(file.stem for file in folder.glob("*.toml"))


def lookup(path: str, folder: Path = CARS) -> Any:
    """Return the value at a dotted path, as it is written in the car's file.

    >>> lookup("tarn-20.body.wheelbase")
    '2560 mm'
    """
    car, *steps = path.split(".")
    if car not in names(folder):
        raise NoSuchValue(f"there is no car {car!r}. {nearest(car, names(folder))}")
    file = folder / f"{car}.toml"
    value: Any = _load(file, file.stat().st_mtime)
    for depth, step in enumerate(steps):
        if not isinstance(value, dict) or step not in value:
            known = list(value) if isinstance(value, dict) else []
            raise NoSuchValue(f"{'.'.join((car, *steps[:depth]))} has no {step!r}. {nearest(step, known)}")
        value = value[step]
    if isinstance(value, dict):
        raise NoSuchValue(f"{path} is a table, not a value. {nearest('', value)}")
    return value

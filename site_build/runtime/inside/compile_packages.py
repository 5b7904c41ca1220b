"""Runs inside Pyodide, on the trimmed library: compile our packages into one zip and prove that every module loads."""

from __future__ import annotations

import ast
import importlib
import json
import sys
import zipfile
from collections.abc import Iterable, Iterator
from pathlib import Path

from packing import add_module


def main(arguments: str) -> str:
    """Write the zip; answer {"modules": how many, "problems": sentences}."""
    told = json.loads(arguments)
    target = Path(told["target"])
    sources = {name: Path(told["root"], name) for name in told["sources"]}
    with zipfile.ZipFile(target, "w") as packed:
        for name in sorted(sources):
            # docstrings stay: help() in a live cell should speak
            code = compile(sources[name].read_bytes(), name, "exec", dont_inherit=True, optimize=0)
            add_module(packed, name, code)
    sys.path.insert(0, str(target))
    problems = [*unloadable(modules(sources)), *missing_from_library(sources)]
    return json.dumps({"modules": len(sources), "problems": problems})


def modules(names: Iterable[str]) -> list[str]:
    """Return dotted module names of source files; an entry point for the command line is left alone."""
    dotted = (name.removesuffix(".py").removesuffix("/__init__").replace("/", ".") for name in sorted(names))
    return [name for name in dotted if not name.endswith("__main__")]


def unloadable(names: list[str]) -> Iterator[str]:
    """Yield a sentence for each module that does not load."""
    for name in names:
        try:
            importlib.import_module(name)
        except Exception as problem:  # whatever a module does wrong, the others are still worth trying
            yield f"{name} does not load in the browser: {type(problem).__name__}: {problem}"


def missing_from_library(sources: dict[str, Path]) -> Iterator[str]:
    """Yield a sentence for each import, also one inside a function, that the trimmed library cannot serve."""
    seen: set[str] = set()
    for name, path in sorted(sources.items()):
        for wanted in imports(path):
            if wanted in seen:
                continue
            seen.add(wanted)
            try:
                importlib.import_module(wanted)
            except ImportError:
                yield f"{name} imports {wanted}, which the browser's library lacks: add it to runtime/library.txt"


def imports(path: Path) -> Iterator[str]:
    """Yield the absolute modules that a source file imports anywhere."""
    for node in ast.walk(ast.parse(path.read_bytes())):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            yield node.module

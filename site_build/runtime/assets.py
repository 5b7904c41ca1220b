"""The files of `assets/python/`, made once and cached under the hash of what they are made of."""

from __future__ import annotations

import hashlib
import shutil
import tempfile
from collections.abc import Callable, Iterable
from pathlib import Path

from site_build.project import ENGINE
from site_build.runtime import node

ENGINE_FILES = ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm")
LIBRARY = "python_stdlib.zip"
CALC = "calc.zip"
KEPT = Path(__file__).parent / "library.txt"
KEEP_CACHED = 6


class RuntimeProblem(ValueError):
    """Our Python cannot travel to the browser as it is; the text says why."""


def assemble(calc: Path, cache: Path) -> dict[str, Path]:
    """Return {name in assets/python/: file to copy}, making what the cache lacks."""
    compiled = trimmed_library(cache)
    files = {name: ENGINE / name for name in ENGINE_FILES}
    return {**files, LIBRARY: compiled, CALC: packages(calc, compiled, cache)}


def sources_of(calc: Path) -> list[str]:
    """Return the Python files that travel, named from the folder that holds `calc`."""
    return [path.relative_to(calc.parent).as_posix() for path in sorted(calc.rglob("*.py")) if not is_test(path)]


def is_test(path: Path) -> bool:
    """Return whether a file stands among the sources only to test them."""
    return path.name.startswith("test_") or path.name == "conftest.py"


def trimmed_library(cache: Path) -> Path:
    """Return the compiled, trimmed standard library."""
    stock = ENGINE / LIBRARY
    key = fingerprint([stock.read_bytes(), *tools(), KEPT.read_bytes()])

    def make(folder: Path) -> None:
        told = {"kept": kept_modules(), "target": f"/made/{LIBRARY}"}
        node.run_inside("compile_library", told, mounts={"/made": folder})

    return cached(cache, f"library-{key}", make) / LIBRARY


def kept_modules() -> list[str]:
    """Return the module names of library.txt."""
    lines = KEPT.read_text(encoding="utf-8").splitlines()
    return [name for line in lines if not line.startswith("#") for name in line.split()]


def packages(calc: Path, compiled_library: Path, cache: Path) -> Path:
    """Return the zip of `calc`, compiled, after a proof that every module of it loads on that library."""
    sources = sources_of(calc)
    texts = [part for name in sources for part in (name.encode(), (calc.parent / name).read_bytes())]
    key = fingerprint([*tools(), compiled_library.parent.name.encode(), *texts])

    def make(folder: Path) -> None:
        told = node.run_inside(
            "compile_packages",
            {"target": f"/made/{CALC}", "root": "/source", "sources": sources},
            mounts={"/made": folder, f"/source/{calc.name}": calc.resolve()},
            library=compiled_library,
        )
        if told["problems"]:
            raise RuntimeProblem("\n".join(told["problems"]))

    return cached(cache, f"calc-{key}", make) / CALC


def cached(cache: Path, name: str, make: Callable[[Path], None]) -> Path:
    """Return the folder `name` of the cache; where it is missing, `make` fills it and only then it appears."""
    shelf = cache / "runtime"
    target = shelf / name
    if not target.is_dir():
        shelf.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=shelf, prefix="new-") as working:
            folder = Path(working) / "made"
            folder.mkdir()
            make(folder)
            if not target.is_dir():  # another build may have been quicker
                folder.rename(target)
        forget_oldest(shelf, name.split("-")[0])
    target.touch()
    return target


def forget_oldest(shelf: Path, kind: str) -> None:
    """Delete all but the newest few of one kind."""
    found = sorted(shelf.glob(f"{kind}-*"), key=lambda path: path.stat().st_mtime, reverse=True)
    for old in found[KEEP_CACHED:]:
        shutil.rmtree(old, ignore_errors=True)


def fingerprint(parts: Iterable[bytes]) -> str:
    """Return a short hash of the parts, each with its length, so that no two lists look alike."""
    total = hashlib.sha256()
    for part in parts:
        total.update(len(part).to_bytes(8, "big") + part)
    return total.hexdigest()[:16]


def tools() -> list[bytes]:
    """Return the texts of what runs inside, since a change there changes what it makes."""
    return [path.read_bytes() for path in (node.RUNNER, *sorted(node.INSIDE.glob("*.py")))]

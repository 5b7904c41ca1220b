"""Run `calc`'s own tests inside Pyodide under node: the same tests, the browser's Python."""

from __future__ import annotations

import ast
import subprocess
import sys
import zipfile
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from site_build.project import REPOSITORY
from site_build.runtime import node
from site_build.runtime.assets import cached, fingerprint

PINS = REPOSITORY / "site_build" / "requirements-test.txt", REPOSITORY / "site_build" / "requirements.txt"
# pytest, hypothesis and what those two import; all pure Python
WHEELS = ("pytest", "pluggy", "iniconfig", "packaging", "Pygments", "hypothesis", "sortedcontainers")
# What exists only on the host, so a test that imports it stays there.
HOST_ONLY = {"numpy", "scipy", "pint", "playwright", "site_build", "subprocess", "markdown_it", "mkdocs"}
# Minutes of computing even on the host; what they would show here, the comparison of all answers shows sooner.
TOO_LONG = {"test_every_verb.py", "test_fuzz.py"}
HOST_FOLDERS = ("site_build", "browser", "browser_unit", "runtime", "bench")


def run(cache: Path, words: Sequence[str] = ()) -> dict[str, Any]:
    """Run the suite; return {"code", "printed", "passed", ...}.

    words: pytest arguments instead of the whole suite.
    """
    chosen = list(words) or ["calc", *(path.relative_to(REPOSITORY).as_posix() for path in portable_tests())]
    result: dict[str, Any] = node.run_inside(
        "run_tests", {"words": chosen}, mounts={"/wheels": wheels(cache), "/repository": REPOSITORY}
    )
    return result


def portable_tests(root: Path = REPOSITORY / "tests") -> Iterator[Path]:
    """Yield the test files that need nothing of the host."""
    for path in sorted(root.rglob("test_*.py")):
        stays = path.relative_to(root).parts[0] in HOST_FOLDERS or path.name in TOO_LONG
        if not stays and not imports(path) & HOST_ONLY:
            yield path


def imports(path: Path) -> set[str]:
    """Return the top packages that a file imports."""
    found: set[str] = set()
    for statement in ast.walk(ast.parse(path.read_bytes())):
        if isinstance(statement, ast.Import):
            found.update(alias.name.split(".")[0] for alias in statement.names)
        elif isinstance(statement, ast.ImportFrom) and statement.module:
            found.add(statement.module.split(".")[0])
    return found


def wheels(cache: Path) -> Path:
    """Return a folder with the unpacked test tools, fetched once by pip."""
    wanted = [pin for file in PINS for pin in file.read_text("utf-8").splitlines() if pin.split("==")[0] in WHEELS]

    def make(folder: Path) -> None:
        downloads = folder / ".downloads"
        words = "-q --disable-pip-version-check --no-deps --only-binary=:all: --python-version=3.14"
        any_machine = "--implementation=py --abi=none --platform=any"
        command = [sys.executable, "-m", "pip", "download", *words.split(), *any_machine.split()]
        subprocess.run([*command, "-d", str(downloads), *wanted], check=True, capture_output=True)
        for wheel in sorted(downloads.glob("*.whl")):
            with zipfile.ZipFile(wheel) as packed:
                packed.extractall(folder)

    return cached(cache, f"wheels-{fingerprint(pin.encode() for pin in wanted)}", make)

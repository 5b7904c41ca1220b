"""Run a Python script inside the browser's Python, under node: the build's way into Pyodide."""

from __future__ import annotations

import json
import shutil
import subprocess
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from site_build import bootstrap
from site_build.project import BROWSER, ENGINE

INSIDE = Path(__file__).parent / "inside"
RUNNER = Path(__file__).parent / "inside.mjs"


class InsideError(RuntimeError):
    """The script inside failed; the text is its traceback."""


def run_inside(
    script: str,
    arguments: Any,
    *,
    mounts: Mapping[str, Path] | None = None,
    library: Path | None = None,
    archives: Sequence[Path] = (),
    quiet: bool = True,
) -> Any:
    """Return what `main(arguments)` of `inside/SCRIPT.py` answers inside Pyodide; both sides are JSON text.

    mounts: folder inside -> folder of this machine.  library: a standard library instead of the stock one.
    archives: zips unpacked beside the site packages.  quiet: keep what the script prints out of the terminal.
    """
    with tempfile.TemporaryDirectory() as folder:
        job, result = Path(folder) / "job.json", Path(folder) / "result.json"
        job.write_text(
            json.dumps(
                {
                    "engine": str(ENGINE),
                    "settings": str(BROWSER / "engine.js"),
                    "library": None if library is None else str(library),
                    "archives": [str(archive) for archive in archives],
                    "mounts": {name: str(folder) for name, folder in {**(mounts or {}), "/inside": INSIDE}.items()},
                    "script": script,
                    "arguments": arguments,
                    "result": str(result),
                }
            ),
            encoding="utf-8",
        )
        told = subprocess.run(
            [node(), str(RUNNER), str(job)], capture_output=quiet, text=True, check=False, encoding="utf-8"
        )
        if told.returncode:
            raise InsideError(shorten(told.stderr or "") or f"node ended with {told.returncode}")
        return json.loads(result.read_text(encoding="utf-8"))


def node() -> str:
    """Return the path of the Node to use."""
    found = shutil.which("node", path=bootstrap.node_environment()["PATH"])
    if found is None:
        raise InsideError("node was not found; run: python3 -m site_build setup")
    return found


def shorten(text: str, lines: int = 40, width: int = 400) -> str:
    """Return the end of an error text without overlong lines."""
    return "\n".join(line[:width] for line in text.strip().splitlines()[-lines:])

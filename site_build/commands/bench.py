"""`bench`: figures and ratios to read, never to pass or fail by."""

from __future__ import annotations

import subprocess
import sys

from site_build.project import REPOSITORY


def main(arguments: list[str]) -> int:
    """Run tests/bench with `arguments`."""
    return subprocess.run([sys.executable, "-m", "tests.bench", *arguments], cwd=REPOSITORY, check=False).returncode

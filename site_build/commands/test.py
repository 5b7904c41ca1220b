"""`test`: the whole suite, with a plain word about what this machine lacks."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

from site_build.project import REPOSITORY

CHROMIUM_ADVICE = (
    "Chromium is not installed; the browser tests are left out. On Debian and Ubuntu: apt install chromium. "
    "Elsewhere set CHROMIUM to the path of one, or run: .venv/bin/playwright install chromium"
)


def main(arguments: list[str]) -> int:
    """Run pytest with `arguments`; with CI=true nothing may be missing or skipped."""
    if arguments in (["-h"], ["--help"]):
        print("python3 -m site_build test [pytest arguments]\n\nFor example: test tests/site_build -k server")
        return 0
    chosen = ["-p", "site_build.commands.no_skips"] if in_ci() else []
    if chromium() is None:
        print(CHROMIUM_ADVICE, file=sys.stderr)
        if in_ci():
            return 1
        chosen = ["-m", "not browser"]
    command = [sys.executable, "-m", "pytest", *chosen, *arguments]
    return subprocess.run(command, cwd=REPOSITORY, check=False).returncode


def in_ci() -> bool:
    """Return whether nothing may be skipped."""
    return os.environ.get("CI", "").lower() in ("1", "true", "yes")


def chromium() -> str | None:
    """Return the path of a Chromium of this machine."""
    names = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
    return os.environ.get("CHROMIUM") or next(filter(None, map(shutil.which, names)), None) or downloaded()


def downloaded() -> str | None:
    """Return the path of the Chromium that Playwright keeps for itself, if it has one."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        path = playwright.chromium.executable_path
    return path if Path(path).exists() else None

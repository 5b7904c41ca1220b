"""`check`: everything that can be said about the sources without running the tests."""

from __future__ import annotations

import argparse
import subprocess
import sys
import time

from site_build import bootstrap
from site_build.project import NODE_MODULES, REPOSITORY
from site_build.runtime.node import node

BROWSER_TESTS = REPOSITORY / "tests" / "browser_unit"


def main(arguments: list[str]) -> int:
    """Run every check, also after one has failed; return 0 when all passed."""
    parser = argparse.ArgumentParser(prog="python3 -m site_build check", description="Check the sources.")
    parser.add_argument("names", nargs="*", metavar="NAME", help=f"only these of: {', '.join(checks())}")
    chosen = parser.parse_args(arguments).names
    unknown = set(chosen) - set(checks())
    if unknown:
        parser.error(f"no check named {', '.join(sorted(unknown))}")
    failed = [
        name for name, command in checks().items() if (not chosen or name in chosen) and not passes(name, command)
    ]
    print(f"failed: {', '.join(failed)}" if failed else "all checks passed")
    return 1 if failed else 0


def checks() -> dict[str, list[str]]:
    """Return {name: command}."""
    tsc = [node(), str(NODE_MODULES / "typescript" / "bin" / "tsc")]
    browser = "site_build/browser"
    return {
        "lint": [tool("ruff"), "check", "--quiet", "."],
        "format": [tool("ruff"), "format", "--check", "--quiet", "."],
        "types": [tool("mypy"), "--no-error-summary"],
        "layers": [tool("lint-imports")],
        "js-page": [*tsc, "-p", f"{browser}/tsconfig.json"],
        "js-worker": [*tsc, "-p", f"{browser}/tsconfig.worker.json"],
        "js-tests": [node(), "--test", *(str(file) for file in sorted(BROWSER_TESTS.glob("*.test.js")))],
    }


def tool(name: str) -> str:
    """Return the path of a tool inside `.venv`."""
    return str(bootstrap.BIN / name)


def passes(name: str, command: list[str]) -> bool:
    """Run one check and print one line; what it has to say follows only when it failed."""
    start = time.monotonic()
    told = subprocess.run(command, cwd=REPOSITORY, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False)
    verdict = "failed" if told.returncode else "ok"
    print(f"{name:<10}{verdict:<7}{time.monotonic() - start:6.1f} s", flush=True)
    if told.returncode:
        sys.stdout.write(told.stdout.decode("utf-8", "replace"))
    return told.returncode == 0

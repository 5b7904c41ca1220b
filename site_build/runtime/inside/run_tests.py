"""Runs inside Pyodide: our own pytest suite."""

from __future__ import annotations

import contextlib
import io
import json
import os
import sys
from collections import Counter
from typing import Any


class Tally:
    """A pytest plugin that sets up hypothesis and counts how the tests ended."""

    def __init__(self) -> None:
        self.ended: Counter[str] = Counter()

    def pytest_sessionstart(self) -> None:
        """Let hypothesis neither look at the clock nor write a file; fewer examples, since this Python is slower.

        Comes after the suite's own conftest, which would have the last word otherwise.
        """
        from hypothesis import settings

        settings.register_profile("inside", settings(), deadline=None, database=None, max_examples=15)
        settings.load_profile("inside")

    def pytest_runtest_logstart(self, nodeid: str) -> None:
        """Leave a trace: when a test takes the whole engine down, the last line names it."""
        print(nodeid, file=sys.__stderr__)

    def pytest_runtest_logreport(self, report: Any) -> None:
        if report.when == "call" or report.outcome != "passed":
            self.ended[report.outcome] += 1


def main(arguments: str) -> str:
    """Run pytest with {"words": [...]}; answer its exit code, what it printed and how many tests ended how."""
    told = json.loads(arguments)
    sys.path[:0] = ["/wheels", "/repository"]
    sys.dont_write_bytecode = True
    os.chdir("/repository")
    import pytest

    tally = Tally()
    words = ["-q", "-p", "no:cacheprovider", "-p", "no:faulthandler", "--rootdir=/repository", *told["words"]]
    printed = io.StringIO()
    with contextlib.redirect_stdout(printed), contextlib.redirect_stderr(printed):
        code = pytest.main(words, plugins=[tally])
    return json.dumps({"code": int(code), "printed": printed.getvalue()[-20_000:], **tally.ended})

"""Compiled modules into a zip whose bytes depend on the sources alone."""

from __future__ import annotations

import importlib._bootstrap_external as bootstrap_external
import zipfile
from types import CodeType

LONG_AGO = (1980, 1, 1, 0, 0, 0)  # one fixed date, so that equal sources make equal bytes


def add_module(target: zipfile.ZipFile, name: str, code: CodeType) -> None:
    """Add the compiled code of the source file `name` as a .pyc that is never checked against a source."""
    entry = zipfile.ZipInfo(name + "c", LONG_AGO)
    entry.compress_type = zipfile.ZIP_DEFLATED
    made = bootstrap_external._code_to_hash_pyc(code, b"\0" * 8, False)  # type: ignore[attr-defined]  # no public way
    target.writestr(entry, bytes(made), compresslevel=9)

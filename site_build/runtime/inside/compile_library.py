"""Runs inside Pyodide: write the named part of its standard library as compiled modules into one zip."""

from __future__ import annotations

import importlib
import json
import sys
import zipfile
from pathlib import Path

from packing import add_module


def main(arguments: str) -> str:
    """Compile every module that the kept ones load; answer how many there are."""
    told = json.loads(arguments)
    stock = next(Path(entry) for entry in sys.path if entry.endswith(".zip"))
    missing = [name for name in told["kept"] if not imports(name)]
    if missing:
        raise SystemExit(f"the engine has no module {', '.join(missing)}: correct runtime/library.txt")
    sources = loaded_from(stock)
    with zipfile.ZipFile(stock) as packed, zipfile.ZipFile(told["target"], "w") as target:
        for source in sorted(sources):
            code = compile(packed.read(source), f"{stock}/{source}", "exec", dont_inherit=True, optimize=2)
            add_module(target, source, code)
    return json.dumps({"modules": len(sources)})


def imports(name: str) -> bool:
    """Load a module; return whether that worked."""
    try:
        importlib.import_module(name)
    except ImportError:
        return False
    return True


def loaded_from(stock: Path) -> set[str]:
    """Return the names inside the zip of all modules loaded from it."""
    files = (getattr(module, "__file__", None) for module in list(sys.modules.values()))
    start = f"{stock}/"
    return {file.removeprefix(start) for file in files if file and file.startswith(start)}

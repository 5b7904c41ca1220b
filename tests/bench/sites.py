"""The sites under measurement: ours, and the same pages over stock Pyodide."""

import json
import shutil
import zipfile
from functools import cache
from pathlib import Path

from calc.answer import answer
from site_build import offline
from site_build.project import ENGINE, PYTHON_ASSETS
from site_build.runtime import assets


def stock_copy(site, folder, calc):
    """Return a copy of a built site with the stock standard library and `calc` as sources: nothing compiled or trimmed."""
    copy = folder / "stock"
    shutil.copytree(site, copy)
    shutil.copyfile(ENGINE / assets.LIBRARY, copy / PYTHON_ASSETS / assets.LIBRARY)
    with zipfile.ZipFile(copy / PYTHON_ASSETS / assets.CALC, "w", zipfile.ZIP_DEFLATED) as packed:
        for name in assets.sources_of(calc):
            packed.write(calc.parent / name, name)
    offline.add_service_worker(copy)
    return copy


def example():
    """Return (name, inputs) of the first calculator of the book."""
    first = json.loads(answer('{"verb": "list"}'))["answer"][0]["name"]
    described = json.loads(answer(json.dumps({"verb": "describe", "name": first})))["answer"]
    return first, described["example"]


@cache
def question():
    """Return a question as a page asks it."""
    name, inputs = example()
    return json.dumps({"name": name, "inputs": inputs})


def calculator_page(site: Path):
    """Return the path of the first page with a calculator, or of the first page where none has one yet."""
    for file in sorted(site.rglob("*.html")):
        if "data-calculator" in file.read_text("utf-8"):
            return file.relative_to(site).as_posix()
    return "index.html"

"""A small project, so that a build takes a second."""

import shutil

import pytest

from site_build.project import REPOSITORY, Project

CONFIG = """
site_name: Small
docs_dir: ../handbook
use_directory_urls: false
theme: {name: material, font: false}
plugins: [search]
"""


@pytest.fixture
def small(tmp_path):
    """A project with two pages, its own tiny `calc`, and the real runtime cache."""
    root = tmp_path / "project"
    for folder in ("handbook", "calc", "site_build", "scenarios"):
        (root / folder).mkdir(parents=True)
    (root / "site_build" / "mkdocs.yml").write_text(CONFIG, encoding="utf-8")
    (root / "handbook" / "index.md").write_text("# Home\n\n[Second](part/second.md)\n", encoding="utf-8")
    (root / "handbook" / "part").mkdir()
    (root / "handbook" / "part" / "second.md").write_text("# Second\n\nSome words.\n", encoding="utf-8")
    (root / "calc" / "__init__.py").write_text('"""Small."""\n', encoding="utf-8")
    (root / "calc" / "answer.py").write_text(
        "def answer(question: str) -> str:\n    return question\n", encoding="utf-8"
    )
    # the compiled library takes six seconds and depends on nothing here
    shelf = REPOSITORY / ".cache" / "runtime"
    for folder in shelf.glob("library-*"):
        shutil.copytree(folder, root / ".cache" / "runtime" / folder.name)
    return Project(root)

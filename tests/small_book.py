"""A small book of a test's own: its pages, with the real calculators, theme and scripts around them."""

from pathlib import Path

from site_build.project import REPOSITORY, Project

PAGES = Path(__file__).parent / "small_book"


def project(root: Path, pages: Path = PAGES) -> Project:
    """Return a project in the folder ``root`` that has everything of this one but the handbook."""
    for name in ("calc", "scenarios", "site_build", ".cache"):
        (REPOSITORY / ".cache").mkdir(exist_ok=True)
        (root / name).symlink_to(REPOSITORY / name)
    (root / "handbook").symlink_to(pages)
    return Project(root)

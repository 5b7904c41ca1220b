"""Where things lie: the only place that knows the folder names."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

REPOSITORY = Path(__file__).resolve().parent.parent


@dataclass(frozen=True)
class Project:
    """The folders a site is built from. A test makes a small one elsewhere."""

    root: Path = REPOSITORY

    @property
    def calc(self) -> Path:
        """The package that answers, here and in the browser."""
        return self.root / "calc"

    @property
    def cache(self) -> Path:
        """What may be deleted at any time and is then made again."""
        return self.root / ".cache"

    @property
    def site(self) -> Path:
        """Where the finished site goes unless told otherwise."""
        return self.root / "site"

    @property
    def mkdocs_config(self) -> Path:
        """How MkDocs renders the pages."""
        return self.root / "site_build" / "mkdocs.yml"

    @property
    def watched(self) -> tuple[Path, ...]:
        """Folders whose edits `serve` answers with a new build."""
        return tuple(self.root / name for name in ("handbook", "scenarios", "calc", "site_build"))


BROWSER = REPOSITORY / "site_build" / "browser"
NODE_MODULES = REPOSITORY / "site_build" / "node_modules"
ENGINE = NODE_MODULES / "pyodide"

# Folders inside a built site.
OWN_ASSETS = "assets/handbook"
PYTHON_ASSETS = "assets/python"

"""Make the site work without a network: the list of its files with their hashes, the service worker, the manifest."""

from __future__ import annotations

import hashlib
import json
import shutil
from pathlib import Path

from site_build import policy
from site_build.project import BROWSER, REPOSITORY

ICONS = REPOSITORY / "site_build" / "icons"
TEMPLATE = BROWSER / "service_worker.js"
SERVICE_WORKER = "sw.js"
MANIFEST_NAME = "manifest.webmanifest"
NAME = "Chassis Handbook"

# Not saved on the reader's device: what only hosts, search engines or debuggers read, and search in other languages.
LEFT_OUT = ("**/*.map", "sitemap.xml*", "_headers", ".*", "assets/javascripts/lunr/**/*", SERVICE_WORKER)

# A saved answer is not asked about again, so what steers that is not among them.
KEPT_HEADERS = tuple(name for name in policy.HEADERS if name != "Cache-Control")

# What every page's head says about it: {rel: path}.
HEAD_LINKS = {"manifest": MANIFEST_NAME, "apple-touch-icon": "assets/icons/icon-192.png"}

MANIFEST = {
    "name": NAME,
    "short_name": "Handbook",
    "description": "Suspension and brake calculators for club motor sport, with the book around them.",
    "id": "./",
    "start_url": "./index.html",
    "scope": "./",
    "display": "standalone",
    "background_color": "#faf8f3",
    "theme_color": "#14566b",
    "icons": [
        {"src": "assets/icons/icon.svg", "sizes": "any", "type": "image/svg+xml"},
        {"src": "assets/icons/icon-192.png", "sizes": "192x192", "type": "image/png"},
        {"src": "assets/icons/icon-512.png", "sizes": "512x512", "type": "image/png"},
        {"src": "assets/icons/maskable-512.png", "sizes": "512x512", "type": "image/png", "purpose": "maskable"},
    ],
}


def add_manifest(site: Path) -> None:
    """Write the manifest and its icons."""
    (site / MANIFEST_NAME).write_text(json.dumps(MANIFEST, indent=2) + "\n", encoding="utf-8")
    shutil.copytree(ICONS, site / "assets" / "icons", dirs_exist_ok=True)


def add_service_worker(site: Path) -> None:
    """Write the service worker for the files as they stand: nothing may change after this."""
    (site / SERVICE_WORKER).write_text(service_worker(hashes(site), TEMPLATE.read_text("utf-8")), encoding="utf-8")


def hashes(site: Path) -> dict[str, str]:
    """Return {path: start of the SHA-256} of every file that is saved."""
    left_out = {file for pattern in LEFT_OUT for file in site.glob(pattern)}
    files = (file for file in sorted(site.rglob("*")) if file.is_file() and file not in left_out)
    return {file.relative_to(site).as_posix(): digest(file.read_bytes()) for file in files}


def digest(content: bytes) -> str:
    """Return the start of the SHA-256 of a file, as the service worker computes it."""
    return hashlib.sha256(content).hexdigest()[:16]


def service_worker(files: dict[str, str], template: str) -> str:
    """Return the script: what it must know, then the template as it is."""
    known = {"FILES": files, "HEADERS": {name: policy.HEADERS[name] for name in KEPT_HEADERS}}
    lines = [
        f"const {name} = {json.dumps(value, sort_keys=True, separators=(',', ':'))};\n" for name, value in known.items()
    ]
    text = "".join(lines) + template
    # the script's own text counts too: a corrected worker must not share a cache with the faulty one
    return f"const VERSION = {json.dumps(digest(text.encode()))};\n{text}"

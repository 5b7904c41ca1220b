"""What a page may do: a strict content security policy, and pages rewritten and checked so that they live by it.

Pure functions over HTML text; the callers at the end do the reading and writing.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator
from html import escape
from html.parser import HTMLParser
from pathlib import Path

# 'wasm-unsafe-eval' is what compiling WebAssembly needs; it allows no JavaScript eval.
# data: images are the theme's icons.
_RULES = {
    "default-src": "'self'",
    "script-src": "'self' 'wasm-unsafe-eval'",
    "img-src": "'self' data:",
    "object-src": "'none'",
    "base-uri": "'self'",
    "form-action": "'none'",
    "frame-ancestors": "'none'",
}
POLICY = "; ".join(f"{name} {value}" for name, value in _RULES.items())
# A meta tag must not carry frame-ancestors: browsers ignore it there and complain.
META_POLICY = "; ".join(f"{name} {value}" for name, value in _RULES.items() if name != "frame-ancestors")

HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=(), payment=(), usb=()",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    # names carry no hash, so a browser asks whether its copy is still good; the answer is a few bytes
    "Cache-Control": "no-cache",
}

SCRIPTS = "assets/javascripts"
_SCRIPT = re.compile(r"<script(?P<attributes>[^>]*)>(?P<body>.*?)</script>", re.S | re.I)
_HEAD = re.compile(r"<head[^>]*>(?:\s*<meta charset=[^>]*>)?", re.I)
_OWN_ASSET = re.compile(r"""(?:href|src)=["']?(?P<prefix>[^"' >]*?)assets/(?:stylesheets|javascripts)/""", re.I)
_CSS_ADDRESS = re.compile(r"""(?:url\(\s*|@import\s+)["']?(?P<address>[^"')\s;]+)""", re.I)
_FOREIGN = re.compile(r"^(?:[a-z][a-z0-9+.-]*:)?//", re.I)


def headers_file() -> str:
    """Return the `_headers` file: read by some hosts, and by our own server."""
    return "/*\n" + "".join(f"  {name}: {value}\n" for name, value in HEADERS.items())


def is_data(attributes: str) -> bool:
    """Return whether a script tag holds data that no browser runs."""
    return re.search(r"type=[\"']?application/(?:ld\+)?json", attributes, re.I) is not None


def move_inline_scripts(html: str, prefix: str) -> tuple[str, dict[str, str]]:
    """Return the page with each inline script in a file of its own, and those files: {path in the site: text}.

    prefix: what leads from the page to the site's top, such as "../".
    """
    files: dict[str, str] = {}

    def moved(found: re.Match[str]) -> str:
        attributes, body = found["attributes"], found["body"]
        if re.search(r"\bsrc\s*=", attributes, re.I) or is_data(attributes) or not body.strip():
            return found[0]
        name = f"{SCRIPTS}/inline-{hashlib.sha256(body.encode()).hexdigest()[:12]}.js"
        files[name] = body
        return f'<script{attributes} src="{escape(prefix + name)}"></script>'

    return _SCRIPT.sub(moved, html), files


def add_to_head(html: str, tags: str) -> str:
    """Return the page with `tags` at the start of its head, after the character set."""
    found = _HEAD.search(html)
    return html if found is None else html[: found.end()] + tags + html[found.end() :]


def policy_tag() -> str:
    """Return the policy as a meta tag, for hosts that send no headers of ours."""
    return f'<meta http-equiv="Content-Security-Policy" content="{escape(META_POLICY, quote=False)}">'


def prefix_of(html: str, path: str) -> str:
    """Return what leads from a page to the site's top: what its own links use, else one `../` a folder.

    >>> prefix_of("", "springs/coil.html")
    '../'
    """
    found = _OWN_ASSET.search(html)
    return "../" * path.count("/") if found is None else found["prefix"]


def problems(html: str) -> list[str]:
    """Return what in a page the policy would block, or what would be fetched from elsewhere."""
    reader = _Reader()
    reader.feed(html)
    reader.close()
    return reader.found


def css_problems(css: str) -> list[str]:
    """Return the foreign addresses that a style sheet would fetch."""
    return [
        f"foreign address {found['address']}" for found in _CSS_ADDRESS.finditer(css) if is_foreign(found["address"])
    ]


def is_foreign(address: str) -> bool:
    """Return whether an address leaves the site.

    >>> [is_foreign(each) for each in ("page.html", "//host/x", "https://host/x", "data:image/png;base64,AA")]
    [False, True, True, False]
    """
    return _FOREIGN.match(address.strip()) is not None


class _Reader(HTMLParser):
    """Collects problems while it reads."""

    # (tag, attribute) pairs that a browser fetches by itself; a link that a reader clicks is not among them
    FETCHED = frozenset(
        (tag, name)
        for name, tags in {
            "src": ("script", "img", "iframe", "audio", "video", "source", "embed", "track", "input"),
            "href": ("image", "use"),
            "xlink:href": ("image", "use"),
            "data": ("object",),
            "poster": ("video",),
            "srcset": ("img", "source"),
            "action": ("form",),
        }.items()
        for tag in tags
    )
    LINKS_NOT_FETCHED = frozenset({"canonical", "alternate", "next", "prev", "license", "author"})

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        if tag == "script" and "src" not in given and not is_data(f'type="{given.get("type", "")}"'):
            self.tell("inline <script>")
        if tag == "style":
            self.tell("<style> element")
        for name, value in given.items():
            if name == "style":
                self.tell(f'style="{value}" on <{tag}>')
            elif name.startswith("on"):
                self.tell(f"event handler {name} on <{tag}>")
            elif value.strip().lower().startswith("javascript:"):
                self.tell(f"javascript: address in {name} of <{tag}>")
            elif self.is_fetched(tag, name, given) and any(map(is_foreign, addresses(name, value))):
                self.tell(f"foreign address {value} in {name} of <{tag}>")

    def is_fetched(self, tag: str, name: str, given: dict[str, str]) -> bool:
        """Return whether a browser follows this attribute by itself."""
        if (tag, name) == ("link", "href"):
            return not set(given.get("rel", "").lower().split()) <= self.LINKS_NOT_FETCHED
        return (tag, name) in self.FETCHED

    def tell(self, what: str) -> None:
        """Note one problem with its line."""
        self.found.append(f"line {self.getpos()[0]}: {what}")


def addresses(name: str, value: str) -> list[str]:
    """Return the addresses in an attribute; a srcset holds several."""
    if name != "srcset":
        return [value]
    return [candidate.split()[0] for candidate in value.split(",") if candidate.strip()]


def apply(site: Path, head: dict[str, str]) -> None:
    """Rewrite every page of a finished site: scripts into files, the policy and further `head` links into the head.

    head: {rel: path in the site}, for example {"manifest": "manifest.webmanifest"}.
    """
    for page in pages(site):
        html = page.read_text(encoding="utf-8")
        prefix = prefix_of(html, page.relative_to(site).as_posix())
        html, files = move_inline_scripts(html, prefix)
        links = "".join(f'<link rel="{rel}" href="{escape(prefix + path)}">' for rel, path in head.items())
        page.write_text(add_to_head(html, policy_tag() + links), encoding="utf-8")
        for name, text in files.items():
            target = site / name
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_text(text, encoding="utf-8")
    (site / "_headers").write_text(headers_file(), encoding="utf-8")


def check(site: Path) -> list[str]:
    """Return every problem of every page and style sheet of a site, each with its file."""
    found = [(page, problem) for page in pages(site) for problem in problems(page.read_text(encoding="utf-8"))]
    sheets = ((sheet, sheet.read_text(encoding="utf-8")) for sheet in sorted(site.rglob("*.css")))
    found += [(sheet, problem) for sheet, css in sheets for problem in css_problems(css)]
    return [f"{file.relative_to(site).as_posix()}: {problem}" for file, problem in found]


def pages(site: Path) -> Iterator[Path]:
    """Yield the pages of a site, in a fixed order."""
    yield from sorted(site.rglob("*.html"))

"""Serve a built site from this machine to this machine.

Also the launcher of the packed site, where it stands as `start.py` beside the folder `site`: standard library only,
and nothing newer than Python 3.8.
"""

import argparse
import contextlib
import hashlib
import os
import signal
import sys
import threading
import webbrowser
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Dict, List, Optional, Tuple
from urllib.parse import quote, unquote, urlsplit

# Written out, since what the operating system says about these differs from machine to machine.
TYPES = {
    ".html": "text/html; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".mjs": "text/javascript; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".json": "application/json",
    ".webmanifest": "application/manifest+json",
    ".wasm": "application/wasm",
    ".zip": "application/zip",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".ico": "image/vnd.microsoft.icon",
    ".woff2": "font/woff2",
    ".txt": "text/plain; charset=utf-8",
    ".toml": "text/plain; charset=utf-8",
    ".csv": "text/csv; charset=utf-8",
    ".xml": "application/xml",
    ".pdf": "application/pdf",
    ".gz": "application/gzip",
}
ADDRESS = "127.0.0.1"
# What a reader saves in the browser belongs to the address with its port, so the port stays the same from day to day.
USUAL_PORT = 8715
RULES = "_headers"


class Handler(BaseHTTPRequestHandler):
    """Answer GET and HEAD for the files of one folder."""

    protocol_version = "HTTP/1.1"
    server_version = "handbook"
    sys_version = ""
    timeout = 60
    server: "SiteServer"

    def do_GET(self) -> None:
        """Send the file, or that the browser's copy is still good."""
        path = urlsplit(self.path).path
        found = find(self.server.folder, path)
        if found is None:
            missing = self.server.folder / "404.html"
            self.reply(HTTPStatus.NOT_FOUND, missing if missing.is_file() else None)
        elif found.is_dir():
            self.redirect(quote(unquote(path)) + "/")
        else:
            self.reply(HTTPStatus.OK, found)

    do_HEAD = do_GET  # noqa: N815 - the name that http.server looks for

    def reply(self, status: HTTPStatus, file: Optional[Path]) -> None:
        """Send one file with its type, fingerprint and the site's own headers."""
        body = b"Not found\n" if file is None else file.read_bytes()
        tag = '"' + hashlib.sha256(body).hexdigest()[:32] + '"'
        if status is HTTPStatus.OK and tag in self.headers.get("If-None-Match", ""):
            status, body = HTTPStatus.NOT_MODIFIED, b""
        self.server.count(status, self.path, len(body))
        self.send_response(status)
        self.send_header("ETag", tag)
        if status is not HTTPStatus.NOT_MODIFIED:
            self.send_header("Content-Type", content_type(file))
            self.send_header("Content-Length", str(len(body)))
        for name, value in self.server.rules():
            self.send_header(name, value)
        self.end_headers()
        if self.command != "HEAD":
            with contextlib.suppress(ConnectionError):  # the reader went on to another page
                self.wfile.write(body)

    def redirect(self, place: str) -> None:
        """Send the browser to a folder's address with its slash."""
        self.send_response(HTTPStatus.MOVED_PERMANENTLY)
        self.send_header("Location", place)
        self.send_header("Content-Length", "0")
        self.end_headers()

    def log_message(self, format: str, *args: object) -> None:
        """Stay quiet: the terminal is for what a person has to know."""


class SiteServer(ThreadingHTTPServer):
    """A server of one folder that can be asked what it sent."""

    daemon_threads = True
    allow_reuse_address = os.name != "nt"  # there it would let two servers share a port

    def __init__(self, folder: Path, port: int = 0) -> None:
        self.folder = folder.resolve()
        self.sent: List[Tuple[int, str, int]] = []
        super().__init__((ADDRESS, port), Handler)

    @property
    def url(self) -> str:
        """The address to open."""
        return "http://{}:{}/".format(ADDRESS, self.server_address[1])

    def count(self, status: int, path: str, size: int) -> None:
        """Remember one answer; tests and the bench read it."""
        self.sent.append((int(status), path, size))

    def rules(self) -> List[Tuple[str, str]]:
        """Return the headers that the site wants on every answer."""
        file = self.folder / RULES
        return headers_for_all(file.read_text(encoding="utf-8")) if file.is_file() else []

    def handle_error(self, request: object, client_address: object) -> None:
        """Let a connection that the browser dropped end without a traceback."""
        if not isinstance(sys.exc_info()[1], (ConnectionError, TimeoutError)):
            super().handle_error(request, client_address)  # type: ignore[arg-type]  # the base wants its own socket type


def find(folder: Path, address: str) -> Optional[Path]:
    """Return the file that a web address means; a folder where the slash is missing; None outside and for nothing.

    folder: absolute, without links.  address: path part, still percent-encoded.
    """
    path = unquote(address)
    parts = path.split("/")[1:]
    if not path.startswith("/") or "\\" in path or "\0" in path or any(part.startswith("..") for part in parts):
        return None
    if ":" in path or path.lstrip("/") == RULES:
        return None
    target = folder.joinpath(*[part for part in parts if part]).resolve()
    if target != folder and folder not in target.parents:  # a link that leads out
        return None
    if target.is_dir():
        index = target / "index.html"
        if not index.is_file():
            return None
        return index if path.endswith("/") else target
    return target if target.is_file() and not path.endswith("/") else None


def content_type(file: Optional[Path]) -> str:
    """Return the media type of a file by its ending."""
    if file is None:
        return TYPES[".txt"]
    return TYPES.get(file.suffix.lower(), "application/octet-stream")


def headers_for_all(text: str) -> List[Tuple[str, str]]:
    """Return the headers that a `_headers` file gives to every address, the block under `/*`.

    >>> headers_for_all("/*\\n  A: b\\n/other\\n  C: d\\n")
    [('A', 'b')]
    """
    blocks: Dict[str, List[Tuple[str, str]]] = {}
    current: List[Tuple[str, str]] = []
    for line in text.splitlines():
        if line[:1].isspace() and ":" in line:
            name, value = line.split(":", 1)
            current.append((name.strip(), value.strip()))
        elif line.strip():
            current = blocks.setdefault(line.strip(), [])
    return blocks.get("/*", [])


def start(folder: Path, port: int, fall_back: bool) -> SiteServer:
    """Return a server on `port`; with `fall_back` on any free port where that one is taken."""
    try:
        return SiteServer(folder, port)
    except OSError:
        if not fall_back:
            raise
        return SiteServer(folder, 0)


def serve_until_stopped(server: SiteServer, word: str) -> None:
    """Serve, say `word` once that is so, until Ctrl-C or a polite request to end; finish cleanly."""
    stop = threading.Event()
    for name in ("SIGINT", "SIGTERM"):
        signal.signal(getattr(signal, name), lambda *_: stop.set())
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.1}, daemon=True)
    thread.start()
    print(word, flush=True)
    while not stop.wait(0.5):  # a bare wait() would not notice Ctrl-C on every system
        pass
    server.shutdown()
    server.server_close()


def main(arguments: List[str]) -> int:
    """Serve the folder `site` beside this file and open it in the browser."""
    parser = argparse.ArgumentParser(description="Open the handbook in your browser. Nothing leaves this machine.")
    parser.add_argument("--port", type=int, default=USUAL_PORT, help="default: %(default)s")
    parser.add_argument("--no-browser", action="store_true", help="only print the address")
    told = parser.parse_args(arguments)
    folder = Path(__file__).resolve().parent / "site"
    if not (folder / "index.html").is_file():
        print("The folder 'site' is not beside this file: unpack the whole zip first.", file=sys.stderr)
        return 1
    server = start(folder, told.port, fall_back=True)
    if not told.no_browser:
        threading.Thread(target=webbrowser.open, args=(server.url,), daemon=True).start()
    serve_until_stopped(server, "The handbook is at {}  (Ctrl-C ends it)".format(server.url))
    print("Ended.")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

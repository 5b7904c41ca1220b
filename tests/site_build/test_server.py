"""The server sends what is in the folder, rightly labelled, and nothing else."""

import http.client
import threading

import pytest

from site_build import policy, server


@pytest.fixture
def folder(tmp_path):
    site = tmp_path / "site"
    (site / "part").mkdir(parents=True)
    (site / "index.html").write_text("home", encoding="utf-8")
    (site / "part" / "index.html").write_text("part", encoding="utf-8")
    (site / "404.html").write_text("nothing here", encoding="utf-8")
    (site / "a b.txt").write_text("space", encoding="utf-8")
    (site / "python.wasm").write_bytes(b"\0asm")
    (site / "_headers").write_text(policy.headers_file(), encoding="utf-8")
    (tmp_path / "secret.txt").write_text("secret", encoding="utf-8")
    return site


@pytest.fixture
def running(folder):
    with server.SiteServer(folder) as site:
        thread = threading.Thread(target=site.serve_forever, kwargs={"poll_interval": 0.01})
        thread.start()
        yield site
        site.shutdown()
        thread.join()


def get(site, path, method="GET", **headers):
    connection = http.client.HTTPConnection(*site.server_address)
    connection.request(method, path, headers={name.replace("_", "-"): value for name, value in headers.items()})
    response = connection.getresponse()
    body = response.read()
    connection.close()
    return response, body


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("a.html", "text/html; charset=utf-8"),
        ("a.mjs", "text/javascript; charset=utf-8"),
        ("a.js", "text/javascript; charset=utf-8"),
        ("a.wasm", "application/wasm"),
        ("a.webmanifest", "application/manifest+json"),
        ("a.WOFF2", "font/woff2"),
        ("a.unheard-of", "application/octet-stream"),
    ],
)
def test_type_follows_the_ending(tmp_path, name, kind):
    assert server.content_type(tmp_path / name) == kind


@pytest.mark.parametrize(
    ("path", "body"), [("/", b"home"), ("/index.html?x=1", b"home"), ("/part/", b"part"), ("/a%20b.txt", b"space")]
)
def test_pages_are_found(running, path, body):
    response, got = get(running, path)

    assert (response.status, got) == (200, body)


def test_every_answer_carries_the_policy(running):
    for path in ("/", "/python.wasm", "/nowhere"):
        response, _ = get(running, path)
        for name, value in policy.HEADERS.items():
            assert response.headers[name] == value


def test_a_folder_gets_its_slash(running):
    response, _ = get(running, "/part")

    assert (response.status, response.headers["Location"]) == (301, "/part/")


def test_what_is_missing_is_said_with_the_sites_own_page(running):
    response, body = get(running, "/nowhere.html")

    assert (response.status, body) == (404, b"nothing here")


@pytest.mark.parametrize(
    "path",
    [
        "/../secret.txt",
        "/%2e%2e/secret.txt",
        "/part/../../secret.txt",
        "/part/%2e%2e%2f%2e%2e%2fsecret.txt",
        "/..%5csecret.txt",
        "//../secret.txt",
        "/C:/secret.txt",
        "/\x00".replace("\x00", "%00"),
        "/_headers",
        "/index.html/",
    ],
)
def test_nothing_outside_and_nothing_private_is_sent(running, path):
    response, body = get(running, path)

    assert response.status == 404
    assert b"secret" not in body


def test_a_link_that_leads_out_is_refused(folder, tmp_path):
    try:
        (folder / "way-out.txt").symlink_to(tmp_path / "secret.txt")
    except OSError:
        pytest.skip("this system does not let us make links")

    assert server.find(folder, "/way-out.txt") is None


def test_a_good_copy_is_not_sent_again(running):
    response, body = get(running, "/python.wasm")
    again, nothing = get(running, "/python.wasm", If_None_Match=response.headers["ETag"])
    other, fresh = get(running, "/python.wasm", If_None_Match='"else"')

    assert (again.status, nothing) == (304, b"")
    assert (other.status, fresh) == (200, body)
    assert [entry[0] for entry in running.sent] == [200, 304, 200]


def test_head_tells_the_size_without_the_body(running):
    response, body = get(running, "/python.wasm", method="HEAD")

    assert (response.headers["Content-Length"], body) == ("4", b"")


def test_only_this_machine_can_ask(running):
    assert running.server_address[0] == "127.0.0.1"


def test_a_taken_port_is_refused_or_replaced(running, folder):
    taken = running.server_address[1]

    with pytest.raises(OSError):
        server.start(folder, taken, fall_back=False)
    with server.start(folder, taken, fall_back=True) as other:
        assert other.server_address[1] != taken


def test_headers_file_is_read_as_it_is_written():
    assert dict(server.headers_for_all(policy.headers_file())) == policy.HEADERS

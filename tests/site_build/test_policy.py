"""A page obeys the strict policy, and a page that would not is named."""

import pytest

from site_build import policy

PAGE = (
    '<!doctype html><html><head><meta charset="utf-8"><link rel="stylesheet" href="../assets/stylesheets/main.css">'
    "</head><body>{}</body></html>"
)


def test_policy_allows_wasm_but_no_eval_and_no_inline():
    assert "'wasm-unsafe-eval'" in policy.POLICY
    assert "'unsafe-inline'" not in policy.POLICY
    assert "'unsafe-eval'" not in policy.POLICY
    assert "frame-ancestors 'none'" in policy.POLICY
    assert "frame-ancestors" not in policy.META_POLICY


def test_inline_script_moves_to_a_file_named_by_its_content():
    html, files = policy.move_inline_scripts(PAGE.format("<script>var a = 1 < 2;</script>"), "../")

    ((name, text),) = files.items()
    assert text == "var a = 1 < 2;"
    assert f'<script src="../{name}"></script>' in html
    assert policy.problems(html) == []


def test_order_and_attributes_of_scripts_are_kept():
    body = '<script src="a.js"></script><script type="module">one()</script><script>two()</script>'

    html, files = policy.move_inline_scripts(body, "")

    assert list(files.values()) == ["one()", "two()"]
    assert html.startswith('<script src="a.js"></script><script type="module" src="assets/javascripts/inline-')


def test_equal_scripts_share_a_file():
    _, files = policy.move_inline_scripts("<script>a()</script><script>a()</script>", "")

    assert len(files) == 1


@pytest.mark.parametrize("tag", ['<script type="application/json">{"a": 1}</script>', '<script src="a.js"></script>'])
def test_data_and_files_stay_as_they_are(tag):
    assert policy.move_inline_scripts(tag, "") == (tag, {})
    assert policy.problems(tag) == []


def test_policy_stands_in_the_head_before_everything_that_loads():
    html = policy.add_to_head(PAGE.format(""), policy.policy_tag())

    assert '<meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="default-src \'self\'' in html
    assert policy.problems(html) == []


@pytest.mark.parametrize(
    ("body", "told"),
    [
        ("<script>a()</script>", "inline <script>"),
        ("<style>p{}</style>", "<style>"),
        ('<p style="color:red">', "style="),
        ('<p onclick="a()">', "onclick"),
        ('<a href="javascript:a()">x</a>', "javascript:"),
        ('<img src="https://elsewhere.example/x.png">', "elsewhere.example"),
        ('<img srcset="a.png 1x, //elsewhere.example/x.png 2x">', "elsewhere.example"),
        ('<link rel="preconnect" href="https://elsewhere.example">', "elsewhere.example"),
        ('<script src="//elsewhere.example/x.js"></script>', "elsewhere.example"),
        ('<iframe src="http://elsewhere.example">', "elsewhere.example"),
        ('<svg><image href="https://elsewhere.example/x.png"/></svg>', "elsewhere.example"),
    ],
)
def test_what_the_policy_would_block_is_named(body, told):
    (problem,) = policy.problems(PAGE.format(body))

    assert told in problem


@pytest.mark.parametrize(
    "body",
    [
        '<a href="https://elsewhere.example/paper">a source to read</a>',
        '<link rel="canonical" href="https://handbook.example/page.html">',
        '<img src="data:image/png;base64,AA">',
        "<p>write <code>&lt;script&gt;</code> like this</p>",
    ],
)
def test_what_is_only_a_link_or_text_is_allowed(body):
    assert policy.problems(PAGE.format(body)) == []


def test_foreign_address_in_a_style_sheet_is_named():
    css = (
        '@import "https://elsewhere.example/a.css"; a{background:url(//elsewhere.example/b.png)} b{src:url("c.woff2")}'
    )

    assert len(policy.css_problems(css)) == 2


def test_pages_of_a_site_are_rewritten_and_pass(tmp_path):
    page = tmp_path / "springs" / "coil.html"
    page.parent.mkdir()
    page.write_text(PAGE.format("<script>a()</script>"), encoding="utf-8")
    assert policy.check(tmp_path)

    policy.apply(tmp_path, {"manifest": "manifest.webmanifest"})

    assert policy.check(tmp_path) == []
    assert '<link rel="manifest" href="../manifest.webmanifest">' in page.read_text(encoding="utf-8")
    assert [file.read_text() for file in tmp_path.glob("assets/javascripts/*.js")] == ["a()"]


def test_a_page_with_absolute_links_keeps_its_own_prefix(tmp_path):
    page = tmp_path / "404.html"
    page.write_text('<head></head><script src="/base/assets/javascripts/x.js"></script><script>a()</script>', "utf-8")

    policy.apply(tmp_path, {})

    assert 'src="/base/assets/javascripts/inline-' in page.read_text("utf-8")

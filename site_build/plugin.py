"""MkDocs hooks. They only pass things on: another generator would need another of these files, and nothing else."""

from __future__ import annotations

from pathlib import Path

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page

from site_build import asking, contents, pages, reference
from site_build.problems import PageProblem


class Book:
    """What the hooks know between one call and the next; made anew for each build."""

    homes: dict[str, contents.Home]
    prepared: dict[str, pages.Prepared]


_book = Book()


def on_config(config: MkDocsConfig) -> MkDocsConfig:
    """Find the order of the book and the home of each calculator."""
    docs = Path(config.docs_dir)
    _book.homes, _book.prepared = contents.homes(docs), {}
    config.nav = contents.nav(docs, list(reference.pages(_book.homes))) if config.nav is None else config.nav
    homeless = [each["name"] for each in asking.every() if each["name"] not in _book.homes]
    if homeless and config.extra.get("complete"):
        raise PluginError(f"these calculators have no page in the handbook: {', '.join(homeless)}")
    return config


def on_files(files: Files, config: MkDocsConfig) -> Files:
    """Add the generated pages."""
    for path, text in reference.pages(_book.homes).items():
        files.append(File.generated(config, path, content=text))
    return files


def on_page_markdown(markdown: str, page: Page, config: MkDocsConfig, files: Files) -> str:
    """Answer the fences and inline values of a page."""
    where = page.file.src_uri
    try:
        prepared = pages.prepare(markdown, where, lambda: reference.index(_book.homes, page.url))
    except PageProblem as problem:
        raise PluginError(str(problem)) from None
    _book.prepared[where] = prepared
    return prepared.markdown


def on_page_content(html: str, page: Page, config: MkDocsConfig, files: Files) -> str:
    """Put the answers into the rendered page."""
    prepared = _book.prepared[page.file.src_uri]
    if page.present_anchor_ids is not None:
        page.present_anchor_ids |= set(prepared.page.worked)
    try:
        return pages.fill(html, prepared)
    except PageProblem as problem:
        raise PluginError(str(problem)) from None

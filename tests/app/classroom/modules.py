"""The page's own modules in a real browser, without a server: their files, and nothing else."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from playwright.sync_api import Browser, Page, Route

STATIC = Path(__file__).resolve().parents[3] / "app" / "classroom" / "static"
HERE = "http://127.0.0.1:9/classroom"
_KINDS = {".js": "text/javascript", ".css": "text/css"}


@contextmanager
def modules(browser: Browser, **window: Any) -> Iterator[Page]:
    """A page that can import every module of the classroom page from `/classroom/files/`."""
    context = browser.new_context(**window)
    context.route("**/*", _answer)
    page = context.new_page()
    page.goto(HERE)
    yield page
    context.close()


def called(page: Page, module: str, name: str, *values: object) -> Any:
    """What a function of a module answers; values and answer are JSON."""
    script = (
        "async ([module, name, values]) => "
        "(await import(`/classroom/files/${module}`))[name](...values)"
    )
    return page.evaluate(script, [module, name, json.loads(json.dumps(values))])


def _answer(route: Route) -> None:
    name = urlsplit(route.request.url).path.rpartition("/")[2]
    file = STATIC / name
    if "/files/" in route.request.url and file.is_file():
        route.fulfill(body=file.read_bytes(), content_type=_KINDS[file.suffix])
    else:
        route.fulfill(body="<!doctype html><title>modules</title>", content_type="text/html")

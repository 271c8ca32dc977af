"""The pages that the server itself makes: the empty shell, and a kind word for other readers."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

from starlette.responses import HTMLResponse, Response

from app.classroom import files

if TYPE_CHECKING:
    from starlette.requests import Request

_POLICY = (
    "default-src 'self'; img-src 'self' data:; object-src 'none'; base-uri 'none'; "
    "form-action 'self'; frame-ancestors 'self'"
)


def page() -> Response:
    """The shell: the same for everybody, so that a device may keep it."""
    return HTMLResponse(files.shell(), headers={"Content-Security-Policy": _POLICY})


def not_yours(base: str) -> Response:
    """For readers who have no class and watch none."""
    words = (
        "What is written down in class is written down by teachers, and by the support team when "
        "it looks in. Your own pages are in the dashboard."
    )
    text = (
        '<!doctype html><html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        '<meta name="color-scheme" content="light dark"><title>In class · Roundelay</title>'
        f'<link rel="stylesheet" href="{base}/classroom/files/app.css"></head><body>'
        '<main id="place"><div class="screen state"><h1>This page is for teachers</h1>'
        f'<p>{escape(words)}</p><p><a class="button" href="{base}/">To the dashboard</a></p>'
        "</div></main></body></html>"
    )
    return HTMLResponse(text, 403, {"Content-Security-Policy": _POLICY})


def file(name: str, request: Request) -> Response:
    """One file of the list; asked again with its mark, only whether it is still the same."""
    found = files.files().get(name)
    if found is None:
        return Response("There is nothing here.", 404, media_type="text/plain")
    return _marked(request, *found)


def worker(base: str, request: Request) -> Response:
    """The service worker, allowed to answer for the page above its own folder."""
    kind = "text/javascript; charset=utf-8"
    answer = _marked(request, files.worker().encode(), kind)
    answer.headers["Service-Worker-Allowed"] = f"{base}/classroom"
    return answer


def manifest(request: Request) -> Response:
    """The web manifest."""
    return _marked(request, files.manifest().encode(), "application/manifest+json")


def _marked(request: Request, content: bytes, kind: str) -> Response:
    mark = f'"{files.version()}"'
    headers = {"ETag": mark, "Cache-Control": "no-cache"}
    if request.headers.get("if-none-match") == mark:
        return Response(status_code=304, headers=headers)
    return Response(content, media_type=kind, headers=headers)

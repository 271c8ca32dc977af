"""Turns the contents of a page into a tagged PDF, or into pictures of it to look at.

The only room that knows typst. Contents are plain data; a template never sees markup from them.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import datetime
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

import typst
import vl_convert

from app.charts.frame import Spec

_HERE = Path(__file__).parent
_VEGA_LITE = "6.4"
_PICTURE_PPI = 110.0
# Letters that the fonts of the package have for certain: Latin, Greek, Cyrillic, punctuation.
_LAST_SURE = 0x052F
_PUNCTUATION = range(0x2000, 0x2070)


class TooLong(Exception):  # noqa: N818 - a property of a page, told to a person
    """A page does not fit its sheets however closely it is set."""


def fonts() -> Path:
    """The folder of our typeface."""
    return Path(str(files("fontpkg_atkinson_hyperlegible"))) / "files"


@cache
def _letters() -> None:
    vl_convert.register_font_directory(str(fonts()))


def drawn(spec: Spec, width: int) -> str:
    """A chart of the screen as SVG, as wide as asked for, in pixels."""
    _letters()
    whole = {**spec, "width": width}
    return str(vl_convert.vegalite_to_svg(whole, vl_version=_VEGA_LITE, allowed_base_urls=[]))


def page_count(template: str, contents: Mapping[str, Any]) -> int:
    """How many pages the contents take."""
    compiler = _compiler(template, contents, is_own=True)
    return int(compiler.query("<pages>", field="value", one=True))


def pressed(template: str, contents: Mapping[str, Any], made_at: datetime) -> bytes:
    """The PDF/UA-1 file; the same contents give the same bytes.

    A name may hold letters that our typeface lacks. Then the fonts of this computer help out, and
    if they lack them too, the letter is printed as a question mark: a tagged file must not hold a
    letter that cannot be read.
    """
    try:
        return _pdf(_compiler(template, contents, is_own=True), made_at)
    except typst.TypstError as problem:
        if "could not be displayed" not in str(problem):
            raise
    try:
        return _pdf(_compiler(template, contents, is_own=False), made_at)
    except typst.TypstError as problem:
        if "could not be displayed" not in str(problem):
            raise
    return _pdf(_compiler(template, _readable(contents), is_own=True), made_at)


def pictures(template: str, contents: Mapping[str, Any]) -> list[bytes]:
    """Each page as PNG."""
    compiler = _compiler(template, contents, is_own=True)
    made = compiler.compile(format="png", ppi=_PICTURE_PPI)
    return [made] if isinstance(made, bytes) else list(made or [])


def _compiler(template: str, contents: Mapping[str, Any], *, is_own: bool) -> typst.Compiler:
    return typst.Compiler(
        str(_HERE / f"{template}.typ"),
        root=str(_HERE),
        font_paths=[str(fonts())],
        ignore_system_fonts=is_own,
        sys_inputs={"page": json.dumps(contents, ensure_ascii=False)},
    )


def _pdf(compiler: typst.Compiler, made_at: datetime) -> bytes:
    moment = int(made_at.timestamp())
    made = compiler.compile(format="pdf", pdf_standards=["ua-1"], timestamp=moment)
    if not isinstance(made, bytes):
        raise TypeError("One file was expected.")
    return made


def _readable(contents: Mapping[str, Any]) -> Mapping[str, Any]:
    text = json.dumps(contents, ensure_ascii=False)
    sure = "".join(
        one if ord(one) <= _LAST_SURE or ord(one) in _PUNCTUATION else "?" for one in text
    )
    told: Mapping[str, Any] = json.loads(sure)
    return told

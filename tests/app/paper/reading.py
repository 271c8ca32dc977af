"""Reads a printed page back: its words, its tags, what stands in for its pictures."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import pypdf
from pypdf.generic import ArrayObject, DictionaryObject, IndirectObject


@dataclass(frozen=True)
class Printed:
    """A PDF, opened."""

    data: bytes

    @cached_property
    def file(self) -> pypdf.PdfReader:
        return pypdf.PdfReader(io.BytesIO(self.data))

    @property
    def root(self) -> DictionaryObject:
        root = self.file.trailer["/Root"]
        assert isinstance(root, DictionaryObject)
        return root

    @cached_property
    def text(self) -> str:
        """All words, with single spaces: lines break anywhere on paper."""
        return plain(" ".join(page.extract_text() for page in self.file.pages))

    @property
    def tags(self) -> list[str]:
        """The kinds of every tagged element, in reading order."""
        return [str(one.get("/S")).removeprefix("/") for one in self.elements]

    @cached_property
    def elements(self) -> list[DictionaryObject]:
        return list(_below(self.root["/StructTreeRoot"]))

    @property
    def alternatives(self) -> list[str]:
        """What stands in for each picture; empty where nothing does."""
        figures = [one for one in self.elements if one.get("/S") == "/Figure"]
        return [plain(str(one.get("/Alt", ""))) for one in figures]

    @property
    def metadata(self) -> str:
        """The XMP packet."""
        packet = self.root["/Metadata"].get_object()
        return packet.get_data().decode("utf-8")  # type: ignore[attr-defined,no-any-return]


def plain(text: str) -> str:
    """Words with single ordinary spaces, no matter where lines break."""
    one_line = re.sub(r"[\s\u00a0\u202f]+", " ", text).strip()
    return re.sub(r"(?<=\w)- (?=\w)", "-", one_line)


def _below(node: object) -> Iterator[DictionaryObject]:
    one = node.get_object() if isinstance(node, IndirectObject) else node
    if isinstance(one, ArrayObject):
        for child in one:
            yield from _below(child)
    elif isinstance(one, DictionaryObject):
        if "/S" in one:
            yield one
        if "/K" in one and one.get("/Type") != "/MCR":
            yield from _below(one["/K"])

"""Ten questions that readers bring, where each finds its answer, and what the pages answer.

    python -m tests.app.questions DEMO            compare docs/questions.md with the demo's pages
    python -m tests.app.questions DEMO --write    write it anew

The answers are read from the pages themselves, opened as their reader; no figure is typed in.
"""

from __future__ import annotations

import argparse
import json
import os
import re
import runpy
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from html import unescape
from pathlib import Path
from unittest.mock import patch

from streamlit.testing.v1 import AppTest

ROOT = Path(__file__).resolve().parents[2]
DOCUMENT = ROOT / "docs" / "questions.md"
_RUNNER = "streamlit.runtime.scriptrunner.script_runner._mpa_v1"
_BLOCKS = re.compile(r"<(p|li|h1|tr)\b[^>]*>(.*?)</\1>", re.S)
NOWHERE = "(not found)"


@dataclass(frozen=True)
class Question:
    """A question, the clicks from the first page, and the sentence that answers it.

    `choices` are words of the address, as choosing them on the page leaves them; `answer` is a
    pattern that the paragraphs, list lines or table rows with the answer fit.
    """

    role: str
    asks: str
    clicks: tuple[str, ...]
    page: str
    answer: str
    choices: dict[str, str] = field(default_factory=dict)


QUESTIONS = (
    Question(
        "principal", "Is it being taught this term?", (), "schoolwide",
        r"of the lessons planned so far",
    ),
    Question(
        "principal", "Which step of one routine should we look at?",
        ("By routine", "Routine: Settling to listen"), "routines",
        r"step.*(least often|hold)|[Tt]oo few.*step", {"routine": "Settling to listen"},
    ),
    Question(
        "principal", "Is it a matter of single classes or of the whole school?", (), "schoolwide",
        r"Classes differ beyond chance|In no routine do classes differ|Too few classes",
    ),
    Question(
        "support", "How many offers are there to consider today?", (), "meeting",
        r"to consider",
    ),
    Question(
        "support", "Where would another look help before we say anything?", (), "meeting",
        r"^Room [^·]*: (\d+|no) visits? this term$|Every class has been seen",
    ),
    Question(
        "support", "Do two of us see the same?", ("Visits",), "visits",
        r"watched by two",
    ),
    Question(
        "teacher", "How many children wait for a turn in this round?", (), "my_class",
        r"still to come this round|(child is|children are) next|Everyone has had a turn|No round",
    ),
    Question(
        "teacher", "How does it hold, beside my own terms before?", (), "my_class",
        r"^· .*\bterm|^In place when someone looked",
    ),
    Question(
        "teacher", "How many planned lessons have I not written down?", (), "my_class",
        r"planned lessons? ha(s|ve) no log|Every planned lesson is logged",
    ),
    Question(
        "steward", "Did the files come in, and what waits for someone?", ("What came in",),
        "came_in", r"rows received were taken in",
    ),
)  # fmt: skip
NAMES = {
    "principal": "Principal",
    "support": "Support team",
    "teacher": "Teacher",
    "steward": "Data steward",
}


def reader_of(role: str, workspace: Path) -> str:
    """The reader as the setting spells it; the teacher is the one of the first class by key."""
    if role != "teacher":
        return role
    folder = (workspace / "snapshots" / "current").read_text(encoding="utf-8").strip()
    told = json.loads((workspace / "snapshots" / folder / "build.json").read_text("utf-8"))
    return f"teacher:{sorted(told['rooms'])[0]}"


def answer_of(question: Question, workspace: Path) -> str:
    """What the page says, `(not found)` when no line of it fits."""
    reader = reader_of(question.role, workspace)
    told = {"ROUNDELAY_WORKSPACE": str(workspace), "ROUNDELAY_READER": reader}
    with patch.dict(os.environ, told), _server():
        page = AppTest.from_file(str(ROOT / "app" / "main.py"), default_timeout=120)
        for name, word in question.choices.items():
            page.query_params[name] = word
        page.switch_page(f"pages/{question.page}.py").run()
    lines = [line for block in page.get("html") for line in lines_of(str(block.proto.body))]
    found = dict.fromkeys(line for line in lines if re.search(question.answer, line))
    return "; ".join(found) or NOWHERE


def lines_of(body: str) -> list[str]:
    """The lines of a piece of a page as plain text; the cells of a row with a gap between."""
    blocks = [inner for _, inner in _BLOCKS.findall(body)]
    gapped = [re.sub(r"</t[hd]>\s*<t[hd]", " · </td><td", inner) for inner in blocks]
    return [" ".join(unescape(re.sub(r"<[^>]+>", "", cell)).split()) for cell in gapped]


@contextmanager
def _server() -> Iterator[None]:
    with patch(_RUNNER, lambda main: runpy.run_path(main, run_name="__main__")):
        yield


def document(answers: list[str], build: str) -> str:
    """The page for people: a question, the clicks, and the answer of the demo."""
    parts = [
        "# Ten questions, where each is answered, and what the invented school answers\n\n"
        f"Asked of the invented school (`roundelay demo`), as of {build}. The answers are the "
        "pages’ own sentences, read from\nthem by `python -m tests.app.questions demo`, which "
        "says when one of them has changed; `--write` writes this page\nanew. The teacher is the "
        "one of the class whose key comes first. All data are invented.\n"
    ]
    for number, (question, answer) in enumerate(zip(QUESTIONS, answers, strict=True), 1):
        clicks = " → ".join(question.clicks) or "none: it stands on the first page"
        parts.append(
            f"\n## {number}. {NAMES[question.role]}: {question.asks}\n\n"
            f"Clicks: {clicks}\n\n> {answer}\n"
        )
    return "".join(parts)


def main(arguments: list[str] | None = None) -> int:
    """Compare, or write; 1 when an answer has changed or is not found."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n", maxsplit=1)[0])
    parser.add_argument("workspace", type=Path)
    parser.add_argument("--write", action="store_true")
    told = parser.parse_args(arguments)
    workspace = told.workspace.resolve()
    build = (workspace / "snapshots" / "current").read_text(encoding="utf-8").strip()[:10]
    text = document([answer_of(question, workspace) for question in QUESTIONS], build)
    if told.write:
        DOCUMENT.write_text(text, encoding="utf-8")
    same = text == DOCUMENT.read_text(encoding="utf-8")
    print("docs/questions.md says what the pages say." if same else text)
    return 0 if same and NOWHERE not in text else 1


if __name__ == "__main__":
    sys.exit(main())

"""Run the tests of one broken macro in a process of its own."""

from __future__ import annotations

import contextlib
import os
import sys
from collections.abc import Sequence
from pathlib import Path

import hypothesis
import pytest

from tests.dbt_project import macro_runner


def survives(macros: Path, tests: Sequence[str]) -> bool:
    """Whether every one of `tests` passes with the macros of that folder.

    Changes the process it runs in: give every trial its own.
    """
    hypothesis.settings.register_profile(
        "mutation", derandomize=True, database=None, phases=[hypothesis.Phase.explicit,
        hypothesis.Phase.generate], deadline=None
    )  # fmt: skip
    hypothesis.settings.load_profile("mutation")
    macro_runner.MACROS = macros
    macro_runner.macros.cache_clear()
    with (
        Path(os.devnull).open("w", encoding="utf-8") as nowhere,
        contextlib.redirect_stdout(nowhere),
        contextlib.redirect_stderr(nowhere),
    ):
        code = pytest.main(["-x", "-q", "-p", "no:cacheprovider", "-m", "not slow", *tests])
    if code == pytest.ExitCode.NO_TESTS_COLLECTED:
        sys.exit(f"no test was found in {', '.join(tests)}")
    return code == pytest.ExitCode.OK

"""Problems that a person can understand and act on.

Every foreseen failure is a `Problem`: what happened, where, which rule was met, what to do next.
The command line prints its three lines and ends with its exit code; nothing else is shown.
"""

from collections.abc import Mapping
from enum import IntEnum


class ExitCode(IntEnum):
    """What the command tells the program that started it."""

    OK = 0
    SET_ASIDE = 1
    USAGE = 2
    WORKSPACE = 3
    BUILD_FAILED = 4
    BUSY = 5
    UNEXPECTED = 70


class Problem(Exception):  # noqa: N818 - a problem to solve, told to a person; not an error of the program
    """A foreseen failure, said in plain words.

    `what` happened, `where` (a file, a setting, a folder), the `rule` met, and the `remedy`.
    """

    exit_code: ExitCode = ExitCode.WORKSPACE

    def __init__(self, what: str, *, where: str = "", rule: str = "", remedy: str = "") -> None:
        super().__init__(what)
        self.what = what
        self.where = where
        self.rule = rule
        self.remedy = remedy

    def __str__(self) -> str:
        """Three calm lines: what (and where), why, what to do. Empty parts are left out."""
        first = f"{self.what} ({self.where})" if self.where else self.what
        lines = [first, f"Why: {self.rule}" if self.rule else "", self._remedy_line()]
        return "\n".join(line for line in lines if line)

    def _remedy_line(self) -> str:
        return f"What to do: {self.remedy}" if self.remedy else ""

    def as_dict(self) -> Mapping[str, str | int]:
        """The same for machines: `problem, what, where, rule, remedy, exit_code`."""
        return {
            "problem": type(self).__name__,
            "what": self.what,
            "where": self.where,
            "rule": self.rule,
            "remedy": self.remedy,
            "exit_code": int(self.exit_code),
        }


class UsageProblem(Problem):
    """The command was asked for something that it does not have."""

    exit_code = ExitCode.USAGE


class WorkspaceProblem(Problem):
    """The workspace folder or its settings are not as they should be."""

    exit_code = ExitCode.WORKSPACE


class BuildFailed(Problem):
    """The new build did not finish; the one before it still stands."""

    exit_code = ExitCode.BUILD_FAILED


class Busy(Problem):
    """Another command is at work in this workspace."""

    exit_code = ExitCode.BUSY

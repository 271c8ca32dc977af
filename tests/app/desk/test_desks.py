"""The desk belongs to the data steward: the visit's role decides, and nothing else."""

from __future__ import annotations

from pathlib import Path

import pytest

from app.access import NothingBuilt, Refused
from app.desk import Desk, desk_for
from tests.app.desk.world import make_workspace, visit_of


@pytest.mark.parametrize("role", ["principal", "support"])
def test_no_other_reader_is_given_a_desk(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, role: str
) -> None:
    monkeypatch.setenv("ROUNDELAY_WORKSPACE", str(tmp_path))
    with pytest.raises(Refused, match="data steward"):
        desk_for(visit_of(role, make_workspace(tmp_path)).reader, "Office")


def test_a_steward_is_given_a_desk_over_the_workspace_of_the_server(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("ROUNDELAY_WORKSPACE", str(tmp_path))
    desk = desk_for(visit_of("steward", make_workspace(tmp_path)).reader, "Office")
    assert (desk.workspace, desk.who) == (tmp_path.resolve(), "Office")


def test_a_desk_cannot_be_made_without_the_door(tmp_path: Path) -> None:
    with pytest.raises(Refused):
        Desk(tmp_path, "Office")
    with pytest.raises(Refused):
        Desk(tmp_path, "Office", object())


def test_without_a_workspace_there_is_no_desk(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    visit = visit_of("steward", make_workspace(tmp_path))
    monkeypatch.delenv("ROUNDELAY_WORKSPACE", raising=False)
    with pytest.raises(NothingBuilt):
        desk_for(visit.reader, "Office")

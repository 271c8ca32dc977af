"""The section about signing in is closed like the others, and is handed over whole."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from app import door
from ingest import opening, serve, settings
from ingest.errors import UsageProblem, WorkspaceProblem
from ingest.settings_sign_in import SignIn
from ingest.workspace import Workspace
from tests.ingest.worlds import SETTINGS, make_workspace

SCHOOL = '[school]\nid = "q"\nname = "Quillbrook"\n'
OIDC = (
    SCHOOL + '[sign_in]\nmode = "oidc"\npublic_address = "https://x.example/roundelay"\n'
    '[sign_in.oidc]\nissuer = "https://id.example"\nclient_id = "r"\n'
    '[sign_in.oidc.roles]\n"heads" = "principal"\n"teachers" = "teacher"\n'
)
PROXY = (
    SCHOOL + '[sign_in]\nmode = "proxy"\ntrusted_proxy = "127.0.0.1"\n'
    'name_header = "X-Remote-User"\n'
)


def read(folder: Path, text: str) -> settings.Settings:
    path = folder / "roundelay.toml"
    path.write_text(text, encoding="utf-8")
    return settings.load(path)


def test_without_the_section_people_have_accounts_here(tmp_path: Path) -> None:
    assert read(tmp_path, SCHOOL).sign_in == SignIn()


@pytest.mark.parametrize(
    ("text", "where"),
    [
        ('[sign_in]\nmood = "local"\n', "sign_in.mood"),
        ('[sign_in]\nmode = "ldap"\n', "sign_in.mode"),
        ("[sign_in]\nmode = 1\n", "sign_in.mode"),
        ('[sign_in]\npublic_address = "x.example"\n', "sign_in.public_address"),
        ('[sign_in]\npublic_address = "ftp://x.example"\n', "sign_in.public_address"),
        ('[sign_in]\npublic_address = "https://x.example/?a"\n', "sign_in.public_address"),
        ('[sign_in]\ntrusted_proxy = "proxy.example"\n', "sign_in.trusted_proxy"),
        ("[sign_in]\nidle_minutes = 0\n", "sign_in.idle_minutes"),
        ("[sign_in]\nidle_minutes = true\n", "sign_in.idle_minutes"),
        ("[sign_in]\nlongest_hours = 1000\n", "sign_in.longest_hours"),
        ('[sign_in]\nmode = "proxy"\n', "sign_in.trusted_proxy"),
        ('[sign_in]\nmode = "proxy"\ntrusted_proxy = "10.0.0.1"\n', "sign_in.name_header"),
        ('[sign_in]\nmode = "oidc"\n', "sign_in.oidc.issuer"),
        ('[sign_in]\nmode = "oidc"\noidc = 1\n', "sign_in.oidc"),
        ('[sign_in]\nmode = "oidc"\n[sign_in.oidc]\nissuer = "x"\n', "sign_in.oidc.client_id"),
        ('[sign_in]\nmode = "oidc"\n[sign_in.oidc]\nsecret = "x"\n', "sign_in.oidc.secret"),
    ],
)
def test_a_slip_in_the_section_stops_and_is_named(tmp_path: Path, text: str, where: str) -> None:
    with pytest.raises(WorkspaceProblem) as problem:
        read(tmp_path, SCHOOL + text)
    assert problem.value.where.endswith(f": {where}")


@pytest.mark.parametrize("roles", ["", '"heads" = "root"\n', '"heads" = 1\n'])
def test_a_provider_needs_words_for_roles_that_exist(tmp_path: Path, roles: str) -> None:
    text = OIDC.partition('"heads"')[0] + roles
    with pytest.raises(WorkspaceProblem) as problem:
        read(tmp_path, text)
    assert problem.value.where.endswith("sign_in.oidc.roles")


def test_what_is_set_reaches_the_door_as_it_was_set(tmp_path: Path) -> None:
    workspace = Workspace(tmp_path)
    own = read(tmp_path, OIDC)
    (tmp_path / "oidc-secret.txt").write_text("s3cret\n", encoding="utf-8")
    rules = door.read(serve.sign_in_text(workspace, own, "127.0.0.1"))
    assert (rules.mode, rules.base, rules.is_secure) == ("oidc", "/roundelay", True)
    assert rules.school_name == "Quillbrook"
    assert (rules.idle_seconds, rules.longest_seconds) == (3600, 43200)
    assert rules.provider is not None
    assert rules.provider.client_secret == "s3cret"
    assert list(rules.provider.roles.items()) == [("heads", "principal"), ("teachers", "teacher")]
    assert "s3cret" not in repr(rules)
    proxy = door.read(serve.sign_in_text(workspace, read(tmp_path, PROXY), "127.0.0.1"))
    assert (proxy.trusted_proxy, proxy.name_header) == ("127.0.0.1", "x-remote-user")
    assert proxy.provider is None
    assert proxy.cookie == "roundelay"


def test_a_secret_that_is_not_there_is_said_before_anything_starts(tmp_path: Path) -> None:
    with pytest.raises(WorkspaceProblem, match="secret") as problem:
        serve.sign_in_text(Workspace(tmp_path), read(tmp_path, OIDC), "127.0.0.1")
    assert problem.value.where.endswith("oidc-secret.txt")


def test_how_one_signs_in_is_no_part_of_a_build(tmp_path: Path) -> None:
    own = read(tmp_path, PROXY)
    assert own.digest == read(tmp_path, SCHOOL).digest
    assert "sign_in" not in json.dumps(own.as_dict())


def test_people_sign_in_where_the_settings_or_an_account_say_so(tmp_path: Path) -> None:
    from ingest import accounts
    from tests.ingest.worlds import AT

    workspace = make_workspace(tmp_path)
    assert opening.signs_in(workspace, SETTINGS) is False
    assert opening.signs_in(workspace, read(tmp_path, PROXY)) is True
    assert opening.signs_in(workspace, read(tmp_path, OIDC)) is True
    public = SCHOOL + '[sign_in]\npublic_address = "https://x.example"\n'
    with pytest.raises(UsageProblem, match="Nobody can sign in yet"):
        opening.signs_in(workspace, read(tmp_path, public))
    accounts.add(workspace, "anna", "", "support", None, None, AT)
    assert opening.signs_in(workspace, SETTINGS) is True
    accounts.close(workspace, "anna", AT)
    assert opening.signs_in(workspace, SETTINGS) is False

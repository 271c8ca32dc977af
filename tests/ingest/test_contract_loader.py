"""A contract file is checked before it is believed."""

from __future__ import annotations

from pathlib import Path

import pytest

from ingest.contracts import ContractError, load_contracts
from ingest.findings import GENERIC_RULES
from tests.ingest import door

HALLS = (Path(door.__file__).parents[1] / "fixtures" / "contracts" / "halls.yml").read_text()


def loaded(folder: Path, text: str, name: str = "halls.yml") -> None:
    (folder / name).write_text(text)
    load_contracts(folder)


def test_contracts_come_in_the_order_in_which_they_load() -> None:
    orders = [one.load_order for one in load_contracts().values()]

    assert orders == sorted(orders)
    assert list(door.CONTRACTS) == ["halls", "singers", "evenings"]


def test_a_feed_loads_after_every_feed_that_it_names() -> None:
    contracts = load_contracts()
    late = [
        (one.name, key.resource)
        for one in contracts.values()
        for key in one.foreign_keys
        if key.resource != one.name and contracts[key.resource].load_order >= one.load_order
    ]
    assert late == []


def test_a_feed_that_can_be_voided_gets_the_column() -> None:
    assert door.CONTRACTS["evenings"].field("voided").is_optional
    assert "voided" not in door.CONTRACTS["halls"].field_names


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (("maxLength", "maxlength"), "'maxlength' is not known"),
        (("title: Halls", "titel: Halls"), "'titel' is not known"),
        (("group: roster", "group: rooster"), "'rooster' is not one of"),
        (("required: true", "required: 1"), "must be bool"),
        (("type: string", "type: text"), "type 'text' is not known"),
        (("primaryKey: [hall_id]", "primaryKey: [id]"), "'id' is not a field"),
        (("load_order: 10, ", ""), "'load_order' is missing"),
        (("name: halls", "name: hall"), "the file says 'halls'"),
        (("- {name: name", "- {name: hall_id"), "stands twice"),
        (("schema:", "schema: ["), "not valid YAML"),
    ],
)
def test_a_slip_of_the_pen_stops_the_load_and_is_named(
    tmp_path: Path, change: tuple[str, str], said: str
) -> None:
    assert change[0] in HALLS
    with pytest.raises(ContractError) as caught:
        loaded(tmp_path, HALLS.replace(*change, 1))

    assert said in caught.value.rule
    assert "halls.yml" in caught.value.where


def test_a_reference_to_nowhere_stops_the_load(tmp_path: Path) -> None:
    key = "  foreignKeys: [{fields: name, reference: {resource: towns, fields: name}}]\n"
    with pytest.raises(ContractError, match="cannot be used") as caught:
        loaded(tmp_path, HALLS.replace("  missingValues", key + "  missingValues"))

    assert "'towns', which has no contract" in caught.value.rule


def test_every_generic_rule_says_what_to_do_and_leaves_no_place_unknown() -> None:
    places = {"column", "limit", "allowed", "nearest", "detail"}
    for rule in GENERIC_RULES.values():
        assert rule.remedy
        assert rule.message
        found = {part.split("}")[0] for part in (rule.message + rule.remedy).split("{")[1:]}
        assert found <= places, rule.name

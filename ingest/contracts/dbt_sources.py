"""The contracts -> dbt's description of the landing store, so that no column is described twice."""

from collections.abc import Mapping
from typing import Any

import yaml

from ingest.contracts.model import VOIDED, Contract, Field

_HEADER = """# Made from ingest/contracts/feeds/ by `python -m ingest.contracts.documents`.
# Change the contract, not this file.
"""
_LINEAGE = {
    "file_hash": ("varchar", "SHA-256 of the received file this version of the row came from."),
    "row_hash": ("uhugeint", "128-bit number of the row's content without its key."),
    "received_at": ("timestamptz", "When the file was received."),
    "contract_version": ("varchar", "Version of the contract the row was checked against."),
    "row_version": ("integer", "1 for the first content under this key, 2 for the next, ..."),
}
_LEDGER: Mapping[str, tuple[str, Mapping[str, str]]] = {
    "files": (
        "One row for each file received, whatever became of it. received_count = accepted_count + "
        "known_count + quarantined_count + refused_count, always.",
        {
            "file_hash": "SHA-256 of the file as received.",
            "file_name": "The name as shown to the person who sent it.",
            "feed": "The feed it was taken for.",
            "received_at": "When it was received.",
            "contract_version": "Version of the contract it was checked against.",
            "status": "loaded, refused or already_known.",
            "received_count": "Rows in the file.",
            "accepted_count": "Rows landed as a new row or a new version.",
            "known_count": "Rows that were here before with the same content.",
            "quarantined_count": "Rows set aside.",
            "refused_count": "Rows of a file that was refused.",
            "warning_count": "Warnings about the file or its rows.",
        },
    ),
    "findings": (
        "One row for each thing found in a file.",
        {
            "file_hash": "SHA-256 of the file as received.",
            "feed": "The feed it was taken for.",
            "file_name": "The name as shown to the person who sent it.",
            "line_number": "The line in the file; empty for a finding about the whole file.",
            "column_name": "The column it is about.",
            "rule_name": "The rule, generic or named in the contract.",
            "verdict": "refuse, quarantine, warn or known.",
            "message": "What was found; no received text is repeated.",
            "remedy": "What to do about it.",
        },
    ),
    "quarantine": (
        "One row for each row set aside, with every reason.",
        {
            "file_hash": "SHA-256 of the file as received.",
            "feed": "The feed it was taken for.",
            "file_name": "The name as shown to the person who sent it.",
            "line_number": "The line in the file.",
            "row_json": "The row as received. Identifiable; read by nothing that is published.",
            "rule_names": "Every rule the row broke.",
            "can_release": "Whether a person may release it as it is.",
            "status": "held, released or corrected.",
            "received_at": "When the file was received.",
            "decided_at": "When it was released or corrected.",
            "decided_by": "Who released it.",
        },
    ),
}


def dbt_sources(contracts: Mapping[str, Contract]) -> str:
    """The YAML of `_sources.yml`: `latest` and `latest_names` from the contracts, and `ledger`."""
    feeds = [contracts[name] for name in sorted(contracts)]
    named = [one for one in feeds if one.private_fields]
    sources = [
        _source("latest", "The newest version of every row, withdrawn rows left out.",
                [_latest(one) for one in feeds]),
        _source("latest_names", "Names of people, kept apart; read by room models only.",
                [_names(one) for one in named]),
        _source("ledger", "What was received and what became of it.",
                [_ledger(name) for name in _LEDGER]),
    ]  # fmt: skip
    text = yaml.safe_dump(
        {"version": 2, "sources": sources}, sort_keys=False, allow_unicode=True, width=100
    )
    return _HEADER + text


def _source(name: str, description: str, tables: list[dict[str, Any]]) -> dict[str, Any]:
    return {
        "name": name,
        "database": "landing",
        "schema": name,
        "description": description,
        "tables": tables,
    }


def _latest(contract: Contract) -> dict[str, Any]:
    fields = [one for one in contract.public_fields if one.name != VOIDED]
    meta = {
        "group": contract.group,
        "primary_key": list(contract.primary_key),
        "contract_version": contract.version,
    }
    return {
        "name": contract.name,
        "description": contract.description,
        "config": {"meta": meta},
        "columns": [*(_column(one) for one in fields), *_lineage()],
    }


def _names(contract: Contract) -> dict[str, Any]:
    fields = [one for one in contract.fields if one.name in contract.primary_key or one.is_private]
    return {
        "name": contract.name,
        "description": f"Names from the feed {contract.name}.",
        "config": {"meta": {"group": contract.group, "audience": "room"}},
        "columns": [*(_column(one) for one in fields), *_lineage()],
    }


def _column(field: Field) -> dict[str, Any]:
    return {"name": field.name, "data_type": field.sql_type, "description": field.description}


def _lineage() -> list[dict[str, Any]]:
    return [
        {"name": name, "data_type": kind, "description": text}
        for name, (kind, text) in _LINEAGE.items()
    ]


def _ledger(name: str) -> dict[str, Any]:
    description, columns = _LEDGER[name]
    return {
        "name": name,
        "description": description,
        "columns": [{"name": one, "description": text} for one, text in columns.items()],
    }

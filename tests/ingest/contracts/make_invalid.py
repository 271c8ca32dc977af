"""Write the bad files anew: `python tests/ingest/contracts/make_invalid.py`."""

from pathlib import Path

from faults import ALL  # type: ignore[import-not-found]
from faults.writing import files_of  # type: ignore[import-not-found]

INVALID = Path(__file__).resolve().parents[2] / "fixtures" / "invalid"


def main() -> None:
    """Write every file of every fault below `tests/fixtures/invalid/`."""
    for fault in ALL:
        for path, raw in files_of(fault):
            target = INVALID / path
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(raw)


if __name__ == "__main__":
    main()

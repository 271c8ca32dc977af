"""Every worked example is used by a test, or no measure here uses its method."""

from __future__ import annotations

from pathlib import Path

from tests.check_values import examples

TESTS = Path(__file__).resolve().parents[1]

# Methods that no measure uses, by example, with what stands in their place.
METHODS_NOT_USED = {
    "m-cochran-64-cities": "planning of visits is not built yet",
    "m-practools-neyman": "planning of visits is not built yet",
    "n-exam-em1": "no measure adjusts for covariates; its data are used without them",
    "k-arp-expectation-a": "looks are momentary; intervals are not scored partial or whole",
    "k-arp-expectation-b": "looks are momentary; intervals are not scored partial or whole",
    "k-time-sampling-hand": "looks are momentary; intervals are not scored partial or whole",
    "j-ugesp-qa12": "no measure uses the four-fifths rule",
    "i-multinom-emt-521": "turns are audited by simulation, not by the exact multinomial",
}


def _used() -> set[str]:
    here = Path(__file__)
    text = "\n".join(
        path.read_text(encoding="utf-8") for path in TESTS.rglob("*.py") if path != here
    )
    return {identifier for identifier in examples() if f'"{identifier}"' in text}


def test_every_example_of_a_method_that_is_used_is_checked() -> None:
    assert set(examples()) - _used() == set(METHODS_NOT_USED)

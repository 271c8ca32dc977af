"""What fidelity is made of and how its range is found."""

from ingest.thresholds.kind import CONVENTION, Threshold, count

_EQUAL = (
    "Equal weights are a convention; no source was found that gives others for classroom routines."
)


def _weight(name: str, side: str) -> Threshold:
    return Threshold(name, 1.0, 0.0, 10.0, f"weight of {side} in the routine as intended", _EQUAL)


FIDELITY = (
    _weight("weight_adherence", "the steps done"),
    _weight("weight_exposure", "the pupils reached"),
    _weight("weight_quality", "how well it was taught"),
    _weight("weight_responsiveness", "what pupils do"),
    count(
        "bootstrap_resamples",
        1000,
        20000,
        "times that visits are drawn again to find the range of the routine as intended",
        "The standard error is then known to about 2 %: 1 / sqrt(2 x 1000).",
        100,
    ),
    count("bootstrap_seed", 1, 1_000_000, "number that those draws start from", CONVENTION),
)

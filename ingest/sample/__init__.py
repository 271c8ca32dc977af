"""The invented school: a seeded generator of one year of Quillbrook Primary.

`generate` writes clean files for every feed and returns a manifest of what was planted in them;
`faulty` writes a few files that the door must refuse or set aside.
Nothing here is taken from a real school, and no measure may use it.
"""

from ingest.sample.faults import faulty
from ingest.sample.manifest import FaultyFile, PlantedSituation, SampleManifest, TrueShare
from ingest.sample.options import DEFAULT_SEED, FULL, SMALL, Situations, Size
from ingest.sample.school import generate

__all__ = [
    "DEFAULT_SEED",
    "FULL",
    "SMALL",
    "FaultyFile",
    "PlantedSituation",
    "SampleManifest",
    "Situations",
    "Size",
    "TrueShare",
    "faulty",
    "generate",
]

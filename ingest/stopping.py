"""A polite request to end, heard as if a person had pressed Ctrl-C."""

import signal
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType


@contextmanager
def stoppable() -> Iterator[None]:
    """Treat a polite request to end (SIGTERM) as Ctrl-C while the block runs."""

    def interrupt(number: int, frame: FrameType | None) -> None:
        raise KeyboardInterrupt

    try:
        before = signal.signal(signal.SIGTERM, interrupt)
    except ValueError:  # not in the main thread: the caller stops us in another way
        yield
        return
    try:
        yield
    finally:
        signal.signal(signal.SIGTERM, before)

"""Many readers at once: sessions that speak to the dashboard's server as a browser does.

A session opens the websocket, asks for a page, waits until the server says that its script has
finished, thinks, and asks for the next. What is timed is the asking: from the request to that word,
with the time in which other sessions were served first.
"""

from __future__ import annotations

import asyncio
import random
import time
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

from streamlit.proto.BackMsg_pb2 import BackMsg
from streamlit.proto.ForwardMsg_pb2 import ForwardMsg
from websockets.asyncio.client import ClientConnection, connect

_ENOUGH_SECONDS = 60.0
_SMALL = 128  # bytes; the word that a script has ended is far shorter


@dataclass(frozen=True)
class Crowd:
    """How many, which pages in turn, how long each reader thinks, and how often each asks."""

    address: str
    pages: Sequence[str]
    sessions: int = 50
    think_seconds: float = 5.0
    asks: int = 8


@dataclass(frozen=True)
class Answers:
    """Seconds of each page run after a session's first; chunks of page that came with them."""

    seconds: tuple[float, ...]
    deltas: int


def ask(crowd: Crowd) -> Answers:
    """Send the crowd; every answer that it got."""
    # In a thread of its own: a caller that drives a browser has a loop running in this one.
    with ThreadPoolExecutor(1) as apart:
        return apart.submit(asyncio.run, _ask(crowd)).result()


async def _ask(crowd: Crowd) -> Answers:
    found = await asyncio.gather(*(_session(crowd, number) for number in range(crowd.sessions)))
    return Answers(
        tuple(one for seconds, _ in found for one in seconds), sum(deltas for _, deltas in found)
    )


async def _session(crowd: Crowd, number: int) -> tuple[list[float], int]:
    """One reader, beginning at a moment of their own."""
    chance = random.Random(number)
    await asyncio.sleep(chance.uniform(0, crowd.think_seconds))
    address = crowd.address.replace("http", "ws", 1) + "/_stcore/stream"
    seconds: list[float] = []
    deltas = 0
    async with connect(address, origin=crowd.address, max_size=None, proxy=None) as line:
        for turn in range(crowd.asks + 1):
            page = crowd.pages[(number + turn) % len(crowd.pages)]
            took, came = await _page(line, page)
            deltas += came
            if turn:  # the first opens the session, with everything that is read but once
                seconds.append(took)
            await asyncio.sleep(chance.uniform(0.5, 1.5) * crowd.think_seconds)
    return seconds, deltas


async def _page(line: ClientConnection, page: str) -> tuple[float, int]:
    message = BackMsg()
    message.rerun_script.page_name = page
    begun = time.perf_counter()
    await line.send(message.SerializeToString())
    deltas = 0
    async with asyncio.timeout(_ENOUGH_SECONDS):
        async for raw in line:
            if len(raw) > _SMALL:
                # Never the word that ends a run. Fifty browsers do not share one processor: what
                # reading a page costs them is not to be counted as waiting for the server.
                deltas += 1
                continue
            answer = ForwardMsg.FromString(raw if isinstance(raw, bytes) else raw.encode())
            kind = answer.WhichOneof("type")
            deltas += kind in ("delta", "ref_hash")
            if kind == "script_finished" and answer.script_finished in (
                ForwardMsg.FINISHED_SUCCESSFULLY,
                ForwardMsg.FINISHED_WITH_COMPILE_ERROR,
            ):
                break
    return time.perf_counter() - begun, deltas

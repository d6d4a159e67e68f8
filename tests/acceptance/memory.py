# SPDX-License-Identifier: Apache-2.0
"""What a browser holds in memory: the heaps that its scripts reach, and every byte its processes may write to."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

from playwright.sync_api import Page

from tests.kills.devtools import of_session

STEP, OVERLAP = 1 << 24, 100


def heaps(page: Page) -> dict[str, str]:
    """A heap snapshot of the page and of each kind of worker it has, as text."""
    session = page.context.new_cdp_session(page)
    chunks: dict[str, list[str]] = {"page": []}
    kinds: dict[str, str] = {}
    done: set[str] = set()

    def attached(event: dict[str, Any]) -> None:
        kinds[event["sessionId"]] = event["targetInfo"]["type"]
        chunks[event["targetInfo"]["type"]] = []

    def received(event: dict[str, Any]) -> None:
        message = json.loads(event["message"])
        if message.get("method") == "HeapProfiler.addHeapSnapshotChunk":
            chunks[kinds[event["sessionId"]]].append(message["params"]["chunk"])
        elif "id" in message:
            assert "error" not in message, message
            done.add(event["sessionId"])

    session.on("Target.attachedToTarget", attached)
    session.on("Target.receivedMessageFromTarget", received)
    session.on("HeapProfiler.addHeapSnapshotChunk", lambda event: chunks["page"].append(event["chunk"]))
    # Playwright hands on no session within a session: what is for a worker goes in an envelope.
    session.send("Target.setAutoAttach", {"autoAttach": True, "waitForDebuggerOnStart": False, "flatten": False})
    session.send("HeapProfiler.takeHeapSnapshot")
    ask = json.dumps({"id": 1, "method": "HeapProfiler.takeHeapSnapshot"})
    for worker in kinds:
        session.send("Target.sendMessageToTarget", {"sessionId": worker, "message": ask})
    while done != set(kinds):
        page.wait_for_timeout(50)
    session.detach()
    return {kind: "".join(parts) for kind, parts in chunks.items()}


def holds(profile: Path, word: str) -> bool:
    """Whether a word stands, in either width, in what the processes of a profile's browser may write to."""
    forms = word.encode(), word.encode("utf-16-le")
    return any(form in part for part in _writable(profile) for form in forms)


def _writable(profile: Path) -> Iterator[bytes]:
    """The memory of a browser's processes, in parts that overlap."""
    for pid in of_session(_leader(profile)):
        with Path(f"/proc/{pid}/mem").open("rb", buffering=0) as memory:
            for line in Path(f"/proc/{pid}/maps").read_text().splitlines():
                span, mode = line.split()[:2]
                if not mode.startswith("rw"):
                    continue
                begin, end = (int(text, 16) for text in span.split("-"))
                with suppress(OSError):  # let go of meanwhile, or a device's
                    for at in range(begin, end, STEP):
                        memory.seek(at)
                        yield memory.read(min(STEP + OVERLAP, end - at))


def _leader(profile: Path) -> int:
    """The process whose session a profile's browser is: it names the profile, and so does no other browser."""
    for process in Path("/proc").iterdir():
        with suppress(OSError):
            if f"--user-data-dir={profile}".encode() in (process / "cmdline").read_bytes().split(b"\0"):
                return os.getsid(int(process.name))
    raise LookupError(f"No browser runs on {profile}.")

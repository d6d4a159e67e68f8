# SPDX-License-Identifier: Apache-2.0
"""A way station between tablets and server that lets no megabyte through, and dies when it is told to.

Run as `python -m tests.server.files.narrow_way` it sends 20,000 marks and 200 photos through, and says what came.
"""

from __future__ import annotations

import contextlib
import http.client
import json
import socket
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from tests import node
from tests.served import Served, free_port
from tests.server.files.attaching import noisy

LARGEST_BODY = 1024 * 1024
AWAY_S = 1.5
REFUSAL = b"<html><body>Too large.</body></html>"


@dataclass
class NarrowWay:
    """A proxy at a port of this machine. `dies_at` are the requests during which it dies, for a moment."""

    server: int
    dies_at: tuple[int, ...]
    port: int = field(default_factory=free_port)
    requests: int = 0
    deaths: int = 0
    refused: int = 0
    listening: socket.socket | None = None
    lock: threading.Lock = field(default_factory=threading.Lock)

    @contextlib.contextmanager
    def open(self) -> Iterator[NarrowWay]:
        """Stand there until the end of the block."""
        self._listen()
        yield self
        with self.lock:
            listening, self.listening = self.listening, None
        if listening is not None:
            listening.close()

    def _listen(self) -> None:
        listening = socket.create_server(("127.0.0.1", self.port))
        with self.lock:
            self.listening = listening
        threading.Thread(target=self._accept, args=(listening,), daemon=True).start()

    def _accept(self, listening: socket.socket) -> None:
        while True:
            try:
                caller, _ = listening.accept()
            except OSError:
                return
            threading.Thread(target=self._pass_on, args=(caller,), daemon=True).start()

    def _pass_on(self, caller: socket.socket) -> None:
        with caller, caller.makefile("rb") as reader, contextlib.suppress(OSError, http.client.HTTPException):
            line = reader.readline().decode()
            headers = http.client.parse_headers(reader)
            length = int(headers.get("content-length", "0"))
            with self.lock:
                self.requests += 1
                dies = self.requests in self.dies_at
            if dies:
                reader.read(length // 2)
                self._die()
                return
            if length > LARGEST_BODY:
                self.refused += 1
                _answer(caller, 413, [("Content-Type", "text/html")], REFUSAL)
                return
            method, path, _ = line.split(" ", 2)
            asked = http.client.HTTPConnection("127.0.0.1", self.server, timeout=60)
            passed = {name: value for name, value in headers.items() if name.lower() != "connection"}
            asked.request(method, path, reader.read(length), passed)
            answer = asked.getresponse()
            body = answer.read()
            asked.close()
            _answer(caller, answer.status, answer.getheaders(), body)

    def _die(self) -> None:
        with self.lock:
            listening, self.listening = self.listening, None
            self.deaths += 1
        if listening is not None:
            listening.close()
        threading.Timer(AWAY_S, self._listen).start()


def _answer(caller: socket.socket, status: int, headers: list[tuple[str, str]], body: bytes) -> None:
    kept = [(name, value) for name, value in headers if name.lower() not in ("connection", "content-length")]
    lines = [f"HTTP/1.1 {status} -", *(f"{name}: {value}" for name, value in kept)]
    lines += [f"Content-Length: {len(body)}", "Connection: close"]
    caller.sendall("\r\n".join([*lines, "", ""]).encode("latin-1") + body)


def send_backlog(
    served: Served, photos: Path, marks: int, dies_at: tuple[int, ...]
) -> tuple[dict[str, Any], NarrowWay]:
    """Send a tablet's backlog through the narrow way; returns what the tablet saw, and the way."""
    with NarrowWay(served.port, dies_at).open() as way:
        words = ["tests/static/sync/backlog.mjs", f"http://127.0.0.1:{way.port}", str(photos), str(marks)]
        told: dict[str, Any] = json.loads(node.run(words))
    return told, way


def take_photos(folder: Path, count: int) -> None:
    """Photos of many sizes, a few of them larger than the way is wide."""
    folder.mkdir()
    for seed in range(count):
        side = 1500 if seed % 40 == 0 else 120 + seed % 7 * 60
        (folder / f"{seed:03}.jpg").write_bytes(noisy(side, seed))


def main() -> None:
    """Send the whole of it."""
    with tempfile.TemporaryDirectory() as place:
        here = Path(place)
        take_photos(here / "photos", 200)
        served = Served(here / "works", free_port())
        served.start()
        try:
            began = time.monotonic()
            told, way = send_backlog(served, here / "photos", 20_000, (12, 180))
            took = time.monotonic() - began
            sys.stdout.write(f"{told}\n{way.requests} requests, {way.deaths} deaths, {took:.0f} s\n")
            sys.stdout.write(served.run("verify").stdout)
        finally:
            served.stop()


if __name__ == "__main__":
    main()

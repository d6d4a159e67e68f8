# SPDX-License-Identifier: Apache-2.0
"""A station on the way from a browser to the server, which does to the answers what networks do."""

from __future__ import annotations

import contextlib
import http.client
import json
from collections.abc import Iterator
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from threading import Thread

SIGN_IN = b"<!doctype html><title>Welcome</title><p>Accept the terms of this network."
PUSH, PULL = "/api/v1/sync/push", "/api/v1/sync/pull"


@dataclass
class WayStation:
    """A port of this machine in front of a server's.

    fate  what becomes of a request: "open"; "portal": a sign-in page in the place of every answer; a status: the
          server's refusal with it; "lost": the server does it, and nobody hears; "cut": the answer ends early
    """

    server: int
    fate: str | int = "open"
    only: str = ""  # the paths that meet it begin so
    cut_at: int = 0  # how many bytes of the next answer get through
    met: list[str] = field(default_factory=list)  # the paths that met it
    port: int = 0

    @contextlib.contextmanager
    def stand(self) -> Iterator[WayStation]:
        """Stand there until the end of the block."""
        station = self

        class Passer(BaseHTTPRequestHandler):
            """One request."""

            def do_GET(self) -> None:
                """Pass it on."""
                station.meet(self)

            do_POST = do_GET  # noqa: N815 - the names are the library's

            def log_message(self, *_: object) -> None:
                """Say nothing."""

        with ThreadingHTTPServer(("127.0.0.1", 0), Passer) as server:
            server.daemon_threads = True
            self.port = server.server_address[1]
            Thread(target=server.serve_forever, daemon=True).start()
            yield self
            server.shutdown()

    def meet(self, request: BaseHTTPRequestHandler) -> None:
        """Do to one request what is its fate."""
        body = request.rfile.read(int(request.headers.get("content-length", "0")))
        fate = self.fate if request.path.startswith(self.only) else "open"
        with contextlib.suppress(OSError, http.client.HTTPException):
            if fate == "portal":
                _answer(request, 200, [("Content-Type", "text/html")], SIGN_IN)
            elif isinstance(fate, int):
                refusal = {"marker": "tallywright", "protocol": 1, "code": "error", "sentence": "-", "details": {}}
                text = json.dumps({**refusal, "retry": fate >= 429}).encode()
                _answer(request, fate, [("Content-Type", "application/json")], text)
            else:
                status, headers, content = self._ask(request, body)
                if fate == "cut":
                    content = content[: self.cut_at]
                if fate != "lost":
                    _answer(request, status, headers, content)
        if fate != "open":
            self.met.append(request.path)

    def _ask(self, request: BaseHTTPRequestHandler, body: bytes) -> tuple[int, list[tuple[str, str]], bytes]:
        asked = http.client.HTTPConnection("127.0.0.1", self.server, timeout=60)
        passed = {name: value for name, value in request.headers.items() if name.lower() != "connection"}
        asked.request(request.command, request.path, body or None, passed)
        answer = asked.getresponse()
        content = answer.read()
        asked.close()
        return answer.status, answer.getheaders(), content


def _answer(request: BaseHTTPRequestHandler, status: int, headers: list[tuple[str, str]], content: bytes) -> None:
    """Answer without a length: an answer ends where its connection does, so that a cut one looks whole."""
    request.send_response_only(status)
    for name, value in headers:
        if name.lower() not in ("connection", "content-length", "transfer-encoding"):
            request.send_header(name, value)
    request.end_headers()
    request.wfile.write(content)

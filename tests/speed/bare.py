# SPDX-License-Identifier: Apache-2.0
"""An application that takes a body and answers, and does nothing else: what HTTP alone costs here."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

ANSWER = b'{"marker":"","protocol":1,"epoch":"","newest":1,"marks":[],"exceptions":[]}' + b" " * 200


def application(environ: dict[str, Any], start_response: Any) -> Iterable[bytes]:
    """Read the whole body, and answer with about as many bytes as a push is answered with."""
    environ["wsgi.input"].read()
    start_response("200 OK", [("Content-Type", "application/json"), ("Content-Length", str(len(ANSWER)))])
    return [ANSWER]

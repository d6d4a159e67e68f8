# SPDX-License-Identifier: Apache-2.0
"""The page over plain HTTP that shows how to trust the authority. An application of its own: it has no database, no
session and no key, and what is not listed here is not there.
"""

from __future__ import annotations

import os

from cryptography.hazmat.primitives.serialization import Encoding
from flask import Flask, Response, jsonify, request, send_from_directory
from werkzeug.exceptions import HTTPException

from tallywright.config import Config, config_from, packed_folder
from tallywright.errors import CertificateUnusable
from tallywright.trust.kept import AUTHORITY_FILE, read_certificate
from tallywright.web.door import CODES_BY_STATUS, HEADERS, MARKER, PROTOCOL, refusal
from tallywright.web.reach import reach

# What Android, iPadOS and Windows take a certificate for, in its binary form.
AUTHORITY_TYPE = "application/x-x509-ca-cert"


def create_trust_page(config: Config | None = None) -> Flask:
    """Make the application; settings are read from the environment when left out."""
    config = config or config_from(os.environ)
    app = Flask("tallywright-trust", static_folder=None)

    @app.get("/")
    def page() -> Response:
        return _file("trust.html", "no-cache")

    @app.get("/assets/<path:name>")
    def asset(name: str) -> Response:
        return _file(f"assets/{name}", "public, max-age=31536000, immutable")

    @app.get("/icon.svg")
    def icon() -> Response:
        return _file("icon.svg", "no-cache")

    @app.get("/api/v1/reach")
    def reached() -> Response:
        answer = jsonify(marker=MARKER, protocol=PROTOCOL, **reach(config, request.host_url))
        answer.headers["Cache-Control"] = "no-store"
        return answer

    @app.get("/tallywright-authority.crt")
    def authority() -> Response:
        certificate = read_certificate(config.authority_folder / AUTHORITY_FILE)
        answer = Response(certificate.public_bytes(Encoding.DER), mimetype=AUTHORITY_TYPE)
        answer.headers["Cache-Control"] = "no-store"
        return answer

    @app.after_request
    def add_headers(answer: Response) -> Response:
        for name, value in HEADERS.items():
            answer.headers.setdefault(name, value)
        return answer

    @app.errorhandler(HTTPException)
    def refused(error: HTTPException) -> Response:
        status = error.code or 500
        code = CODES_BY_STATUS.get(status, "request-not-understood")
        return refusal(code, error.description or "The request was refused.", status, {})

    @app.errorhandler(CertificateUnusable)
    def unusable(error: CertificateUnusable) -> Response:
        return refusal(error.code, error.sentence, error.status, {})

    return app


def _file(name: str, cache: str) -> Response:
    answer = send_from_directory(packed_folder("dist"), name)
    answer.headers["Cache-Control"] = cache
    return answer

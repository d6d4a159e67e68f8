# SPDX-License-Identifier: Apache-2.0
"""The built browser app: one page, its hashed files, its service worker. A missing file is 404, never the page."""

from __future__ import annotations

import mimetypes

from flask import Blueprint, Response, send_from_directory

from tallywright.config import packed_folder

app_files = Blueprint("app", __name__)
mimetypes.add_type("application/manifest+json", ".webmanifest")
mimetypes.add_type("text/javascript", ".js")


@app_files.route("/")
def start_page() -> Response:
    """Return the page; it is asked for anew each time, so that page and files are of one build."""
    return _file("index.html")


@app_files.route("/<path:name>")
def app_file(name: str) -> Response:
    """Return one file of the app; what carries a hash in its name may be kept for ever."""
    return _file(name)


def _file(name: str) -> Response:
    answer = send_from_directory(packed_folder("dist"), name)
    answer.headers["Cache-Control"] = (
        "public, max-age=31536000, immutable" if name.startswith("assets/") else "no-cache"
    )
    return answer

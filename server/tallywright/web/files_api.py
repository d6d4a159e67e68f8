# SPDX-License-Identifier: Apache-2.0
"""Files that records name, over HTTP: in by parts, out by their SHA-256, pictures as copies to look at."""

from __future__ import annotations

from typing import Any

from flask import Response, g, request
from flask.views import MethodView
from flask_smorest import Blueprint

from tallywright.db import reading
from tallywright.errors import FileRefused, NotFound
from tallywright.files.content import sort_of
from tallywright.files.copies import copy_of
from tallywright.files.parts import Arrived, how_far, take_part
from tallywright.log.files import read_file
from tallywright.web.joined import joined
from tallywright.web.schemas.files import FILE_NAME, ArrivedSchema, PartQuerySchema

files_api = Blueprint("files", __name__, url_prefix="/api/v1", description="Files that records name")
BYTES = "application/octet-stream"
BINARY = {"type": "string", "format": "binary"}
# What a name stands for never changes; "private" because it is for enrolled devices only.
KEPT_FOR_EVER = "private, max-age=31536000, immutable"


@files_api.route("/files/<file>", parameters=[FILE_NAME])
class Files(MethodView):
    """One file."""

    @files_api.response(200, BINARY, content_type=BYTES)
    def get(self, file: str) -> Response:
        """Return the bytes that have this hash, as a download; the asker checks them against it."""
        content = _content(file)
        try:
            ending = sort_of(content).ending
        except FileRefused:
            ending = "bin"
        answer = _kept(content, BYTES, file)
        answer.headers["Content-Disposition"] = f'attachment; filename="{file[:12]}.{ending}"'
        return answer


@files_api.route("/files/<file>/copy", parameters=[FILE_NAME])
class Copies(MethodView):
    """A picture to look at."""

    @files_api.response(200, BINARY, content_type="image/jpeg")
    def get(self, file: str) -> Response:
        """Return the picture encoded anew, upright, without anything else that stands in the file."""
        return _kept(copy_of(_content(file)), "image/jpeg", f"{file}-copy")


@files_api.route("/files/<file>/parts", parameters=[FILE_NAME])
class Parts(MethodView):
    """A file on its way here."""

    @files_api.response(200, ArrivedSchema)
    def get(self, file: str) -> Arrived:
        """Return how far the file has come from this device."""
        with reading(joined().engine) as connection:
            return how_far(connection, g.device, file)

    @files_api.arguments(PartQuerySchema, location="query", unknown="raise")
    @files_api.doc(requestBody={"required": True, "content": {BYTES: {"schema": BINARY}}})
    @files_api.response(200, ArrivedSchema)
    def post(self, query: dict[str, Any], file: str) -> Arrived:
        """Take the bytes from an offset on; the answer says how far the file has come."""
        here = joined()
        return take_part(here.engine, here.clock, g.device, file, query["offset"], request.get_data(cache=False))


def _content(file: str) -> bytes:
    with reading(joined().engine) as connection:
        content = read_file(connection, file)
    if content is None:
        raise NotFound("This server holds no file of that name.")
    return content


def _kept(content: bytes, content_type: str, tag: str) -> Response:
    answer = Response(content, content_type=content_type)
    answer.headers["Cache-Control"] = KEPT_FOR_EVER
    answer.set_etag(tag)
    return answer

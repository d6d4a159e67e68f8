# SPDX-License-Identifier: Apache-2.0
"""Files that records name, over HTTP: bytes by their SHA-256."""

from __future__ import annotations

from flask import Response
from flask.views import MethodView
from flask_smorest import Blueprint

from tallywright.db import reading
from tallywright.errors import NotFound
from tallywright.log.files import read_file
from tallywright.web.joined import joined
from tallywright.web.schemas.files import FILE_NAME

files_api = Blueprint("files", __name__, url_prefix="/api/v1", description="Files that records name")
# What a name stands for never changes; "private" because it is for enrolled devices only.
KEPT_FOR_EVER = "private, max-age=31536000, immutable"


@files_api.route("/files/<file>", parameters=[FILE_NAME])
class Files(MethodView):
    """One file."""

    @files_api.response(200, {"type": "string", "format": "binary"}, content_type="application/octet-stream")
    def get(self, file: str) -> Response:
        """Return the bytes that have this hash; the asker checks them against it."""
        with reading(joined().engine) as connection:
            content = read_file(connection, file)
        if content is None:
            raise NotFound("This server holds no file of that name.")
        answer = Response(content, content_type="application/octet-stream")
        answer.headers["Cache-Control"] = KEPT_FOR_EVER
        answer.set_etag(file)
        return answer

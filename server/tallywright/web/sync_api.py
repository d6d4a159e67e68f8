# SPDX-License-Identifier: Apache-2.0
"""Push and pull over HTTP: lines in, lines out."""

from __future__ import annotations

import base64
import re
from typing import Any

import msgspec
from flask import Response, request
from flask.views import MethodView
from flask_smorest import Blueprint
from marshmallow import RAISE, ValidationError

from tallywright.errors import BodyCut, NotUnderstood
from tallywright.log.own_chain import Witness
from tallywright.sync.examine import Run
from tallywright.sync.judge import Enclosure
from tallywright.sync.pull import Carried, Cursor, pull
from tallywright.sync.push import Answered, PushAnswer, push
from tallywright.trust.kept import ends_at_ms
from tallywright.web.joined import joined
from tallywright.web.schemas.sync import PullHeadSchema, PullQuerySchema, PushAnswerSchema, PushHeadSchema

LINES = "application/x-ndjson"
CURSOR = re.compile(r"([0-9]{1,16})\.([a-z2-7]{26}:[1-9][0-9]{0,15})")
PAIR = re.compile(r"([a-z2-7]{26}:[1-9][0-9]{0,15})/([a-z][a-z0-9_]{0,63})(?:@(.{1,70}))?")
WITNESS = re.compile(r"([a-z2-7]{26}):([1-9][0-9]{0,15})\.([0-9a-f]{64})\.([A-Za-z0-9+/=]{1,200})")
# Built once: to build one takes longer than to use it.
_PUSH_HEAD, _PULL_HEAD = PushHeadSchema(), PullHeadSchema()

sync_api = Blueprint("sync", __name__, url_prefix="/api/v1/sync", description="Records in, records out")


@sync_api.route("/push")
class Push(MethodView):
    """Records of tablets."""

    @sync_api.doc(requestBody={"required": True, "content": {LINES: {"schema": {"type": "string"}}}})
    @sync_api.response(200, PushAnswerSchema)
    def post(self) -> dict[str, Any]:
        """Store records; the answer says how far each chain is held, and what was set aside."""
        here = joined()
        head, lines = _read_push(request.get_data(cache=False))
        runs = [Run(**run) for run in head["runs"]]
        enclosures = [Enclosure(one["record"], base64.b64decode(one["sealed"])) for one in head["enclosures"]]
        answered = [Answered(**one) for one in head["answered"]]
        answer = push(here.engine, here.own, here.sealing, runs, lines, head["marks"], enclosures, answered)
        return _push_answer(answer, here.clock.now_ms())


@sync_api.route("/pull")
class Pull(MethodView):
    """Records for a tablet."""

    @sync_api.arguments(PullQuerySchema(unknown=RAISE), location="query", unknown=None)
    @sync_api.response(200, PullHeadSchema, content_type=LINES)
    def get(self, query: dict[str, Any]) -> Response:
        """Return what came behind the cursors, as a head line and records in server order."""
        here = joined()
        after = _cursor(query["after"]) if "after" in query else None
        witness = _witness(query["head"]) if "head" in query else None
        pairs = [_pair(text) for text in query["carry"]]
        chains = [chain for chain in query["chain"] if chain]
        answer = pull(here.engine, here.own, after, pairs, chains, query["kept"], witness)
        head = {
            "epoch": answer.epoch,
            "server_time": here.clock.now_ms(),
            "cursor": answer.cursor,
            "count": len(answer.lines),
            "more": answer.more,
            "head": answer.head,
            "sealing": here.sealing.current(),
            "signatures": answer.signatures,
            "sign_ons": answer.sign_ons,
            "chain_newest": answer.chain_newest,
            "certificate_ends_at": ends_at_ms(here.config.certificate),
        }
        first = msgspec.json.encode(_PULL_HEAD.dump(head))
        return Response(b"".join(line + b"\n" for line in (first, *answer.lines)), mimetype=LINES)


def _read_push(body: bytes) -> tuple[dict[str, Any], list[bytes]]:
    """Return the head of a push and its lines; raises NotUnderstood, BodyCut."""
    if not body.endswith(b"\n"):
        raise BodyCut("The push does not end with a line feed: its end is missing.")
    first, *lines = body[:-1].split(b"\n")
    try:
        head: dict[str, Any] = _PUSH_HEAD.load(msgspec.json.decode(first))
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError, ValidationError) as problem:
        raise NotUnderstood(f"The head line of the push cannot be read: {problem}") from problem
    if head["count"] != len(lines):
        raise BodyCut(f"The push announces {head['count']} records and carries {len(lines)}.")
    return head, lines


def _push_answer(answer: PushAnswer, server_time: int) -> dict[str, Any]:
    return {
        "epoch": answer.epoch,
        "server_time": server_time,
        "newest": answer.newest,
        "marks": [
            {
                "chain": mark.chain,
                "n": mark.n,
                "hash": mark.hash,
                "safe": mark.safe,
                "held": [{"first": first, "last": last} for first, last in mark.held],
            }
            for mark in answer.marks
        ],
        "exceptions": [
            {"chain": e.chain, "n": e.n, "code": e.reason.code, "details": e.reason.details}
            for e in answer.exceptions
        ],
        "lost": answer.lost,
    }


def _cursor(text: str) -> Cursor:
    found = CURSOR.fullmatch(text)
    if found is None:
        raise NotUnderstood(f"'{text[:80]}' is not a cursor: a number, a point, and the id of a record.")
    return Cursor(int(found[1]), found[2])


def _pair(text: str) -> Carried:
    found = PAIR.fullmatch(text)
    if found is None:
        raise NotUnderstood(f"'{text[:80]}' is not a batch, a slash and a look, with or without @ and a cursor.")
    return Carried(found[1], found[2], _cursor(found[3]) if found[3] else None)


def _witness(text: str) -> Witness:
    found = WITNESS.fullmatch(text)
    if found is None:
        raise NotUnderstood(
            f"'{text[:80]}' is not a head: the id of a record, its hash and a signature, with points."
        )
    return Witness(found[1], int(found[2]), found[3], found[4])

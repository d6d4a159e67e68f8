# SPDX-License-Identifier: Apache-2.0
"""What every request passes: the rule of its route, the head lines of its answer, and one shape of refusal."""

from __future__ import annotations

import logging

from flask import Flask, Response, g, jsonify, request
from flask_smorest import Api
from sqlalchemy import Connection
from werkzeug.exceptions import HTTPException

from tallywright.access.rules import ROLES, Rule, rule_of
from tallywright.access.session import roles_at, session_device
from tallywright.db import reading, why_not_now
from tallywright.errors import NotAllowed, NotEnrolled, NotWritable, RoleNeeded, TallywrightError
from tallywright.web.joined import Joined, joined

MARKER = "tallywright"
PROTOCOL = 1
COOKIE = "__Host-tallywright"
SIGN_ON = "Tallywright-Sign-On"  # which sign-on of its chain the tablet is in the hands of
# None of these leaves a page of another site without being asked for first.
BODY_TYPES = ("application/json", "application/x-ndjson", "application/octet-stream")
CONTENT_POLICY = "; ".join(
    (
        "default-src 'self'",
        "img-src 'self' blob: data:",
        "object-src 'none'",
        "base-uri 'none'",
        "form-action 'none'",
        "frame-ancestors 'none'",
        "require-trusted-types-for 'script'",
        "trusted-types default",
    )
)
HEADERS = {
    "Content-Security-Policy": CONTENT_POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}
CODES_BY_STATUS = {404: "not-found", 405: "not-allowed", 413: "too-much", 429: "too-many-tries"}

_log = logging.getLogger(__name__)


class OurApi(Api):  # type: ignore[misc]  # flask-smorest has no types
    """The API object with our shape of refusal in place of its own, which drops the Allow header of a 405."""

    def handle_http_exception(self, error: HTTPException) -> Response:
        """Turn a refusal of the framework into our shape."""
        status = error.code or 500
        # 422 is the framework's word for a body of another shape; to a caller that is the same 400.
        status = 400 if status == 422 else status
        details = getattr(error, "data", None) or {}
        code = CODES_BY_STATUS.get(status, "request-not-understood" if status < 500 else "error")
        sentence = error.description or "The request was refused."
        answer = refusal(code, sentence, status, {"fields": details.get("messages", {})})
        for name, value in error.get_headers():
            if name == "Allow":
                answer.headers[name] = value
        return answer


def refusal(code: str, sentence: str, status: int, details: object, retry: bool = False) -> Response:
    """Return the one shape every refusal has."""
    answer = jsonify(marker=MARKER, protocol=PROTOCOL, code=code, sentence=sentence, details=details, retry=retry)
    answer.status_code = status
    return answer


def hang_door(app: Flask) -> None:
    """Register the checks before a view, the head lines after it, and the handlers of our errors."""
    app.before_request(_check)
    app.after_request(_add_headers)
    app.register_error_handler(TallywrightError, _refused)
    app.register_error_handler(Exception, _unexpected)


def _check() -> None:
    if request.endpoint is None:
        return  # no such address: the framework answers 404
    here = joined()
    rule = rule_of(request.endpoint, here.config.demo)
    if request.method not in ("GET", "HEAD", "OPTIONS"):
        _check_origin()
    if rule is Rule.ENROLLED:
        token = request.cookies.get(COOKIE)
        if token is None:
            raise NotEnrolled("This browser has no session. It signs in again by itself, or enrol it with a code.")
        with reading(here.engine) as connection:
            g.device = session_device(connection, here.clock, token)
            _check_role(connection, here, request.endpoint)


def _check_role(connection: Connection, here: Joined, endpoint: str) -> None:
    needed = ROLES.get(endpoint)
    sign_on = request.headers.get(SIGN_ON, "")
    if needed is not None and not needed & roles_at(connection, here.clock, g.device, sign_on):
        who = ", ".join(sorted(needed))
        raise RoleNeeded(
            f"This is open to: {who}. Sign on at this tablet with your PIN, and wait until it is judged.", roles=who
        )


def _check_origin() -> None:
    if request.headers.get("Sec-Fetch-Site", "same-origin") not in ("same-origin", "none"):
        raise NotAllowed("Requests from other sites are refused.")
    if request.mimetype not in BODY_TYPES:
        raise NotAllowed("The body is of none of these: " + ", ".join(BODY_TYPES) + ".")


def _add_headers(answer: Response) -> Response:
    for name, value in HEADERS.items():
        answer.headers.setdefault(name, value)
    # A browser that was told so opens no port of this host over HTTP any more, and that of the trust page neither.
    if request.is_secure and not joined().config.trust_page:
        answer.headers.setdefault("Strict-Transport-Security", "max-age=31536000")
    if request.path.startswith("/api/") or request.path == "/health":
        answer.headers.setdefault("Cache-Control", "no-store")
    return answer


def _refused(error: TallywrightError) -> Response:
    if isinstance(error, NotWritable):
        _log.error("%s", error.sentence)  # whoever looks after the machine reads its log, not a tablet
    return refusal(error.code, error.sentence, error.status, error.details, error.retry)


def _unexpected(error: Exception) -> Response:
    told = why_not_now(error)
    if told is not None:
        return _refused(told)
    # The cause goes to the log of the server; the answer must not carry bytes or names out of it.
    _log.error("request failed", exc_info=error)
    return refusal(
        "error",
        "The server failed at this request. What the tablet holds is safe; it tries again.",
        500,
        {},
        True,
    )

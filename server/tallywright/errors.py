# SPDX-License-Identifier: Apache-2.0
"""The whole error tree. Every class has a stable code, an HTTP status, and says whether trying again can help.

TallywrightError
├── RefusedRecord            one record; the others of its push go on, and its bytes are set aside
│   ├── Unreadable           unreadable        not JSON, or not the shape its kind and version ask for
│   ├── NotCanonical         not-canonical     readable, but not the one byte form a record may have
│   ├── TooLarge             too-large         longer than a record may be
│   ├── Misplaced            misplaced         stands at another place than its push says
│   ├── Unvouched            unvouched         neither a signature nor the next record vouches for its bytes
│   ├── UnknownDevice        unknown-device    no enrolment is known for its device
│   ├── RevokedDevice        revoked-device    its device was revoked
│   ├── NotYours             not-yours         names another device, or a kind only the server may write
│   ├── NumberTaken          number-taken      other bytes are held under the same chain and number
│   └── NotStorable          not-storable      the database itself refused the row
├── RefusedRequest           a whole request; nothing of it was kept
│   ├── NotUnderstood        request-not-understood   400
│   ├── BodyCut              body-cut                 400, try again
│   ├── NotEnrolled          not-enrolled             401
│   ├── NotAllowed           not-allowed              403
│   ├── RoleNeeded           role-needed              403
│   ├── CodeRefused          code-refused             403
│   ├── PinRefused           pin-refused              400
│   ├── NotFound             not-found                404
│   ├── BatchUnknown         batch-unknown            404
│   ├── FileNotNamed         file-not-named           409, try again: no stored record names it yet
│   ├── FileBroken           file-broken              409, try again: the bytes have another hash; all over again
│   ├── FileRefused          file-refused             415
│   ├── TooMuchUnfinished    too-much-unfinished      429, try again later
│   ├── CursorVoid           cursor-void              409, the server was rolled back: fetch again from nothing
│   ├── TooMuch              too-much                 413, try again with less
│   └── TooManyTries         too-many-tries           429, try again later
├── NotReady                 not-ready         503, try again: the database is busy or starting
├── NotWritable              not-writable      503, try again later: the disk is full, failed, or takes no writes
├── StoreFull                store-full        507, try again later: the set-aside store is at its bound
├── CertificateUnusable      certificate-unusable   a certificate or its key cannot be read, or differ
├── NameNotPermitted         name-not-permitted     the authority that tablets trust cannot vouch for a name
├── WrongSetting             wrong-setting     an unknown or unusable setting; the start stops
└── WrongUse                 wrong-use         a command was called in a way it cannot serve

The tablet switches on the code, never on the sentence; its catalogues turn code and details into words.
"""

from __future__ import annotations

from typing import ClassVar


class TallywrightError(Exception):
    """Base of the tree: a stable code, a status, a sentence, and details a program can read."""

    code: ClassVar[str] = "error"
    status: ClassVar[int] = 500
    retry: ClassVar[bool] = False

    def __init__(self, sentence: str, **details: str | int) -> None:
        super().__init__(sentence)
        self.sentence = sentence
        self.details = details


class RefusedRecord(TallywrightError):
    """One record cannot be taken into the log; its bytes are set aside."""

    status = 200


class Unreadable(RefusedRecord):
    """The bytes are not a record of the kind and version they name."""

    code = "unreadable"


class NotCanonical(RefusedRecord):
    """The record can be read, but its bytes are not the canonical form."""

    code = "not-canonical"


class TooLarge(RefusedRecord):
    """The record is longer than a record may be."""

    code = "too-large"


class Misplaced(RefusedRecord):
    """The record names another chain or number than the place it was sent for."""

    code = "misplaced"


class Unvouched(RefusedRecord):
    """Nothing signed leads to these bytes."""

    code = "unvouched"


class UnknownDevice(RefusedRecord):
    """The log holds no enrolment of the device."""

    code = "unknown-device"


class RevokedDevice(RefusedRecord):
    """The device was revoked; a lead may admit what it made before it was lost."""

    code = "revoked-device"


class NotYours(RefusedRecord):
    """The chain's device may not write this record."""

    code = "not-yours"


class NumberTaken(RefusedRecord):
    """Other bytes are held under the same chain and number, or the record continues such bytes."""

    code = "number-taken"


class NotStorable(RefusedRecord):
    """The database itself refused the row; the others of the push are in."""

    code = "not-storable"


class RefusedRequest(TallywrightError):
    """A whole request was refused; nothing of it was kept."""

    status = 400


class NotUnderstood(RefusedRequest):
    """The request has another shape than the API describes."""

    code = "request-not-understood"


class BodyCut(RefusedRequest):
    """The body ended before what its head announced."""

    code = "body-cut"
    retry = True


class NotEnrolled(RefusedRequest):
    """The caller has no session of an enrolled device."""

    code = "not-enrolled"
    status = 401


class NotAllowed(RefusedRequest):
    """The caller is known but may not do this."""

    code = "not-allowed"
    status = 403


class RoleNeeded(RefusedRequest):
    """Nobody is signed on at this tablet, with a proven PIN, who may read this."""

    code = "role-needed"
    status = 403


class CodeRefused(RefusedRequest):
    """An enrolment code is unknown, used, or past its time."""

    code = "code-refused"
    status = 403


class PinRefused(RefusedRequest):
    """A new PIN is too short, too long, or one that many people have."""

    code = "pin-refused"


class NotFound(RefusedRequest):
    """Nothing is kept under this address."""

    code = "not-found"
    status = 404


class BatchUnknown(RefusedRequest):
    """The log holds no beginning of such a batch, or it was taken back."""

    code = "batch-unknown"
    status = 404


class CursorVoid(RefusedRequest):
    """The record a cursor names does not stand at its number: this is not the log the cursor came from."""

    code = "cursor-void"
    status = 409


class FileNotNamed(RefusedRequest):
    """No stored record names the file; it is taken behind the record that does."""

    code = "file-not-named"
    status = 409
    retry = True


class FileBroken(RefusedRequest):
    """The bytes that came are not those the file is named by; they were thrown away, send it from its beginning."""

    code = "file-broken"
    status = 409
    retry = True


class FileRefused(RefusedRequest):
    """The file is of a sort that is not kept, too large, or a picture that cannot be shown."""

    code = "file-refused"
    status = 415


class TooMuchUnfinished(RefusedRequest):
    """The tablet has begun too many files and finished none of them; finish those first."""

    code = "too-much-unfinished"
    status = 429
    retry = True


class TooMuch(RefusedRequest):
    """The body is larger than one request may be; send less at a time."""

    code = "too-much"
    status = 413
    retry = True


class TooManyTries(RefusedRequest):
    """Too many wrong tries; wait before the next."""

    code = "too-many-tries"
    status = 429
    retry = True


class NotReady(TallywrightError):
    """The server cannot serve just now; the same request may succeed later."""

    code = "not-ready"
    status = 503
    retry = True


class NotWritable(TallywrightError):
    """The server cannot write: disk full or failed, or a database that takes no writes. People mend that."""

    code = "not-writable"
    status = 503
    retry = True


class StoreFull(TallywrightError):
    """The set-aside store is at its bound; nothing of the request was kept."""

    code = "store-full"
    status = 507
    retry = True


class CertificateUnusable(TallywrightError):
    """A certificate or its key cannot be read, or they do not belong together; the start stops."""

    code = "certificate-unusable"


class NameNotPermitted(TallywrightError):
    """The authority that tablets trust cannot vouch for a name; the start stops."""

    code = "name-not-permitted"


class WrongSetting(TallywrightError):
    """A setting is unknown or cannot be used; the start stops."""

    code = "wrong-setting"


class WrongUse(TallywrightError):
    """A command was called in a way it cannot serve."""

    code = "wrong-use"

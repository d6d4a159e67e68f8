# SPDX-License-Identifier: Apache-2.0
"""Tablets that attach files and send them in parts; pictures to send, honest and hostile."""

from __future__ import annotations

import io
import struct
import zlib
from typing import Any

from PIL import Image
from werkzeug.test import TestResponse

from tallywright.records.bench import PhotoAttachedV1
from tallywright.records.decode import sha256
from tests.actors import Tablet

PART = 256 * 1024


def picture(size: tuple[int, int] = (120, 80), form: str = "JPEG", seed: int = 1, **saved: Any) -> bytes:
    """A picture with something on it."""
    image = Image.new("RGB", size, (seed * 37 % 256, seed * 91 % 256, 120))
    image.paste((250, 240, 10), (0, 0, size[0] // 2, size[1] // 2))
    written = io.BytesIO()
    image.save(written, form, **saved)
    return written.getvalue()


def noisy(side: int, seed: int = 1) -> bytes:
    """A picture that does not shrink: as many bytes as a photo has."""
    import random

    image = Image.frombytes("RGB", (side, side), random.Random(seed).randbytes(side * side * 3))
    written = io.BytesIO()
    image.save(written, "JPEG", quality=75)
    return written.getvalue()


def png_saying(width: int, height: int) -> bytes:
    """A small PNG whose header says a size it has not."""

    def chunk(name: bytes, content: bytes) -> bytes:
        return struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))

    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    packed = zlib.compress(b"\x00" * 10_000)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", packed) + chunk(b"IEND", b"")


def attach(tablet: Tablet, content: bytes, **members: Any) -> str:
    """Record that a file belongs to the batch; returns the file's name."""
    said = {"file": sha256(content), "type": "image/jpeg", "size": len(content), **members}
    tablet.at_bench(PhotoAttachedV1(**said))
    return sha256(content)


def attached(tablet: Tablet, content: bytes, **members: Any) -> str:
    """The same, and the server has the record."""
    name = attach(tablet, content, **members)
    tablet.push()
    return name


def send_part(tablet: Tablet, name: str, offset: int, part: bytes) -> TestResponse:
    """One part of a file."""
    return tablet.client.post(
        f"/api/v1/files/{name}/parts",
        query_string={"offset": offset},
        data=part,
        content_type="application/octet-stream",
    )


def send_file(tablet: Tablet, content: bytes, name: str = "", part: int = PART) -> TestResponse:
    """All parts of a file, one behind the other; returns the last answer."""
    name = name or sha256(content)
    for offset in range(0, len(content), part):
        answer = send_part(tablet, name, offset, content[offset : offset + part])
        if answer.status_code != 200:
            break
    return answer


def how_far(tablet: Tablet, name: str) -> TestResponse:
    """What the server says of a file on its way."""
    return tablet.client.get(f"/api/v1/files/{name}/parts")

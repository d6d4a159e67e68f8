# SPDX-License-Identifier: Apache-2.0
"""What the bytes of a file are, told by the bytes alone: a stated type or the ending of a name decides nothing."""

from __future__ import annotations

import re
from enum import StrEnum

from tallywright.errors import FileRefused

LARGEST_PHOTO = 2 * 1024 * 1024
MOST_PIXELS = 16_000_000  # a tablet scales to 1,600 pixels; decoded, these take 64 MB

# Start of frame: every one there is, but for the markers of other things among them.
FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
NO_LENGTH = frozenset({0x01, *range(0xD0, 0xD9)})
SCAN, END = 0xDA, 0xD9
NO_TEXT = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]")


class Sort(StrEnum):
    """The sorts of file that are taken, by the type they are given out with."""

    JPEG = "image/jpeg"
    PNG = "image/png"
    WEBP = "image/webp"
    PDF = "application/pdf"
    CSV = "text/csv"

    @property
    def is_image(self) -> bool:
        """True for what can be shown as a picture."""
        return self in (Sort.JPEG, Sort.PNG, Sort.WEBP)

    @property
    def ending(self) -> str:
        """How the name of a download ends."""
        return {Sort.JPEG: "jpg"}.get(self, self.value.rpartition("/")[2])


def sort_of(content: bytes) -> Sort:
    """Return what a file is.

    raises  FileRefused for what is not taken: another sort, a photo too large, a picture of too many pixels
    """
    sort = _sort(content)
    if not sort.is_image:
        return sort
    if len(content) > LARGEST_PHOTO:
        raise FileRefused(
            f"The picture has {len(content)} bytes; {LARGEST_PHOTO} is the most. Take it smaller.", why="too_large"
        )
    width, height = pixels(content, sort)
    if width * height > MOST_PIXELS:
        raise FileRefused(
            f"The picture is {width} by {height} pixels; {MOST_PIXELS} in all are the most. Take it smaller.",
            why="too_many_pixels",
        )
    return sort


def _sort(content: bytes) -> Sort:
    if content.startswith(b"\xff\xd8\xff"):
        return Sort.JPEG
    if content.startswith(b"\x89PNG\r\n\x1a\n"):
        return Sort.PNG
    if content.startswith(b"RIFF") and content[8:12] == b"WEBP":
        return Sort.WEBP
    if content.startswith(b"%PDF-"):
        return Sort.PDF
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = ""
    # Plain text that begins like a page or a drawing is one, whatever it is called.
    if text.strip() and not text.lstrip().startswith("<") and NO_TEXT.search(text) is None:
        return Sort.CSV
    raise FileRefused(
        "The file is neither a picture (JPEG, PNG, WebP) nor a PDF nor CSV in UTF-8. It was not kept.", why="sort"
    )


def pixels(content: bytes, sort: Sort) -> tuple[int, int]:
    """Return width and height as the header of an image says, without decoding any of it.

    raises  FileRefused for a header that says none
    """
    size = {Sort.JPEG: _jpeg_size, Sort.PNG: _png_size, Sort.WEBP: _webp_size}[sort](content)
    if size is None or 0 in size:
        raise FileRefused("The picture is broken: its header says no size. Take it again.", why="broken")
    return size


def _png_size(content: bytes) -> tuple[int, int] | None:
    if content[12:16] != b"IHDR" or len(content) < 24:
        return None
    return int.from_bytes(content[16:20], "big"), int.from_bytes(content[20:24], "big")


def _jpeg_size(content: bytes) -> tuple[int, int] | None:
    """The largest of all frames before the first scan: a decoder goes by whichever it meets last."""
    at, found = 2, None
    while at + 4 <= len(content) and content[at] == 0xFF:
        marker = content[at + 1]
        if marker == 0xFF:
            at += 1
            continue
        if marker in NO_LENGTH:
            at += 2
            continue
        if marker in (SCAN, END):
            break
        length = int.from_bytes(content[at + 2 : at + 4], "big")
        if marker in FRAMES and at + 9 <= len(content):
            height = int.from_bytes(content[at + 5 : at + 7], "big")
            width = int.from_bytes(content[at + 7 : at + 9], "big")
            found = max(found or (0, 0), (width, height), key=lambda size: size[0] * size[1])
        if length < 2:
            return None
        at += 2 + length
    return found


def _webp_size(content: bytes) -> tuple[int, int] | None:
    form, body = content[12:16], content[20:34]
    if len(body) < 14:
        return None
    if form == b"VP8X":
        return 1 + int.from_bytes(body[4:7], "little"), 1 + int.from_bytes(body[7:10], "little")
    if form == b"VP8 ":
        return int.from_bytes(body[6:8], "little") & 0x3FFF, int.from_bytes(body[8:10], "little") & 0x3FFF
    if form == b"VP8L":
        bits = int.from_bytes(body[1:5], "little")
        return 1 + (bits & 0x3FFF), 1 + (bits >> 14 & 0x3FFF)
    return None

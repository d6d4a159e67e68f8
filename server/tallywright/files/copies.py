# SPDX-License-Identifier: Apache-2.0
"""A copy of a picture that is fit to be looked at: its pixels encoded anew, and nothing else of the file.

Place, maker, thumbnails, and whatever somebody hid behind or between the pixels stay in the original, which is kept
as it came and given out as a download alone.
"""

from __future__ import annotations

import io
import struct
import zlib

from PIL import Image, ImageOps

from tallywright.errors import FileRefused
from tallywright.files.content import MOST_PIXELS, Sort, sort_of

LONGEST_SIDE = 1600
QUALITY = 85
FORMATS = {Sort.JPEG: "JPEG", Sort.PNG: "PNG", Sort.WEBP: "WEBP"}
# What the decoder raises at bytes that are no picture: it promises no one error.
NO_PICTURE = (
    OSError,
    SyntaxError,
    ValueError,
    TypeError,
    LookupError,
    ArithmeticError,
    RuntimeError,
    struct.error,
    zlib.error,
    Image.DecompressionBombError,
)


def check(content: bytes) -> Sort:
    """Return what a file is, and for a picture that it can be looked at.

    raises  FileRefused
    """
    sort = sort_of(content)
    if sort.is_image:
        copy_of(content)
    return sort


def copy_of(content: bytes) -> bytes:
    """Return a picture as a new JPEG, upright, with no side over 1,600 pixels.

    raises  FileRefused for what is no picture, or has too many pixels
    """
    sort = sort_of(content)
    if not sort.is_image:
        raise FileRefused("This file is no picture. It can be downloaded.", why="sort")
    try:
        # The header was read before: this opens no picture that is too large, and only as what its bytes are.
        with Image.open(io.BytesIO(content), formats=[FORMATS[sort]]) as opened:
            if opened.width * opened.height > MOST_PIXELS:
                raise FileRefused("The picture has more pixels than its header says.", why="too_many_pixels")
            opened.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
            opened.load()
            picture = _upright(opened).convert("RGBA")
    except NO_PICTURE as problem:
        raise FileRefused("The picture is broken and cannot be shown. Take it again.", why="broken") from problem
    picture.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    ground = Image.new("RGB", picture.size, "white")
    ground.paste(picture, mask=picture.getchannel("A"))
    written = io.BytesIO()
    ground.save(written, "JPEG", quality=QUALITY)
    return written.getvalue()


def _upright(picture: Image.Image) -> Image.Image:
    """Turn a picture as its camera says; one whose notes are broken is shown as it lies."""
    try:
        return ImageOps.exif_transpose(picture)
    except NO_PICTURE:
        return picture

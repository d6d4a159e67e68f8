# SPDX-License-Identifier: Apache-2.0
"""What a file is, its bytes say; and what is served to be looked at has pixels in it and nothing else."""

from __future__ import annotations

import io
import random
from typing import Any

import pytest
from PIL import Image

from tallywright.errors import FileRefused
from tallywright.files.content import LARGEST_PHOTO, Sort, pixels, sort_of
from tallywright.files.copies import LONGEST_SIDE, check, copy_of
from tests.server.files.attaching import picture, png_saying

SVG = b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'


def looked_at(content: bytes) -> Image.Image:
    return Image.open(io.BytesIO(copy_of(content)))


@pytest.mark.parametrize(("form", "sort"), [("JPEG", Sort.JPEG), ("PNG", Sort.PNG), ("WEBP", Sort.WEBP)])
def test_a_picture_is_told_by_its_bytes_and_its_size_by_its_header(form: str, sort: Sort) -> None:
    content = picture((123, 77), form)
    assert sort_of(content) is sort
    assert pixels(content, sort) == (123, 77)


@pytest.mark.parametrize("saved", [{"lossless": True}, {"exif": b"Exif\x00\x00"}, {"quality": 10}])
def test_every_form_of_webp_says_its_size(saved: dict[str, Any]) -> None:
    assert pixels(picture((123, 77), "WEBP", **saved), Sort.WEBP) == (123, 77)


@pytest.mark.parametrize(
    ("content", "sort"),
    [(b"%PDF-1.7 ...", Sort.PDF), (b"a;b\n1;2\n", Sort.CSV), ("\ufeffW\u00e4rme,\u00b0C\n".encode(), Sort.CSV)],
)
def test_what_is_no_picture_is_told_by_its_bytes(content: bytes, sort: Sort) -> None:
    assert check(content) is sort


@pytest.mark.parametrize(
    "content",
    [
        SVG,
        b"\xef\xbb\xbf \n<!doctype html>",
        b"GIF89a\x01\x00\x01\x00",
        b"PK\x03\x04",
        b"MZ\x00\x01",
        b"\xff\xfe<\x00",
        b"a\x00b",
        b" ",
    ],
)
def test_threat_12_anything_else_is_refused_with_a_sentence(content: bytes) -> None:
    with pytest.raises(FileRefused) as refused:
        check(content)
    assert refused.value.sentence.endswith(".")
    assert refused.value.details == {"why": "sort"}


def test_threat_12_a_picture_of_50_000_by_50_000_is_refused_before_a_pixel_is_decoded(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def decoded(*_: object, **__: object) -> None:
        raise AssertionError("it was opened")

    monkeypatch.setattr(Image, "open", decoded)
    with pytest.raises(FileRefused) as refused:
        check(png_saying(50_000, 50_000))
    assert refused.value.details == {"why": "too_many_pixels"}


def test_threat_12_a_jpeg_with_a_small_frame_before_a_large_one_has_the_pixels_of_the_large_one() -> None:
    large = b"\xff\xc0\x00\x11\x08\xc3\x50\xc3\x50\x03" + bytes(9)
    small = picture()
    with pytest.raises(FileRefused) as refused:
        check(small[:2] + large + small[2:])
    assert refused.value.details == {"why": "too_many_pixels"}


def test_a_photo_over_two_megabytes_is_refused() -> None:
    with pytest.raises(FileRefused) as refused:
        check(picture() + bytes(LARGEST_PHOTO))
    assert refused.value.details == {"why": "too_large"}


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
def test_threat_12_a_script_in_or_behind_a_picture_is_not_in_the_copy(form: str) -> None:
    script = b"<script>alert(document.cookie)</script>"
    exif = Image.Exif()
    exif[0x010E] = script.decode()
    content = picture(form=form, exif=exif)
    assert script in content
    content += script
    assert b"script" not in copy_of(content)


def test_the_copy_has_no_place_and_no_maker_and_stands_upright() -> None:
    exif = Image.Exif()
    exif[0x0112] = 6  # turned by a quarter
    exif[0x010F] = "MAKER-OF-CAMERAS"
    exif.get_ifd(0x8825)[2] = (52.0, 31.0, 12.0)
    content = picture((120, 80), exif=exif)
    assert b"MAKER-OF-CAMERAS" in content
    copy = looked_at(content)
    assert copy.size == (80, 120)
    assert dict(copy.getexif()) == {}
    assert b"MAKER-OF-CAMERAS" not in copy_of(content)


def test_the_copy_shows_what_the_picture_shows_and_is_no_larger_than_a_screen_needs() -> None:
    copy = looked_at(picture((3200, 2000), "PNG"))
    assert copy.size == (LONGEST_SIDE, 1000)
    assert copy.getpixel((10, 10)) == pytest.approx((250, 240, 10), abs=8)
    assert copy.getpixel((1500, 900)) == pytest.approx((37, 91, 120), abs=8)


def test_what_one_can_see_through_lies_on_white() -> None:
    written = io.BytesIO()
    Image.new("RGBA", (40, 40), (0, 0, 0, 0)).save(written, "PNG")
    assert looked_at(written.getvalue()).getpixel((20, 20)) == pytest.approx((255, 255, 255), abs=4)


@pytest.mark.filterwarnings("ignore::UserWarning")
@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
def test_threat_12_broken_pictures_are_refused_or_shown_and_never_a_failure(form: str) -> None:
    whole, chance = picture((90, 60), form, exif=b"Exif\x00\x00MM\x00*\x00\x00\x00\x08\x00\x00"), random.Random(5)
    refused = 0
    for _ in range(300):
        spoiled = bytearray(whole[: chance.randint(20, len(whole))])
        for _ in range(chance.randint(0, 4)):
            spoiled[chance.randrange(len(spoiled))] = chance.randrange(256)
        try:
            check(bytes(spoiled))
        except FileRefused:
            refused += 1
    assert refused > 50

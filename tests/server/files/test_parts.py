# SPDX-License-Identifier: Apache-2.0
"""Files in parts: from where they were cut, only what a record names, thrown away where the bytes are others."""

from __future__ import annotations

import pytest
from sqlalchemy import func, select

from tallywright.db import reading
from tallywright.files import parts
from tallywright.log.tables import file_parts
from tallywright.records.bench import PhotoAttachedV1
from tallywright.records.decode import sha256
from tests.actors import Works, join_works
from tests.server.files.attaching import attach, attached, how_far, noisy, picture, send_file, send_part

PHOTO = picture()
CSV = b"time;temperature\r\n08:00;521,5\r\n"


def parts_held(works: Works) -> int:
    with reading(works.engine) as connection:
        return connection.scalar(select(func.count()).select_from(file_parts)) or 0


def test_a_file_in_parts_is_kept_byte_for_byte_and_leaves_no_parts(works: Works) -> None:
    tablet = works.tablet()
    name = attached(tablet, PHOTO)
    answer = send_file(tablet, PHOTO, part=300)
    assert (answer.json["whole"], answer.json["held"], answer.json["file"]) == (True, len(PHOTO), name)
    assert tablet.client.get(f"/api/v1/files/{name}").data == PHOTO
    assert parts_held(works) == 0


def test_an_upload_goes_on_where_it_was_cut_whichever_worker_answers(works: Works) -> None:
    tablet = works.tablet()
    name = attached(tablet, PHOTO)
    assert send_part(tablet, name, 0, PHOTO[:500]).json["held"] == 500
    other = join_works(works.config.data, works.config.database_url)
    with reading(other.engine) as connection:
        held = parts.how_far(connection, tablet.writer.device, name).held
    assert held == 500
    arrived = parts.take_part(other.engine, other.clock, tablet.writer.device, name, held, PHOTO[held:])
    assert arrived.is_whole
    other.engine.dispose()


def test_a_part_whose_reply_was_lost_changes_nothing_when_it_comes_again(works: Works) -> None:
    tablet = works.tablet()
    name = attached(tablet, PHOTO)
    for _ in range(2):
        assert send_part(tablet, name, 0, PHOTO[:500]).json["held"] == 500
    assert send_part(tablet, name, 900, PHOTO[900:]).json["held"] == 500
    assert send_part(tablet, name, 500, PHOTO[500:]).json["whole"] is True
    assert send_part(tablet, name, 500, PHOTO[500:]).json["whole"] is True


def test_a_file_no_stored_record_names_is_not_taken_and_may_come_again(works: Works) -> None:
    tablet = works.tablet()
    name = attach(tablet, PHOTO)
    refused = send_part(tablet, name, 0, PHOTO)
    assert (refused.status_code, refused.json["code"], refused.json["retry"]) == (409, "file-not-named", True)
    assert how_far(tablet, name).json["code"] == "file-not-named"
    tablet.push()
    assert send_part(tablet, name, 0, PHOTO).json["whole"] is True


def test_bytes_of_another_hash_are_thrown_away_and_begun_anew(works: Works) -> None:
    tablet = works.tablet()
    name = attached(tablet, PHOTO)
    spoiled = PHOTO[:-1] + bytes([PHOTO[-1] ^ 1])
    refused = send_file(tablet, spoiled, name)
    assert (refused.status_code, refused.json["code"], refused.json["retry"]) == (409, "file-broken", True)
    assert how_far(tablet, name).json["held"] == 0
    assert send_file(tablet, PHOTO).json["whole"] is True


def test_more_bytes_than_the_record_says_are_thrown_away(works: Works) -> None:
    tablet = works.tablet()
    name = attached(tablet, PHOTO)
    assert send_part(tablet, name, 0, PHOTO + b"more").json["code"] == "file-broken"
    assert parts_held(works) == 0


def test_a_record_that_is_wrong_about_the_size_keeps_no_other_from_its_file(works: Works) -> None:
    tablet = works.tablet()
    attach(tablet, PHOTO, size=10)
    attach(tablet, PHOTO, size=len(PHOTO) + 10)
    attached(tablet, PHOTO)
    assert send_file(tablet, PHOTO, part=400).json["whole"] is True


def test_a_tablet_cannot_spoil_what_another_is_sending(works: Works) -> None:
    one, other = works.tablet(), works.tablet("bench 2")
    name = attached(one, PHOTO)
    send_part(other, name, 0, b"x" * 500)
    assert how_far(one, name).json["held"] == 0
    assert send_file(one, PHOTO).json["whole"] is True


def test_nobody_without_a_session_sends_a_file(sqlite_works: Works) -> None:
    tablet = sqlite_works.tablet()
    name = attached(tablet, PHOTO)
    tablet.client = sqlite_works.client()
    assert send_part(tablet, name, 0, PHOTO).status_code == 401


def test_a_part_that_is_too_large_is_to_be_halved(sqlite_works: Works) -> None:
    tablet = sqlite_works.tablet()
    name = attached(tablet, b"x", size=1024 * 1024)
    refused = send_part(tablet, name, 0, bytes(parts.LARGEST_PART + 1))
    assert (refused.status_code, refused.json["code"], refused.json["retry"]) == (413, "too-much", True)


def test_a_tablet_that_begins_files_and_finishes_none_is_stopped_and_a_week_later_may(
    sqlite_works: Works, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(parts, "MOST_UNFINISHED", 1000)
    tablet = sqlite_works.tablet()
    first, second = b"a" * 900, b"b" * 900
    attach(tablet, first, type="text/csv")
    attached(tablet, second, type="text/csv")
    send_part(tablet, sha256(first), 0, first[:800])
    refused = send_part(tablet, sha256(second), 0, second[:800])
    assert (refused.status_code, refused.json["code"]) == (429, "too-much-unfinished")
    sqlite_works.clock.now += parts.PART_LIFE_MS
    assert parts.take_part(
        sqlite_works.engine, sqlite_works.clock, tablet.writer.device, sha256(second), 0, second[:800]
    ) == parts.Arrived(sha256(second), 800)


def test_a_file_that_is_refused_keeps_no_record_out(works: Works) -> None:
    tablet = works.tablet()
    page = b"<html><script>alert(1)</script></html>"
    name = attached(tablet, page, type="text/csv")
    refused = send_file(tablet, page)
    assert (refused.status_code, refused.json["code"], refused.json["retry"]) == (415, "file-refused", False)
    assert how_far(tablet, name).json["held"] == 0
    tablet.open_tray()
    answer = tablet.push()
    assert (answer["marks"][0]["n"], answer["exceptions"]) == (tablet.writer.n, [])


def test_a_file_of_many_parts_is_whole_behind_the_last(works: Works) -> None:
    tablet = works.tablet()
    large = noisy(1200)
    assert len(large) > 3 * 256 * 1024
    attached(tablet, large)
    assert send_file(tablet, large).json["whole"] is True


def test_a_photo_changes_no_verdict_and_no_count_and_opens_no_released_batch(works: Works) -> None:
    tablet = works.tablet()
    tablet.open_tray()
    tablet.find()
    tablet.push()
    before = {table: works.rows(table) for table in ("finds", "looks", "ledgers", "holds", "batch_pages")}
    tablet.at_bench(PhotoAttachedV1(file=sha256(CSV), type="text/csv", size=len(CSV), look="first"))
    tablet.push()
    assert {table: works.rows(table) for table in before} == before

# SPDX-License-Identifier: Apache-2.0
"""What is given out of a file: a picture to look at, or a download; and that nobody loses one unseen."""

from __future__ import annotations

import io
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from PIL import Image
from sqlalchemy import delete, update

from tallywright.cli.main import tallywright
from tallywright.config import Config, sqlite_url
from tallywright.db import reading, writing
from tallywright.files.check import check_files
from tallywright.log.tables import files
from tallywright.records.decode import sha256
from tests.actors import Tablet, Works, join_works
from tests.server.files.attaching import attach, attached, how_far, picture, send_file
from tests.server.looking import make_floor

PHOTO = picture()
# Beside what is attached there is the demo's part, which is too large for a record.


def command(works: Works, *words: str) -> Result:
    settings = {"TALLYWRIGHT_DATA": str(works.config.data), "TALLYWRIGHT_DATABASE_URL": works.config.database_url}
    return CliRunner(env=settings).invoke(tallywright, list(words))


def whole_files(works: Works) -> int:
    with reading(works.engine) as connection:
        return check_files(connection).here


def sent(works: Works, content: bytes = PHOTO, stated: str = "image/jpeg") -> Tablet:
    tablet = works.tablet()
    attached(tablet, content, type=stated)
    assert send_file(tablet, content).json["whole"] is True
    return tablet


def test_a_picture_is_looked_at_as_a_copy_and_its_original_is_a_download(works: Works) -> None:
    content = picture(form="PNG")
    tablet = sent(works, content, "image/png")
    copy = tablet.client.get(f"/api/v1/files/{sha256(content)}/copy")
    assert (copy.status_code, copy.mimetype) == (200, "image/jpeg")
    assert Image.open(io.BytesIO(copy.data)).size == (120, 80)
    original = tablet.client.get(f"/api/v1/files/{sha256(content)}")
    assert (original.data, original.mimetype) == (content, "application/octet-stream")
    assert original.headers["Content-Disposition"] == f'attachment; filename="{sha256(content)[:12]}.png"'
    assert {one.headers["X-Content-Type-Options"] for one in (copy, original)} == {"nosniff"}


@pytest.mark.parametrize(("content", "ending"), [(b"%PDF-1.7\n", "pdf"), (b"time;value\n1;=2+3\n", "csv")])
def test_threat_12_a_pdf_and_a_csv_are_downloads_whatever_a_record_calls_them(
    sqlite_works: Works, content: bytes, ending: str
) -> None:
    tablet = sent(sqlite_works, content, "image/jpeg")
    answer = tablet.client.get(f"/api/v1/files/{sha256(content)}")
    assert answer.headers["Content-Disposition"].endswith(f'.{ending}"')
    assert answer.mimetype == "application/octet-stream"
    refused = tablet.client.get(f"/api/v1/files/{sha256(content)}/copy")
    assert (refused.status_code, refused.json["code"]) == (415, "file-refused")


def test_a_picture_that_is_not_here_is_404(sqlite_works: Works) -> None:
    tablet = sqlite_works.tablet()
    name = attached(tablet, PHOTO)
    assert tablet.client.get(f"/api/v1/files/{name}/copy").status_code == 404


def test_threat_2_a_revoked_or_unknown_browser_sees_no_picture(sqlite_works: Works) -> None:
    sent(sqlite_works)
    assert sqlite_works.client().get(f"/api/v1/files/{sha256(PHOTO)}/copy").status_code == 401


def test_verify_counts_files_and_names_those_that_are_missing_without_calling_the_log_broken(
    sqlite_works: Works,
) -> None:
    tablet = sent(sqlite_works)
    missing = attach(tablet, picture(seed=2))
    taken_back = attach(tablet, picture(seed=3))
    tablet.withdraw(tablet.outbox[-1].id)
    tablet.push()
    done = command(sqlite_works, "verify")
    assert done.exit_code == 0, done.output
    assert missing in done.output
    assert taken_back not in done.output
    assert "2 files are here and whole, 1 that records name are missing." in done.output


def test_verify_names_a_file_whose_bytes_were_changed_and_a_tablet_that_has_it_puts_it_right(
    sqlite_works: Works,
) -> None:
    tablet = sent(sqlite_works)
    with writing(sqlite_works.engine) as connection:
        connection.execute(update(files).where(files.c.hash == sha256(PHOTO)).values(bytes=b"changed"))
    done = command(sqlite_works, "verify")
    assert done.exit_code == 1
    assert f"{sha256(PHOTO)}: the bytes of this file were changed" in done.output
    assert how_far(tablet, sha256(PHOTO)).json["whole"] is False
    assert send_file(tablet, PHOTO).json["whole"] is True
    assert command(sqlite_works, "verify").exit_code == 0


def test_a_backup_carries_files_and_a_restore_gives_them_out_again(works: Works, tmp_path: Path) -> None:
    sent(works)
    done = command(works, "backup", str(tmp_path / "copy.db"))
    assert done.exit_code == 0, done.output
    assert "and 2 files" in done.output
    other = tmp_path / "other"
    other.mkdir()
    put_back = Works(works.app, works.clock, Config(data=other, database_url=sqlite_url(other), demo=True))
    assert command(put_back, "restore", str(tmp_path / "copy.db")).exit_code == 0
    for key in works.config.data.glob("*.*"):
        if key.suffix in (".key", ".pem"):
            shutil.copy(key, other / key.name)
    restored = join_works(other, sqlite_url(other))
    assert whole_files(restored) == 2
    assert restored.tablet().client.get(f"/api/v1/files/{sha256(PHOTO)}").data == PHOTO
    restored.engine.dispose()


def test_a_file_that_was_changed_keeps_no_record_from_being_copied(sqlite_works: Works, tmp_path: Path) -> None:
    sent(sqlite_works)
    with writing(sqlite_works.engine) as connection:
        connection.execute(update(files).where(files.c.hash == sha256(PHOTO)).values(bytes=b"changed"))
    done = command(sqlite_works, "backup", str(tmp_path / "copy.db"))
    assert done.exit_code == 0
    assert f"{sha256(PHOTO)}: the bytes of this file were changed before they were copied" in done.output


def test_a_file_is_safe_once_a_copy_of_the_log_was_read_back_that_surely_has_it(
    sqlite_works: Works, tmp_path: Path
) -> None:
    tablet = sent(sqlite_works)
    assert how_far(tablet, sha256(PHOTO)).json["safe"] is False
    tablet.open_tray()
    tablet.push()
    assert how_far(tablet, sha256(PHOTO)).json["safe"] is False
    assert command(sqlite_works, "backup", str(tmp_path / "copy.db")).exit_code == 0
    assert how_far(tablet, sha256(PHOTO)).json["safe"] is True
    late = attached(tablet, picture(seed=2))
    send_file(tablet, picture(seed=2))
    assert how_far(tablet, late).json["safe"] is False


def test_a_server_put_back_to_an_older_copy_asks_for_the_file_again(works: Works) -> None:
    tablet = sent(works)
    with writing(works.engine) as connection:
        connection.execute(delete(files).where(files.c.hash == sha256(PHOTO)))
    assert how_far(tablet, sha256(PHOTO)).json["held"] == 0
    assert send_file(tablet, PHOTO).json["whole"] is True


def test_the_list_of_holds_names_the_pictures_of_a_piece_and_whether_they_are_here(works: Works) -> None:
    floor = make_floor(works)
    tablet = floor.first
    tablet.open_tray()
    query, hold = tablet.find("not_sure"), tablet.find("lap")
    here = attach(tablet, PHOTO, look="first", piece=query.id)
    attach(tablet, PHOTO, look="first", piece=query.id)
    away = attach(tablet, picture(seed=2), look="first", piece=query.id)
    of_hold = attach(tablet, picture(seed=3), look="first", piece=hold.id)
    tablet.push()
    send_file(tablet, PHOTO)
    listed = floor.lead.get("/api/v1/holds").json
    assert [one["pictures"] for one in listed["queries"]] == [
        [{"file": here, "here": True}, {"file": away, "here": False}]
    ]
    assert [one["pictures"] for one in listed["holds"]] == [[{"file": of_hold, "here": False}]]

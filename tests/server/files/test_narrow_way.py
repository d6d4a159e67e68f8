# SPDX-License-Identifier: Apache-2.0
"""A week's records and photos through a way that cuts at a megabyte and dies twice: text first, all whole."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests import node
from tests.served import Served, free_port
from tests.server.files.narrow_way import send_backlog, take_photos

pytestmark = pytest.mark.node
MARKS, PHOTOS = 1_500, 12


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Served]:
    node.install()
    server = Served(tmp_path / "works", free_port())
    server.start()
    yield server
    server.stop()


def test_hazard_c6_records_come_first_and_every_photo_comes_whole_though_the_way_cuts_and_dies_twice(
    served: Served, tmp_path: Path
) -> None:
    take_photos(tmp_path / "photos", PHOTOS)
    told, way = send_backlog(served, tmp_path / "photos", MARKS, dies_at=(7, 20))
    assert way.deaths == 2
    assert told["failures"] >= 2
    # Not one part of a photo left before the server had every record.
    assert told["fewestConfirmed"] == told["records"] == MARKS + PHOTOS + 3
    assert told["parts"] > PHOTOS
    checked = served.run("verify")
    assert checked.returncode == 0
    # The demo's part is a file, too.
    assert f"{PHOTOS + 1} files are here and whole, 0 that records name are missing." in checked.stdout

# SPDX-License-Identifier: Apache-2.0
"""A disk of a few megabytes that a test can fill: a file system in memory. Only root may mount one."""

from __future__ import annotations

import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest


@dataclass
class SmallDisk:
    """A folder that is a disk of its own."""

    folder: Path

    @property
    def _ballast(self) -> Path:
        return self.folder / "ballast"

    def fill(self, left: int = 0) -> None:
        """Leave no more than that many bytes of room."""
        with self._ballast.open("ab", buffering=0) as file:
            try:
                while True:
                    file.write(bytes(4096))
            except OSError:
                file.truncate(max(0, file.tell() - left))

    def make_room(self) -> None:
        """Give all of the room back."""
        self._ballast.unlink()

    def takes_writes(self, yes: bool) -> None:
        """Make it read-only, as a system does with a disk that failed, or take that back."""
        subprocess.run(["mount", "-o", f"remount,{'rw' if yes else 'ro'}", self.folder], check=True)


@contextmanager
def small_disk(folder: Path, mebibytes: int) -> Iterator[SmallDisk]:
    """Yield a small disk at a new folder; skips the test where none can be mounted."""
    folder.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", f"size={mebibytes}m,mode=777", "tmpfs", str(folder)]
    try:
        done = subprocess.run(mount, capture_output=True, text=True, check=False)
    except FileNotFoundError:
        pytest.skip("this machine has no `mount`, so no small disk can be made")
    if done.returncode != 0:
        pytest.skip(f"no small disk can be mounted here ({done.stderr.strip()}); root may")
    try:
        yield SmallDisk(folder)
    finally:
        subprocess.run(["umount", "--lazy", str(folder)], check=True)

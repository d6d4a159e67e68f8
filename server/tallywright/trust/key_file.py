# SPDX-License-Identifier: Apache-2.0
"""Write a file that holds a key: whole or not at all, and for nobody's eyes but its user's."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path


def write_key_file(path: Path, content: bytes) -> None:
    """Replace a file in one step; from its first byte on it is readable by its user only."""
    descriptor, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}-")
    try:
        with os.fdopen(descriptor, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(descriptor)
        Path(name).replace(path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise

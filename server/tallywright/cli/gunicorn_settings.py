# SPDX-License-Identifier: Apache-2.0
"""What only code can set in gunicorn: what the workers share is looked through for garbage once, and each new
connection is greeted with the certificate as it is on disk.
"""

from __future__ import annotations

import gc
import logging
from collections.abc import Callable
from pathlib import Path
from ssl import SSLContext, SSLError
from typing import Any

_log = logging.getLogger(__name__)
_made: tuple[tuple[int, int], SSLContext] | None = None


def when_ready(_server: Any) -> None:
    """Leave what the workers share out of every later collection: it holds no garbage, and takes the longest.

    Called once, behind the import of the application and before the first worker is born.
    """
    gc.collect()
    gc.freeze()


def ssl_context(conf: Any, make: Callable[[], SSLContext]) -> SSLContext:
    """Return a context with the present files: gunicorn asks for one at each connection.

    A renewed certificate holds from the next connection on, and nothing is stopped or reloaded for it.
    """
    global _made
    try:
        changed = Path(conf.certfile).stat().st_mtime_ns, Path(conf.keyfile).stat().st_mtime_ns
        if _made is None or _made[0] != changed:
            _made = changed, make()
    except (OSError, SSLError):
        # Somebody is just putting another pair in place; one that was good a moment ago is better than none.
        if _made is None:
            raise
        _log.warning("the certificate cannot be read just now; the one from before is shown")
    return _made[1]

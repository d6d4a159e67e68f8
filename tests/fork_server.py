# SPDX-License-Identifier: Apache-2.0
"""A process that has the server's modules and makes servers by forking: importing them takes seconds each time.

Run as `python -m tests.fork_server`: a line of JSON in (words, settings, log), the process id out.
"""

from __future__ import annotations

import json
import os
import signal
import sys
import traceback
from importlib import import_module
from typing import Any, NoReturn


def _serve(words: list[str], settings: dict[str, str], log: str) -> None:
    """Become the command, as a process that was started with these words and settings, in a session of its own."""
    from tallywright.cli.main import main

    signal.signal(signal.SIGCHLD, signal.SIG_DFL)
    os.setsid()
    with open(log, "ab") as file, open(os.devnull, "rb") as nothing:  # noqa: PTH123 - descriptors are what is needed
        os.dup2(nothing.fileno(), 0)
        for stream in (1, 2):
            os.dup2(file.fileno(), stream)
    os.environ.clear()
    os.environ.update(settings)
    sys.argv = ["tallywright", *words]
    main()


def _end(asked: dict[str, Any]) -> NoReturn:
    """Serve, and end as a process does; the server's own workers, which are forked below this, end here too."""
    itself, code = os.getpid(), 0
    try:
        _serve(**asked)
    except SystemExit as end:
        code = end.code if isinstance(end.code, int) else int(end.code is not None)
    except BaseException:
        code = 1
        traceback.print_exc()
    finally:
        if os.getpid() == itself:
            os.write(2, f"The server ended with {code}.\n".encode())
        os._exit(code)


def _listen() -> None:
    import_module("tallywright.cli.main")
    import_module("tallywright.web.description")
    signal.signal(signal.SIGCHLD, signal.SIG_IGN)  # whoever asked looks for the process himself
    for line in sys.stdin:
        asked = json.loads(line)
        process = os.fork()
        if process == 0:
            _end(asked)
        sys.stdout.write(f"{process}\n")
        sys.stdout.flush()


if __name__ == "__main__":
    _listen()

# SPDX-License-Identifier: Apache-2.0
"""The command `tallywright` as a person types it, in this process: starting another one takes seconds."""

from __future__ import annotations

import io
import os
import sys
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from unittest import mock

from tallywright.cli.main import main


@dataclass(frozen=True, slots=True)
class Done:
    """What a command printed, and how it ended."""

    returncode: int
    stdout: str
    stderr: str


class _Text(io.TextIOWrapper):
    """A stream that takes bytes as well, as those of a process do."""

    @property
    def text(self) -> str:
        self.flush()
        bytes_ = self.buffer
        assert isinstance(bytes_, io.BytesIO)
        return bytes_.getvalue().decode()


def run(*words: str, stdin: str = "", **environment: str) -> Done:
    """Run a command with no settings but these."""
    settings = {name: value for name, value in os.environ.items() if not name.startswith("TALLYWRIGHT_")}
    out, err, code = _Text(io.BytesIO(), "utf-8"), _Text(io.BytesIO(), "utf-8"), 0
    with (
        mock.patch.dict(os.environ, {**settings, **environment}, clear=True),
        mock.patch.object(sys, "argv", ["tallywright", *words]),
        mock.patch.object(sys, "stdin", io.StringIO(stdin)),
        redirect_stdout(out),
        redirect_stderr(err),
    ):
        try:
            main()
        except SystemExit as end:
            code = end.code if isinstance(end.code, int) else int(end.code is not None)
    return Done(code, out.text, err.text)

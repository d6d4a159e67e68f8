# SPDX-License-Identifier: Apache-2.0
"""Property tests of the computations have no deadline: on a busy machine an example may wait for its turn."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("computation", deadline=None)
settings.load_profile("computation")

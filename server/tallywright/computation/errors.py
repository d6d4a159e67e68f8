# SPDX-License-Identifier: Apache-2.0
"""What a computation answers instead of guessing.

ValueError
└── ComputationError     the room's own family; web maps it
    ├── OutOfRange       a parameter lies outside the range the method is valid for; the sentence names both
    └── NotEstimable     the data are in range but carry no answer
"""


class ComputationError(ValueError):
    """The room's own family of errors."""


class OutOfRange(ComputationError):
    """A parameter lies outside the validity of the method."""


class NotEstimable(ComputationError):
    """The data are valid but do not determine the quantity asked for."""

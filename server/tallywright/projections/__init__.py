# SPDX-License-Identifier: Apache-2.0
"""Tables that keep fold results for reading. They hold nothing the log does not."""

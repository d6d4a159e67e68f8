# SPDX-License-Identifier: Apache-2.0
"""Browsers killed in the middle of a tap, servers killed in the middle of a push; and many that push at once."""

# SPDX-License-Identifier: Apache-2.0
"""The invented works' past weeks: made from a fixed seed, and told by its tablets through the real push."""

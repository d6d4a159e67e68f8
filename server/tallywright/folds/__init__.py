# SPDX-License-Identifier: Apache-2.0
"""Pure functions of the set of a subject's records: in any order, each once. May read records and computation."""

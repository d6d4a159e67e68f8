# SPDX-License-Identifier: Apache-2.0
"""Push and pull: records in, records out. A merge is a union; nothing that arrives is dropped."""

# SPDX-License-Identifier: Apache-2.0
"""What a record is: envelope, kinds by (kind, version), canonical bytes, hash, signature. No I/O, no web."""

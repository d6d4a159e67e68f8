# SPDX-License-Identifier: Apache-2.0
"""What a record is: envelope, kinds by (kind, version), canonical bytes, hash, chain. No I/O, no web, no database."""

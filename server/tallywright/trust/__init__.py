# SPDX-License-Identifier: Apache-2.0
"""What makes a tablet trust this server: a local authority, and the certificates it signs for its names."""

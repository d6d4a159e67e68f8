# SPDX-License-Identifier: Apache-2.0
"""Numbers in, numbers out: one module per published method. May import numpy and scipy, nothing of ours."""

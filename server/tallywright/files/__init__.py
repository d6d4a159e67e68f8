# SPDX-License-Identifier: Apache-2.0
"""Files that come in parts behind the records: taken, told by their content, and made fit to be looked at."""

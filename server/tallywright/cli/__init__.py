# SPDX-License-Identifier: Apache-2.0
"""Commands for the console. They call the same functions as the web does."""

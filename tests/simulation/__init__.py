# SPDX-License-Identifier: Apache-2.0
"""Many short lives of a works: whole tablets against the whole server, with every fault at chance."""

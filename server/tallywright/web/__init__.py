# SPDX-License-Identifier: Apache-2.0
"""HTTP and nothing else: one *_api.py per resource. The rooms below know no request; this one knows no rule."""

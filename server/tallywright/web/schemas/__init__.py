# SPDX-License-Identifier: Apache-2.0
"""The shapes of requests and answers, one module a resource."""

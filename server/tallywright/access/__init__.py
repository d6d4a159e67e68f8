# SPDX-License-Identifier: Apache-2.0
"""Who may do what: enrolment, sessions, and one rule for every route. Secrets live here, never in a record."""

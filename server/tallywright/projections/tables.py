# SPDX-License-Identifier: Apache-2.0
"""The projected tables. A change here or in a fold raises FOLDED_BY: the next start rebuilds everything."""

from __future__ import annotations

from sqlalchemy import Boolean, Column, Index, Integer, String, Table, Text

from tallywright.db import projected
from tallywright.log.tables import Big

FOLDED_BY = "26"

finds = Table(
    "finds",
    projected,
    Column("id", String(43), primary_key=True),
    Column("batch", String(43), nullable=False),
    Column("look", String(64), nullable=False),
    Column("tray", String(43), nullable=False),
    Column("piece", String(43), nullable=False),
    Column("defect", String(64), nullable=False),
    Column("weight", String(8), nullable=False),
    Column("zone", String(64), nullable=False),
    Column("cavity", String(200), nullable=False),
    Column("born_at", String(200), nullable=False),  # the operations that can make it, rising; '' where any can
    Column("tray_number", Integer, nullable=False),  # 0 where the tray is not known
    Column("tray_from_last", Integer, nullable=False),  # 1 is the last due tray of its look; 0 where nobody counted
    Column("sign_on", String(43), nullable=False),
    Column("author", String(43), nullable=False),
    Column("found_at", Big, nullable=False),
    Column("time_doubtful", Boolean, nullable=False),
    Index("finds_batch", "batch"),
    Index("finds_found_at", "found_at"),
)

# How many finds of a batch stand in each bar of each stratum; see sum_rows.py.
sums = Table(
    "sums",
    projected,
    Column("stratum", String(16), primary_key=True),  # '' for one bar of all
    Column("batch", String(43), primary_key=True),
    Column("placed", Boolean, primary_key=True),  # of finds with a time of making alone, beside others without
    Column("several", Boolean, primary_key=True),
    Column("name", String(200), primary_key=True),
    Column("marks", Big, nullable=False),
    Column("pieces", Big, nullable=False),
    # The name stands in it so that no question for one stratum takes it for the shorter way.
    Index("sums_batch", "batch", "name"),
    sqlite_with_rowid=False,  # the bars of a stratum lie together
)

# Between which times the finds of a batch lie.
spans = Table(
    "spans",
    projected,
    Column("batch", String(43), primary_key=True),
    Column("found_first", Big, nullable=False),
    Column("found_last", Big, nullable=False),
    Column("made_first", Big, nullable=False),  # 0 and 0 where no time of making is recorded
    Column("made_last", Big, nullable=False),
    Column("unplaced", Big, nullable=False),  # finds without a time of making
)

# Trays that count as looked at.
trays = Table(
    "trays",
    projected,
    Column("tray", String(43), primary_key=True),
    Column("batch", String(43), nullable=False, index=True),
    Column("look", String(64), nullable=False),
    Column("number", Integer, nullable=False),
    Column("from_last", Integer, nullable=False),  # 1 is the last due tray of its look; 0 where nobody counted
    Column("looked", Big, nullable=False),
    Column("closed_at", Big, nullable=False),
    Index("trays_closed_at", "closed_at"),
)

batches = Table(
    "batches",
    projected,
    Column("batch", String(43), primary_key=True),
    Column("number", String(200), nullable=False),
    Column("part", String(200), nullable=False),
    Column("definition", String(43), nullable=False),
    Column("pieces", Big, nullable=False),
    Column("opened_at", Big, nullable=False),
    Column("not_understood", Integer, nullable=False),
)

batch_pages = Table(
    "batch_pages",
    projected,
    Column("batch", String(43), primary_key=True),
    Column("released_by", String(43), nullable=False),
    Column("late", Integer, nullable=False),
    Column("page", Text, nullable=False),  # what only the batch's own page shows, as JSON
)

looks = Table(
    "looks",
    projected,
    Column("batch", String(43), primary_key=True),
    Column("look", String(64), primary_key=True),
    Column("place", Integer, nullable=False),  # in the route; looks it does not name stand behind
    Column("due", Big, nullable=False),
    Column("looked", Big, nullable=False),
    Column("accepted", Big, nullable=False),
    Column("rejected", Big, nullable=False),
    Column("rework", Big, nullable=False),
    Column("query", Big, nullable=False),
    Column("points", Integer, nullable=False),
    Column("signed_by", String(43), nullable=False),
    Column("page", Text, nullable=False),
)

limit_lines = Table(
    "limit_lines",
    projected,
    Column("batch", String(43), primary_key=True),
    Column("look", String(64), primary_key=True),
    Column("defect_class", String(8), primary_key=True),
    Column("place", Integer, nullable=False),
    Column("allowed_per_thousand", Integer, nullable=False),
    Column("defective", Big, nullable=False),
    Column("with_queries", Big, nullable=False),
    Column("marked", Big, nullable=False),
    Column("looked", Big, nullable=False),
    Column("due", Big, nullable=False),
    Column("trays_closed", Integer, nullable=False),
    Column("state", String(16), nullable=False),
    Column("state_with_queries", String(16), nullable=False),
    # Crossed, and the log does not say so yet.
    Column("is_unsaid", Boolean, nullable=False, index=True),
)

queries = Table(
    "queries",
    projected,
    Column("batch", String(43), primary_key=True),
    Column("look", String(64), primary_key=True),
    Column("piece", String(43), primary_key=True),
    Column("asked_by", String(43), nullable=False),  # the first record that asks
)

# Pictures and other files that records name; whether their bytes are here `files` says.
attachments = Table(
    "attachments",
    projected,
    Column("record", String(43), primary_key=True),
    Column("batch", String(43), nullable=False, index=True),
    Column("look", String(64), nullable=False),
    Column("tray", String(43), nullable=False),
    Column("piece", String(43), nullable=False),
    Column("file", String(64), nullable=False, index=True),
    Column("size", Big, nullable=False),
    Column("added_at", Big, nullable=False),
    Column("withdrawn", Boolean, nullable=False),
)

# What can have made the pieces of a batch at an operation, and from when to when it can; see folds/route.py.
made = Table(
    "made",
    projected,
    Column("batch", String(43), primary_key=True),
    Column("operation", Big, primary_key=True),
    Column("what", String(8), primary_key=True),
    Column("value", String(200), primary_key=True),
    Column("started_at", Big, nullable=False),
    Column("ended_at", Big, nullable=False),  # 0 while it goes on
)

# What the route says of the finds of a batch by their operation of origin and cavity; see folds/origins.py.
origins = Table(
    "origins",
    projected,
    Column("batch", String(43), primary_key=True),
    Column("born_at", String(200), primary_key=True),
    Column("cavity", String(200), primary_key=True),
    Column("what", String(8), primary_key=True),
    Column("value", String(200), nullable=False),
    Column("several", Boolean, nullable=False),
    Column("started_at", Big, nullable=False),
    Column("ended_at", Big, nullable=False),
    Index("origins_ended_at", "what", "ended_at"),
)

ledgers = Table(
    "ledgers",
    projected,
    Column("batch", String(43), primary_key=True),
    Column("closes", Boolean, nullable=False),
    Column("open", Integer, nullable=False),  # differences that nobody accepted, and what else is open of the route
    Column("page", Text, nullable=False),
)

# Loads and lots by id: what stands in `made` of them is their id, and `number` their label.
loads = Table(
    "loads",
    projected,
    Column("load", String(43), primary_key=True),
    Column("what", String(4), nullable=False),
    Column("operation", Big, nullable=False),
    Column("number", String(200), nullable=False),
    Column("opened_at", Big, nullable=False),
)

# Checks that stand, at the machines; one beside another has its root.
checks = Table(
    "checks",
    projected,
    Column("id", String(43), primary_key=True),
    Column("batch", String(43), nullable=False, index=True),
    Column("operation", Big, nullable=False),
    Column("characteristic", Big, nullable=False),
    Column("role", String(16), nullable=False),
    Column("said", String(32), nullable=False),
    Column("outcome", String(16), nullable=False),
    Column("root", String(43), nullable=False, index=True),
    Column("mistyped", Boolean, nullable=False),
    Column("made", Big, nullable=False),  # -1 where nobody knew
    Column("gauge", String(200), nullable=False),
    Column("cavity", String(200), nullable=False),
    Column("taken_at", Big, nullable=False),
    Index("checks_taken_at", "taken_at"),
    Index("checks_of", "operation", "characteristic", "taken_at"),
)

# Checks that are not as the plan asks; see folds/check_gaps.py.
check_gaps = Table(
    "check_gaps",
    projected,
    Column("record", String(43), primary_key=True),
    Column("operation", Big, primary_key=True),
    Column("characteristic", Big, primary_key=True),
    Column("role", String(16), primary_key=True),
    Column("kind", String(8), primary_key=True),
    Column("batch", String(43), nullable=False, index=True),
    Column("checks", Big, nullable=False),
    Column("pieces", Big, nullable=False),
    Column("ms", Big, nullable=False),
    Column("why", String(200), nullable=False),
    Column("at", Big, nullable=False),
    Index("check_gaps_at", "at"),
)

# What was done about checks that were out.
reactions = Table(
    "reactions",
    projected,
    Column("record", String(43), primary_key=True),
    Column("batch", String(43), nullable=False, index=True),
    Column("root", String(43), nullable=False, index=True),  # of the check
    Column("done", String(200), nullable=False),
    Column("pieces_back", Big, nullable=False),
    Column("at", Big, nullable=False),
)

# What came in at the gate: bars of a cast, lots of components.
receipts = Table(
    "receipts",
    projected,
    Column("receipt", String(43), primary_key=True),
    Column("what", String(16), nullable=False),
    Column("name", String(402), nullable=False),  # alloy and temper, or the component
    # Of components it is their lot. Plain `cast` is a word of SQL.
    Column("cast_name", String(200), nullable=False),
    Column("counted", Big, nullable=False),
    Column("difference", Big, nullable=False),
    Column("state", String(8), nullable=False),
    Column("received_at", Big, nullable=False),
    Column("page", Text, nullable=False),
    Index("receipts_received_at", "received_at"),
)

# Bars of a receipt that went to a batch.
issues = Table(
    "issues",
    projected,
    Column("issue", String(43), primary_key=True),
    Column("batch", String(43), nullable=False, index=True),
    Column("receipt", String(43), nullable=False, index=True),
    Column("bars", Big, nullable=False),
    Column("withdrawn", Boolean, nullable=False),
)

# Checks that name a gauge; what each is worth is asked of the gauge, which somebody may find wrong later.
gauge_values = Table(
    "gauge_values",
    projected,
    Column("check_id", String(43), primary_key=True),
    Column("batch", String(43), nullable=False, index=True),
    Column("gauge", String(64), nullable=False),  # the subject of what is said of it
    Column("number", String(200), nullable=False),  # as whoever measured wrote it
    Column("measured", String(200), nullable=False),  # with what the plan measures; '' where it does not say
    Column("operation", Big, nullable=False),
    Column("taken_at", Big, nullable=False),
    Column("withdrawn", Boolean, nullable=False),
    Index("gauge_values_gauge", "gauge", "taken_at"),
)

bar_ends = Table(
    "bar_ends",
    projected,
    Column("record", String(43), primary_key=True),
    Column("alloy", String(200), nullable=False),
    Column("container", String(200), nullable=False),
    Column("pieces", Big, nullable=False),
    Column("mass_g", Big, nullable=False),
)

devices = Table(
    "devices",
    projected,
    Column("device", String(43), primary_key=True),
    Column("name", String(200), nullable=False),
    Column("letters", String(4), nullable=False),
    Column("public_key", Text, nullable=False),
    Column("revoked", Boolean, nullable=False),
)

sign_ons = Table(
    "sign_ons",
    projected,
    Column("sign_on", String(43), primary_key=True),
    Column("chain", String(26), nullable=False, index=True),
    Column("person", String(43), nullable=False),
    Column("judged", Boolean, nullable=False),
    Column("proven", Boolean, nullable=False),
)

judgements = Table(
    "judgements",
    projected,
    Column("judgement", String(43), primary_key=True),
    Column("chain", String(26), nullable=False, index=True),
    Column("sign_on", String(43), nullable=False, index=True),
    Column("proven", Boolean, nullable=False),
)

authors = Table(
    "authors",
    projected,
    Column("batch", String(43), primary_key=True),
    Column("look", String(64), primary_key=True),
    Column("sign_on", String(43), primary_key=True, index=True),
)

holds = Table(
    "holds",
    projected,
    # What is learnt of a cast holds every batch made of it.
    Column("hold", String(43), primary_key=True),
    Column("batch", String(43), primary_key=True, index=True),
    Column("cause", String(8), nullable=False),
    Column("piece", String(43), nullable=False),
    Column("look", String(64), nullable=False),
    Column("lifted_by", String(43), nullable=False),
    Column("cause_withdrawn", Boolean, nullable=False),
)

requests = Table(
    "requests",
    projected,
    Column("request", String(43), primary_key=True),
    Column("batch", String(43), nullable=False, index=True),
    Column("kind", String(64), nullable=False),
    Column("state", String(8), nullable=False, index=True),
    Column("sign_on", String(43), nullable=False),
    Column("reasons", Text, nullable=False),
    Column("seconded_by", Text, nullable=False),
    Column("asked_at", Big, nullable=False),
)

admissions = Table(
    "admissions",
    projected,
    Column("admission", String(43), primary_key=True),
    Column("subject", String(64), nullable=False, index=True),
    Column("line_hash", String(64), nullable=False, index=True),
)

stale = Table(
    "stale",
    projected,
    Column("subject", String(64), primary_key=True),
    Column("why", Text, nullable=False),
)

folded_by = Table("folded_by", projected, Column("version", String(16), primary_key=True))

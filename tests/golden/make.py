# SPDX-License-Identifier: Apache-2.0
"""Keep what this version writes: a tablet's files, the push it sends, the log it goes into, and what it folds to.

    python -m tests.golden.make

Run once for each release, into a file of its name. Every later version opens, takes and folds what lies there.
"""

from __future__ import annotations

import base64
import gzip
import json
import sys
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import msgspec
from sqlalchemy import select

from tallywright.config import sqlite_url
from tallywright.db import projected, reading
from tallywright.log.read import every_line
from tallywright.log.tables import chains, files
from tallywright.projections.rebuild import rows
from tallywright.records.kinds import KINDS, Sort
from tests import node
from tests.actors import NOON, Tablet, Works, join_works, make_demo_works, push_body
from tests.server.files.attaching import picture

HERE = Path(__file__).parent
UNFOLDED = ("folded_by",)


def folded(works: Works) -> dict[str, list[dict[str, Any]]]:
    """Every projected row by the names of its columns, in a fixed order."""
    with reading(works.engine) as connection:
        found = rows(connection)
    return {
        table.name: [dict(zip(table.columns.keys(), row, strict=True)) for row in found[table.name]]
        for table in projected.sorted_tables
        if found[table.name] and table.name not in UNFOLDED
    }


def is_a_tablets(kind: str, v: int) -> bool:
    """True for what a tablet may write."""
    return KINDS[kind, v].sort is not Sort.SERVER


def told(works: Works, tablet: Tablet) -> dict[str, Any]:
    """What the server tells a tablet that begins."""
    pair = f"{tablet.batch['batch']}/first"
    head, lines = tablet.pull(carry=[pair])
    sealing = head["sealing"]
    page = {
        **{name: head[name] for name in ("epoch", "cursor", "more", "head", "sealing", "sign_ons")},
        **{"pairs": [pair], "lines": [line.decode() for line in lines], "as_of": head["server_time"]},
        "certificate_ends_at": 0,
    }
    return {
        "device": tablet.writer.device,
        "site": tablet.site,
        "person": works.person("Ines Brandt"),
        "batch": tablet.batch["batch"],
        "definition": tablet.batch["definition"],
        "secret": {"key": sealing, "pin": "4071"},
        "page": page,
        # One chain is one run of a push, and it was opened already.
        "kinds": [f"{kind} {v}" for kind, v in KINDS if kind != "chain_opened" and is_a_tablets(kind, v)],
        "picture": base64.b64encode(picture()).decode(),
        "at": NOON,
    }


def make() -> dict[str, bytes]:
    """Return all that is kept, by name."""
    with tempfile.TemporaryDirectory() as name:
        data = Path(name)
        make_demo_works(data, sqlite_url(data))
        works = join_works(data, sqlite_url(data))
        tablet = works.tablet("golden")
        made = json.loads(node.run(["tests/static/journal/golden.mjs"], json.dumps(told(works, tablet)).encode()))
        lines = [line.encode() for line in made["lines"]]
        body = push_body(json.loads(lines[0])["chain"], tablet.key, lines, 1)
        kept = server_of(works)
        answer = tablet.send(body)
        assert answer.status_code == 200, answer.text
        assert answer.json["exceptions"] == [], answer.json["exceptions"]
        kept["folded.json"] = msgspec.json.encode(folded(works), order="sorted")
        works.engine.dispose()
    kept["push.ndjson"] = body
    kept["every_kind.ndjson"] = "".join(f"{line}\n" for line in made["every_kind"]).encode()
    return {**kept, **{f"tablet/{file}": base64.b64decode(content) for file, content in made["files"].items()}}


def server_of(works: Works) -> dict[str, bytes]:
    """The log as it was before the push: its lines, the heads of its chains, its files."""
    with reading(works.engine) as connection:
        heads: list[Mapping[str, Any]] = [row._asdict() for row in connection.execute(select(chains))]
        return {
            "server/log.ndjson": b"".join(line + b"\n" for _, line in every_line(connection)),
            "server/chains.json": json.dumps(heads).encode(),
            **{f"server/files/{row.hash}": row.bytes for row in connection.execute(select(files))},
        }


def main() -> None:
    """Make the file of this version; one that is there is never made anew."""
    changelog = (HERE.parents[1] / "docs" / "changelog.md").read_text(encoding="utf-8")
    version = next(line[3:].strip() for line in changelog.splitlines() if line.startswith("## "))
    path = HERE / f"{version}.json"
    if path.exists():
        sys.exit(f"{path} is there: what a version wrote is kept for ever.")
    # Packed: a tablet's files are mostly room.
    packed = {name: base64.b64encode(gzip.compress(content, mtime=0)).decode() for name, content in make().items()}
    path.write_text(json.dumps(packed, indent=1) + "\n", encoding="utf-8")
    sys.stdout.write(f"{path}: {path.stat().st_size} bytes\n")


if __name__ == "__main__":
    main()

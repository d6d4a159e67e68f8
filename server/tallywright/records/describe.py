# SPDX-License-Identifier: Apache-2.0
"""Describe envelope and bodies as an OpenAPI document, the source of the tablet's generated types.

Run as `python -m tallywright.records.describe`; static/src/records/described.ts is made from its output.
"""

from __future__ import annotations

import sys
from typing import Any

import msgspec

from tallywright.records.envelope import CheckedEnvelope
from tallywright.records.kinds import KINDS

TEMPLATE = "#/components/schemas/{name}"


def describe() -> dict[str, Any]:
    """Return the document: one schema a body, and `Record`, a union told apart by kind and v."""
    types = [kind.body for kind in KINDS.values()]
    _, schemas = msgspec.json.schema_components([CheckedEnvelope, *types], ref_template=TEMPLATE)
    envelope = schemas.pop("CheckedEnvelope")
    names = []
    for (kind, version), meaning in sorted(KINDS.items()):
        name = f"{meaning.body.__name__}Record"
        names.append(name)
        schemas[name] = {
            **envelope,
            "title": name,
            "description": "One record as it stands in a line.",
            "properties": {
                **envelope["properties"],
                "kind": {"const": kind},
                "v": {"const": version},
                "body": {"$ref": TEMPLATE.format(name=meaning.body.__name__)},
            },
            "required": sorted({*envelope["required"], *meaning.needs}),
        }
    schemas["Record"] = {"oneOf": [{"$ref": TEMPLATE.format(name=name)} for name in names]}
    return {
        "openapi": "3.1.0",
        "info": {"title": "Tallywright records", "version": "1"},
        "paths": {},
        "components": {"schemas": schemas},
    }


if __name__ == "__main__":
    sys.stdout.buffer.write(msgspec.json.format(msgspec.json.encode(describe(), order="sorted"), indent=1))

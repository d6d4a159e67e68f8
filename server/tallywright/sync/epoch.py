# SPDX-License-Identifier: Apache-2.0
"""Notice that this log is older than what a tablet knows of it, and go on in a new chain of the server's own.

A tablet shows the newest signed head of the server's chain that it was ever given. Only a head this server signed
and no longer has proves anything: a cursor alone may be somebody's mistake or lie, and voids nothing but itself.
docs/decisions/ says why.
"""

from __future__ import annotations

from sqlalchemy import Connection, Engine

from tallywright.db import writing
from tallywright.log.chains import held_lines, read_heads
from tallywright.log.own_chain import OwnChain, Witness
from tallywright.log.read import WORKS_WIDE
from tallywright.projections.refold import refold
from tallywright.records.decode import sha256
from tallywright.records.signature import is_signed, public_text, run_text


def is_rolled_back(connection: Connection, own: OwnChain, witness: Witness) -> bool:
    """True when the server wrote what the witness names, has it no longer, and nobody noticed that before."""
    head = read_heads(connection, [witness.chain]).get(witness.chain)
    if head is not None and (head.mark_n, head.mark_hash) == (witness.n, witness.hash):
        return False
    line = held_lines(connection, witness.chain, witness.n, witness.n).get(witness.n)
    if line is not None and sha256(line) == witness.hash:
        return False
    text = run_text(witness.chain, witness.n, witness.hash)
    if not is_signed(public_text(own.key), text, witness.signature):
        return False
    return witness.chain not in own.lost(connection)


def begin_epoch(engine: Engine, own: OwnChain, witness: Witness) -> None:
    """Begin a new epoch, unless another worker was faster: twelve tablets notice one roll-back at once."""
    with writing(engine) as connection:
        if is_rolled_back(connection, own, witness):
            own.go_on_anew(connection, witness)
            refold(connection, [WORKS_WIDE])

# SPDX-License-Identifier: Apache-2.0
"""Planted faults: what a slip of the hand could do to the road of a record, and that the simulation sees it.

    python -m tests.simulation.mutants [--smallest] [NAME ...]

Each is planted by itself in a copy of the tree, and worlds are run until one is wrong. A fault that no world sees
within 5,000 pushes is one that the simulation would not see in our own code either. With --smallest the world is
made smaller until nothing can be left out, and its plan is printed too.
"""

from __future__ import annotations

import argparse
import json
import shutil
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests import node
from tests.simulation.driver import simulate

PUSHES = 5_000
FILE = "static/src/journal/file.ts"
JOURNAL = "static/src/journal/journal.ts"
STORE = "static/src/journal/store.ts"
OUTBOX = "static/src/sync/outbox.ts"
LEAVING = "static/src/sync/letting_go.ts"
COPIES = "static/src/folds/copies.ts"
GATHERED_TS = "static/src/folds/gathered.ts"
CORE = "static/src/sync/core.ts"
SEND = "static/src/sync/core_send.ts"
PUSH = "server/tallywright/sync/push.py"
EXAMINE = "server/tallywright/sync/examine.py"
PULL = "server/tallywright/sync/pull.py"
APPEND = "server/tallywright/log/append.py"
READ = "server/tallywright/log/read.py"
CHAINS = "server/tallywright/log/chains.py"
SAFE = "server/tallywright/log/safe.py"
GATHERED = "server/tallywright/folds/gathered.py"
HOLDS_PY, HOLDS_TS = "server/tallywright/folds/holds.py", "static/src/folds/holds.ts"
RELEASE_PY, RELEASE_TS = "server/tallywright/folds/release.py", "static/src/folds/release.ts"
JUDGE = "server/tallywright/sync/judge.py"
DECODE = "server/tallywright/records/decode.py"


@dataclass(frozen=True)
class Mutant:
    """One fault: in a file, one text in the place of another; `twin` is its other half.

    A fault in one of two folds is seen because the other differs; one in both has to be seen by what must hold.
    Where either of two checks finds a fault, both are taken away.
    """

    name: str
    file: str
    was: str
    now: str
    twin: Mutant | None = None


MUTANTS = (
    # Storing
    Mutant(
        "a_short_write_is_trusted",
        FILE,
        'if (file.write(at, bytes) !== bytes.length) return "short_write";',
        "file.write(at, bytes);",
        # The folder tells the size: either of the two alone finds a short write.
        Mutant("the_size_is_not_compared", FILE, "=== at + bytes.length ?", "!== undefined ?"),
    ),
    Mutant("nothing_is_flushed", FILE, "    file.flush();\n  } catch {", "  } catch {"),
    Mutant(
        "the_folder_is_not_asked",
        FILE,
        '(await file.listed()) === at + bytes.length ? undefined : "file_gone"',
        "await file.listed().then(() => undefined)",
    ),
    Mutant(
        "what_waits_in_memory_is_dropped",
        JOURNAL,
        "if (why !== undefined) return { stored: false, why };",
        "if (why !== undefined) this.#waiting = [];\n    if (why !== undefined) return { stored: false, why };",
    ),
    Mutant(
        "the_old_journal_is_emptied_first",
        JOURNAL,
        "      other.truncate(0);\n      other.flush();",
        "      this.file.truncate(0);\n      this.file.flush();\n      other.truncate(0);\n      other.flush();",
    ),
    Mutant(
        "a_broken_head_is_none",
        STORE,
        "find((file) => Journal.open(file).brokenAt !== undefined)",
        "find(() => false)",
    ),
    Mutant(
        "the_head_moves_when_stored_only",
        STORE,
        "    this.#head = headAfter(record);\n    const answer = await this.journal.append(record.line);",
        "    const answer = await this.journal.append(record.line);\n"
        "    if (answer.stored) this.#head = headAfter(record);",
    ),
    # Clearing
    Mutant(
        "records_leave_without_a_copy",
        LEAVING,
        "Math.min(sending.safe, sending.confirmed, endOf(sending) - 1)",
        "Math.min(sending.confirmed, endOf(sending) - 1)",
    ),
    Mutant("a_copy_is_said_to_hold_more", SAFE, "records.c.number > number)", "records.c.number > number + 60)"),
    # Acknowledging
    Mutant(
        "what_was_sent_is_confirmed",
        OUTBOX,
        "confirmed: Math.max(mark.n, sending.base.n),",
        "confirmed: Math.max(reached, sending.base.n),",
    ),
    Mutant(
        "a_mark_needs_no_hash",
        OUTBOX,
        "const isOther = mark.n >= Math.max(1, sending.base.n) && hashAt(sending, mark.n) !== mark.hash;",
        "const isOther = false;",
    ),
    Mutant(
        "a_server_that_knows_more_is_ours",
        OUTBOX,
        'if (end > endOf(sending)) return "behind";',
        "",
        # Of a record that is not ours there is no hash to be the same: the chain would be called forked.
        Mutant(
            "what_is_not_ours_has_no_hash",
            OUTBOX,
            "const isOther = mark.n >= Math.max(1, sending.base.n)",
            "const isOther = mark.n <= endOf(sending) && mark.n >= Math.max(1, sending.base.n)",
        ),
    ),
    Mutant("a_mark_passes_a_gap", CHAINS, "        if number != last + 1:\n            break\n", ""),
    Mutant(
        "what_is_held_is_the_mark",
        PUSH,
        "gapless = held[0].n == head.mark_n + 1 and len(held) == held[-1].n - held[0].n + 1",
        "gapless = True",
    ),
    Mutant(
        "what_was_left_behind_is_confirmed",
        OUTBOX,
        "for (const n of unvouched) answered.delete(n);",
        "for (const n of unvouched) answered.add(n);",
    ),
    Mutant(
        "a_changed_byte_is_taken_for_held",
        EXAMINE,
        'candidate.refused = Unvouched("Nothing',
        'candidate.refused = candidate.refused or Unvouched("Nothing',
    ),
    # Deduplicating, numbering, hashing
    Mutant(
        "the_same_bytes_are_other_bytes",
        PUSH,
        "        if hashes.get(n) == candidate.hash:\n",
        "        if n in hashes and n % 7 == 0:\n            hashes.pop(n)\n"
        "        if hashes.get(n) == candidate.hash:\n",
    ),
    Mutant(
        "numbers_are_left_out",
        APPEND,
        "    number = newest_number(connection)\n    try:",
        "    number = newest_number(connection) + 1\n    try:",
    ),
    Mutant("nothing_is_set_aside", PUSH, "            _set_aside(connection, run, candidate, now)\n", ""),
    Mutant(
        "links_are_not_compared",
        PUSH,
        "elif before is not None and candidate.previous not in (before, None):",
        "elif candidate.n < 0:",
    ),
    Mutant("a_revoked_device_writes_on", PUSH, "if devices[run.chain] in lost:", 'if devices[run.chain] == "":'),
    Mutant("any_bytes_of_a_record_are_taken", DECODE, " or _encode(envelope) != line:", ":"),
    # Ordering, fetching
    Mutant(
        "a_page_leaves_one_out",
        READ,
        'f"after{place}": s.after}',
        'f"after{place}": s.after + 1}',
    ),
    Mutant(
        "only_the_last_page_is_kept",
        COPIES,
        "page.lines.length === 0 ? copies.lines : [...copies.lines, ...page.lines]",
        "page.lines.length === 0 ? copies.lines : page.lines",
    ),
    Mutant(
        "a_cursor_outlives_a_hole",
        "static/src/journal/fetched.ts",
        'if (hasHole) copies = after(copies, { entry: "rolled_back" });',
        "",
    ),
    Mutant(
        "a_cursor_outlives_its_log",
        CORE,
        'if (isAnotherLog) return keep({ ...next, asksMark: true }, { entry: "rolled_back" }, effects);',
        "",
        Mutant("a_cursor_outlives_its_log", PULL, "        _check(connection, cursor)\n", "        pass\n"),
    ),
    Mutant(
        "a_line_that_comes_back_proves_nothing",
        PUSH,
        "for one in witnesses if is_rolled_back",
        "for one in witnesses if False and is_rolled_back",
    ),
    Mutant("a_twin_is_not_heard_of", CORE, "isRestored || isNotAlone || isLess", "isRestored || isLess"),
    Mutant(
        "a_server_that_holds_less_is_not_asked",
        CORE,
        "isNotAlone || isLess",
        "isNotAlone",
        Mutant(
            "a_server_that_holds_less_is_not_asked",
            CORE,
            "judging: RESTING, asksMark: true }",
            "judging: RESTING }",
        ),
    ),
    Mutant(
        "a_new_chain_fetches_nothing_anew",
        CORE,
        "return copies.cursor !== undefined && copies.chain !== sending.chain;",
        "return copies.chain !== sending.chain && false;",
    ),
    Mutant("a_restored_server_is_not_offered_again", SEND, "(lost.has(one.chain) || isElsewhere(one))", "false"),
    Mutant("a_log_put_back_has_lost_nothing", SEND, "lost.has(one.chain) || isElsewhere", "isElsewhere"),
    Mutant(
        "what_no_key_signs_is_held_up_by_the_way",
        SEND,
        "isSendable || !UNTIL_THROUGH.includes(code)",
        "true || !UNTIL_THROUGH.includes(code)",
    ),
    Mutant(
        "what_was_said_of_a_record_stays_said",
        OUTBOX,
        "if (isAnswered || (n <=",
        "if (!isAnswered && (n <=",
    ),
    Mutant(
        "what_cannot_be_kept_is_asked_without_rest",
        SEND,
        "state.isHeard && state.pull.failures > 0 ? Infinity : soon",
        "soon",
    ),
    Mutant(
        "what_the_server_lost_stays_lost",
        COPIES,
        "{ ...next, old: [], lost: lostIn(next) }",
        "{ ...next, old: [] }",
    ),
    # Folding
    Mutant(
        "anybody_takes_back",
        GATHERED,
        "_can_be_taken_back(target) and is_same_author(target, record, proven)",
        "_can_be_taken_back(target)",
    ),
    Mutant("nothing_is_taken_back", GATHERED_TS, "      dead.add(target.id);\n", "      useless.add(target.id);\n"),
    Mutant(
        "one_subject_is_folded",
        PUSH,
        "touched = {record.subject for record in added}",
        "touched = {record.subject for record in added[:1]}",
    ),
    # Deciding, in both languages
    Mutant(
        "an_open_request_lifts",
        HOLDS_PY,
        'if request.state == "granted" and isinstance(body, HoldLiftRequestedV1):',
        "if isinstance(body, HoldLiftRequestedV1):",
        Mutant(
            "an_open_request_lifts",
            HOLDS_TS,
            'if (state !== "granted" || asked?.kind !== "hold_lift_requested") continue;',
            'if (asked?.kind !== "hold_lift_requested") continue;',
        ),
    ),
    Mutant(
        "what_came_late_is_released",
        RELEASE_PY,
        "if not seen.covers(record.id))",
        "if not seen.covers(record.id) and record.envelope.n % 3)",
        Mutant(
            "what_came_late_is_released",
            RELEASE_TS,
            "counts(record) && !seen.covers(record.id)",
            "counts(record) && !seen.covers(record.id) && record.n % 3 > 0",
        ),
    ),
    Mutant(
        "anybody_takes_back_in_both",
        GATHERED,
        "_can_be_taken_back(target) and is_same_author(target, record, proven)",
        "_can_be_taken_back(target)",
        Mutant(
            "anybody_takes_back_in_both",
            GATHERED_TS,
            "canBeTakenBack(target) && isSameAuthor(target, withdrawal, proven)",
            "canBeTakenBack(target)",
        ),
    ),
    Mutant("sealed_pins_stay_in_the_files", JUDGE, "if spent and forget_deleted(engine):", "if spent:"),
)


def plant(mutant: Mutant, tree: Path) -> None:
    """Plant a fault; the text it replaces has to stand there once."""
    path = tree / mutant.file
    text = path.read_text(encoding="utf-8")
    if text.count(mutant.was) != 1:
        raise ValueError(f"{mutant.name}: its text stands {text.count(mutant.was)} times in {mutant.file}")
    path.write_text(text.replace(mutant.was, mutant.now), encoding="utf-8")
    if mutant.twin is not None:
        plant(mutant.twin, tree)


def find(mutant: Mutant, pushes: int = PUSHES, smallest: bool = False) -> dict[str, Any]:
    """Plant a fault in a copy of the tree and run worlds until one is wrong.

    smallest  True to make that world smaller until nothing can be left out
    """
    with tempfile.TemporaryDirectory() as folder:
        tree = Path(folder)
        for part in ("server", "tests", "migrations", "demo_seed"):
            shutil.copytree(node.REPOSITORY / part, tree / part, ignore=shutil.ignore_patterns("__pycache__"))
        shutil.copytree(
            node.STATIC, tree / "static", ignore=shutil.ignore_patterns("node_modules", "dist"), symlinks=True
        )
        (tree / "static" / "node_modules").symlink_to((node.STATIC / "node_modules").resolve())
        plant(mutant, tree)
        return simulate(seed=1, pushes=pushes, seconds=10**9, tree=tree, as_it_is=not smallest)


def main() -> int:
    """Print what was found of each; returns how many were not."""
    words = argparse.ArgumentParser(prog="python -m tests.simulation.mutants")
    words.add_argument("names", nargs="*", help="all where none is named")
    words.add_argument("--smallest", action="store_true", help="make the world smaller, and print its plan")
    wanted = words.parse_args()
    missed = 0
    for mutant in MUTANTS:
        if wanted.names and mutant.name not in wanted.names:
            continue
        told = find(mutant, smallest=wanted.smallest)
        failed = told.get("failed")
        missed += failed is None
        first = "not found" if failed is None else str(failed["wrong"][0])[:160]
        sys.stdout.write(f"| {mutant.name} | {mutant.file} | {told['pushes']} | {first} |\n")
        if wanted.smallest and failed is not None:
            sys.stdout.write(json.dumps(failed["plan"]) + "\n")
        sys.stdout.flush()
    return missed


if __name__ == "__main__":
    sys.exit(main())

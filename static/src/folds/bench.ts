// SPDX-License-Identifier: Apache-2.0
// All folds of the bench over one batch, each on those below it.
//
// The server's folds/bench.py is the same function; tests/vectors/bench holds both to the same answers.
import type { PartDefinition, ReadRecord } from "../records/kinds.js";
import { foldCoverage, type Coverage } from "./coverage.js";
import { foldHolds, type Holds } from "./holds.js";
import { foldLedger, type Ledger } from "./ledger.js";
import { foldLimits, type LimitLine } from "./limits.js";
import { foldLooks, type Look } from "./look.js";
import { NO_GAUGES, type Gauges } from "./gauges.js";
import { NO_RECEIPTS, type Receipts } from "./receipts.js";
import { foldReleases, type Release } from "./release.js";
import { Gathered } from "./gathered.js";
import { foldTally, type Tally } from "./tally.js";
import { foldVerdicts, type PieceVerdict } from "./verdicts.js";

/** What the records of a batch say at the bench. Limits and coverage need the definition the batch keeps. */
export interface BenchState {
  readonly tally: Tally;
  readonly holds: Holds;
  readonly verdicts: readonly PieceVerdict[];
  readonly ledger: Ledger;
  readonly looks: readonly Look[];
  readonly coverage: readonly Coverage[];
  readonly limits: readonly LimitLine[];
  readonly releases: readonly Release[];
}

/**
 * Fold all records of one batch, its `batch_opened` among them.
 *
 * records      in any order; one that comes twice counts once
 * definitions  part definitions by the id of their publication
 * proven       persons by the sign-ons that were proven to be theirs
 * receipts     what the batch is made of
 * gauges       what it was measured with
 */
export function foldBench(
  records: Iterable<ReadRecord>,
  definitions: ReadonlyMap<string, PartDefinition>,
  proven: ReadonlyMap<string, string>,
  receipts: Receipts = NO_RECEIPTS,
  gauges: Gauges = NO_GAUGES,
): BenchState {
  const gathered = new Gathered(records, proven);
  // Of several openings the first by id holds, also of one that was taken back.
  const opened = [...gathered.known.values()].find((record) => record.known?.kind === "batch_opened")?.known;
  const part = opened?.kind === "batch_opened" ? definitions.get(opened.definition) : undefined;
  const tally = foldTally(gathered, definitions);
  const holds = foldHolds(gathered, definitions, receipts, gauges);
  const verdicts = foldVerdicts(gathered, tally, holds);
  const ledger = foldLedger(gathered, tally, holds.requests, verdicts);
  const looks = foldLooks(gathered, part?.looks ?? [], tally, holds, verdicts, ledger);
  return {
    tally,
    holds,
    verdicts,
    ledger,
    looks,
    coverage: part === undefined ? [] : foldCoverage(part, ledger, looks),
    limits: foldLimits(part?.limits ?? [], verdicts, ledger),
    releases: foldReleases(gathered, holds.requests),
  };
}

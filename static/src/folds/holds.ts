// SPDX-License-Identifier: Apache-2.0
// The holds of one batch, and the requests about it: what stands in the way, and what was asked and answered.
//
// The server's folds/holds.py is the same function; tests/vectors/holds holds both to the same answers. Nothing
// but a grant lifts a hold: no observation, no withdrawal, and no request alone.
import { NOT_SURE, type PartDefinition, type ReadRecord } from "../records/kinds.js";
import { characteristicsOf, holds as holdsBatch, keyOf, type Known } from "./check_outcome.js";
import { NO_GAUGES, type Gauges } from "./gauges.js";
import { NO_RECEIPTS, type Receipts } from "./receipts.js";
import { foldRequests, type Request } from "./requests.js";
import { byId, type Gathered } from "./gathered.js";
import { Classes } from "./tally.js";

/**
 * One hold, called by the record that causes it.
 *
 * cause            a critical mark, somebody's word, a late-found piece, a limit the server saw crossed,
 *                  a check out of its limits whose plan holds the batch; early: bars were cut before certificate
 *                  and cast mark agreed; metal: what was learnt of the receipt after its bars were cut; gauge: a
 *                  gauge was found wrong that values of the batch were taken with
 * lifted_by        id of the granted request that names it; '' while it stands
 * cause_withdrawn  the author took the cause back; the hold stands all the same
 */
export interface Hold {
  readonly id: string;
  readonly cause: "critical" | "placed" | "found" | "limit" | "check" | "early" | "metal" | "gauge";
  readonly piece: string;
  readonly look: string;
  readonly lifted_by: string;
  readonly cause_withdrawn: boolean;
}

/** What stands in a batch's way, and what was asked about it; each by id. */
export interface Holds {
  readonly holds: readonly Hold[];
  readonly requests: readonly Request[];
}

/**
 * Fold all records of one batch.
 *
 * definitions  part definitions by the id of their publication; a mark is judged by the one it names
 * receipts     what the batch is made of
 * gauges       what it was measured with
 */
export function foldHolds(
  gathered: Gathered,
  definitions: ReadonlyMap<string, PartDefinition>,
  receipts: Receipts = NO_RECEIPTS,
  gauges: Gauges = NO_GAUGES,
): Holds {
  const { known, dead } = gathered;
  const requests = foldRequests(gathered);
  const lifted = new Map<string, string>();
  for (const { id, state } of requests) {
    const asked = known.get(id)?.known;
    if (state !== "granted" || asked?.kind !== "hold_lift_requested") continue;
    for (const name of asked.body.holds) if (!lifted.has(name)) lifted.set(name, id);
  }
  const classes = new Classes(definitions);
  // Most batches have no check out of its limits, and a plan has more than a hundred lines.
  const judgedBy = new Set(
    [...known.values()].flatMap((record) =>
      record.known?.kind === "check_taken" ? [record.known.definition] : [],
    ),
  );
  const characteristics = new Map(
    [...judgedBy].map((name) => [name, characteristicsOf(definitions.get(name))]),
  );
  const holds: Hold[] = [];
  for (const record of known.values()) {
    const cause = causeOf(record, classes, characteristics);
    if (cause === undefined) continue;
    const { id } = record;
    holds.push({ id, ...cause, lifted_by: lifted.get(id) ?? "", cause_withdrawn: dead.has(id) });
  }
  holds.push(...ofMetal(gathered, receipts, lifted));
  for (const [id, isGone] of gauges.wrongIn(known.values(), dead))
    holds.push(ofBatch(id, "gauge", lifted, isGone));
  return { holds: holds.sort((left, right) => byId(left.id, right.id)), requests };
}

/** The holds of what was cut: by the issue of bars, and by each record that speaks against their receipt. */
function ofMetal(
  { known: records, dead }: Gathered,
  receipts: Receipts,
  lifted: ReadonlyMap<string, string>,
): readonly Hold[] {
  const found: Hold[] = [];
  const learnt = new Map<string, boolean>();
  for (const { id, known } of records.values()) {
    if (known?.kind !== "bars_issued") continue;
    const { receipt, seen } = known.body;
    const isDead = dead.has(id);
    if (!receipts.agreed(receipt, seen)) found.push(ofBatch(id, "early", lifted, isDead));
    for (const one of receipts.against(receipt, seen))
      learnt.set(one.id, (learnt.get(one.id) ?? true) && (one.takenBack || isDead));
  }
  return [...found, ...[...learnt].map(([id, isGone]) => ofBatch(id, "metal", lifted, isGone))];
}

function ofBatch(
  id: string,
  cause: "early" | "metal" | "gauge",
  lifted: ReadonlyMap<string, string>,
  isGone: boolean,
): Hold {
  return { id, cause, piece: "", look: "", lifted_by: lifted.get(id) ?? "", cause_withdrawn: isGone };
}

/**
 * Why a record is a hold, of which piece, in which look; undefined where it is none.
 *
 * A quick repeat holds nothing: the tap before it does.
 */
function causeOf(
  { id, known }: ReadRecord,
  classes: Classes,
  characteristics: ReadonlyMap<string, Known>,
): Pick<Hold, "cause" | "piece" | "look"> | undefined {
  if (known?.kind === "hold_placed")
    return { cause: "placed", piece: known.body.piece ?? "", look: known.body.look ?? "" };
  if (known?.kind === "piece_found") return { cause: "found", piece: "", look: known.body.look ?? "" };
  if (known?.kind === "limit_crossed") return { cause: "limit", piece: "", look: known.body.look };
  if (known?.kind === "check_taken") {
    const characteristic = characteristics.get(known.definition)?.get(keyOf(known.body));
    return holdsBatch(known.body, characteristic) ? { cause: "check", piece: "", look: "" } : undefined;
  }
  if (known?.kind !== "defect_tallied") return undefined;
  const { body } = known;
  if (body.defect === NOT_SURE || body.quick_repeat === true || classes.of(known) !== "critical")
    return undefined;
  return { cause: "critical", piece: body.piece ?? id, look: body.look };
}

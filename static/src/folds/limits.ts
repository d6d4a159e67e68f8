// SPDX-License-Identifier: Apache-2.0
// The limit line of each look and class: how many pieces have a worst mark of the class, beside what is allowed.
//
// The server's folds/limits.py gives the same lines, and the numbers behind the state; tests/vectors/bench holds
// both to it. No interval and no chance is shown on a tablet.
import type { DefectClass, PartDefinition } from "../records/kinds.js";
import { closedTrays, type Ledger, type LookCount } from "./ledger.js";
import { WORST_MARK_FIRST, type PieceVerdict } from "./verdicts.js";

type Limit = NonNullable<PartDefinition["limits"]>[number];

export type State = "uncounted" | "within" | "watch" | "broken" | "over" | "met";

/**
 * One class at one look.
 *
 * defective, with_queries  pieces of closed trays; and the same if every open query turned out to be of the class
 * marked                   the first count with open trays too
 * state                    uncounted while nobody proven counted the batch in
 */
export interface LimitLine {
  readonly look: string;
  readonly class: DefectClass;
  readonly allowed_per_thousand: number;
  readonly defective: number;
  readonly with_queries: number;
  readonly marked: number;
  readonly looked: number;
  readonly due: number;
  readonly trays_closed: number;
  readonly state: State;
  readonly state_with_queries: State;
}

const LARGEST_BATCH = 1_000_000;
const WATCH_TRAYS = 2;
const WATCH_CHANCE = 0.8;

/** Fold the verdicts and the ledger of one batch; in the order of the limits. */
export function foldLimits(
  limits: readonly Limit[],
  verdicts: readonly PieceVerdict[],
  ledger: Ledger,
): readonly LimitLine[] {
  return limits.flatMap((limit) => {
    const page = ledger.looks.find(({ look }) => look === limit.look);
    return page === undefined
      ? []
      : [
          lineOf(
            limit,
            page,
            verdicts.filter(({ look }) => look === limit.look),
          ),
        ];
  });
}

function lineOf(limit: Limit, page: LookCount, verdicts: readonly PieceVerdict[]): LimitLine {
  const closed = closedTrays(page.trays);
  const inClosed = (pieces: readonly PieceVerdict[]): number =>
    pieces.filter(({ tray }) => closed.has(tray)).length;
  const milder = ["", ...WORST_MARK_FIRST.slice(WORST_MARK_FIRST.indexOf(limit.class) + 1)];
  const ofClass = verdicts.filter(({ worst }) => worst === limit.class);
  const mayBe = verdicts.filter(
    ({ worst, open_queries }) => open_queries.length > 0 && milder.includes(worst),
  );
  const defective = inClosed(ofClass);
  const with_queries = defective + inClosed(mayBe);
  const allowed_per_thousand = limit.allowed_per_thousand;
  return {
    look: limit.look,
    class: limit.class,
    allowed_per_thousand,
    defective,
    with_queries,
    marked: ofClass.length,
    looked: page.looked,
    due: page.due,
    trays_closed: closed.size,
    state: stateOf(allowed_per_thousand, page, defective, ofClass.length, closed.size),
    state_with_queries: stateOf(
      allowed_per_thousand,
      page,
      with_queries,
      ofClass.length + mayBe.length,
      closed.size,
    ),
  };
}

/** The state of one figure. Where more was looked at or marked than was due, that is the batch. */
function stateOf(
  perThousand: number,
  page: LookCount,
  defective: number,
  marked: number,
  traysClosed: number,
): State {
  const looked = Math.max(page.looked, defective);
  const due = Math.max(page.due, looked, marked);
  if (page.counted_by === "" || due < 1 || due > LARGEST_BATCH) return "uncounted";
  const allowed = Math.floor((perThousand * due) / 1000);
  if (looked === due) return marked > allowed ? "over" : "met";
  if (marked > allowed) return "broken";
  if (traysClosed < WATCH_TRAYS || perThousand === 0) return "within";
  return chanceOver(defective, looked, due, allowed) >= WATCH_CHANCE ? "watch" : "within";
}

/**
 * The chance that more than `allowed` of the finished batch are defective, as computation/rate_limit.py has it: the
 * pieces not yet looked at are like those looked at (beta-binomial, Jeffreys' prior).
 */
function chanceOver(defective: number, looked: number, due: number, allowed: number): number {
  const needed = allowed + 1 - defective;
  const rest = due - looked;
  if (needed <= 0) return 1;
  const bad = defective + 0.5;
  const good = looked - defective + 0.5;
  // Each weight follows from the one before; only their ratio is asked for, so that no gamma function is.
  let [weight, below, above] = [1, 0, 0];
  for (let more = 0; more <= rest; more += 1) {
    if (more < needed) below += weight;
    else above += weight;
    weight *= ((rest - more) * (more + bad)) / ((more + 1) * (rest - more - 1 + good));
    if (weight > 1e200) {
      weight *= 1e-200;
      below *= 1e-200;
      above *= 1e-200;
    }
  }
  return above / (below + above);
}

// SPDX-License-Identifier: Apache-2.0
// The piece ledger of one batch, as far as the bench knows it: what was counted, every difference with its sign.
//
// The server's folds/ledger.py is the same function; tests/vectors/bench holds both to the same answers. Every term
// but the differences was counted by somebody. Nothing is cut at zero, and nothing is netted against anything else:
// a piece short in one tray and one over in another are two lines.
import { canonical } from "../records/canonical.js";
import type { ReadRecord, RecordOf } from "../records/kinds.js";
import type { Request } from "./requests.js";
import { authorOf, byId, byText, foundAt, type Gathered } from "./gathered.js";
import type { Tally, Tray } from "./tally.js";
import type { PieceVerdict, Verdict } from "./verdicts.js";

/** A tray as one tablet opened it. `looked` counts once it `is_closed` by somebody proven or confirmed. */
export interface Opening {
  readonly tray: string;
  readonly chain: string;
  readonly opened_at: number;
  readonly is_closed: boolean;
  readonly looked: number;
}

/** All that was opened under one tray number, beside what its card says; `due` is 0 where no card names it. */
export interface TrayCount {
  readonly number: number;
  readonly due: number;
  readonly looked: number;
  readonly openings: readonly Opening[];
}

/**
 * One look in numbers of pieces; `looked` and the verdicts are those of closed trays.
 *
 * counted_by  the count that is due, by its id; '' while nobody proven counted the batch in
 * operation   the operation behind which the look stands; 0 where the count does not say it
 * taken       split off from what was counted
 */
export interface LookCount {
  readonly look: string;
  readonly counted_by: string;
  readonly operation: number;
  readonly counted: number;
  readonly taken: number;
  readonly due: number;
  readonly looked: number;
  readonly accepted: number;
  readonly rejected: number;
  readonly rework: number;
  readonly query: number;
  readonly sent: number;
  readonly returned: number;
  readonly trays: readonly TrayCount[];
}

/** A named difference. `accepted_by`: the granted request that names it at just this amount; '' while open. */
export interface Difference {
  readonly look: string;
  readonly kind: string;
  readonly subject: string;
  readonly amount: number;
  readonly accepted_by: string;
}

/** What the batch was opened with, what was split off, its looks by name, and what does not agree. */
export interface Ledger {
  readonly opened: number;
  readonly taken: number;
  readonly left: number;
  readonly looks: readonly LookCount[];
  readonly differences: readonly Difference[];
}

type Line = Omit<Difference, "accepted_by">;
type Reworking = "rework_sent" | "rework_returned";

/** Fold all records of one batch. */
export function foldLedger(
  gathered: Gathered,
  tally: Tally,
  requests: readonly Request[],
  verdicts: readonly PieceVerdict[],
): Ledger {
  const accepted = acceptances(gathered.known, requests);
  const opened = sumOf(gathered.of("batch_opened").map(([, { body }]) => body.pieces));
  const splits = gathered.of("batch_split").filter(([, { body }]) => body.look === undefined);
  const taken = sumOf(splits.map(([, { body }]) => body.pieces));
  const lines: Line[] = [];
  if (opened < taken) lines.push({ look: "", kind: "split_too_much", subject: "", amount: opened - taken });
  for (const [{ id }, { body }] of gathered.of("piece_found"))
    lines.push({ look: body.look ?? "", kind: "pieces_found", subject: id, amount: body.pieces });
  const looks = looksOf(gathered, tally, verdicts).map((look) => {
    const page = new Page(look, gathered, tally, verdicts);
    const count = page.count();
    lines.push(...page.lines);
    return count;
  });
  lines.sort(
    (left, right) =>
      byText(left.look, right.look) || byText(left.kind, right.kind) || byText(left.subject, right.subject),
  );
  const differences = lines.map((line) => ({ ...line, accepted_by: accepted.get(keyOf(line)) ?? "" }));
  return { opened, taken, left: opened - taken, looks, differences };
}

/** The granted acceptances by what they close. */
export function acceptances(
  known: ReadonlyMap<string, ReadRecord>,
  requests: readonly Request[],
): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  for (const { id, state } of requests) {
    const asked = known.get(id)?.known;
    if (state !== "granted" || asked?.kind !== "difference_acceptance_requested") continue;
    const { look, difference, subject, amount } = asked.body;
    const key = keyOf({ look: look ?? "", kind: difference, subject, amount });
    if (!found.has(key)) found.set(key, id);
  }
  return found;
}

/** A difference as one word: what an acceptance names. A subject may hold anything, so it stands last. */
export function keyOf({ look, kind, subject, amount }: Line): string {
  return `${look} ${kind} ${amount} ${subject}`;
}

function looksOf(gathered: Gathered, tally: Tally, verdicts: readonly PieceVerdict[]): string[] {
  const named = new Set([...tally.trays, ...verdicts].map(({ look }) => look));
  for (const kind of ["pieces_counted", "rework_sent", "rework_returned", "foreign_piece_found"] as const)
    for (const [, { body }] of gathered.of(kind)) named.add(body.look);
  return [...named].sort(byText);
}

/** The ledger's page of one look, and its lines. */
class Page {
  readonly lines: Line[] = [];
  readonly #gathered: Gathered;
  readonly #trays: readonly Tray[];
  readonly #verdicts: readonly PieceVerdict[];
  /** Those of proven authors, the newest last. */
  readonly #counts: readonly { id: string; body: RecordOf<"pieces_counted">["body"]; at: number }[];
  readonly #foreign = new Map<string, number>();

  constructor(
    readonly look: string,
    gathered: Gathered,
    tally: Tally,
    verdicts: readonly PieceVerdict[],
  ) {
    this.#gathered = gathered;
    this.#trays = tally.trays.filter((tray) => tray.look === look);
    this.#verdicts = verdicts.filter((verdict) => verdict.look === look);
    this.#counts = gathered
      .of("pieces_counted")
      .filter(([record, { body }]) => body.look === look && gathered.proven.has(authorOf(record) ?? ""))
      .map(([{ id }, counted]) => ({ id, body: counted.body, at: foundAt(counted)[0] }))
      .sort((left, right) => left.at - right.at || byId(left.id, right.id));
  }

  /** Work out the page; the lines are there afterwards. */
  count(): LookCount {
    const { cards, taken } = this.#countedIn();
    const settled = this.#counts.at(-1);
    const counted = settled?.body.pieces ?? 0;
    this.#foreigners();
    const numbers = [...new Set([...cards.keys(), ...this.#trays.map((tray) => tray.number)])];
    const trays = numbers
      .sort((left, right) => left - right)
      .map((number) => this.#tray(number, cards, settled !== undefined));
    const looked = sumOf(trays.map((tray) => tray.looked));
    const [sent, returned] = this.#reworked();
    const closed = closedTrays(trays);
    const of = (...verdicts: readonly Verdict[]): number =>
      this.#verdicts.filter(({ verdict, tray }) => verdicts.includes(verdict) && closed.has(tray)).length;
    const rejected = of("reject", "locked");
    const rework = of("rework");
    const query = of("query");
    const accepted = looked - rejected - rework - query;
    if (accepted < 0) this.#line("more_marked_than_looked_at", "", accepted);
    return {
      look: this.look,
      counted_by: settled?.id ?? "",
      operation: settled?.body.operation ?? 0,
      counted,
      taken,
      due: counted - taken,
      looked,
      accepted,
      rejected,
      rework,
      query,
      sent,
      returned,
      trays,
    };
  }

  #line(kind: string, subject: string, amount: number): void {
    this.lines.push({ look: this.look, kind, subject, amount });
  }

  /** The cards of the newest count without those split off, and the pieces split off. */
  #countedIn(): { cards: Map<number, number>; taken: number } {
    const splits = this.#gathered.of("batch_split").filter(([, { body }]) => body.look === this.look);
    const taken = sumOf(splits.map(([, { body }]) => body.pieces));
    const cards = new Map<number, number>();
    const settled = this.#counts.at(-1)?.body;
    if (settled === undefined) return { cards, taken };
    if (new Set(this.#counts.map(({ body }) => canonical(body))).size > 1) {
      const pieces = this.#counts.map(({ body }) => body.pieces);
      this.#line("counts_differ", "", Math.max(...pieces) - Math.min(...pieces));
    }
    const gone = new Set(splits.flatMap(([, { body }]) => body.trays ?? []));
    for (const { number, pieces } of settled.trays)
      if (!gone.has(number)) cards.set(number, (cards.get(number) ?? 0) + pieces);
    const due = settled.pieces - taken;
    const onCards = sumOf([...cards.values()]);
    if (due < 0) this.#line("split_too_much", "", due);
    if (onCards !== due) this.#line("cards_do_not_add_up", "", onCards - due);
    return { cards, taken };
  }

  /** Pieces of another batch are a line of their own, and no pieces of the tray they lay in. */
  #foreigners(): void {
    for (const [{ id }, { body }] of this.#gathered.of("foreign_piece_found")) {
      if (body.look !== this.look) continue;
      this.#line("foreign_pieces", id, body.pieces);
      if (body.tray !== undefined)
        this.#foreign.set(body.tray, (this.#foreign.get(body.tray) ?? 0) + body.pieces);
    }
  }

  #tray(number: number, cards: ReadonlyMap<number, number>, isCounted: boolean): TrayCount {
    const openings = this.#trays.filter((tray) => tray.number === number).map((tray) => this.#opening(tray));
    const looked = sumOf(openings.map((opening) => opening.looked));
    const closed = openings.filter((opening) => opening.is_closed).length;
    const due = cards.get(number) ?? 0;
    if (isCounted && closed > 0) {
      const named = String(number);
      if (!cards.has(number)) this.#line("tray_not_due", named, looked);
      else if (closed > 1) this.#line("tray_twice", named, looked - due);
      else if (looked !== due) this.#line(looked < due ? "tray_short" : "tray_over", named, looked - due);
    }
    return { number, due, looked, openings };
  }

  #opening({ id, closings, unproven }: Tray): Opening {
    const { known } = this.#gathered;
    const opened = known.get(id);
    const said = closings.flatMap((name) => {
      const closing = known.get(name)?.known;
      return closing?.kind === "tray_closed" && !unproven.includes(name) ? [closing.body] : [];
    });
    const looked = said.map(({ places, empty_counted }) => places - empty_counted);
    const [first] = said;
    if (first !== undefined) {
      const stated = first.accepted + first.rejected + first.rework + first.query;
      const over = stated - first.places + first.empty_counted;
      if (over !== 0) this.#line("closing_does_not_add_up", id, over);
    }
    if (new Set(said.map((body) => canonical(body))).size > 1)
      this.#line("closings_differ", id, Math.max(...looked) - Math.min(...looked));
    return {
      tray: id,
      chain: opened?.chain ?? "",
      opened_at: opened?.known === undefined ? 0 : foundAt(opened.known)[0],
      is_closed: looked.length > 0,
      looked: looked[0] === undefined ? 0 : looked[0] - (this.#foreign.get(id) ?? 0),
    };
  }

  /** Pieces sent and back; more back than sent, or back without a sending, keep their sign. */
  #reworked(): [number, number] {
    const of = (kind: Reworking): number =>
      sumOf(
        this.#gathered.of(kind).flatMap(([, { body }]) => (body.look === this.look ? [body.pieces] : [])),
      );
    const sent = of("rework_sent");
    const returned = of("rework_returned");
    const judged = sumOf(
      this.#verdicts.map(({ round, verdict }) => round - 1 + (verdict === "rework" ? 1 : 0)),
    );
    if (returned > 0 && sent === 0) this.#line("return_without_sending", "", -returned);
    else if (sent !== returned)
      this.#line(sent > returned ? "rework_away" : "rework_over", "", sent - returned);
    if (sent !== judged)
      this.#line(judged > sent ? "rework_not_sent" : "rework_not_judged", "", judged - sent);
    return [sent, returned];
  }
}

/** The ids of the trays that count as looked at. */
export function closedTrays(trays: readonly TrayCount[]): ReadonlySet<string> {
  return new Set(
    trays.flatMap(({ openings }) => openings.filter((one) => one.is_closed).map(({ tray }) => tray)),
  );
}

function sumOf(numbers: readonly number[]): number {
  return numbers.reduce((sum, one) => sum + one, 0);
}

// SPDX-License-Identifier: Apache-2.0
// A receipt of bars: what was counted and stated, what its certificate says, and whether the cast mark agrees.
//
// The server's folds/receipts.py is the same function; tests/vectors/receipts holds both to the same answers. A
// receipt is no batch's: its state is asked as a whole, and as somebody had seen it before the first cut.
import { bareName } from "../records/bare_name.js";
import type { MaterialDefinition, ReadRecord, RecordOf } from "../records/kinds.js";
import { judgePrinted, type Verdict } from "./certificate.js";
import { Seen } from "./seen.js";
import { authorOf, byId, withdrawn } from "./gathered.js";

/** One element: its value as printed, '' where it is missing, against 'lowest..highest' of the limits. */
export interface ElementFinding {
  readonly element: string;
  readonly value: string;
  readonly limit: string;
  readonly verdict: Verdict;
}

/**
 * A certificate as somebody typed it.
 *
 * verdict     ok: every element is, and the cast is the receipt's; out: one is not; unjudged: no limits are known
 * names_cast  it names the cast the receipt was received under
 * proven      whoever typed it is proven
 */
export interface Certificate {
  readonly id: string;
  readonly verdict: "ok" | "out" | "unjudged";
  readonly names_cast: boolean;
  readonly findings: readonly ElementFinding[];
  readonly proven: boolean;
}

/** Bar ends somebody read. */
export interface CastMark {
  readonly id: string;
  readonly bars: number;
  readonly agrees: boolean;
  readonly proven: boolean;
}

/**
 * A receipt of bars. What its author took back is not in it.
 *
 * counted     bars; 0 where the receipt itself is not held here, or was taken back
 * difference  counted less stated; 0 where the note states nothing
 * state       agrees: a certificate is ok, the cast mark agrees, and nothing speaks against it; differs: something
 *             does; waits: neither
 */
export interface Receipt {
  readonly cast: string;
  readonly alloy: string;
  readonly temper: string;
  readonly counted: number;
  readonly difference: number;
  readonly files: readonly string[];
  readonly certificates: readonly Certificate[];
  readonly marks: readonly CastMark[];
  readonly state: "agrees" | "waits" | "differs";
}

type Proven = ReadonlyMap<string, string>;
export type Materials = ReadonlyMap<string, MaterialDefinition>;
type SeenChains = RecordOf<"bars_issued">["body"]["seen"];

/**
 * Fold all records of one receipt, or those somebody had seen of it.
 *
 * materials  limits by the id of their publication; a certificate is held to those it names
 */
export function foldReceipt(records: Iterable<ReadRecord>, materials: Materials, proven: Proven): Receipt {
  const { known, dead } = gather(records, proven);
  const standing = [...known.values()].filter(({ id }) => !dead.has(id));
  const received = standing.flatMap((one) =>
    one.known?.kind === "material_received" ? [one.known.body] : [],
  )[0];
  const isProven = (record: ReadRecord): boolean => proven.has(authorOf(record) ?? "");
  const certificates = standing.flatMap((one) =>
    one.known?.kind === "certificate_judged"
      ? [certificateOf(one.id, one.known, received?.cast, materials, isProven(one))]
      : [],
  );
  const marks = standing.flatMap((one): CastMark[] =>
    one.known?.kind === "cast_mark_read"
      ? [{ id: one.id, bars: one.known.body.bars, agrees: one.known.body.agrees, proven: isProven(one) }]
      : [],
  );
  const counted = received?.bars ?? 0;
  return {
    cast: received?.cast ?? "",
    alloy: received?.alloy ?? "",
    temper: received?.temper ?? "",
    counted,
    difference: counted - (received?.stated ?? counted),
    files: standing.flatMap(({ known: one }) =>
      one?.kind === "certificate_attached" ? [one.body.file] : [],
    ),
    certificates,
    marks,
    state: received === undefined ? "waits" : stateOf(certificates, marks),
  };
}

/** The receipts a batch is made of, as its folds ask for them. */
export class Receipts {
  /**
   * records    of each receipt, by its id
   * materials  limits by the id of their publication
   */
  constructor(
    private readonly records: ReadonlyMap<string, readonly ReadRecord[]>,
    private readonly materials: Materials,
    private readonly proven: Proven,
  ) {}

  /** True where certificate and cast mark agreed in what somebody had seen of a receipt. */
  agreed(receipt: string, seen: SeenChains): boolean {
    const covered = new Seen(seen);
    const before = (this.records.get(receipt) ?? []).filter(({ id }) => covered.covers(id));
    return foldReceipt(before, this.materials, this.proven).state === "agrees";
  }

  /**
   * What speaks against a receipt and was not seen, and whether its author took it back: a certificate that is out,
   * a cast mark that names another cast, and the taking back of either of those that were seen and agreed.
   */
  against(
    receipt: string,
    seen: SeenChains,
  ): readonly { readonly id: string; readonly takenBack: boolean }[] {
    const covered = new Seen(seen);
    const { known, dead, useless } = gather(this.records.get(receipt) ?? [], this.proven);
    // Taken back or not, it was said: only a grant lifts what it holds.
    const said = [...known.values()].filter((one) => one.known?.kind !== "record_withdrawn");
    const whole = foldReceipt(said, this.materials, this.proven);
    const all = [...whole.certificates, ...whole.marks];
    const bad = new Set([
      ...whole.certificates.filter(({ verdict }) => verdict === "out").map(({ id }) => id),
      ...whole.marks.filter(({ agrees }) => !agrees).map(({ id }) => id),
    ]);
    const good = new Set(all.map(({ id }) => id).filter((id) => !bad.has(id)));
    for (const { id, known: one } of known.values()) {
      if (one?.kind !== "record_withdrawn" || useless.has(id)) continue;
      if (good.has(one.body.record) && covered.covers(one.body.record)) bad.add(id);
    }
    return [...known.keys()]
      .filter((id) => bad.has(id) && !covered.covers(id))
      .map((id) => ({ id, takenBack: dead.has(id) }));
  }
}

export const NO_RECEIPTS = new Receipts(new Map(), new Map(), new Map());

/** The receipt a record says something of; undefined for records of anything else. */
export function receiptOf({ id, batch, known }: ReadRecord): string | undefined {
  if (known?.kind === "material_received" || known?.kind === "components_received") return id;
  if (batch !== undefined || known === undefined || !("receipt" in known.body)) return undefined;
  return known.body.receipt;
}

/** How far each chain that says something of a receipt is held here: what whoever issues its bars has seen. */
export function seenOf(receipt: string, records: readonly ReadRecord[]): SeenChains {
  const furthest = new Map<string, number>();
  for (const record of records) {
    if (receiptOf(record) !== receipt) continue;
    const [chain = "", n] = record.id.split(":");
    furthest.set(chain, Math.max(Number(n), furthest.get(chain) ?? 0));
  }
  return [...furthest].map(([chain, n]) => ({ chain, n }));
}

function gather(records: Iterable<ReadRecord>, proven: Proven) {
  const inOrder = [...records].sort((left, right) => byId(left.id, right.id));
  const known = new Map(inOrder.map((record) => [record.id, record]));
  return { known, ...withdrawn(known, proven) };
}

function certificateOf(
  id: string,
  { body, definition }: RecordOf<"certificate_judged">,
  cast: string | undefined,
  materials: Materials,
  proven: boolean,
): Certificate {
  const material = materials.get(definition ?? "");
  const namesCast = cast === undefined || sameCast(body.cast, cast);
  const findings = material === undefined ? [] : judge(material, body.values);
  const isOut = !namesCast || findings.some(({ verdict }) => verdict !== "ok");
  const verdict = isOut ? "out" : material === undefined ? "unjudged" : "ok";
  return { id, verdict, names_cast: namesCast, findings, proven };
}

/** What speaks against it counts whoever said it; what speaks for it only from somebody who is proven. */
function stateOf(certificates: readonly Certificate[], marks: readonly CastMark[]): Receipt["state"] {
  if (certificates.some(({ verdict }) => verdict === "out") || marks.some(({ agrees }) => !agrees))
    return "differs";
  const isOk = certificates.some(({ verdict, proven }) => verdict === "ok" && proven);
  return isOk && marks.some(({ proven }) => proven) ? "agrees" : "waits";
}

/** Hold what a certificate prints to the limits, element by element; '<' that decides nothing is undecided. */
export function judge(
  { limits, rounding = "half_even" }: MaterialDefinition,
  values: readonly { readonly element: string; readonly value: string }[],
): readonly ElementFinding[] {
  const printed = new Map(values.map(({ element, value }) => [element, value]));
  return limits.map(({ element, low, high }) => {
    const value = printed.get(element) ?? "";
    const limit = `${low ?? ""}..${high ?? ""}`;
    return { element, value, limit, verdict: judgePrinted(value, low, high, rounding) };
  });
}

/** True for two ways to write one cast's name: blanks, points and dashes aside, small letters as large ones. */
export function sameCast(one: string, other: string): boolean {
  return bareName(one) === bareName(other);
}

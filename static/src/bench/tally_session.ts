// SPDX-License-Identifier: Apache-2.0
// One open tray under the hand: presses become records in the order they were made, and nothing is called stored
// before the store has said so.
import { signal } from "@preact/signals";
import type { Mark } from "../folds/tally.js";
import { NOT_SURE, type Draft, type PartDefinition, type ReadRecord } from "../records/kinds.js";
import { Keeping, type Find, type Judged, type Keeper, type LastAct } from "./keeping.js";
import { isQuickRepeat, nextUndo, standingEntries, type Press } from "./presses.js";
import type { Offer } from "./verdict_offer.js";
import { zoneDecides } from "./word_class.js";

/** What the session works on. */
export interface Bench {
  readonly batch: string;
  readonly definitionId: string;
  readonly definition: PartDefinition;
  readonly look: string;
  readonly tray: string;
}

/** What a closing states. */
export interface ClosingNumbers {
  readonly places: number;
  readonly empty_counted: number;
  readonly accepted: number;
  readonly rejected: number;
  readonly rework: number;
  readonly query: number;
}

/** A find that waits for its place on the piece; `echoes` counts second taps that came meanwhile. */
export interface Asking {
  readonly find: Find;
  readonly echoes: number;
}

const UNDO_KEY = " undo";
const VERDICT_KEY = " verdict";

export class TallySession {
  readonly asking = signal<Asking | undefined>(undefined);
  readonly samePiece = signal(false);
  /** The letter that following finds are recorded with; undefined while nobody says one. */
  readonly cavity = signal<string | undefined>(undefined);
  /** True while the letters stand to be chosen from. */
  readonly choosingCavity = signal(false);
  /** Second taps that somebody has said to be one find or two. */
  readonly answered = signal<ReadonlySet<string>>(new Set());
  private readonly keeping: Keeping;
  private before: Press | undefined;
  private latest: Find | undefined;
  private readonly leaving = new Set<string>();

  constructor(
    private readonly tablet: Keeper,
    readonly bench: Bench,
  ) {
    this.keeping = new Keeping(tablet);
  }

  get last(): Keeping["last"] {
    return this.keeping.last;
  }

  /** Entries that are not in the store, oldest first; while there are any, no key takes a find. */
  get unstored(): Keeping["unstored"] {
    return this.keeping.unstored;
  }

  press(defect: string, at: number): void {
    if (this.unstored.value.length > 0) return;
    const press = { key: defect, at };
    const echo = isQuickRepeat(this.before, press);
    this.before = press;
    this.choosingCavity.value = false;
    if (echo) {
      this.echo();
      return;
    }
    this.settle();
    const piece = this.samePiece.value ? this.lastPiece() : undefined;
    this.samePiece.value = false;
    const cavity = this.cavity.value;
    const find = {
      defect,
      ...(piece === undefined ? {} : { piece }),
      ...(cavity === undefined ? {} : { cavity }),
    };
    this.latest = find;
    if (this.asksWhere(defect)) this.asking.value = { find, echoes: 0 };
    else this.take(find);
  }

  /** Where on the piece the waiting find is. */
  answer(zone: string): void {
    const asked = this.asking.value;
    if (asked === undefined) return;
    this.latest = { ...asked.find, zone };
    this.finish(asked, this.latest);
  }

  /** Take a waiting find as it is: without a zone it counts as the worst class its word has. */
  settle(): void {
    const asked = this.asking.value;
    if (asked !== undefined) this.finish(asked, asked.find);
  }

  /** Say the verdict on a piece whose marks are all minor and one's own. */
  judge({ piece, settles }: Offer, verdict: Judged, at: number): void {
    if (this.unstored.value.length > 0) return;
    const press = { key: VERDICT_KEY, at };
    const bounce = isQuickRepeat(this.before, press);
    this.before = press;
    if (bounce) return;
    const { look } = this.bench;
    const body = { look, piece, verdict, settles: [...settles] };
    this.keeping.keep({
      act: "judge",
      piece,
      verdict,
      draft: this.judgedHere({ kind: "piece_judged", v: 1, body }),
    });
  }

  /** Take back the newest own entry of this tray; a find that still waits for its zone is only dropped. */
  undo(at: number): void {
    if (this.unstored.value.length > 0) return;
    const press = { key: UNDO_KEY, at };
    // A finger that bounces on this key must not take back a second entry that nobody meant.
    const bounce = isQuickRepeat(this.before, press);
    this.before = press;
    if (bounce) return;
    this.samePiece.value = false;
    if (this.asking.value !== undefined) {
      this.asking.value = undefined;
      return;
    }
    const target = this.undoable();
    if (target?.known?.kind === "defect_tallied") this.withdraw(target.id, target.known.body);
    if (target?.known?.kind === "piece_judged") this.withdrawJudgement(target.id, target.known.body);
  }

  /** The find or judgement that the undo key takes back next. */
  undoable(): ReadRecord | undefined {
    const signOn = this.tablet.signOn.value;
    if (signOn === undefined) return undefined;
    return nextUndo(this.tablet.records.value, this.bench.tray, signOn.id, this.leaving);
  }

  /** The piece a further defect would be added to: the one of the last own find that stands. */
  lastPiece(): string | undefined {
    const find = this.newestFind();
    if (find?.known?.kind !== "defect_tallied" || find.known.body.quick_repeat === true) return undefined;
    return find.known.body.piece ?? find.id;
  }

  /** The last act of this session; behind a restart, the newest own find that stands. */
  lastAct(): LastAct | undefined {
    if (this.last.value !== undefined) return this.last.value;
    const find = this.newestFind();
    if (find?.known?.kind !== "defect_tallied") return undefined;
    const { kind, v, body } = find.known;
    const act = body.quick_repeat === true ? "repeat" : "find";
    return { entry: { act, find: body, draft: { kind, v, body } }, fate: "stored", record: find.id };
  }

  /** The piece of the last act, in hand until the next one: nobody has it in hand once its find was taken back. */
  pieceInHand(): string | undefined {
    const last = this.lastAct();
    if (last === undefined || last.fate === "storing" || this.asking.value !== undefined) return undefined;
    if (last.entry.act === "undo") return undefined;
    if ("verdict" in last.entry) return last.entry.piece;
    if (last.entry.act === "find") return last.entry.find.piece ?? last.record;
    // A second tap opens no piece until somebody says that it was two: the piece of the first is in hand.
    const find = this.standing().find(({ known }) => isCountedFind(known));
    return find?.known?.kind === "defect_tallied" ? (find.known.body.piece ?? find.id) : undefined;
  }

  /** Say what a second tap was. Two: it is recorded once more, as a find that counts. */
  sayHowMany(repeat: Mark, count: 1 | 2): void {
    this.answered.value = new Set([...this.answered.value, repeat.id]);
    if (count === 2) {
      // An echo on a piece that had a find already stays on that piece.
      const onPiece = repeat.piece === repeat.id ? {} : { piece: repeat.piece };
      const inZone = repeat.zone === "" ? {} : { zone: repeat.zone };
      const ofCavity = repeat.cavity === "" ? {} : { cavity: repeat.cavity };
      this.take({ defect: repeat.defect, ...inZone, ...onPiece, ...ofCavity });
    }
    // The echo itself is taken back where its author answers, so that nobody is asked again after a restart.
    if (repeat.sign_on === this.tablet.signOn.value?.id) {
      this.withdraw(repeat.id, { defect: repeat.defect }, count === 2 ? "two" : "one");
    }
  }

  /** Record that every place of the tray was looked at; true once it is stored. */
  close(numbers: ClosingNumbers): Promise<boolean> {
    const { look, tray } = this.bench;
    const body = { look, tray, ...numbers, all_looked_at: true as const };
    this.keeping.keep({ act: "close", draft: this.judgedHere({ kind: "tray_closed", v: 1, body }) });
    return this.isStored();
  }

  /** Record that the tray is left to somebody else, looked at up to and with a place; true once it is stored. */
  leave(place: number): Promise<boolean> {
    const { batch, look, tray } = this.bench;
    const body = { look, tray, place };
    this.keeping.keep({ act: "leave", draft: { kind: "handover_given", v: 1, batch, body } });
    return this.isStored();
  }

  /** Record that the eyes were rested. */
  rested(): void {
    if (this.unstored.value.length > 0) return;
    const { batch, look } = this.bench;
    this.keeping.keep({ act: "rest", draft: { kind: "break_taken", v: 1, batch, body: { look } } });
  }

  tryAgain(): void {
    this.keeping.tryAgain();
  }

  /** Resolves when everything pressed so far is stored or has stopped the keys. */
  settled(): Promise<void> {
    this.settle();
    return this.keeping.settled();
  }

  private async isStored(): Promise<boolean> {
    await this.keeping.settled();
    return this.unstored.value.length === 0;
  }

  private asksWhere(defect: string): boolean {
    const word = this.bench.definition.defects.find((entry) => entry.defect === defect);
    return defect !== NOT_SURE && word !== undefined && zoneDecides(word, this.bench.definition);
  }

  private newestFind(): ReadRecord | undefined {
    return this.standing().find(({ kind }) => kind === "defect_tallied");
  }

  private standing(): readonly ReadRecord[] {
    const { records, signOn } = this.tablet;
    if (signOn.value === undefined) return [];
    return standingEntries(records.value, this.bench.tray, signOn.value.id, this.leaving);
  }

  private echo(): void {
    const asked = this.asking.value;
    if (asked !== undefined) this.asking.value = { ...asked, echoes: asked.echoes + 1 };
    else if (this.latest !== undefined) this.take(this.latest, true);
  }

  private finish(asked: Asking, find: Find): void {
    this.asking.value = undefined;
    this.take(find);
    for (let echo = 0; echo < asked.echoes; echo += 1) this.take(find, true);
  }

  private take(find: Find, repeat = false): void {
    const { look, tray } = this.bench;
    const { defect, zone, piece, cavity } = find;
    const body = {
      look,
      tray,
      defect,
      ...(zone === undefined ? {} : { zone }),
      ...(piece === undefined ? {} : { piece }),
      ...(cavity === undefined ? {} : { cavity }),
      ...(repeat ? { quick_repeat: true as const } : {}),
    };
    this.keeping.keep({
      act: repeat ? "repeat" : "find",
      find,
      draft: this.judgedHere({ kind: "defect_tallied", v: 1, body }),
    });
  }

  private withdraw(record: string, find: Find, why?: string): void {
    this.keeping.keep({ act: "undo", find, draft: this.withdrawal(record, why) });
  }

  private withdrawJudgement(record: string, judged: { piece: string; verdict: string }): void {
    const { piece } = judged;
    const verdict = judged.verdict === "rework" ? "rework" : "accept";
    this.keeping.keep({ act: "unjudge", piece, verdict, draft: this.withdrawal(record) });
  }

  private withdrawal(record: string, why?: string): Draft {
    this.leaving.add(record);
    const { look } = this.bench;
    const body = why === undefined ? { look, record } : { look, record, why };
    return this.judgedHere({ kind: "record_withdrawn", v: 1, body });
  }

  /** A draft about this batch, under the definition its finds are judged by. */
  private judgedHere(draft: Draft): Draft {
    const { batch, definitionId } = this.bench;
    return { ...draft, batch, definition: definitionId };
  }
}

function isCountedFind(known: ReadRecord["known"]): boolean {
  return known?.kind === "defect_tallied" && known.body.quick_repeat !== true;
}

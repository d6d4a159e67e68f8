// SPDX-License-Identifier: Apache-2.0
// A small invented bench for the fold's tests: two tablets that write real records of one batch.
import { compose, headAfter, type Head } from "../../../static/src/records/compose.js";
import type { Draft, PartDefinition, ReadRecord, RecordOf } from "../../../static/src/records/kinds.js";

const SERVER = "s".repeat(26);
export const BATCH = `${SERVER}:20`;
export const PART = `${SERVER}:10`;
export const START = 1_790_000_000_000;
export const IDS = { anna: `${SERVER}:5`, ben: `${SERVER}:6`, lea: `${SERVER}:7`, leo: `${SERVER}:8` };

export const DEFINITION: PartDefinition = {
  subject: "part",
  part: "SK70",
  revision: "C",
  name: { en: "Spring hook" },
  tray_places: 6,
  looks: ["first", "second"],
  zones: [
    { zone: "nose", words: { en: "nose" } },
    { zone: "spine", words: { en: "spine" } },
  ],
  defects: [
    {
      defect: "lap",
      key: { en: "lap" },
      words: { en: "lap" },
      by_zone: [
        { zone: "nose", class: "critical" },
        { zone: "spine", class: "minor" },
      ],
    },
    {
      defect: "stain",
      key: { en: "stain" },
      words: { en: "stain" },
      class: "minor",
    },
    { defect: "unset", key: { en: "unset" }, words: { en: "unset" } },
  ],
};

/** A tablet of the bench: it gives each draft the next number of its chain, and a second of time. */
export class Bench {
  readonly records: ReadRecord[] = [];
  #head: Head;
  #signOn: string | undefined;
  #stepped = 0;

  constructor(
    letter: string,
    readonly skew: number | "unknown" = 0,
  ) {
    this.#head = { chain: letter.repeat(26), n: 0, hash: undefined };
    this.add({ kind: "chain_opened", v: 1, body: { why: "first" } });
  }

  add(draft: Draft): string {
    const record = compose(
      draft,
      this.#head,
      { device: `${SERVER}:3`, site: `${SERVER}:1` },
      {
        made_at: START + this.#head.n * 1000 + this.#stepped,
        offset_min: 60,
        time_zone: "Europe/Berlin",
        skew_ms: this.skew === "unknown" ? undefined : this.skew - this.#stepped,
        sign_on: this.#signOn,
      },
    );
    this.#head = headAfter(record);
    this.records.push(record);
    return record.id;
  }

  signOn(person: string): string {
    this.#signOn = this.add({ kind: "signed_on", v: 1, body: { person } });
    return this.#signOn;
  }

  /** Write under a sign-on of another tablet, as no honest one does. */
  borrow(signOn: string): void {
    this.#signOn = signOn;
  }

  /** The device's clock is put on; the page's steady one goes on, so the skew takes the step back. */
  stepClock(by: number): void {
    this.#stepped += by;
  }

  openTray(number: number): string {
    return this.add({
      ...this.#subject,
      kind: "tray_opened",
      v: 1,
      body: { look: "first", number, places: 6 },
    });
  }

  find(
    tray: string,
    defect: string,
    more: { zone?: string; piece?: string; quick_repeat?: true } = {},
  ): string {
    return this.add({
      ...this.#subject,
      kind: "defect_tallied",
      v: 1,
      body: { look: "first", tray, defect, ...more },
    });
  }

  closeTray(tray: string, empty: number, rejected: number): string {
    const body = {
      look: "first",
      tray,
      places: 6,
      empty_counted: empty,
      accepted: 6 - empty - rejected,
      rejected,
      rework: 0,
      query: 0,
      all_looked_at: true,
    } as const;
    return this.add({ ...this.#subject, kind: "tray_closed", v: 1, body });
  }

  takeBack(record: string): string {
    return this.add({
      batch: BATCH,
      kind: "record_withdrawn",
      v: 1,
      body: { record, look: "first" },
    });
  }

  confirm(of_sign_on: string, tray: string): string {
    const body = { look: "first", tray, of_sign_on };
    return this.add({ batch: BATCH, kind: "authorship_confirmed", v: 1, body });
  }

  askForLift(...holds: string[]): string {
    const body = { holds, seen: [], why: "looked at" };
    return this.add({ batch: BATCH, kind: "hold_lift_requested", v: 1, body });
  }

  second(request: string): string {
    return this.add({ batch: BATCH, kind: "request_seconded", v: 1, body: { request } });
  }

  /** The server's answers; only its own chain may hold them. */
  grant(request: string): string {
    return this.add({ batch: BATCH, kind: "request_granted", v: 1, body: { request } });
  }

  decline(request: string, ...reasons: RecordOf<"request_declined">["body"]["reasons"]): string {
    return this.add({ batch: BATCH, kind: "request_declined", v: 1, body: { request, reasons } });
  }

  /** What the fold of the batch is given: the records that name it. */
  ofBatch(): ReadRecord[] {
    return this.records.filter((record) => record.batch === BATCH);
  }

  readonly #subject = { batch: BATCH, definition: PART };
}

// SPDX-License-Identifier: Apache-2.0
// The form of the envelope and of every known body. described.ts has the types; these are the checks that
// the types cannot make at run time, value for value those of the server's envelope.py and kinds.py.
import {
  EVENTS,
  fileDefinition,
  gaugeDefinition,
  materialDefinition,
  partDefinition,
  shiftDefinition,
} from "./definition_forms.js";
import {
  anything,
  boolean,
  byMember,
  integer,
  list,
  object,
  oneOf,
  pattern,
  text,
  type Shape,
} from "./shape.js";
import {
  amount,
  chainName,
  count,
  day,
  decimal,
  defectClass,
  hash,
  label,
  milliseconds,
  number,
  printed,
  recordId,
  word,
} from "./values.js";

const envelopeNeeds = {
  chain: chainName,
  n: number,
  device: recordId,
  made_at: milliseconds,
  offset_min: integer(-1080, 1080),
  time_zone: label,
  kind: word,
  v: integer(1, 1000),
  body: anything,
};

export const envelope = object({
  needed: envelopeNeeds,
  optional: {
    previous: hash,
    skew_ms: milliseconds,
    sign_on: recordId,
    site: recordId,
    batch: recordId,
    definition: recordId,
  },
});

const operationChange = oneOf(...EVENTS, "last_piece");
const checkRole = oneOf("first_off", "in_process", "last_off");

/** A kind at one version: the form of its body, and the envelope members it cannot do without. */
interface Form {
  readonly body: Shape;
  readonly needs: readonly ("batch" | "definition" | "sign_on" | "site")[];
}

const BENCH = ["batch", "definition", "sign_on", "site"] as const;
const role = oneOf("inspector", "operator", "lead", "administrator", "reader");

const OF_A_BATCH = ["batch", "sign_on", "site"] as const;
const OF_THE_WORKS = ["sign_on", "site"] as const;
const deputy = object({ needed: { first_day: day, last_day: day } });
/** Why the server declines a request; the catalogues have a sentence for each. */
const reason = oneOf(
  "role",
  "sign_on_not_in_force",
  "pin_wrong",
  "pin_not_fresh",
  "changed",
  "no_such_hold",
  "lifted_already",
  "no_such_mark",
  "on_hold",
  "no_such_person",
  "no_last_day",
  "last_administrator",
  "no_such_device",
  "revoked_already",
  "not_waiting",
  "no_such_line",
  "admitted_already",
  "not_admissible",
  "no_such_difference",
  "accepted_already",
  "not_complete",
  "not_understood",
  "released_already",
);
const seen = list(object({ needed: { chain: chainName, n: number } }));
const LARGEST_FILE = 20 * 1024 * 1024;
const fileType = oneOf("image/jpeg", "image/png", "image/webp", "application/pdf", "text/csv");
const reworked = object({ needed: { look: word, pieces: number }, optional: { tags: list(recordId) } });
const weighing = object({
  needed: {
    counted: number,
    grams: decimal,
    spread_percent: decimal,
    trays: list(object({ needed: { grams: decimal, pieces: count } }), 1, 100),
  },
});

const FORMS: Readonly<Record<string, Form>> = {
  "works_opened 1": { body: object({ needed: { name: label, time_zone: label, demo: boolean } }), needs: [] },
  "chain_opened 1": {
    body: object({
      needed: { why: oneOf("first", "wiped", "behind", "forked", "key_lost") },
      optional: { before: hash },
    }),
    needs: [],
  },
  "device_enrolled 1": {
    body: object({
      needed: {
        name: label,
        letters: pattern(/^[A-Z]{2,4}$/),
        public_key: pattern(/^[A-Za-z0-9+/]{80,400}={0,2}$/),
      },
    }),
    needs: [],
  },
  "device_revoked 1": {
    body: object({ needed: { device: recordId }, optional: { why: label } }),
    needs: [],
  },
  "person_changed 1": {
    body: object({
      needed: { name: label, roles: list(role) },
      optional: { person: recordId, last_day: day, deputy, request: recordId },
    }),
    needs: [],
  },
  "definition_published 1": {
    body: object({
      needed: {
        content: byMember("subject", {
          part: partDefinition,
          shifts: shiftDefinition,
          material: materialDefinition,
          gauge: gaugeDefinition,
          file: fileDefinition,
        }),
      },
    }),
    needs: [],
  },
  "signed_on 1": {
    body: object({
      needed: { person: recordId },
      optional: { sealing_key: pattern(/^[0-9a-f]{16}$/), sealed: hash },
    }),
    needs: [],
  },
  "sign_on_judged 1": { body: object({ needed: { sign_on: recordId, proven: boolean } }), needs: [] },
  "batch_opened 1": {
    body: object({ needed: { number: label, pieces: count } }),
    needs: ["definition", "sign_on", "site"],
  },
  "batch_split 1": {
    body: object({
      needed: { number: label, pieces: number },
      optional: { trays: list(number), look: word },
    }),
    needs: OF_A_BATCH,
  },
  "pieces_counted 1": {
    body: object({
      needed: { look: word, pieces: count, trays: list(object({ needed: { number, pieces: count } })) },
      optional: { operation: number },
    }),
    needs: BENCH,
  },
  "tray_opened 1": { body: object({ needed: { look: word, number, places: number } }), needs: BENCH },
  "defect_tallied 1": {
    body: object({
      needed: { look: word, tray: recordId, defect: word },
      optional: { piece: recordId, zone: word, cavity: label, quick_repeat: oneOf(true), round: number },
    }),
    needs: BENCH,
  },
  "tray_closed 1": {
    body: object({
      needed: {
        look: word,
        tray: recordId,
        places: number,
        empty_counted: count,
        accepted: count,
        rejected: count,
        rework: count,
        query: count,
        all_looked_at: oneOf(true),
      },
    }),
    needs: BENCH,
  },
  "piece_judged 1": {
    body: object({
      needed: { look: word, piece: recordId, verdict: oneOf("accept", "rework", "query", "reject") },
      optional: { settles: list(recordId), round: number },
    }),
    needs: BENCH,
  },
  "rework_sent 1": { body: reworked, needs: OF_A_BATCH },
  "rework_returned 1": { body: reworked, needs: OF_A_BATCH },
  "piece_found 1": {
    body: object({ needed: { where: label, pieces: number }, optional: { operation: number, look: word } }),
    needs: OF_A_BATCH,
  },
  "foreign_piece_found 1": {
    body: object({ needed: { look: word, pieces: number }, optional: { tray: recordId } }),
    needs: OF_A_BATCH,
  },
  "handover_given 1": {
    body: object({ needed: { look: word, tray: recordId, place: count } }),
    needs: OF_A_BATCH,
  },
  "handover_taken 1": {
    body: object({
      needed: { look: word, tray: recordId },
      optional: { given: recordId, from_first: oneOf(true) },
    }),
    needs: OF_A_BATCH,
  },
  "break_taken 1": { body: object({ needed: { look: word } }), needs: OF_A_BATCH },
  "look_signed 1": { body: object({ needed: { look: word, seen } }), needs: OF_A_BATCH },
  "operation_started 1": {
    body: object({
      needed: { operation: number },
      optional: { machine: label, tool: label, cavities: list(label), cast: label, look: word },
    }),
    needs: OF_A_BATCH,
  },
  "operation_finished 1": {
    body: object({
      needed: {
        started: recordId,
        operation: number,
        in: count,
        out: count,
        scrap: count,
        set_up: count,
        samples: count,
      },
      optional: { inside: count, look: word },
    }),
    needs: OF_A_BATCH,
  },
  "operation_recounted 1": {
    body: object({
      needed: {
        started: recordId,
        operation: number,
        of: oneOf("in", "out", "scrap", "made"),
        pieces: count,
        how: oneOf("hand", "counter", "weighed"),
      },
      optional: { weighing, settles: list(recordId), look: word },
    }),
    needs: OF_A_BATCH,
  },
  "scrap_destroyed 1": {
    body: object({
      needed: { operation: number, handed_in: number, destroyed: count, kept: count },
      optional: { kept_for: oneOf("limit_sample", "seeded_piece", "analysis", "returned_to_supplier") },
    }),
    needs: OF_A_BATCH,
  },
  "load_opened 1": { body: object({ needed: { operation: number, number: label } }), needs: OF_THE_WORKS },
  "load_filled 1": {
    body: object({ needed: { load: recordId, operation: number, pieces: number } }),
    needs: OF_A_BATCH,
  },
  "lot_opened 1": {
    body: object({ needed: { operation: number, number: label }, optional: { firm: label } }),
    needs: OF_THE_WORKS,
  },
  "lot_sent 1": {
    body: object({ needed: { lot: recordId, operation: number, pieces: number } }),
    needs: OF_A_BATCH,
  },
  "lot_returned 1": {
    body: object({
      needed: { lot: recordId, operation: number, counted: count, foreign: count },
      optional: { stated: count },
    }),
    needs: OF_A_BATCH,
  },
  "sample_taken 1": {
    body: object({
      needed: {
        operation: number,
        pieces: number,
        test: label,
        fate: oneOf("used_up", "destroyed", "given_back"),
      },
      optional: { load: recordId },
    }),
    needs: OF_A_BATCH,
  },
  "components_counted 1": {
    body: object({
      needed: { operation: number, component: word, lot: label, issued: count, left: count, scrapped: count },
    }),
    needs: OF_A_BATCH,
  },
  "record_withdrawn 1": {
    body: object({
      needed: { record: recordId },
      optional: { receipt: recordId, gauge: label, look: word, why: label },
    }),
    needs: ["sign_on", "site"],
  },
  "photo_attached 1": {
    body: object({
      needed: { file: hash, type: fileType, size: integer(1, LARGEST_FILE) },
      optional: { look: word, tray: recordId, piece: recordId },
    }),
    needs: OF_A_BATCH,
  },
  "hold_placed 1": {
    body: object({ needed: { why: label }, optional: { look: word, tray: recordId, piece: recordId } }),
    needs: OF_A_BATCH,
  },
  "hold_lift_requested 1": {
    body: object({ needed: { holds: list(recordId, 1), seen, why: label } }),
    needs: OF_A_BATCH,
  },
  "disposition_requested 1": {
    body: object({
      needed: { piece: recordId, look: word, verdict: oneOf("accept", "rework", "reject"), seen },
      optional: { why: label },
    }),
    needs: OF_A_BATCH,
  },
  "difference_acceptance_requested 1": {
    body: object({
      needed: { subject: text(0, 200), difference: word, amount, seen, why: label },
      optional: { look: word },
    }),
    needs: OF_A_BATCH,
  },
  "release_requested 1": { body: object({ needed: { seen }, optional: { why: label } }), needs: OF_A_BATCH },
  "person_requested 1": {
    body: object({
      needed: { name: label, roles: list(role) },
      optional: { person: recordId, newest: recordId, last_day: day, deputy },
    }),
    needs: OF_THE_WORKS,
  },
  "enrolment_requested 1": { body: object({ needed: { name: label, key: hash } }), needs: OF_THE_WORKS },
  "revocation_requested 1": {
    body: object({ needed: { device: recordId, why: label } }),
    needs: OF_THE_WORKS,
  },
  "admission_requested 1": {
    body: object({ needed: { of_chain: chainName, lines: list(hash, 1, 200), why: label } }),
    needs: OF_THE_WORKS,
  },
  "request_seconded 1": { body: object({ needed: { request: recordId } }), needs: OF_THE_WORKS },
  "request_granted 1": { body: object({ needed: { request: recordId } }), needs: ["site"] },
  "request_declined 1": {
    body: object({ needed: { request: recordId, reasons: list(reason, 1) } }),
    needs: ["site"],
  },
  "limit_crossed 1": {
    body: object({ needed: { look: word, class: defectClass } }),
    needs: ["batch", "site"],
  },
  "authorship_confirmed 1": {
    body: object({ needed: { look: word, tray: recordId, of_sign_on: recordId } }),
    needs: OF_A_BATCH,
  },
  "set_aside_admitted 1": {
    body: object({
      needed: {
        line: text(2, 12_000),
        names: list(object({ needed: { was: recordId, now: recordId } })),
      },
      optional: { look: word },
    }),
    needs: ["site"],
  },
  "backup_verified 1": { body: object({ needed: { number } }), needs: ["site"] },
  "restored 1": {
    body: object({
      needed: { noticed_by: oneOf("cursor", "head", "command") },
      optional: { lost: recordId },
    }),
    needs: ["site"],
  },
  "check_taken 1": {
    body: object({
      needed: { operation: number, characteristic: number, role: checkRole },
      optional: {
        value: decimal,
        result: oneOf("go", "not_go", "yes", "no"),
        pieces: number,
        made: count,
        entered: oneOf("typed", "steps", "gauge"),
        gauge: label,
        cavity: label,
        repeats: recordId,
        typing_error: oneOf(true),
      },
    }),
    needs: BENCH,
  },
  "check_missed 1": {
    body: object({
      needed: { operation: number, characteristic: number, role: checkRole, why: label },
      optional: { made: count },
    }),
    needs: OF_A_BATCH,
  },
  "reaction_taken 1": {
    body: object({ needed: { operation: number, check: recordId, done: label, pieces_back: count } }),
    needs: OF_A_BATCH,
  },
  "pieces_made 1": {
    body: object({
      needed: { operation: number, pieces: count, counted: oneOf("key", "counter", "tray", "weighed") },
    }),
    needs: OF_A_BATCH,
  },
  "operation_changed 1": {
    body: object({
      needed: { operation: number, what: operationChange },
      optional: { was: label, now: label, not_separated: oneOf(true) },
    }),
    needs: OF_A_BATCH,
  },
  "gauge_checked 1": {
    body: object({
      needed: { gauge: label, result: oneOf("fit", "wrong", "doubtful") },
      optional: { against: label, certificate: label, next_due: day, note: label },
    }),
    needs: OF_THE_WORKS,
  },
  "material_received 1": {
    body: object({
      needed: {
        alloy: label,
        temper: label,
        cast: label,
        section: oneOf("round", "square", "hexagon", "flat", "tube"),
        sizes: list(decimal, 1, 2),
        bars: count,
        certificate: oneOf("none", "2.1", "2.2", "3.1", "3.2"),
      },
      optional: {
        stated: count,
        length: decimal,
        bay: label,
        colour: label,
        supplier: label,
        order: label,
        note: label,
      },
    }),
    needs: OF_THE_WORKS,
  },
  "components_received 1": {
    body: object({
      needed: { component: word, lot: label, counted: count },
      optional: { stated: count, supplier: label, order: label, note: label },
    }),
    needs: OF_THE_WORKS,
  },
  "certificate_attached 1": {
    body: object({
      needed: {
        receipt: recordId,
        file: hash,
        type: oneOf("image/jpeg", "image/png", "image/webp", "application/pdf"),
        size: integer(1, LARGEST_FILE),
      },
    }),
    needs: OF_THE_WORKS,
  },
  "certificate_judged 1": {
    body: object({
      needed: {
        receipt: recordId,
        cast: label,
        values: list(object({ needed: { element: label, value: printed } }), 0, 60),
      },
      optional: { number: label },
    }),
    needs: OF_THE_WORKS,
  },
  "cast_mark_read 1": {
    body: object({ needed: { receipt: recordId, bars: number, agrees: boolean }, optional: { read: label } }),
    needs: OF_THE_WORKS,
  },
  "bars_issued 1": {
    body: object({
      needed: { receipt: recordId, bars: number, seen },
      optional: { pieces_per_bar: number, length: decimal, piece: decimal, kept_apart: boolean },
    }),
    needs: OF_A_BATCH,
  },
  "remnant_returned 1": {
    body: object({ needed: { receipt: recordId, bars: number, length: decimal, marked: boolean } }),
    needs: OF_A_BATCH,
  },
  "bar_ends_collected 1": {
    body: object({
      needed: { alloy: label, container: label },
      optional: { pieces: number, mass_g: number },
    }),
    needs: OF_THE_WORKS,
  },
};

/** The form of a kind at a version, or undefined where this version of the app does not understand it. */
export function formOf(kind: string, v: number): Form | undefined {
  const name = `${kind} ${v}`;
  return Object.hasOwn(FORMS, name) ? FORMS[name] : undefined;
}

/** Every kind and version that is understood, as "kind v". */
export const KNOWN_KINDS: readonly string[] = Object.keys(FORMS);

// SPDX-License-Identifier: Apache-2.0
// Why the server declined a request: its code becomes a sentence that says what to do.
import type { RecordOf } from "../records/kinds.js";
import { say, type Key } from "./say.js";

export type Reason = RecordOf<"request_declined">["body"]["reasons"][number];

const SENTENCES: Readonly<Record<Reason, Key>> = {
  role: "reason.role",
  sign_on_not_in_force: "reason.sign_on_not_in_force",
  pin_wrong: "reason.pin_wrong",
  pin_not_fresh: "reason.pin_not_fresh",
  changed: "reason.changed",
  no_such_hold: "reason.no_such_hold",
  lifted_already: "reason.lifted_already",
  no_such_mark: "reason.no_such_mark",
  on_hold: "reason.on_hold",
  no_such_person: "reason.no_such_person",
  no_last_day: "reason.no_last_day",
  last_administrator: "reason.last_administrator",
  no_such_device: "reason.no_such_device",
  revoked_already: "reason.revoked_already",
  not_waiting: "reason.not_waiting",
  no_such_line: "reason.no_such_line",
  admitted_already: "reason.admitted_already",
  not_admissible: "reason.not_admissible",
  no_such_difference: "reason.no_such_difference",
  accepted_already: "reason.accepted_already",
  not_complete: "reason.not_complete",
  not_understood: "reason.not_understood",
  released_already: "reason.released_already",
};

export function sayReasons(reasons: readonly string[]): string {
  return reasons.map((reason) => (reason in SENTENCES ? say(SENTENCES[reason as Reason]) : reason)).join(" ");
}

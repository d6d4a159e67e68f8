// SPDX-License-Identifier: Apache-2.0
// What else is told at a machine: pieces made, something that changed, a check that was missed.
import { keyOf } from "../folds/check_outcome.js";
import type { RecordOf } from "../records/kinds.js";
import { CountEntry } from "../widgets/count_entry.js";
import { inWords, say, type Key } from "../words/say.js";
import type { Asked } from "./check_desk.js";
import { ROLE_WORDS } from "./check_entry.js";

export type Change = RecordOf<"operation_changed">["body"]["what"];

/** What changes at a machine from day to day; what belongs to loads and lots is told there. */
const CHANGES = {
  die: "change.die",
  tool: "change.tool",
  cavity: "change.cavity",
  bar: "change.bar",
  cast: "change.cast",
  lot: "change.lot",
  tray: "change.tray",
  shift: "change.shift",
  stop: "change.stop",
  reheat: "change.reheat",
  break: "change.break",
  last_piece: "change.last_piece",
} as const satisfies Partial<Readonly<Record<Change, Key>>>;

const REASONS = {
  no_gauge: "missed.no_gauge",
  no_time: "missed.no_time",
  not_possible: "missed.not_possible",
  forgotten: "missed.forgotten",
} as const satisfies Readonly<Record<string, Key>>;
export type Reason = keyof typeof REASONS;

export function PiecesMade({ onPieces }: { readonly onPieces: (pieces: number) => void }) {
  return (
    <CountEntry
      title={say("made.title")}
      what={say("made.what")}
      digits={5}
      act={say("check.store")}
      check={(pieces) => (pieces === 0 ? say("made.no_number") : undefined)}
      onCounted={onPieces}
    />
  );
}

export function Changed({ onChange }: { readonly onChange: (what: Change) => void }) {
  return (
    <section>
      <h1>{say("change.title")}</h1>
      <div class="tell-keys">
        {(Object.keys(CHANGES) as (keyof typeof CHANGES)[]).map((what) => (
          <button key={what} type="button" class="key" onClick={() => onChange(what)}>
            {say(CHANGES[what])}
          </button>
        ))}
      </div>
    </section>
  );
}

export function MissedCheck({
  name,
  onReason,
}: {
  readonly name: string;
  readonly onReason: (why: Reason) => void;
}) {
  return (
    <section>
      <h1>{say("missed.title", { name })}</h1>
      <p>{say("missed.what")}</p>
      <div class="tell-keys">
        {(Object.keys(REASONS) as Reason[]).map((why) => (
          <button key={why} type="button" class="key" onClick={() => onReason(why)}>
            {say(REASONS[why])}
          </button>
        ))}
      </div>
    </section>
  );
}

/** What a check that is due is called by. */
export function nameOf(due: Asked["due"]): string {
  return `${keyOf(due)} ${due.role}`;
}

interface DueListProps {
  readonly due: readonly Asked[];
  readonly onChosen: (name: string) => void;
}

export function DueList({ due: all, onChosen }: DueListProps) {
  return (
    <section>
      <h1>{say("check.which")}</h1>
      <div class="tell-keys">
        {all.map(({ due, characteristic }) => (
          <button key={nameOf(due)} type="button" class="key" onClick={() => onChosen(nameOf(due))}>
            {inWords(characteristic.words)} <small>{say(ROLE_WORDS[due.role])}</small>
          </button>
        ))}
      </div>
    </section>
  );
}

// SPDX-License-Identifier: Apache-2.0
// What else is told at a machine: pieces made, something that changed, a check that was missed.
import { keyOf } from "../folds/check_outcome.js";
import type { Draft } from "../records/kinds.js";
import { REASONS, ROLE_WORDS, type Reason } from "../words/checks.js";
import { inWords, say } from "../words/say.js";
import type { Asked } from "./check_desk.js";
import { CountField } from "./count_field.js";
import "./counts.css";

/** A record about the operation, without batch and definition, which whoever stores it knows. */
export type Told = Pick<Draft, "kind" | "body">;

/** The number of pieces told last on this page, which one key takes back. */
export interface MadeTold {
  readonly id: string;
  readonly pieces: number;
}

export function madeAfter(
  before: MadeTold | undefined,
  id: string,
  { kind, body }: Told,
): MadeTold | undefined {
  if (kind === "pieces_made" && "pieces" in body) return { id, pieces: body.pieces };
  return kind === "record_withdrawn" ? undefined : before;
}

export interface PiecesMadeProps {
  /** What was told last here and can be taken back. */
  readonly last: { readonly id: string; readonly pieces: number } | undefined;
  readonly onTakeBack: (record: string) => void;
  readonly onPieces: (pieces: number) => void;
}

export function PiecesMade({ last, onTakeBack, onPieces }: PiecesMadeProps) {
  return (
    <CountField
      title={say("made.title")}
      what={say("made.what")}
      act={say("check.store")}
      check={(pieces) => (pieces === 0 ? say("made.no_number") : undefined)}
      onCounted={onPieces}
    >
      {last !== undefined && (
        <button type="button" class="key" onClick={() => onTakeBack(last.id)}>
          {say("made.take_back", { count: last.pieces })}
        </button>
      )}
    </CountField>
  );
}

export interface StillMakingProps {
  readonly operation: number;
  readonly onTell: (...told: Told[]) => void;
  readonly onUnknown: () => void;
}

/** Half an hour went by without a number: the tool asks. Nobody has to know it; then it is not known, and not 0. */
export function StillMaking({ operation, onTell, onUnknown }: StillMakingProps) {
  const made = (pieces: number): Told => ({
    kind: "pieces_made",
    body: { operation, pieces, counted: "key" },
  });
  return (
    <CountField
      title={say("made.asked")}
      what={say("made.asked_what")}
      act={say("check.store")}
      onCounted={(pieces) => onTell(made(pieces))}
    >
      <button
        type="button"
        class="key"
        onClick={() => onTell(made(0), { kind: "operation_changed", body: { operation, what: "stop" } })}
      >
        {say("made.stood_still")}
      </button>
      <button type="button" class="key" onClick={onUnknown}>
        {say("check.not_known")}
      </button>
    </CountField>
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

// SPDX-License-Identifier: Apache-2.0
// Which tray lies here: the next one with one tap, an open one of this tablet, or the number on the card.
import { useState } from "preact/hooks";
import type { Tray } from "../folds/tally.js";
import type { Key } from "../words/say.js";
import { Keypad } from "../widgets/keypad.js";
import { number } from "../words/measures.js";
import { lookName } from "../words/looks.js";
import { say } from "../words/say.js";
import { chainOf, isOpen, isProven, type AwaitingAuthor, type LookState } from "./look_state.js";
import "./trays.css";

export interface TrayChoiceProps {
  readonly batchNumber: string;
  readonly look: string;
  readonly pieces: number;
  readonly places: number;
  readonly state: LookState;
  readonly chain: string;
  readonly isWhole: boolean;
  readonly justClosed: number | undefined;
  readonly notStored: boolean;
  readonly waiting: readonly AwaitingAuthor[];
  /** Whoever is signed on gave a PIN that is right, or not judged yet. */
  readonly mayConfirm: boolean;
  readonly onBegin: (number: number) => void;
  readonly onGoOn: (tray: string) => void;
  readonly onConfirm: (tray: AwaitingAuthor) => void;
  readonly onPerson: () => void;
}

export function TrayChoice(props: TrayChoiceProps) {
  const { state, pieces, places } = props;
  const dueTrays = Math.ceil(pieces / places);
  // Every place was looked at by somebody; what waits for its author says so in a number of its own.
  const closedPieces = state.lookedAt + state.waiting;
  const isDone = closedPieces === pieces && !state.trays.some(isOpen);
  return (
    <main class="choice tray-choice">
      <h1>{say("tray.title")}</h1>
      <p class="on-bench">
        {props.batchNumber} <small>{lookName(props.look)}</small>
      </p>
      {props.justClosed !== undefined && (
        <p class="done" role="status">
          {say("end.closed", { number: props.justClosed })}
        </p>
      )}
      {props.notStored && (
        <p class="problem" role="alert">
          {say("tally.not_stored")}. {say("tally.not_stored_do")}
        </p>
      )}
      <LookNumbers pieces={pieces} state={state} />
      {isDone && <p class="done">{say("tray.all_closed")}</p>}
      {closedPieces > pieces && <p class="problem">{say("tray.too_many_known")}</p>}
      <div class="begin">
        {state.own.map((tray) => (
          <button key={tray.id} type="button" class="key main" onClick={() => props.onGoOn(tray.id)}>
            {say("tray.go_on", { number: tray.number })}
          </button>
        ))}
        <button
          type="button"
          class={`key ${state.own.length > 0 || isDone ? "" : "main"}`}
          onClick={() => props.onBegin(state.nextNumber)}
        >
          {say("tray.begin", { number: state.nextNumber })}
          <small>
            {state.nextNumber <= dueTrays && `${say("tally.of_trays", { count: dueTrays })}, `}
            {say("tray.places", { count: places })}
          </small>
        </button>
        <OtherNumber taken={state.trays.map((tray) => tray.number)} onBegin={props.onBegin} />
      </div>
      {!props.isWhole && <p class="as-of">{say("tray.not_whole")}</p>}
      <Unconfirmed {...props} />
      <TrayList trays={state.trays} chain={props.chain} />
    </main>
  );
}

/** Trays closed under a wrong PIN, or none: each is confirmed by itself, with its number and count in sight. */
function Unconfirmed({ waiting, mayConfirm, onConfirm, onPerson }: TrayChoiceProps) {
  if (waiting.length === 0) return null;
  return (
    <section class="unconfirmed">
      <h2>{say("author.title")}</h2>
      <p>{say("author.what")}</p>
      {!mayConfirm && (
        <button type="button" class="key main" onClick={onPerson}>
          {say("author.sign_on")}
        </button>
      )}
      <ul class="tray-list">
        {waiting.map((one) => (
          <li key={one.tray.id}>
            <strong>{say("tally.tray", { number: one.tray.number })}</strong>
            <span>{say("author.looked_at", { count: one.lookedAt })}</span>
            <button type="button" class="key" disabled={!mayConfirm} onClick={() => onConfirm(one)}>
              {say("author.confirm", { number: one.tray.number })}
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

function LookNumbers({ pieces, state }: { readonly pieces: number; readonly state: LookState }) {
  const { lookedAt, waiting } = state;
  const facts: readonly (readonly [Key, number])[] = [
    ["tray.looked_at", lookedAt],
    ...(waiting === 0 ? [] : [["tray.waiting", waiting] as const]),
    ["tray.left", Math.max(0, pieces - lookedAt - waiting)],
    ["tray.due", pieces],
  ];
  return (
    <figure class="look-numbers">
      <dl>
        {facts.map(([key, value]) => (
          <div key={key}>
            <dd>{number(value)}</dd>
            <dt>{say(key)}</dt>
          </div>
        ))}
      </dl>
      <figcaption>{say("tray.pieces_caption")}</figcaption>
    </figure>
  );
}

interface OtherNumberProps {
  readonly taken: readonly number[];
  readonly onBegin: (number: number) => void;
}

function OtherNumber({ taken, onBegin }: OtherNumberProps) {
  const [isOpenHere, setOpen] = useState(false);
  const [typed, setTyped] = useState("");
  const [problem, setProblem] = useState<string>();
  if (!isOpenHere) {
    return (
      <button type="button" class="key" onClick={() => setOpen(true)}>
        {say("tray.other")}
      </button>
    );
  }
  const begin = (): void => {
    const chosen = Number(typed);
    if (chosen < 1) setProblem(say("tray.number_missing"));
    else if (taken.includes(chosen)) setProblem(say("tray.number_taken", { number: chosen }));
    else onBegin(chosen);
  };
  return (
    <section class="other-number">
      <h2>{say("tray.other_title")}</h2>
      <Keypad
        value={typed}
        onChange={setTyped}
        digits={4}
        label={say("tray.other_title")}
        problem={problem}
        onEnter={begin}
      />
      <button type="button" class="key main" onClick={begin}>
        {say("tray.begin_other")}
      </button>
    </section>
  );
}

function TrayList({ trays, chain }: { readonly trays: readonly Tray[]; readonly chain: string }) {
  if (trays.length === 0) return <p class="empty">{say("tray.none")}</p>;
  return (
    <section>
      <h2>{say("tray.closed_list")}</h2>
      <ul class="tray-list">
        {trays.map((tray) => (
          <li key={tray.id} class={isOpen(tray) ? "is-open" : ""}>
            <strong>{say("tally.tray", { number: tray.number })}</strong>
            <span>
              {say("tray.places", { count: tray.places })}, {say(stateOf(tray, chain))}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}

function stateOf(tray: Tray, chain: string): Key {
  if (tray.closings_differ) return "tray.state_differ";
  if (!isOpen(tray)) {
    return isProven(tray) ? "tray.state_closed" : "tray.state_unproven";
  }
  return chainOf(tray.id) === chain ? "tray.state_open" : "tray.state_open_elsewhere";
}

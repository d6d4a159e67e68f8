// SPDX-License-Identifier: Apache-2.0
import { say } from "../words/say.js";
import type { AwaitingAuthor } from "./look_state.js";

export interface UnconfirmedProps {
  readonly waiting: readonly AwaitingAuthor[];
  /** Whoever is signed on gave a PIN that is right, or not judged yet. */
  readonly mayConfirm: boolean;
  readonly onConfirm: (tray: AwaitingAuthor) => void;
  readonly onPerson: () => void;
}

/** Trays closed under a wrong PIN, or none: each is confirmed by itself, with its number and count in sight. */
export function Unconfirmed({ waiting, mayConfirm, onConfirm, onPerson }: UnconfirmedProps) {
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

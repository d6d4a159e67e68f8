// SPDX-License-Identifier: Apache-2.0
import type { Receipt } from "../folds/receipts.js";
import { stateWord } from "../words/goods.js";
import { say } from "../words/say.js";

/** How certificate and cast mark stand: in words, and by a shape that is whole, open or struck through. */
export function StateWord({ state }: { readonly state: Receipt["state"] }) {
  return (
    <span class={`state-word is-${state}`}>
      <svg viewBox="0 0 20 20" aria-hidden="true">
        <rect x="3" y="3" width="14" height="14" />
        {state === "agrees" && <path d="M6 10L9 13.5L14.5 6.5" />}
        {state === "differs" && <path d="M6 6L14 14M14 6L6 14" />}
      </svg>
      {say(stateWord(state) ?? "goods.waits")}
    </span>
  );
}

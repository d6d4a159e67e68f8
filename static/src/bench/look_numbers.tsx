// SPDX-License-Identifier: Apache-2.0
// A look in numbers of pieces. How many are due is known once somebody has counted them in.
import { number } from "../words/measures.js";
import { say, type Key } from "../words/say.js";
import type { LookState } from "./look_state.js";

export function LookNumbers({ due, lookedAt, waiting }: LookState) {
  const facts: readonly (readonly [Key, number])[] = [
    ["tray.looked_at", lookedAt],
    ...(waiting === 0 ? [] : [["tray.waiting", waiting] as const]),
    ...(due === undefined
      ? []
      : [["tray.left", Math.max(0, due - lookedAt - waiting)] as const, ["tray.due", due] as const]),
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

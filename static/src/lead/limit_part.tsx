// SPDX-License-Identifier: Apache-2.0
// The limit lines of a look: a count of finds against what is allowed, how it may end, and what it does not say.
import type { State } from "../folds/limits.js";
import { number, percent } from "../words/measures.js";
import { say, type Key } from "../words/say.js";
import type { LimitNumbers } from "./batch_answer.js";
import { className } from "./hold_words.js";
import { LimitMark } from "./standing_mark.js";

const STATES = {
  uncounted: "limit.uncounted",
  within: "limit.within",
  watch: "limit.watch",
  broken: "limit.broken",
  over: "limit.over",
  met: "limit.met",
} as const satisfies Readonly<Record<State, Key>>;

export function LimitPart({ limits }: { readonly limits: readonly LimitNumbers[] }) {
  if (limits.length === 0) return null;
  return (
    <>
      <h3>{say("limit.title")}</h3>
      <ul class="limit-list">
        {limits.map((line) => (
          <li key={line.class} class={`is-${line.state}`}>
            <p class="limit-state">
              <LimitMark state={line.state} />
              <strong>
                {say("limit.line", { class: className(line.class), state: say(STATES[line.state]) })}
              </strong>
            </p>
            {numbersOf(line).map((sentence) => (
              <p key={sentence}>{sentence}</p>
            ))}
          </li>
        ))}
      </ul>
      <p class="caution">{say("limit.caution")}</p>
    </>
  );
}

/** What stands behind the state, sentence by sentence, as far as the server could work it out. */
export function numbersOf(line: LimitNumbers): readonly string[] {
  const { allowed, marked, defective, with_queries, chance_over, rate, lower, upper } = line;
  const sentences: string[] = [];
  if (allowed === undefined) {
    sentences.push(say("limit.found", { count: marked, thousand: line.allowed_per_thousand }));
  } else {
    const values = { count: marked, allowed, thousand: line.allowed_per_thousand };
    const left = allowed - marked;
    if (left < 0) sentences.push(say("limit.above", { ...values, above: -left }));
    else if (line.state === "met") sentences.push(say("limit.ended", values));
    else sentences.push(say("limit.still", { ...values, left }));
  }
  if (with_queries > defective)
    sentences.push(
      say("limit.queries", { count: number(with_queries), state: say(STATES[line.state_with_queries]) }),
    );
  if (rate !== undefined && lower !== undefined && upper !== undefined)
    sentences.push(say("limit.rate", { rate: percent(rate), lower: percent(lower), upper: percent(upper) }));
  const isOpen = line.state === "within" || line.state === "watch";
  if (chance_over !== undefined && isOpen)
    sentences.push(say("limit.chance", { chance: percent(chance_over) }));
  return sentences;
}

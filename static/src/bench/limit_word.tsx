// SPDX-License-Identifier: Apache-2.0
// How the look stands to its limits, as one word and one shape. How many are still allowed is not said here: a
// number left over invites calls that stop just under it.
import type { LimitLine, State } from "../folds/limits.js";
import { say, type Key } from "../words/say.js";

export type LimitState = Exclude<State, "uncounted">;

const MILD_FIRST: readonly LimitState[] = ["met", "within", "watch", "broken", "over"];

const WORDS: Readonly<Record<LimitState, Key>> = {
  met: "limit_word.met",
  within: "limit_word.within",
  watch: "limit_word.watch",
  broken: "limit_word.broken",
  over: "limit_word.over",
};

/** A column that grows towards the line of the limit, and through it; a look that is finished stands in a frame. */
const SHAPES: Readonly<Record<LimitState, string>> = {
  within: "M2 9H26M14 25V19",
  watch: "M2 9H26M14 25V13",
  broken: "M2 13L9 9M19 9L26 13M14 25V2",
  met: "M2 9H26M2 9V26H26V9M14 25V19",
  over: "M2 13L9 9M19 9L26 13M2 13V26H26V13M14 25V2",
};

/** The worst word of a look's classes; undefined while nobody counted it in. */
export function limitOf(limits: readonly LimitLine[], look: string): LimitState | undefined {
  const states = limits.filter((line) => line.look === look).map(({ state }) => state);
  return MILD_FIRST.filter((state) => states.includes(state)).at(-1);
}

export function LimitWord({ state }: { readonly state: LimitState | undefined }) {
  if (state === undefined) return null;
  return (
    <p class={`fact limit is-${state}`} role="status">
      <strong>
        <svg class="class-mark" viewBox="0 0 28 28" aria-hidden="true">
          <path d={SHAPES[state]} fill="none" />
        </svg>{" "}
        <span class="limit-word">{say(WORDS[state])}</span>
      </strong>
      <small>{say("limit_word.name")}</small>
    </p>
  );
}

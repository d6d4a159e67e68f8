// SPDX-License-Identifier: Apache-2.0
// Why this tablet began anew. The journal says it, so the note outlives a reload; it goes by itself after a shift.
import type { ReadRecord, RecordOf } from "../records/kinds.js";
import { moment } from "../words/measures.js";
import { say, type Key } from "../words/say.js";

type WhyNew = Exclude<RecordOf<"chain_opened">["body"]["why"], "first">;

const WORDS: Readonly<Record<WhyNew, Key>> = {
  wiped: "anew.wiped",
  behind: "anew.behind",
  forked: "anew.forked",
  key_lost: "anew.key_lost",
};
const SHOWN_MS = 12 * 60 * 60 * 1000;

export interface NewChainProps {
  readonly records: readonly ReadRecord[];
  /** The chain this tablet records in. */
  readonly chain: string;
  readonly now: number;
}

export function NewChain({ records, chain, now }: NewChainProps) {
  const why = whyNew(records, chain, now);
  if (why === undefined) return null;
  return (
    <p class="began-anew" role="status">
      {say(WORDS[why.why], { when: moment(why.at) })}
    </p>
  );
}

/** Why the chain in use is not this tablet's first, and since when; undefined for a first one, and for an old story. */
export function whyNew(
  records: readonly ReadRecord[],
  chain: string,
  now: number,
): { readonly why: WhyNew; readonly at: number } | undefined {
  const opened = records.find((record) => record.chain === chain && record.n === 1);
  if (opened?.known?.kind !== "chain_opened" || now - opened.made_at > SHOWN_MS) return undefined;
  const { why } = opened.known.body;
  return why === "first" ? undefined : { why, at: opened.made_at };
}

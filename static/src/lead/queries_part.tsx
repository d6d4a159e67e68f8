// SPDX-License-Identifier: Apache-2.0
// Pieces nobody was sure of, and the three verdicts a lead may ask for: one tap each.
import type { Asking } from "../widgets/asked.js";
import { moment } from "../words/measures.js";
import { say } from "../words/say.js";
import { placeOf } from "./hold_words.js";
import type { HeldBatch, QueryLine } from "./holds_list.js";
import { Pictures } from "./pictures.js";

const VERDICTS = { accept: "holds.accept", rework: "holds.rework", reject: "holds.reject" } as const;
type Verdict = keyof typeof VERDICTS;

export interface QueriesPartProps {
  /** Of one batch. */
  readonly queries: readonly QueryLine[];
  readonly seen: HeldBatch["seen"];
  readonly mayAsk: boolean;
  readonly asking: Asking;
}

export function QueriesPart({ queries, seen, mayAsk, asking }: QueriesPartProps) {
  const settle = ({ batch, piece, look }: QueryLine, verdict: Verdict): void => {
    const body = { piece, look, verdict, seen: [...seen] };
    void asking.ask({ v: 1, batch, kind: "disposition_requested", body });
  };
  return (
    <ul class="hold-list">
      {queries.map((query) => (
        <li key={`${query.look} ${query.piece}`}>
          <strong>{placeOf(query)}</strong>
          <span>{say("holds.query", { when: moment(query.at) })}</span>
          <Pictures of={query} />
          {mayAsk && (
            <span class="verdict-keys">
              {(Object.keys(VERDICTS) as Verdict[]).map((verdict) => (
                <button key={verdict} type="button" class="key" onClick={() => settle(query, verdict)}>
                  {say(VERDICTS[verdict])}
                </button>
              ))}
            </span>
          )}
        </li>
      ))}
    </ul>
  );
}

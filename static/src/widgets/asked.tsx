// SPDX-License-Identifier: Apache-2.0
// A request of this tablet and the server's answer: what was asked for takes effect only when it is granted.
import { useState } from "preact/hooks";
import { answerTo } from "../folds/requests.js";
import type { Draft } from "../records/kinds.js";
import type { Tablet } from "../sync/contract.js";
import { sayReasons } from "../words/reasons.js";
import { say } from "../words/say.js";

export interface Asked {
  readonly request: string | undefined;
  readonly isNotStored: boolean;
}

/** Ask for something; what came of it is shown by `AnswerOf`. */
export function useRequest(tablet: Tablet): [Asked, (draft: Draft) => Promise<void>] {
  const [asked, setAsked] = useState<Asked>({ request: undefined, isNotStored: false });
  const ask = async (draft: Draft): Promise<void> => {
    const answer = await tablet.add(draft);
    setAsked({ request: answer.stored ? answer.record.id : undefined, isNotStored: !answer.stored });
    tablet.syncNow();
  };
  return [asked, ask];
}

export function AnswerOf({ tablet, asked }: { readonly tablet: Tablet; readonly asked: Asked }) {
  if (asked.isNotStored) {
    return (
      <p class="problem" role="alert">
        {say("tally.not_stored")}. {say("tally.not_stored_do")}
      </p>
    );
  }
  if (asked.request === undefined) return null;
  const { state, reasons } = answerTo(tablet.records.value, asked.request);
  if (state === "granted") return <p class="done">{say("asked.granted")}</p>;
  if (state === "open") return <p role="status">{say("asked.open")}</p>;
  return (
    <p class="problem" role="alert">
      {say("asked.declined")} {sayReasons(reasons)}
    </p>
  );
}

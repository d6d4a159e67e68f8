// SPDX-License-Identifier: Apache-2.0
// A request of this tablet and the server's answer: what was asked for takes effect only when it is granted.
import { useState } from "preact/hooks";
import { answerTo } from "../folds/requests.js";
import type { Draft } from "../records/kinds.js";
import type { Stored, Tablet } from "../sync/contract.js";
import { NotStoredLine } from "./not_stored_line.js";
import { sayReasons } from "../words/reasons.js";
import { say } from "../words/say.js";

export interface Asked {
  readonly request: string | undefined;
  readonly isNotStored: boolean;
}

export interface Asking {
  readonly asked: Asked;
  /** Ask for something; what came of it is shown by `AnswerOf`. */
  readonly ask: (draft: Draft) => Promise<void>;
  /** The same with a PIN given for it alone. `about` is the request whose answer is waited for, if not this one. */
  readonly askWithPin: (person: string, pin: string, draft: Draft, about?: string) => Promise<void>;
}

export function useRequest(tablet: Tablet): Asking {
  const [asked, setAsked] = useState<Asked>({ request: undefined, isNotStored: false });
  const recorded = (answer: Stored, about?: string): void => {
    const request = answer.stored ? (about ?? answer.record.id) : undefined;
    setAsked({ request, isNotStored: !answer.stored });
    tablet.syncNow();
  };
  return {
    asked,
    ask: async (draft) => recorded(await tablet.add(draft)),
    askWithPin: async (person, pin, draft, about) =>
      recorded(await tablet.signOnAs(person, pin, draft), about),
  };
}

export function AnswerOf({ tablet, asked }: { readonly tablet: Tablet; readonly asked: Asked }) {
  if (asked.isNotStored) {
    return <NotStoredLine />;
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

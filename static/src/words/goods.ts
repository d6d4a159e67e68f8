// SPDX-License-Identifier: Apache-2.0
// How a receipt and its certificate stand, for goods-in and for the lead alike. What a newer server may say and this
// version does not know has no words here.
import type { Certificate, Receipt } from "../folds/receipts.js";
import type { Key } from "./say.js";

const STATES = {
  agrees: "goods.agrees",
  waits: "goods.waits",
  differs: "goods.differs",
} as const satisfies Readonly<Record<Receipt["state"], Key>>;

const VERDICTS = {
  ok: "goods.certificate_ok",
  out: "goods.certificate_out",
  unjudged: "goods.certificate_unjudged",
} as const satisfies Readonly<Record<Certificate["verdict"], Key>>;

type StateWord = (typeof STATES)[keyof typeof STATES];
type VerdictWord = (typeof VERDICTS)[keyof typeof VERDICTS];

export function stateWord(state: string): StateWord | undefined {
  return Object.hasOwn(STATES, state) ? STATES[state as keyof typeof STATES] : undefined;
}

/** One that is not known is as good as none. */
export function verdictWord(verdict: string): VerdictWord {
  return Object.hasOwn(VERDICTS, verdict) ? VERDICTS[verdict as keyof typeof VERDICTS] : VERDICTS.unjudged;
}

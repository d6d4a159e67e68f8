// SPDX-License-Identifier: Apache-2.0
// Elements with what is printed, what is allowed, and how the two stand: in words, and with a mark for what is not ok.
import type { ElementFinding } from "../folds/receipts.js";
import { asRead } from "../words/measures.js";
import { say, type Key } from "../words/say.js";

const VERDICTS = {
  ok: "goods.verdict.ok",
  above: "goods.verdict.above",
  below: "goods.verdict.below",
  missing: "goods.verdict.missing",
  undecided: "goods.verdict.undecided",
} as const satisfies Readonly<Record<ElementFinding["verdict"], Key>>;

/** "0.70..1.20" as words. */
export function limitWords(limit: string): string {
  const [low = "", high = ""] = limit.split("..").map(asRead);
  if (low === "") return say("goods.up_to", { high });
  return high === "" ? say("goods.from", { low }) : say("goods.between", { low, high });
}

export function Findings({ findings }: { readonly findings: readonly ElementFinding[] }) {
  if (findings.length === 0) return null;
  return (
    <ul class="findings">
      {findings.map(({ element, value, limit, verdict }, at) => (
        <li key={`${at} ${element}`} class={verdict === "ok" ? "" : "is-out"}>
          <strong>{element}</strong>
          <span>{value === "" ? "–" : asRead(value)}</span>
          <span>{limitWords(limit)}</span>
          <span>{say(VERDICTS[verdict])}</span>
        </li>
      ))}
    </ul>
  );
}

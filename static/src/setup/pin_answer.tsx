// SPDX-License-Identifier: Apache-2.0
// What the server says of a PIN. Whatever it says, the sign-on is recorded and the work goes on.
import { useEffect } from "preact/hooks";
import type { Proof, Tablet } from "../sync/contract.js";
import { say, type Key } from "../words/say.js";

/** How long each answer stands before the work goes on by itself; one that needs to be read waits for a tap. */
const STANDS_MS: Partial<Record<Proof, number>> = { proven: 900, waiting: 5_000 };
const WORDS: Readonly<Record<Proof, Key>> = {
  proven: "pin.proven",
  not_proven: "pin.not_proven",
  waiting: "pin.asked",
  none: "pin.no_key",
};

export interface PinAnswerProps {
  readonly tablet: Tablet;
  readonly name: string;
  readonly onAgain: () => void;
  readonly onGoOn: () => void;
}

export function PinAnswer({ tablet, name, onAgain, onGoOn }: PinAnswerProps) {
  const proof = tablet.proven.value;
  // Contact that was thought to be there shows itself gone only by the first request that fails.
  const isVain = proof === "waiting" && tablet.sync.value.contact !== "server";
  useEffect(() => {
    const stands = isVain ? 0 : STANDS_MS[proof];
    if (stands === undefined) return undefined;
    const timer = setTimeout(onGoOn, stands);
    return () => clearTimeout(timer);
  }, [proof, isVain]);
  return (
    <section class="pin-answer" role="status">
      <p class={proof === "not_proven" ? "problem" : undefined}>{say(WORDS[proof], { name })}</p>
      {proof === "not_proven" && (
        <button type="button" class="key" onClick={onAgain}>
          {say("pin.again")}
        </button>
      )}
      <button type="button" class="key main" onClick={onGoOn}>
        {say("pin.go_on")}
      </button>
    </section>
  );
}

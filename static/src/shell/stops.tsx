// SPDX-License-Identifier: Apache-2.0
// The states in which nothing can be recorded: each says what is so and what to do.
import type { Phase, Tablet } from "../sync/contract.js";
import { Rescue } from "../widgets/rescue.js";
import { say, type Key } from "../words/say.js";

type CannotRecord = Extract<Phase, { phase: "cannot_record" }>["why"];

const WHY: Readonly<Record<CannotRecord, Key>> = {
  no_store: "stop.no_store",
  no_secure_context: "stop.no_secure_context",
  private_window: "stop.private_window",
  failed: "stop.failed",
};

export function Starting() {
  return (
    <main class="stop is-calm">
      <p role="status">{say("app.starting")}</p>
    </main>
  );
}

export function OpenElsewhere() {
  return (
    <main class="stop">
      <h1>{say("stop.elsewhere.title")}</h1>
      <p>{say("stop.elsewhere.do")}</p>
    </main>
  );
}

export function CannotRecord({ why }: { readonly why: CannotRecord }) {
  return (
    <main class="stop">
      <div role="alert">
        <h1>{say("stop.title")}</h1>
        <p>{say(WHY[why])}</p>
      </div>
    </main>
  );
}

export function JournalBroken({ tablet, at }: { readonly tablet: Tablet; readonly at: number }) {
  return (
    <main class="stop is-red">
      <div role="alert">
        <h1>{say("broken.title")}</h1>
        <p>{say("broken.what", { at })}</p>
        <p>{say("broken.do")}</p>
      </div>
      <Rescue exportJournal={() => tablet.exportJournal()} />
    </main>
  );
}

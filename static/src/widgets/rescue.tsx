// SPDX-License-Identifier: Apache-2.0
// The way out when the store does not hold: everything whole that the tablet has, as one file.
import { useState } from "preact/hooks";
import { say } from "../words/say.js";

export function Rescue({ exportJournal }: { readonly exportJournal: () => Promise<Blob> }) {
  const [state, setState] = useState<"idle" | "saved" | "failed">("idle");
  const save = async (): Promise<void> => {
    try {
      hand(await exportJournal());
      setState("saved");
    } catch {
      setState("failed");
    }
  };
  return (
    <div class="rescue">
      <button type="button" class="key" onClick={() => void save()}>
        {say("app.save_rescue")}
      </button>
      <p role="status">
        {state === "saved" && say("app.rescue_saved")}
        {state === "failed" && say("app.rescue_failed")}
      </p>
    </div>
  );
}

function hand(blob: Blob): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(blob);
  link.download = `tallywright-rescue-${new Date().toISOString().slice(0, 16).replaceAll(":", "")}.txt`;
  link.click();
  URL.revokeObjectURL(link.href);
}

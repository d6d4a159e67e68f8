// SPDX-License-Identifier: Apache-2.0
// The word about a rest, in a place of its own: nothing waits for it.
import { useEffect, useState } from "preact/hooks";
import { say } from "../words/say.js";
import { isRestDue } from "./rests.js";

const LOOKS_AGAIN_MS = 20_000;

export interface RestKeyProps {
  readonly since: number | undefined;
  readonly onRested: () => void;
}

export function RestKey({ since, onRested }: RestKeyProps) {
  const [now, setNow] = useState(Date.now);
  useEffect(() => {
    const timer = setInterval(() => setNow(Date.now()), LOOKS_AGAIN_MS);
    return () => clearInterval(timer);
  }, []);
  if (!isRestDue(since, now)) return null;
  return (
    <button type="button" class="key rest" onClick={onRested}>
      <span>{say("rest.due")}</span> <strong>{say("rest.told")}</strong>
    </button>
  );
}

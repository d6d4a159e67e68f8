// SPDX-License-Identifier: Apache-2.0
import { say } from "../words/say.js";

/** What was just told is not in the store, and what to do about it. */
export function NotStoredLine() {
  return (
    <p class="problem" role="alert">
      {say("tally.not_stored")}. {say("tally.not_stored_do")}
    </p>
  );
}

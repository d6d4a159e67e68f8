// SPDX-License-Identifier: Apache-2.0
import { say } from "../words/say.js";

export function NotStored() {
  return (
    <p class="problem" role="alert">
      {say("tally.not_stored")}. {say("tally.not_stored_do")}
    </p>
  );
}

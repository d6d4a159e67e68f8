// SPDX-License-Identifier: Apache-2.0
import { say } from "./say.js";

/** What a look is called on the screens. */
export function lookName(look: string): string {
  if (look === "first") return say("look.first");
  if (look === "second") return say("look.second");
  return say("look.other", { look });
}

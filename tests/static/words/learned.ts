// SPDX-License-Identifier: Apache-2.0
// Runs before each file of tests: every language can be spoken at once, and English is, whatever a test before spoke.
import { beforeEach } from "vitest";
import { language, LANGUAGES, learn, learnPages, type Language } from "../../../static/src/words/say.js";

await learnPages();
await Promise.all((Object.keys(LANGUAGES) as Language[]).map(learn));

beforeEach(() => {
  language.value = "en";
});

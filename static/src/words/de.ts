// SPDX-License-Identifier: Apache-2.0
// German. „Schale“ is the tray, because a Tablett would be read as the tablet.
import { bench } from "./de/bench.js";
import { signOn } from "./de/sign_on.js";
import { start } from "./de/start.js";
import type { en } from "./en.js";

export const de: Readonly<Record<keyof typeof en, string>> = { ...start, ...signOn, ...bench };

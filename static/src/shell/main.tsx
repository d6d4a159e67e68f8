// SPDX-License-Identifier: Apache-2.0
import "./house.css";
import { options, render } from "preact";
import { readReach } from "../api/requests.js";
import type { Tablet } from "../sync/contract.js";
import { drawBeforeActs, drawSoon } from "../sync/frames.js";
import { startTablet } from "../sync/tablet.js";
import { learnPages } from "../words/say.js";
import { App } from "./app.js";
import { takeInvitation } from "./invitation.js";
import { followAddress, speak } from "./routes.js";
import { keepApp } from "./update.js";

// A tap changes one thing after the other (stored, sent, confirmed): what falls between two frames is drawn once.
options.debounceRendering = drawSoon;
drawBeforeActs(window);

/** What opens within this is not announced: a first screen that goes at once costs a slow tablet a tenth of a second. */
const SILENT_MS = 400;

const root = document.getElementById("app");
if (root !== null) void start(root);

async function start(root: HTMLElement): Promise<void> {
  const invitation = takeInvitation();
  // The store opens while the words are fetched.
  const tablet = isSecureContext ? startTablet() : undefined;
  await followAddress();
  if (tablet === undefined) {
    // Before anything else, and without the app: nothing of it works without a store.
    const [{ Unprotected }, answer] = await Promise.all([
      import("../setup/unprotected.js"),
      readReach(),
      learnPages(),
    ]);
    const reach = answer.sort === "ours" ? answer.value : undefined;
    render(<Unprotected reach={reach} onLanguage={(chosen) => void speak(chosen)} />, root);
  } else {
    await Promise.race([isKnown(tablet), new Promise((resolve) => setTimeout(resolve, SILENT_MS))]);
    render(<App tablet={tablet} invitation={invitation} />, root);
    if (import.meta.env.PROD) void keepApp();
  }
}

/** Resolves when the tablet has found out whether it can record. */
function isKnown({ state }: Tablet): Promise<void> {
  return new Promise((resolve) => {
    state.subscribe(({ phase }) => {
      if (phase !== "starting") resolve();
    });
  });
}

// SPDX-License-Identifier: Apache-2.0
import "./house.css";
import { render } from "preact";
import { startTablet } from "../sync/tablet.js";
import { App } from "./app.js";
import { takeInvitation } from "./invitation.js";
import { followAddress } from "./routes.js";
import { CannotRecord } from "./stops.js";
import { keepApp } from "./update.js";

const root = document.getElementById("app");
if (root !== null) void start(root);

async function start(root: HTMLElement): Promise<void> {
  const invitation = takeInvitation();
  await followAddress();
  if (!isSecureContext) {
    render(<CannotRecord why="no_secure_context" />, root);
  } else {
    render(<App tablet={startTablet()} invitation={invitation} />, root);
    if (import.meta.env.PROD) void keepApp();
  }
}

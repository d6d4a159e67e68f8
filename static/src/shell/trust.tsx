// SPDX-License-Identifier: Apache-2.0
// The page over plain HTTP that shows how a tablet comes to trust the server. It stands beside the app, has no
// store and keeps nothing.
import "./house.css";
import { render } from "preact";
import { readReach } from "../api/requests.js";
import { TrustPage } from "../setup/trust_page.js";
import { learnPages } from "../words/say.js";
import { followAddress, speak } from "./routes.js";

const root = document.getElementById("app");
if (root !== null) void start(root);

async function start(root: HTMLElement): Promise<void> {
  await followAddress();
  const [answer] = await Promise.all([readReach(), learnPages()]);
  const reach = answer.sort === "ours" ? answer.value : undefined;
  render(<TrustPage reach={reach} onLanguage={(chosen) => void speak(chosen)} />, root);
}

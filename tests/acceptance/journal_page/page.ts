// SPDX-License-Identifier: Apache-2.0
// The whole tablet below the screens, for tests that drive it in a real browser.
import type { Tablet } from "../../../static/src/sync/contract.js";
import { startTablet } from "../../../static/src/sync/tablet.js";

declare global {
  interface Window {
    tablet: Tablet;
  }
}

window.tablet = startTablet();

// SPDX-License-Identifier: Apache-2.0
// What the server's clock says, carried on by the steady clock of the page, so that a step of the device's own
// clock between two answers does not move a record into another shift.
import type { Timing } from "../api/ask.js";

export class ServerClock {
  #heard: { readonly serverTime: number; readonly at: number } | undefined;

  /** An answer says the server's time of about half way between its leaving and its coming. */
  hear(serverTime: number, { sent, came }: Timing): void {
    this.#heard = { serverTime: serverTime + (came - sent) / 2, at: came };
  }

  /** Server time minus the device's, at a moment of both of the page's clocks; undefined before any answer. */
  skew(madeAt: number, steadyNow: number): number | undefined {
    if (this.#heard === undefined) return undefined;
    return Math.round(this.#heard.serverTime + (steadyNow - this.#heard.at) - madeAt);
  }

  /** Server time at such a moment; the device's own before any answer, which is where folds place its records. */
  time(deviceNow: number, steadyNow: number): number {
    return deviceNow + (this.skew(deviceNow, steadyNow) ?? 0);
  }
}

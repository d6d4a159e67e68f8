// SPDX-License-Identifier: Apache-2.0
// How the gauge stands that a value comes from, in one line before it is stored. It stops nobody.
import { say } from "../words/say.js";
import { standingWord } from "../words/gauges.js";
import type { GaugeStanding } from "./gauge_desk.js";

export function GaugeLine({ number, standing }: GaugeStanding) {
  return (
    <span class={`gauge-line is-${standing}`} role="status">
      {standing !== "in_order" && <GaugeSign />}
      <strong>{say("gauge.stands", { gauge: number, standing: say(standingWord(standing)) })}</strong>
    </span>
  );
}

/** A gauge with a stroke through it: a shape, so that no colour has to say it. */
export function GaugeSign() {
  return (
    <svg class="gauge-sign" viewBox="0 0 24 24" aria-hidden="true">
      <path d="M2 6h20M3 3v6M21 3v6M8 6v4M12 6v6M16 6v4" />
      <path d="M3 22L21 11" />
    </svg>
  );
}

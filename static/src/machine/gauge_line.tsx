// SPDX-License-Identifier: Apache-2.0
// How the gauge stands that a value comes from, in one line before it is stored. It stops nobody.
import type { Standing } from "../folds/gauges.js";
import { dayAsRead } from "../words/measures.js";
import { say } from "../words/say.js";
import { standingWord } from "../words/gauges.js";

export interface GaugeLineProps {
  readonly number: string;
  readonly standing: Standing;
  /** The last day it may be used; "" for one that is never due. */
  readonly due: string;
}

export function GaugeLine({ number, standing, due }: GaugeLineProps) {
  const word = standingWord(standing);
  return (
    <span class={`gauge-line is-${standing}`} role="status">
      {standing !== "in_order" && <GaugeSign />}
      <strong>
        {standing === "overdue"
          ? say("gauge.overdue_due", { gauge: number, day: dayAsRead(due) })
          : say("gauge.stands", { gauge: number, standing: word === undefined ? "" : say(word) })}
      </strong>
    </span>
  );
}

/** A gauge with a stroke through it: a shape, so that no colour has to say it. */
export function GaugeSign() {
  return (
    <svg class="gauge-sign" viewBox="0 0 24 24" aria-hidden="true">
      <path d="M3 6h18M3 3v6M21 3v6M8 6v4M12 6v6M16 6v4" />
      <path d="M4 22L20 12" />
    </svg>
  );
}

// SPDX-License-Identifier: Apache-2.0
// The last values of a characteristic with its limits, as a small drawing: round within, square and filled outside.
import type { Check } from "../folds/checks.js";
import type { Standing } from "../folds/gauges.js";
import type { Characteristic } from "../records/kinds.js";
import { individualsOf, runSignals } from "../folds/run_signals.js";
import { asRead } from "../words/measures.js";
import { standingWord } from "../words/gauges.js";
import { inWords, say, type Key } from "../words/say.js";
import { GaugeSign } from "./gauge_line.js";

const WIDE = 500;
const HIGH = 120;
const EDGE = 14;
const MARK = 5;
/** Half of the bar under a value whose gauge is not in order. */
const BAR = 9;

export interface LastValuesProps {
  readonly checks: readonly Check[];
  readonly characteristic: Characteristic;
  readonly standingOf: (check: Check) => Standing;
}

/** So few values say nothing of a run. */
const FEWEST_FOR_A_RUN = 12;

/** What the newest value completes, in words that blame nobody; undefined where nothing is to be said. */
export function runWord(checks: readonly Check[]): Key | undefined {
  const values = checks.filter((one) => !one.mistyped && one.root === one.id).map((one) => Number(one.said));
  if (values.length < FEWEST_FOR_A_RUN) return undefined;
  const { beyond, oneSide } = runSignals(values, individualsOf(values));
  if (beyond.includes(values.length)) return "check.run_beyond";
  return oneSide.includes(values.length) ? "check.run_one_side" : undefined;
}

export function LastValues({ checks, characteristic, standingOf }: LastValuesProps) {
  if (checks.length === 0) return null;
  const limits = [characteristic.lower, characteristic.upper].flatMap((one) => one ?? []).map(Number);
  // Only the drawing needs numbers that are nearly right; what is out was decided digit by digit.
  const values = checks.map((one) => Number(one.said));
  const least = Math.min(...values, ...limits);
  const span = Math.max(...values, ...limits) - least || 1;
  const y = (value: number): number => HIGH - EDGE - ((value - least) / span) * (HIGH - 2 * EDGE);
  const x = (place: number): number => EDGE + (place * (WIDE - 2 * EDGE)) / Math.max(1, checks.length - 1);
  const out = checks.filter((one) => one.outcome === "out").length;
  const standings = checks.map(standingOf);
  const doubtful = standings.filter((one) => one !== "in_order").length;
  const name = inWords(characteristic.words);
  const word = runWord(checks);
  return (
    <figure class="last-values">
      <svg
        viewBox={`0 0 ${WIDE} ${HIGH}`}
        role="img"
        aria-label={say("check.last_values", { name, count: checks.length, out })}
      >
        {limits.map((limit) => (
          <line key={limit} class="limit" x1="0" x2={WIDE} y1={y(limit)} y2={y(limit)} />
        ))}
        <polyline class="run" points={values.map((value, place) => `${x(place)},${y(value)}`).join(" ")} />
        {checks.map((one, place) =>
          one.outcome === "out" ? (
            <rect
              key={one.id}
              class="is-out"
              x={x(place) - MARK - 2}
              y={y(values[place] ?? 0) - MARK - 2}
              width={2 * MARK + 4}
              height={2 * MARK + 4}
            />
          ) : (
            <circle key={one.id} cx={x(place)} cy={y(values[place] ?? 0)} r={MARK} />
          ),
        )}
        {standings.map(
          (standing, place) =>
            standing !== "in_order" && (
              <path
                key={checks[place]?.id ?? place}
                class="by-gauge"
                d={`M${x(place) - BAR} ${HIGH - 3}h${2 * BAR}`}
              />
            ),
        )}
      </svg>
      {word !== undefined && <figcaption>{say(word)}</figcaption>}
      <details>
        <summary class="key">
          {say("check.as_numbers", { count: checks.length })}
          {doubtful > 0 && (
            <span class="by-gauge-said">
              <GaugeSign />
              {say("gauge.marked", { count: doubtful })}
            </span>
          )}
        </summary>
        <ol reversed>
          {[...checks].reverse().map((one) => (
            <li key={one.id}>
              {asRead(one.said)} {characteristic.unit ?? ""}
              {one.outcome === "out" && ` ${say("check.is_out")}`}
              {one.mistyped && ` ${say("check.typing_error")}`}
              {gaugeSaid(one, standingOf(one))}
            </li>
          ))}
        </ol>
      </details>
    </figure>
  );
}

/** What a value is worth by its gauge, beside it; nothing where that is in order. */
function gaugeSaid({ gauge }: Check, standing: Standing): string {
  return standing === "in_order"
    ? ""
    : ` ${say("gauge.stands", { gauge, standing: say(standingWord(standing)) })}`;
}

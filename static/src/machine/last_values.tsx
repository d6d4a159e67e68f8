// SPDX-License-Identifier: Apache-2.0
// The last values of a characteristic with its limits, as a small drawing: round within, square and filled outside.
import type { Check } from "../folds/checks.js";
import type { Characteristic } from "../records/kinds.js";
import { inWords, say } from "../words/say.js";

const WIDE = 500;
const HIGH = 120;
const EDGE = 14;
const MARK = 5;

export interface LastValuesProps {
  readonly checks: readonly Check[];
  readonly characteristic: Characteristic;
}

export function LastValues({ checks, characteristic }: LastValuesProps) {
  if (checks.length === 0) return null;
  const limits = [characteristic.lower, characteristic.upper].flatMap((one) => one ?? []).map(Number);
  // Only the drawing needs numbers that are nearly right; what is out was decided digit by digit.
  const values = checks.map((one) => Number(one.said));
  const least = Math.min(...values, ...limits);
  const span = Math.max(...values, ...limits) - least || 1;
  const y = (value: number): number => HIGH - EDGE - ((value - least) / span) * (HIGH - 2 * EDGE);
  const x = (place: number): number => EDGE + (place * (WIDE - 2 * EDGE)) / Math.max(1, checks.length - 1);
  const out = checks.filter((one) => one.outcome === "out").length;
  const name = inWords(characteristic.words);
  return (
    <svg
      class="last-values"
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
    </svg>
  );
}

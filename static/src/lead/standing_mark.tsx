// SPDX-License-Identifier: Apache-2.0
// Shapes of where a batch stands, of a limit and of looks had: they say the same as the word beside them, without
// colour. A batch is drawn as a tray: barred, full over its rim,
// with something dropping in, gaping, without a name, full, begun, empty, turned over.
import type { State } from "../folds/limits.js";
import { ClassMark } from "../widgets/class_mark.js";
import { say, type Key } from "../words/say.js";
import type { Standing } from "./batch_list.js";
import type { Times } from "./coverage_rows.js";

const TRAY = "M4 8V32H36V8";
const STANDING: Readonly<Record<Exclude<Standing, "critical">, string>> = {
  held: `${TRAY}M1 14H39M1 22H39`,
  over_limit: `${TRAY}M1 8H39M12 28V2M20 28V2M28 28V2`,
  came_late: `${TRAY}M10 26H30M10 20H30M20 2V5M20 9V12`,
  points_open: "M4 8V32H13M27 32H36V8M13 20H27",
  not_signed: `${TRAY}M10 26H13M17 26H20M24 26H27`,
  ready: `${TRAY}M10 26H30M10 20H30M10 14H30`,
  in_work: `${TRAY}M10 26H30`,
  not_begun: TRAY,
  released: "M4 32V8H36V32",
};

export function StandingMark({ standing }: { readonly standing: Standing }) {
  if (standing === "critical") return <ClassMark shape="critical" />;
  return <Strokes path={STANDING[standing]} />;
}

const STANDING_WORDS = {
  critical: "decide.critical",
  held: "decide.held",
  over_limit: "decide.over_limit",
  came_late: "decide.came_late",
  points_open: "decide.points_open",
  not_signed: "decide.not_signed",
  ready: "decide.ready",
  in_work: "decide.in_work",
  not_begun: "decide.not_begun",
  released: "decide.released",
} as const satisfies Readonly<Record<Standing, Key>>;

/** Where a batch stands, in words. */
export function saidOf(standing: Standing): string {
  return say(STANDING_WORDS[standing]);
}

/** The limit is a line; what was found is a bar that stays below it, nears it, or stands through it. */
const LIMIT: Readonly<Record<State, string>> = {
  uncounted: "M2 14H10M15 14H23M28 14H36",
  within: "M2 14H38M20 36V26",
  watch: "M2 14H38M20 36V17",
  broken: "M2 14H38M20 36V4",
  met: "M2 14H38M20 36V26M8 36H32",
  over: "M2 14H38M20 36V4M8 36H32M12 4H28",
};

export function LimitMark({ state }: { readonly state: State }) {
  return <Strokes path={LIMIT[state]} />;
}

/** A ring for each look of two; a full one for a look had, a broken one where it is not known. */
export function LooksMark({ times }: { readonly times: Times }) {
  const rings = [10, 30].map((centre, place) => (
    <circle
      key={centre}
      cx={centre}
      cy="20"
      r="7"
      stroke-dasharray={times === "unknown" ? "4 4" : undefined}
      fill={times !== "unknown" && times > place ? "currentColor" : "none"}
    />
  ));
  return (
    <svg class="standing-mark" viewBox="0 0 40 40" aria-hidden="true">
      {rings}
    </svg>
  );
}

function Strokes({ path }: { readonly path: string }) {
  return (
    <svg class="standing-mark" viewBox="0 0 40 40" aria-hidden="true">
      <path d={path} fill="none" />
    </svg>
  );
}

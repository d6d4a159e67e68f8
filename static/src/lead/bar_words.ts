// SPDX-License-Identifier: Apache-2.0
// What a bar is called: the team's words where the lists have them, else the name as it was recorded.
import { NOT_SURE, type PartDefinition } from "../records/kinds.js";
import { lookName } from "../words/looks.js";
import { oneOrAnother } from "../words/measures.js";
import { inWords, say, type Key } from "../words/say.js";
import { defectName } from "./hold_words.js";
import type { Only, Stratum } from "./pareto_question.js";

export type Definitions = ReadonlyMap<string, PartDefinition>;

export const STRATUM_WORDS = {
  defect: "stratum.defect",
  operation: "stratum.operation",
  cavity: "stratum.cavity",
  tool: "stratum.tool",
  machine: "stratum.machine",
  cast: "stratum.cast",
  load: "stratum.load",
  lot: "stratum.lot",
  zone: "stratum.zone",
  tray: "stratum.tray",
  tray_from_last: "stratum.tray_from_last",
  look: "stratum.look",
  part: "stratum.part",
  batch: "stratum.batch",
} as const satisfies Readonly<Record<Stratum, Key>>;

/** The name of a bar among those of its stratum. */
export function barWords({ stratum, sort, name, label }: Only, definitions: Definitions): string {
  if (sort === "none") return say("stratum.none");
  if (sort === "either") return eitherOf(stratum, name, definitions);
  if (stratum === "defect") return name === NOT_SURE ? say("tally.not_sure") : defectName(name, definitions);
  if (stratum === "operation") return operationName(name, definitions);
  if (stratum === "look") return lookName(name);
  if (stratum === "zone") return zoneName(name, definitions);
  if (stratum === "cavity") return say("stratum.of_cavity", { name });
  if (stratum === "tray") return say("tally.tray", { number: Number(name) });
  if (stratum === "tray_from_last") return say("stratum.from_last", { place: name });
  return label;
}

/** A bar of more than one; of operations it is known which. */
function eitherOf(stratum: Stratum, name: string, definitions: Definitions): string {
  if (stratum !== "operation") return say("stratum.either");
  return oneOrAnother(name.split(",").map((one) => operationName(one, definitions)));
}

function operationName(number: string, definitions: Definitions): string {
  const operations = newest(definitions).flatMap((part) => part.operations ?? []);
  const found = operations.find((one) => String(one.operation) === number);
  return found === undefined ? say("stratum.of_operation", { number }) : `${number} ${inWords(found.words)}`;
}

function zoneName(zone: string, definitions: Definitions): string {
  const found = newest(definitions)
    .flatMap((part) => part.zones ?? [])
    .find((one) => one.zone === zone);
  return found === undefined ? zone : inWords(found.words);
}

function newest(definitions: Definitions): readonly PartDefinition[] {
  return [...definitions.values()].reverse();
}

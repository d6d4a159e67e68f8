// SPDX-License-Identifier: Apache-2.0
// How many looks each family of defects had in each zone.
import type { PartDefinition } from "../records/kinds.js";
import { inOneLine, inWords, say } from "../words/say.js";
import type { BatchAnswer } from "./batch_answer.js";
import { coverageRows, type Times } from "./coverage_rows.js";
import { LooksMark } from "./standing_mark.js";

export interface CoveragePartProps {
  readonly coverage: BatchAnswer["coverage"];
  readonly definition: PartDefinition | undefined;
}

export function CoveragePart({ coverage, definition }: CoveragePartProps) {
  if (coverage.length === 0) return null;
  return (
    <section class="held-batch">
      <h2>{say("coverage.title")}</h2>
      <p>{say("coverage.what")}</p>
      <dl class="coverage">
        {coverageRows(coverage).map(({ family, groups }) => (
          <div key={family}>
            <dt>{familyName(family, definition)}</dt>
            {groups.map(({ times, zones }) => (
              <dd key={times}>
                <LooksMark times={times} />
                <strong>{timesOf(times)}</strong>
                <span>{zones.map((zone) => zoneName(zone, definition)).join(", ")}</span>
              </dd>
            ))}
          </div>
        ))}
      </dl>
    </section>
  );
}

function timesOf(times: Times): string {
  if (times === "unknown") return say("coverage.unknown");
  return times === 0 ? say("coverage.none") : say("coverage.looks", { count: times });
}

/** A family is called by the key word of its name, where the list has such a word. */
function familyName(family: string, definition: PartDefinition | undefined): string {
  const word = definition?.defects.find(({ defect }) => defect === family);
  return word === undefined ? family : inOneLine(inWords(word.key));
}

function zoneName(zone: string, definition: PartDefinition | undefined): string {
  if (zone === "") return say("coverage.whole");
  const found = definition?.zones?.find((one) => one.zone === zone);
  return found === undefined ? zone : inWords(found.words);
}

// SPDX-License-Identifier: Apache-2.0
// What else is counted at an operation: the same pieces once more, components, scrap that is destroyed, a piece found.
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import type { Draft } from "../records/kinds.js";
import { NotStoredLine } from "../widgets/not_stored_line.js";
import { say, type Key } from "../words/say.js";
import { ComponentsPart } from "./components_part.js";
import "./counts.css";
import { FoundPart } from "./found_part.js";
import "./machine.css";
import { RecountPart } from "./recount_part.js";
import { ScrapPart, type Second } from "./scrap_part.js";
import type { Finish } from "./stints.js";

/** What is told here, without the batch, which whoever stores it knows. */
export type Told = Pick<
  Extract<Draft, { kind: "operation_recounted" | "components_counted" | "scrap_destroyed" | "piece_found" }>,
  "kind" | "body"
>;

export interface MorePageProps {
  readonly batchNumber: string;
  readonly operationName: string;
  readonly operation: number;
  readonly finishes: readonly Finish[];
  /** Components counted before at this tablet, the last ones first: name and lot. */
  readonly components: readonly { readonly component: string; readonly lot: string }[];
  /** Who may put the second name to a destruction. */
  readonly seconds: readonly Second[];
  /** The record's id once it is stored. */
  readonly onTell: (told: Told) => Promise<string | undefined>;
  readonly onSecond: (record: string, person: string, pin: string) => Promise<boolean>;
  readonly onRecounted: () => void;
  /** Keys that lead elsewhere. */
  readonly children: ComponentChildren;
}

const PARTS = {
  recount: "more.recount",
  components: "more.components",
  scrap: "more.scrap",
  found: "more.found",
} as const satisfies Readonly<Record<string, Key>>;
type Part = keyof typeof PARTS;

export function MorePage(props: MorePageProps) {
  const [part, setPart] = useState<Part>();
  const [isStored, setStored] = useState<boolean>();
  const tell = async (told: Told): Promise<string | undefined> => {
    const id = await props.onTell(told);
    setStored(id !== undefined);
    return id;
  };
  const tellAndEnd = async (told: Told): Promise<void> => {
    if ((await tell(told)) !== undefined) setPart(undefined);
  };
  const { operation, finishes } = props;
  return (
    <main class="choice machine">
      <header class="machine-head">
        <p class="on-bench">
          {props.batchNumber} <small>{props.operationName}</small>
        </p>
      </header>
      {isStored === true && (
        <p class="done" role="status">
          {say("more.stored")}
        </p>
      )}
      {isStored === false && <NotStoredLine />}
      {part === undefined && (
        <>
          <h1>{say("more.title")}</h1>
          <div class="tell-keys">
            {(Object.keys(PARTS) as Part[])
              .filter((one) => one !== "recount" || finishes.length > 0)
              .map((one) => (
                <button
                  key={one}
                  type="button"
                  class="key"
                  onClick={() => {
                    setStored(undefined);
                    setPart(one);
                  }}
                >
                  {say(PARTS[one])}
                </button>
              ))}
          </div>
        </>
      )}
      {part === "recount" && (
        <RecountPart
          operation={operation}
          finishes={finishes}
          onCounted={(body) =>
            void tell({ kind: "operation_recounted", body }).then((id) => {
              if (id !== undefined) props.onRecounted();
            })
          }
        />
      )}
      {part === "components" && (
        <ComponentsPart
          known={props.components}
          onCounted={(counted) =>
            void tellAndEnd({ kind: "components_counted", body: { operation, ...counted } })
          }
        />
      )}
      {part === "scrap" && (
        <ScrapPart
          seconds={props.seconds}
          onCounted={(counted) => tell({ kind: "scrap_destroyed", body: { operation, ...counted } })}
          onSecond={props.onSecond}
          onDone={() => setPart(undefined)}
        />
      )}
      {part === "found" && (
        <FoundPart
          onFound={(pieces, where) =>
            void tellAndEnd({ kind: "piece_found", body: { operation, pieces, where } })
          }
        />
      )}
      <footer class="machine-foot">
        {part !== undefined && (
          <button type="button" class="key" onClick={() => setPart(undefined)}>
            {say("more.key")}
          </button>
        )}
        {props.children}
      </footer>
    </main>
  );
}

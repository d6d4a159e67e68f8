// SPDX-License-Identifier: Apache-2.0
// What lies on the bench: batch, look, tray, and what the tray's finds have made of its pieces so far.
import type { ComponentChildren } from "preact";
import { ClassMark } from "../widgets/class_mark.js";
import { number } from "../words/measures.js";
import { say } from "../words/say.js";
import { lookName } from "./names.js";
import type { TrayCounts } from "./tray_counts.js";

export interface TallyHeadProps {
  readonly batchNumber: string;
  readonly look: string;
  readonly tray: number;
  readonly places: number;
  readonly dueTrays: number;
  readonly counts: TrayCounts;
  readonly onTrays: () => void;
}

export function TallyHead(props: TallyHeadProps) {
  const { counts } = props;
  return (
    <header class="tally-head">
      <button type="button" class="key leave" onClick={() => props.onTrays()}>
        {say("nav.trays")}
      </button>
      <Fact large={props.batchNumber} small={lookName(props.look)} />
      <Fact
        large={say("tally.tray", { number: props.tray })}
        small={say("tally.of_trays", { count: props.dueTrays, places: props.places })}
      />
      <span class="head-space" />
      <Fact large={number(counts.marked)} small={say("tally.marked")} />
      <Fact large={number(counts.rejected)} small={say("tally.rejects")} mark={<ClassMark shape="major" />} />
      {counts.locked > 0 && (
        <Fact
          large={number(counts.locked)}
          small={say("tally.locked")}
          mark={<ClassMark shape="critical" />}
          alarming
        />
      )}
      <Fact large={number(counts.query)} small={say("tally.queries")} mark={<ClassMark shape="query" />} />
    </header>
  );
}

interface FactProps {
  readonly large: string;
  readonly small: string;
  readonly mark?: ComponentChildren;
  readonly alarming?: boolean;
}

function Fact({ large, small, mark, alarming = false }: FactProps) {
  return (
    <p class={`fact${alarming ? " is-alarming" : ""}`}>
      <strong>
        {mark} {large}
      </strong>
      <small>{small}</small>
    </p>
  );
}

// SPDX-License-Identifier: Apache-2.0
// What lies on the bench: batch, look, tray, and what the tray's finds have made of its pieces so far.
import type { ComponentChildren } from "preact";
import { ClassMark } from "../widgets/class_mark.js";
import { ReworkMark } from "../widgets/rework_mark.js";
import { number } from "../words/measures.js";
import { lookName } from "../words/looks.js";
import { say } from "../words/say.js";
import { takenOut, type TrayCounts } from "./tray_counts.js";

export interface TallyHeadProps {
  readonly batchNumber: string;
  readonly look: string;
  readonly tray: number;
  /** Pieces that are due in the tray. */
  readonly due: number;
  /** The first place that is still to be looked at, where somebody else looked at those before it. */
  readonly from: number | undefined;
  readonly counts: TrayCounts;
  /** The key that turns the pages of a pad that does not fit at once. */
  readonly turn: ComponentChildren;
  readonly limit: ComponentChildren;
}

export function TallyHead(props: TallyHeadProps) {
  const { counts, due, from } = props;
  return (
    <header class="tally-head">
      <h1 class="fact">
        <strong>{props.batchNumber}</strong>
        <small>{lookName(props.look)}</small>
      </h1>
      <Fact
        large={say("tally.tray", { number: props.tray })}
        small={
          <>
            {from !== undefined && <span class="from-place">{say("tally.from_place", { place: from })}</span>}
            <span class="in-tray">{say("tally.left_of", { left: due - takenOut(counts), due })}</span>
          </>
        }
      />
      <span class="head-space">{props.turn}</span>
      <div class="counts">
        <Fact large={number(counts.marked)} small={say("tally.marked")} kind="marked" />
        <Fact
          large={number(counts.rejected)}
          small={say("tally.rejects")}
          mark={<ClassMark shape="major" />}
        />
        <Fact large={number(counts.rework)} small={say("tally.reworks")} mark={<ReworkMark />} />
        <Fact large={number(counts.query)} small={say("tally.queries")} mark={<ClassMark shape="query" />} />
        {counts.locked > 0 && (
          <Fact
            large={number(counts.locked)}
            small={say("tally.locked")}
            mark={<ClassMark shape="critical" />}
            kind="alarming"
          />
        )}
      </div>
      {props.limit}
    </header>
  );
}

interface FactProps {
  readonly large: string;
  readonly small: ComponentChildren;
  readonly mark?: ComponentChildren;
  readonly kind?: "marked" | "alarming";
}

function Fact({ large, small, mark, kind }: FactProps) {
  return (
    <p class={`fact${kind === undefined ? "" : ` is-${kind}`}`}>
      <strong>
        {mark} {large}
      </strong>
      <small>{small}</small>
    </p>
  );
}

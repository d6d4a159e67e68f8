// SPDX-License-Identifier: Apache-2.0
// The works' gauges for the lead: which need something, what was said of them, and the batches they were used on.
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import type { Person } from "../definitions/people.js";
import type { RecordOf } from "../records/kinds.js";
import type { Tablet } from "../sync/contract.js";
import { standingWord } from "../words/gauges.js";
import { dayAsRead, moment } from "../words/measures.js";
import { say, type Key } from "../words/say.js";
import "./batch.css";
import { HowOld, useDated } from "./dated_report.js";
import { GaugeEntry } from "./gauge_entry.js";
import "./gauges.css";
import { gaugesFrom, type GaugeSaid, type GaugeShown, type GaugeUsed } from "./gauges_list.js";

export interface GaugesPageProps {
  readonly tablet: Tablet;
  readonly person: Person;
  readonly onBatch: (batch: string) => void;
  readonly onHolds: () => void;
}

export function GaugesPage({ tablet, person, onBatch, onHolds }: GaugesPageProps) {
  const [open, setOpen] = useState<string>();
  const [stored, setStored] = useState<string>();
  const report = useDated(tablet, "/gauges", gaugesFrom, stored ?? "");
  const gauges = report.value ?? [];
  const needing = gauges.filter(({ standing }) => standing !== "in_order");
  const others = gauges.filter(({ standing }) => standing === "in_order");
  const isLead = person.roles.includes("lead");
  const shown = (gauge: GaugeShown) => (
    <OneGauge
      key={gauge.number}
      gauge={gauge}
      onBatch={onBatch}
      onHolds={onHolds}
      onOpen={isLead && open !== gauge.number ? () => setOpen(gauge.number) : undefined}
    >
      {open === gauge.number && (
        <GaugeEntry
          gauge={gauge.number}
          onSaid={async (body: RecordOf<"gauge_checked">["body"]) => {
            const answer = await tablet.add({ kind: "gauge_checked", v: 1, body });
            if (answer.stored) {
              setStored(answer.record.id);
              setOpen(undefined);
            }
            return answer.stored;
          }}
          onLeave={() => setOpen(undefined)}
        />
      )}
    </OneGauge>
  );
  return (
    <main class="choice gauges">
      <h1>{say("gauges.title")}</h1>
      <HowOld report={report} />
      {stored !== undefined && <p role="status">{say("gauges.stored")}</p>}
      {report.value !== undefined && needing.length === 0 && <p class="empty">{say("gauges.none")}</p>}
      {needing.map(shown)}
      {others.length > 0 && <h2>{say("gauges.in_order", { count: others.length })}</h2>}
      {others.map(shown)}
    </main>
  );
}

interface OneGaugeProps {
  readonly gauge: GaugeShown;
  readonly onBatch: (batch: string) => void;
  readonly onHolds: () => void;
  /** Undefined where nothing is to be written down of it. */
  readonly onOpen: (() => void) | undefined;
  readonly children: ComponentChildren;
}

function OneGauge({ gauge, onBatch, onHolds, onOpen, children }: OneGaugeProps) {
  const { number, kinds, range, resolution, place, standing, stands_now: now, due, said, batches } = gauge;
  const word = standingWord(now);
  const about = [kinds.join(", "), range, resolution, place].filter((one) => one !== "");
  return (
    <section class={`one-gauge is-${standing}`} aria-label={number}>
      <h2>
        {number} <small>{about.join(" · ")}</small>
      </h2>
      <p class="standing">
        <strong>{word === undefined ? "" : say(word)}</strong>
        {due !== "" && `, ${say("gauges.due", { day: dayAsRead(due) })}`}
      </p>
      {said.length > 0 && (
        <ul>
          {said.map((one) => (
            <li key={one.id}>{sayOf(one)}</li>
          ))}
        </ul>
      )}
      {batches.length > 0 && (
        <div class="measured-with">
          {batches.map((one) => (
            <BatchKey key={`${one.batch} ${one.standing}`} used={one} onBatch={onBatch} />
          ))}
        </div>
      )}
      {batches.some((one) => one.standing === "found_wrong") && (
        <button type="button" class="key" onClick={onHolds}>
          {say("nav.holds")}
        </button>
      )}
      {onOpen !== undefined && (
        <button type="button" class="key" onClick={onOpen}>
          {say("gauges.write_down")}
        </button>
      )}
      {children}
    </section>
  );
}

function BatchKey({
  used,
  onBatch,
}: {
  readonly used: GaugeUsed;
  readonly onBatch: (batch: string) => void;
}) {
  const word = standingWord(used.standing);
  return (
    <button type="button" class="key" onClick={() => onBatch(used.batch)}>
      {used.number}
      {used.released && ` ${say("gauges.released")}`}
      <small>
        {say("gauges.values", { count: used.values, when: spanOf(used) })}
        {word !== undefined && ` ${say(word)}`}
      </small>
    </button>
  );
}

function spanOf({ first_at: first, last_at: last }: GaugeUsed): string {
  const [from, to] = [moment(first), moment(last)];
  return from === to ? from : say("gauges.span", { first: from, last: to });
}

const RESULTS: Readonly<Record<string, Key>> = {
  fit: "gauges.said_fit",
  wrong: "gauges.said_wrong",
  doubtful: "gauges.said_doubtful",
};

function sayOf({ result, against, certificate, next_due: due, note, at, by, counts }: GaugeSaid): string {
  const word = RESULTS[result];
  const parts = [
    word === undefined ? result : say(word),
    against,
    certificate,
    due === "" ? "" : say("gauges.due", { day: dayAsRead(due) }),
    note,
    by === "" ? say("receipts.nobody_proven") : by,
    moment(at),
    counts ? "" : say("gauges.does_not_count"),
  ];
  return parts.filter((part) => part !== "").join(", ");
}

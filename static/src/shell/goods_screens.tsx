// SPDX-License-Identifier: Apache-2.0
// Joins the screens of goods-in and of the saw with what the tablet holds.
import { useEffect, useMemo } from "preact/hooks";
import { materialDefinitions } from "../definitions/published.js";
import { foldReceipt, seenOf } from "../folds/receipts.js";
import { withdrawn } from "../folds/gathered.js";
import { GoodsPage } from "../goods/goods_page.js";
import { ReceiptPage } from "../goods/receipt_page.js";
import { SawPage } from "../goods/saw_page.js";
import { issuesOf, receiptLines, type ReceiptLine } from "../goods/stock.js";
import type { Draft } from "../records/kinds.js";
import type { BatchLine, Tablet } from "../sync/contract.js";
import { say } from "../words/say.js";
import { NO_LOOK } from "./desk.js";
import { byReceipt, trusted } from "./goods_records.js";
import { go, type Route } from "./routes.js";

export interface GoodsScreensProps {
  readonly tablet: Tablet;
  readonly place: Extract<Route, { at: "goods" | "receipt" | "saw" }>;
  /** The batch at the saw. */
  readonly batch: BatchLine | undefined;
}

export function GoodsScreens({ tablet, place, batch }: GoodsScreensProps) {
  const records = tablet.records.value;
  const authors = tablet.authors.value;
  const materials = useMemo(() => materialDefinitions(records), [records]);
  const lines = useMemo(() => {
    const receipts = byReceipt(records);
    const proven = trusted([...receipts.values()].flat(), tablet);
    return receiptLines(receipts, (of) => foldReceipt(of, materials, proven));
  }, [records, authors, materials, tablet]);
  const add = async (draft: Draft): Promise<string | undefined> => {
    const answer = await tablet.add(draft);
    return answer.stored ? answer.record.id : undefined;
  };
  const isStored = async (draft: Draft): Promise<boolean> => (await add(draft)) !== undefined;
  const receipts = { lines, materials, add, isStored };
  if (place.at === "saw") return <Saw tablet={tablet} batch={batch} {...receipts} />;
  if (place.at === "receipt") {
    const line = lines.find((one) => one.id === place.receipt);
    return line === undefined ? (
      <main class="stop is-calm">
        <p>{say("goods.not_here")}</p>
        <button type="button" class="key main" onClick={() => go({ at: "goods" })}>
          {say("goods.title")}
        </button>
      </main>
    ) : (
      <ReceiptPage
        key={line.id}
        line={line}
        materials={materials}
        onCertificate={(body, limits) =>
          isStored({
            kind: "certificate_judged",
            v: 1,
            body,
            ...(limits === undefined ? {} : { definition: limits }),
          })
        }
        onCastMark={(body) => isStored({ kind: "cast_mark_read", v: 1, body })}
        onFile={async (bytes, type) => {
          const answer = await tablet.attach(bytes, { receipt: line.id, type });
          return answer.stored ? undefined : answer.why;
        }}
        onTakeBack={(record) =>
          isStored({ kind: "record_withdrawn", v: 1, body: { record, receipt: line.id, why: "mistyped" } })
        }
        onBack={() => go({ at: "goods" })}
      />
    );
  }
  return (
    <GoodsPage
      lines={lines}
      alloys={[...new Set([...materials.values()].map(({ alloy }) => alloy))]}
      onBars={(body) => add({ kind: "material_received", v: 1, body })}
      onComponents={(body) => add({ kind: "components_received", v: 1, body })}
      onBarEnds={(body) => add({ kind: "bar_ends_collected", v: 1, body })}
      onChosen={(receipt) => go({ at: "receipt", receipt })}
      onBack={() => go({ at: "batches" })}
    />
  );
}

interface SawProps {
  readonly tablet: Tablet;
  readonly batch: BatchLine | undefined;
  readonly lines: readonly ReceiptLine[];
  readonly isStored: (draft: Draft) => Promise<boolean>;
}

function Saw({ tablet, batch, lines, isStored }: SawProps) {
  const id = batch?.batch ?? "";
  useEffect(() => {
    if (id !== "") tablet.carry(id, NO_LOOK);
  }, [tablet, id]);
  const records = tablet.records.value;
  const ofBatch = useMemo(() => records.filter((one) => one.batch === id), [records, id]);
  const { dead } = withdrawn(new Map(ofBatch.map((one) => [one.id, one])), tablet.authors.value);
  return (
    <SawPage
      batchNumber={batch?.number ?? ""}
      lines={lines.flatMap((line) => (line.what === "bars" ? [line] : []))}
      issues={issuesOf(ofBatch, dead, lines)}
      onIssue={(body) =>
        isStored({
          kind: "bars_issued",
          v: 1,
          batch: id,
          body: { ...body, seen: [...seenOf(body.receipt, tablet.records.value)] },
        })
      }
      onRemnant={(body) => isStored({ kind: "remnant_returned", v: 1, batch: id, body })}
      onBack={() => go({ at: "look", batch: id })}
    />
  );
}

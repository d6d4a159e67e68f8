// SPDX-License-Identifier: Apache-2.0
// Goods-in: what has come, how it stands, and the keys for what comes now.
import { NotStoredLine } from "../widgets/not_stored_line.js";
import { number, moment } from "../words/measures.js";
import { say } from "../words/say.js";
import { BarEndsEntry, type BarEndsBody } from "./bar_ends_entry.js";
import { BarsEntry } from "./bars_entry.js";
import { ComponentsEntry } from "./components_entry.js";
import { StateWord } from "./state_word.js";
import type { BarsBody, ComponentsBody, ReceiptLine } from "./stock.js";
import { useState } from "preact/hooks";
import "./goods.css";

export interface GoodsPageProps {
  readonly lines: readonly ReceiptLine[];
  readonly alloys: readonly string[];
  /** The id of what was stored; undefined where it was not. */
  readonly onBars: (body: BarsBody) => Promise<string | undefined>;
  readonly onComponents: (body: ComponentsBody) => Promise<string | undefined>;
  readonly onBarEnds: (body: BarEndsBody) => Promise<string | undefined>;
  readonly onChosen: (receipt: string) => void;
  readonly onBack: () => void;
}

export function GoodsPage(props: GoodsPageProps) {
  const { lines } = props;
  const [entry, setEntry] = useState<"bars" | "components" | "bar_ends">();
  const [said, setSaid] = useState<"stored" | "not_stored">();
  const store = async (storing: Promise<string | undefined>): Promise<void> => {
    const id = await storing;
    setSaid(id === undefined ? "not_stored" : "stored");
    if (id === undefined) return;
    if (entry !== "bar_ends") props.onChosen(id);
    setEntry(undefined);
  };
  if (entry !== undefined) {
    return (
      <main class="choice goods">
        {said === "not_stored" && <NotStoredLine />}
        {entry === "bars" && (
          <BarsEntry alloys={props.alloys} onStore={(body) => void store(props.onBars(body))} />
        )}
        {entry === "components" && (
          <ComponentsEntry lines={lines} onStore={(body) => void store(props.onComponents(body))} />
        )}
        {entry === "bar_ends" && (
          <BarEndsEntry alloys={props.alloys} onStore={(body) => void store(props.onBarEnds(body))} />
        )}
        <button type="button" class="key not-yet" onClick={() => setEntry(undefined)}>
          {say("goods.title")}
        </button>
      </main>
    );
  }
  return (
    <main class="choice goods">
      <h1>{say("goods.title")}</h1>
      {said === "stored" && (
        <p class="done" role="status">
          {say("goods.stored")}
        </p>
      )}
      <div class="begin">
        <button type="button" class="key" onClick={() => setEntry("bars")}>
          {say("goods.bars_came")}
        </button>
        <button type="button" class="key" onClick={() => setEntry("components")}>
          {say("goods.components_came")}
        </button>
        <button type="button" class="key" onClick={() => setEntry("bar_ends")}>
          {say("goods.bar_ends")}
        </button>
      </div>
      {lines.length === 0 && <p class="empty">{say("goods.none")}</p>}
      <ul class="tiles">
        {lines.map((line) => (
          <li key={line.id}>
            <button type="button" class="key tile" onClick={() => props.onChosen(line.id)}>
              <strong>{line.what === "bars" ? line.body.cast : line.body.lot}</strong>
              <ReceiptWords line={line} />
              <small>{moment(line.at)}</small>
            </button>
          </li>
        ))}
      </ul>
      <button type="button" class="key not-yet" onClick={props.onBack}>
        {say("nav.batches")}
      </button>
    </main>
  );
}

export function ReceiptWords({ line }: { readonly line: ReceiptLine }) {
  if (line.what === "components") {
    return (
      <span>
        {line.body.component}, {say("batches.pieces", { count: line.body.counted })}
      </span>
    );
  }
  return (
    <>
      <span>
        {line.body.alloy} {line.body.temper}, {say("goods.bars", { count: line.body.bars })}
      </span>
      <StateWord state={line.state.state} />
    </>
  );
}

/** Counted and stated side by side, and the line that says by how much they differ. */
export function Difference({
  counted,
  stated,
}: {
  readonly counted: number;
  readonly stated: number | undefined;
}) {
  return (
    <>
      <dl class="goods-numbers">
        <div>
          <dd>{number(counted)}</dd>
          <dt>{say("goods.counted")}</dt>
        </div>
        <div>
          <dd>{stated === undefined ? "–" : number(stated)}</dd>
          <dt>{say("goods.stated")}</dt>
        </div>
      </dl>
      {stated !== undefined && stated !== counted && (
        <p class="problem">
          {say(counted < stated ? "goods.short" : "goods.over", { amount: Math.abs(counted - stated) })}
        </p>
      )}
    </>
  );
}

// SPDX-License-Identifier: Apache-2.0
// What came in, for the lead: counted and stated, certificate and cast mark, by whom, and the batches made of it.
import { boolean, integer, list, object, text, type Shape } from "../records/shape.js";
import type { Tablet } from "../sync/contract.js";
import { stateWord, verdictWord } from "../words/goods.js";
import { asRead, moment, number } from "../words/measures.js";
import { say } from "../words/say.js";
import "./batch.css";
import { HowOld, useDated } from "./dated_report.js";
import "./receipts.css";

const word = text(0, 402);
const whole = integer(Number.MIN_SAFE_INTEGER, Number.MAX_SAFE_INTEGER);
const shape = open({
  as_of: whole,
  receipts: list(
    open({
      receipt: word,
      what: word,
      name: word,
      cast: word,
      counted: whole,
      difference: whole,
      state: word,
      received_at: whole,
      by: word,
      certificates: list(
        open({
          id: word,
          verdict: word,
          by: word,
          at: whole,
          findings: list(open({ element: word, value: word, limit: word, verdict: word })),
        }),
      ),
      marks: list(open({ id: word, bars: whole, agrees: boolean, by: word, at: whole })),
      files: list(open({ file: word, here: boolean })),
      batches: list(open({ batch: word, number: word, bars: whole })),
    }),
  ),
  bar_ends: list(open({ alloy: word, container: word, pieces: whole, mass_g: whole })),
});

function open(needed: Readonly<Record<string, Shape>>): Shape {
  return object({ needed }, true);
}

interface Said {
  readonly id: string;
  readonly by: string;
  readonly at: number;
}

interface ReceiptShown {
  readonly receipt: string;
  readonly what: string;
  readonly name: string;
  readonly cast: string;
  readonly counted: number;
  readonly difference: number;
  /** Empty for components. */
  readonly state: string;
  readonly received_at: number;
  readonly by: string;
  readonly certificates: readonly (Said & {
    readonly verdict: string;
    readonly findings: readonly {
      readonly element: string;
      readonly value: string;
      readonly verdict: string;
    }[];
  })[];
  readonly marks: readonly (Said & { readonly bars: number; readonly agrees: boolean })[];
  readonly files: readonly { readonly file: string; readonly here: boolean }[];
  readonly batches: readonly { readonly batch: string; readonly number: string; readonly bars: number }[];
}

interface BarEndsShown {
  readonly alloy: string;
  readonly container: string;
  readonly pieces: number;
  readonly mass_g: number;
}

interface Goods {
  readonly receipts: readonly ReceiptShown[];
  readonly bar_ends: readonly BarEndsShown[];
}

/** The answer as it is shown; undefined when it is not what was asked for. */
export function receiptsFrom(value: unknown): Goods | undefined {
  return shape(value) === undefined ? (value as Goods) : undefined;
}

export interface ReceiptsPageProps {
  readonly tablet: Tablet;
  readonly onBatch: (batch: string) => void;
}

export function ReceiptsPage({ tablet, onBatch }: ReceiptsPageProps) {
  const report = useDated(tablet, "/receipts", receiptsFrom);
  const receipts = report.value?.receipts;
  return (
    <main class="choice receipts">
      <h1>{say("receipts.title")}</h1>
      <HowOld report={report} />
      {receipts?.length === 0 && <p class="empty">{say("receipts.none")}</p>}
      {receipts?.map((one) => (
        <OneReceipt key={one.receipt} receipt={one} onBatch={onBatch} />
      ))}
      <BarEnds barEnds={report.value?.bar_ends ?? []} />
    </main>
  );
}

/** What lies in the containers for recycling: an alloy in two of them, or two in one, is seen here. */
function BarEnds({ barEnds }: { readonly barEnds: readonly BarEndsShown[] }) {
  if (barEnds.length === 0) return null;
  return (
    <section>
      <h2>{say("goods.bar_ends")}</h2>
      <ul>
        {barEnds.map(({ alloy, container, pieces, mass_g }) => (
          <li key={`${alloy} ${container}`}>
            <strong>{alloy}</strong> {say("receipts.container", { container })}
            {mass_g > 0 && ` · ${number(mass_g / 1000)} kg`}
            {pieces > 0 && ` · ${say("receipts.ends", { pieces })}`}
          </li>
        ))}
      </ul>
    </section>
  );
}

interface OneReceiptProps {
  readonly receipt: ReceiptShown;
  readonly onBatch: (batch: string) => void;
}

function OneReceipt({ receipt, onBatch }: OneReceiptProps) {
  const { name, cast, counted, difference, state, certificates, marks, files, batches } = receipt;
  const word = stateWord(state);
  return (
    <section class={`one-receipt${state === "differs" ? " is-out" : ""}`}>
      <h2>
        {cast} <small>{name}</small>
      </h2>
      <p>
        {say("receipts.counted", { counted, by: whoOf(receipt.by), when: moment(receipt.received_at) })}
        {difference !== 0 &&
          ` ${say(difference < 0 ? "goods.short" : "goods.over", { amount: Math.abs(difference) })}.`}
      </p>
      {word !== undefined && <p class="state">{say(word)}</p>}
      <ul>
        {certificates.map((one) => (
          <li key={one.id}>
            {say(verdictWord(one.verdict))}
            {one.findings
              .filter(({ verdict }) => verdict !== "ok")
              .map(({ element, value }) => ` ${element} ${value === "" ? "–" : asRead(value)}`)
              .join(",")}
            {`, ${whoOf(one.by)}, ${moment(one.at)}`}
          </li>
        ))}
        {marks.map((one) => (
          <li key={one.id}>
            {say(one.agrees ? "goods.mark_agrees" : "goods.mark_differs", { count: one.bars })}{" "}
            {`${whoOf(one.by)}, ${moment(one.at)}`}
          </li>
        ))}
        {files.map(({ file, here }) => (
          <li key={file}>
            {here ? (
              <a class="key" href={`/api/v1/files/${file}`} download>
                {say("receipts.file")}
              </a>
            ) : (
              say("receipts.file_away")
            )}
          </li>
        ))}
      </ul>
      {batches.length > 0 && <p>{say("receipts.made_of_it")}</p>}
      <div class="made-of-it">
        {batches.map((one) => (
          <button key={one.batch} type="button" class="key" onClick={() => onBatch(one.batch)}>
            {one.number} <small>{say("goods.bars", { count: one.bars })}</small>
          </button>
        ))}
      </div>
    </section>
  );
}

function whoOf(by: string): string {
  return by === "" ? say("receipts.nobody_proven") : by;
}

// SPDX-License-Identifier: Apache-2.0
// Bars to a batch, at the saw: which cast, how many, how many pieces of each. Cutting too early, and a second cast in
// the batch, are said before anything else; whoever cuts all the same says so, and it is recorded.
import { useState } from "preact/hooks";
import { sameCast } from "../folds/receipts.js";
import { CountEntry } from "../widgets/count_entry.js";
import { NotStoredLine } from "../widgets/not_stored_line.js";
import { number, percent } from "../words/measures.js";
import { say } from "../words/say.js";
import { piecesPerBar, recovery } from "./bar_cut.js";
import { asNumber, TextField } from "./fields.js";
import { ReceiptWords } from "./goods_page.js";
import { RemnantEntry, type RemnantBody } from "./remnant_entry.js";
import { StateWord } from "./state_word.js";
import { castsOf, type BarsLine, type Issue, type IssueBody } from "./stock.js";
import "./goods.css";

export interface SawPageProps {
  readonly batchNumber: string;
  readonly lines: readonly BarsLine[];
  readonly issues: readonly Issue[];
  /** Store an issue, without what was seen of its receipt; true once it is stored. */
  readonly onIssue: (body: Omit<IssueBody, "seen">) => Promise<boolean>;
  readonly onRemnant: (body: RemnantBody) => Promise<boolean>;
  readonly onBack: () => void;
}

export function SawPage(props: SawPageProps) {
  const { batchNumber, lines, issues, onIssue, onRemnant, onBack } = props;
  const [chosen, setChosen] = useState<BarsLine>();
  const [isRemnant, setRemnant] = useState(false);
  const [isNotStored, setNotStored] = useState(false);
  const after = (storing: Promise<boolean>): void => {
    void storing.then((isStored) => {
      setNotStored(!isStored);
      if (!isStored) return;
      setChosen(undefined);
      setRemnant(false);
    });
  };
  const isEntering = chosen !== undefined || isRemnant;
  return (
    <main class="choice goods">
      <p class="on-bench">{batchNumber}</p>
      {isNotStored && <NotStoredLine />}
      {chosen !== undefined && (
        <IssueEntry line={chosen} casts={castsOf(issues)} onStore={(body) => after(onIssue(body))} />
      )}
      {isRemnant && <RemnantEntry issues={issues} onStore={(body) => after(onRemnant(body))} />}
      {!isEntering && (
        <>
          <h1>{say("saw.title")}</h1>
          <Issues issues={issues} />
          {issues.length > 0 && (
            <div class="begin">
              <button type="button" class="key" onClick={() => setRemnant(true)}>
                {say("saw.remnant")}
              </button>
            </div>
          )}
          <h2>{say("saw.which")}</h2>
          {lines.length === 0 && <p class="empty">{say("goods.none")}</p>}
          <ul class="tiles">
            {lines.map((line) => (
              <li key={line.id}>
                <button type="button" class="key tile" onClick={() => setChosen(line)}>
                  <strong>{line.body.cast}</strong>
                  <ReceiptWords line={line} />
                  {line.body.bay !== undefined && (
                    <small>{say("goods.bay_is", { bay: line.body.bay })}</small>
                  )}
                </button>
              </li>
            ))}
          </ul>
        </>
      )}
      <button
        type="button"
        class="key not-yet"
        onClick={() => {
          if (!isEntering) onBack();
          setChosen(undefined);
          setRemnant(false);
        }}
      >
        {isEntering ? say("saw.title") : batchNumber}
      </button>
    </main>
  );
}

/** What went to the batch so far. */
function Issues({ issues }: { readonly issues: readonly Issue[] }) {
  const casts = castsOf(issues);
  return (
    <>
      {casts.length > 1 && <p class="problem">{say("saw.casts", { casts: casts.join(", ") })}</p>}
      <ul class="issues">
        {issues.map(({ id, line, body }) => (
          <li key={id}>
            <strong>{line?.body.cast ?? say("saw.unknown_receipt")}</strong>
            <span>{say("goods.bars", { count: body.bars })}</span>
            {body.pieces_per_bar !== undefined && (
              <span>{say("saw.pieces", { count: body.bars * body.pieces_per_bar })}</span>
            )}
            {body.pieces_per_bar !== undefined && body.piece !== undefined && body.length !== undefined && (
              <span>
                {say("saw.recovery", {
                  share: percent(
                    recovery(body.bars * body.pieces_per_bar, body.piece, body.bars, body.length),
                  ),
                })}
              </span>
            )}
            {line !== undefined && <StateWord state={line.state.state} />}
          </li>
        ))}
      </ul>
    </>
  );
}

interface IssueEntryProps {
  readonly line: BarsLine;
  /** Casts that lie in the batch already. */
  readonly casts: readonly string[];
  readonly onStore: (body: Omit<IssueBody, "seen">) => void;
}

function IssueEntry({ line, casts, onStore }: IssueEntryProps) {
  const isEarly = line.state.state !== "agrees";
  const others = casts.filter((cast) => !sameCast(cast, line.body.cast));
  const [isToldEarly, setToldEarly] = useState(!isEarly);
  const [keptApart, setKeptApart] = useState<boolean>();
  if (!isToldEarly) return <TooEarly line={line} onCut={() => setToldEarly(true)} />;
  if (others.length > 0 && keptApart === undefined) {
    return (
      <section class="goods-form warning">
        <h1>{say("saw.other_cast", { cast: line.body.cast, others: others.join(", ") })}</h1>
        <p>{say("saw.other_cast_do")}</p>
        <div class="pair">
          <button type="button" class="key main" onClick={() => setKeptApart(true)}>
            {say("saw.new_bin")}
          </button>
          <button type="button" class="key" onClick={() => setKeptApart(false)}>
            {say("saw.not_apart")}
          </button>
        </div>
      </section>
    );
  }
  return (
    <Amounts
      line={line}
      onStore={(amounts) =>
        onStore({
          receipt: line.id,
          ...amounts,
          ...(keptApart === undefined ? {} : { kept_apart: keptApart }),
        })
      }
    />
  );
}

/** Cutting before certificate and cast mark agree: warned of, never refused, and a hold. */
function TooEarly({ line, onCut }: { readonly line: BarsLine; readonly onCut: () => void }) {
  const { certificates, marks } = line.state;
  const reasons = [
    ...(certificates.length === 0 ? [say("saw.no_certificate")] : []),
    ...(certificates.some(({ verdict }) => verdict === "out") ? [say("goods.certificate_out")] : []),
    ...(certificates.some(({ verdict }) => verdict === "unjudged")
      ? [say("goods.certificate_unjudged")]
      : []),
    ...(marks.length === 0 ? [say("saw.no_mark")] : []),
    ...(marks.some(({ agrees }) => !agrees) ? [say("saw.mark_differs")] : []),
    ...([...certificates, ...marks].some(({ proven }) => !proven) ? [say("saw.not_proven")] : []),
  ];
  return (
    <section class="goods-form warning">
      <h1>{say("saw.early", { cast: line.body.cast })}</h1>
      <StateWord state={line.state.state} />
      <ul>
        {reasons.map((reason) => (
          <li key={reason}>{reason}</li>
        ))}
      </ul>
      <p>{say("saw.early_do")}</p>
      <div class="begin">
        <button type="button" class="key" onClick={onCut}>
          {say("saw.early_cut")}
        </button>
      </div>
    </section>
  );
}

type Amounts = Omit<IssueBody, "seen" | "receipt" | "kept_apart">;

/** Bars, then pieces of each, with what a bar of this length would give beside it. */
function Amounts({
  line,
  onStore,
}: {
  readonly line: BarsLine;
  readonly onStore: (amounts: Amounts) => void;
}) {
  const [bars, setBars] = useState<number>();
  const [length, setLength] = useState(line.body.length ?? "");
  const [piece, setPiece] = useState("");
  const [kerf, setKerf] = useState("");
  if (bars === undefined) {
    return (
      <CountEntry
        key="bars"
        title={say("saw.bars_title", { cast: line.body.cast })}
        what={say("saw.bars_what", { count: line.body.bars })}
        digits={5}
        act={say("count.next")}
        check={(count) => (count === 0 ? say("saw.bars_none") : undefined)}
        onCounted={setBars}
      />
    );
  }
  const lengths = { bar: asNumber(length), piece: asNumber(piece) };
  const cut =
    lengths.bar === undefined || lengths.piece === undefined
      ? undefined
      : piecesPerBar(lengths.bar, lengths.piece, asNumber(kerf) ?? "0");
  const store = (pieces: number | undefined): void =>
    onStore({
      bars,
      ...(pieces === undefined ? {} : { pieces_per_bar: pieces }),
      ...(lengths.bar === undefined ? {} : { length: lengths.bar }),
      ...(lengths.piece === undefined ? {} : { piece: lengths.piece }),
    });
  return (
    <section class="goods-form">
      <div class="fields">
        <TextField label={say("goods.length")} value={length} isNumber onChange={setLength} />
        <TextField label={say("saw.piece")} value={piece} isNumber onChange={setPiece} />
        <TextField label={say("saw.kerf")} value={kerf} isNumber onChange={setKerf} />
      </div>
      {cut !== undefined && (
        <p class="done">{say("saw.gives", { count: cut.pieces, left: number(cut.leftMm) })}</p>
      )}
      <CountEntry
        key="pieces"
        title={say("saw.per_bar_title")}
        what={say("saw.per_bar_what")}
        digits={4}
        act={say("goods.store")}
        check={(count) => (count === 0 ? say("saw.per_bar_none") : undefined)}
        onCounted={store}
      >
        <button type="button" class="key" onClick={() => store(undefined)}>
          {say("saw.not_counted")}
        </button>
      </CountEntry>
    </section>
  );
}

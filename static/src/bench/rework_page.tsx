// SPDX-License-Identifier: Apache-2.0
// Rework out and back, counted each time before the earlier figure is shown; and the pieces that are back, each
// looked at as new.
import { useState } from "preact/hooks";
import type { LookCount } from "../folds/ledger.js";
import type { PieceVerdict } from "../folds/verdicts.js";
import type { DefectWord, PartDefinition } from "../records/kinds.js";
import { CountEntry } from "../widgets/count_entry.js";
import { NotStoredLine } from "../widgets/not_stored_line.js";
import { number } from "../words/measures.js";
import { lookName } from "../words/looks.js";
import { inOneLine, inWords, say } from "../words/say.js";
import { hasKey } from "./key_layout.js";
import { zoneDecides } from "./word_class.js";
import "./look_pages.css";
import "./trays.css";

export type ReworkKind = "rework_sent" | "rework_returned";
/** What came of a piece that was looked at as new. */
export type NewVerdict =
  | { readonly verdict: "accept" | "query" }
  | { readonly verdict: "reject"; readonly defect: string; readonly zone?: string };

export interface ReworkPageProps {
  readonly batchNumber: string;
  readonly look: string;
  readonly definition: PartDefinition;
  readonly page: LookCount | undefined;
  /** The pieces of this look whose verdict is rework. */
  readonly pieces: readonly PieceVerdict[];
  /** How many pieces were looked at as new already. */
  readonly lookedAtAnew: number;
  readonly tag: (piece: string) => string;
  readonly onCounted: (kind: ReworkKind, pieces: number) => Promise<boolean>;
  readonly onVerdict: (piece: PieceVerdict, verdict: NewVerdict) => Promise<boolean>;
  readonly onBack: () => void;
}

export function ReworkPage(props: ReworkPageProps) {
  const { page, pieces } = props;
  const [counting, setCounting] = useState<ReworkKind>();
  const [judging, setJudging] = useState<PieceVerdict>();
  const [counted, setCounted] = useState<{ readonly kind: ReworkKind; readonly pieces: number }>();
  const [isNotStored, setNotStored] = useState(false);
  const store = async (kind: ReworkKind, count: number): Promise<void> => {
    const isStored = await props.onCounted(kind, count);
    setNotStored(!isStored);
    setCounting(undefined);
    setCounted(isStored ? { kind, pieces: count } : undefined);
  };
  const judge = async (piece: PieceVerdict, verdict: NewVerdict): Promise<void> => {
    setNotStored(!(await props.onVerdict(piece, verdict)));
    setJudging(undefined);
  };
  return (
    <main class="choice rework">
      <p class="on-bench">
        {props.batchNumber} <small>{lookName(props.look)}</small>
      </p>
      {isNotStored && <NotStoredLine />}
      {counting !== undefined ? (
        <CountEntry
          title={say(counting === "rework_sent" ? "rework.sent_title" : "rework.returned_title")}
          what={say("rework.count_what")}
          digits={4}
          act={say("count.store")}
          check={(count) => (count === 0 ? say("rework.none_counted") : undefined)}
          onCounted={(count) => void store(counting, count)}
        />
      ) : judging !== undefined ? (
        <NewLook piece={judging} {...props} onVerdict={(verdict) => void judge(judging, verdict)} />
      ) : (
        <>
          <h1>{say("look.rework")}</h1>
          {counted !== undefined && page !== undefined && <Counted counted={counted} page={page} />}
          <div class="pair">
            <button type="button" class="key" onClick={() => setCounting("rework_sent")}>
              {say("rework.send")}
            </button>
            <button type="button" class="key" onClick={() => setCounting("rework_returned")}>
              {say("rework.return")}
            </button>
          </div>
          <Pieces {...props} isBack={(page?.returned ?? 0) > props.lookedAtAnew} onChoose={setJudging} />
        </>
      )}
      <button
        type="button"
        class="key not-yet"
        onClick={
          counting === undefined && judging === undefined
            ? props.onBack
            : () => {
                setCounting(undefined);
                setJudging(undefined);
              }
        }
      >
        {say(counting === undefined && judging === undefined ? "nav.trays" : "look.rework")}
      </button>
      {pieces.length === 0 && <p class="as-of">{say("rework.no_pieces")}</p>}
    </main>
  );
}

interface CountedProps {
  readonly counted: { readonly kind: ReworkKind; readonly pieces: number };
  readonly page: LookCount;
}

/** The own count first; what was sent and came back in all stands beside it only now. */
function Counted({ counted, page }: CountedProps) {
  return (
    <figure class="look-numbers" role="status">
      <dl>
        <div>
          <dd>{number(counted.pieces)}</dd>
          <dt>{say(counted.kind === "rework_sent" ? "rework.stored_sent" : "rework.stored_returned")}</dt>
        </div>
        <div>
          <dd>{number(page.sent)}</dd>
          <dt>{say("rework.sent_in_all")}</dt>
        </div>
        <div>
          <dd>{number(page.returned)}</dd>
          <dt>{say("rework.returned_in_all")}</dt>
        </div>
      </dl>
    </figure>
  );
}

interface PiecesProps extends ReworkPageProps {
  readonly isBack: boolean;
  readonly onChoose: (piece: PieceVerdict) => void;
}

function Pieces({ pieces, tag, isBack, onChoose }: PiecesProps) {
  if (pieces.length === 0) return null;
  return (
    <section>
      <h2>{say("rework.pieces")}</h2>
      <p>{say(isBack ? "rework.choose" : "rework.not_back")}</p>
      <ul class="tiles">
        {pieces.map((piece) => (
          <li key={piece.piece}>
            <button type="button" class="key tile" disabled={!isBack} onClick={() => onChoose(piece)}>
              <strong>{tag(piece.piece)}</strong>
              <span>{say("rework.round", { round: piece.round + 1 })}</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

interface NewLookProps extends Omit<ReworkPageProps, "onVerdict"> {
  readonly piece: PieceVerdict;
  readonly onVerdict: (verdict: NewVerdict) => void;
}

/** One piece in the hand: accept, not sure, or reject with its word, and its zone where that decides the class. */
function NewLook({ piece, definition, tag, onVerdict }: NewLookProps) {
  const [isRejecting, setRejecting] = useState(false);
  const [word, setWord] = useState<DefectWord>();
  const reject = (defect: string, zone?: string): void =>
    onVerdict({ verdict: "reject", defect, ...(zone === undefined ? {} : { zone }) });
  const name = tag(piece.piece);
  if (word !== undefined) {
    return (
      <section>
        <h1>{say("tally.where", { what: inOneLine(inWords(word.key)) })}</h1>
        <div class="pair">
          {(definition.zones ?? []).map((zone) => (
            <button key={zone.zone} type="button" class="key" onClick={() => reject(word.defect, zone.zone)}>
              {inWords(zone.words)}
            </button>
          ))}
          <button type="button" class="key" onClick={() => reject(word.defect)}>
            {say("tally.where_not_said")}
          </button>
        </div>
      </section>
    );
  }
  if (isRejecting) {
    return (
      <section>
        <h1>{say("rework.which_word", { tag: name })}</h1>
        <div class="pair">
          {definition.defects.filter(hasKey).map((one) => (
            <button
              key={one.defect}
              type="button"
              class="key"
              onClick={() => (zoneDecides(one, definition) ? setWord(one) : reject(one.defect))}
            >
              {inOneLine(inWords(one.key))}
            </button>
          ))}
        </div>
      </section>
    );
  }
  return (
    <section>
      <h1>{say("rework.as_new", { tag: name, round: piece.round + 1 })}</h1>
      <p>{say("rework.as_new_what")}</p>
      <div class="pair">
        <button type="button" class="key main" onClick={() => onVerdict({ verdict: "accept" })}>
          {say("holds.accept")}
        </button>
        <button type="button" class="key main" onClick={() => setRejecting(true)}>
          {say("holds.reject")}
        </button>
        <button type="button" class="key main" onClick={() => onVerdict({ verdict: "query" })}>
          {say("tally.not_sure")}
        </button>
      </div>
    </section>
  );
}

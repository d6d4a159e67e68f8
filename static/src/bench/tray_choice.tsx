// SPDX-License-Identifier: Apache-2.0
// The page of a look: which tray lies here, what does not agree, and the ways to what else a look needs.
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { NotStoredLine } from "../widgets/not_stored_line.js";
import { lookName } from "../words/looks.js";
import { say, type Key } from "../words/say.js";
import { LookNumbers } from "./look_numbers.js";
import type { InHand, LookState } from "./look_state.js";
import { OtherNumber } from "./other_number.js";
import { TakeOver } from "./take_over.js";
import { TrayCards } from "./tray_cards.js";
import "./trays.css";
import { Unconfirmed, type UnconfirmedProps } from "./unconfirmed.js";

/** The other pages of a look. */
export const LOOK_PAGES = ["count", "rework", "strays", "sign"] as const;
export type LookPage = (typeof LOOK_PAGES)[number];

const PAGE_KEYS: Readonly<Record<LookPage, Key>> = {
  count: "look.count",
  rework: "look.rework",
  strays: "look.strays",
  sign: "look.sign",
};

export interface TrayChoiceProps extends UnconfirmedProps {
  readonly batchNumber: string;
  readonly look: string;
  readonly state: LookState;
  /** Places of a tray of this part. */
  readonly places: number;
  readonly chain: string;
  readonly isWhole: boolean;
  readonly justClosed: number | undefined;
  readonly notStored: boolean;
  /** What does not agree, each in a sentence. */
  readonly differences: readonly string[];
  readonly pages: readonly LookPage[];
  readonly tabletName: (device: string) => string;
  readonly onBegin: (number: number) => void;
  readonly onGoOn: (tray: string) => void;
  readonly onEntries: (tray: string) => void;
  readonly onTake: (tray: InHand, from: "left" | "first") => void;
  readonly onPage: (page: LookPage) => void;
  /** What is known of the eyes of whoever works here. */
  readonly children?: ComponentChildren;
}

export function TrayChoice(props: TrayChoiceProps) {
  const { state, tabletName } = props;
  const [taking, setTaking] = useState<InHand>();
  if (taking !== undefined) {
    return (
      <TakeOver
        one={taking}
        tablet={tabletName(taking.device)}
        onTake={(from) => props.onTake(taking, from)}
        onBack={() => setTaking(undefined)}
      />
    );
  }
  return (
    <main class="choice tray-choice">
      <h1>{say("tray.title")}</h1>
      <p class="on-bench">
        {props.batchNumber} <small>{lookName(props.look)}</small>
      </p>
      <Said {...props} />
      <LookNumbers {...state} />
      {props.children}
      <Begin {...props} />
      <nav class="look-ways" aria-label={lookName(props.look)}>
        {props.pages.map((page) => (
          <button key={page} type="button" class="key" onClick={() => props.onPage(page)}>
            {say(PAGE_KEYS[page])}
          </button>
        ))}
      </nav>
      {!props.isWhole && <p class="as-of">{say("tray.not_whole")}</p>}
      <Unconfirmed {...props} />
      {props.differences.length > 0 && (
        <section>
          <h2>{say("tray.differences")}</h2>
          <ul class="sentences">
            {props.differences.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        </section>
      )}
      <TrayCards
        cards={state.cards}
        chain={props.chain}
        isCounted={state.due !== undefined}
        tabletName={tabletName}
        onBegin={props.onBegin}
        onGoOn={props.onGoOn}
        onEntries={props.onEntries}
        onTakeOver={setTaking}
      />
    </main>
  );
}

/** What just happened, and how the look stands as a whole. */
function Said({ justClosed, notStored, state }: TrayChoiceProps) {
  const { due, lookedAt, waiting, cards } = state;
  const closedPieces = lookedAt + waiting;
  const isAnyOpen = cards.some((card) => card.open.length > 0);
  return (
    <>
      {justClosed !== undefined && (
        <p class="done" role="status">
          {say("end.closed", { number: justClosed })}
        </p>
      )}
      {notStored && <NotStoredLine />}
      {due === undefined && <p class="as-of">{say("tray.not_counted")}</p>}
      {closedPieces === due && !isAnyOpen && <p class="done">{say("tray.all_closed")}</p>}
      {due !== undefined && closedPieces > due && <p class="problem">{say("tray.too_many_known")}</p>}
    </>
  );
}

function Begin({ state, places, onBegin, onGoOn }: TrayChoiceProps) {
  const { own, nextNumber, cards, due } = state;
  const carded = cards.filter((card) => card.due > 0);
  const next = carded.find((card) => card.number === nextNumber);
  return (
    <div class="begin">
      {own.map(({ tray }) => (
        <button key={tray.id} type="button" class="key main" onClick={() => onGoOn(tray.id)}>
          {say("tray.go_on", { number: tray.number })}
        </button>
      ))}
      {nextNumber !== undefined && (
        <button
          type="button"
          class={`key ${own.length > 0 ? "" : "main"}`}
          onClick={() => onBegin(nextNumber)}
        >
          {say("tray.begin", { number: nextNumber })}
          <small>
            {due !== undefined && `${say("tally.of_trays", { count: carded.length })}, `}
            {next === undefined
              ? say("tray.places", { count: places })
              : say("batches.pieces", { count: next.due })}
          </small>
        </button>
      )}
      <OtherNumber
        taken={cards.filter((card) => card.open.length + card.closed.length > 0).map((card) => card.number)}
        due={due === undefined ? undefined : carded.map((card) => card.number)}
        onBegin={onBegin}
      />
    </div>
  );
}

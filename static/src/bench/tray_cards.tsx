// SPDX-License-Identifier: Apache-2.0
// The trays of a look as keys, one for each card: what lies where, and what is to be done with it.
import type { Tray } from "../folds/tally.js";
import { moment } from "../words/measures.js";
import { say } from "../words/say.js";
import { isProven, type InHand, type TrayCard } from "./look_state.js";
import { TrayShape, type TrayStage } from "./tray_shape.js";
import "./look_pages.css";

export interface TrayCardsProps {
  readonly cards: readonly TrayCard[];
  readonly chain: string;
  /** True once the batch was counted in: a tray without a card is then not due. */
  readonly isCounted: boolean;
  readonly tabletName: (device: string) => string;
  readonly onBegin: (number: number) => void;
  readonly onGoOn: (tray: string) => void;
  readonly onEntries: (tray: string) => void;
  readonly onTakeOver: (tray: InHand) => void;
}

export function TrayCards(props: TrayCardsProps) {
  if (props.cards.length === 0) return <p class="empty">{say("tray.none")}</p>;
  return (
    <section>
      <h2>{say("tray.cards")}</h2>
      <ul class="tiles tray-cards">
        {props.cards.map((card) => (
          <li key={card.number}>
            <OneCard {...props} card={card} />
          </li>
        ))}
      </ul>
    </section>
  );
}

function OneCard({ card, ...props }: TrayCardsProps & { readonly card: TrayCard }) {
  const { number, due, closed, open } = card;
  const isUntouched = closed.length + open.length === 0;
  return (
    <div class="tray-card">
      <p>
        <strong>{say("tally.tray", { number })}</strong> {due > 0 && say("batches.pieces", { count: due })}
        {due === 0 && props.isCounted && say("tray.no_card")}
      </p>
      {isUntouched && (
        <button type="button" class="key" onClick={() => props.onBegin(number)}>
          <TrayShape stage="not_begun" /> {say("tray.begin", { number })}
        </button>
      )}
      {open.map((one) => (
        <OpenTray key={one.tray.id} {...props} one={one} />
      ))}
      {closed.map(({ tray, device, at, pieces }) => (
        <div key={tray.id} class="closed-tray-line">
          <p>
            <TrayShape stage={closed.length > 1 || tray.closings_differ ? "twice" : "closed"} />{" "}
            {`${stateOf(tray)}, ${say("author.looked_at", { count: pieces })}`}
            {closed.length > 1 && (
              <small> {say("tray.opened_on", { tablet: props.tabletName(device), when: moment(at) })}</small>
            )}
          </p>
          <button type="button" class="key" onClick={() => props.onEntries(tray.id)}>
            {say("tray.entries", { number })}
          </button>
        </div>
      ))}
    </div>
  );
}

function stateOf(tray: Tray): string {
  if (tray.closings_differ) return say("tray.state_differ");
  return say(isProven(tray) ? "tray.state_closed" : "tray.state_unproven");
}

function OpenTray({ one, chain, tabletName, onGoOn, onTakeOver }: TrayCardsProps & { readonly one: InHand }) {
  const { tray, left } = one;
  const isHere = one.chain === chain;
  const stage: TrayStage = left !== undefined ? "left" : isHere ? "here" : "elsewhere";
  const where =
    left !== undefined
      ? say("tray.state_left", { place: left.place, when: moment(left.at) })
      : isHere
        ? say("tray.state_open")
        : say("tray.state_open_elsewhere", { tablet: tabletName(one.device), when: moment(one.since) });
  return (
    <>
      <p>
        <TrayShape stage={stage} /> {where}
      </p>
      <button
        type="button"
        class="key"
        onClick={() => (isHere && left === undefined ? onGoOn(tray.id) : onTakeOver(one))}
      >
        {isHere && left === undefined
          ? say("tray.go_on", { number: tray.number })
          : say("tray.take_over", { number: tray.number })}
      </button>
    </>
  );
}

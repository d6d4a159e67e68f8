// SPDX-License-Identifier: Apache-2.0
// Counting a batch in before a look: how many pieces lie in which trays. What was counted or stated before is shown
// only when the own count is stored.
import { useState } from "preact/hooks";
import type { PartDefinition } from "../records/kinds.js";
import { CountEntry } from "../widgets/count_entry.js";
import { NotStoredLine } from "../widgets/not_stored_line.js";
import { moment, number } from "../words/measures.js";
import { lookName } from "../words/looks.js";
import { inWords, say } from "../words/say.js";
import { dealt, furtherNumber, piecesOn, withCard, withoutCard, type Card } from "./count_cards.js";
import "./look_pages.css";
import "./trays.css";

/** A count of this look by somebody. */
export interface EarlierCount {
  readonly id: string;
  readonly pieces: number;
  /** Empty where the author is not proven. */
  readonly by: string;
  readonly at: number;
}

export interface CountInProps {
  readonly batchNumber: string;
  readonly look: string;
  readonly definition: PartDefinition;
  /** Pieces the batch was opened with. */
  readonly opened: number;
  readonly counts: readonly EarlierCount[];
  /** True when whoever counts has looked at pieces of this look. */
  readonly isLooker: boolean;
  /** The stored count's id; undefined when it was not stored. */
  readonly onStore: (cards: readonly Card[], operation: number | undefined) => Promise<string | undefined>;
  readonly onTakeBack: (count: string) => Promise<boolean>;
  readonly onBack: () => void;
}

const MOST_FULL = 999;

export function CountIn(props: CountInProps) {
  const { definition } = props;
  const places = definition.tray_places;
  const [full, setFull] = useState<number>();
  const [cards, setCards] = useState<readonly Card[]>();
  const [changing, setChanging] = useState<number>();
  const [stored, setStored] = useState<string>();
  const [isNotStored, setNotStored] = useState(false);
  const store = async (operation: number | undefined): Promise<void> => {
    const id = await props.onStore(cards ?? [], operation);
    setStored(id);
    setNotStored(id === undefined);
  };
  const anew = (): void => {
    setFull(undefined);
    setCards(undefined);
    setStored(undefined);
  };
  const tooMany = (count: number): string | undefined =>
    count > places ? say("count.more_than_places", { count, places }) : undefined;
  return (
    <main class="choice count-in">
      <p class="on-bench">
        {props.batchNumber} <small>{lookName(props.look)}</small>
      </p>
      {props.isLooker && <p class="problem">{say("count.looker")}</p>}
      {isNotStored && <NotStoredLine />}
      {stored !== undefined ? (
        <Compared {...props} stored={stored} onAnew={anew} />
      ) : changing !== undefined ? (
        <CountEntry
          title={say("count.tray_title", { number: changing })}
          what={say("count.tray_what")}
          digits={4}
          act={say("count.take")}
          onCounted={(pieces) => {
            setCards(withCard(cards ?? [], { number: changing, pieces }));
            setChanging(undefined);
          }}
        >
          <button
            type="button"
            class="key"
            onClick={() => {
              setCards(withoutCard(cards ?? [], changing));
              setChanging(undefined);
            }}
          >
            {say("count.no_such_tray", { number: changing })}
          </button>
        </CountEntry>
      ) : full === undefined ? (
        <CountEntry
          key="full"
          title={say("count.full_title")}
          what={say("count.full_what", { places })}
          digits={String(MOST_FULL).length}
          act={say("count.next")}
          onCounted={setFull}
        />
      ) : cards === undefined ? (
        <CountEntry
          key="last"
          title={say("count.last_title")}
          what={say("count.last_what")}
          digits={4}
          act={say("count.next")}
          check={tooMany}
          onCounted={(last) => setCards(dealt(full, places, last))}
        >
          <button type="button" class="key" onClick={() => setCards(dealt(full, places, 0))}>
            {say("count.no_last")}
          </button>
        </CountEntry>
      ) : (
        <Cards
          cards={cards}
          definition={definition}
          onChange={setChanging}
          onAnew={anew}
          onStore={(operation) => void store(operation)}
        />
      )}
      <button type="button" class="key not-yet" onClick={props.onBack}>
        {say("nav.trays")}
      </button>
    </main>
  );
}

interface CardsProps {
  readonly cards: readonly Card[];
  readonly definition: PartDefinition;
  readonly onChange: (number: number) => void;
  readonly onAnew: () => void;
  readonly onStore: (operation: number | undefined) => void;
}

/** Tray by tray, before it is stored: each can still be put right. */
function Cards({ cards, definition, onChange, onAnew, onStore }: CardsProps) {
  const operations = definition.operations ?? [];
  const [operation, setOperation] = useState("");
  return (
    <section class="counted">
      <h1>{say("count.check_title", { pieces: piecesOn(cards), trays: cards.length })}</h1>
      <p>{say("count.check_what")}</p>
      <ul class="tiles">
        {cards.map((card) => (
          <li key={card.number}>
            <button type="button" class="key tile" onClick={() => onChange(card.number)}>
              {say("tally.tray", { number: card.number })}
              <strong>{say("batches.pieces", { count: card.pieces })}</strong>
            </button>
          </li>
        ))}
      </ul>
      <div class="pair">
        <button type="button" class="key" onClick={() => onChange(furtherNumber(cards))}>
          {say("count.further", { number: furtherNumber(cards) })}
        </button>
        <button type="button" class="key" onClick={onAnew}>
          {say("end.count_again")}
        </button>
      </div>
      {operations.length > 0 && (
        <label class="field">
          <span>{say("count.operation")}</span>
          <select value={operation} onChange={(event) => setOperation(event.currentTarget.value)}>
            <option value="">{say("count.operation_not_said")}</option>
            {operations.map((one) => (
              <option key={one.operation} value={String(one.operation)}>
                {one.operation} {inWords(one.words)}
              </option>
            ))}
          </select>
        </label>
      )}
      <div class="close-row">
        <button
          type="button"
          class="key main all-looked-at"
          disabled={cards.length === 0}
          onClick={() => onStore(operation === "" ? undefined : Number(operation))}
        >
          {say("count.store")}
          <small>{say("count.store_what", { pieces: piecesOn(cards), trays: cards.length })}</small>
        </button>
      </div>
    </section>
  );
}

/** The own count beside what others counted, and what the batch was opened with. */
function Compared(props: CountInProps & { readonly stored: string; readonly onAnew: () => void }) {
  const { counts, stored, opened, onTakeBack, onAnew } = props;
  const own = counts.find((count) => count.id === stored);
  const others = counts.filter((count) => count.id !== stored);
  const takeBack = async (): Promise<void> => {
    if (await onTakeBack(stored)) onAnew();
  };
  return (
    <section class="counted">
      <h1>{say("count.stored")}</h1>
      <dl class="tray-numbers">
        <div>
          <dd>{number(own?.pieces ?? 0)}</dd>
          <dt>{say("count.yours")}</dt>
        </div>
        {others.map((count) => (
          <div key={count.id}>
            <dd>{number(count.pieces)}</dd>
            <dt>
              {say(count.by === "" ? "count.by_nobody" : "count.by", {
                person: count.by,
                when: moment(count.at),
              })}
            </dt>
          </div>
        ))}
        <div>
          <dd>{number(opened)}</dd>
          <dt>{say("count.opened")}</dt>
        </div>
      </dl>
      {others.length > 0 && <p>{say("count.newest")}</p>}
      <button type="button" class="key" onClick={() => void takeBack()}>
        {say("count.take_back")}
      </button>
    </section>
  );
}

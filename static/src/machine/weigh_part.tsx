// SPDX-License-Identifier: Apache-2.0
// Pieces by weight: a counted reference first, then tray by tray, each with the chance that its count is wrong.
import { useState } from "preact/hooks";
import { asRead, number, percent, pointOf } from "../words/measures.js";
import { say } from "../words/say.js";
import { CountField } from "./count_field.js";
import { NumberField, NumberPad } from "./number_pad.js";
import { isNumber } from "./reading.js";
import type { RecountBody } from "./stints.js";
import { piecesFromMass, type WeighCount } from "./weigh_count.js";

type Weighing = NonNullable<RecountBody["weighing"]>;

/** How far the mass of one piece spreads: its standard deviation, in per cent. */
const SPREADS = ["0.5", "1", "2", "3"] as const;
/** From here on a tray's count is too often wrong to be of use. */
const OFTEN_WRONG = 0.01;
/** A chance below this is said as being below it. */
const LEAST_SAID = 0.001;

export interface WeighPartProps {
  readonly onWeighed: (pieces: number, weighing: Weighing) => void;
}

export function WeighPart({ onWeighed }: WeighPartProps) {
  const [counted, setCounted] = useState<number>();
  const [grams, setGrams] = useState<string>();
  const [spread, setSpread] = useState<string>();
  const [trays, setTrays] = useState<Weighing["trays"]>([]);
  const [isWeighing, setWeighing] = useState(true);
  if (counted === undefined || counted < 1) {
    return (
      <CountField
        title={say("weigh.reference")}
        what={say("weigh.reference_what")}
        act={say("count.next")}
        onCounted={setCounted}
      />
    );
  }
  if (grams === undefined)
    return <MassField key="reference" title={say("weigh.reference_mass", { counted })} onMass={setGrams} />;
  if (spread === undefined) {
    return (
      <section class="samples">
        <h1>{say("weigh.spread")}</h1>
        <p>{say("weigh.spread_what")}</p>
        <div class="tell-keys">
          {SPREADS.map((one) => (
            <button key={one} type="button" class="key" onClick={() => setSpread(one)}>
              {asRead(one)} %
            </button>
          ))}
        </div>
      </section>
    );
  }
  const weigh = (net: string): WeighCount =>
    piecesFromMass(Number(net), Number(grams), counted, Number(spread) / 100);
  if (isWeighing) {
    return (
      <MassField
        key={trays.length}
        title={say("weigh.tray", { tray: trays.length + 1 })}
        onMass={(net) => {
          setTrays([...trays, { grams: net, pieces: weigh(net).pieces }]);
          setWeighing(false);
        }}
      />
    );
  }
  const whole = trays.reduce((sum, tray) => sum + tray.pieces, 0);
  return (
    <section class="samples">
      <h1>{say("weigh.so_far", { pieces: whole, trays: trays.length })}</h1>
      <ul class="count-lines">
        {trays.map((tray, place) => {
          const { chanceWrong } = weigh(tray.grams);
          return (
            <li key={place} class={chanceWrong > OFTEN_WRONG ? "problem" : undefined}>
              <span>{asRead(tray.grams)} g</span>
              <strong>{number(tray.pieces)}</strong>
              <span>
                {chanceWrong < LEAST_SAID
                  ? say("weigh.chance_least", { chance: percent(LEAST_SAID) })
                  : say("weigh.chance", { chance: percent(chanceWrong) })}
              </span>
            </li>
          );
        })}
      </ul>
      <p>{say("weigh.by_tray")}</p>
      <div class="tell-keys">
        <button type="button" class="key" onClick={() => setWeighing(true)}>
          {say("weigh.next_tray")}
        </button>
        <button
          type="button"
          class="key main"
          onClick={() => onWeighed(whole, { counted, grams, spread_percent: spread, trays })}
        >
          {say("check.store")}
        </button>
      </div>
    </section>
  );
}

/** A mass as the scale shows it, without the tray. */
function MassField({ title, onMass }: { readonly title: string; readonly onMass: (grams: string) => void }) {
  const [typed, setTyped] = useState("");
  const [isWrong, setWrong] = useState(false);
  const enter = (): void => {
    const isMass = isNumber(typed) && Number(typed) > 0;
    setWrong(!isMass);
    if (isMass) onMass(typed);
  };
  return (
    <section class="count-field">
      <div class="count-asked">
        <h1>{title}</h1>
        <p>{say("weigh.net")}</p>
        <NumberField
          value={typed}
          label={title}
          unit="g"
          problem={isWrong ? say("check.no_number", { point: pointOf() }) : undefined}
          onChange={setTyped}
          onEnter={enter}
        />
      </div>
      <NumberPad value={typed} signs={undefined} onChange={setTyped}>
        <button type="button" class="key main store" onClick={enter}>
          {say("count.next")}
        </button>
      </NumberPad>
    </section>
  );
}

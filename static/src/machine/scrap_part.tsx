// SPDX-License-Identifier: Apache-2.0
// Scrap of an operation is handed in and destroyed, or kept for a use with a name: counted, and by two people.
import { useState } from "preact/hooks";
import type { RecordOf } from "../records/kinds.js";
import { PinField } from "../widgets/pin_field.js";
import { NotStoredLine } from "../widgets/not_stored_line.js";
import { say, type Key } from "../words/say.js";
import { CountField } from "./count_field.js";

export type ScrapCount = Omit<RecordOf<"scrap_destroyed">["body"], "operation">;
type KeptFor = NonNullable<ScrapCount["kept_for"]>;

export interface Second {
  readonly id: string;
  readonly name: string;
}

export interface ScrapPartProps {
  readonly seconds: readonly Second[];
  readonly onCounted: (counted: ScrapCount) => Promise<string | undefined>;
  readonly onSecond: (record: string, person: string, pin: string) => Promise<boolean>;
  readonly onDone: () => void;
}

const KEPT_FOR = {
  limit_sample: "scrap.limit_sample",
  seeded_piece: "scrap.seeded_piece",
  analysis: "scrap.analysis",
  returned_to_supplier: "scrap.returned",
} as const satisfies Readonly<Record<KeptFor, Key>>;

type Counted = Partial<Pick<ScrapCount, "handed_in" | "destroyed" | "kept">>;

export function ScrapPart({ seconds, onCounted, onSecond, onDone }: ScrapPartProps) {
  const [counted, setCounted] = useState<Counted>({});
  const [stored, setStored] = useState<string>();
  const { handed_in, destroyed, kept } = counted;
  const store = async (whole: ScrapCount): Promise<void> => setStored(await onCounted(whole));
  if (stored !== undefined) return <SecondName seconds={seconds} record={stored} {...{ onSecond, onDone }} />;
  if (handed_in === undefined) {
    return (
      <CountField
        key="handed_in"
        title={say("scrap.handed_in")}
        what={say("scrap.handed_in_what")}
        act={say("count.next")}
        onCounted={(pieces) => {
          if (pieces > 0) setCounted({ handed_in: pieces });
        }}
      />
    );
  }
  if (destroyed === undefined) {
    return (
      <CountField
        key="destroyed"
        title={say("scrap.destroyed")}
        what={say("scrap.destroyed_what")}
        act={say("count.next")}
        onCounted={(pieces) => setCounted({ ...counted, destroyed: pieces })}
      />
    );
  }
  if (kept === undefined) {
    return (
      <CountField
        key="kept"
        title={say("scrap.kept")}
        what={say("scrap.kept_what")}
        act={say("count.next")}
        onCounted={(pieces) => {
          setCounted({ ...counted, kept: pieces });
          if (pieces === 0) void store({ handed_in, destroyed, kept: 0 });
        }}
      />
    );
  }
  return (
    <section class="samples">
      <h1>{say("scrap.kept_for")}</h1>
      <div class="tell-keys">
        {(Object.keys(KEPT_FOR) as KeptFor[]).map((use) => (
          <button
            key={use}
            type="button"
            class="key"
            onClick={() => void store({ handed_in, destroyed, kept, kept_for: use })}
          >
            {say(KEPT_FOR[use])}
          </button>
        ))}
      </div>
    </section>
  );
}

interface SecondNameProps extends Pick<ScrapPartProps, "seconds" | "onSecond" | "onDone"> {
  readonly record: string;
}

/** Another person, with a PIN given for this alone; from then on the tablet is in that person's hands. */
function SecondName({ seconds, record, onSecond, onDone }: SecondNameProps) {
  const [person, setPerson] = useState<Second>();
  const [pin, setPin] = useState("");
  const [isNotStored, setNotStored] = useState(false);
  const put = async (second: Second): Promise<void> => {
    setPin("");
    const isStored = await onSecond(record, second.id, pin);
    setNotStored(!isStored);
    if (isStored) onDone();
  };
  return (
    <section class="samples">
      <h1>{say("scrap.second")}</h1>
      <p>{say("scrap.second_what")}</p>
      {isNotStored && <NotStoredLine />}
      <div class="tell-keys">
        {seconds.map((one) => (
          <button
            key={one.id}
            type="button"
            class="key"
            aria-pressed={one.id === person?.id}
            onClick={() => setPerson(one)}
          >
            {one.name}
          </button>
        ))}
      </div>
      {person !== undefined && (
        <>
          <PinField
            label={say("holds.pin", { name: person.name })}
            hint={say("scrap.pin_what")}
            value={pin}
            onChange={setPin}
          />
          <button type="button" class="key main" disabled={pin === ""} onClick={() => void put(person)}>
            {say("holds.second")}
          </button>
        </>
      )}
      <button type="button" class="key" onClick={onDone}>
        {say("scrap.later")}
      </button>
    </section>
  );
}

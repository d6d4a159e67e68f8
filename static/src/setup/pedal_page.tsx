// SPDX-License-Identifier: Apache-2.0
// What a foot pedal under this tablet does: press "set", then the pedal.
import { useLayoutEffect, useState } from "preact/hooks";
import "./works.css";
import { keepPedal, mayBePedal, PEDAL_ACTS, pedalKeys, type PedalAct } from "../widgets/pedal.js";
import { say, type Key } from "../words/say.js";

const PLACES = { tally: "pedal.tally", machine: "pedal.machine" } as const satisfies Readonly<
  Record<keyof typeof PEDAL_ACTS, Key>
>;
const ACTS = {
  undo: "tally.undo",
  tray_end: "tally.end",
  main_reject: "pedal.main_reject",
  usual_made: "pedal.usual_made",
  store: "check.store",
} as const satisfies Readonly<Record<PedalAct, Key>>;

export function PedalPage({ onBack }: { readonly onBack: () => void }) {
  const [keys, setKeys] = useState(pedalKeys);
  const [setting, setSetting] = useState<PedalAct>();
  const [refused, setRefused] = useState<string>();
  useLayoutEffect(() => {
    if (setting === undefined) return undefined;
    const down = (event: KeyboardEvent): void => {
      event.preventDefault();
      event.stopPropagation();
      if (event.repeat) return;
      if (!mayBePedal(event.key)) return setRefused(event.key);
      setRefused(undefined);
      setKeys(keepPedal(setting, event.key));
      setSetting(undefined);
    };
    window.addEventListener("keydown", down, { capture: true });
    return () => window.removeEventListener("keydown", down, { capture: true });
  }, [setting]);
  const line = (act: PedalAct) => (
    <li key={act}>
      <strong>{say(ACTS[act])}</strong>
      <span>
        {setting === act
          ? say("pedal.press_it")
          : keys[act] === undefined
            ? say("pedal.none")
            : say("pedal.is", { key: keys[act] })}
      </span>
      <button type="button" class="key" onClick={() => setSetting(setting === act ? undefined : act)}>
        {say(setting === act ? "pedal.leave" : "pedal.set")}
      </button>
      {keys[act] !== undefined && setting !== act && (
        <button type="button" class="key" onClick={() => setKeys(keepPedal(act, undefined))}>
          {say("pedal.take_off")}
        </button>
      )}
    </li>
  );
  return (
    <main class="choice">
      <h1>{say("pedal.title")}</h1>
      <p>{say("pedal.what")}</p>
      {refused !== undefined && (
        <p class="problem" role="alert">
          {say("pedal.other_key", { key: refused })}
        </p>
      )}
      {(Object.keys(PEDAL_ACTS) as (keyof typeof PEDAL_ACTS)[]).map((place) => (
        <section key={place}>
          <h2>{say(PLACES[place])}</h2>
          <ul class="device-list">{PEDAL_ACTS[place].map(line)}</ul>
        </section>
      ))}
      <button type="button" class="key not-yet" onClick={onBack}>
        {say("nav.batches")}
      </button>
    </main>
  );
}

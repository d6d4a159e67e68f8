// SPDX-License-Identifier: Apache-2.0
// What came to the server and does not count: seen by the lead, who admits what was honest work.
import { useEffect, useState } from "preact/hooks";
import type { Tablet } from "../sync/contract.js";
import { sayError } from "../words/errors.js";
import { moment, number } from "../words/measures.js";
import { say, type Key } from "../words/say.js";
import { asideFrom, fateOf, type Aside, type Reason } from "./set_aside_list.js";
import "./set_aside.css";

const WHY: Readonly<Record<string, Key>> = {
  "revoked-device": "aside.revoked",
  "number-taken": "aside.number_taken",
  "unknown-device": "aside.unknown_device",
  unvouched: "aside.unvouched",
};
const KINDS: Readonly<Record<string, Key>> = {
  defect_tallied: "aside.finds",
  tray_opened: "aside.trays_begun",
  tray_closed: "aside.trays_closed",
  record_withdrawn: "aside.taken_back",
  batch_opened: "aside.batches",
  signed_on: "aside.sign_ons",
};
const REASONS: Partial<Record<Reason, Key>> = {
  role: "aside.declined_role",
  pin_wrong: "aside.declined_pin",
  admitted_already: "aside.declined_admitted",
  not_admissible: "aside.declined_not_admissible",
};

interface Asked {
  readonly request: string;
  readonly chain: string;
}

export function SetAsidePage({ tablet }: { readonly tablet: Tablet }) {
  const [asked, setAsked] = useState<Asked>();
  const [turn, setTurn] = useState(0);
  const fate = asked && fateOf(asked.request, tablet.records.value);
  // The list is asked for again as soon as the answer to a request has come.
  const found = useList(tablet, `${turn} ${fate?.is ?? ""}`);
  const admit = async (aside: Aside, why: string): Promise<void> => {
    const body = { of_chain: aside.chain, lines: [...aside.lines], why };
    const stored = await tablet.add({ kind: "admission_requested", v: 1, body });
    if (!stored.stored) return;
    setAsked({ request: stored.record.id, chain: aside.chain });
    tablet.syncNow();
  };
  return (
    <main class="aside-list">
      <h1>{say("aside.title")}</h1>
      <p>{say("aside.what")}</p>
      <button type="button" class="key" onClick={() => setTurn(turn + 1)}>
        {say("aside.refresh")}
      </button>
      {fate !== undefined && (
        <p role="status" class={`answer is-${fate.is}`}>
          {fate.is === "declined"
            ? [
                say("aside.declined"),
                ...fate.reasons.map((one) => say(REASONS[one] ?? "aside.declined_other")),
              ].join(" ")
            : say(fate.is === "granted" ? "aside.granted" : "aside.waits")}
        </p>
      )}
      {found === undefined && <p role="status">{say("aside.working")}</p>}
      {typeof found === "string" && <p>{sayError(found)}</p>}
      {Array.isArray(found) && found.length === 0 && <p class="empty">{say("aside.none")}</p>}
      {Array.isArray(found) &&
        (found as readonly Aside[]).map((aside) => (
          <OfChain
            key={`${aside.chain} ${aside.code}`}
            aside={aside}
            waits={fate?.is === "waits"}
            onAdmit={(why) => void admit(aside, why)}
          />
        ))}
    </main>
  );
}

/** The server's list, the code why there is none, or undefined while it is asked for. */
function useList(tablet: Tablet, turn: string): readonly Aside[] | string | undefined {
  const [found, setFound] = useState<readonly Aside[] | string>();
  useEffect(() => {
    let isCurrent = true;
    void tablet.read("/api/v1/set-aside").then((answer) => {
      if (isCurrent) setFound(answer.ok ? (asideFrom(answer.value) ?? "not-ours") : answer.code);
    });
    return () => {
      isCurrent = false;
    };
  }, [tablet, turn]);
  return found;
}

interface OfChainProps {
  readonly aside: Aside;
  readonly waits: boolean;
  readonly onAdmit: (why: string) => void;
}

function OfChain({ aside, waits, onAdmit }: OfChainProps) {
  const [why, setWhy] = useState("");
  const span = { from: moment(aside.first_at), to: moment(aside.last_at) };
  return (
    <section>
      <h2>
        {aside.letters} {aside.name}
      </h2>
      <p>{say(WHY[aside.code] ?? "aside.other")}</p>
      <p>{say("aside.count", { count: aside.count, ...span })}</p>
      <ul>
        {aside.kinds.map(({ kind, count }) => (
          <li key={kind}>
            {say(KINDS[kind] ?? "aside.other_kind")}: {number(count)}
          </li>
        ))}
      </ul>
      <p>{say("aside.state", { admitted: aside.admitted, admissible: aside.admissible })}</p>
      {aside.admissible > 0 && (
        <form
          onSubmit={(event) => {
            event.preventDefault();
            onAdmit(why.trim());
          }}
        >
          <label>
            {say("aside.why")}
            <input
              value={why}
              maxLength={200}
              required
              onInput={(event) => setWhy(event.currentTarget.value)}
            />
          </label>
          <button type="submit" class="key main" disabled={waits || why.trim() === ""}>
            {say("aside.admit", { count: aside.lines.length })}
          </button>
        </form>
      )}
    </section>
  );
}

// SPDX-License-Identifier: Apache-2.0
// What came to the server and does not count: seen by the lead, who admits what was honest work.
import { useState } from "preact/hooks";
import { answerTo } from "../folds/requests.js";
import type { Tablet } from "../sync/contract.js";
import { AnswerOf, useRequest } from "../widgets/asked.js";
import { useReport } from "../widgets/report.js";
import { sayError } from "../words/errors.js";
import { moment, number } from "../words/measures.js";
import { say, type Key } from "../words/say.js";
import { asideFrom, type Aside } from "./set_aside_list.js";
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
/** The server reads every line that was set aside to answer. */
const EVERY_MS = 60_000;

export function SetAsidePage({ tablet }: { readonly tablet: Tablet }) {
  const { asked, ask } = useRequest(tablet);
  const [turn, setTurn] = useState(0);
  const fate = asked.request && answerTo(tablet.records.value, asked.request).state;
  // The list is asked for again as soon as the answer to a request has come.
  const again = `${turn} ${fate ?? ""}`;
  const { value: found, problem } = useReport(tablet, "/set-aside", asideFrom, again, EVERY_MS);
  const admit = (aside: Aside, why: string): void => {
    const body = { of_chain: aside.chain, lines: [...aside.lines], why };
    void ask({ kind: "admission_requested", v: 1, body });
  };
  return (
    <main class="aside-list">
      <h1>{say("aside.title")}</h1>
      <p>{say("aside.what")}</p>
      <button type="button" class="key" onClick={() => setTurn(turn + 1)}>
        {say("aside.refresh")}
      </button>
      <AnswerOf tablet={tablet} asked={asked} />
      {found === undefined && problem === undefined && <p role="status">{say("aside.working")}</p>}
      {problem !== undefined && (
        <p class="problem" role="alert">
          {sayError(problem)}
        </p>
      )}
      {found?.length === 0 && <p class="empty">{say("aside.none")}</p>}
      {found?.map((aside) => (
        <OfChain
          key={`${aside.chain} ${aside.code}`}
          aside={aside}
          waits={fate === "open"}
          onAdmit={(why) => admit(aside, why)}
        />
      ))}
    </main>
  );
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

// SPDX-License-Identifier: Apache-2.0
// The start page where a browser gives no store, because the page came over plain HTTP: what is wrong, and the cure.
import type { ReachAnswer } from "../api/answers.js";
import { say, type Language } from "../words/say.js";
import "./enrol.css";
import { LanguageChoice } from "./language_choice.js";
import { QrCode } from "./qr_code.js";
import { Ways } from "./trust_page.js";

export interface UnprotectedProps {
  /** Undefined without an answer of the server. */
  readonly reach: ReachAnswer | undefined;
  readonly onLanguage: (chosen: Language) => void;
}

export function Unprotected({ reach, onLanguage }: UnprotectedProps) {
  return (
    <main class="choice trust">
      <div role="alert" class="problem">
        <h1>{say("stop.title")}</h1>
        <p>{say("stop.no_secure_context")}</p>
      </div>
      {reach === undefined ? (
        <p>{say("reach.no_answer")}</p>
      ) : reach.secure === "" ? (
        <p>{say("reach.none")}</p>
      ) : (
        <section>
          <h2>{say("reach.open")}</h2>
          <Ways reach={reach} />
        </section>
      )}
      {reach !== undefined && reach.trust_page !== "" && (
        <section>
          <h2>{say("reach.warns")}</h2>
          <p>{say("reach.warns_what")}</p>
          <div class="ways">
            <p>
              <a class="key main" href={reach.trust_page}>
                {reach.trust_page}
              </a>
            </p>
            <QrCode rows={reach.trust_page_qr} label={say("reach.trust_qr")} />
          </div>
        </section>
      )}
      <LanguageChoice onChosen={onLanguage} />
    </main>
  );
}

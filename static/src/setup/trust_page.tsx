// SPDX-License-Identifier: Apache-2.0
// How a device comes to trust the works' own authority, step by step, and how a person sees that it is the right one.
import { useState } from "preact/hooks";
import type { ReachAnswer } from "../api/answers.js";
import { say, type Key, type Language } from "../words/say.js";
import "./enrol.css";
import { LanguageChoice } from "./language_choice.js";
import { QrCode } from "./qr_code.js";
import "./trust.css";

export interface TrustPageProps {
  /** Undefined without an answer of the server. */
  readonly reach: ReachAnswer | undefined;
  readonly onLanguage: (chosen: Language) => void;
}

const STEPS = {
  android: ["trust.android.1", "trust.android.2", "trust.android.3", "trust.android.4", "trust.android.5"],
  ipad: ["trust.ipad.1", "trust.ipad.2", "trust.ipad.3", "trust.ipad.4", "trust.ipad.5"],
  windows: ["trust.windows.1", "trust.windows.2", "trust.windows.3", "trust.windows.4", "trust.windows.5"],
} as const satisfies Readonly<Record<string, readonly Key[]>>;
type System = keyof typeof STEPS;
const NAMES: Readonly<Record<System, string>> = { android: "Android", ipad: "iPad", windows: "Windows" };

export function TrustPage({ reach, onLanguage }: TrustPageProps) {
  return (
    <main class="choice trust">
      <h1>{say("trust.title")}</h1>
      <p>{say("trust.what")}</p>
      {reach === undefined || reach.fingerprint === "" ? (
        <p class="problem" role="alert">
          {say(reach === undefined ? "reach.no_answer" : "trust.no_authority")}
        </p>
      ) : (
        <Steps reach={reach} />
      )}
      <LanguageChoice onChosen={onLanguage} />
    </main>
  );
}

function Steps({ reach }: { readonly reach: ReachAnswer }) {
  const [system, setSystem] = useState(systemOf(navigator.userAgent, navigator.maxTouchPoints));
  return (
    <>
      <section>
        <h2>{say("trust.compare")}</h2>
        <p>{say("trust.weak")}</p>
        <p class="fingerprint">
          {reach.fingerprint.split(":").map((pair, place) => (
            <span key={place}>{pair}</span>
          ))}
        </p>
        <p>{say("trust.compare_how")}</p>
      </section>
      <section>
        <h2>{say("trust.install")}</h2>
        <div class="systems">
          {Object.keys(STEPS).map((one) => (
            <button
              key={one}
              type="button"
              class="key"
              aria-pressed={one === system}
              onClick={() => setSystem(one as System)}
            >
              {NAMES[one as System]}
            </button>
          ))}
        </div>
        <p>
          <a class="key main" href="/tallywright-authority.crt">
            {say("trust.get")}
          </a>
        </p>
        <ol>
          {STEPS[system].map((step) => (
            <li key={step}>{say(step)}</li>
          ))}
        </ol>
        <p>{say("trust.harm")}</p>
      </section>
      <section>
        <h2>{say("trust.open")}</h2>
        <Ways reach={reach} />
      </section>
    </>
  );
}

/** The protected addresses: to tap here, and to scan with another device. */
export function Ways({ reach }: { readonly reach: ReachAnswer }) {
  return (
    <div class="ways">
      <div>
        <p>
          <a class="key main" href={reach.secure}>
            {reach.secure}
          </a>
        </p>
        <p>{say("reach.belongs")}</p>
        {reach.secure_here !== reach.secure && (
          <p>
            {say("reach.not_found")} <a href={reach.secure_here}>{reach.secure_here}</a>
          </p>
        )}
      </div>
      <QrCode rows={reach.secure_qr} label={say("reach.qr")} />
    </div>
  );
}

/** Which steps stand first; an iPad calls itself a desk computer, but is touched. */
export function systemOf(agent: string, touchPoints: number): System {
  if (/iPad|iPhone/.test(agent) || (/Macintosh/.test(agent) && touchPoints > 1)) return "ipad";
  return /Windows/.test(agent) ? "windows" : "android";
}

// SPDX-License-Identifier: Apache-2.0
import type { Person } from "../definitions/people.js";
import type { Proof, Tablet } from "../sync/contract.js";
import { say, type Key } from "../words/say.js";
import { go, route, type Route } from "./routes.js";
import { CertificateWords, SyncWords } from "./sync_words.js";
import { changeNow, updateWaits } from "./update.js";

/** To others the server does not show that list. */
const SEE_HOLDS = ["inspector", "lead", "administrator", "reader"];
const SEE_DECIDE = ["lead", "administrator", "reader"];
/** Those who can have the server looked after. */
const RENEW = ["lead", "administrator"];
const SEE_SET_ASIDE = ["lead", "administrator"];

export interface TopBarProps {
  readonly tablet: Tablet;
  readonly person: Person | undefined;
  /** True while something is not stored: then no key leads away from it. */
  readonly isHeld: boolean;
  readonly onPerson: () => void;
}

function personLabel(name: string, proof: Proof): string {
  const author = proof === "proven" ? "" : ` ${say(AUTHOR_WORDS[proof])}.`;
  return `${name}.${author} ${say("nav.change_person")}`;
}

/** Sync words and, where nothing keeps the hand at the bench, the ways to elsewhere. */
export function TopBar({ tablet, person, isHeld, onPerson }: TopBarProps) {
  const place = route.value;
  const isAtTray = place.at === "tally" || place.at === "end";
  return (
    <div class={`top-bar${isAtTray ? " is-at-tray" : ""}`}>
      <SyncWords state={tablet.sync.value} />
      {!isAtTray && person?.roles.some((role) => RENEW.includes(role)) === true && (
        <CertificateWords endsAt={tablet.sync.value.certificateEndsAt} />
      )}
      {updateWaits.value && !isAtTray && (
        <p class="update">
          {say("app.update_waits")}{" "}
          <button type="button" class="key" onClick={changeNow}>
            {say("app.update_now")}
          </button>
        </p>
      )}
      {person !== undefined && !isHeld && (
        <nav>
          {isAtTray ? (
            <NavKey to={{ at: "trays", batch: place.batch, look: place.look }} text={say("nav.trays")} />
          ) : (
            <>
              <NavKey to={{ at: "batches" }} text={say("nav.batches")} />
              <NavKey to={{ at: "pareto" }} text={say("nav.pareto")} />
              {person.roles.some((role) => SEE_DECIDE.includes(role)) && (
                <>
                  <NavKey to={{ at: "shift" }} text={say("nav.shift")} />
                  <NavKey to={{ at: "decide" }} text={say("nav.decide")} />
                </>
              )}
              {person.roles.some((role) => SEE_HOLDS.includes(role)) && (
                <NavKey to={{ at: "holds" }} text={say("nav.holds")} />
              )}
              {person.roles.some((role) => SEE_SET_ASIDE.includes(role)) && (
                <NavKey to={{ at: "set_aside" }} text={say("nav.set_aside")} />
              )}
              {person.roles.includes("administrator") && (
                <>
                  <NavKey to={{ at: "people" }} text={say("nav.people")} />
                  <NavKey to={{ at: "devices" }} text={say("nav.devices")} />
                </>
              )}
            </>
          )}
          <button
            type="button"
            class="key person"
            aria-label={personLabel(person.name, tablet.proven.value)}
            onClick={onPerson}
          >
            {person.name}
            <AuthorMark proof={tablet.proven.value} />
          </button>
        </nav>
      )}
    </div>
  );
}

const AUTHOR_WORDS: Readonly<Record<Exclude<Proof, "proven">, Key>> = {
  waiting: "author.waiting",
  not_proven: "author.not_proven",
  none: "author.no_pin",
};

/** What is not proven of whoever is signed on: in words, and by an open circle that a proven author does not have. */
function AuthorMark({ proof }: { readonly proof: Proof }) {
  if (proof === "proven") return null;
  return (
    <small class={`author is-${proof}`}>
      <svg viewBox="0 0 20 20" aria-hidden="true">
        <circle cx="10" cy="10" r="7.5" />
        {proof !== "waiting" && <path d="M4.5 15.5L15.5 4.5" />}
      </svg>
      <span>{say(AUTHOR_WORDS[proof])}</span>
    </small>
  );
}

function NavKey({ to, text }: { readonly to: Route; readonly text: string }) {
  return (
    <button type="button" class="key" aria-current={isAt(to) ? "page" : undefined} onClick={() => go(to)}>
      {text}
    </button>
  );
}

/** The page of a batch lies behind the list of batches, the checks at the machines behind the shift. */
function isAt(to: Route): boolean {
  const { at } = route.value;
  return (
    at === to.at || (at === "batch" && to.at === "decide") || (at === "machine_checks" && to.at === "shift")
  );
}

// SPDX-License-Identifier: Apache-2.0
import type { Person } from "../definitions/people.js";
import type { Tablet } from "../sync/contract.js";
import { say } from "../words/say.js";
import { go, route, type Route } from "./routes.js";
import { SyncWords } from "./sync_words.js";
import { changeNow, updateWaits } from "./update.js";

export interface TopBarProps {
  readonly tablet: Tablet;
  readonly person: Person | undefined;
  /** True while something is not stored: then no key leads away from it. */
  readonly isHeld: boolean;
  readonly onPerson: () => void;
}

/** Sync words and, where nothing keeps the hand at the bench, the ways to elsewhere. */
export function TopBar({ tablet, person, isHeld, onPerson }: TopBarProps) {
  const place = route.value;
  const isAtTray = place.at === "tally" || place.at === "end";
  return (
    <div class="top-bar">
      <SyncWords state={tablet.sync.value} />
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
            </>
          )}
          <button
            type="button"
            class="key person"
            aria-label={`${person.name}. ${say("nav.change_person")}`}
            onClick={onPerson}
          >
            {person.name}
          </button>
        </nav>
      )}
    </div>
  );
}

function NavKey({ to, text }: { readonly to: Route; readonly text: string }) {
  return (
    <button
      type="button"
      class="key"
      aria-current={route.value.at === to.at ? "page" : undefined}
      onClick={() => go(to)}
    >
      {text}
    </button>
  );
}

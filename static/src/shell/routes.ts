// SPDX-License-Identifier: Apache-2.0
// The address behind the # says where the tablet is and which language it speaks, so that a reload comes back to
// the same tray. Nothing about it is kept anywhere else.
import { signal } from "@preact/signals";
import { isLanguage, language, languageFrom, learn, type Language } from "../words/say.js";

/** The pages of a look. */
const LOOK_PLACES = ["trays", "count", "rework", "strays", "sign"] as const;
type LookPlace = (typeof LOOK_PLACES)[number];

/** The pages of a tray. */
const TRAY_PLACES = ["tally", "end", "entries"] as const;
type TrayPlace = (typeof TRAY_PLACES)[number];

/** The pages of an operation at a machine: its checks, the beginning of a stint, what is counted at its end, and
 * what else is. */
const MACHINE_PLACES = ["checks", "begin", "counts", "more"] as const;
export type MachinePlace = (typeof MACHINE_PLACES)[number];

export type Route =
  | { readonly at: "batches" }
  | { readonly at: "open" }
  | { readonly at: "goods" }
  | { readonly at: "receipts" }
  | { readonly at: "gauges" }
  | { readonly at: "receipt"; readonly receipt: string }
  | { readonly at: "saw"; readonly batch: string }
  | { readonly at: "pareto" }
  | { readonly at: "set_aside" }
  | { readonly at: "shift" }
  | { readonly at: "machine_checks" }
  | { readonly at: "holds"; readonly batch?: string }
  | { readonly at: "decide" }
  | { readonly at: "batch"; readonly batch: string }
  | { readonly at: "people" }
  | { readonly at: "devices" }
  | { readonly at: "pedal" }
  | { readonly at: "look"; readonly batch: string }
  | { readonly at: "machine"; readonly batch: string }
  | { readonly at: MachinePlace; readonly batch: string; readonly operation: string }
  | { readonly at: LookPlace; readonly batch: string; readonly look: string }
  | { readonly at: TrayPlace; readonly batch: string; readonly look: string; readonly tray: string };

export const route = signal<Route>({ at: "batches" });

export function addressOf(spoken: Language, place: Route): string {
  const steps =
    "tray" in place
      ? [place.batch, place.look, place.tray]
      : "look" in place
        ? [place.batch, place.look]
        : "operation" in place
          ? [place.batch, place.operation]
          : "batch" in place
            ? [place.batch]
            : "receipt" in place
              ? [place.receipt]
              : [];
  return `#/${[spoken, place.at, ...steps].map(encodeURIComponent).join("/")}`;
}

/** What an address says; a place it does not name well is the list of batches. */
export function readAddress(hash: string): {
  readonly spoken: Language | undefined;
  readonly place: Route;
} {
  const [spoken = "", at = "", batch = "", look = "", tray = ""] = hash
    .replace(/^#\/?/, "")
    .split("/")
    .map(decoded);
  return { spoken: isLanguage(spoken) ? spoken : undefined, place: placeOf(at, batch, look, tray) };
}

/** Pages without a batch. */
const PAGES = [
  "open",
  "goods",
  "receipts",
  "gauges",
  "pareto",
  "shift",
  "machine_checks",
  "set_aside",
  "holds",
  "decide",
  "people",
  "devices",
  "pedal",
];

function placeOf(at: string, batch: string, look: string, tray: string): Route {
  if (at === "holds" && batch !== "") return { at, batch };
  if (PAGES.some((page) => page === at)) return { at } as Route;
  if (at === "receipt" && batch !== "") return { at, receipt: batch };
  const atMachine = MACHINE_PLACES.find((page) => page === at);
  if (atMachine !== undefined && batch !== "" && /^[1-9][0-9]*$/.test(look))
    return { at: atMachine, batch, operation: look };
  if ((at === "look" || at === "batch" || at === "machine" || at === "saw") && batch !== "")
    return { at, batch };
  const ofLook = LOOK_PLACES.find((page) => page === at);
  if (ofLook !== undefined && batch !== "" && look !== "") return { at: ofLook, batch, look };
  const ofTray = TRAY_PLACES.find((page) => page === at);
  if (ofTray !== undefined && batch !== "" && look !== "" && tray !== "")
    return { at: ofTray, batch, look, tray };
  return { at: "batches" };
}

export function go(place: Route): void {
  location.hash = addressOf(language.value, place);
}

let wanted: Language = "en";

/** Speak a language once its catalogue is there; of two choices in a row the last holds. */
export async function speak(chosen: Language): Promise<void> {
  wanted = chosen;
  await learn(chosen);
  if (wanted !== chosen) return;
  language.value = chosen;
  document.documentElement.lang = chosen;
  history.replaceState(null, "", addressOf(chosen, route.value));
}

/** Follow the address from now on; done when its language can be spoken. */
export function followAddress(): Promise<void> {
  const follow = (): Promise<void> => {
    const { spoken, place } = readAddress(location.hash);
    route.value = place;
    return speak(spoken ?? languageFrom(navigator.languages));
  };
  window.addEventListener("hashchange", () => void follow());
  return follow();
}

function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return "";
  }
}

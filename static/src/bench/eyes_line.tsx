// SPDX-License-Identifier: Apache-2.0
// Before a tray of a later look: how many of the pieces whoever works here may have looked at before. The server is
// asked, because a tablet of the second look is never sent the first one's records.
import type { Tablet } from "../sync/contract.js";
import { useReport } from "../widgets/report.js";
import { age } from "../words/measures.js";
import { say } from "../words/say.js";
import { eyesFrom, hadInHand, handOut, shareOf, type Eyes } from "./eyes.js";
import "./look_pages.css";

const ASKED_EVERY_MS = 60_000;
const MOST_NAMED = 3;

export interface EyesLineProps {
  readonly tablet: Tablet;
  readonly batch: string;
  readonly look: string;
  readonly person: string;
  /** Everybody who may look at pieces. */
  readonly inspectors: readonly { readonly id: string; readonly name: string }[];
  /** Pieces a person had in hand at this look up to now. */
  readonly already: (person: string) => number;
  /** Pieces of the tray that would be begun next. */
  readonly next: number;
  /** Pieces that are due in this look. */
  readonly due: number;
}

/** What the server says of the eyes of earlier looks, and when it was asked. */
export function useEyes(tablet: Tablet, batch: string, look: string): Eyes | undefined {
  const path = `/eyes?batch=${encodeURIComponent(batch)}&look=${encodeURIComponent(look)}`;
  const turn = tablet.signOn.value?.id ?? "";
  return useReport(tablet, path, eyesFrom, `${turn} ${tablet.proven.value}`, ASKED_EVERY_MS).value;
}

export function EyesLine(props: EyesLineProps) {
  const eyes = useEyes(props.tablet, props.batch, props.look);
  if (eyes === undefined) return <p class="as-of">{say("eyes.not_known")}</p>;
  const asOf = say("eyes.as_of", { age: age(Date.now() - eyes.as_of) });
  const before = hadInHand(eyes, props.person);
  if (before === 0) {
    return (
      <p class="eyes">
        {say("eyes.none")} <small class="as-of">{asOf}</small>
      </p>
    );
  }
  const pieces = props.already(props.person) + props.next;
  const share = shareOf(pieces, before, Math.max(props.due, eyes.looked));
  return (
    <section class="eyes">
      <h2>{say("eyes.title", { before, looked: eyes.looked })}</h2>
      <p>{say("eyes.share", { pieces, ...share })}</p>
      <h3>{say("eyes.hand_out")}</h3>
      <ol class="hand-out">
        {handOut(eyes, props.inspectors, props.already, props.next)
          .slice(0, MOST_NAMED)
          .map(({ person, name, more }) => (
            <li key={person}>
              <strong>{name}</strong> {more === 0 ? say("eyes.no_more") : say("eyes.more", { more })}
            </li>
          ))}
      </ol>
      <p>{say("eyes.lead")}</p>
      <p class="as-of">{asOf}</p>
    </section>
  );
}

// SPDX-License-Identifier: Apache-2.0
// A stint as it was counted, with what follows from it: the difference with its sign, and the operation before.
import type { ComponentChildren } from "preact";
import { differenceOf, type OperationCount } from "../folds/route.js";
import { clock, number } from "../words/measures.js";
import { sayPoint } from "../words/points.js";
import { say } from "../words/say.js";
import { Terms } from "./count_page.js";
import "./counts.css";
import "./machine.css";
import type { Finish } from "./stints.js";

export interface CountedPageProps {
  readonly batchNumber: string;
  readonly operationName: string;
  readonly operation: number;
  readonly finishes: readonly Finish[];
  /** What left the step before, as far as this tablet knows; undefined where nobody counted it. */
  readonly before: Before | undefined;
  /** All the stints of the operation together. */
  readonly whole: OperationCount | undefined;
  readonly nameOf: (signOn: string) => string;
  /** True for a count that whoever works here made. */
  readonly isOwn: (finish: Finish) => boolean;
  readonly onAgain: (finish: Finish) => void;
  readonly onGoOn: () => void;
  /** Keys that lead elsewhere. */
  readonly children: ComponentChildren;
}

/**
 * operation  0 where it is the batch as it was opened
 * isNext     nothing of the route lies between, so that whatever is not the same is a difference
 */
export interface Before {
  readonly operation: number;
  readonly pieces: number;
  readonly isNext: boolean;
}

/** A difference of the route names its operation, and nothing of it has a name of its own. */
const NO_NAMES = { tray: (id: string) => id, person: (id: string) => id, tag: (id: string) => id };

export function CountedPage(props: CountedPageProps) {
  const { operation, finishes, before, whole, nameOf, isOwn, onAgain, onGoOn } = props;
  return (
    <main class="choice machine">
      <header class="machine-head">
        <p class="on-bench">
          {props.batchNumber} <small>{props.operationName}</small>
        </p>
      </header>
      <h1>{say("counted.title")}</h1>
      {finishes.map((finish) => (
        <section key={finish.id} class="counted-stint">
          <p>{say("counted.by", { name: nameOf(finish.signOn), time: clock(finish.at) })}</p>
          <Terms counts={finish.body} />
          <Difference operation={operation} amount={differenceOf(finish.body)} inside={finish.body.inside} />
          {isOwn(finish) && (
            <button type="button" class="key" onClick={() => onAgain(finish)}>
              {say("counted.again")}
            </button>
          )}
        </section>
      ))}
      {whole !== undefined && before !== undefined && (
        <Between operation={operation} before={before} came={whole.in} />
      )}
      <footer class="machine-foot">
        <button type="button" class="key main" onClick={onGoOn}>
          {say("counted.go_on")}
        </button>
        {props.children}
      </footer>
    </main>
  );
}

interface DifferenceProps {
  readonly operation: number;
  readonly amount: number;
  readonly inside: number | undefined;
}

/** What nobody typed: it follows from the terms, with its sign. */
function Difference({ operation, amount, inside = 0 }: DifferenceProps) {
  const subject = String(operation);
  const lines = [
    ...(amount === 0 ? [] : [{ kind: amount < 0 ? "pieces_short" : "pieces_over", subject, amount }]),
    ...(inside === 0 ? [] : [{ kind: "still_inside", subject, amount: -inside }]),
  ];
  if (lines.length === 0) return <p class="done">{say("counted.even")}</p>;
  return (
    <>
      {lines.map((line) => (
        <p key={line.kind} class="problem difference" role="status">
          <strong>{signed(line.amount)}</strong> {sayPoint(line, NO_NAMES)}
        </p>
      ))}
      <p>{say("counted.what_now")}</p>
    </>
  );
}

interface BetweenProps {
  readonly operation: number;
  readonly before: Before;
  readonly came: number;
}

function Between({ operation, before, came }: BetweenProps) {
  const amount = came - before.pieces;
  const left = { pieces: number(before.pieces), at: before.operation };
  return (
    <>
      <p>{before.operation === 0 ? say("counted.opened_with", left) : say("counted.left_before", left)}</p>
      {amount !== 0 && before.isNext && (
        <p class="problem difference" role="status">
          <strong>{signed(amount)}</strong>{" "}
          {sayPoint(
            {
              kind: before.operation === 0 ? "start_differs" : amount < 0 ? "between_short" : "between_over",
              subject: String(operation),
              amount,
            },
            NO_NAMES,
          )}
        </p>
      )}
    </>
  );
}

function signed(amount: number): string {
  return amount < 0 ? `−${number(-amount)}` : `+${number(amount)}`;
}

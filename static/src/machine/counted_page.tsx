// SPDX-License-Identifier: Apache-2.0
// A stint as it was counted, with what follows from it: the difference with its sign, and the operation before.
import type { ComponentChildren } from "preact";
import { differenceOf, type OperationCount, type RouteDifference } from "../folds/route.js";
import { clock, number } from "../words/measures.js";
import { sayPoint } from "../words/points.js";
import { say, type Key } from "../words/say.js";
import { Terms } from "./count_page.js";
import "./counts.css";
import "./machine.css";
import type { Finish, Recount, Standing } from "./stints.js";

export interface CountedPageProps {
  readonly batchNumber: string;
  readonly operationName: string;
  readonly operation: number;
  readonly finishes: readonly Finish[];
  /** What left the step before, as far as this tablet knows; undefined where nobody counted it. */
  readonly before: Before | undefined;
  /** All the stints of the operation together. */
  readonly whole: OperationCount | undefined;
  /** The same numbers counted once more or in another way, and what of it does not agree. */
  readonly recounts: readonly Recount[];
  readonly differences: readonly RouteDifference[];
  /** What stands of a count, where another has settled it. */
  readonly standsOf: (finish: Finish) => Standing;
  readonly nameOf: (signOn: string) => string;
  /** True for a count that whoever works here made. */
  readonly isOwn: (count: Finish | Recount) => boolean;
  /** An own recount holds in the place of those of other people that differ from it. */
  readonly onSettle: (recount: Recount, settles: string[]) => void;
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
          <Stands {...props} finish={finish} />
          <Recounts {...props} finish={finish} />
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

/** What follows from the numbers that stand: those counted first, or those that settled them. */
function Stands({ finish, standsOf, operation, nameOf }: CountedPageProps & { readonly finish: Finish }) {
  const { body, settledBy } = standsOf(finish);
  return (
    <>
      {settledBy.map((one) => (
        <p key={one.id} class="settled" role="status">
          {say("counted.settled_by", {
            pieces: number(one.body.pieces),
            what: say(OF[one.body.of]),
            before: one.body.of === "made" ? "" : number(finish.body[one.body.of]),
            name: nameOf(one.signOn),
            time: clock(one.at),
          })}
        </p>
      ))}
      <Difference operation={operation} amount={differenceOf(body)} inside={body.inside} />
    </>
  );
}

const WAYS = {
  hand: "counted.by_hand",
  counter: "counted.by_counter",
  weighed: "counted.by_weight",
} as const satisfies Readonly<Record<Recount["body"]["how"], Key>>;

const OF = {
  in: "counts.term_in",
  out: "counts.term_out",
  scrap: "counts.term_scrap",
  made: "counted.made",
} as const satisfies Readonly<Record<Recount["body"]["of"], Key>>;

/** Every other count beside the first one; where they differ the line says so until somebody settles it. */
function Recounts(props: CountedPageProps & { readonly finish: Finish }) {
  const { finish, recounts, differences, nameOf, isOwn, onSettle } = props;
  const stint = finish.body.started;
  const own = recounts.filter(({ body }) => body.started === stint);
  const lines = differences.filter(({ kind, subject }) =>
    kind.endsWith("_differ") || kind.endsWith("_differs") ? subject.endsWith(stint) : false,
  );
  const others = ({ body }: Recount): string[] => [
    ...(isOwn(finish) ? [] : [finish.id]),
    ...own.filter((one) => one.body.of === body.of && !isOwn(one)).map(({ id }) => id),
  ];
  const isOpen = lines.some(({ kind }) => kind === "recounts_differ");
  return (
    <>
      {own.length > 0 && (
        <ul class="count-lines">
          {own.map((one) => (
            <li key={one.id}>
              <span>{say(WAYS[one.body.how])}</span>
              <strong>{number(one.body.pieces)}</strong>
              <span>{say(OF[one.body.of])}</span>
              <span>{say("counted.by", { name: nameOf(one.signOn), time: clock(one.at) })}</span>
              {isOpen && one.body.how === "hand" && isOwn(one) && others(one).length > 0 && (
                <button type="button" class="key" onClick={() => onSettle(one, others(one))}>
                  {say("counted.settle")}
                </button>
              )}
            </li>
          ))}
        </ul>
      )}
      {lines.map((line) => (
        <p key={`${line.kind} ${line.subject}`} class="problem difference" role="status">
          {sayPoint(line, NO_NAMES)}
        </p>
      ))}
    </>
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

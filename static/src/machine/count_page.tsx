// SPDX-License-Identifier: Apache-2.0
// The end of a stint, counted: each number on an empty field, before any other figure of these pieces is shown.
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { NotStoredLine } from "../widgets/not_stored_line.js";
import { number } from "../words/measures.js";
import { say, type Key } from "../words/say.js";
import { CountField } from "./count_field.js";
import "./counts.css";
import "./machine.css";
import { SamplesPart } from "./samples_part.js";
import { gone, type FinishBody, type Sample, type SampleBody, type Stint } from "./stints.js";

export interface CountPageProps {
  readonly batchNumber: string;
  readonly operationName: string;
  readonly stint: Stint;
  readonly samples: readonly Sample[];
  readonly onSample: (sample: Omit<SampleBody, "operation">) => Promise<boolean>;
  readonly onTakeBack: (id: string) => Promise<boolean>;
  readonly onFinish: (counts: FinishBody) => Promise<boolean>;
  /** Keys that lead elsewhere. */
  readonly children: ComponentChildren;
}

type Term = "in" | "out" | "scrap" | "set_up";

/** What is asked, in the order in which a bin is emptied. */
const ASKED = [
  { term: "in", title: "counts.in", what: "counts.in_what" },
  { term: "out", title: "counts.out", what: "counts.out_what" },
  { term: "scrap", title: "counts.scrap", what: "counts.scrap_what" },
  { term: "set_up", title: "counts.set_up", what: "counts.set_up_what" },
] as const satisfies readonly { readonly term: Term; readonly title: Key; readonly what: Key }[];

type Counts = Readonly<Record<Term, number>> & { readonly inside?: number | undefined };
type Place = Term | "samples" | "inside" | "all";
const PLACES: readonly Place[] = [...ASKED.map(({ term }) => term), "samples", "inside", "all"];

export function CountPage(props: CountPageProps) {
  const { stint, samples, onFinish } = props;
  const [place, setPlace] = useState<Place>("in");
  const [counts, setCounts] = useState<Partial<Counts>>({});
  const [isNotStored, setNotStored] = useState(false);
  const at = PLACES.indexOf(place);
  const goOn = (): void => setPlace(PLACES[at + 1] ?? "all");
  const take = (more: Partial<Counts>): void => {
    setCounts({ ...counts, ...more });
    goOn();
  };
  const keep = async (stored: Promise<boolean>): Promise<void> => setNotStored(!(await stored));
  const asked = ASKED.find(({ term }) => term === place);
  return (
    <main class="choice machine">
      <header class="machine-head">
        <p class="on-bench">
          {props.batchNumber} <small>{props.operationName}</small>
        </p>
        <p class="made">{say("counts.place", { place: at + 1, places: PLACES.length })}</p>
      </header>
      {isNotStored && <NotStoredLine />}
      {asked !== undefined && (
        <CountField
          key={place}
          title={say(asked.title)}
          what={say(asked.what)}
          act={say("count.next")}
          onCounted={(count) => take({ [asked.term]: count })}
        />
      )}
      {place === "samples" && (
        <SamplesPart
          samples={samples}
          onTaken={(sample) => void keep(props.onSample(sample))}
          onTakeBack={(id) => void keep(props.onTakeBack(id))}
          onDone={goOn}
        />
      )}
      {place === "inside" && (
        <CountField
          key={place}
          title={say("counts.inside")}
          what={say("counts.inside_what")}
          act={say("count.next")}
          onCounted={(inside) => take({ inside })}
        >
          <button type="button" class="key" onClick={() => take({ inside: undefined })}>
            {say("counts.not_looked")}
          </button>
        </CountField>
      )}
      {place === "all" && (
        <BeforeStored
          counts={counts as Counts}
          samples={gone(samples)}
          onStore={() => {
            const { operation, look } = stint.body;
            const { inside, ...terms } = counts as Counts;
            const seen = inside === undefined ? {} : { inside };
            const ofLook = look === undefined ? {} : { look };
            const body = {
              started: stint.id,
              operation,
              ...terms,
              samples: gone(samples),
              ...seen,
              ...ofLook,
            };
            void keep(onFinish(body));
          }}
        />
      )}
      <footer class="machine-foot">
        {at > 0 && (
          <button type="button" class="key" onClick={() => setPlace(PLACES[at - 1] ?? "in")}>
            {say("counts.one_back")}
          </button>
        )}
        {props.children}
      </footer>
    </main>
  );
}

interface BeforeStoredProps {
  readonly counts: Counts;
  readonly samples: number;
  readonly onStore: () => void;
}

/** What was typed, once more, and nothing that anybody computed. */
function BeforeStored({ counts, samples, onStore }: BeforeStoredProps) {
  return (
    <section class="before-stored">
      <h1>{say("counts.check")}</h1>
      <Terms counts={{ ...counts, samples }} />
      <button type="button" class="key main" onClick={onStore}>
        {say("counts.store")}
      </button>
    </section>
  );
}

/** The terms of a count as somebody counted them. */
export function Terms({ counts }: { readonly counts: Counts & { readonly samples: number } }) {
  const terms: readonly (readonly [Key, number | undefined])[] = [
    ["counts.term_in", counts.in],
    ["counts.term_out", counts.out],
    ["counts.term_scrap", counts.scrap],
    ["counts.term_set_up", counts.set_up],
    ["counts.term_samples", counts.samples],
    ["counts.term_inside", counts.inside],
  ];
  return (
    <dl class="count-terms">
      {terms.map(([name, pieces]) => (
        <div key={name}>
          <dd>{pieces === undefined ? "–" : number(pieces)}</dd>
          <dt>{say(name)}</dt>
        </div>
      ))}
    </dl>
  );
}

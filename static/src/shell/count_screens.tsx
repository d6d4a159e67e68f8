// SPDX-License-Identifier: Apache-2.0
// Joins the beginning and the counted end of a stint with what the tablet holds of a batch.
import { useMemo, useState } from "preact/hooks";
import { foldRoute } from "../folds/route.js";
import { isSameAuthor } from "../folds/gathered.js";
import { BeginPage } from "../machine/begin_page.js";
import { CountedPage, type Before } from "../machine/counted_page.js";
import { CountPage } from "../machine/count_page.js";
import { offered, Stints, type Finish, type Recount, type With } from "../machine/stints.js";
import type { PartDefinition, ReadRecord } from "../records/kinds.js";
import type { Tablet } from "../sync/contract.js";
import { NotStoredLine } from "../widgets/not_stored_line.js";
import { say } from "../words/say.js";
import { add, personBehind, type Desk } from "./desk.js";
import type { MachinePlace } from "./routes.js";

export interface StintScreenProps {
  readonly desk: Desk;
  readonly operation: number;
  readonly operationName: string;
  /** The records of the batch. */
  readonly records: readonly ReadRecord[];
  readonly to: (at: MachinePlace) => () => void;
  readonly onBack: () => void;
}

export function BeginStint(props: StintScreenProps) {
  const { desk, operation, records, to } = props;
  const { tablet, line, definition, chain } = desk;
  const { batch } = line;
  const all = tablet.records.value;
  const names = useMemo(() => offered(all, batch, operation), [all, batch, operation]);
  const stints = new Stints(records, tablet.authors.value, operation);
  const last = stints.all.filter((one) => one.chain === chain).at(-1)?.body ?? { operation };
  const { machine, tool, cavities, cast } = last;
  const said = { machine, tool, cavities, cast };
  const begin = async (what: With): Promise<boolean> => {
    const id = await add(desk, { kind: "operation_started", v: 1, batch, body: { operation, ...what } });
    if (id !== undefined) to("checks")();
    return id !== undefined;
  };
  return (
    <BeginPage
      batchNumber={line.number}
      operationName={props.operationName}
      offered={names}
      cavities={definition.cavities ?? []}
      before={Object.fromEntries(Object.entries(said).filter(([, one]) => one !== undefined))}
      onBegin={begin}
    >
      {stints.all.length > 0 && <Way text={say("check.back_to_due")} onPress={to("checks")} />}
      {stints.finishes.length > 0 && <Way text={say("counted.key")} onPress={to("counts")} />}
      <Way text={say("more.key")} onPress={to("more")} />
      <Way text={say("check.operations")} onPress={props.onBack} />
    </BeginPage>
  );
}

/** The stint that runs is counted; where none does, what was counted stands there. */
export function CountStint(props: StintScreenProps) {
  const { desk, operation, records, to } = props;
  const { tablet, line, chain } = desk;
  const { batch } = line;
  const stints = useMemo(
    () => new Stints(records, tablet.authors.value, operation),
    [records, tablet.authors.value, operation],
  );
  const open = stints.open(chain);
  const [chosen, setChosen] = useState<string>();
  const stint = open.find(({ id }) => id === chosen) ?? (open.length === 1 ? open[0] : undefined);
  const ways = (
    <>
      <Way text={say("more.key")} onPress={to("more")} />
      <Way text={say("check.back_to_due")} onPress={to("checks")} />
      <Way text={say("check.operations")} onPress={props.onBack} />
    </>
  );
  const about = { v: 1, batch } as const;
  const takeBack = async (record: string): Promise<boolean> =>
    (await add(desk, { ...about, kind: "record_withdrawn", body: { record } })) !== undefined;
  if (stint !== undefined) {
    return (
      <CountPage
        key={stint.id}
        batchNumber={line.number}
        operationName={props.operationName}
        stint={stint}
        samples={stints.samples(stint, chain)}
        onSample={async (sample) =>
          (await add(desk, { ...about, kind: "sample_taken", body: { operation, ...sample } })) !== undefined
        }
        onTakeBack={takeBack}
        onFinish={async (body) =>
          (await add(desk, { ...about, kind: "operation_finished", body })) !== undefined
        }
      >
        {ways}
      </CountPage>
    );
  }
  if (open.length > 1) {
    const nameOf = nameIn(desk);
    return (
      <main class="choice machine">
        <h1>{say("counts.which")}</h1>
        <div class="tell-keys">
          {open.map(({ id, body, signOn }) => (
            <button key={id} type="button" class="key" onClick={() => setChosen(id)}>
              {[body.machine, body.tool, nameOf(signOn)].filter((one) => one !== undefined).join(", ")}
            </button>
          ))}
        </div>
        <footer class="machine-foot">{ways}</footer>
      </main>
    );
  }
  return <Counted {...props} stints={stints} takeBack={takeBack} ways={ways} />;
}

interface CountedProps extends StintScreenProps {
  readonly stints: Stints;
  readonly takeBack: (record: string) => Promise<boolean>;
  readonly ways: preact.ComponentChildren;
}

function Counted({ desk, operation, operationName, records, stints, takeBack, to, ways }: CountedProps) {
  const { tablet, line, definition } = desk;
  const believed = useBelieved(tablet);
  const route = useMemo(() => foldRoute(records, believed), [records, believed]);
  const counted = route.operations.filter((one) => one.look === "" && !one.is_back);
  const [isNotStored, setNotStored] = useState(false);
  const again = async (finish: Finish): Promise<void> => setNotStored(!(await takeBack(finish.id)));
  const settle = async ({ body }: Recount, settles: string[]): Promise<void> => {
    const draft = {
      kind: "operation_recounted",
      v: 1,
      batch: line.batch,
      body: { ...body, settles },
    } as const;
    setNotStored((await add(desk, draft)) === undefined);
  };
  const byId = new Map(records.map((record) => [record.id, record]));
  const present = tablet.signOn.value;
  return (
    <CountedPage
      batchNumber={line.number}
      operationName={operationName}
      operation={operation}
      finishes={stints.finishes}
      before={before(route.operations, definition, operation, line.pieces)}
      whole={counted.find((one) => one.operation === operation)}
      nameOf={nameIn(desk)}
      recounts={stints.recounts}
      standsOf={(finish) => stints.stands(finish, believed)}
      differences={route.differences.filter((one) => one.operation === operation)}
      onSettle={(recount, settles) => void settle(recount, settles)}
      isOwn={({ id, signOn }) => {
        const record = byId.get(id);
        if (record === undefined || present === undefined) return false;
        return isSameAuthor(record, { ...record, sign_on: present.id }, believed) || signOn === present.id;
      }}
      onAgain={(finish) => void again(finish)}
      onGoOn={to("begin")}
    >
      {isNotStored && <NotStoredLine />}
      {ways}
    </CountedPage>
  );
}

/** What left the operation before, as it was counted; what the batch was opened with where none was. */
function before(
  counted: ReturnType<typeof foldRoute>["operations"],
  definition: PartDefinition,
  operation: number,
  pieces: number,
): Before {
  const last = counted.filter((one) => one.look === "" && one.operation < operation).at(-1);
  if (last === undefined) return { operation: 0, pieces, isNext: true };
  const between = (definition.operations ?? []).filter(
    (one) => one.operation > last.operation && one.operation < operation,
  );
  return { operation: last.operation, pieces: last.out, isNext: between.length === 0 };
}

/**
 * Persons by their sign-ons, those of this tablet among them that the server has not judged yet: whoever counts
 * without contact sees what follows from it. What counts in the ledger is the server's to say.
 */
function useBelieved(tablet: Tablet): ReadonlyMap<string, string> {
  const records = tablet.records.value;
  const authors = tablet.authors.value;
  return useMemo(() => {
    const found = new Map(authors);
    for (const { id, known } of records) {
      if (known?.kind === "signed_on" && tablet.proofOf(id) === "waiting") found.set(id, known.body.person);
    }
    return found;
  }, [tablet, records, authors]);
}

export function nameIn({ tablet, everybody }: Desk): (signOn: string) => string {
  return (signOn) => {
    const person = personBehind(tablet, signOn);
    return everybody.find((one) => one.id === person)?.name ?? say("counted.somebody");
  };
}

export function Way({ text, onPress }: { readonly text: string; readonly onPress: () => void }) {
  return (
    <button type="button" class="key" onClick={onPress}>
      {text}
    </button>
  );
}

// SPDX-License-Identifier: Apache-2.0
// Joins what else is counted at an operation with what the tablet holds of a batch.
import { byName, onDay } from "../definitions/people.js";
import { MorePage } from "../machine/more_page.js";
import { componentsKnown, Stints } from "../machine/stints.js";
import type { Draft } from "../records/kinds.js";
import { lookName } from "../words/looks.js";
import { isoDay } from "../words/measures.js";
import { say } from "../words/say.js";
import { Way, type StintScreenProps } from "./count_screens.js";
import { add } from "./desk.js";
import { go } from "./routes.js";

/** Who may put a second name to what somebody else destroyed. */
const MAY_SECOND = ["operator", "inspector", "lead"];

export function MoreCounts(props: StintScreenProps) {
  const { desk, operation, records, to } = props;
  const { tablet, line, definition, everybody, person } = desk;
  const { batch } = line;
  const today = isoDay(Date.now());
  const seconds = byName(everybody)
    .map((one) => onDay(one, today))
    .filter((one) => one.id !== person?.id && one.roles.some((role) => MAY_SECOND.includes(role)));
  return (
    <MorePage
      batchNumber={line.number}
      operationName={props.operationName}
      operation={operation}
      finishes={new Stints(records, tablet.authors.value, operation).finishes}
      components={componentsKnown(tablet.records.value)}
      seconds={seconds}
      onTell={(told) => add(desk, { ...told, v: 1, batch } as Draft)}
      onSecond={async (request, who, pin) => {
        const draft = { kind: "request_seconded", v: 1, batch, body: { request } } as const;
        const answer = await tablet.signOnAs(who, pin, draft);
        tablet.syncNow();
        return answer.stored;
      }}
      onRecounted={to("counts")}
    >
      {definition.looks.map((look) => (
        <Way
          key={look}
          text={say("more.rework", { look: lookName(look) })}
          onPress={() => go({ at: "rework", batch, look })}
        />
      ))}
      <Way text={say("check.back_to_due")} onPress={to("checks")} />
      <Way text={say("check.operations")} onPress={props.onBack} />
    </MorePage>
  );
}

// SPDX-License-Identifier: Apache-2.0
// A certificate, typed as it is printed: first the cast it names, then one element after the other. Each is judged as
// soon as it stands there; nothing that was typed is put right.
import { useState } from "preact/hooks";
import { judge, sameCast } from "../folds/receipts.js";
import type { MaterialDefinition, RecordOf } from "../records/kinds.js";
import { printed } from "../records/values.js";
import { say } from "../words/say.js";
import { ChoiceField, TextField } from "./fields.js";
import { Findings, limitWords } from "./findings.js";
import { ShareField, SharePad } from "./share_pad.js";

export type CertificateBody = RecordOf<"certificate_judged">["body"];

export interface CertificateEntryProps {
  readonly receipt: string;
  readonly cast: string;
  /** Limits of the alloy, by their publication. */
  readonly limits: ReadonlyMap<string, MaterialDefinition>;
  /** The publication that holds for the receipt's order. */
  readonly usual: string | undefined;
  readonly onStore: (body: CertificateBody, limits: string | undefined) => void;
}

export function CertificateEntry(props: CertificateEntryProps) {
  const { receipt, limits, usual, onStore } = props;
  const [cast, setCast] = useState("");
  const [number, setNumber] = useState("");
  const [chosen, setChosen] = useState(usual ?? [...limits.keys()][0] ?? "");
  const [isNamed, setNamed] = useState(false);
  const [isMissing, setMissing] = useState(false);
  const material = limits.get(chosen);
  const store = (values: CertificateBody["values"]): void => {
    const named = number.trim() === "" ? {} : { number: number.trim() };
    onStore({ receipt, cast: cast.trim(), values, ...named }, material === undefined ? undefined : chosen);
  };
  const go = (): void => {
    setMissing(cast.trim() === "");
    if (cast.trim() === "") return;
    if (material === undefined) store([]);
    else setNamed(true);
  };
  if (isNamed && material !== undefined) {
    return <Elements {...props} material={material} cast={cast} named={props.cast} onValues={store} />;
  }
  return (
    <section class="goods-form">
      <h1>{say("goods.certificate")}</h1>
      <p>{say("goods.certificate_what")}</p>
      <div class="fields">
        <TextField label={say("goods.cast_printed")} value={cast} onChange={setCast} />
        <TextField label={say("goods.certificate_number")} value={number} onChange={setNumber} />
        {limits.size > 1 && (
          <ChoiceField
            label={say("goods.limits")}
            value={chosen}
            of={[...limits].map(([id, one]) => [id, one.order ?? say("goods.every_order")] as const)}
            onChange={setChosen}
          />
        )}
      </div>
      {material === undefined && <p class="problem">{say("goods.no_limits")}</p>}
      {isMissing && (
        <p class="problem" role="alert">
          {say("goods.cast_missing")}
        </p>
      )}
      <div class="begin">
        <button type="button" class="key main" onClick={go}>
          {material === undefined ? say("goods.store") : say("goods.to_elements")}
        </button>
      </div>
    </section>
  );
}

interface ElementsProps {
  readonly material: MaterialDefinition;
  readonly cast: string;
  readonly named: string;
  readonly onValues: (values: CertificateBody["values"]) => void;
}

/** The element whose turn it is on the left, those that are judged beside it. */
function Elements({ material, cast, named, onValues }: ElementsProps) {
  const [values, setValues] = useState<Readonly<Record<string, string>>>({});
  const [typed, setTyped] = useState("");
  const [at, setAt] = useState(0);
  const [isWrong, setWrong] = useState(false);
  const elements = [...new Set(material.limits.map(({ element }) => element))];
  const element = elements[at];
  const taken = elements.flatMap((one) => {
    const value = values[one] ?? "";
    return value === "" ? [] : [{ element: one, value }];
  });
  // Those whose turn has not come are not missing yet.
  const passed = new Set(elements.slice(0, at));
  const findings = judge(material, taken).filter((finding) => passed.has(finding.element));
  const next = (value: string): void => {
    const isNoNumber = value !== "" && printed(value) !== undefined;
    setWrong(isNoNumber);
    if (isNoNumber || element === undefined) return;
    setValues({ ...values, [element]: value });
    setTyped("");
    setAt(at + 1);
  };
  return (
    <section class="goods-form">
      {material.demo === true && <p class="watermark">{say("goods.demo_limits")}</p>}
      {!sameCast(cast, named) && <p class="problem">{say("goods.other_cast")}</p>}
      {element === undefined ? (
        <div class="begin">
          <button type="button" class="key main" onClick={() => onValues(taken)}>
            {say("goods.store_certificate")}
          </button>
          <button type="button" class="key" onClick={() => setAt(0)}>
            {say("goods.type_again")}
          </button>
        </div>
      ) : (
        <div class="element-entry">
          <div>
            <h1>{element}</h1>
            <p>{limitOf(material, element)}</p>
            <ShareField
              label={say("goods.as_printed", { element })}
              value={typed}
              problem={isWrong ? say("goods.no_share") : undefined}
              onChange={setTyped}
              onEnter={() => next(typed)}
            />
            <div class="pair">
              <button type="button" class="key main" disabled={typed === ""} onClick={() => next(typed)}>
                {say("goods.take_value")}
              </button>
              <button type="button" class="key" onClick={() => next("")}>
                {say("goods.not_printed")}
              </button>
            </div>
          </div>
          <SharePad value={typed} onChange={setTyped} />
        </div>
      )}
      <Findings findings={findings} />
    </section>
  );
}

function limitOf({ limits }: MaterialDefinition, element: string): string {
  const found = limits.filter((one) => one.element === element);
  return found.map(({ low, high }) => limitWords(`${low ?? ""}..${high ?? ""}`)).join(", ");
}

// SPDX-License-Identifier: Apache-2.0
// One receipt: what was counted, what its certificate says element by element, and whether the cast mark agrees.
import { useState } from "preact/hooks";
import type { Certificate } from "../folds/receipts.js";
import type { MaterialDefinition } from "../records/kinds.js";
import { NotStoredLine } from "../widgets/not_stored_line.js";
import { verdictWord } from "../words/goods.js";
import { say } from "../words/say.js";
import { CastMarkEntry, type CastMarkBody } from "./cast_mark_entry.js";
import { CertificateFile, type FileType } from "./certificate_file.js";
import { CertificateEntry, type CertificateBody } from "./certificate_entry.js";
import { Findings } from "./findings.js";
import { Difference } from "./goods_page.js";
import { StateWord } from "./state_word.js";
import { limitsFor, limitsOf, type BarsLine, type ComponentsLine, type ReceiptLine } from "./stock.js";
import "./goods.css";

export interface ReceiptPageProps {
  readonly line: ReceiptLine;
  readonly materials: ReadonlyMap<string, MaterialDefinition>;
  /** Store what a certificate prints, held to the limits of a publication; true once it is stored. */
  readonly onCertificate: (body: CertificateBody, limits: string | undefined) => Promise<boolean>;
  readonly onCastMark: (body: CastMarkBody) => Promise<boolean>;
  /** Keep the certificate's file; why it was not kept, or undefined. */
  readonly onFile: (bytes: Uint8Array<ArrayBuffer>, type: FileType) => Promise<string | undefined>;
  readonly onTakeBack: (record: string) => Promise<boolean>;
  readonly onBack: () => void;
}

export function ReceiptPage(props: ReceiptPageProps) {
  const { line } = props;
  return (
    <main class="choice goods">
      {line.what === "bars" ? <BarsReceipt {...props} line={line} /> : <ComponentsReceipt line={line} />}
      <button type="button" class="key not-yet" onClick={props.onBack}>
        {say("goods.title")}
      </button>
    </main>
  );
}

function ComponentsReceipt({ line }: { readonly line: ComponentsLine }) {
  const { component, lot, counted, stated, supplier } = line.body;
  return (
    <section class="receipt">
      <h1>{say("goods.lot_title", { lot, component })}</h1>
      {supplier !== undefined && <p>{supplier}</p>}
      <Difference counted={counted} stated={stated} />
    </section>
  );
}

interface BarsReceiptProps extends ReceiptPageProps {
  readonly line: BarsLine;
}

function BarsReceipt(props: BarsReceiptProps) {
  const { line, materials, onCertificate, onCastMark, onTakeBack } = props;
  const { body, state } = line;
  const [entry, setEntry] = useState<"certificate" | "mark">();
  const [isNotStored, setNotStored] = useState(false);
  const after = (storing: Promise<boolean>): void => {
    void storing.then((isStored) => {
      setNotStored(!isStored);
      if (isStored) setEntry(undefined);
    });
  };
  const usual = limitsFor(body, materials);
  if (entry === "certificate") {
    return (
      <>
        {isNotStored && <NotStoredLine />}
        <CertificateEntry
          receipt={line.id}
          cast={body.cast}
          limits={limitsOf(body.alloy, materials)}
          usual={usual}
          onStore={(certificate, limits) => after(onCertificate(certificate, limits))}
        />
        <button type="button" class="key" onClick={() => setEntry(undefined)}>
          {say("goods.back_to_receipt")}
        </button>
      </>
    );
  }
  if (entry === "mark") {
    return (
      <>
        {isNotStored && <NotStoredLine />}
        <CastMarkEntry line={line} onStore={(mark) => after(onCastMark(mark))} />
        <button type="button" class="key" onClick={() => setEntry(undefined)}>
          {say("goods.back_to_receipt")}
        </button>
      </>
    );
  }
  return (
    <section class="receipt">
      <h1>{say("goods.cast_title", { cast: body.cast })}</h1>
      <p class="receipt-names">
        {body.alloy} {body.temper}
        {body.bay !== undefined && <span>{say("goods.bay_is", { bay: body.bay })}</span>}
        {body.colour !== undefined && <span>{say("goods.colour_is", { colour: body.colour })}</span>}
        <span>{say("goods.type_is", { type: body.certificate === "none" ? "–" : body.certificate })}</span>
      </p>
      <StateWord state={state.state} />
      {state.state !== "agrees" && <p class="problem">{say("goods.do_not_cut")}</p>}
      {isNotStored && <NotStoredLine />}
      <Difference counted={body.bars} stated={body.stated} />
      <div class="begin">
        <button type="button" class="key" onClick={() => setEntry("certificate")}>
          {say("goods.certificate")}
        </button>
        <CertificateFile count={state.files.length} onFile={props.onFile} />
        <button type="button" class="key" onClick={() => setEntry("mark")}>
          {say("goods.read_mark")}
        </button>
      </div>
      {state.certificates.map((one) => (
        <OneCertificate key={one.id} certificate={one} onTakeBack={() => after(onTakeBack(one.id))} />
      ))}
      {state.marks.map((one) => (
        <p key={one.id} class={one.agrees ? "done" : "problem"}>
          {say(one.agrees ? "goods.mark_agrees" : "goods.mark_differs", { count: one.bars })}{" "}
          <button type="button" class="key" onClick={() => after(onTakeBack(one.id))}>
            {say("goods.take_back")}
          </button>
        </p>
      ))}
      <p class="as-of">{say("goods.mistyped")}</p>
    </section>
  );
}

interface OneCertificateProps {
  readonly certificate: Certificate;
  readonly onTakeBack: () => void;
}

function OneCertificate({ certificate, onTakeBack }: OneCertificateProps) {
  const { verdict, names_cast: namesCast, findings } = certificate;
  return (
    <section class="certificate">
      <h2>{say(verdictWord(verdict))}</h2>
      {!namesCast && <p class="problem">{say("goods.other_cast")}</p>}
      <Findings findings={findings} />
      <button type="button" class="key" onClick={onTakeBack}>
        {say("goods.take_back")}
      </button>
    </section>
  );
}

// SPDX-License-Identifier: Apache-2.0
// Bars of one cast come in: what stands on them, then the count, and only then what the note says.
import { useState } from "preact/hooks";
import { say, type Key } from "../words/say.js";
import { CountThenNote } from "./count_then_note.js";
import { asNumber, ChoiceField, filledIn, TextField } from "./fields.js";
import type { BarsBody } from "./stock.js";

type Section = BarsBody["section"];
type CertificateType = BarsBody["certificate"];

const SECTIONS = {
  round: "goods.section.round",
  square: "goods.section.square",
  hexagon: "goods.section.hexagon",
  flat: "goods.section.flat",
  tube: "goods.section.tube",
} as const satisfies Readonly<Record<Section, Key>>;

/** Types of EN 10204. */
const CERTIFICATES: readonly CertificateType[] = ["3.1", "3.2", "2.2", "2.1", "none"];
const TWO_SIZES: readonly Section[] = ["flat", "tube"];
const MOST_DIGITS = 5;

export interface BarsEntryProps {
  /** Alloys that limits are known of. */
  readonly alloys: readonly string[];
  readonly onStore: (body: BarsBody) => void;
}

const EMPTY = { cast: "", alloy: "", temper: "", size: "", second: "", length: "", bay: "", colour: "" };
const NO_NOTE = { supplier: "", order: "", note: "" };

export function BarsEntry({ alloys, onStore }: BarsEntryProps) {
  const [texts, setTexts] = useState(EMPTY);
  const [section, setSection] = useState<Section>("round");
  const [isRead, setRead] = useState(false);
  const [paper, setPaper] = useState(NO_NOTE);
  const [certificate, setCertificate] = useState<CertificateType>("3.1");
  const [problem, setProblem] = useState<Key>();
  const set = (name: keyof typeof EMPTY) => (value: string) => setTexts({ ...texts, [name]: value });
  const sizes = TWO_SIZES.includes(section) ? [texts.size, texts.second] : [texts.size];
  const go = (): void => {
    const missing = missingOf(texts, sizes);
    setProblem(missing);
    setRead(missing === undefined);
  };
  const store = (bars: number, stated: number | undefined): void => {
    const { cast, alloy, temper } = texts;
    onStore({
      cast: cast.trim(),
      alloy: alloy.trim(),
      temper: temper.trim(),
      section,
      sizes: sizes.map((size) => asNumber(size) ?? "0"),
      bars,
      certificate,
      ...(stated === undefined ? {} : { stated }),
      ...filledIn({ length: asNumber(texts.length) ?? "", bay: texts.bay, colour: texts.colour, ...paper }),
    });
  };
  if (!isRead) {
    return (
      <section class="goods-form">
        <h1>{say("goods.bars_came")}</h1>
        <p>{say("goods.bars_what")}</p>
        <div class="fields">
          <TextField label={say("goods.cast")} value={texts.cast} onChange={set("cast")} />
          <TextField label={say("goods.alloy")} value={texts.alloy} known={alloys} onChange={set("alloy")} />
          <TextField label={say("goods.temper")} value={texts.temper} onChange={set("temper")} />
          <ChoiceField
            label={say("goods.section")}
            value={section}
            of={(Object.keys(SECTIONS) as Section[]).map((one) => [one, say(SECTIONS[one])] as const)}
            onChange={setSection}
          />
          <TextField label={say("goods.size")} value={texts.size} isNumber onChange={set("size")} />
          {sizes.length > 1 && (
            <TextField
              label={say("goods.second_size")}
              value={texts.second}
              isNumber
              onChange={set("second")}
            />
          )}
          <TextField label={say("goods.length")} value={texts.length} isNumber onChange={set("length")} />
          <TextField label={say("goods.bay")} value={texts.bay} onChange={set("bay")} />
          <TextField label={say("goods.colour")} value={texts.colour} onChange={set("colour")} />
        </div>
        {problem !== undefined && (
          <p class="problem" role="alert">
            {say(problem)}
          </p>
        )}
        <div class="begin">
          <button type="button" class="key main" onClick={go}>
            {say("goods.to_count")}
          </button>
        </div>
      </section>
    );
  }
  return (
    <CountThenNote count="goods.count_bars" stated="goods.stated_bars" digits={MOST_DIGITS} onCounted={store}>
      <TextField
        label={say("goods.supplier")}
        value={paper.supplier}
        onChange={(supplier) => setPaper({ ...paper, supplier })}
      />
      <TextField
        label={say("goods.order")}
        value={paper.order}
        onChange={(order) => setPaper({ ...paper, order })}
      />
      <TextField
        label={say("goods.note")}
        value={paper.note}
        onChange={(note) => setPaper({ ...paper, note })}
      />
      <ChoiceField
        label={say("goods.certificate_type")}
        value={certificate}
        of={CERTIFICATES.map((one) => [one, one === "none" ? say("goods.certificate_none") : one] as const)}
        onChange={setCertificate}
      />
    </CountThenNote>
  );
}

function missingOf(texts: typeof EMPTY, sizes: readonly string[]): Key | undefined {
  if (texts.cast.trim() === "" || texts.alloy.trim() === "" || texts.temper.trim() === "")
    return "goods.name_missing";
  if (sizes.some((size) => asNumber(size) === undefined)) return "goods.size_missing";
  return texts.length.trim() !== "" && asNumber(texts.length) === undefined
    ? "goods.size_missing"
    : undefined;
}

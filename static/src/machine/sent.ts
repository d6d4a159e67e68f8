// SPDX-License-Identifier: Apache-2.0
import { useRef, useState } from "preact/hooks";
import type { Characteristic } from "../records/kinds.js";
import { useReadings } from "../widgets/scans.js";
import { say } from "../words/say.js";
import type { Sent } from "./check_entry.js";
import { sentBy } from "./reading.js";

interface Last {
  readonly open: string;
  readonly sent?: Sent;
  readonly note?: string;
  readonly label?: string;
}

export interface Heard {
  readonly sent: Sent | undefined;
  /** Why what was sent is not taken. */
  readonly note: string | undefined;
  /** A label that was scanned: it may be the gauge's. */
  readonly label: string | undefined;
  readonly forget: () => void;
}

/**
 * What a gauge or a scanner typed: a number for the check that stands open, or a sentence why it is not taken.
 *
 * open   what stands open: what was sent to another check is gone
 */
export function useSent(entered: Characteristic | undefined, open: string): Heard {
  const [last, setLast] = useState<Last>();
  const count = useRef(0);
  useReadings((text) => {
    const number = sentBy(text);
    const unit = entered?.unit ?? "";
    if (number === undefined) {
      setLast({ open, note: say("check.not_taken", { text }), label: text });
    } else if (entered === undefined) {
      setLast({ open, note: say("check.not_taken", { text }) });
    } else if (number.unit !== "" && number.unit !== unit) {
      setLast({ open, note: say("check.other_unit", { text, unit }) });
    } else {
      count.current += 1;
      setLast({ open, sent: { value: number.value, nth: count.current } });
    }
  });
  const here = last?.open === open ? last : undefined;
  return { sent: here?.sent, note: here?.note, label: here?.label, forget: () => setLast(undefined) };
}

// SPDX-License-Identifier: Apache-2.0
import { describe, expect, test } from "vitest";
import { tagsIn } from "../../../static/src/bench/piece_tag.js";
import { CHAIN, record, TRAY } from "./demo_words.js";
import type { KnownRecord } from "../../../static/src/records/kinds.js";

const DEVICE = `${"s".repeat(26)}:5`;

describe("the tag of a piece", () => {
  const enrolled = record(5, "device_enrolled", { name: "Bench 1", letters: "KM", public_key: "x" });
  const device = { ...enrolled, id: DEVICE };
  const mark = record(17, "defect_tallied", { look: "first", tray: TRAY, defect: "lap" });

  test("letters of the tablet that marked it, and the number of the mark", () => {
    expect(tagsIn([device, mark])(mark.id)).toBe("KM17");
  });

  test("a mark that was admitted keeps the number on the slip", () => {
    const admitted = { ...mark, id: `${"s".repeat(26)}:90` };
    expect(tagsIn([device, admitted])(admitted.id)).toBe("KM17");
  });

  test("a piece that is not known here is called by its number", () => {
    expect(tagsIn([device])(`${CHAIN}:99`)).toBe("99");
    const other = { ...mark, known: { ...mark.known, device: `${CHAIN}:1` } as KnownRecord };
    expect(tagsIn([device, other])(mark.id)).toBe("17");
  });
});

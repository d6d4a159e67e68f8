// SPDX-License-Identifier: Apache-2.0
import { afterEach, describe, expect, test } from "vitest";
import { DIFFERENCES, sayDifference, type Names } from "../../../static/src/words/differences.js";
import { POINT_KINDS, sayPoint } from "../../../static/src/words/points.js";
import { language } from "../../../static/src/words/say.js";

const NAMES: Names = { tray: () => "7", person: () => "Ines Brandt", tag: () => "KM17" };
const folds = import.meta.glob<string>("../../../static/src/folds/{ledger,look}.ts", {
  eager: true,
  query: "?raw",
  import: "default",
});
const vectors = import.meta.glob<unknown>("../../vectors/bench/*.json", { eager: true, import: "default" });

/** Every word that stands behind `kind` in what the vectors expect of looks and ledgers. */
function kindsIn(value: unknown, within = ""): string[] {
  if (Array.isArray(value)) return value.flatMap((one) => kindsIn(one, within));
  if (typeof value !== "object" || value === null) return [];
  return Object.entries(value).flatMap(([name, inner]) =>
    name === "kind" && ["points", "differences"].includes(within) && typeof inner === "string"
      ? [inner]
      : kindsIn(inner, name),
  );
}

afterEach(() => {
  language.value = "en";
});

describe("open points as sentences", () => {
  test("every kind that the folds' code names has its sentence", () => {
    const code = Object.values(folds).join("\n");
    const named = [...code.matchAll(/(?:#line\(|named\(|kind: )([^;{}]*?)[,)]/g)].flatMap(([, words = ""]) =>
      [...words.matchAll(/"([a-z_]+)"/g)].map(([, word]) => word),
    );
    expect(named.length).toBeGreaterThan(20);
    expect(named.filter((kind) => !POINT_KINDS.some((known) => known === kind))).toEqual([]);
  });

  test("where a tablet tallies, every difference of a ledger is said, as it is elsewhere", () => {
    const ledger = Object.entries(folds).find(([path]) => path.endsWith("ledger.ts"))?.[1] ?? "";
    const lines = [...ledger.matchAll(/(?:#line\(|kind: )([^;{}]*?)[,)]/g)].flatMap(([, words = ""]) =>
      [...words.matchAll(/"([a-z_]+)"/g)].map(([, word = ""]) => word),
    );
    expect([...new Set(lines)].sort()).toEqual(Object.keys(DIFFERENCES).sort());
    for (const kind of lines) {
      const line = { kind, subject: "5", amount: -2 };
      expect(sayDifference(line, NAMES)).toBe(sayPoint(line, NAMES));
      expect(sayDifference(line, NAMES)).not.toContain(kind);
    }
  });

  test("every kind that the vectors expect has its sentence", () => {
    const expected = new Set(kindsIn(Object.values(vectors)));
    expect(expected.size).toBeGreaterThan(15);
    expect([...expected].filter((kind) => !POINT_KINDS.some((known) => known === kind))).toEqual([]);
  });

  test("a tray closed twice says how many more were looked at than are due", () => {
    const point = { kind: "tray_twice", subject: "5", amount: 55 };
    expect(sayPoint(point, NAMES)).toBe("Tray 5 was closed twice: 55 more looked at than due.");
    language.value = "de";
    expect(sayPoint(point, NAMES)).toBe("Schale 5 wurde zweimal beendet: 55 mehr angesehen als fällig.");
  });

  test("a shortage is said in words, without a minus", () => {
    expect(sayPoint({ kind: "cards_do_not_add_up", subject: "", amount: -1 }, NAMES)).toBe(
      "The trays' cards hold 1 piece fewer than were counted in.",
    );
    expect(sayPoint({ kind: "tray_twice", subject: "5", amount: 0 }, NAMES)).toBe(
      "Tray 5 was closed twice: as many looked at as due.",
    );
  });

  test("trays, people and pieces are called by their names, not by ids", () => {
    const tray = { kind: "tray_not_closed", subject: `${"a".repeat(26)}:3`, amount: 0 };
    expect(sayPoint(tray, NAMES)).toBe("Tray 7 is not closed.");
    expect(sayPoint({ ...tray, kind: "query_open" }, NAMES)).toContain("KM17");
    expect(sayPoint({ ...tray, kind: "same_eyes", amount: 60 }, NAMES)).toContain("Ines Brandt");
  });

  test("a difference of the route says at which operation, and about what", () => {
    const rivets = { kind: "components_short", subject: "130 rivet", amount: -1 };
    expect(sayPoint(rivets, NAMES)).toBe("Operation 130: 1 assembly has no rivet, by what was left over.");
    const lost = { kind: "pieces_short", subject: "110", amount: -3 };
    language.value = "de";
    expect(sayPoint(lost, NAMES)).toBe("Arbeitsgang 110: 3 Teile fehlen gegenüber dem, was hineinging.");
  });

  test("every difference that the server's route has is said in words", () => {
    const server = import.meta.glob<string>("../../../server/tallywright/folds/{route,whole_ledger}.py", {
      eager: true,
      query: "?raw",
      import: "default",
    });
    const words = [
      ...Object.values(server)
        .join("\n")
        .matchAll(/"([a-z]+(?:_[a-z]+)*_(?:short|over|differs?|finished|away|otherwise|proven))"/g),
    ];
    const kinds = new Set(words.map(([, kind = ""]) => kind));
    expect(kinds.size).toBeGreaterThan(9);
    expect([...kinds].filter((kind) => !POINT_KINDS.some((known) => known === kind))).toEqual([]);
  });

  test("a kind of a newer server is shown by its code", () => {
    expect(sayPoint({ kind: "from_tomorrow", subject: "", amount: 2 }, NAMES)).toContain("from_tomorrow");
  });
});

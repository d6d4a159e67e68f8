// SPDX-License-Identifier: Apache-2.0
// Random records of every kind, and the check of lines that the other language wrote. exchange.mjs calls it.
import { canonical } from "../../../static/src/records/canonical.js";
import { chainName } from "../../../static/src/records/chain_name.js";
import { formOf } from "../../../static/src/records/forms.js";
import { LARGEST_INTEGER } from "../../../static/src/records/values.js";
import type {
  Characteristic,
  DefectClass,
  Kind,
  PartDefinition,
  RecordOf,
} from "../../../static/src/records/kinds.js";
import { decode } from "../../../static/src/records/read.js";
import { RefusedRecord } from "../../../static/src/records/refused.js";
import { Chance } from "./chance.js";

type Bodies = { readonly [K in Kind]: (chance: Chance) => RecordOf<K>["body"] };

const NASTY = [
  "Riß",
  "Ścięcie",
  "\u0001\b\t\n\f\r\u001f",
  'a "quoted" word',
  "back\\slash/solidus",
  "\u2028\u2029",
  "שבר קטן",
  "\u202eright to left\u202c",
  "😀🔩",
  "\u007f\u0080\u009f",
  "\ufeffmark",
  "\ud7ff\ue000\uffff",
  "\u{10ffff}",
  "</script><!--",
  "e\u0301é",
  " ",
  "7",
] as const;

const optional = <T>(chance: Chance, make: () => T): T | undefined => (chance.flip() ? make() : undefined);
const label = (chance: Chance): string => {
  const text = chance.some(1, 4, () => chance.one(...NASTY)).join(chance.one("", " ", "-"));
  // One in twenty is as long as a label may be, in characters and not in units of two bytes.
  return chance.whole(1, 20) === 1 ? "🔩".repeat(200) : text;
};
const word = (chance: Chance): string =>
  chance.one("lap", "flash", "not_sure", "second", `w${chance.whole(0, 999)}`, "a".repeat(64));
const count = (chance: Chance): number => chance.one(0, 1, chance.whole(0, 10_000), LARGEST_INTEGER);
const number = (chance: Chance): number => chance.one(1, chance.whole(1, 10_000), LARGEST_INTEGER);
const time = (chance: Chance): number =>
  chance.one(chance.whole(1_780_000_000_000, 1_800_000_000_000), 0, -1, LARGEST_INTEGER, -LARGEST_INTEGER);
const id = (chance: Chance): string => `${chainName(chance.bytes(16))}:${number(chance)}`;
const hash = (chance: Chance): string =>
  Array.from(chance.bytes(32), (byte) => byte.toString(16).padStart(2, "0")).join("");
const translations = (chance: Chance): Record<string, string> =>
  Object.fromEntries(
    ["en", "de", "pl", "kab"].filter(() => chance.flip()).map((name) => [name, label(chance)]),
  );
const defectClass = (chance: Chance): DefectClass => chance.one("critical", "major", "minor");

const BODIES: Bodies = {
  works_opened: (chance) => ({
    name: label(chance),
    time_zone: label(chance),
    demo: chance.flip(),
  }),
  chain_opened: (chance) =>
    given({
      why: chance.one("first", "wiped", "behind", "forked", "key_lost"),
      before: optional(chance, () => hash(chance)),
    }),
  device_enrolled: (chance) => ({
    name: label(chance),
    letters: chance.one("KM", "ABC", "QXYZ"),
    public_key: chance.one("Ab+/".repeat(31), `${"Zz09".repeat(20)}==`),
  }),
  device_revoked: (chance) => given({ device: id(chance), why: optional(chance, () => label(chance)) }),
  person_changed: (chance) =>
    given({
      name: label(chance),
      roles: roles(chance),
      person: optional(chance, () => id(chance)),
      last_day: optional(chance, () => day(chance)),
      deputy: optional(chance, () => deputy(chance)),
      request: optional(chance, () => id(chance)),
    }),
  definition_published: (chance) => ({
    content: chance.one(part, shifts, material, gauge, file)(chance),
  }),
  signed_on: (chance) =>
    given({
      person: id(chance),
      sealing_key: optional(chance, () => chance.one("0123456789abcdef", "ffffffffffffffff")),
      sealed: optional(chance, () => hash(chance)),
    }),
  sign_on_judged: (chance) => ({ sign_on: id(chance), proven: chance.flip() }),
  batch_opened: (chance) => ({ number: label(chance), pieces: count(chance) }),
  batch_split: (chance) =>
    given({
      number: label(chance),
      pieces: number(chance),
      trays: optional(chance, () => chance.some(0, 3, () => number(chance))),
      look: optional(chance, () => word(chance)),
    }),
  pieces_counted: (chance) =>
    given({
      look: word(chance),
      pieces: count(chance),
      trays: chance.some(0, 3, () => ({ number: number(chance), pieces: count(chance) })),
      operation: optional(chance, () => number(chance)),
    }),
  handover_given: (chance) => ({ look: word(chance), tray: id(chance), place: count(chance) }),
  handover_taken: (chance) =>
    given({
      look: word(chance),
      tray: id(chance),
      given: optional(chance, () => id(chance)),
      from_first: optional(chance, () => true as const),
    }),
  break_taken: (chance) => ({ look: word(chance) }),
  tray_opened: (chance) => ({
    look: word(chance),
    number: number(chance),
    places: number(chance),
  }),
  defect_tallied: (chance) =>
    given({
      look: word(chance),
      tray: id(chance),
      defect: word(chance),
      piece: optional(chance, () => id(chance)),
      zone: optional(chance, () => word(chance)),
      cavity: optional(chance, () => label(chance)),
      quick_repeat: optional(chance, () => true as const),
      round: optional(chance, () => number(chance)),
    }),
  tray_closed: (chance) => ({
    look: word(chance),
    tray: id(chance),
    places: number(chance),
    empty_counted: count(chance),
    accepted: count(chance),
    rejected: count(chance),
    rework: count(chance),
    query: count(chance),
    all_looked_at: true,
  }),
  piece_judged: (chance) =>
    given({
      look: word(chance),
      piece: id(chance),
      verdict: chance.one("accept", "rework", "query", "reject"),
      settles: optional(chance, () => chance.some(0, 3, () => id(chance))),
      round: optional(chance, () => number(chance)),
    }),
  rework_sent: (chance) => reworked(chance),
  rework_returned: (chance) => reworked(chance),
  piece_found: (chance) =>
    given({
      where: label(chance),
      pieces: number(chance),
      operation: optional(chance, () => number(chance)),
      look: optional(chance, () => word(chance)),
    }),
  foreign_piece_found: (chance) =>
    given({ look: word(chance), pieces: number(chance), tray: optional(chance, () => id(chance)) }),
  operation_started: (chance) =>
    given({
      operation: number(chance),
      machine: optional(chance, () => label(chance)),
      tool: optional(chance, () => label(chance)),
      cavities: optional(chance, () => chance.some(0, 3, () => label(chance))),
      cast: optional(chance, () => label(chance)),
      look: optional(chance, () => word(chance)),
    }),
  operation_finished: (chance) =>
    given({
      started: id(chance),
      operation: number(chance),
      in: count(chance),
      out: count(chance),
      scrap: count(chance),
      set_up: count(chance),
      samples: count(chance),
      inside: optional(chance, () => count(chance)),
      look: optional(chance, () => word(chance)),
    }),
  operation_recounted: (chance) =>
    given({
      started: id(chance),
      operation: number(chance),
      of: chance.one("in", "out", "scrap", "made"),
      pieces: count(chance),
      how: chance.one("hand", "counter", "weighed"),
      weighing: optional(chance, () => ({
        counted: number(chance),
        grams: decimal(chance),
        spread_percent: decimal(chance),
        trays: chance.some(1, 3, () => ({ grams: decimal(chance), pieces: count(chance) })),
      })),
      settles: optional(chance, () => chance.some(0, 3, () => id(chance))),
      look: optional(chance, () => word(chance)),
    }),
  scrap_destroyed: (chance) =>
    given({
      operation: number(chance),
      handed_in: number(chance),
      destroyed: count(chance),
      kept: count(chance),
      kept_for: optional(chance, () =>
        chance.one("limit_sample", "seeded_piece", "analysis", "returned_to_supplier"),
      ),
    }),
  load_opened: (chance) => ({ operation: number(chance), number: label(chance) }),
  load_filled: (chance) => ({ load: id(chance), operation: number(chance), pieces: number(chance) }),
  lot_opened: (chance) =>
    given({ operation: number(chance), number: label(chance), firm: optional(chance, () => label(chance)) }),
  lot_sent: (chance) => ({ lot: id(chance), operation: number(chance), pieces: number(chance) }),
  lot_returned: (chance) =>
    given({
      lot: id(chance),
      operation: number(chance),
      counted: count(chance),
      foreign: count(chance),
      stated: optional(chance, () => count(chance)),
    }),
  sample_taken: (chance) =>
    given({
      operation: number(chance),
      pieces: number(chance),
      test: label(chance),
      fate: chance.one("used_up", "destroyed", "given_back"),
      load: optional(chance, () => id(chance)),
    }),
  components_counted: (chance) => ({
    operation: number(chance),
    component: word(chance),
    lot: label(chance),
    issued: count(chance),
    left: count(chance),
    scrapped: count(chance),
  }),
  look_signed: (chance) => ({ look: word(chance), seen: seen(chance) }),
  record_withdrawn: (chance) =>
    given({
      record: id(chance),
      receipt: optional(chance, () => id(chance)),
      gauge: optional(chance, () => label(chance)),
      look: optional(chance, () => word(chance)),
      why: optional(chance, () => label(chance)),
    }),
  photo_attached: (chance) =>
    given({
      file: hash(chance),
      type: chance.one("image/jpeg", "image/png", "image/webp", "application/pdf", "text/csv"),
      size: chance.whole(1, 20 * 1024 * 1024),
      look: optional(chance, () => word(chance)),
      tray: optional(chance, () => id(chance)),
      piece: optional(chance, () => id(chance)),
    }),
  hold_placed: (chance) =>
    given({
      why: label(chance),
      look: optional(chance, () => word(chance)),
      tray: optional(chance, () => id(chance)),
      piece: optional(chance, () => id(chance)),
    }),
  hold_lift_requested: (chance) => ({
    holds: chance.some(1, 3, () => id(chance)),
    seen: seen(chance),
    why: label(chance),
  }),
  disposition_requested: (chance) =>
    given({
      piece: id(chance),
      look: word(chance),
      verdict: chance.one("accept", "rework", "reject"),
      seen: seen(chance),
      why: optional(chance, () => label(chance)),
    }),
  difference_acceptance_requested: (chance) =>
    given({
      subject: chance.one("", "4", label(chance)),
      difference: word(chance),
      amount: chance.one(0, -3, chance.whole(-1000, 1000), -LARGEST_INTEGER, LARGEST_INTEGER),
      seen: seen(chance),
      why: label(chance),
      look: optional(chance, () => word(chance)),
    }),
  release_requested: (chance) => given({ seen: seen(chance), why: optional(chance, () => label(chance)) }),
  person_requested: (chance) =>
    given({
      name: label(chance),
      roles: roles(chance),
      person: optional(chance, () => id(chance)),
      newest: optional(chance, () => id(chance)),
      last_day: optional(chance, () => day(chance)),
      deputy: optional(chance, () => deputy(chance)),
    }),
  enrolment_requested: (chance) => ({ name: label(chance), key: hash(chance) }),
  revocation_requested: (chance) => ({ device: id(chance), why: label(chance) }),
  admission_requested: (chance) => ({
    of_chain: chainName(chance.bytes(16)),
    lines: chance.some(1, 3, () => hash(chance)),
    why: label(chance),
  }),
  request_seconded: (chance) => ({ request: id(chance) }),
  request_granted: (chance) => ({ request: id(chance) }),
  request_declined: (chance) => ({
    request: id(chance),
    reasons: chance.some(1, 3, () => chance.one("role", "pin_wrong", "changed", "admitted_already")),
  }),
  limit_crossed: (chance) => ({ look: word(chance), class: defectClass(chance) }),
  authorship_confirmed: (chance) => ({ look: word(chance), tray: id(chance), of_sign_on: id(chance) }),
  set_aside_admitted: (chance) =>
    given({
      line: `{${label(chance)}}`,
      names: chance.some(0, 3, () => ({ was: id(chance), now: id(chance) })),
      look: optional(chance, () => word(chance)),
    }),
  backup_verified: (chance) => ({ number: number(chance) }),
  restored: (chance) =>
    given({
      noticed_by: chance.one("cursor", "head", "command"),
      lost: optional(chance, () => id(chance)),
    }),
  check_taken: (chance) =>
    given({
      operation: number(chance),
      characteristic: number(chance),
      role: checkRole(chance),
      value: optional(chance, () => decimal(chance)),
      result: optional(chance, () => chance.one("go", "not_go", "yes", "no")),
      pieces: optional(chance, () => number(chance)),
      made: optional(chance, () => count(chance)),
      entered: optional(chance, () => chance.one("typed", "steps", "gauge")),
      gauge: optional(chance, () => label(chance)),
      cavity: optional(chance, () => label(chance)),
      repeats: optional(chance, () => id(chance)),
      typing_error: optional(chance, () => true as const),
    }),
  check_missed: (chance) =>
    given({
      operation: number(chance),
      characteristic: number(chance),
      role: checkRole(chance),
      why: label(chance),
      made: optional(chance, () => count(chance)),
    }),
  reaction_taken: (chance) => ({
    operation: number(chance),
    check: id(chance),
    done: label(chance),
    pieces_back: count(chance),
  }),
  pieces_made: (chance) => ({
    operation: number(chance),
    pieces: number(chance),
    counted: chance.one("key", "counter", "tray", "weighed"),
  }),
  operation_changed: (chance) =>
    given({
      operation: number(chance),
      what: chance.one("die", "tray", "stop", "last_piece"),
      was: optional(chance, () => label(chance)),
      now: optional(chance, () => label(chance)),
      not_separated: optional(chance, () => true),
    }),
  gauge_checked: (chance) =>
    given({
      gauge: label(chance),
      result: chance.one("fit", "wrong", "doubtful"),
      against: optional(chance, () => label(chance)),
      certificate: optional(chance, () => label(chance)),
      next_due: optional(chance, () => day(chance)),
      note: optional(chance, () => label(chance)),
    }),
  material_received: (chance) =>
    given({
      alloy: label(chance),
      temper: label(chance),
      cast: label(chance),
      section: chance.one("round", "square", "hexagon", "flat", "tube"),
      sizes: chance.some(1, 2, () => decimal(chance)),
      bars: count(chance),
      certificate: chance.one("none", "2.1", "2.2", "3.1", "3.2"),
      stated: optional(chance, () => count(chance)),
      length: optional(chance, () => decimal(chance)),
      bay: optional(chance, () => label(chance)),
      colour: optional(chance, () => label(chance)),
      supplier: optional(chance, () => label(chance)),
      order: optional(chance, () => label(chance)),
      note: optional(chance, () => label(chance)),
    }),
  components_received: (chance) =>
    given({
      component: word(chance),
      lot: label(chance),
      counted: count(chance),
      stated: optional(chance, () => count(chance)),
      supplier: optional(chance, () => label(chance)),
      order: optional(chance, () => label(chance)),
      note: optional(chance, () => label(chance)),
    }),
  certificate_attached: (chance) => ({
    receipt: id(chance),
    file: hash(chance),
    type: chance.one("image/jpeg", "image/png", "image/webp", "application/pdf"),
    size: chance.whole(1, 20 * 1024 * 1024),
  }),
  certificate_judged: (chance) =>
    given({
      receipt: id(chance),
      cast: label(chance),
      values: chance.some(0, 3, () => ({ element: label(chance), value: printed(chance) })),
      number: optional(chance, () => label(chance)),
    }),
  cast_mark_read: (chance) =>
    given({
      receipt: id(chance),
      bars: number(chance),
      agrees: chance.flip(),
      read: optional(chance, () => label(chance)),
    }),
  bars_issued: (chance) =>
    given({
      receipt: id(chance),
      bars: number(chance),
      seen: seen(chance),
      pieces_per_bar: optional(chance, () => number(chance)),
      length: optional(chance, () => decimal(chance)),
      piece: optional(chance, () => decimal(chance)),
      kept_apart: optional(chance, () => chance.flip()),
    }),
  remnant_returned: (chance) => ({
    receipt: id(chance),
    bars: number(chance),
    length: decimal(chance),
    marked: chance.flip(),
  }),
  bar_ends_collected: (chance) =>
    given({
      alloy: label(chance),
      container: label(chance),
      pieces: optional(chance, () => number(chance)),
      mass_g: optional(chance, () => number(chance)),
    }),
};

const KINDS = Object.keys(BODIES) as [Kind, ...Kind[]];

function checkRole(chance: Chance): RecordOf<"check_taken">["body"]["role"] {
  return chance.one("first_off", "in_process", "last_off");
}

function decimal(chance: Chance): string {
  return chance.one("13.20", "0", "-0.10", "999999999.999999999", "7.0");
}

function printed(chance: Chance): string {
  return chance.one("0.40", "<0.01", "0", "100", "999.999999999", "1.0");
}

function material(chance: Chance): RecordOf<"definition_published">["body"]["content"] {
  return given({
    subject: "material" as const,
    alloy: label(chance),
    limits: chance.some(1, 3, () =>
      given({
        element: label(chance),
        low: optional(chance, () => chance.one("0.40", "0", "999.999999999")),
        high: optional(chance, () => chance.one("0.9", "100")),
      }),
    ),
    order: optional(chance, () => label(chance)),
    rounding: optional(chance, () => chance.one("half_even" as const, "half_up" as const)),
    source: optional(chance, () => label(chance)),
    demo: optional(chance, () => chance.flip()),
  });
}

function gauge(chance: Chance): RecordOf<"definition_published">["body"]["content"] {
  return given({
    subject: "gauge" as const,
    number: label(chance),
    kinds: chance.some(1, 3, () => label(chance)),
    range: optional(chance, () => label(chance)),
    resolution: optional(chance, () => label(chance)),
    due: optional(chance, () => day(chance)),
    place: optional(chance, () => label(chance)),
    demo: optional(chance, () => chance.flip()),
  });
}

function checkRule(chance: Chance): NonNullable<Characteristic["first_off"]> {
  return given({
    at: chance.one("events", "pieces", "minutes", "each_piece", "logger"),
    cell: label(chance),
    pieces: optional(chance, () => number(chance)),
    places: optional(chance, () => number(chance)),
    every: optional(chance, () => number(chance)),
    events: optional(chance, () => chance.some(0, 3, () => chance.one("alarm", "reheat", "tray"))),
  });
}

function characteristic(chance: Chance): Characteristic {
  return given({
    operation: number(chance),
    characteristic: number(chance),
    words: translations(chance),
    kind: chance.one("value", "go_not_go", "yes_no", "process", "document", "count"),
    class: defectClass(chance),
    nominal: optional(chance, () => label(chance)),
    lower: optional(chance, () => decimal(chance)),
    upper: optional(chance, () => decimal(chance)),
    unit: optional(chance, () => label(chance)),
    gauge: optional(chance, () => label(chance)),
    first_off: optional(chance, () => checkRule(chance)),
    in_process: optional(chance, () => checkRule(chance)),
    last_off: optional(chance, () => checkRule(chance)),
    who: optional(chance, () => label(chance)),
    reaction: optional(chance, () => chance.one("R1", "R9")),
  });
}

function roles(chance: Chance): RecordOf<"person_changed">["body"]["roles"] {
  return chance.some(0, 3, () => chance.one("inspector", "operator", "lead", "administrator", "reader"));
}

function day(chance: Chance): string {
  return chance.one("2026-11-25", "0000-01-31", "9999-12-01");
}

function deputy(chance: Chance): { first_day: string; last_day: string } {
  return { first_day: day(chance), last_day: day(chance) };
}

function seen(chance: Chance): { chain: string; n: number }[] {
  return chance.some(0, 3, () => ({ chain: chainName(chance.bytes(16)), n: number(chance) }));
}

function reworked(chance: Chance): RecordOf<"rework_sent">["body"] {
  return given({
    look: word(chance),
    pieces: number(chance),
    tags: optional(chance, () => chance.some(0, 3, () => id(chance))),
  });
}

function part(chance: Chance): PartDefinition {
  return given({
    subject: "part" as const,
    part: label(chance),
    revision: label(chance),
    name: translations(chance),
    tray_places: number(chance),
    looks: chance.some(1, 3, () => word(chance)),
    defects: chance.some(0, 4, () =>
      given({
        defect: word(chance),
        key: translations(chance),
        words: translations(chance),
        class: optional(chance, () => defectClass(chance)),
        by_zone: optional(chance, () =>
          chance.some(0, 3, () => ({
            zone: word(chance),
            class: defectClass(chance),
          })),
        ),
        born_at: optional(chance, () => number(chance)),
        also_born_at: optional(chance, () => chance.some(0, 3, () => number(chance))),
        first_seen_at: optional(chance, () => number(chance)),
        also_seen_at: optional(chance, () => chance.some(0, 3, () => number(chance))),
        look_alike: optional(chance, () => label(chance)),
        also_look_alikes: optional(chance, () => chance.some(0, 3, () => label(chance))),
        family: optional(chance, () => label(chance)),
        seen_by_eye: optional(chance, () => chance.one("yes", "gauge", "no")),
        rework: optional(chance, () => label(chance)),
        how_to_look: optional(chance, () => label(chance)),
        why: optional(chance, () => label(chance)),
      }),
    ),
    zones: optional(chance, () =>
      chance.some(0, 3, () =>
        given({
          zone: word(chance),
          words: translations(chance),
          covered_after: optional(chance, () => number(chance)),
        }),
      ),
    ),
    cavities: optional(chance, () => chance.some(0, 3, () => label(chance))),
    load_bearing: optional(chance, () => chance.flip()),
    operations: optional(chance, () =>
      chance.some(0, 3, () =>
        given({
          operation: number(chance),
          words: translations(chance),
          order: optional(chance, () => chance.one("kept", "lost")),
        }),
      ),
    ),
    limits: optional(chance, () =>
      chance.some(0, 3, () => ({
        look: word(chance),
        class: defectClass(chance),
        allowed_per_thousand: chance.one(0, 40, 1000),
      })),
    ),
    characteristics: optional(chance, () => chance.some(0, 3, () => characteristic(chance))),
    demo: optional(chance, () => chance.flip()),
  });
}

function file(chance: Chance): RecordOf<"definition_published">["body"]["content"] {
  return { subject: "file", of: "part", part: label(chance), revision: label(chance), file: hash(chance) };
}

function shifts(chance: Chance): RecordOf<"definition_published">["body"]["content"] {
  return {
    subject: "shifts",
    time_zone: label(chance),
    shifts: chance.some(1, 3, () => ({
      shift: label(chance),
      starts: chance.one("00:00", "05:30", "23:59"),
    })),
  };
}

/** The members that are given: what is undefined is left out, as it is in a record. */
function given<T extends object>(members: T): { [K in keyof T]: Exclude<T[K], undefined> } {
  return Object.fromEntries(Object.entries(members).filter(([, value]) => value !== undefined)) as {
    [K in keyof T]: Exclude<T[K], undefined>;
  };
}

/** `count` lines of one chain; every kind comes before any comes twice. */
export function write(seed: number, howMany: number): string[] {
  const chance = new Chance(seed);
  const chain = chainName(chance.bytes(16));
  const device = id(chance);
  const lines: string[] = [];
  let previous: string | undefined;
  for (let n = 1; n <= howMany; n += 1) {
    const kind = KINDS[n - 1] ?? chance.one(...KINDS);
    const line = canonical({
      chain,
      n,
      device,
      previous,
      made_at: time(chance),
      offset_min: chance.one(0, 60, -300, 1080, -1080),
      time_zone: chance.one("Europe/Berlin", "UTC", label(chance)),
      skew_ms: optional(chance, () => chance.whole(-400_000, 400_000)),
      kind,
      v: 1,
      body: BODIES[kind](chance),
      // Some kinds cannot do without some of these; the others have them now and then.
      ...Object.fromEntries(
        ["sign_on", "site", "batch", "definition"]
          .filter((member) => chance.flip() || formOf(kind, 1)?.needs.some((needed) => needed === member))
          .map((member) => [member, id(chance)]),
      ),
    });
    previous = decode(line).hash;
    lines.push(line);
  }
  return lines;
}

/** The hash of each line, or the code it is refused by. */
export function check(bytes: Uint8Array): string[] {
  const lines: Uint8Array[] = [];
  let start = 0;
  for (let at = bytes.indexOf(10); at >= 0; at = bytes.indexOf(10, start)) {
    lines.push(bytes.subarray(start, at));
    start = at + 1;
  }
  if (start < bytes.length) lines.push(bytes.subarray(start));
  return lines.map(verdict);
}

function verdict(bytes: Uint8Array): string {
  try {
    return decode(textOf(bytes)).hash;
  } catch (problem) {
    if (problem instanceof RefusedRecord) return `refused ${problem.code}`;
    throw problem;
  }
}

function textOf(bytes: Uint8Array): string {
  try {
    return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    throw new RefusedRecord("unreadable", "The bytes are not UTF-8.");
  }
}

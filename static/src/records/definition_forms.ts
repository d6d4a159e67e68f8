// SPDX-License-Identifier: Apache-2.0
// The form of what people judge by, in a record or in a file: the server's definition.py.
import { boolean, integer, list, object, oneOf, pattern } from "./shape.js";
import { day, decimal, defectClass, hash, label, number, share, translations, word } from "./values.js";

const defectWord = object({
  needed: { defect: word, key: translations, words: translations },
  optional: {
    class: defectClass,
    by_zone: list(object({ needed: { zone: word, class: defectClass } })),
    born_at: number,
    also_born_at: list(number),
    first_seen_at: number,
    also_seen_at: list(number),
    look_alike: label,
    also_look_alikes: list(label),
    family: label,
    seen_by_eye: oneOf("yes", "gauge", "no"),
    rework: label,
    how_to_look: label,
    why: label,
  },
});
const zone = object({ needed: { zone: word, words: translations }, optional: { covered_after: number } });
const operation = object({
  needed: { operation: number, words: translations },
  optional: { order: oneOf("kept", "lost") },
});
const limit = object({
  needed: { look: word, class: defectClass, allowed_per_thousand: integer(0, 1000) },
});

/** What can happen at an operation. */
export const EVENTS = [
  ...["alarm", "bag", "bar", "batch", "box", "break", "bundle", "cast", "cavity", "despatch", "die", "load"],
  ...["lot", "reheat", "remnant", "shift", "stop", "tool", "tray"],
];
const event = oneOf(...EVENTS);
const checkRule = object({
  needed: { at: oneOf("events", "pieces", "minutes", "each_piece", "logger"), cell: label },
  optional: { pieces: number, places: number, every: number, events: list(event) },
});
const characteristic = object({
  needed: {
    operation: number,
    characteristic: number,
    words: translations,
    kind: oneOf("value", "go_not_go", "yes_no", "process", "document", "count"),
    class: defectClass,
  },
  optional: {
    nominal: label,
    lower: decimal,
    upper: decimal,
    unit: label,
    gauge: label,
    first_off: checkRule,
    in_process: checkRule,
    last_off: checkRule,
    who: label,
    reaction: pattern(/^R[1-9]$/),
  },
});

/** A part definition, in a record or in a file. */
export const partDefinition = object({
  needed: {
    subject: oneOf("part"),
    part: label,
    revision: label,
    name: translations,
    tray_places: number,
    looks: list(word, 1),
    defects: list(defectWord),
  },
  optional: {
    zones: list(zone),
    cavities: list(label),
    load_bearing: boolean,
    operations: list(operation),
    limits: list(limit),
    characteristics: list(characteristic),
    demo: boolean,
  },
});

export const fileDefinition = object({
  needed: { subject: oneOf("file"), of: oneOf("part"), part: label, revision: label, file: hash },
});

export const shiftDefinition = object({
  needed: {
    subject: oneOf("shifts"),
    time_zone: label,
    shifts: list(object({ needed: { shift: label, starts: pattern(/^([01][0-9]|2[0-3]):[0-5][0-9]$/) } }), 1),
  },
});

export const materialDefinition = object({
  needed: {
    subject: oneOf("material"),
    alloy: label,
    limits: list(object({ needed: { element: label }, optional: { low: share, high: share } }), 1, 60),
  },
  optional: { order: label, rounding: oneOf("half_even", "half_up"), source: label, demo: boolean },
});

export const gaugeDefinition = object({
  needed: { subject: oneOf("gauge"), number: label, kinds: list(label, 1, 20) },
  optional: { range: label, resolution: label, due: day, place: label, demo: boolean },
});

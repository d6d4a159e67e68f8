// SPDX-License-Identifier: Apache-2.0
// The record as the tablet knows it. The shapes come from the server's own types (described.ts is generated);
// here they only get the names the rooms use.
import type { components } from "./described.js";

type Schemas = components["schemas"];

/** One record of a kind this version understands: told apart by `kind` and `v`. */
export type KnownRecord = Schemas["Record"];
export type Kind = KnownRecord["kind"];
export type RecordOf<K extends Kind> = Extract<KnownRecord, { kind: K }>;
export type PartDefinition = Schemas["PartDefinition"];
export type MaterialDefinition = Schemas["MaterialDefinition"];
export type GaugeDefinition = Schemas["GaugeDefinition"];
export type ShiftDefinition = Schemas["ShiftDefinition"];
export type DefectWord = Schemas["DefectWord"];
export type Characteristic = Schemas["Characteristic"];
export type CheckRule = Schemas["CheckRule"];
export type CheckRole = RecordOf<"check_taken">["body"]["role"];
export type DefectClass = "critical" | "major" | "minor";

/** The reserved defect word of a piece that somebody else has to judge. */
export const NOT_SURE = "not_sure";

/** What a screen hands over to be recorded; the store adds chain, n, previous, time and sign-on. */
export type Draft = {
  [K in Kind]: Pick<RecordOf<K>, "kind" | "v" | "body"> & { batch?: string; definition?: string };
}[Kind];

/** A record read from bytes: `known` is undefined when this version does not understand its kind. */
export interface ReadRecord {
  readonly id: string;
  readonly hash: string;
  readonly chain: string;
  readonly n: number;
  readonly kind: string;
  readonly v: number;
  readonly made_at: number;
  readonly sign_on: string | undefined;
  readonly batch: string | undefined;
  readonly line: string;
  readonly known: KnownRecord | undefined;
}

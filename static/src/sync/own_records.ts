// SPDX-License-Identifier: Apache-2.0
import type { ReadRecord } from "../records/kinds.js";
import { utf8Length } from "../records/utf8.js";
import type { Enclosed, FormerChain } from "./core.js";
import type { Leaving } from "./core_state.js";
import type { Base, Own } from "./outbox.js";

/** The tablet's own records. A store may have one chain after another; the last one is in use. */
export class OwnRecords {
  /** The records of the chain in use, as far as they are in the journal. */
  readonly chain: readonly ReadRecord[];

  constructor(readonly all: readonly ReadRecord[]) {
    const last = all.at(-1)?.chain;
    const start = all.findIndex((record) => record.chain === last);
    this.chain = start <= 0 ? all : all.slice(start);
  }

  with(record: ReadRecord): OwnRecords {
    return new OwnRecords([...this.all, record]);
  }

  without({ chains, upTo }: Leaving): OwnRecords {
    const leaves = ({ chain, n }: ReadRecord): boolean =>
      chains.includes(chain) || (chain === this.name && n <= upTo);
    return new OwnRecords(this.all.filter((record) => !leaves(record)));
  }

  /** Where the chain in use begins in the journal. */
  get base(): Base {
    const first = this.chain[0];
    return { n: (first?.n ?? 1) - 1, hash: first?.known?.previous ?? "" };
  }

  /** What the outbox needs to know of the chain in use. */
  outlines(): readonly Own[] {
    return this.chain.map((record, at) => outlineOf(record, this.chain[at + 1]));
  }

  /** True when no record has left the journal, of this chain or of one before it. */
  get hasAll(): boolean {
    const first = this.all[0];
    const opens = first?.known?.kind === "chain_opened" && first.known.body.before === undefined;
    return opens && this.base.n === 0;
  }

  /** The name of the chain in use; empty before the first. */
  get name(): string {
    return this.chain[0]?.chain ?? "";
  }

  /** The records of a chain; none of one that is not ours. */
  of(chain: string): readonly ReadRecord[] {
    return chain === this.name ? this.chain : this.all.filter((record) => record.chain === chain);
  }

  /** The chains before the one in use, oldest first; the key of those of another device is lost. */
  former(device: string): readonly FormerChain[] {
    const names = new Set(this.all.map((record) => record.chain));
    names.delete(this.name);
    return [...names].map((chain) => {
      const own = new OwnRecords(this.of(chain));
      return { chain, base: own.base, own: own.outlines(), isSendable: own.isOf(device) };
    });
  }

  /** The first n that is missing in the chain in use; undefined when it is gap-free. */
  get gapAt(): number | undefined {
    const first = this.chain[0]?.n ?? 1;
    const at = this.chain.findIndex((record, place) => record.n !== first + place);
    return at < 0 ? undefined : first + at;
  }

  /** True when the chain in use was opened by this device. */
  isOf(device: string): boolean {
    return this.chain[0]?.known?.device === device;
  }

  /** The sign-ons that name a sealed PIN, of those asked for. */
  sealed(ids: readonly string[]): readonly Enclosed[] {
    const asked = new Set(ids);
    return this.all.filter(({ id, known }) => {
      return asked.has(id) && known?.kind === "signed_on" && known.body.sealed !== undefined;
    });
  }

  /** The last sign-on of the chain in use; it holds over a reload. */
  signOn(): { readonly id: string; readonly person: string } | undefined {
    let record: ReadRecord | undefined;
    for (const one of this.chain) if (one.kind === "signed_on") record = one;
    return record?.known?.kind === "signed_on"
      ? { id: record.id, person: record.known.body.person }
      : undefined;
  }
}

/**
 * The record behind names the hash of this one, which spares a start thousands of hashes; that of the last is worked
 * out when a server's answer is compared with it.
 */
export function outlineOf(record: ReadRecord, behind: ReadRecord | undefined): Own {
  const batch = record.kind === "batch_opened" ? record.id : record.batch;
  // A sign-on names the one before it, and is somebody's without it.
  const [chain, under] = record.kind === "signed_on" ? [] : (record.sign_on?.split(":") ?? []);
  return {
    get hash() {
      return behind?.known?.previous ?? record.hash;
    },
    bytes: utf8Length(record.line),
    ...(batch === undefined ? {} : { batch }),
    ...(chain === record.chain ? { under: Number(under) } : {}),
  };
}

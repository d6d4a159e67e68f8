// SPDX-License-Identifier: Apache-2.0
// Photos between the screens and the store: kept first, named by a record then, shown from here until they left.
import type { Answer } from "../journal/messages.js";
import type { KeptPhoto } from "../journal/photos.js";
import type { ReadRecord } from "../records/kinds.js";
import type { StoreLink } from "./store_link.js";

/** What a photo is about. */
export interface About {
  readonly batch: string;
  readonly definition: string;
  readonly look: string;
  readonly tray: string;
  readonly piece: string;
}

export class Photos {
  constructor(private readonly link: StoreLink) {}

  /** Keep a photo; where there is no room, once more after what the server holds has made some. */
  async keep(bytes: Uint8Array<ArrayBuffer>, makeRoom: () => Promise<boolean>): Promise<Answer> {
    const answer = await this.link.ask({ ask: "keep_photo", bytes });
    const isFull = answer.why === "no_room" || answer.why === "short_write";
    return isFull && (await makeRoom()) ? this.link.ask({ ask: "keep_photo", bytes }) : answer;
  }

  async read(file: string, offset: number, length: number): Promise<Uint8Array<ArrayBuffer> | undefined> {
    const { bytes } = await this.link.ask({ ask: "read_photo", file, offset, length });
    return bytes === undefined ? undefined : Uint8Array.from(bytes);
  }

  async drop(file: string): Promise<void> {
    await this.link.ask({ ask: "drop_photo", file });
  }

  /**
   * The photos a start goes on with. One that no record names was kept just before a kill: nobody will ever ask for
   * it. Where records have left the journal, its record may have left too, and it stays.
   */
  known(kept: readonly KeptPhoto[], own: readonly ReadRecord[], hasAllOwn: boolean): readonly KeptPhoto[] {
    const named = new Set(
      own.flatMap(({ known }) => (known?.kind === "photo_attached" ? [known.body.file] : [])),
    );
    const nobodys = hasAllOwn ? kept.filter(({ file }) => !named.has(file)) : [];
    for (const { file } of nobodys) void this.drop(file);
    return kept.filter((one) => !nobodys.includes(one));
  }
}

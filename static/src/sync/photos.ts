// SPDX-License-Identifier: Apache-2.0
// Photos between the screens and the store: kept first, named by a record then, shown from here until they left.
import type { Answer } from "../journal/messages.js";
import type { KeptPhoto } from "../journal/photos.js";
import type { Draft, ReadRecord } from "../records/kinds.js";
import type { About, CertificateOf, Stored } from "./contract.js";
import type { Photo } from "./core_state.js";
import type { StoreLink } from "./store_link.js";

/** What a photo needs of its tablet. */
export interface Around {
  readonly photos: () => readonly Photo[];
  readonly append: (draft: Draft) => Promise<Stored>;
  readonly happened: (
    event: { event: "photo_kept"; file: string; size: number } | { event: "room_needed" },
  ) => void;
}

export class Photos {
  constructor(
    private readonly link: StoreLink,
    private readonly around: Around,
  ) {}

  /** Keep a photo (a JPEG) or a certificate's file, then record what it is about. */
  async attach(bytes: Uint8Array<ArrayBuffer>, about: About | CertificateOf): Promise<Stored> {
    const { file, why } = await this.#keep(bytes);
    if (file === undefined)
      return { stored: false, why: why === "short_write" ? "no_room" : (why ?? "failed") };
    const size = bytes.length;
    const stored = await this.around.append(draftOf(file, size, about));
    if (stored.stored || stored.kept === true) this.around.happened({ event: "photo_kept", file, size });
    else await this.drop(file);
    return stored;
  }

  /** The bytes of a photo that is on this tablet. */
  async whole(file: string): Promise<Blob | undefined> {
    const photo = this.around.photos().find((one) => one.file === file);
    const bytes = photo && (await this.read(file, 0, photo.size));
    return bytes && new Blob([bytes], { type: "image/jpeg" });
  }

  /** Where there is no room, once more after what the server holds has made some. */
  async #keep(bytes: Uint8Array<ArrayBuffer>): Promise<Answer> {
    const answer = await this.link.ask({ ask: "keep_photo", bytes });
    const isFull = answer.why === "no_room" || answer.why === "short_write";
    return isFull && (await this.#makeRoom()) ? this.link.ask({ ask: "keep_photo", bytes }) : answer;
  }

  /** Let go of the photos the server holds; true if there were any. */
  async #makeRoom(): Promise<boolean> {
    const held = this.around.photos().filter((one) => one.state === "held");
    this.around.happened({ event: "room_needed" });
    await Promise.all(held.map(({ file }) => this.drop(file)));
    return held.length > 0;
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
      own.flatMap(({ known }) =>
        known?.kind === "photo_attached" || known?.kind === "certificate_attached" ? [known.body.file] : [],
      ),
    );
    const nobodys = hasAllOwn ? kept.filter(({ file }) => !named.has(file)) : [];
    for (const { file } of nobodys) void this.drop(file);
    return kept.filter((one) => !nobodys.includes(one));
  }
}

function draftOf(file: string, size: number, about: About | CertificateOf): Draft {
  if ("receipt" in about) {
    return { kind: "certificate_attached", v: 1, body: { file, size, ...about } };
  }
  const { batch, definition, look, tray, piece } = about;
  const body = { file, type: "image/jpeg" as const, size, look, tray, piece };
  return { kind: "photo_attached", v: 1, batch, definition, body };
}

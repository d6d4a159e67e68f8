// SPDX-License-Identifier: Apache-2.0
// Photos on their way to the server, packed behind the sealed PINs in the file `files`: each a head of one line and
// its bytes. In memory is only where each lies. A photo that left makes room for others of its size or smaller.
import { hashOfBytes } from "../records/hash.js";
import type { NotKept, StoreFile } from "./file.js";
import { frame, scan } from "./frame.js";

/** A photo by the SHA-256 of its bytes. */
export interface KeptPhoto {
  readonly file: string;
  readonly size: number;
}

interface Place extends KeptPhoto {
  /** Where its head begins. */
  readonly at: number;
  /** How many bytes have room behind the head. */
  readonly room: number;
  readonly isKept: boolean;
}

/** The head says all in texts of one length, so that a place can be given away by writing its head anew. */
function headOf({ file, size, room, isKept }: Omit<Place, "at">): Uint8Array<ArrayBuffer> {
  const digits = (count: number): string => String(count).padStart(10, "0");
  return frame(
    JSON.stringify({ photo: file, is: isKept ? "kept" : "gone", room: digits(room), size: digits(size) }),
  );
}

const NO_PHOTO = "0".repeat(64);
const HEAD = headOf({ file: NO_PHOTO, size: 0, room: 0, isKept: false });
/** The digits of its length, which every head begins with. */
const BEGINNING = HEAD.slice(0, 9);
const CHUNK = 64 * 1024;
/** What a photo leaves free for records: weeks of them. */
export const KEPT_FREE_BYTES = 8 * 1024 * 1024;

export class PhotoFile {
  #places: Place[];

  constructor(
    private readonly file: StoreFile,
    private readonly begin: number,
  ) {
    this.#places = [];
    for (let at = begin; at < file.size();) {
      const place = this.#placeAt(at) ?? this.#lostAt(at);
      if (place === undefined) break;
      this.#places.push(place);
      at = endOf(place);
    }
  }

  get all(): readonly KeptPhoto[] {
    return this.#places.filter((one) => one.isKept).map(({ file, size }) => ({ file, size }));
  }

  /** Keep a photo: its bytes first, then the head that says they are there. Returns its name, or why it is not kept. */
  async keep(bytes: Uint8Array<ArrayBuffer>): Promise<{ file: string } | { why: NotKept | "no_room" }> {
    const file = hashOfBytes(bytes);
    if (this.#find(file) !== undefined) return { file };
    const free = this.#places.findIndex((one) => !one.isKept && one.room >= bytes.length);
    const at = this.#places[free]?.at ?? this.#end();
    const room = this.#places[free]?.room ?? bytes.length;
    const place: Place = { at, file, size: bytes.length, room, isKept: true };
    if (free < 0 && !this.#leavesRoom(place)) return { why: "no_room" };
    const why = await this.#write(place, bytes);
    if (why !== undefined) {
      // Half a photo must not take the room of a record.
      if (free < 0) this.#cut(at);
      return { why };
    }
    if (free < 0) this.#places.push(place);
    else this.#places[free] = place;
    return { file };
  }

  /** Some bytes of a photo; undefined where it is not here. */
  read(file: string, offset: number, length: number): Uint8Array | undefined {
    const place = this.#find(file);
    if (place === undefined) return undefined;
    return this.file.read(
      place.at + HEAD.length + offset,
      Math.max(0, Math.min(length, place.size - offset)),
    );
  }

  /** Let a photo go. Room at the end is given back at once. */
  drop(file: string): void {
    const place = this.#find(file);
    if (place === undefined) return;
    const gone = { ...place, file: NO_PHOTO, size: 0, isKept: false };
    this.#places[this.#places.indexOf(place)] = gone;
    while (this.#places.at(-1)?.isKept === false) this.#places.pop();
    if (this.#places.includes(gone)) {
      this.file.write(gone.at, headOf(gone));
      this.file.flush();
    } else this.#cut(this.#end());
  }

  /**
   * Whether records have room behind this photo: what a hand marks must never wait for a picture. The file is made
   * that long for a moment, because browsers tell a page of far more room than they give it.
   */
  #leavesRoom(place: Place): boolean {
    const asked = endOf(place) + KEPT_FREE_BYTES;
    try {
      this.file.truncate(asked);
      return this.file.size() === asked; // a private window throws nothing, and leaves the file as it was
    } catch {
      return false;
    } finally {
      this.#cut(place.at);
    }
  }

  async #write(place: Place, bytes: Uint8Array<ArrayBuffer>): Promise<NotKept | undefined> {
    try {
      if (this.file.write(place.at + HEAD.length, bytes) !== bytes.length) return "short_write";
      this.file.flush();
      if (this.file.write(place.at, headOf(place)) !== HEAD.length) return "short_write";
      this.file.flush();
    } catch (problem) {
      // Some browsers throw where others take a part.
      const isFull = problem instanceof Error && problem.name === "QuotaExceededError";
      return isFull ? "short_write" : "write_failed";
    }
    return (await this.file.listed()) === this.file.size() ? undefined : "file_gone";
  }

  #cut(at: number): void {
    try {
      this.file.truncate(at);
      this.file.flush();
    } catch {
      // A store that fails even at giving room back keeps what it has: the next start reads it as it is.
    }
  }

  #find(file: string): Place | undefined {
    return this.#places.find((one) => one.isKept && one.file === file);
  }

  #end(): number {
    const last = this.#places.at(-1);
    return last === undefined ? this.begin : endOf(last);
  }

  #placeAt(at: number): Place | undefined {
    const { texts, end } = scan(this.file.read(at, HEAD.length));
    const [text] = texts;
    if (text === undefined || end !== HEAD.length) return undefined;
    const said = JSON.parse(text) as { photo: string; is: string; room: string; size: string };
    const place = {
      at,
      file: said.photo,
      size: Number(said.size),
      room: Number(said.room),
      isKept: said.is === "kept",
    };
    return endOf(place) > this.file.size() ? undefined : place;
  }

  /** Up to the next head, what lies behind a broken one is lost, and its room is free. */
  #lostAt(from: number): Place | undefined {
    for (let at = from + HEAD.length; at < this.file.size(); at += CHUNK) {
      const bytes = this.file.read(at, CHUNK + BEGINNING.length);
      for (let found = headIn(bytes, 0); found >= 0; found = headIn(bytes, found + 1)) {
        if (this.#placeAt(at + found) === undefined) continue;
        const room = at + found - from - HEAD.length;
        return { at: from, file: NO_PHOTO, size: 0, room, isKept: false };
      }
    }
    return undefined;
  }
}

/** Where the beginning of a head stands in some bytes, or -1. */
function headIn(bytes: Uint8Array, from: number): number {
  const [first = 0] = BEGINNING;
  for (let at = bytes.indexOf(first, from); at >= 0; at = bytes.indexOf(first, at + 1)) {
    if (BEGINNING.every((byte, behind) => bytes[at + behind] === byte)) return at;
  }
  return -1;
}

function endOf({ at, room }: Place): number {
  return at + HEAD.length + room;
}

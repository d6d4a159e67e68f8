// SPDX-License-Identifier: Apache-2.0
// A picture of the piece in hand: the key opens the camera, and shows the newest picture that was taken, from this
// tablet's own file. Whatever becomes of a picture, the mark stands; what went wrong is said beside the keys.
import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import { withdrawn } from "../folds/gathered.js";
import type { ReadRecord } from "../records/kinds.js";
import type { About, Tablet } from "../sync/contract.js";
import { scaledPicture } from "../widgets/scaled_picture.js";
import { say, type Key } from "../words/say.js";
import "./picture_key.css";

export interface PictureKeyProps {
  readonly tablet: Tablet;
  /** `piece` is the one in hand; undefined where there is none. */
  readonly about: Omit<About, "piece"> & { readonly piece: string | undefined };
  readonly tag: string;
}

export function PictureKey({ tablet, about: { piece, ...rest }, tag }: PictureKeyProps) {
  const input = useRef<HTMLInputElement>(null);
  const [problem, setProblem] = useState<Key | undefined>(undefined);
  const [isBusy, setBusy] = useState(false);
  // What was said of a picture is of that piece: the next one has nothing to do with it.
  useEffect(() => setProblem(undefined), [piece]);
  const records = tablet.records.value;
  const authors = tablet.authors.value;
  const taken = useMemo(() => picturesOf(records, authors, piece), [records, authors, piece]);
  const shown = useShown(tablet, taken.at(-1));
  const chosen = async (file: File | undefined): Promise<void> => {
    if (file === undefined || piece === undefined) return;
    setBusy(true);
    setProblem(await kept(tablet, file, { ...rest, piece }));
    setBusy(false);
  };
  return (
    <>
      <button
        type="button"
        class="key picture-key"
        disabled={piece === undefined || isBusy}
        aria-label={say("picture.take", { tag })}
        onClick={() => input.current?.click()}
      >
        {shown === undefined ? <Camera /> : <img src={shown} alt={say("picture.of", { tag })} />}
        <span class="picture-count">{isBusy ? say("picture.keeping") : count(taken.length)}</span>
      </button>
      <input
        ref={input}
        class="picture-file"
        type="file"
        accept="image/*"
        capture="environment"
        tabIndex={-1}
        aria-hidden="true"
        onChange={({ currentTarget }) => {
          const [file] = currentTarget.files ?? [];
          void chosen(file);
          // The same picture chosen again is a change again.
          currentTarget.value = "";
        }}
        onCancel={() => setProblem("picture.none")}
      />
      {problem !== undefined && (
        <div class="picture-problem" role="alert">
          <p>{say(problem)}</p>
          <button type="button" class="key" onClick={() => setProblem(undefined)}>
            {say("picture.go_on")}
          </button>
        </div>
      )}
    </>
  );
}

/** Scale and keep a picture; returns what to say where that did not come about. */
async function kept(tablet: Tablet, file: File, about: About): Promise<Key | undefined> {
  const bytes = await scaledPicture(file);
  if (bytes === undefined) return "picture.unreadable";
  const stored = await tablet.attach(bytes, about);
  if (stored.stored) return undefined;
  return stored.why === "no_room" ? "picture.no_room" : "picture.not_stored";
}

/** The files of the pictures of a piece, oldest first, without those that were taken back. */
function picturesOf(
  records: readonly ReadRecord[],
  proven: ReadonlyMap<string, string>,
  piece: string | undefined,
): readonly string[] {
  const about = records.filter(({ known }) => known?.kind === "photo_attached" && known.body.piece === piece);
  if (piece === undefined || about.length === 0) return [];
  const withdrawals = records.filter(({ known }) => known?.kind === "record_withdrawn");
  const { dead } = withdrawn(new Map([...about, ...withdrawals].map((one) => [one.id, one])), proven);
  return about.flatMap(({ id, known }) =>
    known?.kind === "photo_attached" && !dead.has(id) ? [known.body.file] : [],
  );
}

/** An address of a picture for this page: of the tablet's own bytes, or of the server's copy once they left. */
function useShown(tablet: Tablet, file: string | undefined): string | undefined {
  const [shown, setShown] = useState<string | undefined>(undefined);
  useEffect(() => {
    if (file === undefined) {
      setShown(undefined);
      return;
    }
    let address: string | undefined;
    let isGone = false;
    void tablet.photo(file).then((blob) => {
      if (isGone) return;
      address = blob && URL.createObjectURL(blob);
      setShown(address ?? `/api/v1/files/${file}/copy`);
    });
    return () => {
      isGone = true;
      if (address !== undefined) URL.revokeObjectURL(address);
    };
  }, [tablet, file]);
  return shown;
}

function count(pictures: number): string {
  return pictures === 0 ? say("picture.key") : say("picture.count", { count: pictures });
}

/** A box with a lens. */
function Camera() {
  return (
    <svg class="camera" viewBox="0 0 40 32" aria-hidden="true">
      <path d="M3 9H11L14 4H26L29 9H37V28H3Z" />
      <circle cx="20" cy="18" r="6" />
    </svg>
  );
}

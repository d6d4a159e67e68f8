// SPDX-License-Identifier: Apache-2.0
// The certificate's file: a picture of the paper, made small enough to travel, or the PDF as it came.
import { useRef, useState } from "preact/hooks";
import { scaledPicture } from "../widgets/scaled_picture.js";
import { say, type Key } from "../words/say.js";

/** A PDF is not made smaller; a larger one is no certificate. */
const LARGEST_PDF = 8 * 1024 * 1024;

export type FileType = "image/jpeg" | "application/pdf";

export interface CertificateFileProps {
  /** How many files the receipt has. */
  readonly count: number;
  /** Keep a file; why it was not kept, or undefined. */
  readonly onFile: (bytes: Uint8Array<ArrayBuffer>, type: FileType) => Promise<string | undefined>;
}

export function CertificateFile({ count, onFile }: CertificateFileProps) {
  const input = useRef<HTMLInputElement>(null);
  const [problem, setProblem] = useState<Key>();
  const [isBusy, setBusy] = useState(false);
  const chosen = async (file: File | undefined): Promise<void> => {
    if (file === undefined) return;
    setBusy(true);
    setProblem(await kept(file, onFile));
    setBusy(false);
  };
  return (
    <>
      <button type="button" class="key" disabled={isBusy} onClick={() => input.current?.click()}>
        {isBusy ? say("picture.keeping") : say("goods.attach")}
        <small>{count === 0 ? say("goods.attach_what") : say("goods.attached", { count })}</small>
      </button>
      <input
        ref={input}
        class="certificate-file"
        type="file"
        accept="image/*,application/pdf"
        tabIndex={-1}
        aria-hidden="true"
        onChange={({ currentTarget }) => {
          void chosen(currentTarget.files?.[0]);
          // The same file chosen again is a change again.
          currentTarget.value = "";
        }}
      />
      {problem !== undefined && (
        <p class="problem" role="alert">
          {say(problem)}
        </p>
      )}
    </>
  );
}

/** Keep a file; returns what to say where that did not come about. */
async function kept(file: File, onFile: CertificateFileProps["onFile"]): Promise<Key | undefined> {
  const isPdf = await beginsAsPdf(file);
  if (isPdf && file.size > LARGEST_PDF) return "goods.file_too_large";
  const bytes = isPdf ? new Uint8Array(await file.arrayBuffer()) : await scaledPicture(file);
  if (bytes === undefined) return "goods.file_unreadable";
  const why = await onFile(bytes, isPdf ? "application/pdf" : "image/jpeg");
  if (why === undefined) return undefined;
  return why === "no_room" ? "goods.file_no_room" : "goods.file_not_stored";
}

/** What a file is its bytes say, not its name. */
async function beginsAsPdf(file: File): Promise<boolean> {
  return (await file.slice(0, 5).text()) === "%PDF-";
}

// SPDX-License-Identifier: Apache-2.0

/** The reasons why bytes are no record; the server's errors.py has the same codes. */
export type RefusalCode = "too-large" | "unreadable" | "not-canonical";

/** A value or a line cannot be a record. The message says what was found. */
export class RefusedRecord extends Error {
  override readonly name = "RefusedRecord";

  constructor(
    readonly code: RefusalCode,
    sentence: string,
  ) {
    super(sentence);
  }
}

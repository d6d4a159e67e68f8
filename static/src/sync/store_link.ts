// SPDX-License-Identifier: Apache-2.0
// The page's end of the store's worker.
import type { Answer, FromWorker, Notice, Question } from "../journal/messages.js";

/** A flush takes milliseconds; a worker that is silent for so long is dead or stuck. */
const PATIENCE_MS = 10_000;
const SETTLE_AGAIN_MS = 2_000;

type Waiting = (answer: Answer) => void;

export class StoreLink {
  readonly #worker: Worker;
  readonly #waiting = new Map<number, Waiting>();
  #number = 0;
  #settling: ReturnType<typeof setTimeout> | undefined;
  /** True while records are in memory only: a tab that let the files go now would lose them. */
  isUnsafe = false;

  constructor(onNotice: (notice: Notice) => void) {
    this.#worker = new Worker(new URL("../journal/worker.ts", import.meta.url), { type: "module" });
    this.#worker.onmessage = ({ data }: MessageEvent<FromWorker>) => {
      if ("notice" in data) {
        onNotice(data);
        return;
      }
      this.#waiting.get(data.number)?.(data.answer);
      this.#waiting.delete(data.number);
    };
    this.#worker.onerror = () => onNotice({ notice: "no_store", why: "failed" });
  }

  /** Ask, and wait. `late` hears an answer that came after the patience ran out. */
  ask(question: Question, late?: (answer: Answer) => void): Promise<Answer> {
    const number = (this.#number += 1);
    return new Promise((resolve) => {
      let isOver = false;
      const timer = setTimeout(() => {
        isOver = true;
        resolve({ why: "no_answer" });
      }, PATIENCE_MS);
      this.#waiting.set(number, (answer) => {
        clearTimeout(timer);
        if (isOver) late?.(answer);
        else resolve(answer);
      });
      this.#worker.postMessage({ ...question, number });
    });
  }

  /**
   * Ask for a record to be made. What the store could not write stays in memory and is written as soon as it can be,
   * with or without a next tap.
   */
  async append(question: Question, late: (answer: Answer) => void): Promise<Answer> {
    const answer = await this.ask(question, late);
    if (answer.line !== undefined) this.isUnsafe = answer.why !== undefined;
    if (this.isUnsafe) this.#settleLater();
    return answer;
  }

  #settleLater(): void {
    clearTimeout(this.#settling);
    this.#settling = setTimeout(() => void this.#settle(), SETTLE_AGAIN_MS);
  }

  async #settle(): Promise<void> {
    if (!this.isUnsafe) return;
    const { why } = await this.ask({ ask: "settle" });
    this.isUnsafe = why !== undefined;
    if (this.isUnsafe) this.#settleLater();
  }
}

// SPDX-License-Identifier: Apache-2.0
// The page's end of the store's worker. A page runs this file before it evaluates the rest of the app, so that the
// store opens its files meanwhile; what it says before somebody listens is kept.
import type { Answer, FromWorker, Notice, Question } from "../journal/messages.js";
import { trustOwnScripts } from "./trusted_scripts.js";

trustOwnScripts();
const worker = new Worker(new URL("../journal/worker.ts", import.meta.url), { type: "module" });
const early: FromWorker[] = [];
let hasFailed = false;
worker.onmessage = ({ data }: MessageEvent<FromWorker>) => early.push(data);
worker.onerror = () => {
  hasFailed = true;
};

/** A flush takes milliseconds; a worker that is silent for so long is dead or stuck. */
const PATIENCE_MS = 10_000;
const SETTLE_AGAIN_MS = 2_000;

type Waiting = (answer: Answer) => void;

export class StoreLink {
  readonly #waiting = new Map<number, Waiting>();
  #number = 0;
  #settling: ReturnType<typeof setTimeout> | undefined;
  /** True while records are in memory only: a tab that let the files go now would lose them. */
  isUnsafe = false;

  /** The store has one listener, who hears it from its first word on. */
  constructor(onNotice: (notice: Notice) => void) {
    const hear = (said: FromWorker): void => {
      if ("notice" in said) {
        onNotice(said);
        return;
      }
      this.#waiting.get(said.number)?.(said.answer);
      this.#waiting.delete(said.number);
    };
    const fail = (): void => onNotice({ notice: "no_store", why: "failed" });
    worker.onmessage = ({ data }: MessageEvent<FromWorker>) => hear(data);
    worker.onerror = fail;
    // Not before whoever listens has been made; the next message is a task, and comes behind.
    queueMicrotask(() => {
      for (const said of early.splice(0)) hear(said);
      if (hasFailed) fail();
    });
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
      worker.postMessage({ ...question, number });
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

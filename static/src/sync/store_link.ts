// SPDX-License-Identifier: Apache-2.0
// The page's end of the store's worker.
import type { Answer, FromWorker, Notice, Question } from "../journal/messages.js";

/** A flush takes milliseconds; a worker that is silent for so long is dead or stuck. */
const PATIENCE_MS = 10_000;

type Waiting = (answer: Answer) => void;

export class StoreLink {
  readonly #worker: Worker;
  readonly #waiting = new Map<number, Waiting>();
  #number = 0;

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
}

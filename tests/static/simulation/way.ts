// SPDX-License-Identifier: Apache-2.0
// The way between tablets and the server: the browser's `fetch`, with every fault a network and a server can have.
import type { Chance } from "../records/chance.js";

/**
 * What the driver can have done by the process that serves; undefined where it was killed before it answered. The
 * member `body` of questions and replies is bytes.
 */
export interface Child {
  readonly do: (question: Readonly<Record<string, unknown>>) => Promise<Reply | undefined>;
  kill(): Promise<void>;
}

export type Reply = Readonly<Record<string, unknown>>;

/** What can become of one request, besides that it is answered. */
export const ON_THE_WAY = [
  "request_lost",
  "answer_lost",
  "request_doubled",
  "request_late",
  "request_cut",
  "request_changed",
  "answer_cut",
  "sign_in_page",
  "refused_401",
  "refused_403",
  "refused_409",
  "refused_413",
  "refused_422",
  "refused_429",
  "failed_500",
  "station_403",
  "station_413",
  "record_refused_by_station",
  "server_killed_before_commit",
  "server_killed_after_commit",
  "fold_fails",
  "server_copied_meanwhile",
] as const;
export type OnTheWay = (typeof ON_THE_WAY)[number];

/** What can strike only where records are sent. */
export const OF_PUSHES: readonly OnTheWay[] = [
  "request_late",
  "request_cut",
  "request_changed",
  "record_refused_by_station",
  "server_killed_before_commit",
  "fold_fails",
  "server_copied_meanwhile",
];

const MOMENTS: readonly OnTheWay[] = [...OF_PUSHES, "request_doubled", "server_killed_after_commit"];
/** What can go on for a while, for whatever is asked. */
export const LASTING = ON_THE_WAY.filter((one) => !MOMENTS.includes(one));

/** What a tablet's browser keeps for the way. */
export type Cookies = Map<string, string>;

interface Sent {
  readonly path: string;
  readonly method: string;
  readonly headers: readonly (readonly [string, string])[];
  readonly body?: Uint8Array<ArrayBuffer>;
}

interface Answered {
  readonly status: number;
  readonly headers: readonly (readonly [string, string])[];
  readonly body: Uint8Array<ArrayBuffer>;
}

const REFUSALS: Readonly<Partial<Record<OnTheWay, readonly [number, string]>>> = {
  refused_401: [401, "not-enrolled"],
  refused_403: [403, "not-allowed"],
  refused_409: [409, "cursor-unknown"],
  refused_413: [413, "too-much"],
  refused_422: [422, "request-not-understood"],
  refused_429: [429, "too-many-tries"],
  failed_500: [500, "error"],
};
const PAGE = "<!doctype html><title>Sign in</title><p>Accept the terms of this network.";
const MOST_LATE = 20;
const NEWEST_BYTES = 3_000;

export class Way {
  /** What becomes of the next request; used up by it. */
  fate: OnTheWay | "open" = "open";
  now = 0;
  /** Pushes that reached the application, and how often it answered for itself that it failed. */
  pushes = 0;
  #isAsked = false;
  records = 0;
  readonly failures: string[] = [];
  /** Texts of records that a station between refuses to let through. */
  readonly poison = new Set<string>();
  /** Have a verified copy made of the server, and the question answered when the copy is written and not yet read. */
  copyMeanwhile: Child["do"] = (question) => this.child.do(question);
  readonly #sent: Sent[] = [];
  #cookies: Cookies = new Map();

  constructor(
    private readonly child: Child,
    private readonly chance: Chance,
  ) {}

  /** Stand in for the browser's `fetch`. */
  readonly fetch = async (path: unknown, options?: RequestInit): Promise<Response> => {
    const sent = this.#sentOf(String(path), options);
    if (this.#isPoisoned(sent)) return page(403);
    const fate = this.takeFate();
    if (fate === "request_lost") throw new TypeError("no network");
    if (fate === "sign_in_page") return page(200);
    if (fate === "station_403") return page(403);
    if (fate === "station_413") return page(413);
    if (fate === "record_refused_by_station") {
      this.#poison(sent);
      return page(403);
    }
    const refusal = REFUSALS[fate as OnTheWay];
    if (refusal !== undefined) return refused(...refusal);
    if (sent.path.endsWith("/sync/push")) {
      this.#sent.push(sent);
      if (this.#sent.length > MOST_LATE) this.#sent.shift();
    }
    return this.#deliver(sent, fate);
  };

  /** True where the server was asked anything since this was asked last. */
  wasAsked(): boolean {
    const isAsked = this.#isAsked;
    this.#isAsked = false;
    return isAsked;
  }

  /** What was to become of the next request; from here on it is answered. */
  takeFate(): OnTheWay | "open" {
    const { fate } = this;
    this.fate = "open";
    return fate;
  }

  /** From now on requests are this tablet's. */
  asks(cookies: Cookies): void {
    this.#cookies = cookies;
  }

  async #deliver(sent: Sent, fate: OnTheWay | "open"): Promise<Response> {
    if (fate === "request_late") await this.#late();
    const answer = await this.#ask(arriving(sent, fate, this.chance), fate);
    if (fate === "request_doubled") await this.#ask(sent, "open");
    if (answer === undefined || fate === "answer_lost") throw new TypeError("no answer");
    const { status, headers } = answer;
    for (const [name, value] of headers) if (name.toLowerCase() === "set-cookie") this.#keepCookie(value);
    const { body } = answer;
    const end = fate === "answer_cut" ? this.chance.whole(0, Math.max(0, body.length - 1)) : body.length;
    return new Response(status === 204 ? null : body.slice(0, end), {
      status,
      headers: headers.map(([name, value]): [string, string] => [name, value]),
    });
  }

  /** A request that was taken for lost arrives behind later ones. */
  async #late(): Promise<void> {
    const late = this.#sent[this.chance.whole(0, this.#sent.length - 1)];
    if (late !== undefined) await this.#ask(late, "open");
  }

  async #ask(sent: Sent, fate: OnTheWay | "open"): Promise<Answered | undefined> {
    this.#isAsked = true;
    const isPush = sent.path.endsWith("/sync/push");
    if (isPush) {
      this.pushes += 1;
      this.records += Math.max(0, textOf(sent).split("\n").length - 2);
    }
    const dies =
      fate === "server_killed_before_commit"
        ? this.chance.one(1, 1, 1, 2)
        : fate === "server_killed_after_commit"
          ? "after"
          : 0;
    const about = {
      now: this.now,
      chance: this.chance.whole(0, 2 ** 31),
      server: this.chance.whole(0, 1),
      dies,
      fold: fate === "fold_fails",
    };
    const ask = fate === "server_copied_meanwhile" ? this.copyMeanwhile : this.child.do;
    const answer = (await ask({ do: "ask", ...sent, ...about })) as unknown as Answered | undefined;
    if (answer === undefined) {
      if (dies === 0) this.failures.push(`the server died by itself of ${sent.method} ${sent.path}`);
      return undefined;
    }
    // It commits once where it was to die at the second.
    if (fate === "server_killed_before_commit") this.fate = fate;
    // A server that cannot just now says so; that it failed it may never say of what it was sent.
    if (answer.status >= 500 && answer.status !== 503)
      this.failures.push(`${answer.status} for ${sent.method} ${sent.path}`);
    return answer;
  }

  #sentOf(path: string, options: RequestInit | undefined): Sent {
    const cookie = [...this.#cookies].map(([name, value]) => `${name}=${value}`).join("; ");
    const headers = Object.entries((options?.headers ?? {}) as Record<string, string>);
    const body = options?.body;
    return {
      path,
      method: options?.method ?? "GET",
      headers: cookie === "" ? headers : [...headers, ["cookie", cookie]],
      ...(body === undefined || body === null
        ? {}
        : { body: bytesOf(body as string | Uint8Array<ArrayBuffer>) }),
    };
  }

  #keepCookie(line: string): void {
    const [name = "", value = ""] = (line.split(";")[0] ?? "").split("=");
    this.#cookies.set(name, value);
  }

  #poison(sent: Sent): void {
    const lines = textOf(sent).trimEnd().split("\n").slice(1);
    const line = lines[this.chance.whole(0, Math.max(0, lines.length - 1))];
    if (sent.path.endsWith("/sync/push") && line !== undefined) this.poison.add(line);
  }

  #isPoisoned(sent: Sent): boolean {
    if (this.poison.size === 0 || !sent.path.endsWith("/sync/push")) return false;
    const text = textOf(sent);
    return [...this.poison].some((line) => text.includes(line));
  }
}

function page(status: number): Response {
  return new Response(PAGE, { status, headers: { "content-type": "text/html" } });
}

function refused(status: number, code: string): Response {
  const answer = {
    marker: "tallywright",
    protocol: 1,
    code,
    sentence: "-",
    details: {},
    retry: status >= 429,
  };
  return new Response(JSON.stringify(answer), { status, headers: { "content-type": "application/json" } });
}

/** What reaches the server of a request: as it was sent, its beginning only, or with one bit changed. */
function arriving(sent: Sent, fate: OnTheWay | "open", chance: Chance): Sent {
  const { body } = sent;
  if (body === undefined || (fate !== "request_cut" && fate !== "request_changed")) return sent;
  const end = Math.max(0, body.length - 1);
  const at = chance.whole(0, end);
  if (fate === "request_cut") return { ...sent, body: body.slice(0, at) };
  const changed = body.slice();
  // What is new to the server stands at the end, more often than not.
  const place = chance.flip() ? at : Math.max(0, end - chance.whole(0, NEWEST_BYTES));
  changed[place] = 1 ^ (changed[place] ?? 0);
  return { ...sent, body: changed };
}

function textOf({ body }: Sent): string {
  return new TextDecoder().decode(body);
}

function bytesOf(body: string | Uint8Array<ArrayBuffer>): Uint8Array<ArrayBuffer> {
  return typeof body === "string" ? new TextEncoder().encode(body) : body;
}

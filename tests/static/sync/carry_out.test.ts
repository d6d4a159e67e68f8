// SPDX-License-Identifier: Apache-2.0
import { afterEach, describe, expect, it, vi } from "vitest";
import { carryOut, type Asker, type Outcome } from "../../../static/src/sync/carry_out.js";
import { unsent } from "../../../static/src/sync/outbox.js";

const MARKED = { marker: "tallywright", protocol: 1 };
const PUSHED = { ...MARKED, epoch: "e", server_time: 5, newest: 9, marks: [], exceptions: [], lost: [] };
const lines = [{ chain: "s", n: 6, line: "a line", signature: "x", file: "f" }];

afterEach(() => {
  vi.unstubAllGlobals();
});

/** What comes of giving lines back to a server that takes them, and answers so for the file they name. */
function givenBack(status: number, file: object): Promise<Outcome> {
  const answer = (code: number, body: object): Response =>
    new Response(JSON.stringify(body), { status: code, headers: { "content-type": "application/json" } });
  vi.stubGlobal("fetch", (path: string) =>
    Promise.resolve(path.includes("/files/") ? answer(status, file) : answer(200, PUSHED)),
  );
  return carryOut({ effect: "give_back", lines, texts: ["a text"] }, {} as Asker);
}

describe("lines of the server that it lost", () => {
  it("are given back with the files they name", async () => {
    const arrived = { ...MARKED, file: "f", held: 6, whole: true, safe: false };
    expect(await givenBack(200, arrived)).toEqual({ event: "given_back", lines });
  });

  it("are given back where the server will not have such a file", async () => {
    const refused = { ...MARKED, code: "file-not-named", sentence: "", retry: false, details: {} };
    expect(await givenBack(404, refused)).toEqual({ event: "given_back", lines });
  });

  it("are given again where the server cannot take the file just now", async () => {
    const busy = { ...MARKED, code: "not-ready", sentence: "", retry: true, details: {} };
    expect(await givenBack(503, busy)).toEqual({ event: "not_given_back", why: "busy" });
  });
});

describe("the question for a mark", () => {
  it("names what was last answered for of each chain that was left behind, unless no key signs it any more", async () => {
    const heads: unknown[] = [];
    vi.stubGlobal("fetch", (_: string, { body }: { body: string }) => {
      heads.push(JSON.parse(body));
      const marks = [{ chain: "c", n: 0, hash: "", safe: 0, held: [] }];
      const answer = JSON.stringify({ ...PUSHED, marks, lost: ["left"] });
      return Promise.resolve(new Response(answer, { headers: { "content-type": "application/json" } }));
    });
    const own = ["h1", "h2", "h3"].map((hash) => ({ hash, bytes: 1 }));
    const left = { ...unsent("left", own), confirmed: 1 };
    const former = [
      { ...left, held: [{ first: 3, last: 3 }] },
      { ...unsent("left before", own), confirmed: 2 },
      unsent("not sent yet", own),
      { ...left, chain: "of another key", isSendable: false },
    ];
    const clock = { hear: () => undefined };
    const asker = { former, enclosures: new Map(), clock } as unknown as Asker;
    const outcome = await carryOut({ effect: "ask_mark", chain: "c", enclosures: [] }, asker);
    expect(heads).toMatchObject([
      {
        answered: [
          { chain: "left", n: 3, hash: "h3" },
          { chain: "left before", n: 2, hash: "h2" },
        ],
      },
    ]);
    expect(outcome).toMatchObject({ event: "marked", lost: ["left"] });
  });
});

describe("a pull", () => {
  it("is asked with the chain it was wanted for, and with what is held of that", async () => {
    const asked: URLSearchParams[] = [];
    vi.stubGlobal("fetch", (path: string) => {
      asked.push(new URL(path, "http://h").searchParams);
      return Promise.reject(new TypeError("network"));
    });
    const held = new Map([["left since", [{ n: 4 }, { n: 5 }]]]);
    const asker = {
      own: (chain: string) => held.get(chain) ?? [],
      enclosures: new Map(),
    } as unknown as Asker;
    const wanted = { effect: "pull", after: "9.x", carry: {}, head: undefined } as const;
    await carryOut({ ...wanted, chain: "left since" }, asker);
    await carryOut({ ...wanted, chain: "new" }, asker);
    expect(asked.map((one) => [one.getAll("chain"), one.get("kept")])).toEqual([
      [["left since"], "4"],
      [["new"], null],
    ]);
  });
});

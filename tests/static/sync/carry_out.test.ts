// SPDX-License-Identifier: Apache-2.0
import { afterEach, describe, expect, it, vi } from "vitest";
import { carryOut, type Asker, type Outcome } from "../../../static/src/sync/carry_out.js";

const MARKED = { marker: "tallywright", protocol: 1 };
const PUSHED = { ...MARKED, epoch: "e", server_time: 5, newest: 9, marks: [], exceptions: [] };
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

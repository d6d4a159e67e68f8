// SPDX-License-Identifier: Apache-2.0
import { afterEach, describe, expect, it, vi } from "vitest";
import { readWorks, pull, push, linesBehindHead, enrolDevice } from "../../../static/src/api/requests.js";

const WORKS = {
  marker: "tallywright",
  protocol: 1,
  name: "Works",
  time_zone: "UTC",
  demo: true,
  server_time: 5,
};
const HEAD = {
  marker: "tallywright",
  protocol: 1,
  epoch: "e",
  server_time: 5,
  cursor: "2.x",
  count: 2,
  more: false,
  head: { chain: "s", n: 7, hash: "ab", signature: "c+/=" },
  sealing: { name: "k", public_key: "AAAA" },
  sign_ons: [{ sign_on: "c:2", person: "s:5", proven: true }],
  signatures: [{ record: "s:6", signature: "d" }],
  chain_newest: 3,
  certificate_ends_at: 7,
};
const JSON_TYPE = "application/json";
const LINES_TYPE = "application/x-ndjson";

interface Sent {
  readonly path: string;
  readonly options: RequestInit;
}

function answering(body: string, type = JSON_TYPE, status = 200): Sent[] {
  const sent: Sent[] = [];
  vi.stubGlobal("fetch", (path: string, options: RequestInit) => {
    sent.push({ path, options });
    return Promise.resolve(new Response(body, { status, headers: { "content-type": type } }));
  });
  return sent;
}

afterEach(() => {
  vi.unstubAllGlobals();
});

describe("an answer", () => {
  it("is ours when status, type, marker, protocol and shape are", async () => {
    answering(JSON.stringify({ ...WORKS, newer: true }));
    expect(await readWorks()).toMatchObject({ sort: "ours", value: WORKS });
  });

  it.each([
    ["the sign-in page of a network", "<html>Welcome</html>", "text/html", 200],
    ["the same page called JSON", "<html>Welcome</html>", JSON_TYPE, 200],
    ["JSON of somebody else", '{"ok":true}', JSON_TYPE, 200],
    ["another marker", JSON.stringify({ ...WORKS, marker: "other" }), JSON_TYPE, 200],
    ["another protocol", JSON.stringify({ ...WORKS, protocol: 2 }), JSON_TYPE, 200],
    ["another shape", JSON.stringify({ ...WORKS, name: 7 }), JSON_TYPE, 200],
    ["half an answer", JSON.stringify(WORKS).slice(0, 40), JSON_TYPE, 200],
    ["ours under another type", JSON.stringify(WORKS), "text/plain", 200],
    ["an error page of a proxy", "<html>403</html>", "text/html", 403],
    ["a refusal without the marker", '{"code":"not-ready","retry":true}', JSON_TYPE, 503],
  ])("hazard_C1 is not ours when it is %s", async (_, body, type, status) => {
    answering(body, type, status);
    expect(await readWorks()).toEqual({ sort: "not_ours", status });
  });

  it("that refuses is known by its code", async () => {
    const body = {
      marker: "tallywright",
      protocol: 1,
      code: "not-ready",
      sentence: "",
      details: {},
      retry: true,
    };
    answering(JSON.stringify(body), JSON_TYPE, 503);
    expect(await readWorks()).toEqual({ sort: "refused", status: 503, code: "not-ready", retry: true });
  });

  it("that never comes is none", async () => {
    vi.stubGlobal("fetch", () => Promise.reject(new TypeError("Failed to fetch")));
    expect(await readWorks()).toEqual({ sort: "no_answer" });
  });

  it("whose body is cut while it comes is none", async () => {
    const body = new ReadableStream({
      start(controller) {
        controller.enqueue(new TextEncoder().encode('{"marker"'));
        controller.error(new TypeError("network"));
      },
    });
    vi.stubGlobal("fetch", () =>
      Promise.resolve(new Response(body, { headers: { "content-type": JSON_TYPE } })),
    );
    expect(await readWorks()).toEqual({ sort: "no_answer" });
  });
});

describe("a pull", () => {
  const lines = [JSON.stringify(HEAD), "one", "two"];

  it("asks for its pairs with their cursors, and for nothing of its own chain that it holds", async () => {
    const sent = answering(`${lines.join("\n")}\n`, LINES_TYPE);
    await pull(
      ["c", "left"],
      3,
      "1.x",
      { "b/first": { whole: true, cursor: "1.x" }, "b/second": { whole: false } },
      undefined,
    );
    const query = new URL(sent[0]?.path ?? "", "http://h").searchParams;
    expect(query.get("after")).toBe("1.x");
    expect(query.getAll("carry")).toEqual(["b/first@1.x", "b/second"]);
    expect(query.getAll("chain")).toEqual(["c", "left"]);
    expect(query.get("kept")).toBe("3");
  });

  it("is one page with its cursor", async () => {
    answering(`${lines.join("\n")}\n`, LINES_TYPE);
    const answer = await pull(["c"], 1, undefined, {}, undefined);
    expect(answer.sort === "ours" && answer.value.page).toEqual({
      epoch: "e",
      cursor: "2.x",
      more: false,
      pairs: [],
      lines: ["one", "two"],
      as_of: HEAD.server_time,
      sealing: HEAD.sealing,
      sign_ons: HEAD.sign_ons,
      head: HEAD.head,
      signatures: { "s:6": "d" },
      certificate_ends_at: HEAD.certificate_ends_at,
    });
  });

  it("shows the newest head of the server's chain that it was given", async () => {
    const sent = answering(`${lines.join("\n")}\n`, LINES_TYPE);
    await pull(["c"], 1, undefined, {}, HEAD.head);
    expect(new URL(sent[0]?.path ?? "", "http://h").searchParams.get("head")).toBe("s:7.ab.c+/=");
  });

  it.each([
    ["its last line", `${lines.slice(0, 2).join("\n")}\n`],
    ["its last letters", lines.join("\n").slice(0, -1)],
    ["its last line feed", lines.join("\n")],
    ["everything behind the head", lines[0] ?? ""],
  ])("that was cut before %s changes nothing", async (_, body) => {
    answering(body, LINES_TYPE);
    expect((await pull(["c"], 1, undefined, {}, undefined)).sort).toBe("not_ours");
  });

  it("hazard_C5 that was cut at any byte changes nothing", async () => {
    const body = new TextEncoder().encode(`${lines.join("\n")}\n`);
    for (let length = 0; length < body.length; length += 1) {
      answering(new TextDecoder().decode(body.slice(0, length)), LINES_TYPE);
      expect((await pull(["c"], 1, undefined, {}, undefined)).sort, `cut at ${length}`).toBe("not_ours");
    }
  });

  it("with more lines than announced is none", () => {
    expect(linesBehindHead("head\none\ntwo\n", 1)).toBeUndefined();
    expect(linesBehindHead("head\n", 0)).toEqual([]);
  });
});

describe("a push", () => {
  const answer = {
    marker: "tallywright",
    protocol: 1,
    epoch: "e",
    server_time: 5,
    newest: 1,
    marks: [],
    exceptions: [],
    lost: [],
  };

  it("is a head line and the journal's lines, each ended by a line feed", async () => {
    const sent = answering(JSON.stringify(answer));
    await push("c", { chain: "c", first: 3, last: 4, signature: "s", lines: ["three", "four"] });
    const head = {
      protocol: 1,
      count: 2,
      runs: [{ chain: "c", first: 3, last: 4, signature: "s" }],
      marks: ["c"],
      answered: [],
      enclosures: [],
    };
    expect(sent[0]?.options.body).toBe(`${JSON.stringify(head)}\nthree\nfour\n`);
    expect(new Headers(sent[0]?.options.headers).get("content-type")).toBe(LINES_TYPE);
  });

  it("carries sealed PINs in its head line", async () => {
    const sent = answering(JSON.stringify(answer));
    const beside = [{ record: "c:2", sealed: "AAAA" }];
    await push("c", undefined, beside);
    expect(JSON.parse(sent[0]?.options.body as string)).toMatchObject({ count: 0, enclosures: beside });
  });

  it("of nothing asks for the mark", async () => {
    const sent = answering(JSON.stringify(answer));
    await push("c", undefined);
    expect(sent[0]?.options.body).toBe(
      '{"protocol":1,"count":0,"runs":[],"marks":["c"],"answered":[],"enclosures":[]}\n',
    );
  });
});

describe("an enrolment", () => {
  it("goes to the demo's door when there is no code", async () => {
    const sent = answering("{}");
    await enrolDevice({ by: "demo", name: "bench 1" }, "key");
    await enrolDevice({ by: "code", name: "bench 1", code: "1234" }, "key");
    expect(sent.map(({ path, options }) => [path, options.body])).toEqual([
      ["/api/v1/enrolments/demo", '{"name":"bench 1","public_key":"key"}'],
      ["/api/v1/enrolments", '{"name":"bench 1","code":"1234","public_key":"key"}'],
    ]);
  });
});

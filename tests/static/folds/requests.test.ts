// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from "vitest";
import { answerTo } from "../../../static/src/folds/requests.js";
import { Bench } from "./bench.js";

describe("what became of a request", () => {
  const request = `${"a".repeat(26)}:9`;

  it("waits until the server answered it, and not another one", () => {
    const server = new Bench("s");
    server.grant(`${"a".repeat(26)}:8`);
    expect(answerTo(server.records, request)).toEqual({ state: "open", reasons: [] });
  });

  it("says why it was declined", () => {
    const server = new Bench("s");
    server.decline(request, "admitted_already");
    expect(answerTo(server.records, request)).toEqual({ state: "declined", reasons: ["admitted_already"] });
  });

  it("is granted once it was granted, whatever was said before", () => {
    const server = new Bench("s");
    server.decline(request, "not_admissible");
    server.grant(request);
    expect(answerTo(server.records, request)).toEqual({ state: "granted", reasons: [] });
  });
});

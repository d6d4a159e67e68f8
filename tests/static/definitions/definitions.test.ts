// SPDX-License-Identifier: Apache-2.0
import { expect, it } from "vitest";
import { byName, people } from "../../../static/src/definitions/people.js";
import { partDefinitions, shiftDefinitions } from "../../../static/src/definitions/published.js";
import { Bench, DEFINITION } from "../folds/bench.js";

const server = new Bench("s");
const part = server.add({ kind: "definition_published", v: 1, body: { content: DEFINITION } });
const shifts = server.add({
  kind: "definition_published",
  v: 1,
  body: { content: { subject: "shifts", time_zone: "UTC", shifts: [{ shift: "day", starts: "06:00" }] } },
});
const zoe = server.add({ kind: "person_changed", v: 1, body: { name: "Zoë", roles: ["lead"] } });
const adam = server.add({ kind: "person_changed", v: 1, body: { name: "Adam", roles: ["inspector"] } });
server.add({ kind: "person_changed", v: 1, body: { name: "Abigail", roles: ["lead"], person: zoe } });

it("definitions are found by the id of their publication, each under its own subject", () => {
  expect([...partDefinitions(server.records, {})]).toEqual([[part, DEFINITION]]);
  expect([...shiftDefinitions(server.records).keys()]).toEqual([shifts]);
});

it("people stand in the order of their names, each with the newest, in whatever order the records came", () => {
  const expected = [
    { id: zoe, name: "Abigail", roles: ["lead"] },
    { id: adam, name: "Adam", roles: ["inspector"] },
  ];
  expect(byName(people(server.records))).toMatchObject(expected);
  expect(byName(people([...server.records].reverse()))).toMatchObject(expected);
});

// SPDX-License-Identifier: Apache-2.0
// Cases of holds and requests that both languages are held to. The records are composed; every expectation is
// written down by hand, because a fold that wrote its own expectation would agree with itself.
import type { ReadRecord } from "../../../static/src/records/kinds.js";
import { BATCH, Bench, DEFINITION, IDS, PART } from "./bench.js";
import type { Vector } from "./write_vectors.js";

const of = (letter: string, n: number): string => `${letter.repeat(26)}:${n}`;
const CRITICAL = { zone: "nose" };

function vector(
  name: string,
  benches: readonly Bench[],
  expect: object,
  proven: Readonly<Record<string, string>> = {},
): Vector {
  const records: ReadRecord[] = benches.flatMap((bench) => bench.ofBatch());
  return {
    name,
    records: records.map((record) => record.line),
    definitions: { [PART]: DEFINITION },
    proven,
    expect: { holds: [], requests: [], ...expect },
  };
}

/** Anna's first find is a:4: chain_opened is 1, signed_on 2, tray_opened 3. */
function hold(id: string, more: object = {}): object {
  return {
    id,
    cause: "critical",
    piece: id,
    look: "first",
    lifted_by: "",
    cause_withdrawn: false,
    ...more,
  };
}

function request(id: string, state: string, more: object = {}): object {
  return { id, kind: "hold_lift_requested", state, reasons: [], seconded_by: [], ...more };
}

/** Anna with one critical mark, a:4; the lead Lea, signed on as l:2; the server. */
function oneHold(): { anna: Bench; lea: Bench; server: Bench; open: string; mark: string } {
  const anna = signedOn("a", IDS.anna);
  const open = anna.openTray(4);
  const mark = anna.find(open, "lap", CRITICAL);
  return { anna, lea: signedOn("d", IDS.lea), server: new Bench("s"), open, mark };
}

function signedOn(letter: string, person: string): Bench {
  const bench = new Bench(letter);
  bench.signOn(person);
  return bench;
}

function whatHolds(): Vector {
  const { anna, open } = oneHold();
  anna.find(open, "lap", { zone: "spine" });
  anna.find(open, "not_sure");
  anna.find(open, "lap", { ...CRITICAL, quick_repeat: true });
  anna.find(open, "unset", { piece: of("a", 5) });
  anna.add({ batch: BATCH, kind: "hold_placed", v: 1, body: { why: "smells burnt", tray: open } });
  const unread = { batch: BATCH, definition: of("s", 11) };
  anna.add({
    ...unread,
    kind: "defect_tallied",
    v: 1,
    body: { look: "first", tray: open, defect: "lap" },
  });
  return vector("a critical mark is a hold, and so is one that is placed; nothing else is", [anna], {
    holds: [
      hold(of("a", 4)),
      hold(of("a", 8), { piece: of("a", 5) }),
      hold(of("a", 9), { cause: "placed", piece: "", look: "" }),
    ],
  });
}

function undoneOneTapLater(): Vector {
  const { anna, mark } = oneHold();
  anna.takeBack(mark);
  return vector("own critical mark undone one tap later: the hold stays, its cause is withdrawn", [anna], {
    holds: [hold(mark, { cause_withdrawn: true })],
  });
}

function anothersWithdrawal(): Vector {
  const { anna, mark } = oneHold();
  const ben = signedOn("b", IDS.ben);
  ben.takeBack(mark);
  return vector("another takes a critical mark back: no effect", [anna, ben], { holds: [hold(mark)] });
}

function underAnothersSignOn(): Vector {
  const { anna, mark } = oneHold();
  const ben = new Bench("b");
  ben.borrow(of("a", 2));
  ben.takeBack(mark);
  ben.second(of("d", 3));
  const lea = signedOn("d", IDS.lea);
  lea.askForLift(mark);
  return vector(
    "a record that names a sign-on of another chain is nobody's: no withdrawal, no second name",
    [anna, ben, lea],
    { holds: [hold(mark)], requests: [request(of("d", 3), "open")] },
    { [of("a", 2)]: IDS.anna, [of("d", 2)]: IDS.lea },
  );
}

function liftedAndAgain(): Vector {
  const { anna, lea, server, open, mark } = oneHold();
  const asked = lea.askForLift(mark);
  server.grant(asked);
  const again = anna.find(open, "unset", { piece: mark });
  return vector(
    "a hold is lifted, then a second critical mark of the same piece: a new hold",
    [anna, lea, server],
    {
      holds: [hold(mark, { lifted_by: asked }), hold(again, { piece: mark })],
      requests: [request(asked, "granted")],
    },
  );
}

function askedOnly(): Vector {
  const { anna, lea, mark } = oneHold();
  const asked = lea.askForLift(mark);
  return vector("a request without an answer changes nothing", [anna, lea], {
    holds: [hold(mark)],
    requests: [request(asked, "open")],
  });
}

function declined(): Vector {
  const { anna, lea, server, mark } = oneHold();
  const asked = lea.askForLift(mark);
  server.decline(asked, "changed", "role");
  return vector("a request that was declined changes nothing but the list", [anna, lea, server], {
    holds: [hold(mark)],
    requests: [request(asked, "declined", { reasons: ["changed", "role"] })],
  });
}

function declinedAndGranted(): Vector {
  const { anna, lea, server, mark } = oneHold();
  const asked = lea.askForLift(mark);
  server.decline(asked, "changed");
  server.grant(asked);
  return vector("granted before a restore and declined after it: granted", [anna, lea, server], {
    holds: [hold(mark, { lifted_by: asked })],
    requests: [request(asked, "granted")],
  });
}

function whatAGrantCovers(): Vector {
  const { anna, lea, server, open, mark } = oneHold();
  const other = anna.find(open, "lap", CRITICAL);
  const asked = lea.askForLift(mark);
  server.grant(asked);
  server.grant(other);
  server.grant(of("z", 9));
  return vector(
    "a grant lifts what its request names; one that names no request lifts nothing",
    [anna, lea, server],
    {
      holds: [hold(mark, { lifted_by: asked }), hold(other)],
      requests: [request(asked, "granted")],
    },
  );
}

function requestTakenBack(): Vector {
  const { anna, lea, server, mark } = oneHold();
  const asked = lea.askForLift(mark);
  lea.takeBack(asked);
  server.grant(asked);
  return vector("a request cannot be taken back: granted, it takes effect", [anna, lea, server], {
    holds: [hold(mark, { lifted_by: asked })],
    requests: [request(asked, "granted")],
  });
}

function seconds(): Vector {
  const { anna, lea, mark } = oneHold();
  const asked = lea.askForLift(mark);
  lea.second(asked);
  const leo = signedOn("e", IDS.leo);
  leo.second(asked);
  leo.second(asked);
  const unproven = signedOn("f", IDS.ben);
  unproven.second(asked);
  return vector(
    "a second name is a proven person's, and not the asker's own",
    [anna, lea, leo, unproven],
    {
      holds: [hold(mark)],
      requests: [request(asked, "open", { seconded_by: [IDS.leo] })],
    },
    { [of("d", 2)]: IDS.lea, [of("e", 2)]: IDS.leo },
  );
}

/** Anna's own critical mark, taken back under a second sign-on of hers. */
function takenBackLater(isProven: boolean): Vector {
  const { anna, mark } = oneHold();
  const again = anna.signOn(IDS.anna);
  anna.takeBack(mark);
  return vector(
    isProven
      ? "own critical mark taken back under another sign-on, both proven: the hold stays without its cause"
      : "own critical mark taken back under a wrong PIN: no effect until it is proven",
    [anna],
    { holds: [hold(mark, { cause_withdrawn: isProven })] },
    isProven ? { [of("a", 2)]: IDS.anna, [again]: IDS.anna } : { [of("a", 2)]: IDS.anna },
  );
}

function withdrawalOfAWithdrawal(): Vector {
  const { anna, mark } = oneHold();
  anna.takeBack(anna.takeBack(mark));
  return vector("the withdrawal of a critical mark withdrawn: the cause stays withdrawn", [anna], {
    holds: [hold(mark, { cause_withdrawn: true })],
  });
}

/** The server answers the first that comes; the second one asks for what is lifted already. */
function twoLeadsAtOnce(): Vector {
  const { anna, lea, server, mark } = oneHold();
  const first = lea.askForLift(mark);
  const leo = signedOn("e", IDS.leo);
  const second = leo.askForLift(mark);
  server.grant(first);
  server.decline(second, "lifted_already");
  return vector(
    "two leads ask at once: one grant, and the reason beside the other",
    [anna, lea, leo, server],
    {
      holds: [hold(mark, { lifted_by: first })],
      requests: [request(first, "granted"), request(second, "declined", { reasons: ["lifted_already"] })],
    },
  );
}

/** The reply was lost for hours and a mark came between: the lead looks again and asks again. */
function declinedThenAskedAgain(): Vector {
  const { anna, lea, server, open, mark } = oneHold();
  const late = lea.askForLift(mark);
  const meanwhile = anna.find(open, "unset", { piece: mark });
  server.decline(late, "changed");
  const again = lea.askForLift(mark, meanwhile);
  server.grant(again);
  return vector(
    "a mark came before the request did: declined; asked again for both, and granted",
    [anna, lea, server],
    {
      holds: [hold(mark, { lifted_by: again }), hold(meanwhile, { piece: mark, lifted_by: again })],
      requests: [request(late, "declined", { reasons: ["changed"] }), request(again, "granted")],
    },
  );
}

/** Two grants of one hold, as two app servers may have written before they were one: the first by id is named. */
function grantedTwice(): Vector {
  const { anna, lea, server, mark } = oneHold();
  const first = lea.askForLift(mark);
  const second = lea.askForLift(mark);
  server.grant(second);
  server.grant(first);
  return vector("one hold lifted by two grants: it names the first request by id", [anna, lea, server], {
    holds: [hold(mark, { lifted_by: first })],
    requests: [request(first, "granted"), request(second, "granted")],
  });
}

/** The restored server writes in a new chain, where it declines; a tablet brings the grant of the old one. */
function grantOfTheOldEpoch(): Vector {
  const { anna, lea, server, mark } = oneHold();
  const asked = lea.askForLift(mark);
  const restored = new Bench("t");
  restored.decline(asked, "changed");
  server.grant(asked);
  return vector(
    "granted in the old epoch, declined after a restore, the old grant brought by a tablet: granted",
    [restored, anna, lea, server],
    { holds: [hold(mark, { lifted_by: asked })], requests: [request(asked, "granted")] },
  );
}

function disposition(): Vector {
  const { anna, lea, server, mark } = oneHold();
  const asked = lea.add({
    batch: BATCH,
    kind: "disposition_requested",
    v: 1,
    body: { piece: mark, look: "first", verdict: "accept", seen: [] },
  });
  server.grant(asked);
  return vector("a granted disposition lifts no hold", [anna, lea, server], {
    holds: [hold(mark)],
    requests: [request(asked, "granted", { kind: "disposition_requested" })],
  });
}

/** The vectors by the name of their file. */
export function vectors(): Record<string, Vector> {
  return {
    what_holds: whatHolds(),
    undone_one_tap_later: undoneOneTapLater(),
    another_withdraws: anothersWithdrawal(),
    under_anothers_sign_on: underAnothersSignOn(),
    lifted_and_marked_again: liftedAndAgain(),
    asked_only: askedOnly(),
    declined: declined(),
    declined_and_granted: declinedAndGranted(),
    what_a_grant_covers: whatAGrantCovers(),
    request_taken_back: requestTakenBack(),
    seconds: seconds(),
    disposition: disposition(),
    taken_back_under_a_wrong_pin: takenBackLater(false),
    taken_back_later_proven: takenBackLater(true),
    withdrawal_withdrawn: withdrawalOfAWithdrawal(),
    two_leads_at_once: twoLeadsAtOnce(),
    declined_then_asked_again: declinedThenAskedAgain(),
    granted_twice: grantedTwice(),
    grant_of_the_old_epoch: grantOfTheOldEpoch(),
  };
}

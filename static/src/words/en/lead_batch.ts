// SPDX-License-Identifier: Apache-2.0
// The lead’s pages of one batch and its holds.

export const leadBatch = {
  "aside.title": "Set aside",
  "aside.what":
    "These records came to the server and count nowhere yet. Nothing of them is lost. Admit what was honest work: it counts from then on, once.",
  "aside.refresh": "Look again",
  "aside.working": "Looking what is there.",
  "aside.none":
    "Nothing is set aside. What the server cannot count at once appears here, with the tablet it came from.",
  "aside.revoked": "This tablet was revoked. What it sent since then waits here.",
  "aside.number_taken": "A copy of this tablet wrote as well. This is the side that came second.",
  "aside.unknown_device": "The server does not know this tablet.",
  "aside.unvouched": "No signature stands behind these records. They cannot be admitted.",
  "aside.other": "The server could not count these records.",
  "aside.count": "{count, plural, one {# record} other {# records}}, made {from} to {to}:",
  "aside.state": "{admitted, number} admitted, {admissible, number} can still be admitted.",
  "aside.finds": "Finds",
  "aside.trays_begun": "Trays begun",
  "aside.trays_closed": "Trays closed",
  "aside.taken_back": "Entries taken back",
  "aside.batches": "Batches opened",
  "aside.sign_ons": "Sign-ons",
  "aside.other_kind": "Other records",
  "aside.why": "Why they may count",
  "aside.admit": "Admit {count, plural, one {# record} other {# records}}",

  "holds.title": "Holds and queries",
  "holds.as_of": "As the server knew it {when}.",
  "holds.none":
    "Nothing is on hold, no piece waits for a verdict, and nothing that was asked waits for a second name. Each appears here as soon as it reaches the server.",
  "holds.batch": "Batch {number}",
  "holds.critical": "Critical find: {word}",
  "holds.placed": "Placed by hand: {why}",
  "holds.cause_withdrawn": "cause withdrawn; the hold stands",
  "holds.caution":
    "A hold keeps pieces where they are until this is decided. Lifting it is no statement that the parts are safe; the maker’s own approved procedure decides.",
  "holds.choose": "Choose for the lift",
  "holds.chosen": "Chosen for the lift",
  "holds.why": "Why it is lifted",
  "holds.pin": "PIN of {name}, for this alone",
  "holds.pin_what":
    "Your PIN puts your name and the time under this request. It is not a qualified electronic signature.",
  "holds.ask": "Ask for the lift",
  "holds.two_names":
    "A second name is due: another lead or inspector signs on here and puts it under the request.",
  "holds.open": "Asked, waits for a second name or for records that are on their way",
  "holds.second": "Put my name to it",
  "holds.requests": "Requests",
  "holds.granted": "granted",
  "holds.declined": "declined: {why}",
  "holds.lift": "lift",
  "holds.verdict": "verdict",
  "holds.queries": "Not sure: which verdict?",
  "holds.query": "found {when}",
  "holds.accept": "Accept",
  "holds.rework": "Rework",
  "holds.reject": "Reject",
  "holds.missing": "A reason or a PIN is missing. Give both.",
  "holds.decided": "Decided in the last seven days",

  "decide.title": "Batches to decide on",
  "decide.none":
    "No batch is known to the server yet. Each appears here once it is opened, the most urgent first.",
  "decide.critical": "Critical find: on hold",
  "decide.held": "On hold",
  "decide.over_limit": "Above the limit",
  "decide.came_late": "Open again: records came that nobody has decided on",
  "decide.points_open": "All looked at, points are open",
  "decide.not_signed": "Only the signature is missing",
  "decide.ready": "Complete: waits for the release",
  "decide.in_work": "Being looked at",
  "decide.not_begun": "Look not begun",
  "decide.released": "Released",
  "decide.not_counted": "{look}: not counted in yet",
  "decide.present":
    "{look}: {looked, number} of {due, number} looked at, {points, plural, one {# point open} other {# points open}}",

  "limit.title": "Limit",
  "limit.line": "{class}: {state}",
  "limit.uncounted": "not counted in, so nothing can be said",
  "limit.within": "within so far",
  "limit.watch": "likely to end above",
  "limit.broken": "above already",
  "limit.over": "ended above",
  "limit.met": "ended within",
  "limit.found":
    "{count, plural, one {# piece} other {# pieces}} found; the limit is {thousand, number} of 1000.",
  "limit.still":
    "{count, plural, one {# piece} other {# pieces}} found, {allowed, number} allowed in this batch ({thousand, number} of 1000): {left, number} still allowed.",
  "limit.ended":
    "{count, plural, one {# piece} other {# pieces}} found, {allowed, number} allowed in this batch ({thousand, number} of 1000).",
  "limit.above":
    "{count, plural, one {# piece} other {# pieces}} found, {allowed, number} allowed in this batch ({thousand, number} of 1000): {above, number} above.",
  "limit.queries": "Were every open query of this class, it would be {count}: {state}.",
  "limit.rate":
    "Rate of what was looked at: {rate}. The process behind it: from {lower} to {upper}, each end with 95 % confidence.",
  "limit.chance": "Chance that the batch ends above: {chance}.",
  "limit.caution": "A count of finds, not acceptance.",

  "coverage.title": "How many looks each defect had, and where",
  "coverage.what": "Only looks that are complete count. No look sees inside metal.",
  "coverage.whole": "the piece as a whole",
  "coverage.none": "no look",
  "coverage.unknown": "not known",
  "coverage.looks": "{count, plural, one {# look} other {# looks}}",

  "accept.open": "Accept as it is",
  "accept.what":
    "This closes the line at just this amount; at any other it is open again. It needs a second name, of another lead or an inspector.",
  "accept.why": "Searched where, and why it is accepted",
  "accept.why_missing": "The reason is missing. Write it down.",
  "accept.ask": "Ask for acceptance",

  "release.title": "Release",
  "release.caution":
    "Records complete. This is not a statement that the parts are safe. Release is the decision of the named, authorised person under the maker’s own approved procedure.",
  "release.not_yet":
    "The records are not complete: a point is open, a hold stands, or records are on their way. The release can be asked for once nothing of this is left.",
  "release.for_leads": "A lead asks for the release.",
  "release.note": "Note to the release (may stay empty)",
  "release.pin_missing": "The PIN is missing. Type it for this request alone.",
  "release.ask": "Ask for the release",

  "place.open": "Put this batch on hold",
  "place.why": "Why it is put on hold",
  "place.act": "Put on hold",
  "place.stored": "The hold is stored here and goes to the server with the other records.",

  "holds.found": "Found late",
  "holds.found_at": "Found late: {where}",
  "holds.check": "Check out of its limits: {check}",
  "holds.limit": "Limit crossed",
  "holds.limit_of": "Limit crossed: {class}",
  "holds.piece": "piece {tag}",
  "holds.finder": "found by {name}",
  "holds.placer": "placed by {name}",

  "picture.away": "Picture: not here yet. A tablet still has it and sends it.",
  "picture.no_contact": "Picture: it cannot be shown just now. Look again with contact.",
  "picture.larger": "Show the picture larger",
  "picture.smaller": "Show the picture smaller",

  "holds.early": "Cut before certificate and cast mark agreed: {cast}",
  "holds.gauge": "Measured with a gauge that was found wrong: {gauge}",
  "holds.metal": "The metal is in doubt: {cast}",

  "ledger.title": "The ledger, step by step",
  "ledger.sum":
    "{pieces} in = {good} good + {scrap} scrap + {samples} samples and set-up + {missing} missing or late-found.",
  "ledger.taken": "{taken} were split off.",
  "ledger.closes": "It closes: every difference is accepted.",
  "ledger.open": "It does not close yet: a difference is open.",
  "ledger.step": "Operation or look",
  "ledger.in": "in",
  "ledger.out": "out",
  "ledger.scrap": "scrap",
  "ledger.set_up": "set-up",
  "ledger.samples": "samples",
  "ledger.missing": "missing",
  "ledger.aside": "put aside at {look}",
} as const satisfies Record<string, string>;

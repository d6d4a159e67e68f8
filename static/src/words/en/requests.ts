// SPDX-License-Identifier: Apache-2.0
// What was asked of the server, and why it declined.

export const requests = {
  "asked.open": "Asked. The server’s answer is on its way.",
  "asked.granted": "Granted. It holds now.",
  "asked.declined": "The server declined, and nothing was changed.",
  "asked.no_contact": "No contact with the server. This can be asked for only with contact.",

  "reason.role": "Your role may not ask for this today.",
  "reason.sign_on_not_in_force":
    "Somebody else had signed on at this tablet in between. Sign on and ask again.",
  "reason.pin_wrong": "The PIN was wrong. Sign on again and ask anew.",
  "reason.pin_not_fresh": "This needs a PIN given for it alone. Ask again and type the PIN.",
  "reason.changed":
    "Something was recorded meanwhile that the request had not seen. Look again, then ask anew.",
  "reason.no_such_hold": "It names a hold this batch does not have.",
  "reason.lifted_already": "A hold it names is lifted already.",
  "reason.no_such_mark": "This look has no mark of that piece.",
  "reason.on_hold": "The piece is on hold. Ask for the hold to be lifted first.",
  "reason.no_such_person": "Nobody with this id is known.",
  "reason.no_last_day": "A reader needs a last day, and a deputy’s days must follow one another.",
  "reason.last_administrator": "Nobody would be left to administer the works.",
  "reason.no_such_device": "This is no tablet of the works.",
  "reason.revoked_already": "It is revoked already.",
  "reason.not_waiting": "No device with this key waits any more. Type a new code on it.",
  "reason.no_such_line": "No such line was set aside.",
  "reason.admitted_already": "It was admitted already.",
  "reason.not_admissible": "Some of these lines name records that were not admitted, or have no signature.",
  "reason.no_such_difference":
    "The batch has no such difference, or has it at another amount now. Read the page again.",
  "reason.accepted_already": "This difference is accepted already.",
  "reason.not_complete":
    "A look has an open point, or a hold or a query stands. Read the batch’s page again and settle what it names.",
  "reason.not_understood":
    "The batch has records that this server cannot judge: a definition is missing, or the server is too old.",
  "reason.released_already": "The batch is released already, and nothing came since.",

  "asked.acceptance": "acceptance of a difference",
  "asked.release": "release",
  "asked.other": "request",
} as const satisfies Record<string, string>;

// SPDX-License-Identifier: Apache-2.0
// What was asked of the server, and why it declined or did not do it.

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

  "error.pin-refused": "This PIN is too short, or one that many people have. Choose another.",
  "error.role-needed":
    "This is open to other roles. Sign on with a PIN of a role that may, and wait until the server has judged it.",
  "error.not-found": "It is not there any more: it was turned away, or its time is over. Ask for a new code.",
  "error.code-refused":
    "The server does not know this code, or it was used or is older than ten minutes. Ask the administrator for a new one.",
  "error.no-contact":
    "The server did not answer. Check that the tablet is in the works' network, then try again.",
  "error.not-ours":
    "Something other than the server answered, perhaps the network's own sign-in page. Open that page once, then try again.",
  "error.enrolled-before": "This tablet is known to the server already. Reload the page.",
  "error.not-enrolled": "The server does not know this tablet. Ask an administrator to make it known again.",
  "error.batch-unknown": "The server knows no such batch. Go back to the list and choose again.",
  "error.not-allowed": "The server does not allow this to this tablet. Tell the lead what you wanted to do.",
  "error.request-not-understood":
    "The server could not read what this tablet sent. Reload the page, then try again; if it stays, tell the lead.",
  "error.too-many-tries": "There were too many tries. Wait a few minutes, then try again.",
  "error.not-ready": "The server is busy or starting. Wait a moment, then try again.",
  "error.not-writable":
    "The server can store nothing: its disk is full or out of order. Tell the lead; what is on this tablet stays here.",
  "error.store-full": "The server has no room left. Tell the lead; what is on this tablet stays here.",
  "error.other":
    "It did not work, and the server gave the reason “{code}”. Try again; if it stays, tell the lead this word.",
} as const satisfies Record<string, string>;

// SPDX-License-Identifier: Apache-2.0
// Who works here now.

export const signOn = {
  "enrol.rubout": "Rub out",

  "set_pin.open": "Set my PIN",

  "sign_on.title": "Who works here now?",
  "sign_on.what":
    "Tap your name. Every find is kept under it until somebody else takes over. The open tray stays open.",
  "sign_on.nobody":
    "No names have come from the server yet. They appear here by themselves once there is contact.",
  "sign_on.ask_server": "Ask the server now",
  "sign_on.language": "Language",
  "sign_on.present": "works here now",

  "pin.field": "PIN of {name}",
  "pin.what":
    "The PIN proves who works here. It is sealed here so that only the server can open it, and is kept nowhere.",
  "pin.later":
    "There is no contact now. The PIN is sealed here and judged as soon as there is contact; you can work at once.",
  "pin.letters": "Letters",
  "pin.act": "Begin",
  "pin.back": "Another name",
  "pin.without": "Go on without PIN",
  "pin.without_what":
    "Without a PIN it is not proven who recorded: your records are kept, marked “author not proven”.",
  "pin.asked": "The server looks at the PIN.",
  "pin.proven": "Proven: {name}.",
  "pin.not_proven": "This was not the PIN of {name}. Your records are kept, marked “author not proven”.",
  "pin.no_key":
    "The PIN of {name} could not be sealed: the server’s key has not come yet. Your records are kept, marked “author not proven”.",
  "pin.again": "Type the PIN again",
  "pin.go_on": "Go on",

  "role.inspector": "inspector",
  "role.operator": "operator",
  "role.lead": "lead",
  "role.administrator": "administrator",
  "role.reader": "reader",
} as const satisfies Record<string, string>;

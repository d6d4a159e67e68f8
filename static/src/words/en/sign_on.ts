// SPDX-License-Identifier: Apache-2.0
// Who works here now.

export const signOn = {
  "enrol.code_missing": "The code is shorter than a code is. Type all {length, number} characters.",
  "enrol.rubout": "Rub out",

  "new_pin.first": "New PIN",
  "new_pin.again": "The same PIN again",
  "new_pin.what":
    "4 characters or more; 8 for a lead or an administrator. Nothing that many people have, such as 1234 or a year.",
  "new_pin.differ": "The two PINs differ, or none is typed. Type the same PIN twice.",

  "set_pin.open": "Set my PIN",
  "set_pin.what":
    "With the word an administrator gave you, you set your PIN yourself. Nobody else knows it, and the word works once.",
  "set_pin.word": "Word from the administrator",
  "set_pin.act": "Set this PIN",

  "people.back": "Back",

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

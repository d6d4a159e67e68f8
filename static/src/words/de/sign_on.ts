// SPDX-License-Identifier: Apache-2.0
import type { signOn as keys } from "../en/sign_on.js";

export const signOn: Readonly<Record<keyof typeof keys, string>> = {
  "enrol.rubout": "Löschen",

  "set_pin.open": "Meine PIN setzen",

  "sign_on.title": "Wer arbeitet hier jetzt?",
  "sign_on.what":
    "Den eigenen Namen antippen. Jeder Fund steht darunter, bis jemand anders übernimmt. Die offene Schale bleibt offen.",
  "sign_on.nobody":
    "Noch sind keine Namen vom Server da. Sie erscheinen hier von selbst, sobald Kontakt besteht.",
  "sign_on.ask_server": "Den Server jetzt fragen",
  "sign_on.language": "Sprache",
  "sign_on.present": "arbeitet jetzt hier",

  "pin.field": "PIN von {name}",
  "pin.what":
    "Die PIN belegt, wer hier arbeitet. Sie wird hier so versiegelt, dass nur der Server sie öffnen kann, und nirgends aufbewahrt.",
  "pin.later":
    "Gerade ist kein Kontakt. Die PIN wird hier versiegelt und geprüft, sobald Kontakt besteht; gearbeitet werden kann sofort.",
  "pin.letters": "Buchstaben",
  "pin.act": "Anfangen",
  "pin.back": "Anderer Name",
  "pin.without": "Ohne PIN weiter",
  "pin.without_what":
    "Ohne PIN ist nicht belegt, wer aufgeschrieben hat: Die Einträge bleiben, vermerkt als „Verfasser nicht belegt“.",
  "pin.asked": "Der Server prüft die PIN.",
  "pin.proven": "Belegt: {name}.",
  "pin.not_proven":
    "Das war nicht die PIN von {name}. Die Einträge bleiben, vermerkt als „Verfasser nicht belegt“.",
  "pin.no_key":
    "Die PIN von {name} konnte nicht versiegelt werden: Der Schlüssel des Servers ist noch nicht da. Die Einträge bleiben, vermerkt als „Verfasser nicht belegt“.",
  "pin.again": "Die PIN noch einmal eingeben",
  "pin.go_on": "Weiter",

  "role.inspector": "Prüfung",
  "role.operator": "Maschine",
  "role.lead": "Leitung",
  "role.administrator": "Verwaltung",
  "role.reader": "Einsicht",
};

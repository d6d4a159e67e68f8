// SPDX-License-Identifier: Apache-2.0
import type { leadBatch as keys } from "../en/lead_batch.js";

export const leadBatch: Readonly<Record<keyof typeof keys, string>> = {
  "aside.title": "Zurückgelegt",
  "aside.what":
    "Diese Aufzeichnungen sind beim Server angekommen und zählen noch nirgends. Nichts davon ist verloren. Was ehrliche Arbeit war, lassen Sie zu: Es zählt von da an, einmal.",
  "aside.refresh": "Neu nachsehen",
  "aside.working": "Es wird nachgesehen.",
  "aside.none":
    "Nichts ist zurückgelegt. Was der Server nicht gleich zählen kann, erscheint hier, mit dem Tablet, von dem es kam.",
  "aside.revoked": "Dieses Tablet wurde gesperrt. Was es seither geschickt hat, wartet hier.",
  "aside.number_taken":
    "Eine Kopie dieses Tablets hat auch geschrieben. Das ist die Seite, die als zweite kam.",
  "aside.unknown_device": "Der Server kennt dieses Tablet nicht.",
  "aside.unvouched": "Hinter diesen Aufzeichnungen steht keine Signatur. Sie können nicht zugelassen werden.",
  "aside.other": "Der Server konnte diese Aufzeichnungen nicht zählen.",
  "aside.count": "{count, plural, one {# Aufzeichnung} other {# Aufzeichnungen}}, gemacht {from} bis {to}:",
  "aside.state": "{admitted, number} zugelassen, {admissible, number} können noch zugelassen werden.",
  "aside.finds": "Funde",
  "aside.trays_begun": "Schalen begonnen",
  "aside.trays_closed": "Schalen abgeschlossen",
  "aside.taken_back": "Eingaben zurückgenommen",
  "aside.batches": "Lose eröffnet",
  "aside.sign_ons": "Anmeldungen",
  "aside.other_kind": "Andere Aufzeichnungen",
  "aside.why": "Warum sie zählen dürfen",
  "aside.admit": "{count, plural, one {# Aufzeichnung} other {# Aufzeichnungen}} zulassen",

  "holds.title": "Sperren und Rückfragen",
  "holds.as_of": "So wusste es der Server {when}.",
  "holds.none":
    "Nichts ist gesperrt, kein Teil wartet auf ein Urteil, und kein Antrag auf einen zweiten Namen. Alles erscheint hier, sobald es den Server erreicht.",
  "holds.batch": "Los {number}",
  "holds.critical": "Kritischer Fund: {word}",
  "holds.placed": "Von Hand gesetzt: {why}",
  "holds.cause_withdrawn": "Anlass zurückgenommen; die Sperre steht",
  "holds.caution":
    "Eine Sperre hält Teile an ihrem Ort, bis entschieden ist. Sie aufzuheben heißt nicht, dass die Teile sicher sind; das eigene freigegebene Verfahren des Herstellers entscheidet.",
  "holds.choose": "Zum Aufheben wählen",
  "holds.chosen": "Zum Aufheben gewählt",
  "holds.why": "Warum sie aufgehoben wird",
  "holds.pin": "PIN von {name}, nur hierfür",
  "holds.pin_what":
    "Die PIN setzt Name und Zeit unter diesen Antrag. Sie ist keine qualifizierte elektronische Signatur.",
  "holds.ask": "Aufhebung beantragen",
  "holds.two_names":
    "Ein zweiter Name fehlt: Eine andere Leitung oder Prüferin meldet sich hier an und setzt ihn unter den Antrag.",
  "holds.open": "Beantragt; wartet auf einen zweiten Namen oder auf Aufzeichnungen, die unterwegs sind",
  "holds.second": "Meinen Namen daruntersetzen",
  "holds.requests": "Anträge",
  "holds.granted": "gewährt",
  "holds.declined": "abgelehnt: {why}",
  "holds.lift": "Aufhebung",
  "holds.verdict": "Urteil",
  "holds.queries": "Nicht sicher: welches Urteil?",
  "holds.query": "gefunden {when}",
  "holds.accept": "Gut",
  "holds.rework": "Nacharbeit",
  "holds.reject": "Ausschuss",
  "holds.missing": "Ein Grund oder eine PIN fehlt. Beide angeben.",
  "holds.decided": "In den letzten sieben Tagen entschieden",

  "decide.title": "Lose, über die zu entscheiden ist",
  "decide.none":
    "Der Server kennt noch kein Los. Jedes erscheint hier, sobald es eröffnet ist, das dringendste zuerst.",
  "decide.critical": "Kritischer Fund: gesperrt",
  "decide.held": "Gesperrt",
  "decide.over_limit": "Über der Grenze",
  "decide.came_late": "Wieder offen: es kam etwas, worüber niemand entschieden hat",
  "decide.points_open": "Alles angesehen, Punkte sind offen",
  "decide.not_signed": "Nur die Unterschrift fehlt",
  "decide.ready": "Vollständig: wartet auf die Freigabe",
  "decide.in_work": "Wird angesehen",
  "decide.not_begun": "Durchsicht nicht begonnen",
  "decide.released": "Freigegeben",
  "decide.not_counted": "{look}: noch nicht eingezählt",
  "decide.present":
    "{look}: {looked, number} von {due, number} angesehen, {points, plural, one {# Punkt offen} other {# Punkte offen}}",

  "limit.title": "Grenze",
  "limit.line": "{class}: {state}",
  "limit.uncounted": "nicht eingezählt, also lässt sich nichts sagen",
  "limit.within": "bisher darunter",
  "limit.watch": "endet wohl darüber",
  "limit.broken": "schon darüber",
  "limit.over": "am Ende darüber",
  "limit.met": "am Ende darunter",
  "limit.found":
    "{count, plural, one {# Teil} other {# Teile}} gefunden; die Grenze ist {thousand, number} von 1000.",
  "limit.still":
    "{count, plural, one {# Teil} other {# Teile}} gefunden, {allowed, number} in diesem Los erlaubt ({thousand, number} von 1000): {left, number} noch erlaubt.",
  "limit.ended":
    "{count, plural, one {# Teil} other {# Teile}} gefunden, {allowed, number} in diesem Los erlaubt ({thousand, number} von 1000).",
  "limit.above":
    "{count, plural, one {# Teil} other {# Teile}} gefunden, {allowed, number} in diesem Los erlaubt ({thousand, number} von 1000): {above, number} darüber.",
  "limit.queries": "Wäre jede offene Rückfrage von dieser Klasse, wären es {count}: {state}.",
  "limit.rate":
    "Anteil am Angesehenen: {rate}. Beim Prozess dahinter: von {lower} bis {upper}, jedes Ende mit 95 % Sicherheit.",
  "limit.chance": "Wahrscheinlichkeit, dass das Los darüber endet: {chance}.",
  "limit.caution": "Eine Zählung von Funden, keine Annahme.",

  "coverage.title": "Wie oft jeder Fehler angesehen wurde, und wo",
  "coverage.what": "Nur vollständige Durchsichten zählen. Keine Durchsicht sieht ins Metall.",
  "coverage.whole": "das Teil als Ganzes",
  "coverage.none": "keine Durchsicht",
  "coverage.unknown": "nicht bekannt",
  "coverage.looks": "{count, plural, one {# Durchsicht} other {# Durchsichten}}",

  "accept.open": "Anerkennen, wie es ist",
  "accept.what":
    "Das schließt die Zeile bei genau dieser Zahl; bei jeder anderen ist sie wieder offen. Es braucht einen zweiten Namen, von einer anderen Leitung oder aus der Prüfung.",
  "accept.why": "Wo gesucht wurde, und warum es anerkannt wird",
  "accept.why_missing": "Der Grund fehlt. Ihn aufschreiben.",
  "accept.ask": "Anerkennung beantragen",

  "release.title": "Freigabe",
  "release.caution":
    "Aufzeichnungen vollständig. Das ist keine Aussage, dass die Teile sicher sind. Die Freigabe ist die Entscheidung der benannten, befugten Person nach dem eigenen freigegebenen Verfahren des Herstellers.",
  "release.not_yet":
    "Die Aufzeichnungen sind nicht vollständig: Ein Punkt ist offen, eine Sperre steht, oder Aufzeichnungen sind unterwegs. Die Freigabe lässt sich beantragen, sobald davon nichts übrig ist.",
  "release.for_leads": "Die Freigabe beantragt eine Leitung.",
  "release.note": "Bemerkung zur Freigabe (darf leer bleiben)",
  "release.pin_missing": "Die PIN fehlt. Sie nur für diesen Antrag eintippen.",
  "release.ask": "Freigabe beantragen",

  "place.open": "Dieses Los sperren",
  "place.why": "Warum es gesperrt wird",
  "place.act": "Sperren",
  "place.stored": "Die Sperre ist hier gespeichert und geht mit den anderen Aufzeichnungen zum Server.",

  "holds.found": "Spät gefunden",
  "holds.found_at": "Spät gefunden: {where}",
  "holds.check": "Prüfung außerhalb der Grenzen: {check}",
  "holds.limit": "Grenze überschritten",
  "holds.limit_of": "Grenze überschritten: {class}",
  "holds.piece": "Teil {tag}",
  "holds.finder": "gefunden von {name}",
  "holds.placer": "gesetzt von {name}",

  "picture.away": "Bild: noch nicht da. Ein Tablet hat es noch und sendet es.",
  "picture.no_contact": "Bild: lässt sich gerade nicht zeigen. Bei Kontakt noch einmal ansehen.",
  "picture.larger": "Bild größer zeigen",
  "picture.smaller": "Bild kleiner zeigen",

  "holds.early": "Gesägt, bevor Bescheinigung und Schmelzenzeichen stimmten: {cast}",
  "holds.gauge": "Mit einem Messmittel gemessen, das als falsch befunden wurde: {gauge}",
  "holds.metal": "Am Werkstoff besteht Zweifel: {cast}",

  "ledger.title": "Die Stückrechnung, Schritt für Schritt",
  "ledger.sum":
    "{pieces} herein = {good} gut + {scrap} Ausschuss + {samples} Proben und Einrichten + {missing} fehlend oder spät gefunden.",
  "ledger.taken": "{taken} wurden abgeteilt.",
  "ledger.closes": "Sie geht auf: Jede Differenz ist angenommen.",
  "ledger.open": "Sie geht noch nicht auf: Eine Differenz ist offen.",
  "ledger.step": "Arbeitsgang oder Durchsicht",
  "ledger.in": "herein",
  "ledger.out": "hinaus",
  "ledger.scrap": "Ausschuss",
  "ledger.set_up": "Einrichten",
  "ledger.samples": "Proben",
  "ledger.missing": "fehlend",
  "ledger.aside": "beiseite: {look}",
};

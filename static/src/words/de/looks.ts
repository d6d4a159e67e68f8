// SPDX-License-Identifier: Apache-2.0
import type { looks as keys } from "../en/looks.js";

export const looks: Readonly<Record<keyof typeof keys, string>> = {
  "new_batch.title": "Los beginnen",
  "new_batch.part": "Welches Teil?",
  "new_batch.revision": "Revision {revision}",
  "new_batch.number": "Nummer des Loses",
  "new_batch.number_hint": "so, wie sie auf dem Begleitpapier steht",
  "new_batch.number_twice":
    "Ein Los {number} gibt es schon, begonnen {when}. Ein zweites mit dieser Nummer bleibt ein eigenes Los, und beide werden gezeigt.",
  "new_batch.pieces": "Wie viele Teile beginnen zusammen?",
  "new_batch.act": "Dieses Los beginnen",
  "new_batch.no_part":
    "Noch ist kein Teil veröffentlicht. Teile und Fehlerlisten liest der Administrator am Server ein: tallywright definitions import.",
  "new_batch.part_missing": "Das Teil wählen, das in diesem Los gefertigt wird.",
  "new_batch.number_missing": "Die Nummer eingeben, die auf dem Begleitpapier steht.",
  "new_batch.pieces_missing": "Eingeben, wie viele Teile zusammen beginnen, mindestens eines.",

  "count.missing": "Es ist keine Zahl getippt. Zählen und die Zahl eintippen; auch 0 ist eine Zahl.",
  "count.full_title": "Wie viele Schalen sind voll?",
  "count.full_what": "In eine volle Schale passen {places, number} Teile. Die nicht vollen kommen danach.",
  "count.last_title": "Wie viele Teile liegen in der Schale, die nicht voll ist?",
  "count.last_what": "Sind es mehrere, eine davon nehmen; die anderen kommen danach dazu.",
  "count.no_last": "Alle sind voll",
  "count.more_than_places":
    "{count, number} Teile sind getippt, und eine Schale hat {places, number} Plätze. Noch einmal zählen, oder danach eine weitere Schale dazunehmen.",
  "count.next": "Weiter",
  "count.take": "Diese Zahl nehmen",
  "count.tray_title": "Wie viele Teile liegen in Schale {number, number}?",
  "count.tray_what": "In der Schale zählen.",
  "count.no_such_tray": "Schale {number, number} gibt es nicht",
  "count.check_title":
    "{pieces, plural, one {# Teil} other {# Teile}} in {trays, plural, one {# Schale} other {# Schalen}}",
  "count.check_what": "Auf eine Schale tippen, um ihre Zahl zu berichtigen. Noch ist nichts gespeichert.",
  "count.further": "Schale {number, number} dazu",
  "count.operation": "Gezählt hinter Arbeitsgang",
  "count.operation_not_said": "ohne Angabe",
  "count.store": "Zählung speichern",
  "count.store_what":
    "{pieces, plural, one {# Teil} other {# Teile}}, {trays, plural, one {# Schale} other {# Schalen}}",
  "count.stored": "Eingezählt und gespeichert",
  "count.yours": "Ihre Zählung",
  "count.by": "{person}, {when}",
  "count.by_nobody": "Urheber nicht belegt, {when}",
  "count.opened": "mit so vielen begann das Los",
  "count.newest":
    "Fällig ist, was die neueste Zählung sagt. Verschiedene Zählungen bleiben ein Unterschied, bis eine zurückgenommen ist oder die Leitung ihn annimmt.",
  "count.take_back": "Meine Zählung ist falsch: zurücknehmen",
  "count.looker":
    "Sie haben Teile dieser Durchsicht angesehen. Wer durchsieht, zählt nicht ein: jemand anders muss zählen, sonst bleibt die Durchsicht offen.",

  "rework.send": "In die Nacharbeit geben",
  "rework.return": "Zurück aus der Nacharbeit",
  "rework.sent_title": "Wie viele Teile gehen in die Nacharbeit?",
  "rework.returned_title": "Wie viele Teile sind zurück?",
  "rework.count_what": "In den Händen zählen. Was vorher gezählt wurde, steht danach da.",
  "rework.none_counted": "Von keinem ist nichts zu speichern. 1 oder mehr eintippen, oder zurückgehen.",
  "rework.stored_sent": "jetzt gegeben, gespeichert",
  "rework.stored_returned": "jetzt zurück, gespeichert",
  "rework.sent_in_all": "gegeben insgesamt",
  "rework.returned_in_all": "zurück insgesamt",
  "rework.pieces": "Teile für die Nacharbeit",
  "rework.choose": "Die Marke auf dem Zettel lesen und das Teil als neu ansehen.",
  "rework.not_back": "Sie werden als neu angesehen, sobald sie zurückgezählt sind.",
  "rework.no_pieces": "Kein Teil dieser Durchsicht soll jetzt in die Nacharbeit.",
  "rework.round": "{round, number}. Ansehen dieses Teils",
  "rework.as_new": "Teil {tag}: {round, number}. Ansehen",
  "rework.as_new_what": "Alles daran ansehen, als wäre es ein neues Teil.",
  "rework.which_word": "Teil {tag}: welcher Fehler?",

  "strays.foreign": "Ein fremdes Teil lag hier",
  "strays.foreign_what": "ein Teil eines anderen Loses zwischen diesen",
  "strays.found": "Ein Teil hat sich gefunden",
  "strays.found_what": "aus diesem Los, wo keines sein sollte",
  "strays.tray": "In welcher Schale es lag",
  "strays.no_tray": "in keiner",
  "strays.where": "Wo es war",
  "strays.where_missing": "Der Ort fehlt. Sagen, wo das Teil war, zum Beispiel unter dem Tisch.",
  "strays.foreign_title": "Wie viele fremde Teile?",
  "strays.foreign_do":
    "Herausnehmen und der Leitung sagen. Am Ende der Schale zählen ihre Plätze nicht als leer: dort lag ein Teil.",
  "strays.found_title": "Wie viele Teile haben sich gefunden?",
  "strays.found_do": "Getrennt halten und der Leitung sagen: die Durchsicht wartet, bis entschieden ist.",
  "strays.stored": "Gespeichert. Es steht bei den Unterschieden dieser Durchsicht.",

  "open.tray_not_opened": "{count, plural, one {# Schale ist} other {# Schalen sind}} nicht begonnen",
  "open.tray_not_closed": "{count, plural, one {# Schale ist} other {# Schalen sind}} nicht beendet",
  "open.query_open": "{count, plural, one {# Rückfrage} other {# Rückfragen}} offen",
  "open.rework_open":
    "{count, plural, one {# Teil} other {# Teile}} zur Nacharbeit, noch nicht als neu angesehen",
  "open.hold": "{count, plural, one {# Sperre steht} other {# Sperren stehen}}",
  "open.not_understood":
    "{count, plural, one {# Aufzeichnung wird} other {# Aufzeichnungen werden}} hier nicht verstanden: es fehlt eine neuere Fassung der App oder eine Fehlerliste",
  "open.closing_not_proven":
    "{count, plural, one {# beendete Schale wartet} other {# beendete Schalen warten}} auf einen belegten Urheber",
  "open.differences": "{count, plural, one {# Unterschied} other {# Unterschiede}}",

  "sign.open": "Noch offen",
  "sign.complete": "Vollständig: in dieser Durchsicht ist nichts offen.",
  "sign.signed_by": "Unterschrieben von {person}, mit allem, was hier steht.",
  "sign.rework": "Nacharbeit",
  "sign.what":
    "Unterschreiben, was getan ist, jederzeit. Was offen ist, hält das Los auf, nie die Unterschrift.",
  "sign.pin_what":
    "Die PIN setzt Name und Zeit unter diese Durchsicht. Sie ist keine qualifizierte elektronische Signatur.",
  "sign.pin_missing": "Die PIN fehlt. Erst eintippen, dann unterschreiben.",
  "sign.act": "Diese Durchsicht unterschreiben",
  "sign.stored": "Unterschrieben und gespeichert. Es zählt, sobald der Server die PIN geprüft hat.",

  "closed.title": "Schale {number, number} ist beendet",
  "closed.none":
    "In dieser Schale ist nichts von Ihnen eingetragen. Zurücknehmen kann einen Eintrag nur, wer ihn gemacht hat.",
  "closed.what":
    "Das sind Ihre eigenen Einträge. Ein falscher wird mit einem Grund zurückgenommen; er bleibt in den Aufzeichnungen.",
  "closed.take_back": "Zurücknehmen",
  "closed.not_proven": "zurückgenommen, zählt, sobald feststeht, wer es war",
  "closed.why": "Was war falsch?",
  "closed.find_what":
    "Das Teil kommt zu den Rückfragen, und die Leitung entscheidet. Eine Sperre, die daraus entstand, bleibt.",
  "closed.closing": "Das Beenden der Schale",
  "closed.closing_what": "Die Schale ist danach wieder offen und wird noch einmal beendet.",
  "closed.wrong_key": "Falsche Taste",
  "closed.wrong_piece": "Falsches Teil",
  "closed.counted_twice": "Doppelt gezählt",
  "closed.other_reason": "Ein anderer Grund, in Worten",
  "closed.leave_it": "So lassen, wie es ist",

  "point.not_understood":
    "Eine Aufzeichnung dieses Loses wird hier nicht verstanden: es fehlt eine neuere Fassung der App oder eine Fehlerliste.",
  "point.hold": "Eine Sperre steht.",
  "point.query_open": "Teil {tag}: die Rückfrage hat noch niemand geklärt.",
  "point.rework_open": "Teil {tag}: es soll in die Nacharbeit und ist noch nicht als neu angesehen.",
  "point.not_counted": "Für diese Durchsicht hat niemand die Teile eingezählt.",
  "point.count_not_proven": "Eine Zählung zählt noch nicht: ihr Urheber ist nicht belegt.",
  "point.counted_by_looker":
    "{person} hat die Teile eingezählt und selbst welche angesehen. Jemand anders muss zählen.",
  "point.tray_not_opened": "Schale {tray} ist nicht begonnen.",
  "point.tray_not_closed": "Schale {tray} ist nicht beendet.",
  "point.closing_not_proven": "Eine beendete Schale zählt noch nicht: ihr Urheber ist nicht belegt.",
  "point.not_signed": "Die Durchsicht ist nicht unterschrieben.",
  "point.signature_not_proven": "Eine Unterschrift zählt noch nicht: ihr Urheber ist nicht belegt.",
  "point.signed_before_this_came":
    "Unterschrieben, bevor {amount, plural, one {# Aufzeichnung kam} other {# Aufzeichnungen kamen}}: noch einmal unterschreiben.",
  "point.same_eyes":
    "{person} sieht höchstens {amount, plural, one {# Teil} other {# Teile}} zum zweiten Mal an: die Leitung muss das namentlich anerkennen.",
  "point.start_differs":
    "Arbeitsgang {at}: {amount, plural, one {# Teil} other {# Teile}} {sign, select, short {weniger} other {mehr}} angekommen, als das Los eröffnet wurde.",
  "point.between_short":
    "Arbeitsgang {at}: {amount, plural, one {# Teil} other {# Teile}} weniger angekommen, als aus dem davor kamen.",
  "point.between_over":
    "Arbeitsgang {at}: {amount, plural, one {# Teil} other {# Teile}} mehr angekommen, als aus dem davor kamen.",
  "point.pieces_short":
    "Arbeitsgang {at}: {amount, plural, one {# Teil fehlt} other {# Teile fehlen}} gegenüber dem, was hineinging.",
  "point.pieces_over":
    "Arbeitsgang {at}: {amount, plural, one {# Teil} other {# Teile}} mehr, als hineingingen.",
  "point.finishes_differ":
    "Ein Arbeitsgang wurde zweimal mit anderen Zahlen beendet{sign, select, even {} other {: {amount, plural, one {# Teil} other {# Teile}} auseinander}}.",
  "point.loads_differ":
    "Arbeitsgang {at}: in seinen Ofenchargen liegen {amount, plural, one {# Teil} other {# Teile}} {sign, select, short {weniger} other {mehr}}, als gezählt sind.",
  "point.samples_differ":
    "Arbeitsgang {at}: {amount, plural, one {# Teil} other {# Teile}} {sign, select, short {weniger} other {mehr}} für Prüfungen entnommen, als an Proben gezählt sind.",
  "point.components_short":
    "Arbeitsgang {at}: nach den übrigen Zukaufteilen {amount, plural, one {hat # Baugruppe} other {haben # Baugruppen}} kein {of}.",
  "point.components_over":
    "Arbeitsgang {at}: {amount, number} × {of} mehr verbraucht, als Teile montiert wurden.",
  "point.put_aside_short":
    "Hinter Arbeitsgang {at}: {amount, plural, one {# Teil} other {# Teile}} zur Seite gelegt und nie in Rückfrage oder Nacharbeit angekommen.",
  "point.put_aside_over":
    "Hinter Arbeitsgang {at}: {amount, plural, one {# Teil} other {# Teile}} mehr in Rückfrage und Nacharbeit, als zur Seite gelegt wurden.",
  "point.judged_otherwise":
    "Hinter Arbeitsgang {at}: die Urteile verwerfen {amount, plural, one {# Teil} other {# Teile}} {sign, select, short {weniger} other {mehr}}, als an Ausschuss gezählt sind.",
  "point.stint_not_finished": "Ein Arbeitsgang ist begonnen und nicht beendet.",
  "point.lot_away":
    "{amount, plural, one {# Teil ist} other {# Teile sind}} außer Haus, bei einer Fremdfirma.",
  "point.still_inside":
    "Arbeitsgang {at}: {amount, plural, one {# Teil war} other {# Teile waren}} noch in der Maschine zu sehen.",
  "point.recounts_differ":
    "Arbeitsgang {at}: Dieselben Teile wurden zweimal gezählt, und die Zahlen liegen {amount, plural, one {# Teil} other {# Teile}} auseinander.",
  "point.counter_differs":
    "Arbeitsgang {at}: Der Zähler der Maschine zeigt {amount, plural, one {# Teil} other {# Teile}} {sign, select, short {weniger} other {mehr}}, als gezählt wurden.",
  "point.weighed_differs":
    "Arbeitsgang {at}: Nach Gewicht sind es {amount, plural, one {# Teil} other {# Teile}} {sign, select, short {weniger} other {mehr}}, als gezählt wurden.",
  "point.scrap_differs":
    "Ausschuss: {amount, plural, one {# Teil} other {# Teile}} {sign, select, short {weniger} other {mehr}} zerstört und aufgehoben als abgegeben.",
  "point.scrap_over":
    "Arbeitsgang {at}: {amount, plural, one {# Teil} other {# Teile}} mehr als Ausschuss abgegeben, als gezählt wurden.",
  "point.destruction_not_seconded":
    "Ausschuss wurde zerstört ({amount, plural, one {# Teil} other {# Teile}}), und niemand Zweites hat den Namen daruntergesetzt.",
};

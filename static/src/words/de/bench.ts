// SPDX-License-Identifier: Apache-2.0
import type { bench as keys } from "../en/bench.js";

export const bench: Readonly<Record<keyof typeof keys, string>> = {
  "batches.for_readers": "Ansehen ist erlaubt, aufzeichnen nicht.",
  "batches.title": "Welches Los?",
  "batches.filter": "Nummer auf der Karte",
  "batches.filter_hint": "ein beliebiges Stück der Nummer",

  "new_batch.begin": "Neues Los beginnen",

  "batches.as_of": "Liste vom Server, Stand {when}.",
  "batches.as_of_never":
    "Noch ist keine Liste vom Server da. Was hier steht, kommt aus den Aufzeichnungen dieses Tablets.",
  "batches.pieces": "{count, plural, one {# Teil} other {# Teile}}",
  "batches.opened": "begonnen {when}",
  "batches.is_released": "freigegeben",
  "batches.left":
    "{count, plural, one {# freigegebenes Los steht} other {# freigegebene Lose stehen}} nicht hier. Die Nummer auf der Karte findet jedes.",
  "batches.none":
    "Auf diesem Tablet ist noch kein Los bekannt. Lose erscheinen hier, sobald sie begonnen sind und Kontakt besteht.",
  "batches.none_match":
    "Kein Los hat „{text}“ in seiner Nummer. Noch einmal auf die Karte sehen oder ein Zeichen löschen.",
  "batches.no_definition":
    "Die Fehlerliste dieses Loses ist noch nicht da. Sie kommt, sobald Kontakt besteht.",

  "look.title": "Welche Durchsicht?",
  "look.first": "Erste Durchsicht",
  "look.first_when": "das Los ist von der Oberfläche zurück",
  "look.second": "Zweite Durchsicht",
  "look.second_when": "das Los ist fertig",
  "look.other": "Durchsicht „{look}“",
  "look.count": "Einzählen",
  "look.rework": "Nacharbeit hin und zurück",
  "look.strays": "Fremde oder gefundene Teile",
  "look.sign": "Ende der Durchsicht",

  "author.not_proven": "Urheber nicht belegt",
  "author.waiting": "PIN noch nicht geprüft",
  "author.no_pin": "ohne PIN",
  "author.title": "Schalen, die auf ihren Urheber warten",
  "author.what":
    "Sie wurden mit falscher PIN oder ohne geschlossen. Was darin gefunden wurde, zählt; als angesehen zählen die Schalen, sobald ihr Urheber jede einzeln bestätigt.",
  "author.sign_on": "Zum Bestätigen mit PIN anmelden",
  "author.looked_at": "{count, plural, one {# Teil} other {# Teile}} angesehen",
  "author.confirm": "Schale {number, number} war meine",

  "tray.state_unproven": "geschlossen; zählt, sobald der Urheber belegt ist",
  "tray.title": "Welche Schale?",
  "tray.begin": "Schale {number, number} beginnen",
  "tray.go_on": "Weiter mit Schale {number, number}",
  "tray.other": "Andere Nummer",
  "tray.other_title": "Nummer auf der Karte der Schale",
  "tray.begin_other": "Diese Schale beginnen",
  "tray.number_missing": "Es ist keine Nummer getippt. Die Nummer auf der Karte eintippen, ab 1.",
  "tray.number_taken":
    "Schale {number, number} dieser Durchsicht ist schon begonnen. Die Karte noch einmal lesen.",
  "tray.places": "{count, plural, one {# Platz} other {# Plätze}}",
  "tray.due": "fällig",
  "tray.looked_at": "angesehen",
  "tray.waiting": "warten auf ihren Urheber",
  "tray.left": "offen",
  "tray.pieces_caption": "Teile dieser Durchsicht, nach den beendeten Schalen, die dieses Tablet kennt",
  "tray.state_closed": "beendet",
  "tray.entries": "Einträge in Schale {number, number}",
  "tray.state_open": "hier offen",
  "tray.state_open_elsewhere": "offen auf {tablet}, seit {when}",
  "tray.state_differ": "mehrmals beendet, und die Zahlen sind verschieden",
  "tray.none": "Noch ist keine Schale dieser Durchsicht begonnen.",
  "tray.not_whole":
    "Die Aufzeichnungen anderer Tablets zu dieser Durchsicht sind noch nicht da: Zahlen und Schalen können hier zu wenige sein.",
  "tray.all_closed": "Alle fälligen Schalen, die dieses Tablet kennt, sind beendet.",
  "tray.too_many_known":
    "In den beendeten Schalen liegen mehr Teile als fällig sind. Der Leitung sagen, bevor das Los weitergeht.",
  "tray.cards": "Schalen dieser Durchsicht",
  "tray.no_card": "ohne Karte",
  "tray.not_counted":
    "Noch nicht eingezählt: wie viele Teile fällig sind, ist nicht bekannt. Einzählen muss jemand, der nicht durchsieht.",
  "tray.differences": "Was nicht stimmt",
  "tray.state_left": "verlassen bei Platz {place, number}, {when}",
  "tray.take_over": "Schale {number, number} übernehmen",
  "tray.other_tablet": "einem anderen Tablet",
  "tray.opened_on": "begonnen auf {tablet}, {when}",
  "tray.number_not_due":
    "Schale {number, number} hat in dieser Zählung keine Karte. Die Karte noch einmal lesen; liegt die Schale trotzdem hier, sie beginnen und der Leitung sagen.",
  "tray.begin_not_due": "Schale {number, number} trotzdem beginnen",

  "take.title": "Schale {number, number} übernehmen",
  "take.left": "Sie wurde {when} verlassen, angesehen bis Platz {place, number}.",
  "take.not_left":
    "Niemand hat diese Schale verlassen: sie ist seit {when} offen auf {tablet}. Erst dort fragen. Dann alles ab dem ersten Platz ansehen.",
  "take.from": "Weiter ab Platz {place, number}",
  "take.from_what": "was davor liegt, ist angesehen",
  "take.from_first": "Ab dem ersten Platz",
  "take.from_first_what": "als hätte niemand hingesehen",

  "eyes.not_known":
    "Wer diese Teile vorher angesehen hat, ist hier nicht bekannt: der Server hat es nicht gesagt. Die Arbeit geht weiter.",
  "eyes.none": "Keines dieser Teile war bei einer früheren Durchsicht in Ihrer Hand.",
  "eyes.title":
    "{before, number} von {looked, number} Teilen dieses Loses waren bei einer früheren Durchsicht in Ihrer Hand",
  "eyes.share":
    "Mit der nächsten Schale sind es {pieces, plural, one {# Teil} other {# Teile}} in Ihrer Hand: {certain, number} davon sicher neu für Ihre Augen, {possible, number} vielleicht, {never, number} sicher nicht.",
  "eyes.hand_out": "Die besten Hände für die nächste Schale",
  "eyes.no_more": "kein Teil davon sieht dieselben Augen noch einmal",
  "eyes.more":
    "{more, plural, one {# Teil davon sieht vielleicht dieselben Augen noch einmal} other {# Teile davon sehen vielleicht dieselben Augen noch einmal}}",
  "eyes.lead": "Wer trotzdem beginnt, braucht dafür die namentliche Annahme der Leitung.",
  "eyes.as_of": "Vom Server, {age}.",

  "tally.of_trays": "von {count, number}",
  "tally.tray": "Schale {number, number}",
  "tally.marked": "markiert",
  "tally.left_of": "noch {left, number} von {due, number}",
  "tally.from_place": "ab Platz {place, number}",
  "tally.rejects": "Ausschuss",
  "tally.reworks": "Nacharbeit",
  "tally.locked": "gesperrt",
  "tally.queries": "Rückfrage",
  "tally.pad": "Fehlertasten",
  "tally.key_count": "{count, plural, one {# Strich} other {# Striche}} in dieser Schale",
  "tally.not_sure": "Nicht sicher",
  "tally.not_sure_do": "Rückfrageplatz",
  "tally.undo": "Rückgängig",
  "tally.undo_what": "nimmt zurück: {what}",
  "tally.undo_nothing": "nichts zum Zurücknehmen",
  "tally.end": "Schale zu Ende",
  "tally.same_piece": "Selbes Teil",
  "tally.same_piece_what": "nächste Taste zum letzten Teil",
  "tally.same_piece_on": "nächste Taste: selbes Teil",
  "tally.more_words": "Mehr Wörter",
  "tally.page": "{page, number} von {pages, number}",
  "tally.no_find": "In dieser Schale noch kein Fund unter diesem Namen.",
  "tally.storing": "wird gespeichert",
  "tally.stored": "gespeichert",
  "tally.repeat_kept": "2. Tipp: Frage am Ende",
  "tally.taken_back": "zurückgenommen",
  "tally.lock_stays": "Eine Sperre dadurch bleibt.",
  "tally.where": "{what}: wo?",
  "tally.where_not_said": "Ohne Angabe: schlimmste",
  "tally.critical": "Kritisch, Teil gesperrt",
  "tally.critical_tell": "Jetzt {who} rufen. Die guten Teile der Schale bleiben zusammen. Dann weiter.",
  "tally.critical_tell_nobody":
    "Jetzt die Leitung rufen. Die guten Teile der Schale bleiben zusammen. Dann weiter.",
  "tally.or": "{names} oder {last}",
  "tally.class.critical": "kritisch",
  "tally.class.major": "schwer",
  "tally.class.minor": "leicht",
  "tally.class.by_zone": "Klasse nach der Stelle",
  "tally.class.query": "nicht sicher",
  "tally.kept": "im Arbeitsspeicher gehalten und trotzdem gesendet",
  "tally.not_stored": "Nicht gespeichert",
  "tally.not_stored_what":
    "{count, plural, one {Dieser Eintrag ist nicht im Speicher des Tablets:} other {Diese Einträge sind nicht im Speicher des Tablets:}}",
  "tally.not_stored_do":
    "Bis dahin wird nichts mehr angenommen. Auf die Karte der Schale schreiben, dann noch einmal versuchen oder eine Rettungsdatei sichern und die Leitung holen.",
  "tally.try_again": "Noch einmal versuchen",
  "tally.entry": "{what}, Schale {tray, number}",
  "tally.entry_undo": "Zurücknehmen von {what}, Schale {tray, number}",
  "tally.entry_repeat": "{what}, zweiter Tipp, Schale {tray, number}",
  "tally.not_here": "Diese Schale ist auf diesem Tablet nicht bekannt.",

  "verdict.accept": "Annehmen",
  "verdict.accept_what": "bleibt in der Schale",
  "verdict.rework": "Nacharbeit",

  "cavity.name": "Gravur",
  "cavity.not_said": "ohne Angabe",
  "cavity.which": "Welche Gravur?",

  "limit_word.name": "Grenze",
  "limit_word.within": "darunter",
  "limit_word.watch": "knapp",
  "limit_word.broken": "darüber",
  "limit_word.met": "gehalten",
  "limit_word.over": "verletzt",

  "rest.due": "Augen ausruhen.",
  "rest.told": "War in Pause",

  "leave.open": "Schale abgeben",
  "leave.title": "Schale {number, number} abgeben: bis zu welchem Platz angesehen?",
  "leave.what":
    "An der Schale zählen, von {places, number} Plätzen; 0, wenn noch keiner angesehen ist. Wer weitermacht, beginnt dahinter.",
  "leave.act": "Schale abgeben",
  "leave.missing": "Es ist kein Platz getippt. Zählen, bis wohin angesehen ist, und eintippen; 0 für keinen.",
  "leave.too_many":
    "Die Schale hat {places, number} Plätze, und {place, number} ist getippt. Noch einmal zählen; eine bis zum letzten Platz angesehene Schale wird beendet, nicht abgegeben.",

  "end.title": "Ende der Schale {number, number}",
  "end.repeat_title": "{what}: einer oder zwei?",
  "end.repeat_what": "Die Taste wurde um {when} zweimal kurz nacheinander getippt. Wie viele Funde waren es?",
  "end.one": "Einer",
  "end.two": "Zwei",
  "end.empty_title": "Auf wie vielen Plätzen lag kein Teil?",
  "end.empty_what":
    "An der Schale zählen, von {places, number} Plätzen. Plätze von Teilen, die als Ausschuss, Nacharbeit oder Rückfrage herausgenommen sind, zählen nicht dazu.",
  "end.none_empty": "Keiner",
  "end.empty_missing": "Es ist keine Zahl getippt. Die Plätze ohne Teil zählen und die Zahl eintippen.",
  "end.empty_too_many":
    "Die Schale hat {places, number} Plätze, und {empty, number} sind als leer getippt. Noch einmal zählen.",
  "end.does_not_fit":
    "{empty, number} leere Plätze und {marked, plural, one {# markiertes Teil} other {# markierte Teile}} sind mehr als die {places, number} Plätze der Schale. Die leeren Plätze noch einmal zählen, oder zurückgehen und einen Fund zurücknehmen, den es nicht gab.",
  "end.show": "Zählung zeigen",
  "end.check_title": "Stimmt das mit der Schale?",
  "end.places": "Plätze",
  "end.empty": "leer",
  "end.accepted": "gut",
  "end.locked_of_these": "davon gesperrt",
  "end.keep_together":
    "Ein Teil dieser Schale ist gesperrt. Die Schale bleibt beisammen, bis die Leitung entschieden hat; mit der nächsten geht es weiter.",
  "end.all_looked_at": "Alle angesehen",
  "end.all_looked_at_what": "beendet die Schale",
  "end.count_again": "Neu zählen",
  "end.not_yet": "Noch nicht: zurück zu den Tasten",
  "end.closed": "Schale {number, number} ist beendet und gespeichert.",
  "end.closing": "Wird beendet.",

  "tally.closed_already": "Diese Schale ist beendet.",

  "closed.open_again":
    "Die Schale ist wieder offen. Die leeren Plätze neu zählen und sie noch einmal beenden.",

  "picture.key": "Bild",
  "picture.take": "Bild von Teil {tag} aufnehmen",
  "picture.keeping": "Speichert",
  "picture.count": "{count, plural, one {# Bild} other {# Bilder}}",
  "picture.no_room":
    "Kein Platz für Bilder auf diesem Tablet. Funde gehen weiter. Dorthin tragen, wo Kontakt ist: Gesendete Bilder machen Platz.",
  "picture.unreadable": "Dieses Bild lässt sich nicht lesen. Der Fund gilt ohne Bild. Noch einmal aufnehmen.",
  "picture.none": "Es wurde kein Bild aufgenommen. Der Fund gilt ohne Bild.",
  "picture.not_stored": "Das Bild wurde nicht gespeichert. Der Fund gilt ohne Bild. Noch einmal aufnehmen.",
  "picture.go_on": "Weiter",
  "picture.of": "Bild von Teil {tag}",

  "point.split_too_much":
    "{amount, plural, one {# Teil mehr wurde} other {# Teile mehr wurden}} abgeteilt, als da sind.",
  "point.pieces_found":
    "{amount, plural, one {# Teil fand} other {# Teile fanden}} sich, wo keines sein sollte.",
  "point.counts_differ":
    "Zwei Zählungen dieser Durchsicht {sign, select, even {stimmen in den Teilen überein, in den Schalen nicht} other {liegen {amount, plural, one {# Teil} other {# Teile}} auseinander}}.",
  "point.cards_do_not_add_up":
    "Die Karten der Schalen nennen {amount, plural, one {# Teil} other {# Teile}} {sign, select, short {weniger} other {mehr}}, als eingezählt sind.",
  "point.foreign_pieces":
    "{amount, plural, one {# fremdes Teil lag} other {# fremde Teile lagen}} dazwischen.",
  "point.tray_not_due":
    "Schale {tray} hat keine Karte: {amount, plural, one {# Teil darin ist angesehen, das} other {# Teile darin sind angesehen, die}} niemand eingezählt hat.",
  "point.tray_twice":
    "Schale {tray} wurde zweimal beendet: {sign, select, even {so viele angesehen wie fällig} short {{amount, number} weniger angesehen als fällig} other {{amount, number} mehr angesehen als fällig}}.",
  "point.tray_short": "Schale {tray}: {amount, number} weniger angesehen als fällig.",
  "point.tray_over": "Schale {tray}: {amount, number} mehr angesehen als fällig.",
  "point.closing_does_not_add_up":
    "Schale {tray}: ihre Urteile ergeben {amount, plural, one {# Teil} other {# Teile}} {sign, select, short {weniger} other {mehr}}, als angesehen sind.",
  "point.closings_differ":
    "Schale {tray} wurde noch einmal mit anderen Zahlen beendet{sign, select, even {} other {: {amount, plural, one {# Teil} other {# Teile}} auseinander}}.",
  "point.more_marked_than_looked_at":
    "{amount, plural, one {# Teil mehr ist} other {# Teile mehr sind}} markiert, als angesehen sind.",
  "point.return_without_sending":
    "{amount, plural, one {# Teil kam} other {# Teile kamen}} aus der Nacharbeit zurück, und keines ist hingegangen.",
  "point.rework_away": "{amount, plural, one {# Teil ist} other {# Teile sind}} in der Nacharbeit.",
  "point.rework_over":
    "{amount, plural, one {# Teil mehr kam} other {# Teile mehr kamen}} aus der Nacharbeit zurück, als hingegangen sind.",
  "point.rework_not_sent":
    "{amount, plural, one {# Teil mit dem Urteil Nacharbeit ist} other {# Teile mit dem Urteil Nacharbeit sind}} nicht hingegangen.",
  "point.rework_not_judged":
    "{amount, plural, one {# Teil mehr ging} other {# Teile mehr gingen}} in die Nacharbeit, als so beurteilt sind.",
  "point.other": "Offen: {kind} ({amount, number}). Eine neuere Fassung der App sagt es in Worten.",

  "look.machine": "An der Maschine",
  "look.machine_when": "Die Prüfungen eines Arbeitsgangs, sobald sie fällig sind",

  "pedal.key": "Fußpedal",

  "look.saw": "Stangen zu diesem Los",
  "look.saw_when": "An der Säge: welche Schmelze, wie viele Stangen",

  "goods.title": "Wareneingang",
};

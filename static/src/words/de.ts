// SPDX-License-Identifier: Apache-2.0
// German. „Schale“ is the tray, because a Tablett would be read as the tablet.
import type { Key } from "./say.js";

export const de: Readonly<Record<Key, string>> = {
  "app.starting": "Start: das Tablet liest, was es gespeichert hat.",
  "app.save_rescue": "Rettungsdatei sichern",
  "app.rescue_saved":
    "Die Rettungsdatei ist fertig. Der Leitung geben, bevor an diesem Tablet sonst etwas geschieht.",
  "app.rescue_failed":
    "Die Rettungsdatei ließ sich nicht anlegen. Diese Seite offen lassen und die Leitung holen: was das Tablet hält, ist noch da.",
  "app.update_waits": "Eine neuere Fassung liegt bereit.",
  "app.update_now": "Jetzt wechseln",
  "app.demo": "Demo-Betrieb: erfundene Grenzen und Klassen. Sie raten niemandem.",

  "app.demo_short": "Demo",
  "page.coming": "Diese Seite kommt gleich.",
  "page.missing":
    "Diese Seite ist nicht gekommen: Sie liegt noch nicht auf diesem Tablet, und es gibt keinen Kontakt. Mit Kontakt noch einmal versuchen.",
  "page.again": "Noch einmal versuchen",

  "stop.elsewhere.title": "Tallywright ist in einem anderen Tab offen",
  "stop.elsewhere.do":
    "Auf einem Tablet darf nur ein Tab aufzeichnen. Im anderen Tab weiterarbeiten, oder ihn schließen: dann übernimmt dieser von selbst.",
  "stop.title": "Dieses Tablet kann nicht aufzeichnen",
  "stop.no_store":
    "Der Browser bietet keinen Speicher, der Aufzeichnungen sicher hält. Tallywright in einem anderen Browser oder auf einem anderen Tablet öffnen.",
  "stop.no_secure_context":
    "Die Seite kam über eine ungeschützte Verbindung, darum gibt ihr der Browser keinen Speicher. Die Adresse öffnen, die mit https beginnt, oder beim Betreuer des Servers danach fragen.",
  "stop.private_window":
    "Dies ist ein privates Fenster: was es hält, ist nach dem Schließen weg. Tallywright in einem gewöhnlichen Fenster öffnen.",
  "stop.failed":
    "Der Speicher dieses Browsers ging nicht auf. Die Seite einmal neu laden; bleibt es so, ein anderes Tablet nehmen und es der Leitung sagen.",
  "broken.title": "Eine Aufzeichnung auf diesem Tablet ist beschädigt",
  "broken.what":
    "Der Schaden liegt bei Byte {at, number} des Journals; davor und dahinter stehen heile Aufzeichnungen. Nichts wurde abgeschnitten, und hier wird nichts mehr aufgezeichnet.",
  "broken.do": "Eine Rettungsdatei sichern, der Leitung geben und mit einem anderen Tablet weiterarbeiten.",

  "sync.stored": "{count, number} hier gespeichert",
  "sync.sent": "{count, number} gesendet",
  "sync.pictures": "{count, plural, one {# Bild wartet} other {# Bilder warten}}",
  "sync.confirmed": "{count, number} vom Server bestätigt",
  "sync.oldest": "älteste {age}",
  "sync.nothing_waits": "nichts wartet",
  "sync.level.late": "Es wartet",
  "sync.level.very_late": "Wartet zu lange",
  "sync.level.trouble": "Hier hinsehen",
  "sync.contact.none": "kein Kontakt",
  "sync.contact.session_ended": "der Server will dieses Tablet neu anmelden",
  "sync.contact.forked": "Aufzeichnungen dieses Tablets wurden kopiert: der Leitung sagen",
  "sync.contact.behind": "der Speicher ist älter als der des Servers: der Leitung sagen",
  "sync.exceptions":
    "{count, plural, one {# Aufzeichnung} other {# Aufzeichnungen}} vom Server beiseitegelegt: der Leitung sagen",
  "anew.wiped":
    "Am {when} war der Speicher dieses Tablets leer; es hat neu begonnen. Was gesendet war, liegt auf dem Server. Was nicht gesendet war, ist verloren: der Leitung sagen, was seit dem letzten Kontakt gefunden wurde.",
  "anew.behind":
    "Am {when} hatte dieses Tablet weniger, als der Server von ihm hat: ein älteres Abbild wurde zurückgespielt. Der Server hat nichts verloren; das Tablet macht neben seinen alten Aufzeichnungen weiter.",
  "anew.forked":
    "Am {when} zeigte sich: dieses Tablet ist eine Kopie oder wurde kopiert. Beide Seiten bleiben erhalten. Was der Server beiseitegelegt hat, zählt, sobald die Leitung es zulässt.",
  "anew.key_lost":
    "Am {when} wurde dieses Tablet neu angemeldet, weil sein Schlüssel verloren war. Was es vorher nicht gesendet hatte, liegt noch hier: eine Rettungsdatei sichern und der Leitung geben.",
  "age.moments": "eben",
  "age.minutes": "{minutes, number}\u00a0min",
  "age.hours": "{hours, number}\u00a0h\u00a0{minutes, number}\u00a0min",
  "age.days": "{days, plural, one {# Tag} other {# Tage}}",

  "enrol.title": "Dieses Tablet bekannt machen",
  "enrol.what":
    "Die Verwaltung erzeugt einen Code für ein Tablet. Er gilt einmal, zehn Minuten lang. Hier eintippen, solange Kontakt zum Server besteht.",
  "enrol.name": "Name dieses Tablets",
  "enrol.name_hint": "wie er hinten darauf steht, zum Beispiel Platz 2",
  "enrol.name_missing": "Das Tablet hat noch keinen Namen. Den Namen eintippen, der hinten darauf steht.",
  "enrol.code": "Code",
  "enrol.code_missing": "Der Code ist kürzer als ein Code ist. Alle {length, number} Zeichen eintippen.",
  "enrol.rubout": "Löschen",
  "enrol.act": "Bekannt machen",
  "enrol.working": "Der Server wird gefragt.",
  "enrol.no_contact": "Kein Kontakt zum Server. Ein Tablet wird nur mit Kontakt bekannt gemacht.",
  "enrol.demo_what":
    "Dies ist ein Demo-Betrieb: ein Browser macht sich mit einem Tipp bekannt. In einem echten Betrieb entscheidet die Verwaltung.",
  "enrol.demo_act": "Diesen Browser als Demo-Tablet nutzen",
  "enrol.demo_name": "Demo-Tablet",

  "enrol.waits_title": "Die Verwaltung muss zustimmen",
  "enrol.waits_what":
    "Diese Seite offen lassen. Die Verwaltung sieht auf der Seite „Geräte“ eine Nummer; ist es diese, lässt ein Tippen dort das Tablet herein.",
  "first.title": "Die erste Verwaltung",
  "first.what":
    "Dieser Link macht eine Person zur Verwaltung und diesen Browser zum ersten Gerät. Die PIN der Verwaltung hat 8 Zeichen oder mehr.",
  "first.act": "Diesen Betrieb beginnen",
  "new_pin.first": "Neue PIN",
  "new_pin.again": "Dieselbe PIN noch einmal",
  "new_pin.what":
    "4 Zeichen oder mehr; 8 für Leitung und Verwaltung. Nichts, was viele haben, wie 1234 oder eine Jahreszahl.",
  "new_pin.differ": "Die beiden PINs sind verschieden, oder es fehlt eine. Zweimal dieselbe tippen.",
  "set_pin.open": "Meine PIN setzen",
  "set_pin.what":
    "Mit dem Wort der Verwaltung setzt jeder seine PIN selbst. Niemand sonst kennt sie, und das Wort gilt einmal.",
  "set_pin.word": "Wort der Verwaltung",
  "set_pin.act": "Diese PIN setzen",
  "people.title": "Personen",
  "people.add": "Person hinzufügen",
  "people.name": "Name, wie er auf Unterschriften steht",
  "people.name_missing":
    "Die Person hat noch keinen Namen. So tippen, wie er auf Unterschriften stehen soll.",
  "people.roles": "Arbeitet als",
  "people.role_missing": "Keine Rolle gewählt. Mindestens eine wählen.",
  "people.last_day": "Letzter Tag (Lesende brauchen einen)",
  "people.until": "bis {day}",
  "people.deputy_first": "Vertritt die Leitung von",
  "people.deputy_last": "bis einschließlich",
  "people.deputy_days": "vertritt die Leitung von {first} bis {last}",
  "people.deputy_missing": "Einer der beiden Tage der Vertretung fehlt. Beide angeben, oder keinen.",
  "people.ask_add": "Beim Server beantragen: hinzufügen",
  "people.ask_change": "Beim Server beantragen: ändern",
  "people.back": "Zurück",
  "pin_word.what":
    "Ein Wort für die PIN dieser Person wird einmal gezeigt, gilt einmal und endet nach einem Tag.",
  "pin_word.make": "Wort für die PIN machen",
  "devices.title": "Geräte",
  "devices.make_code": "Code für ein weiteres Tablet machen",
  "devices.make_another": "Noch einen Code machen",
  "devices.code_what":
    "Gilt einmal, zehn Minuten lang. Mit der Kamera des neuen Tablets lesen, oder dort die Adresse dieses Servers öffnen und ihn tippen.",
  "devices.qr": "Die Adresse, die den Code einträgt",
  "devices.waiting": "Wartet auf Einlass",
  "devices.compare": "Ein Tablet nur einlassen, wenn es dieselbe Nummer zeigt.",
  "devices.nobody_waits":
    "Kein Tablet wartet auf Einlass. Eines, das einen Code getippt hat, erscheint hier.",
  "devices.let_in": "{name} einlassen",
  "devices.waits_since": "wartet: {age}",
  "devices.turn_away": "{name} abweisen",
  "devices.known": "Bekannte Geräte",
  "devices.heard": "letzte Aufzeichnung {when}",
  "devices.never_heard": "noch keine Aufzeichnung",
  "devices.revoked": "gesperrt",
  "devices.revoke": "Sperren",
  "devices.revoke_what": "Es liest nichts mehr, und was es sendet, wird beiseitegelegt.",
  "devices.revoke_sure": "{letters} endgültig sperren",
  "asked.open": "Beantragt. Die Antwort des Servers ist unterwegs.",
  "asked.granted": "Gewährt. Es gilt jetzt.",
  "asked.declined": "Der Server hat abgelehnt; nichts wurde geändert.",
  "asked.no_contact": "Kein Kontakt zum Server. Das lässt sich nur mit Kontakt beantragen.",
  "nav.people": "Personen",
  "nav.devices": "Geräte",
  "error.pin-refused": "Diese PIN ist zu kurz, oder viele haben sie. Eine andere wählen.",
  "error.role-needed":
    "Das ist anderen Rollen offen. Mit der PIN einer solchen Rolle anmelden und warten, bis der Server sie geprüft hat.",
  "error.not-found":
    "Es ist nicht mehr da: es wurde abgewiesen, oder seine Zeit ist um. Um einen neuen Code bitten.",
  "reason.role": "Diese Rolle darf das heute nicht beantragen.",
  "reason.sign_on_not_in_force":
    "An diesem Tablet hatte sich inzwischen jemand anderes angemeldet. Anmelden und neu beantragen.",
  "reason.pin_wrong": "Die PIN war falsch. Neu anmelden und neu beantragen.",
  "reason.pin_not_fresh":
    "Das braucht eine PIN, die nur dafür gegeben wird. Neu beantragen und die PIN tippen.",
  "reason.changed":
    "Inzwischen wurde etwas aufgezeichnet, das der Antrag nicht gesehen hatte. Noch einmal ansehen, dann neu beantragen.",
  "reason.no_such_hold": "Er nennt eine Sperre, die dieses Los nicht hat.",
  "reason.lifted_already": "Eine genannte Sperre ist schon aufgehoben.",
  "reason.no_such_mark": "Diese Durchsicht hat keinen Fund an diesem Teil.",
  "reason.on_hold": "Das Teil ist gesperrt. Zuerst die Aufhebung der Sperre beantragen.",
  "reason.no_such_person": "Niemand mit dieser Kennung ist bekannt.",
  "reason.no_last_day":
    "Lesende brauchen einen letzten Tag, und die Tage einer Vertretung müssen aufeinander folgen.",
  "reason.last_administrator": "Niemand bliebe übrig, der den Betrieb verwaltet.",
  "reason.no_such_device": "Das ist kein Tablet dieses Betriebs.",
  "reason.revoked_already": "Es ist schon gesperrt.",
  "reason.not_waiting": "Kein Gerät mit diesem Schlüssel wartet mehr. Dort einen neuen Code tippen.",
  "reason.no_such_line": "Eine solche Zeile wurde nicht beiseitegelegt.",
  "reason.admitted_already": "Sie wurde schon zugelassen.",
  "reason.not_admissible":
    "Einige dieser Zeilen nennen Aufzeichnungen, die nicht zugelassen sind, oder haben keine Signatur.",
  "reason.no_such_difference":
    "Das Los hat diese Differenz nicht, oder sie ist jetzt eine andere. Die Seite neu lesen.",
  "reason.accepted_already": "Diese Differenz ist schon angenommen.",
  "reason.not_complete":
    "Eine Durchsicht hat einen offenen Punkt, oder eine Sperre oder eine Rückfrage steht noch. Die Seite des Loses neu lesen und klären, was dort steht.",
  "reason.not_understood":
    "Das Los hat Aufzeichnungen, die dieser Server nicht beurteilen kann: Eine Definition fehlt, oder der Server ist zu alt.",
  "reason.released_already": "Das Los ist schon freigegeben, und seitdem kam nichts dazu.",

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

  "nav.change_person": "Jemand anders",
  "nav.batches": "Lose",
  "nav.pareto": "Pareto",
  "nav.set_aside": "Zurückgelegt",
  "nav.trays": "Schalen",

  "batches.for_readers": "Ansehen ist erlaubt, aufzeichnen nicht.",
  "batches.title": "Welches Los?",
  "batches.filter": "Nummer auf der Karte",
  "batches.filter_hint": "ein beliebiges Stück der Nummer",
  "new_batch.title": "Los beginnen",
  "new_batch.begin": "Neues Los beginnen",
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
  "batches.as_of": "Liste vom Server, Stand {when}.",
  "batches.as_of_never":
    "Noch ist keine Liste vom Server da. Was hier steht, kommt aus den Aufzeichnungen dieses Tablets.",
  "batches.pieces": "{count, plural, one {# Teil} other {# Teile}}",
  "batches.opened": "begonnen {when}",
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
  "nav.holds": "Sperren",
  "holds.title": "Sperren und Rückfragen",
  "holds.as_of": "So wusste es der Server {when}.",
  "holds.none":
    "Nichts ist gesperrt, und kein Teil wartet auf ein Urteil. Beides erscheint hier, sobald es den Server erreicht.",
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
  "holds.missing": "Ein Grund, eine PIN oder eine gewählte Sperre fehlt. Alle drei angeben.",

  "nav.decide": "Zu entscheiden",
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
  "decide.released": "Freigegeben",
  "decide.present":
    "{look}: {looked, number} von {due, number} angesehen, {points, plural, one {# Punkt offen} other {# Punkte offen}}",
  "dated.asking": "Der Server wird gefragt.",
  "dated.old": "Keine neue Antwort. So sagte es der Server {when}; seither vergangen: {age}.",
  "page.title": "Los",
  "page.opened": "Eröffnet {when} mit {pieces, plural, one {# Teil} other {# Teilen}}.",
  "page.opened_split":
    "Eröffnet {when} mit {pieces, plural, one {# Teil} other {# Teilen}}; {taken, number} abgeteilt, {left, number} geblieben.",
  "page.released": "Freigegeben unter den Namen {names}.",
  "page.late":
    "{count, plural, one {# Aufzeichnung kam} other {# Aufzeichnungen kamen}} nach der Freigabe. Das Los ist wieder offen: Nichts davon geht hinaus, bis entschieden ist.",
  "page.not_understood":
    "{count, plural, one {# Aufzeichnung} other {# Aufzeichnungen}} versteht dieser Server nicht; davon ist nichts gezählt. Das Los kann nicht freigegeben werden.",
  "page.holds": "Sperren, die stehen",
  "page.to_holds": "Zu den Sperren",
  "page.look_not_begun": "Von dieser Durchsicht ist noch nichts aufgezeichnet.",
  "page.counted": "eingezählt",
  "page.taken": "abgeteilt",
  "page.rework": "Nacharbeit",
  "page.sent": "zur Nacharbeit",
  "page.returned": "von der Nacharbeit zurück",
  "page.trays_plain": "{count, plural, one {# Schale} other {# Schalen}} angesehen wie auf der Karte.",
  "page.tray_due": "{looked, number} angesehen, {due, number} auf der Karte",
  "page.opening_closed": "{tablet}, begonnen {when}: {looked, number} angesehen",
  "page.opening_open": "{tablet}, begonnen {when}: nicht beendet",
  "page.accepted_by": "Anerkannt: {names}",
  "page.signed": "Unterschrieben; die Unterschrift hat alles gesehen, was zählt.",
  "page.signed_by": "Unterschrieben von {name}, nach Sicht von allem, was zählt.",
  "page.independence":
    "Andere Augen als in „{other}“, von {pieces, plural, one {# Teil} other {# Teilen}}: {certain, number} sicher, {possible, number} möglich, {never, number} nicht.",
  "page.pieces": "Teile, die warten oder verschieden beurteilt sind",
  "page.in_tray": "Schale {number}",
  "page.query": "wartet auf ein Urteil",
  "page.locked": "gesperrt",
  "page.differ": "zwei haben verschieden geurteilt; das schlimmere Urteil zählt",
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
  "asked.acceptance": "Anerkennung einer Differenz",
  "asked.release": "Freigabe",
  "asked.other": "Antrag",
  "holds.found": "Spät gefunden",
  "holds.found_at": "Spät gefunden: {where}",
  "holds.check": "Prüfung außerhalb der Grenzen: {check}",
  "holds.limit": "Grenze überschritten",
  "holds.limit_of": "Grenze überschritten: {class}",
  "holds.piece": "Teil {tag}",
  "holds.finder": "gefunden von {name}",
  "holds.placer": "gesetzt von {name}",

  "nav.shift": "Schicht",
  "shift.title": "Schicht {shift}: was wartet",
  "shift.criticals": "Kritische Funde",
  "shift.holds": "Sperren",
  "shift.differences": "Zahlen, die nicht übereinstimmen",
  "shift.not_heard": "Tablets, von denen nichts kommt",
  "shift.not_heard_what": "Auf ihnen können noch Funde liegen; die stehen in keiner Zahl dieser Seite.",
  "shift.silent_for": "letzte Aufzeichnung vor: {age}",
  "shift.waiting": "Lose, die warten",
  "shift.late": "Späte Funde",
  "shift.late_records":
    "{count, plural, one {# Aufzeichnung} other {# Aufzeichnungen}} nach der Freigabe gekommen",
  "shift.not_known": "nicht bekannt",
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
  "picture.away": "Bild: noch nicht da. Ein Tablet hat es noch und sendet es.",
  "picture.no_contact": "Bild: lässt sich gerade nicht zeigen. Bei Kontakt noch einmal ansehen.",
  "picture.larger": "Bild größer zeigen",
  "picture.smaller": "Bild kleiner zeigen",
  "picture.of": "Bild von Teil {tag}",

  "pareto.title": "Was gefunden wurde",
  "pareto.span_shift": "Diese Schicht",
  "pareto.span_day": "Dieser Tag",
  "pareto.span_all": "Alles",
  "pareto.by_marks": "Nach Strichen",
  "pareto.by_pieces": "Nach Teilen",
  "pareto.n":
    "n = {marks, plural, one {# Strich} other {# Striche}} an {pieces, plural, one {# Teil} other {# Teilen}}",
  "pareto.period": "{from} bis {to}",
  "pareto.period_shift": "Schicht {shift}, {from} bis {to}",
  "pareto.period_all": "alles bisher Aufgezeichnete",
  "pareto.from_tablet":
    "Kein Kontakt: das sind nur die Aufzeichnungen dieses Tablets. Zeit seit dem letzten Abgleich mit dem Server: {age}.",
  "pareto.for_roles":
    "Nur die Aufzeichnungen, die dieses Tablet hält. Die Zählung des ganzen Betriebs sehen Leitung, Verwaltung und Lesende, die mit einer vom Server geprüften PIN angemeldet sind.",
  "pareto.from_tablet_never": "Kein Kontakt: das sind nur die Aufzeichnungen dieses Tablets.",
  "pareto.none":
    "In diesem Zeitraum wurde nichts gefunden. Funde erscheinen hier als Balken, die häufigsten zuerst.",
  "pareto.col_marks": "Striche",
  "pareto.col_pieces": "Teile",
  "pareto.col_share": "Anteil",
  "pareto.col_cumulative": "Aufsummiert",
  "pareto.chart":
    "Balken der Funde, der längste zuerst, mit einer Linie des aufsummierten Anteils, die bei 100 % endet.",
  "pareto.bar": "{name}: {count, number}, aufsummiert {cumulative}",
  "pareto.axis": "aufsummierter Anteil",
  "pareto.span_shift_before": "Schicht davor",
  "pareto.span_week": "7 Tage",
  "pareto.span_days": "Tage wählen",
  "pareto.first_day": "Erster Tag",
  "pareto.last_day": "Letzter Tag",
  "pareto.no_days": "Einen ersten Tag wählen und einen letzten, der nicht davor liegt.",
  "pareto.grouped": "Wofür ein Balken steht",
  "pareto.tap_a_bar":
    "Einen Balken antippen, um nur seine Funde zu sehen; dann wählen, wofür die Balken stehen.",
  "pareto.only": "Nur {stratum}: {name}",
  "pareto.take_off": "{name}: wieder alle ansehen",
  "pareto.found_on": "nach der Zeit des Fundes",
  "pareto.col_order": "Rang",
  "pareto.too_few": "zu wenige",
  "stratum.defect": "Fehler",
  "stratum.operation": "Entstanden bei",
  "stratum.cavity": "Gravur",
  "stratum.zone": "Stelle",
  "stratum.tray": "Schale",
  "stratum.tray_from_last": "Schale vom Ende",
  "stratum.look": "Durchsicht",
  "stratum.part": "Teil",
  "stratum.batch": "Los",
  "stratum.none": "nicht festgehalten",
  "stratum.either": "das eine oder andere",
  "stratum.of_cavity": "Gravur {name}",
  "stratum.of_operation": "Arbeitsgang {number}",
  "stratum.from_last": "{place, select, 1 {letzte Schale} 2 {vorletzte Schale} other {{place}. vom Ende}}",
  "pareto.made_on": "nach der Zeit der Entstehung",
  "pareto.perhaps":
    "{marks, plural, one {# weiterer Strich} other {# weitere Striche}} vielleicht aus dieser Zeit: das Los war über ihr Anfang oder Ende hinweg am Arbeitsgang",
  "pareto.unplaced":
    "{marks, plural, one {# seither gefundener Strich} other {# seither gefundene Striche}} ohne Zeit der Entstehung: nichts ist darüber festgehalten",
  "stratum.tool": "Werkzeug, Gesenk",
  "stratum.machine": "Maschine",
  "stratum.cast": "Charge",
  "stratum.load": "Ofenladung",
  "stratum.lot": "Eloxallos",
  "pareto.axis_found": "Wann gefunden",
  "pareto.axis_made": "Wann entstanden",
  "pareto.looked":
    "{pieces, plural, one {# Teil} other {# Teile}} angesehen in Schalen, die in dieser Zeit beendet wurden",
  "pareto.col_looked": "Angesehen",
  "pareto.col_of_thousand": "Von 1000",
  "pareto.refresh": "Neu fragen",

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
  "point.other": "Offen: {kind} ({amount, number}). Eine neuere Fassung der App sagt es in Worten.",

  "error.code-refused":
    "Der Server kennt diesen Code nicht, oder er ist verbraucht oder älter als zehn Minuten. Die Verwaltung um einen neuen bitten.",
  "error.no-contact":
    "Der Server hat nicht geantwortet. Nachsehen, ob das Tablet im Netz des Betriebs ist, dann noch einmal versuchen.",
  "error.not-ours":
    "Etwas anderes als der Server hat geantwortet, vielleicht die Anmeldeseite des Netzes. Diese Seite einmal öffnen, dann noch einmal versuchen.",
  "error.enrolled-before": "Der Server kennt dieses Tablet schon. Die Seite neu laden.",
  "error.not-enrolled":
    "Der Server kennt dieses Tablet nicht. Die Verwaltung bitten, es neu bekannt zu machen.",
  "error.batch-unknown": "Der Server kennt dieses Los nicht. Zur Liste zurückgehen und neu wählen.",
  "error.not-allowed": "Der Server erlaubt das diesem Tablet nicht. Der Leitung sagen, was geschehen sollte.",
  "error.request-not-understood":
    "Der Server konnte nicht lesen, was dieses Tablet gesendet hat. Die Seite neu laden und noch einmal versuchen; bleibt es so, der Leitung sagen.",
  "error.too-many-tries": "Es waren zu viele Versuche. Einige Minuten warten, dann noch einmal versuchen.",
  "error.not-ready": "Der Server ist beschäftigt oder startet. Kurz warten, dann noch einmal versuchen.",
  "error.store-full":
    "Der Server hat keinen Platz mehr. Der Leitung sagen; was auf diesem Tablet ist, bleibt hier.",
  "error.other":
    "Es ging nicht, und der Server nannte als Grund „{code}“. Noch einmal versuchen; bleibt es so, der Leitung dieses Wort sagen.",
};

// SPDX-License-Identifier: Apache-2.0
import type { start as keys } from "../en/start.js";

export const start: Readonly<Record<keyof typeof keys, string>> = {
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
    "Die Seite kam über eine ungeschützte Verbindung, darum gibt ihr der Browser keinen Speicher und keinen Schlüssel. Nichts, was hier eingegeben wird, bliebe erhalten. Die Adresse öffnen, die mit https beginnt.",
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
  "sync.contact.no_network": "kein Kontakt: dieses Tablet hat kein Netz",
  "sync.contact.certificate_ended": "kein Kontakt: das Zertifikat des Servers ist am {day} abgelaufen",

  "certificate.ends":
    "Das Zertifikat des Servers läuft am {day} ab: {days, plural, one {noch # Tag} other {noch # Tage}}. Es ist nicht erneuert: dem Betreuer des Servers sagen. Danach zeichnen die Tablets weiter auf, gesendet wird nichts.",
  "certificate.ended":
    "Das Zertifikat des Servers ist am {day} abgelaufen. Die Tablets zeichnen weiter auf; gesendet wird erst wieder, wenn es erneuert ist: dem Betreuer des Servers sagen.",

  "sync.contact.cannot_write": "der Server kann nichts speichern: der Leitung sagen",
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

  "nav.people": "Personen",
  "nav.devices": "Geräte",

  "nav.change_person": "Jemand anders",
  "nav.batches": "Lose",
  "nav.pareto": "Pareto",
  "nav.set_aside": "Zurückgelegt",
  "nav.trays": "Schalen",
  "nav.holds": "Sperren",
  "nav.decide": "Zu entscheiden",
  "nav.shift": "Schicht",
};

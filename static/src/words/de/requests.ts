// SPDX-License-Identifier: Apache-2.0
import type { requests as keys } from "../en/requests.js";

export const requests: Readonly<Record<keyof typeof keys, string>> = {
  "asked.open": "Beantragt. Die Antwort des Servers ist unterwegs.",
  "asked.granted": "Gewährt. Es gilt jetzt.",
  "asked.declined": "Der Server hat abgelehnt; nichts wurde geändert.",
  "asked.no_contact": "Kein Kontakt zum Server. Das lässt sich nur mit Kontakt beantragen.",

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

  "asked.acceptance": "Anerkennung einer Differenz",
  "asked.release": "Freigabe",
  "asked.other": "Antrag",

  "error.pin-refused": "Diese PIN ist zu kurz, oder viele haben sie. Eine andere wählen.",
  "error.role-needed":
    "Das ist anderen Rollen offen. Mit der PIN einer solchen Rolle anmelden und warten, bis der Server sie geprüft hat.",
  "error.not-found":
    "Es ist nicht mehr da: es wurde abgewiesen, oder seine Zeit ist um. Um einen neuen Code bitten.",
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
  "error.not-writable":
    "Der Server kann nichts speichern: seine Platte ist voll oder gestört. Der Leitung sagen; was auf diesem Tablet ist, bleibt hier.",
  "error.store-full":
    "Der Server hat keinen Platz mehr. Der Leitung sagen; was auf diesem Tablet ist, bleibt hier.",
  "error.other":
    "Es ging nicht, und der Server nannte als Grund „{code}“. Noch einmal versuchen; bleibt es so, der Leitung dieses Wort sagen.",
};

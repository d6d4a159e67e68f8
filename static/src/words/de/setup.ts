// SPDX-License-Identifier: Apache-2.0
import type { setup as keys } from "../en/setup.js";

export const setup: Readonly<Record<keyof typeof keys, string>> = {
  "reach.open": "Stattdessen diese Adresse öffnen",
  "reach.qr": "Die geschützte Adresse zum Scannen",
  "reach.trust_qr": "Die Seite, die zeigt, wie man dem Server vertraut, zum Scannen",
  "reach.belongs":
    "Tallywright immer über diese eine Adresse öffnen: was ein Tablet aufzeichnet, gehört zu der Adresse, über die es geöffnet wurde.",
  "reach.not_found": "Nur wenn diese Adresse im Netz nicht gefunden wird:",
  "reach.none":
    "Dieser Server bietet noch keine geschützte Adresse. Wer ihn betreut, startet ihn mit „tallywright serve\u00a0-\u2060-\u2060tls“; seine Konsole zeigt dann die Adresse, die mit https beginnt.",
  "reach.no_answer": "Der Server antwortet gerade nicht. Diese Seite mit Kontakt noch einmal öffnen.",
  "reach.warns": "Der Browser warnt dort oder öffnet sie nicht",
  "reach.warns_what":
    "Dann vertraut dieses Gerät dem Server noch nicht. Die Seite hinter der nächsten Adresse zeigt Schritt für Schritt, wie es dazu kommt; das dauert ein paar Minuten, einmal je Gerät.",

  "trust.title": "Diesem Gerät sagen, dass es dem Server vertrauen darf",
  "trust.what":
    "Der Server dieses Werks weist sich mit einem Zertifikat aus, das das Werk selbst gemacht hat. Jedem Gerät wird einmal gesagt, dass es ihm glauben darf. Erst dann kann es aufzeichnen und ohne Netz arbeiten.",
  "trust.no_authority":
    "Dieser Server hat zurzeit keine eigene Zertifizierungsstelle; hier gibt es nichts, dem zu vertrauen wäre.",
  "trust.compare": "1. Zuerst vergleichen",
  "trust.weak":
    "Diese Seite kam über eine ungeschützte Verbindung: jemand in diesem Netz könnte ein anderes Zertifikat unterschieben und später mitlesen. Davor schützt nur der Vergleich. SHA-256 des Zertifikats, das diese Seite ausgibt:",
  "trust.compare_how":
    "Diese 32 Paare müssen dieselben sein wie auf der Konsole des Servers: dort, wo er gestartet wurde, oder wo „tallywright certificate“ sie ausgibt. Vorlesen lassen oder daneben stehen. Weicht ein Paar ab: aufhören und es dem Betreuer des Servers sagen.",
  "trust.install": "2. Das Zertifikat holen und ihm vertrauen",
  "trust.get": "Zertifikat holen",
  "trust.harm":
    "Es kann sich für die Namen dieses Servers und für private Adressen verbürgen, für nichts im Internet. Die Einstellungen heißen je nach Hersteller und Version etwas anders.",
  "trust.open": "3. Tallywright öffnen",
  "trust.android.1":
    "„Zertifikat holen“ antippen. Der Browser speichert die Datei; fragt er nach, die Datei behalten.",
  "trust.android.2":
    "Die Einstellungen des Tablets öffnen und „CA-Zertifikat“ suchen: unter Sicherheit, Weitere Sicherheitseinstellungen, Verschlüsselung und Anmeldedaten, Zertifikat installieren.",
  "trust.android.3":
    "„CA-Zertifikat“ wählen, dann „Trotzdem installieren“, und unter den Downloads tallywright-authority.crt nehmen. Das Tablet fragt nach seiner Bildschirmsperre.",
  "trust.android.4":
    "Vergleichen: unter Vertrauenswürdige Anmeldedaten, Nutzer, den neuen Eintrag antippen. Sein SHA-256-Fingerabdruck muss der obige sein; sonst ihn dort entfernen.",
  "trust.android.5":
    "Android sagt von nun an, das Netzwerk werde möglicherweise überwacht. Das sagt es bei jedem Zertifikat, das jemand installiert hat.",
  "trust.ipad.1":
    "Diese Seite in Safari öffnen, „Zertifikat holen“ antippen und das Laden eines Profils erlauben.",
  "trust.ipad.2": "Die Einstellungen öffnen: weit oben steht „Profil geladen“. Antippen.",
  "trust.ipad.3":
    "Vor „Installieren“: Mehr Details antippen, dann das Zertifikat, und den SHA-256-Fingerabdruck mit dem obigen vergleichen. Weicht er ab, das Profil entfernen.",
  "trust.ipad.4": "Installieren antippen und mit dem Code des iPads bestätigen.",
  "trust.ipad.5":
    "Dann unter Allgemein, Info, Zertifikatsvertrauenseinstellungen: volles Vertrauen für dieses Zertifikat einschalten. Ohne diesen letzten Schritt warnt Safari weiter.",
  "trust.windows.1": "„Zertifikat holen“ anklicken. Es landet in Downloads als tallywright-authority.crt.",
  "trust.windows.2":
    "Vor allem anderen vergleichen: dort PowerShell öffnen und „Get-FileHash tallywright-authority.crt“ eingeben. Das Ergebnis müssen die obigen Paare sein, ohne Doppelpunkte. Was Windows Fingerabdruck nennt, ist ein anderer, kürzerer.",
  "trust.windows.3":
    "Die Datei öffnen, Zertifikat installieren wählen, dann Aktueller Benutzer, oder Lokaler Computer für alle.",
  "trust.windows.4":
    "„Alle Zertifikate in folgendem Speicher speichern“ wählen, und dort Vertrauenswürdige Stammzertifizierungsstellen. Fertig stellen und bestätigen.",
  "trust.windows.5": "Den Browser schließen und wieder öffnen.",

  "enrol.title": "Dieses Tablet bekannt machen",
  "enrol.what":
    "Die Verwaltung erzeugt einen Code für ein Tablet. Er gilt einmal, zehn Minuten lang. Hier eintippen, solange Kontakt zum Server besteht.",
  "enrol.name": "Name dieses Tablets",
  "enrol.name_hint": "wie er hinten darauf steht, zum Beispiel Platz 2",
  "enrol.name_missing": "Das Tablet hat noch keinen Namen. Den Namen eintippen, der hinten darauf steht.",
  "enrol.code": "Code",
  "enrol.act": "Bekannt machen",
  "enrol.working": "Der Server wird gefragt.",
  "enrol.no_contact": "Kein Kontakt zum Server. Ein Tablet wird nur mit Kontakt bekannt gemacht.",
  "enrol.not_kept":
    "Dieser Browser sagt nicht zu, alles Erfasste zu behalten. In einem privaten Fenster ist es weg, sobald es geschlossen wird: in einem gewöhnlichen Fenster bekannt machen und die App installieren.",
  "enrol.demo_what":
    "Dies ist ein Demo-Betrieb: ein Browser macht sich mit einem Tipp bekannt. In einem echten Betrieb entscheidet die Verwaltung.",
  "enrol.demo_act": "Diesen Browser als Demo-Tablet nutzen",
  "enrol.demo_name": "Demo-Tablet",
  "enrol.waits_title": "Die Verwaltung muss zustimmen",
  "enrol.waits_what":
    "Diese Seite offen lassen. Die Verwaltung sieht auf der Seite „Geräte“ eine Nummer; ist es diese, lässt ein Tippen dort das Tablet herein.",
  "enrol.code_missing": "Der Code ist kürzer als ein Code ist. Alle {length, number} Zeichen eintippen.",

  "first.title": "Die erste Verwaltung",
  "first.what":
    "Dieser Link macht eine Person zur Verwaltung und diesen Browser zum ersten Gerät. Die PIN der Verwaltung hat 8 Zeichen oder mehr.",
  "first.act": "Diesen Betrieb beginnen",

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
  "devices.kept": "Auf diesem Gerät hat der Browser zugesagt, alles Erfasste zu behalten.",
  "devices.not_kept":
    "Auf diesem Gerät darf der Browser Erfasstes löschen, wenn der Speicher voll wird. App installieren: sie fragt den Browser bei jedem Start von neuem.",
  "devices.make_code": "Code für ein weiteres Tablet machen",
  "devices.make_another": "Noch einen Code machen",
  "devices.code_what":
    "Gilt einmal, zehn Minuten lang. Mit der Kamera des neuen Tablets lesen, oder dort die Adresse dieses Servers öffnen und ihn tippen.",
  "devices.trust_first":
    "Warnt das neue Tablet vor diesem Server oder öffnet es ihn nicht, dort zuerst {address} öffnen: es vertraut dem Server noch nicht.",
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

  "pedal.title": "Fußpedal",
  "pedal.what":
    "Ein Pedal ist eine Tastatur mit einer Taste. Was es tut, ist nur auf diesem Tablet hinterlegt.",
  "pedal.tally": "Beim Zählen der Fehler",
  "pedal.machine": "An der Maschine",
  "pedal.main_reject": "Erstes Wort der Liste, das nicht kritisch ist",
  "pedal.usual_made": "So viele fertig, wie zwischen zwei Prüfungen liegen",
  "pedal.none": "kein Pedal",
  "pedal.is": "Taste {key}",
  "pedal.set": "Einstellen",
  "pedal.leave": "Doch nicht",
  "pedal.take_off": "Wegnehmen",
  "pedal.press_it": "Jetzt das Pedal treten",
  "pedal.other_key":
    "Die Taste {key} wird zum Tippen und Bewegen gebraucht. Das Pedal auf eine andere stellen, zum Beispiel F13.",

  "new_pin.first": "Neue PIN",
  "new_pin.again": "Dieselbe PIN noch einmal",
  "new_pin.what":
    "4 Zeichen oder mehr; 8 für Leitung und Verwaltung. Nichts, was viele haben, wie 1234 oder eine Jahreszahl.",
  "new_pin.differ": "Die beiden PINs sind verschieden, oder es fehlt eine. Zweimal dieselbe tippen.",

  "set_pin.what":
    "Mit dem Wort der Verwaltung setzt jeder seine PIN selbst. Niemand sonst kennt sie, und das Wort gilt einmal.",
  "set_pin.word": "Wort der Verwaltung",
  "set_pin.act": "Diese PIN setzen",
};

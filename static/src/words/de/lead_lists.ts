// SPDX-License-Identifier: Apache-2.0
import type { leadLists as keys } from "../en/lead_lists.js";

export const leadLists: Readonly<Record<keyof typeof keys, string>> = {
  "dated.asking": "Der Server wird gefragt.",
  "dated.old": "Keine neue Antwort. So sagte es der Server {when}; seither vergangen: {age}.",

  "page.title": "Los",
  "page.opened": "Eröffnet {when} mit {pieces, plural, one {# Teil} other {# Teilen}}.",
  "page.opened_split":
    "Eröffnet {when} mit {pieces, plural, one {# Teil} other {# Teilen}}; {taken, number} abgeteilt, {left, number} geblieben.",
  "page.released": "Freigegeben unter den Namen {names}; beantragt {when}.",
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

  "shift.title": "Schicht {shift}: was wartet",
  "shift.criticals": "Kritische Funde",
  "shift.holds": "Sperren",
  "shift.differences": "Zahlen, die nicht übereinstimmen",
  "shift.not_heard": "Tablets, von denen nichts kommt",
  "shift.not_heard_what": "Auf ihnen können noch Funde liegen; die stehen in keiner Zahl dieser Seite.",
  "shift.silent_for": "letzte Aufzeichnung vor: {age}",
  "shift.wrong_pins": "PIN zu oft falsch",
  "shift.wrong_pins_what":
    "Zehnmal hintereinander an einem Tablet. Was dort unter diesem Namen geschieht, zählt, und bleibt ohne erwiesenen Urheber, bis die Person eine neue PIN hat. Fragen, wer dort war.",
  "shift.waiting": "Lose, die warten",
  "shift.late": "Späte Funde",
  "shift.late_records":
    "{count, plural, one {# Aufzeichnung} other {# Aufzeichnungen}} nach der Freigabe gekommen",
  "shift.not_known": "nicht bekannt",
  "shift.machine_checks_lines":
    "{out, plural, one {# Prüfung} other {# Prüfungen}} außerhalb der Grenzen, {gaps, plural, one {# Zeile} other {# Zeilen}} nicht nach Plan, {worth, number} einen Blick wert",

  "machine_checks.title": "Prüfungen an den Maschinen",
  "machine_checks.to_shift": "Zur Schicht",
  "machine_checks.taken": "{count, plural, one {# Prüfung} other {# Prüfungen}} aufgezeichnet",
  "machine_checks.out": "Außerhalb der Grenzen",
  "machine_checks.gaps": "Nicht nach Plan",
  "machine_checks.repeated": "Noch einmal gemessen",
  "machine_checks.worth": "Einen Blick wert",
  "machine_checks.missed": "Nicht geprüft, und so gesagt",
  "machine_checks.left_out": "Fällig und nicht aufgezeichnet",
  "machine_checks.left_out_count": "Fällig und nicht aufgezeichnet: {count, number}",
  "machine_checks.delayed": "Zu spät geprüft",
  "machine_checks.delayed_by": "{said}, zu spät geprüft um {behind}",
  "machine_checks.behind_pieces": "{count, plural, one {# Stück} other {# Stück}}",
  "machine_checks.none": "Fertig, und hier ist keine Prüfung aufgezeichnet",
  "machine_checks.first": "Zuerst",
  "machine_checks.beside": "Daneben",
  "machine_checks.mistyped": "vertippt, laut Angabe",
  "machine_checks.limits": "Grenzen {lower} bis {upper}",
  "machine_checks.not_answered": "Niemand hat gesagt, was getan wurde.",
  "machine_checks.done":
    "{done}, {count, plural, one {# Stück} other {# Stück}} zurück zum Aussortieren, {when}.",
  "machine_checks.cavity": "Gravur {cavity}",
  "machine_checks.worth_what":
    "Tatsachen über Zahlen, nicht über Menschen: seltener als eins in tausend nach dem, was andere Lose dieses Betriebs zeigen. Alles davon kann seine Ordnung haben; zuerst Messmittel und Maschine ansehen.",
  "machine_checks.looked_at":
    "Gesucht in {count, plural, one {# Reihe} other {# Reihen}} von Werten; von tausend Reihen bringt allein der Zufall eine hierher.",
  "machine_checks.too_few":
    "{count, plural, one {# Reihe hat} other {# Reihen haben}} zu wenige Werte für eine Aussage.",
  "machine_checks.same_value": "{value}, {count, number}-mal hintereinander, von {of, number} Werten.",
  "machine_checks.same_value_why":
    "ein ruhiger Prozess, ein Messmittel, das klemmt oder nicht feiner anzeigt, am Schichtende übertragene Zahlen.",
  "machine_checks.same_gap":
    "{count, number}-mal hintereinander gleich lang von Prüfung zu Prüfung, auf fünf Sekunden, von {of, number}.",
  "machine_checks.same_gap_why":
    "eine Maschine mit gleichmäßigem Takt, ein Wecker, nachträglich gespeicherte Prüfungen.",
  "machine_checks.close_together":
    "{count, number} von {of, number} Prüfungen in einer Minute gespeichert; nach Plan liegen Stück dazwischen.",
  "machine_checks.close_together_why":
    "Stück spät gemeldet und zusammen gemessen, am Schichtende übertragene Werte.",
  "machine_checks.end_digit": "{count, number} von {of, number} Werten enden mit {value}.",
  "machine_checks.end_digit_why":
    "ein Messmittel mit gröberer Teilung, eine Skala, auf Striche abgelesen, Runden aus Gewohnheit.",
  "machine_checks.never_near":
    "{count, number} von {of, number} Werten nahe einer Grenze oder darüber hinaus; in anderen Losen sind es mehr.",
  "machine_checks.never_near_why":
    "ein neues Gesenk oder Werkzeug, ein besserer Prozess, passend gemachte Werte.",
  "machine_checks.can_be": "Kann sein: {why}",
  "machine_checks.chance": "Durch Zufall einmal in {chance} solchen Reihen.",
  "machine_checks.chance_least": "Durch Zufall weniger als einmal in {chance} solchen Reihen.",
  "machine_checks.more":
    "{count, plural, one {# weitere Zeile ist} other {# weitere Zeilen sind}} nicht gezeigt: weniger Tage wählen.",

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
  "stratum.cast": "Schmelze",
  "stratum.load": "Ofenladung",
  "stratum.lot": "Eloxallos",

  "pareto.axis_found": "Wann gefunden",
  "pareto.axis_made": "Wann entstanden",
  "pareto.looked":
    "{pieces, plural, one {# Teil} other {# Teile}} angesehen in Schalen, die in dieser Zeit beendet wurden",
  "pareto.col_looked": "Angesehen",
  "pareto.col_of_thousand": "Von 1000",
  "pareto.refresh": "Neu fragen",

  "receipts.title": "Werkstoff und Zukaufteile",
  "receipts.none": "Der Server kennt noch keinen Wareneingang.",
  "receipts.counted": "Gezählt: {counted, number}, {by}, {when}.",
  "receipts.container": "Behälter {container}",
  "receipts.ends": "{pieces, plural, one {# Ende} other {# Enden}}",
  "receipts.file": "Bescheinigung, die Datei",
  "receipts.file_away": "Die Datei der Bescheinigung ist noch nicht angekommen.",
  "receipts.made_of_it": "Lose daraus, wie an der Säge aufgezeichnet:",
  "receipts.nobody_proven": "Urheber nicht belegt",

  "page.casts": "Werkstoff",

  "gauges.title": "Messmittel",
  "gauges.none": "Kein Messmittel braucht etwas.",
  "gauges.in_order": "{count, plural, one {# Messmittel ist} other {# Messmittel sind}} in Ordnung",
  "gauges.due": "fällig bis {day}",
  "gauges.write_down": "Prüfung eintragen",
  "gauges.how_found": "Wie wurde {gauge} befunden?",
  "gauges.fit": "In Ordnung",
  "gauges.wrong": "Falsch",
  "gauges.doubt": "Fraglich",
  "gauges.fit_what":
    "So, wie es aus der Fertigung kam, ehe etwas verstellt wurde. Damit ist ein Zweifel beantwortet.",
  "gauges.wrong_what":
    "Jedes Los, das damit seit der letzten guten Prüfung gemessen wurde, wird gesperrt. Eintragen, ehe es repariert wird; wenn es wieder stimmt, das als zweite Prüfung eintragen.",
  "gauges.doubt_what": "Werte damit werden ab jetzt markiert, bis eine Prüfung den Zweifel beantwortet.",
  "gauges.against": "Geprüft gegen",
  "gauges.certificate": "Kalibrierschein oder Bericht",
  "gauges.next_due": "Wieder fällig bis",
  "gauges.note": "Bemerkung",
  "gauges.against_missing": "Es fehlt, wogegen geprüft wurde.",
  "gauges.not_stored":
    "Dieses Tablet konnte es nicht speichern. Noch einmal versuchen oder ein anderes nehmen.",
  "gauges.store": "Prüfung speichern",
  "gauges.leave": "Doch nicht",
  "gauges.stored": "Gespeichert. Die Liste zeigt es, sobald der Server es hat.",
  "gauges.values": "{count, plural, one {# Wert} other {# Werte}}, {when}:",
  "gauges.span": "{first} bis {last}",
  "gauges.released": "(freigegeben)",
  "gauges.said_fit": "In Ordnung befunden",
  "gauges.said_wrong": "Als falsch befunden",
  "gauges.said_doubtful": "Als fraglich gemeldet",
  "gauges.does_not_count": "zählt nicht",
};

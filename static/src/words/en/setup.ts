// SPDX-License-Identifier: Apache-2.0
// People, devices and the pedal; and how a device comes to be known and to trust the server.

export const setup = {
  "reach.open": "Open this address instead",
  "reach.qr": "The protected address, to scan",
  "reach.trust_qr": "The page that shows how to trust the server, to scan",
  "reach.belongs":
    "Always open Tallywright by this one address: what a tablet records belongs to the address it was opened by.",
  "reach.not_found": "Only if that address is not found in this network:",
  "reach.none":
    "This server offers no protected address yet. Whoever runs it starts it with “tallywright serve\u00a0-\u2060-\u2060tls”; its console then shows the address that begins with https.",
  "reach.no_answer": "The server does not answer just now. Open this page again with contact.",
  "reach.warns": "The browser warns there, or does not open it",
  "reach.warns_what":
    "Then this device does not trust the server yet. The page behind the next address shows how it comes to trust it, step by step; it takes a few minutes, once for each device.",

  "trust.title": "Make this device trust the server",
  "trust.what":
    "The server of this works proves who it is with a certificate that the works made itself. Each device is told once that it may believe it. Only then can it record, and work without network.",
  "trust.no_authority":
    "This server has no authority of its own at present, so there is nothing to trust here.",
  "trust.compare": "1. Compare first",
  "trust.weak":
    "This page came over an unprotected connection: somebody in this network could show you another certificate in its place, and read along later. The only protection is to compare. SHA-256 of the certificate this page gives out:",
  "trust.compare_how":
    "These 32 pairs must be those on the server’s own console, where it was started, or where “tallywright certificate” prints them. Have them read to you, or stand beside it. If one pair differs: stop, and tell whoever runs the server.",
  "trust.install": "2. Get the certificate and trust it",
  "trust.get": "Get the certificate",
  "trust.harm":
    "It can vouch for the names of this server and for private addresses, and for nothing on the internet. The names of the settings differ a little between makers and versions.",
  "trust.open": "3. Open Tallywright",
  "trust.android.1":
    "Tap “Get the certificate”. The browser saves it; if it asks what to do with it, choose to keep the file.",
  "trust.android.2":
    "Open the tablet’s Settings and look for “CA certificate”: under Security, More security settings, Encryption and credentials, Install a certificate.",
  "trust.android.3":
    "Choose “CA certificate”, then “Install anyway”, and pick tallywright-authority.crt among the downloads. The tablet asks for its screen lock.",
  "trust.android.4":
    "Compare: under Trusted credentials, User, tap the new entry. Its SHA-256 fingerprint must be the one above; if it is not, remove it there.",
  "trust.android.5":
    "From now on Android says that the network may be monitored. It says so of every certificate somebody installed.",
  "trust.ipad.1": "Open this page in Safari, tap “Get the certificate” and allow the download of a profile.",
  "trust.ipad.2": "Open Settings: “Profile Downloaded” stands near the top. Tap it.",
  "trust.ipad.3":
    "Before “Install”: tap More Details, then the certificate, and compare its SHA-256 fingerprint with the one above. If it differs, remove the profile.",
  "trust.ipad.4": "Tap Install, and confirm with the iPad’s code.",
  "trust.ipad.5":
    "Then under General, About, Certificate Trust Settings: switch on full trust for this certificate. Without this last step Safari goes on warning.",
  "trust.windows.1": "Click “Get the certificate”. It lands in Downloads as tallywright-authority.crt.",
  "trust.windows.2":
    "Compare before anything else: open PowerShell there and type “Get-FileHash tallywright-authority.crt”. The result must be the pairs above, without colons. What Windows calls a thumbprint is another, shorter one.",
  "trust.windows.3":
    "Open the file, choose Install Certificate, then Current User, or Local Machine for everybody.",
  "trust.windows.4":
    "Choose “Place all certificates in the following store”, and there Trusted Root Certification Authorities. Finish, and confirm.",
  "trust.windows.5": "Close the browser and open it again.",

  "enrol.title": "Make this tablet known",
  "enrol.what":
    "An administrator makes a code for one tablet. It works once, for ten minutes. Type it here while there is contact with the server.",
  "enrol.name": "Name of this tablet",
  "enrol.name_hint": "as it stands on its back, for example Bench 2",
  "enrol.name_missing": "The tablet has no name yet. Type the name that stands on its back.",
  "enrol.code": "Code",
  "enrol.act": "Make it known",
  "enrol.working": "Asking the server.",
  "enrol.no_contact": "No contact with the server. A tablet can be made known only with contact.",
  "enrol.not_kept":
    "This browser does not promise to keep what is recorded. In a private window all of it is gone when the window closes: enrol in an ordinary one, and install the app.",
  "enrol.demo_what":
    "This is a demo works: a browser may make itself known with one tap. In a real works an administrator decides.",
  "enrol.demo_act": "Use this browser as a tablet of the demo",
  "enrol.demo_name": "Demo tablet",
  "enrol.waits_title": "An administrator has to say yes",
  "enrol.waits_what":
    "Leave this page open. An administrator sees a number on the page “Devices”; if it is this one, a tap there lets this tablet in.",
  "enrol.code_missing": "The code is shorter than a code is. Type all {length, number} characters.",

  "first.title": "The first administrator",
  "first.what":
    "This link makes one administrator, and this browser the first device. An administrator’s PIN has 8 characters or more.",
  "first.act": "Begin this works",

  "people.title": "People",
  "people.add": "Add a person",
  "people.name": "Name as it stands on signatures",
  "people.name_missing": "The person has no name yet. Type it as it is to stand on signatures.",
  "people.roles": "May work as",
  "people.role_missing": "No role is chosen. Choose at least one.",
  "people.last_day": "Last day (a reader needs one)",
  "people.until": "until {day}",
  "people.deputy_first": "Stands in for the lead from",
  "people.deputy_last": "to, that day included",
  "people.deputy_days": "stands in for the lead from {first} to {last}",
  "people.deputy_missing": "One of the two days of standing in is missing. Give both, or neither.",
  "people.ask_add": "Ask the server to add",
  "people.ask_change": "Ask the server to change",
  "people.back": "Back",

  "pin_word.what": "A word for this person’s PIN is shown once, works once, and ends after a day.",
  "pin_word.make": "Make a word for the PIN",

  "devices.title": "Devices",
  "devices.kept": "On this device the browser has promised to keep what is recorded.",
  "devices.not_kept":
    "On this device the browser may clear what is recorded when its disk fills up. Install the app: it asks the browser again at every start.",
  "devices.make_code": "Make a code for another tablet",
  "devices.make_another": "Make another code",
  "devices.code_what":
    "Works once, for ten minutes. Scan it with the new tablet’s camera, or open this server’s address there and type it.",
  "devices.trust_first":
    "If the new tablet warns of this server or does not open it, open {address} there first: it does not trust the server yet.",
  "devices.qr": "The address that fills the code in",
  "devices.waiting": "Waiting to be let in",
  "devices.compare": "Let a tablet in only if it shows the same number.",
  "devices.nobody_waits": "No tablet waits to be let in. One that typed a code appears here.",
  "devices.let_in": "Let {name} in",
  "devices.waits_since": "waits: {age}",
  "devices.turn_away": "Turn {name} away",
  "devices.known": "Known devices",
  "devices.heard": "last record {when}",
  "devices.never_heard": "no record yet",
  "devices.revoked": "revoked",
  "devices.revoke": "Revoke",
  "devices.revoke_what": "It reads nothing more, and what it sends is set aside.",
  "devices.revoke_sure": "Revoke {letters} for good",

  "pedal.title": "Foot pedal",
  "pedal.what": "A pedal is a keyboard of one key. What it does is kept on this tablet alone.",
  "pedal.tally": "At the tally",
  "pedal.machine": "At the machine",
  "pedal.main_reject": "First word of the list that is not critical",
  "pedal.usual_made": "So many done, as many as lie between two checks",
  "pedal.none": "no pedal",
  "pedal.is": "key {key}",
  "pedal.set": "Set",
  "pedal.leave": "Leave it",
  "pedal.take_off": "Take off",
  "pedal.press_it": "Press the pedal now",
  "pedal.other_key":
    "The key {key} is needed to type and to move about. Set the pedal to send another one, for example F13.",

  "new_pin.first": "New PIN",
  "new_pin.again": "The same PIN again",
  "new_pin.what":
    "4 characters or more; 8 for a lead or an administrator. Nothing that many people have, such as 1234 or a year.",
  "new_pin.differ": "The two PINs differ, or none is typed. Type the same PIN twice.",

  "set_pin.what":
    "With the word an administrator gave you, you set your PIN yourself. Nobody else knows it, and the word works once.",
  "set_pin.word": "Word from the administrator",
  "set_pin.act": "Set this PIN",
} as const satisfies Record<string, string>;

// SPDX-License-Identifier: Apache-2.0
// What may be said before anybody works: the start, the stops, contact.

export const start = {
  "app.starting": "Starting: reading what this tablet holds.",
  "app.save_rescue": "Save a rescue file",
  "app.rescue_saved":
    "The rescue file is made. Give it to the lead before anything else is done to this tablet.",
  "app.rescue_failed":
    "The rescue file could not be made. Leave this page open and fetch the lead: what the tablet holds is still here.",
  "app.update_waits": "A newer version is ready.",
  "app.update_now": "Change to it now",
  "app.demo": "Demo works: invented limits and classes. They advise nobody.",
  "app.demo_short": "Demo",

  "page.coming": "This page is on its way.",
  "page.missing":
    "This page did not come: it is not on this tablet yet, and there is no contact. Try again with contact.",
  "page.again": "Try again",

  "stop.elsewhere.title": "Tallywright is open in another tab",
  "stop.elsewhere.do":
    "Only one tab may record on this tablet. Go on in the other tab, or close it and this one takes over by itself.",
  "stop.title": "This tablet cannot record",
  "stop.no_store":
    "The browser offers no store that keeps a record safely. Open Tallywright in another browser, or on another tablet.",
  "stop.no_secure_context":
    "The page came over a connection that is not protected, so the browser gives it no store and no key. Nothing entered here would be kept. Open the address that begins with https.",
  "stop.private_window":
    "This is a private window: what it keeps is gone when it is closed. Open Tallywright in an ordinary window.",
  "stop.failed":
    "The store of this browser did not open. Reload the page once; if it stays like this, use another tablet and tell the lead.",

  "broken.title": "A record on this tablet is damaged",
  "broken.what":
    "The damage is at byte {at, number} of the journal; whole records stand before it and behind it. Nothing was cut and nothing more is recorded here.",
  "broken.do": "Save a rescue file, give it to the lead, and go on with another tablet.",

  "sync.stored": "{count, number} stored here",
  "sync.sent": "{count, number} sent",
  "sync.pictures": "{count, plural, one {# picture waits} other {# pictures wait}}",
  "sync.confirmed": "{count, number} confirmed by server",
  "sync.oldest": "oldest {age}",
  "sync.nothing_waits": "nothing waits",
  "sync.level.late": "Waiting",
  "sync.level.very_late": "Waiting too long",
  "sync.level.trouble": "Look here",
  "sync.contact.none": "no contact",
  "sync.contact.no_network": "no contact: this tablet has no network",
  "sync.contact.certificate_ended": "no contact: the server’s certificate ended on {day}",

  "certificate.ends":
    "The server’s certificate ends on {day}: {days, plural, one {# day is left} other {# days are left}}. It has not been renewed: tell whoever runs the server. Behind that day tablets go on recording, and nothing is sent.",
  "certificate.ended":
    "The server’s certificate ended on {day}. Tablets go on recording, and nothing is sent until it is renewed: tell whoever runs the server.",

  "sync.contact.cannot_write": "the server cannot store anything: tell the lead",
  "sync.contact.session_ended": "the server asks this tablet to enrol again",
  "sync.contact.forked": "this tablet's records were copied: tell the lead",
  "sync.contact.behind": "this tablet's store is older than the server's: tell the lead",
  "sync.exceptions":
    "{count, plural, one {# record} other {# records}} set aside by the server: tell the lead",

  "anew.wiped":
    "On {when} the store of this tablet was found empty, and it began anew. What it had sent is on the server. What it had not sent is gone: tell the lead what you found since the last contact.",
  "anew.behind":
    "On {when} this tablet was found to hold less than the server has from it: an older image was put back. The server lost nothing; this tablet goes on beside its old records.",
  "anew.forked":
    "On {when} this tablet was found to be a copy, or to have been copied. Both sides are kept. What the server set aside counts once the lead admits it.",
  "anew.key_lost":
    "On {when} this tablet was made known anew, because its key was lost. What it had not sent before is still here: save a rescue file and give it to the lead.",

  "age.moments": "just now",
  "age.minutes": "{minutes, number}\u00a0min",
  "age.hours": "{hours, number}\u00a0h\u00a0{minutes, number}\u00a0min",
  "age.days": "{days, plural, one {# day} other {# days}}",

  "nav.people": "People",
  "nav.devices": "Devices",

  "nav.change_person": "Somebody else",
  "nav.batches": "Batches",
  "nav.pareto": "Pareto",
  "nav.set_aside": "Set aside",
  "nav.trays": "Trays",
  "nav.holds": "Holds",
  "nav.decide": "To decide",
  "nav.shift": "Shift",
} as const satisfies Record<string, string>;

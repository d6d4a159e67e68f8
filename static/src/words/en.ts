// SPDX-License-Identifier: Apache-2.0
// English, and the list of everything the screens can say: the other languages have exactly these keys.
// ICU messages; a number goes in as a number, so that its form follows the language.

export const en = {
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

  "stop.elsewhere.title": "Tallywright is open in another tab",
  "stop.elsewhere.do":
    "Only one tab may record on this tablet. Go on in the other tab, or close it and this one takes over by itself.",
  "stop.title": "This tablet cannot record",
  "stop.no_store":
    "The browser offers no store that keeps a record safely. Open Tallywright in another browser, or on another tablet.",
  "stop.no_secure_context":
    "The page came over a connection that is not protected, so the browser gives it no store. Open the address that begins with https, or ask whoever runs the server for it.",
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
  "sync.confirmed": "{count, number} confirmed by server",
  "sync.oldest": "oldest {age}",
  "sync.nothing_waits": "nothing waits",
  "sync.level.late": "Waiting",
  "sync.level.very_late": "Waiting too long",
  "sync.level.trouble": "Look here",
  "sync.contact.none": "no contact",
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

  "enrol.title": "Make this tablet known",
  "enrol.what":
    "An administrator makes a code for one tablet. It works once, for ten minutes. Type it here while there is contact with the server.",
  "enrol.name": "Name of this tablet",
  "enrol.name_hint": "as it stands on its back, for example Bench 2",
  "enrol.name_missing": "The tablet has no name yet. Type the name that stands on its back.",
  "enrol.code": "Code",
  "enrol.code_missing": "The code is shorter than a code is. Type all {length, number} characters.",
  "enrol.rubout": "Rub out",
  "enrol.act": "Make it known",
  "enrol.working": "Asking the server.",
  "enrol.no_contact": "No contact with the server. A tablet can be made known only with contact.",
  "enrol.demo_what":
    "This is a demo works: a browser may make itself known with one tap. In a real works an administrator decides.",
  "enrol.demo_act": "Use this browser as a tablet of the demo",
  "enrol.demo_name": "Demo tablet",

  "sign_on.title": "Who works here now?",
  "sign_on.what":
    "Tap your name. Every find is kept under it until somebody else takes over. The open tray stays open.",
  "sign_on.nobody":
    "No names have come from the server yet. They appear here by themselves once there is contact.",
  "sign_on.ask_server": "Ask the server now",
  "sign_on.language": "Language",
  "sign_on.present": "works here now",
  "pin.field": "PIN of {name}",
  "pin.what":
    "The PIN proves who works here. It is sealed here so that only the server can open it, and is kept nowhere.",
  "pin.later":
    "There is no contact now. The PIN is sealed here and judged as soon as there is contact; you can work at once.",
  "pin.letters": "Letters",
  "pin.act": "Begin",
  "pin.back": "Another name",
  "pin.without": "Go on without PIN",
  "pin.without_what":
    "Without a PIN it is not proven who recorded: your records are kept, marked “author not proven”.",
  "pin.asked": "The server looks at the PIN.",
  "pin.proven": "Proven: {name}.",
  "pin.not_proven": "This was not the PIN of {name}. Your records are kept, marked “author not proven”.",
  "pin.no_key":
    "The PIN of {name} could not be sealed: the server’s key has not come yet. Your records are kept, marked “author not proven”.",
  "pin.again": "Type the PIN again",
  "pin.go_on": "Go on",
  "role.inspector": "inspector",
  "role.operator": "operator",
  "role.lead": "lead",
  "role.administrator": "administrator",
  "role.reader": "reader",

  "nav.change_person": "Somebody else",
  "nav.batches": "Batches",
  "nav.pareto": "Pareto",
  "nav.trays": "Trays",

  "batches.title": "Which batch?",
  "batches.filter": "Number on the card",
  "batches.filter_hint": "any part of the number",
  "batches.as_of": "List of {when} from the server.",
  "batches.as_of_never":
    "No list has come from the server yet. Batches that stand here are from this tablet's own records.",
  "batches.pieces": "{count, plural, one {# piece} other {# pieces}}",
  "batches.opened": "opened {when}",
  "batches.none":
    "No batch is known on this tablet yet. Batches appear here once they are opened and there is contact.",
  "batches.none_match":
    "No batch has “{text}” in its number. Look at the card again, or rub out a character.",
  "batches.no_definition":
    "The defect list of this batch has not come yet. It appears once there is contact.",

  "look.title": "Which look?",
  "look.first": "First look",
  "look.first_when": "the batch is back from finishing",
  "look.second": "Second look",
  "look.second_when": "the batch is finished",
  "look.other": "Look “{look}”",

  "author.not_proven": "author not proven",
  "author.waiting": "PIN not judged yet",
  "author.no_pin": "no PIN given",
  "author.title": "Trays that wait for their author",
  "author.what":
    "They were closed under a wrong PIN, or none. What was found in them counts; the trays count as looked at once their author confirms each one.",
  "author.sign_on": "Sign on with your PIN to confirm",
  "author.looked_at": "{count, plural, one {# piece} other {# pieces}} looked at",
  "author.confirm": "Tray {number, number} was mine",
  "tray.state_unproven": "closed, counts once its author is proven",
  "tray.title": "Which tray?",
  "tray.begin": "Begin tray {number, number}",
  "tray.go_on": "Go on with tray {number, number}",
  "tray.other": "Another number",
  "tray.other_title": "Number on the tray's card",
  "tray.begin_other": "Begin this tray",
  "tray.number_missing": "No number is typed. Type the number on the tray's card, from 1.",
  "tray.number_taken": "Tray {number, number} of this look was begun already. Read the card again.",
  "tray.places": "{count, plural, one {# place} other {# places}}",
  "tray.due": "due",
  "tray.looked_at": "looked at",
  "tray.waiting": "wait for their author",
  "tray.left": "left",
  "tray.pieces_caption": "pieces of this look, by the closed trays this tablet knows",
  "tray.state_closed": "closed",
  "tray.state_open": "open",
  "tray.state_open_elsewhere": "open on another tablet",
  "tray.state_differ": "closed more than once, and the numbers differ",
  "tray.closed_list": "Trays this tablet knows",
  "tray.none": "No tray of this look was begun yet.",
  "tray.not_whole":
    "The records of other tablets for this look have not come yet: numbers and trays here may be too few.",
  "tray.all_closed": "All due trays this tablet knows are closed.",
  "tray.too_many_known":
    "The closed trays hold more pieces than are due. Tell the lead before the batch moves on.",

  "tally.of_trays": "of {count, number}",
  "tally.tray": "Tray {number, number}",
  "tally.marked": "marked",
  "tally.rejects": "reject",
  "tally.locked": "locked",
  "tally.queries": "query",
  "tally.pad": "Defect keys",
  "tally.key_count": "{count, plural, one {# mark} other {# marks}} in this tray",
  "tally.not_sure": "Not sure",
  "tally.not_sure_do": "query place",
  "tally.undo": "Undo",
  "tally.undo_what": "takes back: {what}",
  "tally.undo_nothing": "nothing to take back",
  "tally.end": "Tray end",
  "tally.same_piece": "Same piece",
  "tally.same_piece_what": "next key adds to the last piece",
  "tally.same_piece_on": "next key: same piece",
  "tally.more_words": "More words",
  "tally.page": "{page, number} of {pages, number}",
  "tally.last": "Last find",
  "tally.no_find": "No find in this tray under your name yet.",
  "tally.storing": "being stored",
  "tally.stored": "stored",
  "tally.repeat_kept": "second tap: asked at tray end",
  "tally.taken_back": "taken back",
  "tally.lock_stays": "A lock it caused stays.",
  "tally.where": "{what}: where?",
  "tally.where_not_said": "Not said: worst class",
  "tally.critical": "Critical",
  "tally.critical_tell":
    "Tell {who} now, by voice. Piece to the locked place; this tray's good pieces stay together.",
  "tally.critical_tell_nobody":
    "Tell the lead now, by voice. Piece to the locked place; this tray's good pieces stay together.",
  "tally.or": "{names} or {last}",
  "tally.class.critical": "critical",
  "tally.class.major": "major",
  "tally.class.minor": "minor",
  "tally.class.by_zone": "class by its place",
  "tally.class.query": "not sure",
  "tally.kept": "held in memory and sent to the server all the same",
  "tally.not_stored": "Not stored",
  "tally.not_stored_what":
    "{count, plural, one {This entry is not in the tablet's store:} other {These entries are not in the tablet's store:}}",
  "tally.not_stored_do":
    "No more is taken until it is. Write it on the tray's card, then try again or save a rescue file and fetch the lead.",
  "tally.try_again": "Try again",
  "tally.entry": "{what}, tray {tray, number}",
  "tally.entry_undo": "taking back {what}, tray {tray, number}",
  "tally.entry_repeat": "{what}, second tap, tray {tray, number}",
  "tally.closed_already": "This tray is closed. Its finds can no longer be changed here.",
  "tally.not_here": "This tray is not known on this tablet.",

  "end.title": "End of tray {number, number}",
  "end.repeat_title": "{what}: one or two?",
  "end.repeat_what": "The key was tapped twice within a moment, at {when}. How many finds were it?",
  "end.one": "One",
  "end.two": "Two",
  "end.empty_title": "How many places held no piece?",
  "end.empty_what":
    "Count them on the tray, out of {places, number}. Places of pieces you took out as reject or query are not among them.",
  "end.none_empty": "None",
  "end.empty_missing": "No number is typed. Count the places without a piece and type how many there are.",
  "end.empty_too_many":
    "The tray has {places, number} places, and {empty, number} were typed as empty. Count again.",
  "end.does_not_fit":
    "{empty, number} empty places and {marked, plural, one {# marked piece} other {# marked pieces}} are more than the tray's {places, number} places. Count the empty places again, or go back and undo a find that was not there.",
  "end.show": "Show the tally",
  "end.check_title": "Does this agree with the tray?",
  "end.places": "places",
  "end.empty": "empty",
  "end.accepted": "accepted",
  "end.locked_of_these": "of these locked",
  "end.all_looked_at": "All looked at",
  "end.all_looked_at_what": "closes the tray",
  "end.count_again": "Count again",
  "end.not_yet": "Not yet: back to the keys",
  "end.closed": "Tray {number, number} is closed and stored.",
  "end.closing": "Closing.",

  "pareto.title": "What was found",
  "pareto.span_shift": "This shift",
  "pareto.span_day": "This day",
  "pareto.span_all": "All",
  "pareto.by_marks": "By marks",
  "pareto.by_pieces": "By pieces",
  "pareto.n":
    "n = {marks, plural, one {# mark} other {# marks}} on {pieces, plural, one {# piece} other {# pieces}}",
  "pareto.period": "{from} to {to}",
  "pareto.period_shift": "{shift} shift, {from} to {to}",
  "pareto.period_all": "everything recorded so far",
  "pareto.from_server": "Worked out by the server at {when}, from what has reached it.",
  "pareto.from_tablet":
    "No contact: these are only the records this tablet holds. Time since the last exchange with the server: {age}.",
  "pareto.for_roles":
    "Only the records this tablet holds. The tally of the whole works is open to a lead, an administrator or a reader who is signed on with a PIN the server has judged.",
  "pareto.from_tablet_never": "No contact: these are only the records this tablet holds.",
  "pareto.none": "Nothing was found in this period. Finds appear here as bars, the most frequent first.",
  "pareto.col_defect": "Defect",
  "pareto.col_marks": "Marks",
  "pareto.col_pieces": "Pieces",
  "pareto.col_share": "Share",
  "pareto.col_cumulative": "Cumulative",
  "pareto.chart":
    "Bars of finds by defect, the most frequent first, with a line of the cumulative share that ends at 100 %.",
  "pareto.bar": "{name}: {count, number}, {cumulative} cumulative",
  "pareto.axis": "cumulative share",
  "pareto.refresh": "Ask again",
  "pareto.working": "Asking the server.",

  "error.code-refused":
    "The server does not know this code, or it was used or is older than ten minutes. Ask the administrator for a new one.",
  "error.no-contact":
    "The server did not answer. Check that the tablet is in the works' network, then try again.",
  "error.not-ours":
    "Something other than the server answered, perhaps the network's own sign-in page. Open that page once, then try again.",
  "error.enrolled-before": "This tablet is known to the server already. Reload the page.",
  "error.not-enrolled": "The server does not know this tablet. Ask an administrator to make it known again.",
  "error.not-allowed": "The server does not allow this to this tablet. Tell the lead what you wanted to do.",
  "error.request-not-understood":
    "The server could not read what this tablet sent. Reload the page, then try again; if it stays, tell the lead.",
  "error.too-many-tries": "There were too many tries. Wait a few minutes, then try again.",
  "error.not-ready": "The server is busy or starting. Wait a moment, then try again.",
  "error.store-full": "The server has no room left. Tell the lead; what is on this tablet stays here.",
  "error.other":
    "It did not work, and the server gave the reason “{code}”. Try again; if it stays, tell the lead this word.",
} as const satisfies Record<string, string>;

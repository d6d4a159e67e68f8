// SPDX-License-Identifier: Apache-2.0
// The batch list, a look, its trays, the tally and the end of a tray.

export const bench = {
  "batches.for_readers": "You may see what was found, and record nothing.",
  "batches.title": "Which batch?",
  "batches.filter": "Number on the card",
  "batches.filter_hint": "any part of the number",

  "new_batch.begin": "Open a new batch",

  "batches.as_of": "List of {when} from the server.",
  "batches.as_of_never":
    "No list has come from the server yet. Batches that stand here are from this tablet's own records.",
  "batches.pieces": "{count, plural, one {# piece} other {# pieces}}",
  "batches.opened": "opened {when}",
  "batches.is_released": "released",
  "batches.left":
    "{count, plural, one {# released batch does} other {# released batches do}} not stand here. The number on the card finds each.",
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
  "look.count": "Count in",
  "look.rework": "Rework out and back",
  "look.strays": "Foreign or found pieces",
  "look.sign": "End of this look",

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
  "tray.entries": "Entries in tray {number, number}",
  "tray.state_open": "open here",
  "tray.state_open_elsewhere": "open on {tablet}, since {when}",
  "tray.state_differ": "closed more than once, and the numbers differ",
  "tray.none": "No tray of this look was begun yet.",
  "tray.not_whole":
    "The records of other tablets for this look have not come yet: numbers and trays here may be too few.",
  "tray.all_closed": "All due trays this tablet knows are closed.",
  "tray.too_many_known":
    "The closed trays hold more pieces than are due. Tell the lead before the batch moves on.",
  "tray.cards": "Trays of this look",
  "tray.no_card": "no card",
  "tray.not_counted":
    "Not counted in yet: how many pieces are due is not known. Somebody who does not look counts them in.",
  "tray.differences": "What does not agree",
  "tray.state_left": "left at place {place, number}, {when}",
  "tray.take_over": "Take over tray {number, number}",
  "tray.other_tablet": "another tablet",
  "tray.opened_on": "begun on {tablet}, {when}",
  "tray.number_not_due":
    "Tray {number, number} has no card in this count. Read the card again; if it lies here all the same, begin it and tell the lead.",
  "tray.begin_not_due": "Begin tray {number, number} all the same",

  "take.title": "Take over tray {number, number}",
  "take.left": "It was left {when}, looked at up to place {place, number}.",
  "take.not_left":
    "Nobody has left this tray: it is open on {tablet} since {when}. Ask there first. Then look at all of it from its first place.",
  "take.from": "Go on from place {place, number}",
  "take.from_what": "what lies before it was looked at",
  "take.from_first": "From its first place",
  "take.from_first_what": "as if nobody had looked",

  "eyes.not_known":
    "Who looked at these pieces before is not known here: the server has not said it. Work goes on.",
  "eyes.none": "You had none of these pieces in hand at an earlier look.",
  "eyes.title":
    "You had {before, number} of {looked, number} pieces of this batch in hand at an earlier look",
  "eyes.share":
    "Of the {pieces, plural, one {# piece} other {# pieces}} you will have looked at with the next tray, {certain, number} are surely new to your eyes, {possible, number} may be, and {never, number} surely are not.",
  "eyes.hand_out": "Best hands for the next tray",
  "eyes.no_more": "no piece of it meets the same eyes again",
  "eyes.more":
    "{more, plural, one {# piece of it may meet the same eyes again} other {# pieces of it may meet the same eyes again}}",
  "eyes.lead": "If you begin it all the same, a lead has to accept it by name.",
  "eyes.as_of": "From the server, {age}.",

  "tally.of_trays": "of {count, number}",
  "tally.tray": "Tray {number, number}",
  "tally.marked": "marked",
  "tally.left_of": "{left, number} left of {due, number}",
  "tally.from_place": "from place {place, number}",
  "tally.rejects": "reject",
  "tally.reworks": "rework",
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
  "tally.no_find": "No find in this tray under your name yet.",
  "tally.storing": "being stored",
  "tally.stored": "stored",
  "tally.repeat_kept": "second tap: asked at tray end",
  "tally.taken_back": "taken back",
  "tally.lock_stays": "A lock it caused stays.",
  "tally.where": "{what}: where?",
  "tally.where_not_said": "Not said: worst class",
  "tally.critical": "Critical, piece locked",
  "tally.critical_tell": "Tell {who} now, by voice. Keep this tray's good pieces together. Then go on.",
  "tally.critical_tell_nobody":
    "Tell the lead now, by voice. Keep this tray's good pieces together. Then go on.",
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
  "tally.not_here": "This tray is not known on this tablet.",

  "verdict.accept": "Accept",
  "verdict.accept_what": "stays in the tray",
  "verdict.rework": "Rework",

  "cavity.name": "Cavity",
  "cavity.not_said": "not said",
  "cavity.which": "Which cavity?",

  "limit_word.name": "limit",
  "limit_word.within": "within",
  "limit_word.watch": "near",
  "limit_word.broken": "broken",
  "limit_word.met": "kept",
  "limit_word.over": "not kept",

  "rest.due": "Rest your eyes.",
  "rest.told": "I rested",

  "leave.open": "Leave this tray",
  "leave.title": "Leaving tray {number, number}: looked at up to which place?",
  "leave.what":
    "Count on the tray, out of {places, number} places; 0 where none was looked at. Whoever goes on begins behind it.",
  "leave.act": "Leave the tray",
  "leave.missing": "No place is typed. Count up to which place was looked at, and type it; 0 for none.",
  "leave.too_many":
    "The tray has {places, number} places, and {place, number} was typed. Count again; a tray that was looked at to its last place is ended, not left.",

  "end.title": "End of tray {number, number}",
  "end.repeat_title": "{what}: one or two?",
  "end.repeat_what": "The key was tapped twice within a moment, at {when}. How many finds were it?",
  "end.one": "One",
  "end.two": "Two",
  "end.empty_title": "How many places held no piece?",
  "end.empty_what":
    "Count them on the tray, out of {places, number}. Places of pieces you took out as reject, rework or query are not among them.",
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
  "end.keep_together":
    "A piece of this tray is locked. Keep this tray together until the lead has decided, and go on with the next.",
  "end.all_looked_at": "All looked at",
  "end.all_looked_at_what": "closes the tray",
  "end.count_again": "Count again",
  "end.not_yet": "Not yet: back to the keys",
  "end.closed": "Tray {number, number} is closed and stored.",
  "end.closing": "Closing.",

  "tally.closed_already": "This tray is closed.",

  "closed.open_again": "The tray is open again. Count its empty places anew and close it again.",

  "picture.key": "Picture",
  "picture.take": "Take a picture of piece {tag}",
  "picture.keeping": "Storing",
  "picture.count": "{count, plural, one {# picture} other {# pictures}}",
  "picture.no_room":
    "No room for pictures on this tablet. Marks go on. Carry it to where there is contact: pictures that were sent make room.",
  "picture.unreadable": "This picture could not be read. The mark stands without it. Take it again.",
  "picture.none": "No picture was taken. The mark stands without one.",
  "picture.not_stored": "The picture was not stored. The mark stands without it. Take it again.",
  "picture.go_on": "Go on",
  "picture.of": "Picture of piece {tag}",

  "point.split_too_much":
    "{amount, plural, one {# piece more was} other {# pieces more were}} split off than there are.",
  "point.pieces_found": "{amount, plural, one {# piece} other {# pieces}} turned up where none should be.",
  "point.counts_differ":
    "Two counts of this look {sign, select, even {agree in pieces, and differ in trays} other {differ by {amount, plural, one {# piece} other {# pieces}}}}.",
  "point.cards_do_not_add_up":
    "The trays' cards hold {amount, plural, one {# piece} other {# pieces}} {sign, select, short {fewer} other {more}} than were counted in.",
  "point.foreign_pieces": "{amount, plural, one {# foreign piece} other {# foreign pieces}} lay among these.",
  "point.tray_not_due":
    "Tray {tray} has no card: {amount, plural, one {# piece was} other {# pieces were}} looked at in it that nobody counted in.",
  "point.tray_twice":
    "Tray {tray} was closed twice: {sign, select, even {as many looked at as due} short {{amount, number} fewer looked at than due} other {{amount, number} more looked at than due}}.",
  "point.tray_short": "Tray {tray}: {amount, number} fewer looked at than due.",
  "point.tray_over": "Tray {tray}: {amount, number} more looked at than due.",
  "point.closing_does_not_add_up":
    "Tray {tray}: its verdicts make {amount, plural, one {# piece} other {# pieces}} {sign, select, short {fewer} other {more}} than were looked at.",
  "point.closings_differ":
    "Tray {tray} was closed again with other numbers{sign, select, even {} other {: {amount, plural, one {# piece} other {# pieces}} apart}}.",
  "point.more_marked_than_looked_at":
    "{amount, plural, one {# piece more is} other {# pieces more are}} marked than were looked at.",
  "point.return_without_sending":
    "{amount, plural, one {# piece} other {# pieces}} came back from rework, and none was sent.",
  "point.rework_away": "{amount, plural, one {# piece is} other {# pieces are}} away for rework.",
  "point.rework_over":
    "{amount, plural, one {# piece more} other {# pieces more}} came back from rework than were sent.",
  "point.rework_not_sent":
    "{amount, plural, one {# piece judged as rework was} other {# pieces judged as rework were}} not sent there.",
  "point.rework_not_judged":
    "{amount, plural, one {# piece more was} other {# pieces more were}} sent to rework than were judged so.",
  "point.other": "Open: {kind} ({amount, number}). A newer version of the app says it in words.",

  "look.machine": "At the machine",
  "look.machine_when": "The checks of an operation, as they are due",

  "pedal.key": "Foot pedal",

  "look.saw": "Bars to this batch",
  "look.saw_when": "At the saw: which cast, how many bars",

  "goods.title": "Goods-in",
} as const satisfies Record<string, string>;

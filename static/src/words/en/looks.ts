// SPDX-License-Identifier: Apache-2.0
// The pages of a look beside its trays: counting in, rework, foreign pieces, its end.

export const looks = {
  "new_batch.title": "Open a batch",
  "new_batch.part": "Which part?",
  "new_batch.revision": "revision {revision}",
  "new_batch.number": "Number of the batch",
  "new_batch.number_hint": "as it stands on the batch's own paper",
  "new_batch.number_twice":
    "A batch {number} is there already, opened {when}. A second one with this number stays a batch of its own, and both are shown.",
  "new_batch.pieces": "How many pieces begin together?",
  "new_batch.act": "Open this batch",
  "new_batch.no_part":
    "No part is published yet. An administrator reads parts and defect lists in on the server: tallywright definitions import.",
  "new_batch.part_missing": "Choose the part that is made in this batch.",
  "new_batch.number_missing": "Enter the number that stands on the batch's paper.",
  "new_batch.pieces_missing": "Enter how many pieces begin together, at least one.",

  "count.missing": "No number is typed. Count, then type how many there are; 0 is a number.",
  "count.full_title": "How many trays are full?",
  "count.full_what": "A full tray holds {places, number} pieces. Trays that are not full come next.",
  "count.last_title": "How many pieces lie in the tray that is not full?",
  "count.last_what": "If there are more than one, take one of them; the others are added afterwards.",
  "count.no_last": "All are full",
  "count.more_than_places":
    "{count, number} pieces were typed, and a tray has {places, number} places. Count again, or add another tray afterwards.",
  "count.next": "Go on",
  "count.take": "Take this number",
  "count.tray_title": "How many pieces lie in tray {number, number}?",
  "count.tray_what": "Count them in the tray.",
  "count.no_such_tray": "There is no tray {number, number}",
  "count.check_title":
    "{pieces, plural, one {# piece} other {# pieces}} in {trays, plural, one {# tray} other {# trays}}",
  "count.check_what": "Tap a tray to put its number right. Nothing is stored yet.",
  "count.further": "Add tray {number, number}",
  "count.operation": "Counted behind operation",
  "count.operation_not_said": "not said",
  "count.store": "Store this count",
  "count.store_what":
    "{pieces, plural, one {# piece} other {# pieces}}, {trays, plural, one {# tray} other {# trays}}",
  "count.stored": "Counted in and stored",
  "count.yours": "your count",
  "count.by": "{person}, {when}",
  "count.by_nobody": "author not proven, {when}",
  "count.opened": "the batch was opened with",
  "count.newest":
    "The newest count is the one that is due. Counts that differ stay a difference until one is taken back or a lead accepts it.",
  "count.take_back": "My count is wrong: take it back",
  "count.looker":
    "You have looked at pieces of this look. Who looks does not count in: let somebody else count, or the look stays open.",

  "rework.send": "Send to rework",
  "rework.return": "Back from rework",
  "rework.sent_title": "How many pieces go to rework?",
  "rework.returned_title": "How many pieces came back?",
  "rework.count_what": "Count them in your hands. What was counted before is shown afterwards.",
  "rework.none_counted": "Of none there is nothing to store. Type 1 or more, or go back.",
  "rework.stored_sent": "sent now, stored",
  "rework.stored_returned": "came back now, stored",
  "rework.sent_in_all": "sent in all",
  "rework.returned_in_all": "came back in all",
  "rework.pieces": "Pieces for rework",
  "rework.choose": "Read the tag on the slip and look at the piece as new.",
  "rework.not_back": "They are looked at as new once they are counted back.",
  "rework.no_pieces": "No piece of this look is for rework now.",
  "rework.round": "look {round, number} at this piece",
  "rework.as_new": "Piece {tag}: look {round, number}",
  "rework.as_new_what": "Look at all of it, as if it were a new piece.",
  "rework.which_word": "Piece {tag}: which defect?",

  "strays.foreign": "A foreign piece lay here",
  "strays.foreign_what": "a piece of another batch among these",
  "strays.found": "A piece turned up",
  "strays.found_what": "of this batch, where none should be",
  "strays.tray": "In which tray it lay",
  "strays.no_tray": "in none",
  "strays.where": "Where it was",
  "strays.where_missing": "The place is missing. Say where the piece was, for example under the bench.",
  "strays.foreign_title": "How many foreign pieces?",
  "strays.foreign_do":
    "Take them out and tell the lead. At tray end their places do not count as empty: they held a piece.",
  "strays.found_title": "How many pieces turned up?",
  "strays.found_do": "Keep them apart and tell the lead: the look waits until it is decided.",
  "strays.stored": "Stored. It stands among the differences of this look.",

  "open.tray_not_opened": "{count, plural, one {# tray is} other {# trays are}} not begun",
  "open.tray_not_closed": "{count, plural, one {# tray is} other {# trays are}} not closed",
  "open.query_open": "{count, plural, one {# query} other {# queries}} open",
  "open.rework_open": "{count, plural, one {# piece} other {# pieces}} for rework, not yet looked at as new",
  "open.hold": "{count, plural, one {# hold stands} other {# holds stand}}",
  "open.not_understood":
    "{count, plural, one {# record is} other {# records are}} not understood here: a newer version of the app, or a defect list, is missing",
  "open.closing_not_proven":
    "{count, plural, one {# closed tray waits} other {# closed trays wait}} for a proven author",
  "open.differences": "{count, plural, one {# difference} other {# differences}}",

  "sign.open": "Still open",
  "sign.complete": "Complete: nothing is open in this look.",
  "sign.signed_by": "Signed by {person}, with all that is here.",
  "sign.rework": "rework",
  "sign.what":
    "Sign what you did, at any time. What is open stops the batch moving on, never your signature.",
  "sign.pin_what":
    "Your PIN puts your name and the time under this look. It is not a qualified electronic signature.",
  "sign.pin_missing": "The PIN is missing. Type it, then sign.",
  "sign.act": "Sign this look",
  "sign.stored": "Signed and stored. It counts once the server has judged the PIN.",

  "closed.title": "Tray {number, number} is closed",
  "closed.none": "You entered nothing in this tray. Each entry can be taken back only by whoever made it.",
  "closed.what":
    "These are your own entries. One that is wrong is taken back with a reason; it stays in the record.",
  "closed.take_back": "Take back",
  "closed.not_proven": "taken back, counts once its author is proven",
  "closed.why": "What was wrong with it?",
  "closed.find_what":
    "The piece goes to the queries, and the lead decides it. A lock or a hold that came of it stays.",
  "closed.closing": "The closing of the tray",
  "closed.closing_what": "The tray will be open again, and is closed once more.",
  "closed.wrong_key": "Wrong key",
  "closed.wrong_piece": "Wrong piece",
  "closed.counted_twice": "Counted twice",
  "closed.other_reason": "Another reason, in words",
  "closed.leave_it": "Leave it as it is",

  "point.not_understood":
    "A record of this batch is not understood here: a newer version of the app, or a defect list, is missing.",
  "point.hold": "A hold stands.",
  "point.query_open": "Piece {tag}: nobody has settled the query.",
  "point.rework_open": "Piece {tag}: it is for rework, and was not yet looked at as new.",
  "point.not_counted": "Nobody has counted the pieces in for this look.",
  "point.count_not_proven": "A count does not count yet: its author is not proven.",
  "point.counted_by_looker":
    "{person} counted the pieces in and looked at some of them. Somebody else has to count.",
  "point.tray_not_opened": "Tray {tray} was not begun.",
  "point.tray_not_closed": "Tray {tray} is not closed.",
  "point.closing_not_proven": "A closed tray does not count yet: its author is not proven.",
  "point.not_signed": "The look is not signed.",
  "point.signature_not_proven": "A signature does not count yet: its author is not proven.",
  "point.signed_before_this_came":
    "Signed before {amount, plural, one {# record} other {# records}} came: sign again.",
  "point.same_eyes":
    "{person} looks a second time at {amount, plural, one {# piece} other {# pieces}} at most: a lead has to accept it by name.",
  "point.start_differs":
    "Operation {at}: {amount, plural, one {# piece} other {# pieces}} {sign, select, short {fewer} other {more}} came than the batch was opened with.",
  "point.between_short":
    "Operation {at}: {amount, plural, one {# piece} other {# pieces}} fewer came than left the one before.",
  "point.between_over":
    "Operation {at}: {amount, plural, one {# piece} other {# pieces}} more came than left the one before.",
  "point.pieces_short":
    "Operation {at}: {amount, plural, one {# piece} other {# pieces}} short of what went in.",
  "point.pieces_over": "Operation {at}: {amount, plural, one {# piece} other {# pieces}} more than went in.",
  "point.finishes_differ":
    "An operation was finished twice with other numbers{sign, select, even {} other {: {amount, plural, one {# piece} other {# pieces}} apart}}.",
  "point.loads_differ":
    "Operation {at}: its loads hold {amount, plural, one {# piece} other {# pieces}} {sign, select, short {fewer} other {more}} than were counted.",
  "point.samples_differ":
    "Operation {at}: {amount, plural, one {# piece} other {# pieces}} {sign, select, short {fewer} other {more}} taken for tests than were counted as samples.",
  "point.components_short":
    "Operation {at}: {amount, plural, one {# assembly has} other {# assemblies have}} no {of}, by what was left over.",
  "point.components_over": "Operation {at}: {amount, number} × {of} more used than pieces were assembled.",
  "point.put_aside_short":
    "Behind operation {at}: {amount, plural, one {# piece} other {# pieces}} put aside never came to query or rework.",
  "point.put_aside_over":
    "Behind operation {at}: {amount, plural, one {# piece} other {# pieces}} more came to query and rework than were put aside.",
  "point.judged_otherwise":
    "Behind operation {at}: the verdicts reject {amount, plural, one {# piece} other {# pieces}} {sign, select, short {fewer} other {more}} than were counted as scrap.",
  "point.stint_not_finished": "An operation was begun and is not finished.",
  "point.lot_away": "{amount, plural, one {# piece is} other {# pieces are}} away with a lot.",
  "point.still_inside":
    "Operation {at}: {amount, plural, one {# piece was} other {# pieces were}} seen in the machine still.",
  "point.recounts_differ":
    "Operation {at}: the same pieces were counted twice, and the counts are {amount, plural, one {# piece} other {# pieces}} apart.",
  "point.counter_differs":
    "Operation {at}: the machine's counter shows {amount, plural, one {# piece} other {# pieces}} {sign, select, short {fewer} other {more}} than were counted.",
  "point.weighed_differs":
    "Operation {at}: the scale makes it {amount, plural, one {# piece} other {# pieces}} {sign, select, short {fewer} other {more}} than were counted.",
  "point.scrap_differs":
    "Scrap: {amount, plural, one {# piece} other {# pieces}} {sign, select, short {fewer} other {more}} destroyed and kept than handed in.",
  "point.scrap_over":
    "Operation {at}: {amount, plural, one {# piece} other {# pieces}} more handed in as scrap than was counted.",
  "point.destruction_not_seconded":
    "Scrap was destroyed ({amount, plural, one {# piece} other {# pieces}}), and no second person has put a name to it.",
} as const satisfies Record<string, string>;

# SPDX-License-Identifier: Apache-2.0
"""What people judge by, as a publication holds it: parts with their list, zones and limits, and shifts."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec
from msgspec import UNSET, Meta, UnsetType

from tallywright.records.envelope import Body, Day, Decimal, Hash, Label, Number, Share, Translations, Word

DefectClass = Literal["critical", "major", "minor"]
NOT_SURE = "not_sure"  # the reserved defect word of a piece somebody else has to judge


class ZoneClass(Body, frozen=True):
    """The class a defect word has in one zone."""

    zone: Word
    defect_class: DefectClass = msgspec.field(name="class")


class DefectWord(Body, frozen=True):
    """One word of the team's defect list: its key word and full words per language, and its class.

    born_at, also_born_at         operations that can make it; left out where any can
    first_seen_at, also_seen_at   operations whose usual check can show it
    look_alike, also_look_alikes  other words of the list, or a few words of what is harmless
    seen_by_eye                   a word no eye can find ("no") has no key, and stays in the list
    """

    defect: Word
    key: Translations
    words: Translations
    defect_class: DefectClass | UnsetType = msgspec.field(name="class", default=UNSET)
    by_zone: list[ZoneClass] | UnsetType = UNSET
    born_at: Number | UnsetType = UNSET
    also_born_at: list[Number] | UnsetType = UNSET
    first_seen_at: Number | UnsetType = UNSET
    also_seen_at: list[Number] | UnsetType = UNSET
    look_alike: Label | UnsetType = UNSET
    also_look_alikes: list[Label] | UnsetType = UNSET
    family: Label | UnsetType = UNSET
    seen_by_eye: Literal["yes", "gauge", "no"] | UnsetType = UNSET
    rework: Label | UnsetType = UNSET
    how_to_look: Label | UnsetType = UNSET
    why: Label | UnsetType = UNSET


class Zone(Body, frozen=True):
    """A named area of the part. `covered_after` is the operation behind which nobody can see it any more."""

    zone: Word
    words: Translations
    covered_after: Number | UnsetType = UNSET


class Operation(Body, frozen=True):
    """One operation of the route, by its number; `order` says whether pieces leave it in the order they came."""

    operation: Number
    words: Translations
    order: Literal["kept", "lost"] | UnsetType = UNSET


class Limit(Body, frozen=True):
    """How many pieces of a thousand may have a worst mark of this class at this look. A count, no acceptance."""

    look: Word
    allowed_per_thousand: Annotated[int, Meta(ge=0, le=1000)]
    defect_class: DefectClass = msgspec.field(name="class")


CheckKind = Literal["value", "go_not_go", "yes_no", "process", "document", "count"]
# What can happen at an operation besides pieces being made: a rule waits for it, a record tells it.
Event = Literal[
    "alarm", "bag", "bar", "batch", "box", "break", "bundle", "cast", "cavity", "despatch", "die", "load", "lot",
    "reheat", "remnant", "shift", "stop", "tool", "tray",
]  # fmt: skip


class CheckRule(Body, frozen=True):
    """When a check is due, and on how many pieces.

    at      events      at each of `events`; besides, a first-off is due at the start and a last-off at the end
            pieces      after `every` pieces made
            minutes     after `every` minutes
            each_piece  on every piece, as it is made
            logger      a logger takes it without a break
    pieces  how many pieces are checked each time, and at how many `places` of each; 1 where it is left out
    cell    the rule in the team's own words
    """

    at: Literal["events", "pieces", "minutes", "each_piece", "logger"]
    cell: Label
    pieces: Number | UnsetType = UNSET
    places: Number | UnsetType = UNSET
    every: Number | UnsetType = UNSET
    events: list[Event] | UnsetType = UNSET


class Characteristic(Body, frozen=True):
    """What is checked at an operation, by whom and how often, and what is done when it is out of its limits.

    kind      a value from a gauge; GO or NOT-GO, where no number exists; yes or no; a value of the process;
              a document; a count
    lower, upper   limits, on the line is inside; one of them left out is one-sided
    reaction  R1 to R9, the plan to follow
    """

    operation: Number
    characteristic: Number
    words: Translations
    kind: CheckKind
    defect_class: DefectClass = msgspec.field(name="class")
    nominal: Label | UnsetType = UNSET
    lower: Decimal | UnsetType = UNSET
    upper: Decimal | UnsetType = UNSET
    unit: Label | UnsetType = UNSET
    gauge: Label | UnsetType = UNSET
    first_off: CheckRule | UnsetType = UNSET
    in_process: CheckRule | UnsetType = UNSET
    last_off: CheckRule | UnsetType = UNSET
    who: Label | UnsetType = UNSET
    reaction: Annotated[str, Meta(pattern=r"^R[1-9](?![\s\S])")] | UnsetType = UNSET


class PartDefinition(Body, frozen=True, tag_field="subject", tag="part"):
    """One revision of a part: its route, its looks, its trays, its zones, its defect list, its limits and checks.

    load_bearing  a part somebody's weight may hang on: never fewer than two looks
    demo          invented classes, limits and rework notes: shown with a watermark, refused by a live works
    """

    part: Label
    revision: Label
    name: Translations
    tray_places: Number
    looks: Annotated[list[Word], Meta(min_length=1)]
    defects: list[DefectWord]
    zones: list[Zone] | UnsetType = UNSET
    cavities: list[Label] | UnsetType = UNSET
    load_bearing: bool | UnsetType = UNSET
    operations: list[Operation] | UnsetType = UNSET
    limits: list[Limit] | UnsetType = UNSET
    characteristics: list[Characteristic] | UnsetType = UNSET
    demo: bool | UnsetType = UNSET


class FileDefinition(Body, frozen=True, tag_field="subject", tag="file"):
    """A definition too large for a record: a file, named by the SHA-256 of its bytes, that holds it as JSON."""

    of: Literal["part"]
    part: Label
    revision: Label
    file: Hash


class ShiftStart(Body, frozen=True):
    """When a shift begins, on the site's wall clock."""

    shift: Label
    starts: Annotated[str, Meta(pattern=r"^([01][0-9]|2[0-3]):[0-5][0-9](?![\s\S])")]


class ShiftDefinition(Body, frozen=True, tag_field="subject", tag="shifts"):
    """The site's shifts; they partition the day."""

    time_zone: Label
    shifts: Annotated[list[ShiftStart], Meta(min_length=1)]


class ElementLimit(Body, frozen=True):
    """What an order allows of one element, in percent by mass, as printed; on the limit is inside."""

    element: Label
    low: Share | UnsetType = UNSET
    high: Share | UnsetType = UNSET


class MaterialDefinition(Body, frozen=True, tag_field="subject", tag="material"):
    """What the works orders of an alloy: the limits a certificate is held to. The tool has none of its own.

    order     the order the limits are of; left out where they hold for every order of the alloy
    rounding  how a value is rounded to the decimals of its limit; half to even where the order says nothing else
    demo      invented limits: shown with a watermark, refused by a live works
    """

    alloy: Label
    limits: Annotated[list[ElementLimit], Meta(min_length=1, max_length=60)]
    order: Label | UnsetType = UNSET
    rounding: Literal["half_even", "half_up"] | UnsetType = UNSET
    source: Label | UnsetType = UNSET
    demo: bool | UnsetType = UNSET


class GaugeDefinition(Body, frozen=True, tag_field="subject", tag="gauge"):
    """One gauge of the works, called by the number on its label.

    kinds       what it is, in the words of the check plan: "calliper"; more than one where the plan has more
    range       what it measures, and to which step, as it stands on it
    due         the last day it may be used before it is checked again, by the works' calendar
    place       where it is kept
    demo        an invented gauge: refused by a live works
    """

    number: Label
    kinds: Annotated[list[Label], Meta(min_length=1, max_length=20)]
    range: Label | UnsetType = UNSET
    resolution: Label | UnsetType = UNSET
    due: Day | UnsetType = UNSET
    place: Label | UnsetType = UNSET
    demo: bool | UnsetType = UNSET

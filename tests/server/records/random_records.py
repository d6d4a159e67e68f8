# SPDX-License-Identifier: Apache-2.0
"""Random records of every kind, made from the types themselves: whatever a kind allows, sooner or later comes."""

from __future__ import annotations

import random
import re
from typing import Any

import msgspec
from msgspec import UNSET, UnsetType, inspect

from tallywright.clock import CHAIN_ALPHABET
from tallywright.records.compose import ChainWriter
from tallywright.records.decode import Record
from tallywright.records.envelope import Body
from tallywright.records.kinds import KINDS

NASTY = [
    "Riß", "\x01\b\t\n\f\r\x1f", 'a "quoted" word', "back\\slash/solidus", "\u2028\u2029", "שבר", "😀🔩",
    "\x7f\x80", "\ufeff", "\ud7ff\ue000\uffff", "\U0010ffff", "</script><!--", "e\u0301", " ", "7",
]  # fmt: skip


class Writer:
    """Writes random records of one chain from a seed."""

    def __init__(self, seed: int) -> None:
        self.chance = random.Random(seed)
        self.depth = 0  # of lists within lists
        self.chain = ChainWriter(self._letters(CHAIN_ALPHABET, 26), self._id(), self._label(), site=self._id())

    def write(self, count: int) -> list[Record]:
        """Return that many records, of all kinds in turn."""
        kinds = [kind.body for kind in KINDS.values()]
        return [self._record(kinds[place % len(kinds)]) for place in range(count)]

    def _record(self, body: type[Body]) -> Record:
        chance = self.chance
        needs = KINDS[next(key for key, kind in KINDS.items() if kind.body is body)].needs
        self.chain.site = self._id() if "site" in needs or chance.random() < 0.5 else UNSET
        optional = {
            name: self._id()
            for name in ("sign_on", "batch", "definition")
            if name in needs or chance.random() < 0.5
        }
        skews: list[int | UnsetType] = [UNSET, 0, -1, 2**53 - 1, 1 - 2**53]
        skew = chance.choice(skews)
        made_at = chance.choice([0, 1_790_000_000_000, -1, 2**53 - 1])
        content = msgspec.convert(self._value(inspect.type_info(body)), body)
        return self.chain.add(content, made_at, offset_min=chance.randint(-1080, 1080), skew_ms=skew, **optional)

    def _value(self, kind: inspect.Type) -> Any:
        chance = self.chance
        match kind:
            case inspect.StructType():
                content = {
                    field.encode_name: self._value(_without_unset(field.type))
                    for field in kind.fields
                    if field.required or chance.random() < 0.5
                }
                return content | ({kind.tag_field: kind.tag} if kind.tag_field else {})
            case inspect.UnionType():
                return self._value(chance.choice(kind.types))
            case inspect.ListType() | inspect.CollectionType():
                # Lists within lists are short: a record has room for 16 KiB.
                least = kind.min_length or 0
                self.depth += 1
                most = 3 if kind.max_length is None else min(3, kind.max_length)
                length = chance.randint(least, most if self.depth == 1 else max(least, 1))
                found = [self._value(kind.item_type) for _ in range(length)]
                self.depth -= 1
                return found
            case inspect.DictType():
                return {
                    self._value(kind.key_type): self._value(kind.value_type) for _ in range(chance.randint(0, 3))
                }
            case inspect.LiteralType():
                return chance.choice(kind.values)
            case inspect.BoolType():
                return chance.random() < 0.5
            case inspect.IntType():
                return chance.choice([kind.ge, kind.le, chance.randint(kind.ge or 0, min(kind.le or 0, 10**6))])
            case inspect.StrType():
                return self._text(kind.pattern) if kind.pattern else self._label() * (kind.min_length or 1)
        raise NotImplementedError(kind)

    def _text(self, pattern: str) -> str:
        makers = (
            self._id,
            lambda: self._letters(CHAIN_ALPHABET, 26),
            lambda: self._letters("0123456789abcdef", 64),
            lambda: self._letters("0123456789abcdef", 16),
            lambda: self._letters(
                "abcdefghij_0123456789"[: self.chance.randint(10, 21)], self.chance.randint(2, 20)
            ),
            lambda: self._letters("abcdefgh", 2),
            lambda: self._letters("ABCDEFGH", self.chance.randint(2, 4)),
            lambda: self._letters("ABCDabcd0123+/", self.chance.randint(80, 400)),
            lambda: f"{self.chance.randint(-99, 10**8)}.{self.chance.randint(0, 999)}",
            lambda: f"{self.chance.choice(['', '<'])}{self.chance.randint(0, 100)}.{self.chance.randint(0, 99)}",
            lambda: f"R{self.chance.randint(1, 9)}",
            lambda: f"{self.chance.randint(0, 23):02}:{self.chance.randint(0, 59):02}",
            lambda: f"{self.chance.randint(0, 9999):04}-{self.chance.randint(1, 12):02}-31",
        )
        while True:
            text = self.chance.choice(makers)()
            if re.search(pattern, text):
                return text

    def _label(self) -> str:
        return "".join(self.chance.choice(NASTY) for _ in range(self.chance.randint(1, 5)))

    def _id(self) -> str:
        return f"{self._letters(CHAIN_ALPHABET, 26)}:{self.chance.randint(1, 10 ** self.chance.randint(1, 15))}"

    def _letters(self, alphabet: str, count: int) -> str:
        return "".join(self.chance.choice(alphabet) for _ in range(count))


def _without_unset(kind: inspect.Type) -> inspect.Type:
    """The type of an optional member when it is there."""
    if isinstance(kind, inspect.UnionType):
        types = tuple(part for part in kind.types if "UNSET" not in repr(part) and "Unset" not in repr(part))
        return types[0] if len(types) == 1 else inspect.UnionType(types)
    return kind

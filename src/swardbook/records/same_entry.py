"""Whether an entry that comes is one that is there, under the same id or another."""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import replace
from uuid import UUID, uuid5

from swardbook.husbandry.attachments import Attachment
from swardbook.husbandry.codec import plain_entry
from swardbook.husbandry.diary import DiaryEntry
from swardbook.records.chain import canonical
from swardbook.records.signing import is_signed_anew, signed

_NOBODY = UUID(int=0)
_MADE_FROM_CONTENT = 5
"""Version of the ids that are made here from what an entry says."""


def said_alone(entry: DiaryEntry) -> str:
    """Write what an entry says, without its id, what it corrects, and what was added to it."""
    bare = replace(_content(entry), id=_NOBODY, corrects=None, also_corrects=())
    return canonical(plain_entry(bare))


class Known:
    """The entries of a diary, to which others come from elsewhere, each after what it corrects.

    Where two books have two contents under one id, each keeps its own under it and the other's
    under an id made from both. So what comes is looked for under either, and what it corrects is
    looked up under the id that it has here.

    Parameters
    ----------
    there : mapping of UUID to DiaryEntry
        The entries that are there.
    coming : sequence of DiaryEntry
        All that come; a picture may come before the entry that it belongs to.
    """

    def __init__(self, there: Mapping[UUID, DiaryEntry], coming: Sequence[DiaryEntry] = ()) -> None:
        self.there = dict(there)
        self._called: dict[UUID, UUID] = {}
        self._alike: dict[Hashable, list[DiaryEntry]] | None = None
        if any(isinstance(each.what, Attachment) for each in coming):
            for each in coming:
                if each.corrects is None and not isinstance(each.what, Attachment):
                    self.known_as(each)

    def known_as(self, sent: DiaryEntry) -> DiaryEntry:
        """Give what comes as it is there, or as it is to be kept: marked, if its id is taken."""
        sent = self._about_ours(sent)
        entry = self._found(sent) or self._under_own_id(signed(sent))
        if entry.id != sent.id:
            self._called[sent.id] = entry.id
        return entry

    def keep(self, entry: DiaryEntry) -> None:
        """Take an entry among those that are there."""
        self.there[entry.id] = entry
        if self._alike is not None:
            self._alike.setdefault(_looks(entry), []).append(entry)

    def _about_ours(self, sent: DiaryEntry) -> DiaryEntry:
        """Let what comes be about the same entries as where it comes from."""
        called = self._called
        if not called:
            return sent
        what, corrects = sent.what, sent.corrects
        if isinstance(what, Attachment) and what.of is not None:
            what = replace(what, of=called.get(what.of, what.of))
        also = tuple(called.get(each, each) for each in sent.also_corrects)
        corrects = called.get(corrects, corrects) if corrects is not None else None
        return replace(sent, what=what, corrects=corrects, also_corrects=also)

    def _found(self, sent: DiaryEntry) -> DiaryEntry | None:
        same = self.there.get(sent.id)
        if same is not None:
            unsigned = replace(same, who="") if is_signed_anew(sent) else same
            if _content(unsigned) == _content(sent):
                return same  # whoever is logged in when it comes again
        if sent.id.version != _MADE_FROM_CONTENT:
            return None
        if self._alike is None:
            self._alike = {}
            for each in self.there.values():
                self._alike.setdefault(_looks(each), []).append(each)
        for each in self._alike.get(_looks(sent), ()):
            as_sent = replace(sent, id=each.id)
            if _content(each) == _content(as_sent) and self._own_id(each) == sent.id:
                return each
        return None

    def _under_own_id(self, sent: DiaryEntry) -> DiaryEntry:
        if sent.id not in self.there:
            return sent
        own = self._own_id(sent)
        if own in self.there:
            return self.there[own]
        told = f"It came under the id of another entry ({str(sent.id)[:8]}). Both are kept; look."
        return replace(sent, id=own, needs_a_look=f"{sent.needs_a_look} {told}".strip())

    def _own_id(self, entry: DiaryEntry) -> UUID:
        if entry.corrects is None:
            return uuid5(entry.id, canonical(plain_entry(_content(entry))))
        said = [said_alone(entry)]
        at: UUID | None = entry.corrects
        while at is not None and at in self.there:  # ids may be called otherwise in another book
            said.append(said_alone(self.there[at]))
            at = self.there[at].corrects
        return uuid5(entry.id, "\n".join(said))


def _content(entry: DiaryEntry) -> DiaryEntry:
    """Leave out what the receiving side adds: when it was written down, and what looked odd."""
    return replace(entry, written_on=None, needs_a_look="")


def _looks(entry: DiaryEntry) -> Hashable:
    return entry.what.kind, entry.zone, entry.when.first, entry.when.last

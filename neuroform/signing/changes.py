"""Says, in words, what one revision of a paper changed of another: page, field, attachment, document information.

pyHanko judges whether a change is allowed; this names it, and refuses on its own what it can name.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import sha256
from io import BytesIO
from typing import Any

import pikepdf

from neuroform.language import N_, _
from neuroform.signing import layout

_Id = tuple[int, int]

# What holds a paper together rather than being shown; signing itself writes these.
_STRUCTURAL = frozenset({"/AcroForm", "/Perms", "/DSS", "/Extensions", "/Pages", "/Type", "/AF", "/Names", "/Metadata"})


@dataclass(frozen=True, kw_only=True)
class Change:
    """One change that no signature made."""

    revision: int
    """The revision that brought it, from 1."""
    words: str
    """What it is."""

    def __str__(self) -> str:
        """Write the change with its revision."""
        return _(N_("{what} (revision {number})")).format(what=self.words, number=self.revision)


def after(pdf: bytes, end: int) -> list[Change]:
    """Return what was changed in the revisions of `pdf` behind byte `end`, signatures in kept places apart."""
    ends = [each for each in layout.revision_ends(pdf) if each > end]
    loose = len(pdf) > max([end, *ends])
    if loose:
        ends.append(len(pdf))
    found: list[Change] = []
    before = pdf[:end]
    for each in ends:
        current = pdf[:each]
        words = between(before, current)
        if loose and each == len(pdf) and not words:
            words = [_(N_("bytes were added at its end"))]
        found += [Change(revision=layout.revision_at(pdf, each), words=every) for every in words]
        before = current
    return found


def between(before: bytes, current: bytes) -> list[str]:
    """Return what differs between two revisions, each change a few words; [] if only kept places were signed."""
    try:
        with pikepdf.open(BytesIO(before)) as old, pikepdf.open(BytesIO(current)) as new:
            return list(_Comparison(old, new).words())
    except (pikepdf.PdfError, pikepdf.PasswordError):
        return [_(N_("something was added that can't be read"))]


class _Comparison:
    """Two revisions of one file, and which objects differ between them."""

    def __init__(self, old: pikepdf.Pdf, new: pikepdf.Pdf) -> None:
        self._old = old
        self._new = new
        before, now = _prints(old), _prints(new)
        self._changed = {each for each in now.keys() | before.keys() if now.get(each) != before.get(each)}

    def words(self) -> Iterator[str]:
        """Yield each change in words."""
        yield from self._pages()
        yield from self._fields()
        yield from self._attachments()
        yield from self._information()
        yield from self._catalogue()

    def _pages(self) -> Iterator[str]:
        old, new = list(self._old.pages), list(self._new.pages)
        for number, (before, now) in enumerate(zip(old, new, strict=False), start=1):
            if before.obj.objgen != now.obj.objgen:
                yield _(N_("page {number} was exchanged")).format(number=number)
                continue
            yield from self._page(number, before.obj, now.obj)
        for number in range(len(old) + 1, len(new) + 1):
            yield _(N_("page {number} was added")).format(number=number)
        for number in range(len(new) + 1, len(old) + 1):
            yield _(N_("page {number} was taken out")).format(number=number)

    def _page(self, number: int, before: Any, now: Any) -> Iterator[str]:
        if self._differs(before, now, "/Contents"):
            covered = set(_streams(before)) < set(_streams(now))
            words = N_("page {number} was covered over") if covered else N_("page {number} was rewritten")
            yield _(words).format(number=number)
        elif any(
            self._differs(before, now, key)
            for key in sorted(set(before.keys()) | set(now.keys()))
            if key not in {"/Annots", "/Parent", "/Contents"}
        ):
            yield _(N_("page {number} looks different")).format(number=number)
        yield from self._annotations(number, before, now)

    def _annotations(self, number: int, before: Any, now: Any) -> Iterator[str]:
        old, new = _annotations(before), _annotations(now)
        for each in new.keys() - old.keys():
            if not _is_field(new[each]):
                yield _(N_("an annotation was added to page {number}")).format(number=number)
        for each in old.keys() - new.keys():
            if not _is_field(old[each]):
                yield _(N_("an annotation on page {number} was taken away")).format(number=number)
        for each in old.keys() & new.keys():
            if not _is_field(new[each]) and self._touched(new[each]):
                yield _(N_("an annotation on page {number} was changed")).format(number=number)

    def _fields(self) -> Iterator[str]:
        old, new = _fields(self._old), _fields(self._new)
        for name in sorted(new.keys() - old.keys()):
            if not _is_timestamp(new[name]):
                yield _(N_("the field {name} was added")).format(name=name)
        for name in sorted(old.keys() - new.keys()):
            yield _(N_("the field {name} was taken away")).format(name=name)
        for name in sorted(old.keys() & new.keys()):
            yield from self._field(name, old[name], new[name])

    def _field(self, name: str, before: Any, now: Any) -> Iterator[str]:
        signs = str(now.get("/FT", "")) == "/Sig"
        had, has = before.get("/V") is not None, now.get("/V") is not None
        if had and self._touched(now):
            yield _(N_("the field {name}, signed already, was changed")).format(name=name)
        elif has and not had and not signs:
            yield _(N_("the field {name} was filled in")).format(name=name)
        elif not had and not has and self._touched(now):
            yield _(N_("the field {name} was changed")).format(name=name)
        elif before.objgen != now.objgen or _rest(before) != _rest(now):
            yield _(N_("the field {name} was changed beyond its signature")).format(name=name)

    def _attachments(self) -> Iterator[str]:
        old, new = _attachments(self._old), _attachments(self._new)
        for name in sorted(new.keys() - old.keys()):
            yield _(N_("the attachment {name} was added")).format(name=name)
        for name in sorted(old.keys() - new.keys()):
            yield _(N_("the attachment {name} was taken away")).format(name=name)
        for name in sorted(old.keys() & new.keys()):
            if old[name] != new[name]:
                yield _(N_("the attachment {name} was exchanged")).format(name=name)

    def _information(self) -> Iterator[str]:
        old, new = self._old, self._new
        same_info = _info(old) == _info(new)
        if not same_info or self._differs(old.Root, new.Root, "/Metadata"):
            yield _(N_("the document information was changed"))

    def _catalogue(self) -> Iterator[str]:
        old, new = self._old.Root, self._new.Root
        if old.objgen != new.objgen:
            yield _(N_("the document's root was exchanged"))
        for key in sorted(set(old.keys()) | set(new.keys())):
            if key not in _STRUCTURAL and self._differs(old, new, key):
                yield _(N_("the document's entry {name} was changed")).format(name=key[1:])

    def _differs(self, before: Any, now: Any, key: str) -> bool:
        one, other = before.get(key), now.get(key)
        if one is None or other is None:
            return one is not other
        return bool(_unparsed(one) != _unparsed(other) or self._touched(other))

    def _touched(self, root: Any) -> bool:
        """Say whether anything reachable from `root`, other pages apart, differs between the revisions."""
        return any(each in self._changed for each in _reach(root))


def _prints(pdf: pikepdf.Pdf) -> dict[_Id, bytes]:
    prints: dict[_Id, bytes] = {}
    for each in pdf.objects:
        if isinstance(each, pikepdf.Dictionary | pikepdf.Stream) and str(each.get("/Type", "")) in {"/XRef", "/ObjStm"}:
            continue
        if isinstance(each, pikepdf.Object):
            digest = sha256(each.unparse(resolved=True))
            if isinstance(each, pikepdf.Stream):
                digest.update(_unparsed(each.stream_dict))
                digest.update(each.read_raw_bytes())
            prints[each.objgen] = digest.digest()
    return prints


def _reach(root: Any) -> Iterator[_Id]:
    seen: set[_Id] = set()
    waiting = [root]
    while waiting:
        each = waiting.pop()
        if not isinstance(each, pikepdf.Object):
            continue
        if each.is_indirect:
            if each.objgen in seen or (each is not root and _is_page(each)):
                continue
            seen.add(each.objgen)
            yield each.objgen
        if isinstance(each, pikepdf.Array):
            waiting += list(each.as_list())
        elif isinstance(each, pikepdf.Dictionary | pikepdf.Stream):
            # "/Obj" leads from the structure tree to a signature's place, which is compared on its own.
            waiting += [each.get(key) for key in list(each.keys()) if key not in {"/Parent", "/P", "/V", "/Obj"}]


def _is_page(each: Any) -> bool:
    return isinstance(each, pikepdf.Dictionary) and str(each.get("/Type", "")) in {"/Page", "/Pages", "/Catalog"}


def _unparsed(each: Any) -> bytes:
    return bytes(each.unparse()) if isinstance(each, pikepdf.Object) else repr(each).encode()


def _streams(page: Any) -> list[_Id]:
    contents = page.get("/Contents")
    if isinstance(contents, pikepdf.Array):
        return [each.objgen for each in contents.as_list()]
    return [] if contents is None else [contents.objgen]


def _annotations(page: Any) -> dict[object, Any]:
    found = page.get("/Annots")
    if not isinstance(found, pikepdf.Array):
        return {}
    return {each.objgen if each.is_indirect else each.unparse(): each for each in found.as_list()}


def _is_field(annotation: Any) -> bool:
    return annotation.get("/FT") is not None or (
        str(annotation.get("/Subtype", "")) == "/Widget" and annotation.get("/Parent") is not None
    )


def _fields(pdf: pikepdf.Pdf) -> dict[str, Any]:
    form = pdf.Root.get("/AcroForm")
    found = form.get("/Fields") if isinstance(form, pikepdf.Dictionary) else None
    return {str(each.get("/T", "")): each for each in found.as_list()} if isinstance(found, pikepdf.Array) else {}


def _rest(field: Any) -> list[tuple[str, bytes]]:
    """Return what a signature may not change of the field it fills."""
    return [(key, _unparsed(field.get(key))) for key in sorted(field.keys()) if key not in {"/V", "/AP", "/M"}]


def _is_timestamp(field: Any) -> bool:
    value = field.get("/V")
    return value is not None and str(value.get("/Type", "")) == "/DocTimeStamp"


def _attachments(pdf: pikepdf.Pdf) -> dict[str, bytes]:
    found: dict[str, bytes] = {}
    for name, specification in pdf.attachments.items():
        found[name] = _unparsed(specification.obj) + _contents(specification.obj)
    associated = pdf.Root.get("/AF")
    if isinstance(associated, pikepdf.Array):
        for each in associated.as_list():
            name = str(each.get("/UF", each.get("/F", "")))
            found[name] = found.get(name, b"") + _unparsed(each) + _contents(each)
    return found


def _contents(specification: Any) -> bytes:
    files = specification.get("/EF")
    stream = None if files is None else files.get("/F")
    return bytes(stream.read_bytes()) if isinstance(stream, pikepdf.Stream) else b""


def _info(pdf: pikepdf.Pdf) -> bytes:
    found = pdf.trailer.get("/Info")
    return b"" if found is None else bytes(found.unparse(resolved=True))

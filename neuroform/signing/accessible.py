"""Ties the places for signatures into a paper's structure tree and declares PDF/UA-1, once both are so."""

from typing import Any

from pyhanko.pdf_utils import generic
from pyhanko.pdf_utils.generic import pdf_name
from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter

# ISO 14289-1, 5: the identification; ISO 19005-3, 6.6.2.3: PDF/A lets a file say this only beside its description.
_DECLARED = b"""<rdf:Description rdf:about="" xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/">
<pdfuaid:part>1</pdfuaid:part>
</rdf:Description>
<rdf:Description rdf:about="" xmlns:pdfaExtension="http://www.aiim.org/pdfa/ns/extension/"
 xmlns:pdfaSchema="http://www.aiim.org/pdfa/ns/schema#" xmlns:pdfaProperty="http://www.aiim.org/pdfa/ns/property#">
<pdfaExtension:schemas><rdf:Bag><rdf:li rdf:parseType="Resource">
<pdfaSchema:namespaceURI>http://www.aiim.org/pdfua/ns/id/</pdfaSchema:namespaceURI>
<pdfaSchema:prefix>pdfuaid</pdfaSchema:prefix>
<pdfaSchema:schema>PDF/UA identification schema</pdfaSchema:schema>
<pdfaSchema:property><rdf:Seq><rdf:li rdf:parseType="Resource">
<pdfaProperty:category>internal</pdfaProperty:category>
<pdfaProperty:description>Which part of ISO 14289 the file follows</pdfaProperty:description>
<pdfaProperty:name>part</pdfaProperty:name>
<pdfaProperty:valueType>Integer</pdfaProperty:valueType>
</rdf:li></rdf:Seq></pdfaSchema:property>
</rdf:li></rdf:Bag></pdfaExtension:schemas>
</rdf:Description>
"""
_END = b"</rdf:RDF>"


def tie_in(writer: IncrementalPdfFileWriter, field: Any, reference: Any, page: Any, *, name: str, words: str) -> None:
    """Give a signature field's widget its Form element, in the place the pages keep for it or else at the end.

    `page` is the page's reference; `name` is what the pages call the place. Nothing is done to pages without tags.
    """
    if "/StructTreeRoot" not in writer.root:
        return
    tree = writer.root["/StructTreeRoot"]
    element = _kept(tree, name)
    if element is None:
        element = _appended(writer, tree)
    element[pdf_name("/Pg")] = page
    element[pdf_name("/Alt")] = generic.TextStringObject(words)
    # The one kid isn't in an array: pyHanko, as it judges, knows a field's place in the tree by this path alone.
    element[pdf_name("/K")] = generic.DictionaryObject(
        {pdf_name("/Type"): pdf_name("/OBJR"), pdf_name("/Obj"): reference}
    )
    writer.update_container(element)
    number = int(tree["/ParentTreeNextKey"])
    tree[pdf_name("/ParentTreeNextKey")] = generic.NumberObject(number + 1)
    parents = tree["/ParentTree"]
    parents["/Nums"].extend([generic.NumberObject(number), _reference(element)])
    writer.update_container(parents)
    writer.update_container(parents["/Nums"])
    writer.update_container(tree)
    field[pdf_name("/StructParent")] = generic.NumberObject(number)


def declare(writer: IncrementalPdfFileWriter) -> None:
    """Say in the metadata of a tagged paper that it is accessible (PDF/UA-1)."""
    if "/StructTreeRoot" not in writer.root:
        return
    head, end, tail = bytes(writer.root["/Metadata"].data).rpartition(_END)
    stream = generic.StreamObject(
        {pdf_name("/Type"): pdf_name("/Metadata"), pdf_name("/Subtype"): pdf_name("/XML")},
        stream_data=head + _DECLARED + end + tail,
    )
    writer.root[pdf_name("/Metadata")] = writer.add_object(stream)
    writer.update_root()


def _kept(tree: Any, name: str) -> Any:
    """Return the empty Form element that the pages keep for a signature, or None."""
    waiting = [tree]
    while waiting:
        element = waiting.pop().get_object()
        if not isinstance(element, generic.DictionaryObject):
            continue
        kids = element.get("/K", generic.ArrayObject())
        if element.get("/S") == "/Form" and element.get("/T") == name and not kids:
            return element
        waiting += kids if isinstance(kids, generic.ArrayObject) else [kids]
    return None


def _appended(writer: IncrementalPdfFileWriter, tree: Any) -> Any:
    """Return a new Form element behind all else of the document's own element."""
    top = tree["/K"]
    document = (top[0] if isinstance(top, generic.ArrayObject) else top).get_object()
    element = generic.DictionaryObject(
        {
            pdf_name("/Type"): pdf_name("/StructElem"),
            pdf_name("/S"): pdf_name("/Form"),
            pdf_name("/P"): _reference(document),
        }
    )
    document["/K"].append(writer.add_object(element))
    writer.update_container(document["/K"])
    writer.update_container(document)
    return element


def _reference(held: Any) -> Any:
    return generic.IndirectObject(held.container_ref.idnum, held.container_ref.generation, held.container_ref.pdf)

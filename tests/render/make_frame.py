"""Make templates/docx/frame.docx: the styles, lists, head and foot that a firm may restyle in Word.

    python tests/render/make_frame.py templates/docx/frame.docx

The fonts travel inside it as ECMA-376 part 4, 17.8.1 has it (the first 32 bytes veiled with a key).
"""

from __future__ import annotations

import sys
import zipfile
from io import BytesIO
from pathlib import Path

import docx
from docx.enum.style import WD_STYLE_TYPE
from docx.enum.text import WD_TAB_ALIGNMENT
from docx.opc.constants import RELATIONSHIP_TYPE
from docx.opc.packuri import PackURI
from docx.opc.part import Part
from docx.oxml import parse_xml
from docx.oxml.ns import nsdecls, qn
from docx.shared import Mm, Pt, RGBColor

from spec.render import fonts

FONT = "Scantling Sans"
KEY = "6F1D0C52-9B7A-4E0E-8C55-3A1B7D20E4C9"
INK, QUIET, PINE, RUST = "2A2C2B", "56605C", "2F5B54", "A8431F"
BAND, RUST_BAND = "F2EDE2", "F9E7DE"
TEXT_WIDTH = Mm(171.9)


def plain_style(
    document, name, base="Normal", *, size=None, color=None, bold=None, before=0, after=0
):
    """A paragraph style, made new or taken over."""
    styles = document.styles
    known = [style.name for style in styles]
    style = styles[name] if name in known else styles.add_style(name, WD_STYLE_TYPE.PARAGRAPH)
    style.base_style = styles[base] if name not in (base, "Normal") else None
    style.quick_style = True
    style.hidden = False
    for old in style.element.findall(qn("w:rPr")):
        style.element.remove(old)
    for old in style.element.findall(qn("w:pPr")):
        style.element.remove(old)
    fonts_of = style.element.get_or_add_rPr().get_or_add_rFonts()
    for where in ("ascii", "hAnsi", "cs", "eastAsia"):
        fonts_of.set(qn(f"w:{where}"), FONT)
    if size:
        style.font.size = Pt(size)
    if color:
        style.font.color.rgb = RGBColor.from_string(color)
    if bold is not None:
        style.font.bold = bold
    style.paragraph_format.space_before = Pt(before)
    style.paragraph_format.space_after = Pt(after)
    return style


def tinted(style, fill, bar):
    """A band of color with a bar at its left."""
    style.element.get_or_add_pPr().append(
        parse_xml(
            f"<w:pBdr {nsdecls('w')}>"
            f'<w:left w:val="single" w:sz="24" w:space="6" w:color="{bar}"/></w:pBdr>'
        )
    )
    style.element.get_or_add_pPr().append(
        parse_xml(f'<w:shd {nsdecls("w")} w:val="clear" w:color="auto" w:fill="{fill}"/>')
    )
    style.paragraph_format.left_indent = Mm(3)


def styles(document) -> None:
    """All styles that the renderer names."""
    normal = plain_style(document, "Normal", size=10, color=INK, after=5)
    normal.paragraph_format.line_spacing = 1.08
    plain_style(document, "Title", size=22, color=PINE, bold=True, after=12)
    for level, size, before, after, color in (
        (1, 15, 20, 6, PINE),
        (2, 12, 14, 5, INK),
        (3, 10, 11, 4, INK),
    ):
        style = plain_style(
            document,
            f"Heading {level}",
            size=size,
            color=color,
            bold=True,
            before=before,
            after=after,
        )
        style.paragraph_format.keep_with_next = True
        outline = parse_xml(f'<w:outlineLvl {nsdecls("w")} w:val="{level - 1}"/>')
        style.element.get_or_add_pPr().append(outline)
    for name, number in (("List Dash", 1), ("List Number", 2), ("List Box", 3)):
        style = plain_style(document, name, after=3)
        style.element.get_or_add_pPr().append(
            parse_xml(
                f'<w:numPr {nsdecls("w")}><w:ilvl w:val="0"/><w:numId w:val="{number}"/></w:numPr>'
            )
        )
    tinted(plain_style(document, "Caution", before=4, after=8), BAND, PINE)
    tinted(plain_style(document, "Held", before=4, after=8), RUST_BAND, RUST)
    tinted(
        plain_style(document, "Head Held", size=8.5, color=RUST, bold=True, before=2, after=2),
        RUST_BAND,
        RUST,
    )
    plain_style(document, "Small", size=8.5, color=QUIET, after=5)
    caption = plain_style(document, "Caption", size=9, color=QUIET, before=4, after=4)
    caption.paragraph_format.keep_with_next = False
    above = plain_style(
        document, "Caption Above", "Caption", size=9, color=QUIET, before=8, after=3
    )
    above.paragraph_format.keep_with_next = True
    facts = plain_style(document, "Facts Title", bold=True, before=8, after=3)
    facts.paragraph_format.keep_with_next = True
    picture = plain_style(document, "Picture", before=4, after=2)
    picture.paragraph_format.keep_with_next = True
    plain_style(document, "Table Text", size=9, before=1.5, after=1.5)
    plain_style(
        document, "Table Head", "Table Text", size=9, color="FFFFFF", bold=True, before=2, after=2
    )
    plain_style(document, "Table Label", "Table Text", size=9, color=QUIET, before=1.5, after=1.5)
    plain_style(document, "After Table", size=4, after=4)
    for name in ("Header", "Footer"):
        style = plain_style(document, name, size=8, color=QUIET)
        style.paragraph_format.tab_stops.add_tab_stop(TEXT_WIDTH, WD_TAB_ALIGNMENT.RIGHT)
    keep = {
        "Normal",
        "Title",
        "Heading 1",
        "Heading 2",
        "Heading 3",
        "Header",
        "Footer",
        "Caption",
        "Default Paragraph Font",
        "Normal Table",
        "No List",
        "List Number",
    }
    own = {
        "List Dash",
        "List Box",
        "Caution",
        "Held",
        "Head Held",
        "Small",
        "Caption Above",
        "Picture",
        "Facts Title",
        "Table Text",
        "Table Head",
        "Table Label",
        "After Table",
    }
    for style in list(document.styles):
        if style.name not in keep | own:
            style.delete()
    for link in document.styles.element.iter(qn("w:link")):
        if not document.styles.element.xpath(f"w:style[@w:styleId='{link.get(qn('w:val'))}']"):
            link.getparent().remove(link)
    for theme in ("asciiTheme", "hAnsiTheme", "eastAsiaTheme", "cstheme"):
        for element in document.styles.element.iter(qn("w:rFonts")):
            element.attrib.pop(qn(f"w:{theme}"), None)


def lists(document) -> None:
    """Three list patterns: dash, number, box to tick."""
    numbering = document.part.numbering_part.element
    for child in list(numbering):
        numbering.remove(child)
    face = (
        f'<w:rPr><w:rFonts w:ascii="{FONT}" w:hAnsi="{FONT}" w:cs="{FONT}" '
        f'w:hint="default"/></w:rPr>'
    )
    for number, (form, sign) in enumerate(
        (("bullet", "–"), ("decimal", "%1."), ("bullet", "☐")), 1
    ):
        numbering.append(
            parse_xml(
                f'<w:abstractNum {nsdecls("w")} w:abstractNumId="{number}">'
                f'<w:multiLevelType w:val="singleLevel"/>'
                f'<w:lvl w:ilvl="0"><w:start w:val="1"/>'
                f'<w:numFmt w:val="{form}"/><w:lvlText w:val="{sign}"/>'
                f'<w:lvlJc w:val="left"/><w:pPr><w:ind w:left="397" w:hanging="340"/></w:pPr>'
                f"{face}</w:lvl>"
                f"</w:abstractNum>"
            )
        )
    for number in (1, 2, 3):
        numbering.append(
            parse_xml(
                f'<w:num {nsdecls("w")} w:numId="{number}">'
                f'<w:abstractNumId w:val="{number}"/></w:num>'
            )
        )


def field(paragraph, code: str) -> None:
    """A field that the word processor fills in."""
    for kind, inner in (("begin", ""), ("", code), ("separate", ""), ("text", "1"), ("end", "")):
        run = paragraph.add_run()
        if kind == "text":
            run.text = inner
        elif kind:
            run._r.append(parse_xml(f'<w:fldChar {nsdecls("w")} w:fldCharType="{kind}"/>'))
        else:
            run._r.append(
                parse_xml(
                    f'<w:instrText {nsdecls("w")} xml:space="preserve"> {inner} </w:instrText>'
                )
            )


def head_and_foot(document) -> None:
    """Job, revision, day, title and held gates above; title, fingerprint and page below."""
    section = document.sections[0]
    section.page_width, section.page_height = Mm(215.9), Mm(279.4)
    section.left_margin = section.right_margin = Mm(22)
    section.top_margin, section.bottom_margin = Mm(24), Mm(20)
    section.header_distance, section.footer_distance = Mm(12), Mm(10)
    header = section.header
    first = header.paragraphs[0]
    first.style = "Header"
    first.add_run("{{ head.job }}\t")
    first.add_run("{{ head.issue }}").bold = True
    header.add_paragraph(style="Header").add_run("{{ head.title }}").bold = True
    header.add_paragraph("{%p for line in head.held %}", style="Header")
    header.add_paragraph("{{ line }}", style="Head Held")
    header.add_paragraph("{%p endfor %}", style="Header")
    last = header.add_paragraph(style="Header")
    last.paragraph_format.space_after = Pt(8)
    last._p.get_or_add_pPr().append(
        parse_xml(
            f"<w:pBdr {nsdecls('w')}>"
            f'<w:top w:val="single" w:sz="8" w:space="1" w:color="{PINE}"/></w:pBdr>'
        )
    )
    foot = section.footer.paragraphs[0]
    foot.style = "Footer"
    foot.add_run("{{ head.title }} · fingerprint {{ head.fingerprint }}\tpage ")
    field(foot, "PAGE")
    foot.add_run(" of ")
    field(foot, "NUMPAGES")
    document.add_paragraph("{{ title }}", style="Title")


def veiled(face: bytes) -> bytes:
    """A font file with its first 32 bytes combined with the key, read backward."""
    key = bytes.fromhex(KEY.replace("-", ""))[::-1]
    return bytes(byte ^ key[i % 16] for i, byte in enumerate(face[:32])) + face[32:]


def embed_fonts(document) -> None:
    """A font table with the three faces, and the setting that asks for them."""
    part = next(
        p for p in document.part.package.iter_parts() if p.partname == "/word/fontTable.xml"
    )
    slots = []
    for face, slot in (("regular", "Regular"), ("bold", "Bold"), ("italic", "Italic")):
        name = PackURI(f"/word/fonts/{face}.odttf")
        kind = "application/vnd.openxmlformats-officedocument.obfuscatedFont"
        font = Part(name, kind, veiled(fonts.file(face, "ttf").read_bytes()), part.package)
        link = part.relate_to(font, RELATIONSHIP_TYPE.FONT)
        slots.append(f'<w:embed{slot} r:id="{link}" w:fontKey="{{{KEY}}}"/>')
    part._blob = (
        '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
        f'<w:fonts {nsdecls("w", "r")}><w:font w:name="{FONT}"><w:altName w:val="Calibri"/>'
        '<w:charset w:val="00"/><w:family w:val="swiss"/><w:pitch w:val="variable"/>'
        f"{''.join(slots)}"
        "</w:font></w:fonts>"
    ).encode()


PARAGRAPH_ORDER = [
    "pStyle",
    "keepNext",
    "keepLines",
    "pageBreakBefore",
    "widowControl",
    "numPr",
    "pBdr",
    "shd",
    "tabs",
    "spacing",
    "ind",
    "jc",
    "outlineLvl",
]
SETTINGS = f"""<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<w:settings {nsdecls("w")}><w:zoom w:percent="100"/>\
<w:embedTrueTypeFonts/><w:defaultTabStop w:val="720"/>\
<w:compat><w:compatSetting w:name="compatibilityMode" \
w:uri="http://schemas.microsoft.com/office/word" w:val="15"/></w:compat></w:settings>
"""
PROPERTIES = """<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<Properties xmlns="http://schemas.openxmlformats.org/officeDocument/2006/extended-properties">\
<Application>Scantling</Application></Properties>
"""


def in_schema_order(root) -> None:
    """Word wants the properties of a paragraph in the order of the schema."""
    for properties in root.iter(qn("w:pPr")):
        properties[:] = sorted(
            properties, key=lambda child: PARAGRAPH_ORDER.index(child.tag.rpartition("}")[2])
        )


def drop_leftovers(document) -> None:
    """Take out what the library's own template carries along and nothing here uses."""
    unused = ("stylesWithEffects", "customXml", "thumbnail", "webSettings")
    for rels in (document.part.rels, document.part.package.rels):
        for link in [key for key, rel in rels.items() if rel.reltype.endswith(unused)]:
            del rels[link]
    for part in document.part.package.iter_parts():
        if part.partname == "/docProps/app.xml":
            part._blob = PROPERTIES.encode()
    for latent in document.styles.element.findall(qn("w:latentStyles")):
        document.styles.element.remove(latent)
    settings = document.settings.element
    settings[:] = list(parse_xml(SETTINGS.encode()))


def main(target: Path) -> None:
    """Write the frame with a fixed time in every entry."""
    document = docx.Document()
    for paragraph in list(document.paragraphs):
        paragraph._p.getparent().remove(paragraph._p)
    styles(document)
    lists(document)
    head_and_foot(document)
    embed_fonts(document)
    for root in (document.styles.element, document.sections[0].header._element):
        in_schema_order(root)
    drop_leftovers(document)
    raw = BytesIO()
    document.save(raw)
    with zipfile.ZipFile(raw) as made, zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as frame:
        for name in made.namelist():
            frame.writestr(zipfile.ZipInfo(name), made.read(name), zipfile.ZIP_DEFLATED, 9)


if __name__ == "__main__":
    main(Path(sys.argv[1]))

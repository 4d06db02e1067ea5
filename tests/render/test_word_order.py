"""Children stand in the order of the schema in every part of a written file.

The sequences are those of ECMA-376 part 1, annex A (wml.xsd), written from memory and then compared, where
python-docx states the same sequence for its own element classes, with that (the test below).
"""

from __future__ import annotations

import inspect
import io
import re
import zipfile

import pytest
from docx.oxml.ns import qn
from docx.oxml.section import CT_SectPr
from docx.oxml.settings import CT_Settings
from docx.oxml.styles import CT_Style
from docx.oxml.table import CT_TblPr, CT_TcPr
from docx.oxml.text.font import CT_RPr
from docx.oxml.text.parfmt import CT_PPr
from lxml import etree

from specgen.render.word import volume_bytes, word_bytes
from tests.render import word_samples as samples

ORDERS = {
    name: order.split()
    for name, order in {
        "pPr": "pStyle keepNext keepLines pageBreakBefore framePr widowControl numPr suppressLineNumbers pBdr shd tabs "
        "suppressAutoHyphens kinsoku wordWrap overflowPunct topLinePunct autoSpaceDE autoSpaceDN bidi adjustRightInd "
        "snapToGrid spacing ind contextualSpacing mirrorIndents suppressOverlap jc textDirection textAlignment "
        "textboxTightWrap outlineLvl divId cnfStyle rPr sectPr pPrChange",
        "rPr": "ins del moveFrom moveTo rStyle rFonts b bCs i iCs caps smallCaps strike dstrike outline shadow "
        "emboss imprint noProof snapToGrid "
        "vanish webHidden color spacing w kern position sz szCs highlight u effect bdr shd fitText vertAlign rtl cs em "
        "lang eastAsianLayout specVanish oMath",
        "numPr": "ilvl numId numberingChange ins",
        "pBdr": "top left bottom right between bar",
        "tblPr": "tblStyle tblpPr tblOverlap bidiVisual tblStyleRowBandSize tblStyleColBandSize tblW jc tblCellSpacing "
        "tblInd tblBorders shd tblLayout tblCellMar tblLook tblCaption tblDescription tblPrChange",
        "tblBorders": "top left start bottom right end insideH insideV",
        "tblCellMar": "top left start bottom right end",
        "tcPr": "cnfStyle tcW gridSpan hMerge vMerge tcBorders shd noWrap tcMar textDirection tcFitText vAlign hideMark "
        "headers cellIns cellDel cellMerge tcPrChange",
        "tbl": "tblPr tblGrid tr",
        "tr": "tblPrEx trPr tc",
        "tc": "tcPr p tbl",
        "inline": "extent effectExtent docPr cNvGraphicFramePr graphic",
        "pic": "nvPicPr blipFill spPr",
        "blipFill": "blip srcRect tile stretch",
        "spPr": "xfrm custGeom prstGeom noFill solidFill ln",
        "p": "pPr bookmarkStart bookmarkEnd r hyperlink ins del",
        "trPr": "cnfStyle divId gridBefore gridAfter wBefore wAfter cantSplit trHeight tblHeader tblCellSpacing jc "
        "hidden ins del trPrChange",
        "sectPr": "headerReference footerReference footnotePr endnotePr type pgSz pgMar paperSrc pgBorders lnNumType "
        "pgNumType cols formProt vAlign noEndnote titlePg textDirection bidi rtlGutter docGrid "
        "printerSettings sectPrChange",
        "styles": "docDefaults latentStyles style",
        "docDefaults": "rPrDefault pPrDefault",
        "style": "name aliases basedOn next link autoRedefine hidden uiPriority semiHidden unhideWhenUsed qFormat locked "
        "personal personalCompose personalReply rsid pPr rPr tblPr trPr tcPr tblStylePr",
        "tblStylePr": "pPr rPr tblPr trPr tcPr",
        "numbering": "numPicBullet abstractNum num numIdMacAtCleanup",
        "abstractNum": "nsid multiLevelType tmpl name styleLink numStyleLink lvl",
        "lvl": "start numFmt lvlRestart pStyle isLgl suff lvlText lvlPicBulletId legacy lvlJc pPr rPr",
        "font": "altName panose1 charset family notTrueType pitch sig",
        "settings": "writeProtection view zoom removePersonalInformation removeDateAndTime doNotDisplayPageBoundaries "
        "displayBackgroundShape printPostScriptOverText printFractionalCharacterWidth printFormsData embedTrueTypeFonts "
        "embedSystemFonts saveSubsetFonts saveFormsData mirrorMargins alignBordersAndEdges bordersDoNotSurroundHeader "
        "bordersDoNotSurroundFooter gutterAtTop hideSpellingErrors hideGrammaticalErrors activeWritingStyle proofState "
        "formsDesign attachedTemplate linkStyles stylePaneFormatFilter stylePaneSortMethod documentType mailMerge "
        "revisionView trackRevisions doNotTrackMoves doNotTrackFormatting documentProtection autoFormatOverride "
        "styleLockTheme styleLockQFSet defaultTabStop autoHyphenation consecutiveHyphenLimit hyphenationZone "
        "doNotHyphenateCaps showEnvelope summaryLength clickAndTypeStyle defaultTableStyle evenAndOddHeaders "
        "bookFoldRevPrinting bookFoldPrinting bookFoldPrintingSheets drawingGridHorizontalSpacing "
        "drawingGridVerticalSpacing displayHorizontalDrawingGridEvery displayVerticalDrawingGridEvery "
        "doNotUseMarginsForDrawingGridOrigin drawingGridHorizontalOrigin drawingGridVerticalOrigin doNotShadeFormData "
        "noPunctuationKerning characterSpacingControl printTwoOnOne strictFirstAndLastChars noLineBreaksAfter "
        "noLineBreaksBefore savePreviewPicture doNotValidateAgainstSchema saveInvalidXml ignoreMixedContent "
        "alwaysShowPlaceholderText doNotDemarcateInvalidXml saveXmlDataOnly useXSLTWhenSaving saveThroughXslt "
        "showXMLTags alwaysMergeEmptyNamespace updateFields hdrShapeDefaults footnotePr endnotePr compat docVars rsids "
        "mathPr attachedSchema themeFontLang clrSchemeMapping doNotIncludeSubdocsInStats "
        "doNotAutoCompressPictures forceUpgrade captions readModeInkLockDown smartTagType schemaLibrary shapeDefaults "
        "doNotEmbedSmartTags decimalSymbol listSeparator",
    }.items()
}
PYTHON_DOCX = {
    "pPr": CT_PPr,
    "rPr": CT_RPr,
    "tblPr": CT_TblPr,
    "tcPr": CT_TcPr,
    "sectPr": CT_SectPr,
    "style": CT_Style,
    "settings": CT_Settings,
}


def misplaced(root: etree._Element) -> list[str]:
    """Children of an ordered element that stand too late, too early, or are unknown there."""
    wrong = []
    for parent in root.iter(etree.Element):
        order = ORDERS.get(etree.QName(parent).localname, [])
        names = [etree.QName(child).localname for child in parent] if order else []
        # Only what stands before a paragraph's words has a fixed place in it.
        free = etree.QName(parent).localname == "p" and names[:1] == ["pPr"] and names.count("pPr") == 1
        if any(name not in order for name in names) or (not free and names != sorted(names, key=order.index)):
            wrong.append(f"{etree.QName(parent).localname}: {' '.join(names)}")
    return wrong


def written() -> dict[str, bytes]:
    return {name: word_bytes(tree) for name, tree in samples.ALL.items()} | {
        "volume": volume_bytes(samples.VOLUME)
    }


def test_children_stand_in_schema_order() -> None:
    seen = set()
    for name, content in written().items():
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            for part in archive.namelist():
                if part.startswith("word/") and part.endswith(".xml"):
                    root = etree.fromstring(archive.read(part))
                    assert misplaced(root) == [], (name, part)
                    seen |= {etree.QName(element).localname for element in root.iter(etree.Element)}
    assert seen >= ORDERS.keys()  # the samples use every ordered element


@pytest.mark.parametrize("children", ["<w:spacing/><w:keepNext/>", "<w:keepNext/><w:pStyle/>", "<w:sz/>"])
def test_a_misplaced_or_unknown_child_is_found(children: str) -> None:
    root = etree.fromstring(f'<w:p xmlns:w="{qn("w:p")[1:-2]}"><w:pPr>{children}</w:pPr></w:p>')
    assert len(misplaced(root)) == 1


@pytest.mark.parametrize("name", sorted(PYTHON_DOCX))
def test_orders_agree_with_those_python_docx_states(name: str) -> None:
    # The sequence is deleted from the class once its accessors are made, so it is read from the source.
    stated = inspect.getsource(PYTHON_DOCX[name]).partition("_tag_seq = (")[2].partition(")")[0]
    theirs = re.findall(r'"w:(\w+)"', stated)
    common = [tag for tag in ORDERS[name] if tag in theirs]
    assert common == [tag for tag in theirs if tag in ORDERS[name]]
    assert len(common) > 9


def test_settings_ask_for_modern_layout_and_never_prompt() -> None:
    with zipfile.ZipFile(io.BytesIO(word_bytes(samples.WIDE))) as archive:
        settings = etree.fromstring(archive.read("word/settings.xml"))
    modes = {s.get(qn("w:name")): s.get(qn("w:val")) for s in settings.iter(qn("w:compatSetting"))}
    assert modes["compatibilityMode"] == "15"
    assert settings.find(qn("w:updateFields")) is None

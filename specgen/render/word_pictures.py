"""Pictures of the document tree: the parts that hold them, and the drawing that shows each."""

from __future__ import annotations

from specgen.model.document import Picture
from specgen.render.word_xml import attribute

_EMU = 914_400  # English metric units in an inch
_PNG = b"\x89PNG\r\n\x1a\n"
_DRAWING = "http://schemas.openxmlformats.org/drawingml/2006"
# The extension by which a reader of today shows the SVG in place of the PNG.
_SVG_EXTENSION = "{96DAC541-7B7A-43D3-8B79-37D633B846F1}"
_SVG_NAMESPACE = "http://schemas.microsoft.com/office/drawing/2016/SVG/main"


class Pictures:
    """Collects the pictures of one file while its body is written."""

    def __init__(self) -> None:
        self.parts: dict[str, bytes] = {}
        self.relations: dict[str, tuple[str, str]] = {}
        self._shown = 0

    def xml(self, picture: Picture) -> str:
        """The run that shows a picture.

        Raises:
            ValueError: no words for somebody who cannot see it, no PNG, or no size.
        """
        if not picture.alt.strip():
            raise ValueError("a picture needs words that say what it shows")
        if not picture.png.startswith(_PNG):
            raise ValueError(f"picture {picture.alt!r} is not a PNG")
        if picture.width <= 0 or picture.height <= 0:
            raise ValueError(f"picture {picture.alt!r} is {picture.width} by {picture.height} in")
        self._shown += 1
        vector = self._part(picture.svg, "svg") if picture.svg else ""
        return self._inline(picture, self._part(picture.png, "png"), vector)

    def _part(self, content: bytes, ending: str) -> str:
        name = f"media/picture{self._shown}.{ending}"
        self.parts[f"word/{name}"] = content
        reference = f"rIdP{len(self.relations) + 1}"
        self.relations[reference] = ("image", name)
        return reference

    def _inline(self, picture: Picture, raster: str, vector: str) -> str:
        size = f'cx="{round(picture.width * _EMU)}" cy="{round(picture.height * _EMU)}"'
        number, alt = self._shown, attribute(picture.alt)
        extension = (
            f'<a:extLst><a:ext uri="{_SVG_EXTENSION}">'
            f'<asvg:svgBlip xmlns:asvg="{_SVG_NAMESPACE}" r:embed="{vector}"/></a:ext></a:extLst>'
            if vector
            else ""
        )
        return (
            f'<w:r><w:drawing><wp:inline xmlns:wp="{_DRAWING}/wordprocessingDrawing" distT="0" distB="0" distL="0"'
            f' distR="0"><wp:extent {size}/><wp:docPr id="{number}" name="Picture {number}" descr="{alt}"/>'
            f'<wp:cNvGraphicFramePr><a:graphicFrameLocks xmlns:a="{_DRAWING}/main" noChangeAspect="1"/>'
            f'</wp:cNvGraphicFramePr><a:graphic xmlns:a="{_DRAWING}/main"><a:graphicData uri="{_DRAWING}/picture">'
            f'<pic:pic xmlns:pic="{_DRAWING}/picture"><pic:nvPicPr><pic:cNvPr id="{number}" name="Picture {number}"'
            f' descr="{alt}"/><pic:cNvPicPr/></pic:nvPicPr><pic:blipFill><a:blip r:embed="{raster}">{extension}'
            f"</a:blip><a:stretch><a:fillRect/></a:stretch></pic:blipFill><pic:spPr><a:xfrm>"
            f'<a:off x="0" y="0"/><a:ext {size}/></a:xfrm><a:prstGeom prst="rect"><a:avLst/></a:prstGeom></pic:spPr>'
            f"</pic:pic></a:graphicData></a:graphic></wp:inline></w:drawing></w:r>"
        )

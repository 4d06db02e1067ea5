"""Drawings of calculations, through matplotlib, which is an optional extra: the same bytes for the same data."""

from __future__ import annotations

import io
import textwrap
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from specgen.design.coping_geometry import shop_words
from specgen.design.plaster_panels import Face, place_words
from specgen.design.uncertainty import Swing
from specgen.design.vapor_drive import Drawn
from specgen.files.extras import missing
from specgen.units.quantity import from_si, row_of, to_unit
from specgen.units.show import printed, show

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from specgen.physics.coping_blank import Blank
    from specgen.physics.junction2d import JunctionField

# Text stays text, ids come from a fixed salt and not from chance.
STYLE: Any = {"svg.hashsalt": "specgen", "svg.fonttype": "none"}
ISOTHERMS = 14


class PlotsMissingError(Exception):
    """matplotlib is not installed; the message is one line for the user."""


def require_plots() -> None:
    """See that matplotlib is there.

    Raises:
        PlotsMissingError: it is not.
    """
    if why := missing("plots"):
        raise PlotsMissingError(why)


def svg_and_png(figure: Figure) -> tuple[bytes, bytes]:
    """A figure as SVG without a date, and as PNG without the name of the program."""
    from matplotlib import rc_context

    svg, png = io.BytesIO(), io.BytesIO()
    with rc_context(STYLE):
        figure.savefig(svg, format="svg", metadata={"Date": None, "Creator": None})
        figure.savefig(png, format="png", metadata={"Software": None})
    return svg.getvalue(), png.getvalue()


def _figure(width: float, height: float) -> tuple[Figure, Axes]:
    from matplotlib.figure import Figure as NewFigure

    figure = NewFigure(figsize=(width, height), layout="constrained")
    return figure, figure.add_subplot()


def _length(meters: float, system: str, small: bool = False) -> float:
    unit = ("mm" if small else "m") if system == "SI" else ("in" if small else "ft")
    return to_unit(from_si(meters, "length"), unit)


def profile(data: Drawn, title: str, system: str) -> Figure:
    """Temperature, saturation and vapor pressure behind the plaster over the summed thermal resistance."""
    figure, axes = _figure(7.5, 4.5)
    si = system == "SI"
    temps = data.temp_c if si else tuple(1.8 * t + 32.0 for t in data.temp_c)
    pressure = 1.0 if si else to_unit(from_si(1.0, "pressure"), "inHg")
    scale = 1.0 if si else to_unit(from_si(1.0, "thermal resistance"), "h·ft2·F/Btu")
    place = [scale * r for r in data.resistance]
    saturation, vapor = ([pressure * p for p in line] for line in (data.saturation_pa, data.vapor_pa))
    axes.plot(place, saturation, color="tab:blue", label="saturation pressure")
    axes.plot(place, vapor, color="tab:green", linestyle="--", label="vapor pressure")
    axes.set_xlabel(f"thermal resistance from the back of the plaster, {'m²·K/W' if si else 'h·ft²·°F/Btu'}")
    axes.set_ylabel("pressure, Pa" if si else "pressure, in Hg")
    other = axes.twinx()
    other.plot(place, temps, color="tab:red", linewidth=1.0, label="temperature")
    other.set_ylabel("temperature, °C" if si else "temperature, °F")
    start = 0.0
    for name, end in ((name, scale * end) for name, end in data.ends):
        axes.axvline(end, color="0.8", linewidth=0.6)
        if end - start > 0.04 * place[-1]:
            middle = ((start + end) / 2.0, 0.02)
            axes.text(
                *middle, name, rotation=90, color="0.35", transform=axes.get_xaxis_transform(), ha="center"
            )
        start = end
    axes.set_title(title)
    handles = [*axes.get_lines()[:2], other.get_lines()[0]]
    axes.legend(handles=handles, loc="upper right")
    return figure


def tornado(swings: Sequence[Swing], base: float, unit: str, title: str, system: str) -> Figure:
    """One bar an input, from the result at the low end of its range to that at the high end, widest on top."""
    figure, axes = _figure(9.0, 1.5 + 0.5 * len(swings))
    axes.margins(x=0.16)  # room for the ends of the ranges beside the bars
    axes.use_sticky_edges = False
    for place, swing in enumerate(reversed(swings)):
        low, high = to_unit(swing.at_low, unit), to_unit(swing.at_high, unit)
        axes.barh(place, high - low, left=low, color="tab:blue" if high >= low else "tab:orange", height=0.55)
        for at, value in ((low, swing.doubt.low), (high, swing.doubt.high)):
            left = at < high if at == low else at < low
            label = show(from_si(value, swing.doubt.dimension, swing.doubt.unit or None), system)
            axes.annotate(label, (at, place), xytext=(-4 if left else 4, 0), textcoords="offset points",
                          fontsize=7, va="center", ha="right" if left else "left")  # fmt: skip
    names = ["\n".join(textwrap.wrap(swing.doubt.title, 44)) for swing in reversed(swings)]
    axes.set_yticks(range(len(swings)), names, fontsize=8)
    axes.axvline(base, color="black", linewidth=0.8)
    name = printed(row_of(swings[0].at_low))
    axes.set(
        title=f"{title}: {base:.3g} {name} as calculated",
        xlabel=f"{name}; at the ends of a bar the value of the input (blue: rises with it, orange: falls)",
    )
    return figure


def isotherms(field: JunctionField, title: str, system: str) -> Figure:
    """Temperatures of a section with lines of equal temperature and the edges of the materials."""
    import numpy as np

    figure, axes = _figure(6.5, 6.5)
    si = system == "SI"
    temps = field.temperature_c if si else 1.8 * field.temperature_c + 32.0
    x = np.array([_length(v, system) for v in field.x_m])
    y = np.array([_length(v, system) for v in field.y_m])
    shown = np.ma.masked_invalid(temps)
    mesh = axes.pcolormesh(x, y, shown, cmap="coolwarm", shading="flat", rasterized=True)
    middle = (0.5 * (x[:-1] + x[1:]), 0.5 * (y[:-1] + y[1:]))
    lines = axes.contour(*middle, shown, ISOTHERMS, colors="black", linewidths=0.5)
    axes.clabel(lines, fontsize=7)
    figure.colorbar(mesh, ax=axes, label="temperature, °C" if si else "temperature, °F")
    unit = "m" if si else "ft"
    axes.set(aspect="equal", title=title, xlabel=f"inward from the outer face, {unit}", ylabel=unit)
    return figure


def blank(data: Blank, piece_m: float, title: str, system: str) -> Figure:
    """The flat blank of a coping piece with its bend lines; distances are from the outer edge."""
    figure, axes = _figure(8.0, 4.8)
    unit = "mm" if system == "SI" else "in"
    length, girth = _length(piece_m, system, small=True), _length(data.girth_m, system, small=True)
    axes.plot([0, length, length, 0, 0], [0, 0, girth, girth, 0], color="black")
    for bend in data.bends:
        at = _length(bend.at_m, system, small=True)
        axes.plot([0, length], [at, at], color="tab:blue", linestyle="--", linewidth=0.8)
        label = f"{bend.name}: {shop_words(bend.at_m, system == 'SI')}, turned {bend.turned_deg:.3g}°"
        away = {"outer hem": -9, "inner hem": 4}.get(
            bend.name, -3
        )  # a hem is too near its drip for two lines
        axes.annotate(label, (length, at), xytext=(4, away), textcoords="offset points", fontsize=7)
    whole, wide = (shop_words(size, system == "SI") for size in (piece_m, data.girth_m))
    axes.set(
        title=title,
        xlabel=f"length of the piece {whole}; scale in {unit}",
        ylabel=f"girth {wide}; scale in {unit}",
    )
    axes.set_xlim(-0.02 * length, 1.45 * length)
    return figure


def panels(face: Face, title: str, system: str) -> Figure:
    """Elevation of a plastered face with its control joints."""
    figure, axes = _figure(9.0, 3.2)
    unit = "m" if system == "SI" else "ft"
    length, height = _length(face.length_m, system), _length(face.height_m, system)
    axes.plot([0, length, length, 0, 0], [0, 0, height, height, 0], color="black")
    for place in face.layout.vertical_m:
        at = _length(place, system)
        axes.plot([at, at], [0, height], color="tab:red", linewidth=1.0)
        label = place_words(place, system == "SI")
        axes.text(at, 1.03 * height, label, fontsize=6, ha="left", va="bottom", rotation=50)
    for place in face.layout.horizontal_m:
        at = _length(place, system)
        axes.plot([0, length], [at, at], color="tab:red", linewidth=1.0)
        axes.text(length, at, f" {place_words(place, system == 'SI')}", fontsize=6, ha="left", va="center")
    # The scale upward is not that of the length: a parapet is long and low.
    axes.set(title=title, xlabel=f"from the left end, {unit}", ylabel=unit)
    axes.set_ylim(-0.05 * height, 1.6 * height)
    return figure

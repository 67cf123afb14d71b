"""How the book looks: on paper black on white, nothing smaller than 7 pt, and nothing that only colour says."""

from __future__ import annotations

PORTRAIT, LANDSCAPE = (186.0, 250.0), (273.0, 168.0)
"""Width and height (mm) that a drawing has on a page, headings taken off."""

MARGINS = "18mm 12mm 16mm"

# Sizes stand in millimetres, since Chromium takes the keyword A4 for the first page's size throughout.
STYLE = f"""
@page {{ size: 210mm 297mm; margin: {MARGINS}; }}
@page upright {{ size: 210mm 297mm; margin: {MARGINS}; }}
@page lying {{ size: 297mm 210mm; margin: {MARGINS}; }}
* {{ box-sizing: border-box; }}
html {{ color: #000; background: #fff; }}
body {{ margin: 0; font: 9.5pt/1.4 system-ui, sans-serif; overflow-wrap: anywhere; }}
main {{ page: upright; }}
h1 {{ margin: 0; font-size: 26pt; line-height: 1.15; }}
h2 {{ margin: 0 0 3mm; padding-bottom: 1mm; border-bottom: 0.5mm solid #000; font-size: 14pt; white-space: pre-wrap; }}
h3 {{ margin: 4mm 0 1.5mm; font-size: 11pt; }}
h2, h3 {{ break-after: avoid; }}
p {{ margin: 0 0 2mm; orphans: 3; widows: 3; }}
ul, ol {{ margin: 0 0 2mm; padding-left: 5mm; }}
li {{ margin: 0 0 0.8mm; break-inside: avoid; }}
code {{ font: 0.95em ui-monospace, monospace; }}
a {{ color: inherit; }}
.chapter {{ margin-top: 9mm; }}
.chapter:has(> .lying) {{ page: lying; margin-top: 0; }}
.chapter:has(> .card), .chapter:has(> .card) + .chapter {{ break-before: page; margin-top: 0; }}
.lead-in {{ break-after: avoid; }}
.leads ul {{ columns: 2; column-gap: 8mm; }}
.leads td:nth-child(n + 5) {{ white-space: nowrap; }}
.small {{ font-size: 8pt; }}

table {{ width: 100%; margin: 0 0 3mm; border-collapse: collapse; font-size: 8pt; line-height: 1.3; }}
th, td {{ padding: 0.8mm 1.4mm; border: 0.25mm solid #777; text-align: left; vertical-align: top; }}
thead th {{ border-bottom: 0.5mm solid #000; vertical-align: bottom; overflow-wrap: normal; }}
thead {{ display: table-header-group; }}
tr {{ break-inside: avoid; }}
tbody th {{ min-width: 16mm; font-weight: 600; }}
.figures td {{ font-variant-numeric: tabular-nums; }}
.figures td:nth-child(2), .figures td:nth-child(n + 5) {{ white-space: nowrap; }}
.dense th, .dense td {{ padding: 0.35mm 1.4mm; font-size: 7.5pt; font-weight: 400; }}
.dense td {{ width: 16mm; }}
.tick, td.tick {{ width: 6mm; }}
span.tick {{ display: inline-block; width: 3mm; height: 3mm; border: 0.3mm solid #000; }}
.blank {{ display: block; min-height: 5.5mm; border-bottom: 0.25mm solid #000; }}
td > .blank {{ border: 0; }}
.due {{ display: flex; gap: 2mm; align-items: end; }}
.due > .blank {{ flex: 1; min-width: 10mm; min-height: 4mm; }}
.tests {{ table-layout: fixed; }}
.tests th:nth-child(1) {{ width: 11mm; min-width: 0; }}
.tests th:nth-child(2) {{ width: 85mm; }}
.ticked th:first-child {{ width: 12mm; min-width: 0; }}
.ticked td:first-of-type {{ white-space: nowrap; }}
span.tick {{ line-height: 3mm; text-align: center; }}

figure {{ margin: 0 0 4mm; break-inside: avoid; }}
figcaption {{ font-size: 8pt; break-after: avoid; }}
figure svg {{ display: block; max-width: 100%; height: auto; }}

.cover {{ min-height: 255mm; display: flex; flex-direction: column; gap: 8mm; break-after: page; }}
.cover .kind {{ margin: 25mm 0 0; font-size: 13pt; }}
.cover table {{ font-size: 10pt; }}
.cover th {{ width: 45mm; }}
.cover th, .cover td {{ padding: 2mm 1.4mm; border-width: 0 0 0.25mm; }}
.boxed {{ margin-bottom: 3mm; padding: 3mm 4mm; border: 0.6mm solid #000; break-inside: avoid; }}
.boxed > :last-child {{ margin-bottom: 0; }}
.stop {{ border-width: 1.2mm; font-size: 11pt; }}
.contents ol {{ list-style: none; padding: 0; columns: 2; column-gap: 8mm; }}
.contents a {{ text-decoration: none; }}

.entry {{ margin: 0 0 3mm; padding-left: 3mm; border-left: 0.6mm solid #000; break-inside: avoid; }}
.entry p {{ margin-bottom: 0.8mm; }}
.entry .head {{ font-weight: 600; }}
.entry svg, .marks svg {{ margin-right: 1mm; vertical-align: -0.5mm; }}

@media screen {{
  html {{ background: #ddd; }}
  main {{ max-width: 210mm; margin: 4mm auto; padding: 12mm; background: #fff; }}
  figure {{ overflow-x: auto; }}
  .lying figure svg {{ max-width: none; }}
  .contents a {{ text-decoration: underline; }}
}}
@media screen and (max-width: 190mm) {{
  .chapter table {{ display: block; overflow-x: auto; }}
}}
"""


def header(name: str) -> str:
    """The line at the head and the foot of every page but the first."""
    said = _quoted(name if len(name) <= 90 else name[:89] + "…")
    font = "font: 8pt system-ui, sans-serif; color: #000;"
    return f"""
@page {{
  @top-left {{ content: {said}; {font} }}
  @top-right {{ content: "Handover book"; {font} }}
  @bottom-right {{ content: "Page " counter(page) " of " counter(pages); {font} }}
}}
@page :first {{
  @top-left {{ content: none; }}
  @top-right {{ content: none; }}
  @bottom-right {{ content: none; }}
}}
"""


def _quoted(words: str) -> str:
    """A string of CSS that can end neither itself nor the style element: all but letters, digits and spaces as numbers."""
    seen = "".join(letter if letter.isprintable() else " " for letter in words)
    return '"' + "".join(letter if letter == " " or (letter.isascii() and letter.isalnum()) else f"\\{ord(letter):x} " for letter in seen) + '"'
